"""The pages of a bank: browse and narrow, say what one thinks, and take a colleague's bank in."""

from pathlib import Path
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from barwright.desk.actions import keep, merge, news, review, take_away, verdict_of
from barwright.desk.opened import bank_file, checked_inside
from barwright.desk.rendering import lines_of, moved, page
from barwright.desk.sent_forms import Fields, posted
from barwright.desk.sentences import say_of
from barwright.errors import BarwrightError
from barwright.tasks.shown.bank import bank_shown

INCOMING = "from-colleague"
"""What a bank that was dropped is kept under, beside ours, until it is merged or put away."""


def _bank(request: Request, *, told: tuple[str, ...] = (), status: int = 200) -> Response:
    path, say = bank_file(request.path_params["name"]), say_of(request)
    where = [each for each in request.query_params.getlist("where") if each.strip()]
    start = request.query_params.get("from", "0")
    try:
        first = int(start) if start.isdecimal() and len(start) < 7 else 0
        shown = bank_shown(path, where, first=first, code=say.code)
    except BarwrightError as error:
        if not where:
            raise
        told, status, where = (*told, *lines_of(error)), 409, []
        shown = bank_shown(path, where, code=say.code)

    def address(conditions: list[str], first: int = 0) -> str:
        query = urlencode([("where", each) for each in conditions] + ([("from", str(first))] if first else []))
        return f"/bank/{quote(path.name)}{'?' * bool(query)}{query}"

    names = {
        "bank": shown,
        "where": where,
        "address": address,
        "told": told,
        "title": say("bank.title", bank=path.stem),
    }
    return page(request, "bank.html.j2", status=status, incoming=_incoming(path).is_file(), **names)


def _review(request: Request, fields: Fields) -> Response:
    path, said = bank_file(request.path_params["name"]), fields.one("verdict")
    try:
        verdict = verdict_of(
            approve=said == "approve", retire=said == "retire", take_back=said == "take-back",
            comment=fields.one("comment"), tags=[each for each in fields.one("tag").split(",") if each.strip()],
            by=fields.one("by").strip(), date=fields.one("date"),
        )  # fmt: skip
        review(path, verdict, items=fields.every("item"))
    except BarwrightError as error:
        return _bank(request, told=lines_of(error), status=409)
    return moved(f"/bank/{quote(path.name)}?{request.url.query}")


def _incoming(path: Path) -> Path:
    return path.with_name(f".{path.name}.{INCOMING}")


def _drop(request: Request, fields: Fields) -> Response:
    """A colleague's bank that was dropped is kept apart, and what is new in it is shown first."""
    path = bank_file(request.path_params["name"])
    for upload in fields.files.get("bank", ())[:1]:
        keep(checked_inside(_incoming(path)), upload.content)
        return moved(f"/bank/{quote(path.name)}/incoming")
    return _bank(request, told=(say_of(request)("bank.none_chosen"),), status=409)


def _look(request: Request, *, told: tuple[str, ...] = (), status: int = 200) -> Response:
    path = bank_file(request.path_params["name"])
    incoming = checked_inside(_incoming(path))
    if not incoming.is_file():
        return moved(f"/bank/{quote(path.name)}")
    say = say_of(request)
    brought = news(path, [incoming])
    first = bank_shown(incoming, [f"id={','.join(brought.idents[:12])}"], code=say.code) if brought.idents else None
    names = {"bank": path, "news": brought, "first": first, "told": told}
    return page(request, "incoming.html.j2", status=status, title=say("incoming.title", bank=path.stem), **names)


def _merge(request: Request, fields: Fields) -> Response:
    path = bank_file(request.path_params["name"])
    incoming = checked_inside(_incoming(path))
    if fields.has("merge"):
        merge([path, incoming], path, replace=True)
    take_away([incoming])
    return moved(f"/bank/{quote(path.name)}")


ROUTES = [
    Route("/bank/{name}", _bank),
    Route("/bank/{name}/review", posted(_review), methods=["POST"]),
    Route("/bank/{name}/drop", posted(_drop), methods=["POST"]),
    Route("/bank/{name}/incoming", _look),
    Route("/bank/{name}/merge", posted(_merge), methods=["POST"]),
]
