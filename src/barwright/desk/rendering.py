"""Pages of the desk, filled in from `templates/desk`; what they are made of comes from the tasks."""

from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from barwright.desk.keys import Keys
from barwright.errors import BarwrightError, BlueprintError
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


def rendered(template: str, **names: object) -> str:
    """The template filled in; everything that is no markup of ours is escaped."""
    return _jinja().get_template(template).render(names)


def warm() -> None:
    """Reads the templates of all pages, so that no click has to wait for them."""
    for name in _jinja().list_templates(["j2"]):
        _jinja().get_template(name)


def page(request: Request, template: str, *, status: int = 200, **names: object) -> Response:
    """A whole page."""
    keys: Keys = request.app.state.keys
    folder: str = request.app.state.folder_name
    return HTMLResponse(rendered(template, token=keys.token, folder=folder, **names), status)


def moved(address: str) -> Response:
    """The page to go on with after a form was sent, so that going back or loading anew sends nothing twice."""
    return RedirectResponse(address, 303)


def lines_of(error: BarwrightError) -> tuple[str, ...]:
    """What an error says, a line for each fault."""
    return error.faults if isinstance(error, BlueprintError) else tuple(str(error).split("\n"))


def fault_page(request: Request, error: Exception) -> Response:
    """What went wrong, in the words of the command; nothing was changed."""
    assert isinstance(error, BarwrightError)
    return page(request, "fault.html.j2", status=409, title="That did not work", lines=lines_of(error))


def missing_page(request: Request, error: Exception) -> Response:
    """What is said where there is no such page, or where a form cannot be taken."""
    assert isinstance(error, HTTPException)
    text = "There is no such page: what it showed may have been renamed or taken away."
    line = text if error.status_code in (404, 405) else f"Nothing was done: {error.detail}."
    return page(request, "fault.html.j2", status=error.status_code, title="Nothing here", lines=(line,))


def refused_by_system(request: Request, error: Exception) -> Response:
    """What the system refused, such as room on the drive."""
    assert isinstance(error, OSError)
    line = (
        f"This computer refused ({error.strerror or 'no reason given'}): make room, or check who may write the folder."
    )
    return page(request, "fault.html.j2", status=507, title="That did not work", lines=(line,))
