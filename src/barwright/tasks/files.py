"""Reading and writing the teacher's files: bounded, whole or not at all, and nothing of others' is lost."""

from codecs import BOM_UTF8
from collections.abc import Sequence
from pathlib import Path

from barwright.errors import BarwrightError, OutputError
from barwright.inputs import content_of
from barwright.showing import MOST_OF_A_PATH, cut, shown
from barwright.tasks.locks import locked
from barwright.tasks.places import check_writable, real_path, writing
from barwright.tasks.sniffing import coding_of, what_else
from barwright.tasks.staging import clear_left, replace_file

MOST_BYTES = 200_000
MOST_BEFORE = 20  # letters told before one that cannot be read


def read_text(path: Path, *, most: int = MOST_BYTES, kind: str = "blueprint") -> str:
    """The text of a UTF-8 file; BarwrightError naming the file if it is missing, over `most` bytes, or not text."""
    try:
        content = content_of(path, most + 1)
    except OSError as error:
        raise BarwrightError(
            f"{shown_path(path)}: cannot be read ({error.strerror}): check the name and the folder"
        ) from error
    if len(content) > most:
        raise BarwrightError(f"{shown_path(path)}: has over {most} bytes, so it is no {kind}: check the name")
    return decoded(content, path, kind)


def decoded(content: bytes, path: Path, kind: str) -> str:
    """The text that bytes in UTF-8 hold; BarwrightError that says what they are instead, as far as that can be seen.

    What is no text at all is not quoted.
    """
    other = what_else(content)
    if other:
        raise BarwrightError(f"{shown_path(path)}: this is {other}, so it is no {kind}: check the name")
    coding = coding_of(content)
    if coding:
        raise BarwrightError(
            f"{shown_path(path)}: the file is saved as {coding}: save it as UTF-8 (in a text editor: Save as, "
            "Encoding: UTF-8)"
        )
    content = content.removeprefix(BOM_UTF8)
    try:
        return content.decode()
    except UnicodeDecodeError as error:
        *above, line = content[: error.start].decode().split("\n")
        after = f"the letter after {shown(line[-MOST_BEFORE:])}" if line else "the first letter"
        raise BarwrightError(
            f"{shown_path(path)}, line {len(above) + 1}: {after} is not UTF-8: save the file as UTF-8 "
            "(in a text editor: Save as, Encoding: UTF-8)"
        ) from error


def shown_path(path: Path) -> str:
    """A path as it stands in messages, not too long."""
    return cut(str(path), MOST_OF_A_PATH)


def with_ending(path: Path, endings: Sequence[str], what: str) -> Path:
    """The path of a file to be written, with the first of these endings if it has none; OutputError for another one."""
    if path.suffix.lower() not in ("", *endings):
        raise OutputError(f"{path}: {what}: let the name end in {endings[0]}, not in {path.suffix}")
    return path if path.suffix or not path.name else path.with_name(path.name + endings[0])


def write_new(path: Path, content: bytes, *, replace: bool) -> None:
    """Writes one file whole, links followed; OutputError if it exists and may not be replaced, or cannot be written."""
    real = real_path(path)
    with locked(real, path), writing(path):
        clear_left(real)
        if real.is_dir():
            raise OutputError(f"{path} is a folder: give another name")
        if real.exists():
            if not real.is_file():
                raise OutputError(f"{path} is no file: give another name")
            if not replace:
                raise OutputError(f"{path} exists: give --replace to write it anew, or another name")
            check_writable(real, path)
        replace_file(real, [content])
