"""One writer at a time, on one computer or several: a lock of the operating system, on a hidden file beside the other.

The system takes the lock away from a program that dies, so nobody ever has to clear it by hand, and a lock file that is
left means nothing. Where computers share a drive the file must stay: one of them may still see it after another has
removed it, and two would be let in. So the locks of banks stay, and those of quiz folders and single files are removed.
"""

import errno
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path

from filelock import FileLock, Timeout

from barwright.errors import OutputError
from barwright.tasks.paths import writing

WAIT_SECONDS = 0.02
MOST_SECONDS = 60
MOST_TRIES = 100  # to find a folder that others make and remove
NO_LOCKS = (errno.ENOLCK, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP)
MODE = 0o666  # of the mode of a bank, what its lock shares with it, so that whoever may write it can lock it
OWN = 0o600  # what filelock needs
AS_USUAL = -1  # filelock: the mode that files usually get


@contextmanager
def locked(path: Path, shown: Path, *, most_seconds: float = MOST_SECONDS) -> Iterator[None]:
    """Holds the lock of a quiz folder or a single file, whose folder is made; it is removed again if it stays empty.

    `path` is the real one. OutputError naming the `shown` one if another program does not give the lock back, if the
    drive knows no locks, or if the system refuses.
    """
    beside = path.with_name(f".{path.name}.barwright-lock")
    with writing(shown):
        missing = [folder for folder in path.parents if not folder.exists()]
        try:
            lock = _held(beside, most_seconds, make_folder=True)
        except Timeout as error:
            raise OutputError(f"{shown} is being written by another Barwright: try again when that is done") from error
        except OSError as error:
            if error.errno not in NO_LOCKS:
                raise
            raise OutputError(
                f"{shown}: this drive cannot lock files ({error.strerror}): give a folder on your own disk"
            ) from error
    try:
        yield
    finally:
        with suppress(OSError):  # Windows removes it itself, and only then
            beside.unlink()
        lock.release()
        for folder in missing:
            with suppress(OSError):
                folder.rmdir()


def held_for_good(path: Path, most_seconds: float) -> FileLock:
    """The lock of a shared file, held and to be released; the lock file stays. Timeout or OSError if it is not got."""
    mode = path.stat().st_mode & MODE | OWN if path.exists() else AS_USUAL
    return _held(path.with_name(f".{path.name}.lock"), most_seconds, mode=mode)


def _held(file: Path, most_seconds: float, *, make_folder: bool = False, mode: int = AS_USUAL) -> FileLock:
    """A lock that is held: by the system, or not at all, since what else there is would outlive a kill."""
    lock = FileLock(file, most_seconds, mode, poll_interval=WAIT_SECONDS, fallback_to_soft=False)
    for tries in count(1):
        try:
            if make_folder:
                file.parent.mkdir(parents=True, exist_ok=True)
            file.parent.stat()  # filelock would make it
            _check_ours(file)
            lock.acquire()
            break
        except FileNotFoundError:
            if not make_folder or tries == MOST_TRIES:
                raise
    return lock


def _check_ours(file: Path) -> None:
    """OutputError where something of others has the name of a lock file, which is always empty."""
    with suppress(FileNotFoundError):
        status = file.lstat()
        if not stat.S_ISREG(status.st_mode) or status.st_size:
            raise OutputError(f"{file} is in the way: Barwright needs this name for a moment; give it another name")
