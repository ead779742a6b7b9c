"""Reading and writing the teacher's files: bounded, whole or not at all."""

import os
import shutil
from collections.abc import Mapping
from pathlib import Path

from barwright.errors import BarwrightError, OutputError

MOST_BYTES = 200_000


def read_text(path: Path, *, most: int = MOST_BYTES, kind: str = "blueprint") -> str:
    """The text of a UTF-8 file; BarwrightError naming the file if it is missing, over `most` bytes, or not text."""
    try:
        with path.open("rb") as file:
            content = file.read(most + 1)
    except OSError as error:
        raise BarwrightError(f"{path}: cannot be read ({error.strerror}): check the name and the folder") from error
    if len(content) > most:
        raise BarwrightError(f"{path}: has over {most} bytes, so it is no {kind}: check the name")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BarwrightError(
            f"{path}: byte {error.start + 1} is not UTF-8 text: save the file as plain text in UTF-8"
        ) from error


def write_new(path: Path, content: bytes, *, replace: bool) -> None:
    """Writes one file whole; OutputError if it exists and may not be replaced."""
    if path.exists() and not replace:
        raise OutputError(f"{path} exists: give --replace to write it anew, or another name")
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.part")
    part.write_bytes(content)
    os.replace(part, path)


def check_free(folder: Path, *, replace: bool) -> None:
    """Nothing, if a folder may be written; OutputError if it exists and `replace` is off, or if it is a file."""
    if folder.exists() and not folder.is_dir():
        raise OutputError(f"{folder} is a file: give another folder with --out")
    if folder.exists() and not replace:
        raise OutputError(f"{folder} exists: give --replace to write it anew, or another folder with --out")


def write_folder(folder: Path, files: Mapping[str, bytes], *, replace: bool) -> None:
    """Writes a folder of files, paths with forward slashes; it appears whole or not at all.

    Everything is written beside it first and then renamed, so a kill leaves the old state, and at most a hidden
    `.NAME.part`, which the next run clears away.
    """
    check_free(folder, replace=replace)
    part, old = folder.with_name(f".{folder.name}.part"), folder.with_name(f".{folder.name}.old")
    for left in (part, old):
        shutil.rmtree(left, ignore_errors=True)
    for name, content in files.items():
        target = part / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
    if folder.exists():
        os.replace(folder, old)
    os.replace(part, folder)
    shutil.rmtree(old, ignore_errors=True)
