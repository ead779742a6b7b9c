"""Reading and writing the teacher's files: bounded, whole or not at all, and nothing of others' is lost."""

import os
import shutil
from codecs import BOM_UTF8
from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from barwright.errors import BarwrightError, OutputError
from barwright.inputs import content_of
from barwright.showing import cut, shown
from barwright.tasks.sniffing import coding_of, what_else

MOST_BYTES = 200_000
MOST_SHOWN = 200  # letters of a path in a message
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
    return cut(str(path), MOST_SHOWN)


def check_ending(path: Path, endings: Sequence[str], what: str) -> None:
    """OutputError if the name of a file to be written ends in that of another kind; it may have no ending."""
    if path.suffix.lower() not in ("", *endings):
        raise OutputError(f"{path}: {what}: let the name end in {endings[0]}, not in {path.suffix}")


@contextmanager
def writing(path: Path) -> Iterator[None]:
    """Turns what the system refuses while a file or folder is written into one OutputError that names it."""
    try:
        yield
    except OSError as error:
        raise OutputError(
            f"{shown_path(path)}: cannot be written ({error.strerror or error}): nothing was changed; make "
            f"room, or give another "
            "name or folder"
        ) from error


def write_new(path: Path, content: bytes, *, replace: bool) -> None:
    """Writes one file whole; OutputError if it exists and may not be replaced, or if it cannot be written."""
    with writing(path):
        if path.is_dir():
            raise OutputError(f"{path} is a folder: give another name")
        if path.exists() and not replace:
            raise OutputError(f"{path} exists: give --replace to write it anew, or another name")
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f".{path.name}.part")
        try:
            part.write_bytes(content)
            os.replace(part, path)
        finally:
            with suppress(OSError):
                part.unlink(missing_ok=True)


def check_free(folder: Path, *, replace: bool) -> None:
    """Nothing, if a folder may be written; OutputError if it exists and `replace` is off, or if it is a file."""
    with writing(folder):
        _mend(_real(folder))
        if folder.exists() and not folder.is_dir():
            raise OutputError(f"{folder} is a file: give another folder with --out")
        if folder.exists() and not replace:
            raise OutputError(f"{folder} exists: give --replace to write it anew, or another folder with --out")


def write_folder(folder: Path, files: Mapping[str, bytes], *, replace: bool, gone: Collection[str] = ()) -> None:
    """Writes files into a folder, paths with forward slashes; they appear together or not at all.

    All that lay in the folder stays as it is, but for what is written anew and what is `gone`. Everything is put
    together beside the folder first and then renamed, so a kill leaves the old state, and at most hidden
    `.NAME.part` and `.NAME.old`, which the next run puts right. OutputError as `check_free`, and if the system refuses.
    """
    check_free(folder, replace=replace)
    with writing(folder):
        folder = _real(folder)
        part, old = _beside(folder)
        try:
            _clear(part)
            for name, content in files.items():
                target = part / name
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(content)
            if folder.exists():
                _carry_over(folder, part, {*files, *gone})
                os.replace(folder, old)
            os.replace(part, folder)
        except OSError:
            _mend(folder)
            shutil.rmtree(part, ignore_errors=True)
            raise
    shutil.rmtree(old, ignore_errors=True)


def _real(folder: Path) -> Path:
    """The folder that a link leads to, so that the link stays; else the folder itself."""
    return folder.resolve() if folder.is_symlink() else folder


def _beside(folder: Path) -> tuple[Path, Path]:
    """Where a folder is put together, and where the old one lies for a moment."""
    return folder.with_name(f".{folder.name}.part"), folder.with_name(f".{folder.name}.old")


def _mend(folder: Path) -> None:
    """Puts the old folder back, if a run was killed between taking it away and setting the new one in its place."""
    _, old = _beside(folder)
    if old.is_dir():
        if folder.exists():
            _clear(old)
        else:
            os.replace(old, folder)


def _clear(folder: Path) -> None:
    if folder.exists():
        shutil.rmtree(folder)


def _carry_over(folder: Path, part: Path, without: Collection[str]) -> None:
    """Links (or else copies) all of the folder into another that is being made, but for these paths."""
    for place, folders, names in os.walk(folder):
        inside = Path(place).relative_to(folder)
        for name in [n for n in folders if not (Path(place) / n).is_symlink()]:
            if (inside / name).as_posix() not in without and not any((Path(place) / name).iterdir()):
                (part / inside / name).mkdir(parents=True, exist_ok=True)  # an empty folder
        for name in [*names, *(n for n in folders if (Path(place) / n).is_symlink())]:
            if (inside / name).as_posix() in without:
                continue
            target = part / inside / name
            target.parent.mkdir(parents=True, exist_ok=True)
            try:
                os.link(Path(place) / name, target, follow_symlinks=False)
            except (OSError, NotImplementedError):  # a drive without links
                shutil.copy2(Path(place) / name, target, follow_symlinks=False)
