"""What of a bank does not fit in memory while it is sorted: it lies in a file without a name, gone with the program."""

import os
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from barwright.bank.entries import HEADER, Entry, format_entry
from barwright.bank.reading import Aside, Block, Faults, entries_in
from barwright.errors import BankError

READ_BYTES = 1 << 16  # at a time, of each run: there may be hundreds of runs


@contextmanager
def aside_for(path: Path) -> Iterator[Aside]:
    """Where runs of the bank at a path are put aside, in its own folder if that may be written; gone with the block.

    BankError, when something is put aside, if there is no room for it.
    """
    with _Runs(path) as runs:
        yield runs.keep


class _Runs:
    """One file for all runs of a bank, made when the first is put aside."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.file: IO[bytes] | None = None

    def __enter__(self) -> "_Runs":
        return self

    def __exit__(self, *_: object) -> None:
        if self.file is not None:
            self.file.close()

    def keep(self, entries: list[Entry]) -> Iterable[Entry]:
        """Puts entries aside, and gives them back when they are asked for."""
        try:
            self.file = self.file or _nameless(self.path.parent)
            begin = self.file.seek(0, os.SEEK_END)
            self.file.writelines(f"{format_entry(entry)}\n".encode() for entry in entries)
            self.file.flush()
            end = self.file.tell()
        except OSError as error:
            raise BankError(
                f"{self.path}: its lines are out of order, and there is no room to sort them ({error.strerror}): make "
                "room beside it"
            ) from error
        return (entry for _, entry in entries_in(self._blocks(self.file, begin, end), Faults(str(self.path))))

    def _blocks(self, file: IO[bytes], begin: int, end: int) -> Iterator[Block]:
        yield Block(0, HEADER.encode())
        while begin < end:
            file.seek(begin)
            raw = file.read(min(READ_BYTES, end - begin))
            raw += b"" if raw.endswith(b"\n") else file.readline()
            begin += len(raw)
            yield Block(1, raw)


def _nameless(folder: Path) -> IO[bytes]:
    try:
        return tempfile.TemporaryFile(dir=folder)
    except OSError:  # a bank may be read where nothing may be written
        return tempfile.TemporaryFile()
