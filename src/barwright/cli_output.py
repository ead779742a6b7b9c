"""What commands print: whole lines without signs that act, and one line if the output cannot be written."""

import os
import sys
from collections.abc import Callable
from contextlib import suppress
from typing import NoReturn, TextIO

from barwright.errors import BarwrightError, BlueprintError
from barwright.showing import visible


def say(line: str) -> None:
    """Prints one line; letters that the terminal does not have become question marks."""
    stream: TextIO | None = sys.stdout
    if stream is not None:
        code = stream.encoding or "utf-8"
        stream.write(visible(line).encode(code, "replace").decode(code) + "\n")


def answer(text: str) -> None:
    """Prints an answer as it is, which may be of several lines; BarwrightError where a letter of it cannot be shown."""
    stream: TextIO | None = sys.stdout
    if stream is None:
        return
    try:
        text.encode(stream.encoding or "utf-8")
    except UnicodeEncodeError as error:
        letter = f"U+{ord(text[error.start]):04X}"
        raise BarwrightError(
            f"this terminal writes {stream.encoding} and has no letter {letter}, which the answer needs: set it to "
            "UTF-8 (PYTHONIOENCODING=utf-8), or choose other conventions"
        ) from error
    stream.write(f"{text}\n")


def complain(line: str) -> None:
    """Prints one line on the error stream; in silence where there is none to print it on."""
    stream: TextIO | None = sys.stderr
    if stream is not None:
        with suppress(OSError):
            stream.write(visible(line) + "\n")
            stream.flush()


def ended(command: Callable[[], object]) -> NoReturn:
    """Runs a command and ends the program: 0, or 1 with one line a fault, or the command's own code.

    Where the output is closed before its end, as by `head`, the command ends with 1 and says nothing. What the system
    refuses and no task foresaw is one line, too.
    """
    code: int | str | None = 0
    try:
        code = _code_of(command)
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:
        code = _given_up()
    except OSError as error:
        if error.filename is None:
            code = _given_up()
            complain(f"the output cannot be written ({error.strerror}): make room, or send it elsewhere")
        else:
            code = 1
            complain(f"{os.fsdecode(error.filename)}: cannot be read or written ({error.strerror}): check who may")
    sys.exit(code)


def _code_of(command: Callable[[], object]) -> int | str | None:
    try:
        command()
    except SystemExit as end:
        return end.code
    except BarwrightError as error:
        for line in error.faults if isinstance(error, BlueprintError) else (str(error),):
            complain(line)
        return 1
    return 0


def _given_up() -> int:
    """Sends the rest of the output nowhere, or Python would try again at the end; the exit code."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
    return 1
