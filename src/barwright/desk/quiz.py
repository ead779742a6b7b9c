"""The page of a made quiz: what to import and to print; files are given out only if a page offers them."""

from collections.abc import Mapping
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from barwright.desk.actions import add
from barwright.desk.guard import DOCUMENT_POLICY
from barwright.desk.opened import HERE, bank_file, checked_inside, opened_contents, quiz_folder
from barwright.desk.rendering import moved, page
from barwright.desk.sent_forms import Fields, posted
from barwright.tasks.shown.contents import file_bytes, file_name
from barwright.tasks.shown.quiz import downloads, quiz_shown


def _quiz(request: Request) -> Response:
    folder = quiz_folder(request.path_params["name"])
    shown, contents = quiz_shown(folder), opened_contents()
    plan = next((each.name for each in contents.plans if each.name == folder.name), "")
    return page(request, "quiz.html.j2", quiz=shown, plan=plan, banks=contents.banks, title=shown.title)


def _file(request: Request) -> Response:
    """A document to look at, which may do nothing, or a file to keep."""
    folder, path = quiz_folder(request.path_params["name"]), request.path_params["path"]
    if path not in downloads(quiz_shown(folder)):
        raise HTTPException(404)
    content = file_bytes(checked_inside(folder / path))
    if path.endswith(".html"):
        headers: Mapping[str, str] = {"Content-Security-Policy": DOCUMENT_POLICY}
        return Response(content, media_type="text/html; charset=utf-8", headers=headers)
    name = f"{folder.name}-{path.replace('/', '-')}"
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{quote(name)}"}
    return Response(content, media_type="application/octet-stream", headers=headers)


def _to_bank(request: Request, fields: Fields) -> Response:
    """The quiz's items join a bank: one that there is, or a new one."""
    folder = quiz_folder(request.path_params["name"])
    banks = {each.name for each in opened_contents().banks}
    if fields.one("bank") in banks:
        bank = bank_file(fields.one("bank"))
    else:
        bank = checked_inside(HERE / f"{file_name(fields.one('new'), 'bank', {name[:-6] for name in banks})}.jsonl")
    results = fields.has("results") and quiz_shown(folder).report
    add(folder / "record.jsonl", bank, date=fields.one("date"), source=fields.one("by").strip(), results=results)
    return moved(f"/bank/{quote(bank.name)}")


ROUTES = [
    Route("/quiz/{name}", _quiz),
    Route("/quiz/{name}/file/{path:path}", _file),
    Route("/quiz/{name}/bank", posted(_to_bank), methods=["POST"]),
]
