"""Bank files: read in bounded lines, written whole or not at all, by one writer at a time."""

import os
from codecs import BOM_UTF8
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from filelock import Timeout

from barwright.bank.entries import Entry
from barwright.bank.merging import bank_lines
from barwright.bank.reading import (
    MOST_LINE_BYTES,
    Block,
    Blocks,
    Faults,
    ordered_entries,
)
from barwright.errors import BankError
from barwright.inputs import content_of, opened_file
from barwright.tasks.bank.aside import aside_for
from barwright.tasks.locks import NO_LOCKS, held_for_good
from barwright.tasks.paths import check_writable, real_path, writing
from barwright.tasks.staging import clear_left, replace_file

MOST_SECONDS = 300  # that a writer waits for its turn: many may stand before it
MOST_BYTES = 100_000_000_000  # a hundred million items: no file is ever held in memory
BLOCK_BYTES = 1 << 16  # small, so that what is worked on stays in the processor's own memory

Change = Callable[[Iterator[Entry]], Iterator[Entry]]
"""What a command does to a sorted stream of entries; it gives a sorted stream."""


@contextmanager
def opened(path: Path) -> Iterator[Blocks]:
    """The blocks of a bank file, from its start whenever called; BankError if there is no such file, or one too large.

    The file is opened once: a writer who puts another in its place does not disturb a reader.
    """
    try:
        file = opened_file(path)
    except OSError as error:
        raise BankError(f"{path}: cannot be read ({error.strerror}): check the name and the folder") from error
    with file:
        if os.fstat(file.fileno()).st_size > MOST_BYTES:
            raise BankError(f"{path}: is no file of at most {MOST_BYTES:,} bytes, so it is no bank: check the name")

        def blocks() -> Iterator[Block]:
            file.seek(0)
            return _blocks(file)

        yield blocks


def _blocks(file: IO[bytes]) -> Iterator[Block]:
    """The file in blocks of whole lines, the first line by itself; of a line that is too long no more than a part."""
    number = 1
    while block := file.read(BLOCK_BYTES) if number > 1 else file.readline(MOST_LINE_BYTES):
        raw = block if block.endswith(b"\n") else block + file.readline(MOST_LINE_BYTES)
        if raw.endswith(b"\n") or len(raw) < len(block) + MOST_LINE_BYTES:
            yield (made := Block(number, raw))
            number += made.count
            continue
        whole, _, _ = raw.rpartition(b"\n")
        if whole:
            yield (made := Block(number, whole))
            number += made.count
        while raw and not raw.endswith(b"\n"):
            raw = file.readline(MOST_LINE_BYTES)
        yield Block(number, None)
        number += 1


@contextmanager
def entries_of(path: Path) -> Iterator[tuple[Iterator[Entry], Faults]]:
    """The entries of a bank file, sorted, and the faults that gather while they are read; BankError as `opened`."""
    with opened(path) as blocks, aside_for(path) as aside:
        faults = Faults(str(path))
        yield ordered_entries(blocks, faults, aside), faults


def update(path: Path, change: Change, *, create: bool = False) -> Faults:
    """Changes a bank file under its lock, and gives back the faults of the lines that were kept as they are.

    With `create` a new bank is begun where there is no file, or an empty one.

    BankError if there is no file (and `create` is off), if the header is not one this version writes, or if the file
    cannot be locked or written: then it is as it was.
    """
    real = real_path(path)
    if not create and not real.exists():
        raise BankError(f"{path}: there is no such bank: check the name and the folder")
    if real.exists() and not real.is_dir() and not real.is_file():
        raise BankError(f"{path}: it is a pipe or a device, not a file: check the name and the folder")
    with held_bank(path) as real:
        if not real.exists() or (create and _is_blank(real)):
            write_whole(real, path, bank_lines(change(iter(()))))
            return Faults(str(path))
        with entries_of(path) as (entries, faults):
            write_whole(real, path, bank_lines(change(entries), lambda: faults.kept))
            return faults


@contextmanager
def held_bank(path: Path, *, most_seconds: float = MOST_SECONDS) -> Iterator[Path]:
    """Holds the lock of a bank, and gives the real path of it, links followed, so that two names have one lock.

    OutputError for a link that leads nowhere and for a write-protected bank; BankError if another program does not give
    the lock back, or if the drive has no locks.
    """
    real = real_path(path)
    with writing(path):
        if real.exists():
            check_writable(real, path)
    try:
        lock = held_for_good(real, most_seconds)
    except Timeout as error:
        raise BankError(f"{path}: another program has been writing it all the time: try again later") from error
    except OSError as error:
        if error.errno not in NO_LOCKS:
            raise BankError(f"{path}: cannot be written here ({error.strerror}): check the folder") from error
        raise BankError(
            f"{path}: this drive cannot lock files ({error.strerror}): work on a copy on your own disk, and join the "
            "copies with barwright bank merge"
        ) from error
    try:
        with writing(path):
            clear_left(real)
        yield real
    finally:
        lock.release()


def _is_blank(path: Path) -> bool:
    """Whether nothing stands in a file, as in a new one that an editor made."""
    with writing(path):
        return not content_of(path, BLOCK_BYTES).removeprefix(BOM_UTF8).strip()


def write_whole(path: Path, shown: Path, lines: Iterable[bytes]) -> None:
    """Writes a file, by its real path, whose lock is held: whole or not at all; BankError if the system refuses."""
    try:
        replace_file(path, lines)
    except OSError as error:
        raise BankError(
            f"{shown}: cannot be written ({error.strerror}): nothing was changed; make room, or give another name or "
            "folder"
        ) from error
