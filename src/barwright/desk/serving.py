"""Serving the desk: on this computer alone, until it is closed or no page has called for a while."""

import asyncio
import os
import socket
import sys
import threading
import webbrowser
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import uvicorn
from starlette.applications import Starlette
from starlette.exceptions import HTTPException

from barwright.desk.app import application, other_pages
from barwright.desk.guard import ENTER, Guard
from barwright.desk.jobs import Jobs
from barwright.desk.keys import Keys
from barwright.desk.one_desk import LOOPBACK, STEP_SECONDS, WAIT_SECONDS, DeskPlace, Listening, address_of
from barwright.desk.opened import bank_file, opened_contents, plan_file, plan_of_quiz, quiz_folder
from barwright.desk.rendering import warm
from barwright.errors import BarwrightError

IDLE_SECONDS = 900.0
"""So long no page may have called: a page that is open does every 20 seconds, a sleeping laptop's when it wakes."""
_LOOK_SECONDS = 0.5
_BYE_SECONDS = 3  # for calls that go on when the desk ends


@dataclass(slots=True)
class Life:
    """How long a desk lasts: when a page called last, and whether it was told to end."""

    last: float = 0.0
    ended: bool = False


def open_desk(
    folder: Path,
    *,
    show: Callable[[str], object],
    say: Callable[[str], object],
    idle_seconds: float = IDLE_SECONDS,
    home: Path | None = None,
) -> None:
    """Serves the desk of a folder and comes back when it ended; or joins the one that there is, and comes back at once.

    `show` is given the address that opens it, good once. `home`: where the state is kept. BarwrightError for a folder
    that cannot be used.
    """
    folder = _made(folder)
    place = DeskPlace(folder, home)
    if not place.taken():
        show(_joined(place, folder))
        say(f"The desk of {folder} is open already: another page of it was opened.")
        return
    try:
        os.chdir(folder)
        _serve(folder, place, show, say, idle_seconds)
    finally:
        place.leave()


def _made(folder: Path) -> Path:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        real = folder.resolve()
        os.listdir(real)
    except OSError as error:
        raise BarwrightError(f"{folder}: cannot be opened ({error.strerror}): give another folder") from error
    return real


def _joined(place: DeskPlace, folder: Path) -> str:
    """The address of the desk that has the folder, which may be just beginning."""
    steps = int(WAIT_SECONDS / STEP_SECONDS)
    for _ in range(steps):
        listening = place.told()
        address = address_of(listening) if listening is not None else None
        if address is not None:
            return address
        asyncio.run(asyncio.sleep(STEP_SECONDS))
    raise BarwrightError(f"{folder} is open at another desk, which does not answer: end that program, and try again")


def _serve(
    folder: Path, place: DeskPlace, show: Callable[[str], object], say: Callable[[str], object], idle_seconds: float
) -> None:
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listener.bind((LOOPBACK, 0))
    listener.listen()  # before anybody is told: a browser may be faster than the server
    port = listener.getsockname()[1]
    keys, life = Keys(), Life()

    def entry() -> str:
        return f"http://{LOOPBACK}:{port}{ENTER}?key={keys.new_once()}"

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        watch = asyncio.create_task(_watch(server, app, life, idle_seconds))
        place.tell(Listening(port, keys.joining))
        say(
            f"The desk of {folder} is open. It ends by its button, or {idle_seconds / 60:g} minutes after its last "
            "page was closed."
        )
        show(entry())
        threading.Thread(target=_warm, args=(app.state.jobs,), daemon=True).start()
        yield
        watch.cancel()
        app.state.jobs.end_all()

    app = application(folder.name or str(folder), keys, life, entry, lifespan)
    config = uvicorn.Config(
        Guard(app, keys, f"{LOOPBACK}:{port}"), log_config=None, access_log=False, server_header=False, http="h11",
        ws="none", loop="asyncio", lifespan="on", timeout_graceful_shutdown=_BYE_SECONDS, proxy_headers=False,
    )  # fmt: skip
    server = uvicorn.Server(config)
    server.run(sockets=[listener])
    say("The desk is closed.")


def _warm(jobs: Jobs) -> None:
    """Looks at a plan, a bank and a quiz once: the first look at any reads words and draws symbols for all others.

    It takes about a second, while the teacher looks at the first page.
    """
    other_pages()
    from barwright.tasks.shown.bank import bank_shown
    from barwright.tasks.shown.pictures import shown_picture
    from barwright.tasks.shown.plan import plan_shown
    from barwright.tasks.shown.proof import proof_shown

    warm()
    contents = opened_contents()
    if contents.quizzes:
        jobs.prepare()
    with suppress(BarwrightError, HTTPException, OSError):
        for plan in contents.plans[:1]:
            options = [each for field in plan_shown(plan_file(plan.name)).fields.values() for each in field.options]
            for option in options:
                if option.picture is not None:
                    shown_picture(option.picture)
    with suppress(BarwrightError, HTTPException, OSError):
        for bank in contents.banks[:1]:
            bank_shown(bank_file(bank.name), [])
    with suppress(BarwrightError, HTTPException, OSError):
        for quiz in contents.quizzes[:1]:
            folder = quiz_folder(quiz.name)
            proof_shown(folder, 1, plan_of_quiz(folder))


async def _watch(server: uvicorn.Server, app: Starlette, life: Life, idle_seconds: float) -> None:
    """Ends the server when it was told to, or when nobody has called for so long and no work goes on."""
    loop = asyncio.get_running_loop()
    life.last = loop.time()
    while not server.should_exit:
        await asyncio.sleep(_LOOK_SECONDS)
        if app.state.jobs.running:
            life.last = loop.time()
        if life.ended or loop.time() - life.last > idle_seconds:
            server.should_exit = True


def in_browser(address: str) -> None:
    """Opens the address in the user's browser; where none can be opened the address is printed."""
    if not webbrowser.open(address):
        printed(address)


def printed(address: str) -> None:
    """Prints the address, where no browser is to be opened, or none can be."""
    sys.stdout.write(f"Open this address in a browser on this computer, once: {address}\n")
    sys.stdout.flush()
