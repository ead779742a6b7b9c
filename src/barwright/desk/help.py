"""The reference as pages: the topics, and one topic."""

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from barwright.desk.rendering import page
from barwright.desk.sentences import say_of
from barwright.tasks.shown.help import topic, topics


def _topics(request: Request) -> Response:
    return page(
        request, "help.html.j2", title=say_of(request)("help.title"), topics=topics(say_of(request).code), topic=None
    )


def _topic(request: Request) -> Response:
    code = say_of(request).code
    asked = topic(request.path_params["topic"], code)
    if asked is None:
        raise HTTPException(404)
    return page(request, "help.html.j2", title=asked.title, topics=topics(code), topic=asked)


ROUTES = [Route("/help", _topics), Route("/help/{topic}", _topic)]
