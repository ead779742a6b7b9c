"""Where a file or folder really lies, whether it may be written, and what is said where the system refuses."""

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from barwright.errors import OutputError

MOST_SHOWN = 200  # letters of a path in a message
ANY_WRITE = 0o222  # the bits that let owner, group or others write


def folder_in(out: Path, name: str) -> Path:
    """The folder of this name in another; the other itself if that has the name already."""
    return out if out.name == name else out / name


@contextmanager
def writing(path: Path) -> Iterator[None]:
    """Turns what the system refuses while a file or folder is written into one OutputError that names it."""
    try:
        yield
    except OSError as error:
        raise OutputError(
            f"{_short(path)}: cannot be written ({error.strerror or error}): nothing was changed; make room, or give "
            "another name or folder"
        ) from error


def real_path(path: Path) -> Path:
    """The place that a name leads to, all links followed, so that what lies there is written and every link stays.

    Nothing need lie there yet; but OutputError for a link that leads nowhere, or round in a circle, or if the system
    refuses to look.
    """
    with writing(path):
        for part in (path, *path.parents):
            if part.is_symlink():
                _check_link(part)
        return Path(os.path.realpath(path))


def check_writable(path: Path, shown: Path) -> None:
    """OutputError if what lies at a path is write-protected; `shown` is the name that the user knows.

    The mode is looked at, too: to put another file in its place would succeed, and an administrator may do anything.
    """
    if not path.stat().st_mode & ANY_WRITE or not os.access(path, os.W_OK):
        raise OutputError(
            f"{_short(shown)} is write-protected, so nothing was changed: take the protection off (in its properties, "
            "or with chmod u+w), or give another name or folder"
        )


def check_no_link(path: Path) -> None:
    """OutputError for a link inside a folder that is written: what it leads to may belong to somebody else."""
    if path.is_symlink():
        raise OutputError(
            f"{_short(path)} is a link, so nothing was changed: put what it leads to in its place, or give another "
            "folder with --out"
        )


def _check_link(link: Path) -> None:
    try:
        link.stat()
    except OSError as error:
        if error.errno == errno.ELOOP:
            why = "is a link that leads back to itself"
        elif error.errno in (errno.ENOENT, errno.ENOTDIR):
            why = f"is a link to {os.readlink(link)!r}, and nothing is there"
        else:
            raise
        raise OutputError(f"{_short(link)} {why}: mend or delete the link, or give another name") from error


def _short(path: Path) -> str:
    return str(path) if len(str(path)) <= MOST_SHOWN else f"{str(path)[:MOST_SHOWN]}..."
