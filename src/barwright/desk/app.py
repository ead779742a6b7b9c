"""The desk as an application: which address is answered by what."""

import asyncio
from collections.abc import Callable
from contextlib import AbstractAsyncContextManager
from functools import cache
from pathlib import Path
from typing import Protocol

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import BaseRoute, Route, Router
from starlette.types import ASGIApp, Receive, Scope, Send

from barwright.desk import home
from barwright.desk.guard import ENTER, JOIN, TooMuchError, too_much
from barwright.desk.jobs import Jobs
from barwright.desk.keys import Keys, same
from barwright.desk.rendering import fault_page, missing_page, page, refused_by_system, rendered
from barwright.desk.sent_forms import Fields, posted
from barwright.desk.sentences import choose, say_of
from barwright.errors import BarwrightError
from barwright.templates_folder import templates_folder


class Life(Protocol):
    """How long a desk lasts, see `serving`."""

    last: float
    ended: bool


STATIC = {
    "desk.css": "text/css; charset=utf-8",
    "item.css": "text/css; charset=utf-8",
    "desk.js": "text/javascript; charset=utf-8",
    "plan.js": "text/javascript; charset=utf-8",
    "drop.js": "text/javascript; charset=utf-8",
    "job.js": "text/javascript; charset=utf-8",
}


def application(
    folder_name: str,
    keys: Keys,
    life: Life,
    entry: Callable[[], str],
    lifespan: Callable[[Starlette], AbstractAsyncContextManager[None]],
) -> Starlette:
    """All pages of the desk of a folder; a guard stands before it. `entry` gives an address that opens it, once."""
    app = Starlette(
        routes=_routes(),
        lifespan=lifespan,
        middleware=[Middleware(_Called, life=life)],
        exception_handlers={
            BarwrightError: fault_page,
            HTTPException: missing_page,
            OSError: refused_by_system,
            TooMuchError: too_much,
        },
    )
    app.router.default = _other_page
    app.state.keys, app.state.life, app.state.entry = keys, life, entry
    app.state.jobs, app.state.folder_name = Jobs(), folder_name
    return app


def _routes() -> list[BaseRoute]:
    return [
        Route(ENTER, _enter),
        Route(JOIN, _join, methods=["POST"]),
        Route("/alive", posted(_alive), methods=["POST"]),
        Route("/end", posted(_end), methods=["POST"]),
        Route("/language", posted(_language), methods=["POST"]),
        Route("/static/{name}", _static),
        *home.ROUTES,
    ]


@cache
def other_pages() -> Router:
    """All pages but the first, which does not wait until what they need is loaded."""
    from barwright.desk import answers, bank, help, making, plan, proof, quiz

    pages = (plan, making, quiz, proof, bank, answers, help)
    return Router([route for each in pages for route in each.ROUTES])


async def _other_page(scope: Scope, receive: Receive, send: Send) -> None:
    await (await run_in_threadpool(other_pages))(scope, receive, send)


class _Called:
    """Notes when a page called."""

    def __init__(self, app: ASGIApp, life: Life) -> None:
        self.app, self.life = app, life

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        self.life.last = asyncio.get_running_loop().time()
        await self.app(scope, receive, send)


async def _enter(request: Request) -> Response:
    """Changes a key that is good once for the cookie; the page goes on by itself, and only then the cookie is shown."""
    keys: Keys = request.app.state.keys
    say = say_of(request)
    if not keys.redeemed(request.query_params.get("key", "")):
        return PlainTextResponse(f"{say('refused.key_used')}\n", 403)
    answer = HTMLResponse(rendered("enter.html.j2", say))
    port = request.url.port
    answer.set_cookie(f"barwright-{port}", keys.cookie, httponly=True, samesite="strict", path="/")
    return answer


async def _join(request: Request) -> Response:
    """A new address for another desk of the same user, who alone can read the secret for it."""
    keys: Keys = request.app.state.keys
    if not same(request.headers.get("authorization", ""), f"Bearer {keys.joining}"):
        return PlainTextResponse("This is not the secret of the desk.\n", 403)
    return PlainTextResponse(request.app.state.entry())


def _alive(_request: Request, _fields: Fields) -> Response:
    return Response(status_code=204)


def _language(_request: Request, fields: Fields) -> Response:
    return choose(fields.one("language"), fields.one("back"))


def _end(request: Request, _fields: Fields) -> Response:
    request.app.state.life.ended = True
    return page(request, "ended.html.j2", title=say_of(request)("ended.title"))


@cache
def _file(name: str) -> bytes:
    folder: Path = templates_folder() / "desk"
    return (folder / name).read_bytes()


def _static(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in STATIC:
        raise HTTPException(404)
    return Response(_file(name), headers={"Content-Type": STATIC[name], "Cache-Control": "private, max-age=300"})
