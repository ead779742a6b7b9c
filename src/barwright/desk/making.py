"""Making a quiz from a plan: what is wanted, how far it is, and an end to it."""

from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from barwright.desk.actions import mend
from barwright.desk.jobs import Job, Jobs, cancel, steps_of
from barwright.desk.opened import HERE, bank_file, checked_whole, opened_contents, plan_file
from barwright.desk.plan import checked_plan
from barwright.desk.rendering import lines_of, moved, page, rendered
from barwright.desk.sent_forms import Fields, posted
from barwright.desk.sentences import OwnFault, Say, say_of
from barwright.errors import BarwrightError
from barwright.tasks.shown.contents import OUT, quiz_name
from barwright.tasks.shown.plan import accommodations_shown, plan_shown, standards_shown

WAIT_SECONDS = 5


def _ask(request: Request, *, told: tuple[str, ...] = (), status: int = 200) -> Response:
    path, say = plan_file(request.path_params["name"]), say_of(request)
    shown = plan_shown(path, say.code)
    there = (HERE / OUT / quiz_name(path.stem)).is_dir()
    names = {
        "plan": shown,
        "there": there,
        "standards": standards_shown(),
        "accommodations": accommodations_shown(say.code),
        "banks": opened_contents().banks,
        "told": told,
        "title": say("make.title", plan=shown.title),
    }
    return page(request, "make.html.j2", status=status, quiz=quiz_name(path.stem), **names)


def _make(request: Request, fields: Fields) -> Response:
    """Begins to make it; what was asked is handed on as it is, and the command says what is wrong with it."""
    path = plan_file(request.path_params["name"])
    way, shown, say = fields.one("way"), plan_shown(path), say_of(request)
    order: dict[str, object] = {
        "plan": str(path), "standards": fields.every("standard"), "paper": fields.has("paper"),
        "allow_repeats": fields.has("allow_repeats"), "accommodations": fields.every("for"), "language": say.code,
    }  # fmt: skip
    seed, retake = fields.one("seed").strip(), fields.one("retake").strip()
    if way == "anew":
        order |= {"replace": True, "forget_retakes": fields.has("forget_retakes")}
    elif way == "section":
        order |= {"sections": fields.every("section")}
    elif way == "retake":
        order |= {"retake": int(retake) if retake.isdecimal() else 1, "sections": fields.every("section")}
    if seed.isdecimal() and way != "retake":
        order["seed"] = int(seed)
    try:
        if fields.one("bank"):
            order |= _from_bank(fields, way, say)
        if way == "section" and not fields.every("section"):
            raise OwnFault(say("make.which"))
        checked_whole(HERE / OUT / quiz_name(path.stem))
        checked_plan(path)
    except BarwrightError as error:
        return _ask(request, told=lines_of(error), status=409)
    jobs: Jobs = request.app.state.jobs
    job = jobs.begin(
        "make",
        str(path),
        f"/plan/{quote(path.stem)}",
        order,
        forms=fields.every("section") or shown.section_names,
        quiz=quiz_name(path.stem),
    )
    if job is None:
        return _ask(request, told=(say("fault.busy"),), status=409)
    return moved(f"/job/{job.number}")


def _from_bank(fields: Fields, way: str, say: Say) -> dict[str, object]:
    """What is said of the bank whose items are taken first."""
    if way in ("section", "retake"):
        raise OwnFault(say("make.bank_whole"))
    return {"bank": str(bank_file(fields.one("bank"))), "since": fields.one("since").strip()}


def _job(request: Request) -> Job:
    jobs: Jobs = request.app.state.jobs
    job = jobs.get(request.path_params["number"])
    if job is None:
        raise HTTPException(404)
    return job


def _show(request: Request) -> Response:
    job = _job(request)
    if job.end is not None and job.spots is not None:
        done, failed = job.spots
        return moved(f"{job.back}?job={job.number}#q{failed if job.end['faults'] else done}")
    say = say_of(request)
    return page(request, "job.html.j2", job=job, steps=tuple(steps_of(job, say)), title=say(_title(job)))


def _title(job: Job) -> str:
    if job.running:
        return "job.working"
    return "fault.failed" if job.end and job.end.get("faults") else "job.over"


def _state(request: Request) -> Response:
    """How far it is, for a page that looks by itself; the head says when it is over.

    With `wait` the answer comes when it is over, or after a while, so that nobody has to ask all the time.
    """
    job = _job(request)
    if "wait" in request.query_params:
        job.over.wait(WAIT_SECONDS)
    say = say_of(request)
    html = rendered("job_state.html.j2", say, job=job, steps=tuple(steps_of(job, say)))
    return HTMLResponse(html, headers={"X-Job": "on" if job.running else "over"})


def _cancel(request: Request, _fields: Fields) -> Response:
    job = _job(request)
    if job.running:
        cancel(job)
        if job.quiz:
            mend(HERE / OUT / job.quiz)
    return moved(job.back)


ROUTES = [
    Route("/plan/{name}/make", _ask),
    Route("/plan/{name}/make", posted(_make), methods=["POST"]),
    Route("/job/{number:int}", _show),
    Route("/job/{number:int}/state", _state),
    Route("/job/{number:int}/cancel", posted(_cancel), methods=["POST"]),
]
