"""Reading and writing the teacher's files: bounded, whole or not at all, and nothing of others' is lost.

What should be text in UTF-8 and is not is told by its first bytes and by its zeros.
"""

from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE, BOM_UTF32_BE, BOM_UTF32_LE
from collections.abc import Sequence
from pathlib import Path

from barwright.errors import BarwrightError, OutputError
from barwright.inputs import content_of
from barwright.showing import MOST_OF_A_PATH, cut, shown
from barwright.tasks.locks import locked
from barwright.tasks.paths import check_writable, real_path, writing
from barwright.tasks.staging import clear_left, replace_file

# The first bytes of files, from the public descriptions of these formats.
_STARTS = {
    b"PK\x03\x04": "a zip, such as a document of a word processor or a package",
    b"PK\x05\x06": "an empty zip",
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"GIF8": "a picture",
    b"BM": "",  # also how many a text begins
    b"\xd0\xcf\x11\xe0": "an old document of a word processor or a spreadsheet",
    b"{\\rtf": "a document of a word processor",
    b"\x1f\x8b": "a compressed file",
    b"7z\xbc\xaf": "a compressed file",
    b"\x7fELF": "a program",
    b"MZ\x90": "a program",
    b"SQLite format 3": "a database",
    b"OTTO": "a font",
    b"\x00\x01\x00\x00\x00": "a font",
    b"ID3": "a sound",
    b"RIFF": "a sound or a film",
    b"MThd": "a MIDI file",
}
_MARKS = {
    BOM_UTF32_LE: "UTF-32",
    BOM_UTF32_BE: "UTF-32",
    BOM_UTF16_LE: "UTF-16",
    BOM_UTF16_BE: "UTF-16",
}
LOOKED_AT = 2_000  # bytes


def what_else(content: bytes) -> str:
    """What the bytes are if they are no text; empty if they may be text.

    >>> what_else(b"%PDF-1.7"), what_else(b"title"), what_else(b"ab\\0cdef")
    ('a PDF', '', 'no text')
    """
    known = next((called for start, called in _STARTS.items() if called and content.startswith(start)), "")
    if known or coding_of(content):
        return known
    return "no text" if b"\0" in content else ""


def coding_of(content: bytes) -> str:
    """`UTF-16` or `UTF-32` if bytes are so written, with a mark at the start or without; else empty.

    Without a mark it shows in the zeros: most letters of a plain text have a value below 256.

    >>> coding_of("title".encode("utf-16-le")), coding_of("title".encode("utf-32-be")), coding_of(b"title")
    ('UTF-16', 'UTF-32', '')
    """
    marked = next((name for mark, name in _MARKS.items() if content.startswith(mark)), "")
    if marked:
        return marked
    head = content[:LOOKED_AT]
    for width in (4, 2):
        full = len(head) // width * width
        zeros = [head[place:full:width].count(0) * width for place in range(width)]
        some = full * 7 // 10  # of the letters have zeros there
        if full and (min(zeros[1:]) >= some > zeros[0] or min(zeros[:-1]) >= some > zeros[-1]):
            return f"UTF-{8 * width}"
    return ""


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
    """Writes one file whole, links followed; OutputError if it exists and may not be replaced, or cannot be written.

    A file that holds just this stays as it is; what a killed run left beside it is cleared away all the same.
    """
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
            if content_of(real, len(content) + 1) == content:
                return
        replace_file(real, [content])
