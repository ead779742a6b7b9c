"""How far a long phase is, for somebody who waits at a terminal."""

from collections.abc import Callable
from typing import TextIO

Progress = Callable[[str, int, int], None]
"""Is told what is worked on, how many are done, and of how many at most."""

SHORT = 50  # phases of so many steps are told step by step, longer ones every tenth


def silent(_what: str, _done: int, _of: int) -> None:
    """Tells nobody."""


def told_on(stream: TextIO) -> Progress:
    """A counter in one line of a terminal, a new line for each phase; silent where the stream is no terminal.

    The line is ended with its phase, or when the next phase begins: a phase may be over before all that it might have
    looked at.
    """
    if not stream.isatty():
        return silent
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
