"""Bank files: read in bounded lines, written whole or not at all, by one writer at a time."""

import os
import platform
import shutil
from codecs import BOM_UTF8
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

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
from barwright.tasks.bank.lock import locked
from barwright.tasks.files import writing

MOST_BYTES = 2_000_000_000
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
    with opened(path) as blocks:
        faults = Faults(str(path))
        yield ordered_entries(blocks, faults), faults


def update(path: Path, change: Change, *, create: bool = False) -> Faults:
    """Changes a bank file under its lock, and gives back the faults of the lines that were kept as they are.

    With `create` a new bank is begun where there is no file, or an empty one.

    BankError if there is no file (and `create` is off), if the header is not one this version writes, or if the file
    cannot be locked or written: then it is as it was.
    """
    with writing(path):
        there = path.exists()
    if not create and not there:
        raise BankError(f"{path}: there is no such bank: check the name and the folder")
    if there and not path.is_dir() and not path.is_file():
        raise BankError(f"{path}: it is a pipe or a device, not a file: check the name and the folder")
    with locked(path):
        if not path.exists() or (create and _is_blank(path)):
            write_whole(path, bank_lines(change(iter(()))))
            return Faults(str(path))
        with entries_of(path) as (entries, faults):
            write_whole(path, bank_lines(change(entries), lambda: faults.kept))
            return faults


def _is_blank(path: Path) -> bool:
    """Whether nothing stands in a file, as in a new one that an editor made."""
    with writing(path):
        return not content_of(path, BLOCK_BYTES).removeprefix(BOM_UTF8).strip()


def write_whole(path: Path, lines: Iterable[bytes]) -> None:
    """Writes a file whose lock is held: beside it first, then in its place, so that a kill leaves the old one.

    What earlier writers that were killed left beside it is cleared away. BankError if the drive is full or not to be
    written.
    """
    part = path.with_name(f".{path.name}.{platform.node()}-{os.getpid()}.part")
    try:
        for left in path.parent.glob(f".{_plain(path.name)}.*.part"):
            left.unlink(missing_ok=True)
        try:
            with part.open("wb") as file:
                file.writelines(lines)
                file.flush()
                os.fsync(file.fileno())
            if path.exists():
                shutil.copymode(path, part)
            os.replace(part, path)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise BankError(f"{path}: cannot be written ({error.strerror}): nothing was changed") from error


def _plain(name: str) -> str:
    """The name for a search pattern, its brackets and stars taken literally."""
    return "".join(f"[{c}]" if c in "[*?" else c for c in name)
