"""Answers: drop what the platform gave out, say what a column is where that is doubtful, and see what they tell."""

from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from barwright.desk.actions import forget, keep, reteach_plan, say_columns, take_away
from barwright.desk.jobs import Jobs
from barwright.desk.opened import HERE, checked_inside, opened_contents, quiz_folder
from barwright.desk.rendering import lines_of, moved, page
from barwright.desk.sent_forms import Fields, posted
from barwright.desk.sentences import language_of, say_of
from barwright.errors import BarwrightError
from barwright.tasks.shown.contents import file_name
from barwright.tasks.shown.doubtful_columns import columns_asked, upload_name
from barwright.tasks.shown.quiz import ANSWERS, quiz_shown


def _answers(request: Request, *, told: tuple[str, ...] = (), status: int = 200) -> Response:
    folder = quiz_folder(request.path_params["name"])
    jobs: Jobs = request.app.state.jobs
    job = jobs.latest("diagnose", str(folder))
    shown = quiz_shown(folder)
    names = {
        "quiz": shown,
        "job": job,
        "told": told,
        "asked": columns_asked(folder),
        "title": say_of(request)("answers.title", quiz=shown.title),
    }
    return page(request, "answers.html.j2", status=status, **names)


def _drop(request: Request, fields: Fields) -> Response:
    """Keeps the files in the quiz's folder, and reads all that lie there."""
    folder = quiz_folder(request.path_params["name"])
    try:
        for upload in fields.files.get("answers", ()):
            keep(checked_inside(folder / ANSWERS / upload_name(upload.name)), upload.content)
    except BarwrightError as error:
        return _answers(request, told=lines_of(error), status=409)
    return _begin(request, fields)


def _begin(request: Request, fields: Fields) -> Response:
    folder = quiz_folder(request.path_params["name"])
    if not quiz_shown(folder).answers:
        return _answers(request, told=(say_of(request)("answers.none_chosen"),), status=409)
    order = {
        "quiz": str(folder),
        "files": [str(checked_inside(folder / ANSWERS))],
        "language": language_of(request.headers),
        "names": fields.has("names"),
        "feedback": fields.has("feedback"),
    }
    jobs: Jobs = request.app.state.jobs
    job = jobs.begin("diagnose", str(folder), f"/quiz/{quote(folder.name)}/answers", order)
    return moved(f"/job/{job.number}" if job is not None else f"/quiz/{quote(folder.name)}/answers")


def _columns(request: Request, fields: Fields) -> Response:
    """What the teacher says of doubtful columns goes into the file of columns, and the answers are read again."""
    folder = quiz_folder(request.path_params["name"])
    try:
        say_columns(folder, {name: texts[-1] for name, texts in fields.texts.items()})
    except BarwrightError as error:
        return _answers(request, told=lines_of(error), status=409)
    return _begin(request, fields)


def _reteach(request: Request, _fields: Fields) -> Response:
    folder = quiz_folder(request.path_params["name"])
    taken = {each.name for each in opened_contents().plans}
    name = file_name(f"{folder.name} again", "again", taken)
    reteach_plan(folder, checked_inside(HERE / f"{name}.toml"))
    return moved(f"/plan/{quote(name)}")


def _forget(request: Request, _fields: Fields) -> Response:
    """Takes the files of answers away, and all that was worked out of them."""
    folder = quiz_folder(request.path_params["name"])
    shown = quiz_shown(folder)
    take_away([checked_inside(folder / ANSWERS / name) for name in shown.answers])
    if shown.report or columns_asked(folder):
        forget(folder)
    return moved(f"/quiz/{quote(folder.name)}/answers")


ROUTES = [
    Route("/quiz/{name}/answers", _answers),
    Route("/quiz/{name}/answers", posted(_drop), methods=["POST"]),
    Route("/quiz/{name}/answers/read", posted(_begin), methods=["POST"]),
    Route("/quiz/{name}/answers/columns", posted(_columns), methods=["POST"]),
    Route("/quiz/{name}/answers/reteach", posted(_reteach), methods=["POST"]),
    Route("/quiz/{name}/answers/forget", posted(_forget), methods=["POST"]),
]
