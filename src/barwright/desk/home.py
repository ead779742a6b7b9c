"""The first page: what lies in the folder, and a new plan."""

from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from barwright.desk.opened import HERE, checked_inside, opened_contents
from barwright.desk.rendering import moved, page
from barwright.desk.sent_forms import Fields, posted
from barwright.desk.sentences import say_of
from barwright.tasks.plan.presets import MINUTES, presets
from barwright.tasks.shown.contents import file_name


def _home(request: Request) -> Response:
    say = say_of(request)
    contents, beginnings = opened_contents(), presets(say.code)
    return page(
        request, "home.html.j2", title=say("home.title"), contents=contents, presets=beginnings, minutes=MINUTES
    )


def _new_plan(_request: Request, fields: Fields) -> Response:
    from barwright.desk.actions import start

    title = fields.one("title").strip()
    name = file_name(fields.one("name") or title, fields.one("preset"), {plan.name for plan in opened_contents().plans})
    checked_inside(HERE / f"{name}.toml")
    path = start(name, folder=HERE, replace=False, preset=fields.one("preset"), title=title)
    return moved(f"/plan/{quote(path.stem)}")


ROUTES = [Route("/", _home), Route("/plans", posted(_new_plan), methods=["POST"])]
