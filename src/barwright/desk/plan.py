"""The page of a plan: the blueprint as a form, its faults beside the fields, and what it would give."""

from pathlib import Path
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from barwright.desk.actions import (
    AddPart,
    Change,
    RaisePart,
    RemovePart,
    change,
    class_change,
    form_changes,
    rewrite,
    undo,
)
from barwright.desk.jobs import Job, Jobs, steps_of
from barwright.desk.opened import checked_inside, plan_file
from barwright.desk.rendering import lines_of, moved, page, rendered
from barwright.desk.sent_forms import Fields, posted
from barwright.desk.sentences import Say, language_of, say_of
from barwright.errors import BarwrightError
from barwright.tasks.shown.pictures import PictureWish, shown_picture
from barwright.tasks.shown.plan import asks_by_family, plan_shown

NEW_ITEMS = 3
WAIT_SECONDS = 5


def _plan(request: Request, *, told: tuple[str, ...] = (), status: int = 200) -> Response:
    path, say = plan_file(request.path_params["name"]), say_of(request)
    shown = plan_shown(path, say.code)
    job = _jobs(request).latest("preview", f"{path} {shown.seen} {say.code}")
    names = {"plan": shown, "asks": asks_by_family(say.code), "told": told, "job": job, "title": shown.title}
    return page(request, "plan.html.j2", status=status, steps=_steps(job, say), **names)


def _steps(job: Job | None, say: Say) -> tuple[tuple[str, int, int], ...]:
    return tuple(steps_of(job, say)) if job is not None else ()


def checked_plan(path: Path) -> Path:
    """A plan, if whatever it reads lies in the opened folder, too; else BarwrightError."""
    for name in plan_shown(path).reads:
        checked_inside(path.parent / name)
    return path


def _jobs(request: Request) -> Jobs:
    jobs: Jobs = request.app.state.jobs
    return jobs


def _save(request: Request, fields: Fields) -> Response:
    """What the form holds goes into the file; then the button that was pressed does its part."""
    name = request.path_params["name"]
    path = plan_file(name)
    try:
        changes = form_changes(path, fields.texts)
        changes += _pressed(fields)
        if changes:
            change(path, changes, seen=fields.one("seen"))
    except BarwrightError as error:
        return _plan(request, told=lines_of(error), status=409)
    return moved(f"/plan/{quote(name)}{_anchor(fields)}")


def _pressed(fields: Fields) -> list[Change]:
    if fields.has("add"):
        return [AddPart(fields.one("new.ask"), NEW_ITEMS)]
    for button, kind in (("remove", RemovePart), ("raise", RaisePart)):
        if fields.one(button).isdecimal():
            return [kind(int(fields.one(button)))]
    return []


def _anchor(fields: Fields) -> str:
    return "#parts" if any(map(fields.has, ("add", "remove", "raise"))) else ""


def _undo(request: Request, fields: Fields) -> Response:
    path = plan_file(request.path_params["name"])
    try:
        undo(path, seen=fields.one("seen"))
    except BarwrightError as error:
        return _plan(request, told=lines_of(error), status=409)
    return moved(f"/plan/{quote(path.stem)}")


def _write(request: Request, fields: Fields) -> Response:
    path = plan_file(request.path_params["name"])
    try:
        rewrite(path, fields.one("text"), seen=fields.one("seen"))
    except BarwrightError as error:
        return _plan(request, told=lines_of(error), status=409)
    return moved(f"/plan/{quote(path.stem)}#text")


def _classes(request: Request, fields: Fields) -> Response:
    """A class list that was dropped: its names become the sections."""
    path = plan_file(request.path_params["name"])
    try:
        changes = [class_change(upload.name, upload.content) for upload in fields.files.get("classes", ())]
        change(path, changes, seen=fields.one("seen"))
    except BarwrightError as error:
        return _plan(request, told=lines_of(error), status=409)
    return moved(f"/plan/{quote(path.stem)}#sections")


def _seen(request: Request) -> Response:
    """The print of the file's text now, by which an open page learns that it shows an older one."""
    return Response(plan_shown(plan_file(request.path_params["name"])).seen, media_type="text/plain")


def _begin_preview(request: Request, _fields: Fields) -> Response:
    path = plan_file(request.path_params["name"])
    _preview_job(request)
    return moved(f"/plan/{quote(path.stem)}#parts")


def _preview_job(request: Request) -> Job | None:
    path = plan_file(request.path_params["name"])
    code = language_of(request.headers)
    about, jobs = f"{path} {plan_shown(path).seen} {code}", _jobs(request)
    order = {"plan": str(path), "language": code}
    return jobs.latest("preview", about) or jobs.begin(
        "preview", about, f"/plan/{quote(path.stem)}", order, only=str(path)
    )


def _preview(request: Request, fields: Fields) -> Response:
    """The preview, for a page that asks for it by itself: what there is of it by now."""
    job = _preview_job(request)
    if job is not None and fields.has("wait"):
        job.over.wait(WAIT_SECONDS)
    say = say_of(request)
    return HTMLResponse(rendered("preview_state.html.j2", say, job=job, steps=_steps(job, say)))


def _picture(request: Request) -> Response:
    query = request.query_params
    wish = PictureWish(query.get("text", ""), bool(query.get("counts")), tuple(query.getlist("c")))
    try:
        shown = shown_picture(wish)
    except BarwrightError as error:
        raise HTTPException(404) from error
    return Response(shown.png, media_type="image/png", headers={"Cache-Control": "private, max-age=3600"})


ROUTES = [
    Route("/picture.png", _picture),
    Route("/plan/{name}", _plan),
    Route("/plan/{name}/save", posted(_save), methods=["POST"]),
    Route("/plan/{name}/undo", posted(_undo), methods=["POST"]),
    Route("/plan/{name}/text", posted(_write), methods=["POST"]),
    Route("/plan/{name}/classes", posted(_classes), methods=["POST"]),
    Route("/plan/{name}/seen", _seen),
    Route("/plan/{name}/begin", posted(_begin_preview), methods=["POST"]),
    Route("/plan/{name}/preview", posted(_preview), methods=["POST"]),
]
