"""One writer at a time, on one computer or several: a lock of the operating system on a file beside the bank.

The system takes the lock away from a program that dies, so nobody ever has to clear it by hand. The lock file itself
stays: to remove it while others wait for it would let two of them in.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event
from typing import IO

from barwright.errors import BankError

WAIT_SECONDS = 0.02
MOST_WAITS = 15_000  # five minutes

if sys.platform == "win32":
    import msvcrt

    def _try_lock(file: IO[bytes]) -> None:
        """Locks the file; BlockingIOError or PermissionError if another program has."""
        file.seek(0)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _try_lock(file: IO[bytes]) -> None:
        """Locks the file; BlockingIOError if another program has."""
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextmanager
def locked(path: Path, *, most_waits: int = MOST_WAITS) -> Iterator[None]:
    """Holds the lock of a bank; BankError if another program does not give it back, or if the drive has no locks."""
    beside = path.with_name(f".{path.name}.lock")
    try:
        file = beside.open("ab")
    except OSError as error:
        raise BankError(f"{path}: cannot be written here ({error.strerror}): check the folder") from error
    with file:
        for _ in range(most_waits):
            try:
                _try_lock(file)
                break
            except (BlockingIOError, PermissionError):
                Event().wait(WAIT_SECONDS)
            except OSError as error:
                raise BankError(
                    f"{path}: this drive cannot lock files ({error.strerror}): work on a copy on your own disk, and "
                    "join the copies with barwright bank merge"
                ) from error
        else:
            raise BankError(f"{path}: another program has been writing it all the time: try again later")
        yield
