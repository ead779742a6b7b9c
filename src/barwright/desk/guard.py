"""What stands before every page: who calls, from where, and how much is sent. Nothing behind it is asked otherwise.

Sources: OWASP cheat sheets on cross-site request forgery and on DNS rebinding (the name in Host is checked, so that a
page whose own name was pointed at this computer is refused); Fetch Metadata Request Headers (W3C); Content Security
Policy Level 3 (W3C).
"""

from collections.abc import Iterator
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from barwright.desk.keys import Keys, same
from barwright.desk.sentences import Say, language_of

MOST_BYTES = 32_000_000  # of one call: a year of answers is far smaller
ENTER, JOIN = "/enter", "/join"
POLICY = (
    "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
# For a page that a command wrote, with its style inside and pictures as `data:`: nothing in it may act or ask.
DOCUMENT_POLICY = "sandbox; default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'"
_HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",  # with no-referrer browsers would say that our own forms come from nowhere
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


class Guard:
    """An ASGI application around another: it answers itself what must not come through."""

    def __init__(self, app: ASGIApp, keys: Keys, authority: str) -> None:
        """`authority`: the address and port that the desk listens at, as browsers name it in Host."""
        self.app, self.keys, self.authority = app, keys, authority
        self.cookie_name = f"barwright-{authority.rpartition(':')[2]}"  # cookies of all ports are shared

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One call: refused with a plain line, or handed on with a bound on what it may send."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            raise RuntimeError(f"the desk speaks HTTP alone, not {scope['type']}")

        async def safe_send(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in _HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        refusal = self._refusal(scope)
        if refusal is not None:
            status, ident = refusal
            await _plain(Headers(scope=scope), ident, status)(scope, receive, safe_send)
            return
        await self.app(scope, _Bounded(receive), safe_send)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        """Status and the id of a sentence for a call that must not come through; None for one that may."""
        headers, path, method = Headers(scope=scope), scope["path"], scope["method"]
        if headers.getlist("host") != [self.authority]:
            return 421, "refused.address"
        if method not in ("GET", "HEAD", "POST"):
            return 405, "refused.call"
        if path in (ENTER, JOIN):
            return None  # these look at their keys themselves
        if not any(same(each, self.keys.cookie) for each in self._shown(headers)):
            return 403, "refused.no_key"
        site = headers.get("sec-fetch-site", "same-origin")
        if site != "same-origin" and not (site == "none" and method != "POST"):
            return 403, "refused.other_page"
        if method == "POST" and headers.getlist("origin") != [f"http://{self.authority}"]:
            return 403, "refused.other_page"
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > MOST_BYTES:
            return 413, TOO_MUCH
        return None

    def _shown(self, headers: Headers) -> Iterator[str]:
        """The cookies of our name that the browser shows."""
        for line in headers.getlist("cookie"):
            try:
                cookies = SimpleCookie(line)
            except CookieError:
                continue
            if self.cookie_name in cookies:
                yield cookies[self.cookie_name].value


TOO_MUCH = "refused.too_much"


class TooMuchError(Exception):
    """More was sent than a call may hold, whatever its head said."""


class _Bounded:
    """What a call sends, up to the bound."""

    def __init__(self, receive: Receive) -> None:
        self.receive, self.left = receive, MOST_BYTES

    async def __call__(self) -> Message:
        message = await self.receive()
        self.left -= len(message.get("body", b""))
        if self.left < 0:
            raise TooMuchError
        return message


def too_much(request: Request, _error: Exception) -> Response:
    """What is said to a call that sent more than it may."""
    return _plain(request.headers, TOO_MUCH, 413)


def _plain(headers: Headers, ident: str, status: int) -> Response:
    text = Say(language_of(headers))(ident, megabytes=MOST_BYTES // 1_000_000)
    return Response(f"{text}\n", status, media_type="text/plain; charset=utf-8")
