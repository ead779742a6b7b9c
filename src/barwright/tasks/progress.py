"""How far a long phase is, for somebody who waits at a terminal."""

from collections.abc import Callable
from contextlib import suppress
from typing import TextIO

Progress = Callable[[str, int, int], None]
"""Is told what is worked on, how many are done, and of how many at most."""

SHORT = 50  # phases of so many steps are told step by step, longer ones every tenth


# Elsewhere a line is told after so much work, whatever the phase: of a small quiz none. Work is counted and not timed,
# so that the same command says the same everywhere.
LINE_EVERY = 6_000
WORK = {"items": 30, "forms": 300, "quizzes": 300}  # a step, where it is not that of a figure or package
A_FIGURE, A_QUESTION = 10, 1


def silent(_what: str, _done: int, _of: int) -> None:
    """Tells nobody."""


def told_on(stream: TextIO | None) -> Progress:
    """A counter in one line of a terminal, a new line for each phase; elsewhere a line now and then.

    The line is ended with its phase, or when the next phase begins: a phase may be over before all that it might have
    looked at.
    """
    if stream is None:
        return silent
    if not stream.isatty():
        return _now_and_then(stream)
    open_line = ""

    def told(what: str, done: int, of: int) -> None:
        nonlocal open_line
        if of > SHORT and done % 10 and done != of:
            return
        line = f"{what}: {done:,} of {of:,}"
        if open_line and not open_line.startswith(f"{what}: "):
            stream.write("\n")
            open_line = ""
        stream.write(f"\r{line.ljust(len(open_line))}")
        open_line = line
        if done == of:
            stream.write("\n")
            open_line = ""
        stream.flush()

    return told


def _now_and_then(stream: TextIO) -> Progress:
    before: dict[str, int] = {}
    work = 0

    def told(what: str, done: int, of: int) -> None:
        nonlocal work
        a_step = WORK.get(what, A_QUESTION if what.endswith("questions") else A_FIGURE)
        new = work + a_step * max(done - before.get(what, 0), 0)
        before[what] = done
        if new // LINE_EVERY > work // LINE_EVERY:
            with suppress(OSError):
                stream.write(f"Still working: {what}, {done:,} of {of:,}\n")
                stream.flush()
        work = new

    return told
