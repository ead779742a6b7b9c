"""Pages of the desk, filled in from `templates/desk`; what they are made of comes from the tasks."""

from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from barwright.desk.keys import Keys
from barwright.desk.sentences import OwnFault, Say, page_of, say_of
from barwright.errors import BarwrightError, BlueprintError
from barwright.tasks.shown.desk_words import ALL_SECTIONS
from barwright.templates_folder import templates_folder


@cache
def _jinja() -> Environment:
    return Environment(
        loader=FileSystemLoader(templates_folder() / "desk"),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def rendered(template: str, say: Say, **names: object) -> str:
    """The template filled in, with sentences in one language; everything that is no markup of ours is escaped."""
    return _jinja().get_template(template).render(names, say=say)


def warm() -> None:
    """Reads the templates of all pages, so that no click has to wait for them."""
    for name in _jinja().list_templates(["j2"]):
        _jinja().get_template(name)


def page(request: Request, template: str, *, status: int = 200, **names: object) -> Response:
    """A whole page."""
    keys: Keys = request.app.state.keys
    folder: str = request.app.state.folder_name
    fixed = {"token": keys.token, "folder": folder, "here": request.url.path, "this_page": page_of(request)}
    fixed["all_sections"] = ALL_SECTIONS
    return HTMLResponse(rendered(template, say_of(request), **fixed, **names), status)


def moved(address: str) -> Response:
    """The page to go on with after a form was sent, so that going back or loading anew sends nothing twice."""
    return RedirectResponse(address, 303)


def lines_of(error: BarwrightError) -> tuple[str, ...]:
    """What an error says, a line for each fault."""
    if isinstance(error, OwnFault):
        return (error.told,)
    return error.faults if isinstance(error, BlueprintError) else tuple(str(error).split("\n"))


def fault_page(request: Request, error: Exception) -> Response:
    """What went wrong, in the words of the command; nothing was changed."""
    assert isinstance(error, BarwrightError)
    return _fault(request, 409, "fault.failed", lines_of(error))


def missing_page(request: Request, error: Exception) -> Response:
    """What is said where there is no such page, or where a form cannot be taken: `detail` is the id of a sentence."""
    assert isinstance(error, HTTPException)
    say = say_of(request)
    ident = "fault.missing" if error.status_code in (404, 405) else str(error.detail)
    line = say(ident if ident.startswith("fault.") and say.has(ident) else "fault.unreadable")
    return _fault(request, error.status_code, "fault.nothing", (line,))


def refused_by_system(request: Request, error: Exception) -> Response:
    """What the system refused, such as room on the drive."""
    assert isinstance(error, OSError)
    line = say_of(request)("fault.system", why=error.strerror or "")
    return _fault(request, 507, "fault.failed", (line,))


def _fault(request: Request, status: int, title: str, lines: tuple[str, ...]) -> Response:
    return page(request, "fault.html.j2", status=status, title=say_of(request)(title), lines=lines)
