"""Any package as files: a zip, a folder, one document, or bytes. Nothing is unpacked and no link is followed."""

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import IO

from barwright.check.reading.package_bounds import MOST_FILES, MOST_FOLDERS_DEEP, MOST_XML_BYTES
from barwright.check.reading.package_files import (
    MANIFEST,
    Files,
    refuse_amount,
    refuse_path,
)
from barwright.check.reading.zips import opened_zip
from barwright.errors import PackageError

# First bytes of files that are mistaken for packages.
_OTHERS = {
    b"Rar!": "a RAR archive",
    b"7z\xbc\xaf": "a 7z archive",
    b"\x1f\x8b": "a gzip archive",
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"{": "a JSON file",
}
_ZIP = b"PK"
MOST_NAMED = 6  # packages named in one message
_MARKUP = (b"<", b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff", b" ", b"\n", b"\r", b"\t")


@contextmanager
def opened(source: Path | bytes, *, name: str = "") -> Iterator[Files]:
    """The files of a package while the context lasts; `name` is what it is called in messages, by default the path.

    Raises PackageError for what is no package or must not be read; its text does not begin with the name.
    """
    if isinstance(source, bytes):
        with BytesIO(source) as stream, _sniffed(stream, name or "package") as files:
            yield files
        return
    shown = name or str(source)
    try:
        mode = source.stat().st_mode
        if stat.S_ISDIR(mode):
            files = folder_files(source, shown)
            _refuse_quiz_folder(files, source)
            yield files
            return
        if not stat.S_ISREG(mode):  # a pipe would keep us waiting for ever
            raise PackageError("it is neither a file nor a folder: give the package itself")
        file = source.open("rb")
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else "no such name can be"
        raise PackageError(f"it cannot be opened ({why}): check the name and the folder") from error
    with file, _sniffed(file, shown) as files:
        yield files


@contextmanager
def _sniffed(stream: IO[bytes], name: str) -> Iterator[Files]:
    """A zip's files, or one document as the only file; PackageError for anything else."""
    head = stream.read(8)
    stream.seek(0)
    if head.startswith(_ZIP):
        with opened_zip(stream, name) as files:
            yield files
    elif head.startswith(_MARKUP):
        data = stream.read(MOST_XML_BYTES + 1)
        path = Path(name).name
        yield Files(name, {path: len(data)}, lambda _path: data, single=True)
    elif not head:
        raise PackageError("it is empty: copy or export it again")
    else:
        kind = next((called for start, called in _OTHERS.items() if head.startswith(start)), "something else")
        raise PackageError(
            f"it is not a zip but {kind}: give the package as it is imported (.zip or .imscc), or its folder"
        )


def folder_files(top: Path, name: str) -> Files:
    """The files below a folder; PackageError for links, for anything that is no file, and for too many."""
    sizes: dict[str, int] = {}
    waiting = [(top, "", 0)]
    while waiting:
        folder, prefix, depth = waiting.pop()
        if depth > MOST_FOLDERS_DEEP:
            raise PackageError(
                f"folder {prefix[:60]!r}... lies over {MOST_FOLDERS_DEEP} folders deep: give the package itself"
            )
        for entry in _entries(folder):
            path = prefix + entry.name
            mode = entry.stat(follow_symlinks=False).st_mode
            if stat.S_ISDIR(mode):
                waiting.append((Path(entry.path), f"{path}/", depth + 1))
            elif stat.S_ISREG(mode):
                refuse_path(path)
                sizes[path] = entry.stat(follow_symlinks=False).st_size
            else:
                what = "a link to somewhere else" if stat.S_ISLNK(mode) else "a device or pipe"
                raise PackageError(f"file {path[:60]!r} is {what}, not a file: put the file itself there")
        refuse_amount(len(sizes), sum(sizes.values()) if len(sizes) <= MOST_FILES else 0)
    return Files(name, dict(sorted(sizes.items())), lambda path: _file_bytes(top, path))


def _refuse_quiz_folder(files: Files, folder: Path) -> None:
    """PackageError for a folder that holds packages and is none, such as that of a quiz; it names them."""
    packages = [path for path in files.sizes if path.lower().endswith((".imscc", ".zip"))]
    if not packages or any(path.split("/")[-1] == MANIFEST for path in files.sizes):
        return
    named = ", ".join(repr(str(folder / path)) for path in packages[:MOST_NAMED])
    more = f" and {len(packages) - MOST_NAMED} more" if len(packages) > MOST_NAMED else ""
    raise PackageError(f"it is a folder of packages: name them instead: {named}{more}")


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    """At most one more than is allowed, so that a huge folder is noticed and not read."""
    listed: list[os.DirEntry[str]] = []
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                listed.append(entry)
                if len(listed) > MOST_FILES:
                    break
    except OSError as error:
        raise PackageError(f"folder {str(folder)[-60:]!r} cannot be read ({error.strerror}): check who may") from error
    return listed


def _file_bytes(top: Path, path: str) -> bytes:
    try:
        return (top / path).read_bytes()
    except OSError as error:
        raise PackageError(f"file {path[:60]!r} cannot be read ({error.strerror}): check who may") from error
