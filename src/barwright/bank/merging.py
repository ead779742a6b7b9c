"""Banks as sorted streams of entries: their union loses nothing, and holds one item at a time in memory."""

from collections.abc import Callable, Iterable, Iterator
from heapq import merge
from itertools import groupby
from operator import attrgetter

from barwright.bank.entries import (
    HEADER,
    Entry,
    format_entry,
    united,
)

_ID = attrgetter("id")


def merged(banks: Iterable[Iterable[Entry]]) -> Iterator[Entry]:
    """Every item of banks that are sorted by id, once, with the records of all of them; sorted by id.

    Commutative, associative and idempotent. BankError if an item would get too many records.
    """
    for _, same in groupby(merge(*banks, key=_ID), key=_ID):
        yield united(same)


def bank_lines(entries: Iterable[Entry], kept: Callable[[], Iterable[bytes]] = tuple) -> Iterator[bytes]:
    """The bytes of a bank file, line by line: header, entries as they come, then lines that are kept unread.

    `kept` is asked when all entries have come, since only then it is known which lines could not be read.
    """
    yield f"{HEADER}\n".encode()
    for entry in entries:
        yield f"{format_entry(entry)}\n".encode()
    for raw in sorted(set(kept())):
        yield raw + b"\n"
