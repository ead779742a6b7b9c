"""Opening a file that somebody named: whatever it is, nobody waits for it."""

import errno
import os
import stat
from pathlib import Path
from typing import BinaryIO


def opened_file(path: Path) -> BinaryIO:
    """An ordinary file, open for reading; OSError, with a plain `strerror`, for anything else.

    A pipe or device is not opened at all, since that may wait for ever or do something.
    """
    try:
        _refuse_other(path.stat().st_mode)
        # Windows has the first flag alone, and no pipes among its files.
        number = os.open(path, os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0))
    except ValueError as error:
        raise OSError(errno.EINVAL, "no file can have this name") from error
    try:
        _refuse_other(os.fstat(number).st_mode)
    except OSError:
        os.close(number)
        raise
    return os.fdopen(number, "rb")


def _refuse_other(mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, "it is a pipe or a device, not a file")


def content_of(path: Path, most: int) -> bytes:
    """The first bytes of an ordinary file, at most so many; OSError as `opened_file`."""
    with opened_file(path) as file:
        return file.read(most) or b""
