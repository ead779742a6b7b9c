"""Which language a page of the desk is in, and its sentences: `templates/items/LANGUAGE/desk.toml` has them all.

What an engine's command says (a fault of a plan, what became of a quiz) is English and is marked so.
"""

from collections.abc import Iterable, Iterator, Mapping
from urllib.parse import urlsplit

from markupsafe import Markup, escape
from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.requests import Request, cookie_parser
from starlette.responses import RedirectResponse, Response

from barwright.errors import BarwrightError
from barwright.tasks.shown.desk_words import USUAL, desk_pair, desk_text, has_text, names_of_languages
from barwright.tasks.shown.fault_words import fault_in

COOKIE = "barwright-language"
A_YEAR = 31_536_000  # seconds


class OwnSentence(str):
    """A sentence of the desk itself, in the language of the page; what commands say is plain text, in English."""

    __slots__ = ()


class OwnFault(BarwrightError):
    """What the desk itself has to say against a form, in the language of the page."""

    def __init__(self, told: OwnSentence) -> None:
        super().__init__(told)
        self.told = told


class Say:
    """The sentences of a page, in one language."""

    def __init__(self, code: str) -> None:
        self.code = code

    def __call__(self, ident: str, /, **names: object) -> OwnSentence:
        """A sentence with its names filled in; TemplateError for an id there is not."""
        return OwnSentence(desk_text(self.code, ident, **names))

    def two(self, ident: str, /, **names: object) -> Markup:
        """What a button shows, and what is read aloud besides where many show it."""
        seen, more = desk_pair(self.code, ident, **names)
        between = "" if more[0] in ",:" else " "
        return Markup('{}<span class="hidden">{}{}</span>').format(seen, between, more)

    def joined(self, done: Iterable[tuple[str, str]]) -> OwnSentence:
        """What was changed in a question, a list of words."""
        return OwnSentence(", ".join(self(f"question.mark.{kind}", was=was) for kind, was in done))

    def has(self, ident: str) -> bool:
        """Whether there is such a sentence."""
        return has_text(self.code, ident)

    def told(self, line: str) -> str:
        """A line of what commands say, in the language of the page where it is known in that; else as it is."""
        return line if isinstance(line, OwnSentence) else self._known(line)

    def _known(self, line: str) -> str:
        there = fault_in(line, self.code)
        return line if there is None else OwnSentence(there)

    def tongue(self, line: str) -> Markup:
        """The language of a line as an attribute, where it is not that of the page."""
        return Markup("") if isinstance(line, OwnSentence) else self.english

    def written_in(self, code: str) -> Markup:
        """The language of a text as an attribute, where it is not that of the page."""
        return Markup("") if code == self.code else Markup(' lang="{}"').format(escape(code))

    @property
    def english(self) -> Markup:
        """The attribute for what there is in English only."""
        return Markup("") if self.code == USUAL else Markup(' lang="{}"').format(escape(USUAL))

    @property
    def languages(self) -> tuple[tuple[str, str], ...]:
        """All languages: code, and what it calls itself."""
        return names_of_languages()


def say_of(request: Request) -> Say:
    """The sentences in the language of a call."""
    return Say(language_of(request.headers))


def language_of(headers: Headers) -> str:
    """The language that was chosen on a page, or else the one that the browser asks for first of those there are."""
    known = dict(names_of_languages())
    for line in headers.getlist("cookie"):
        chosen = cookie_parser(line).get(COOKIE, "")
        if chosen in known:
            return chosen
    return next(_wished(headers.get("accept-language", ""), known), USUAL)


def _wished(header: str, known: Mapping[str, str]) -> Iterator[str]:
    """Languages that there are, the best liked first, by Accept-Language (RFC 9110, 12.5.4)."""
    by_small = {code.lower(): code for code in known}
    by_first = {code.partition("-")[0]: code for code in reversed(tuple(known))}
    for _, tag in sorted(_ranges(header), key=lambda pair: -pair[0]):
        code = by_small.get(tag) or by_first.get(tag.partition("-")[0])
        if code is not None:
            yield code


def _ranges(header: str) -> Iterator[tuple[float, str]]:
    for each in header.split(",")[:20]:
        tag, _, weight = each.strip().lower().partition(";")
        try:
            liking = float(weight.strip().removeprefix("q=")) if weight else 1.0
        except ValueError:
            continue
        if tag and liking > 0:
            yield liking, tag.strip()


def page_of(request: Request) -> str:
    """The address to come back to after the language was chosen: this page, or the one whose form was sent."""
    if request.method == "POST":
        return local(request.headers.get("referer", ""))
    return f"{request.url.path}{'?' * bool(request.url.query)}{request.url.query}"


def local(address: str) -> str:
    """The part of an address that is of this desk, whatever was sent: path and query, else the first page."""
    try:
        parts = urlsplit(address)
    except ValueError:
        return "/"
    if not parts.path.startswith("/") or parts.path.startswith("//") or "\\" in address or not address.isprintable():
        return "/"
    return f"{parts.path}{'?' * bool(parts.query)}{parts.query}"


def choose(language: str, back: str) -> Response:
    """Keeps a language in a cookie of the desk; HTTPException 400 for one there is not."""
    if language not in dict(names_of_languages()):
        raise HTTPException(400, "fault.language")
    answer = RedirectResponse(local(back), 303)
    answer.set_cookie(COOKIE, language, max_age=A_YEAR, httponly=True, samesite="strict", path="/")
    return answer
