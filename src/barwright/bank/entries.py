"""Entries: an item of a bank as canonical text, with its records; parsing and formatting are each other's inverse."""

import hashlib
import json
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from barwright.bank.grammar import (
    Pairs,
    is_record,
    pairs_in,
    records_text,
    rows_in,
)
from barwright.bank.text_patterns import FORMAT, MOST_RECORDS, VERSION
from barwright.errors import BankError
from barwright.showing import shown

# Items of one quiz have the same records: so many are kept as known.
KEPT = 1 << 15


class Entry(NamedTuple):
    """One item: `content` and each record as canonical JSON, records under their ids, sorted. The ids are true.

    Text, because most entries pass through: a merge of a hundred thousand needs to open none of them. A tuple, because
    a frozen dataclass takes six times as long to make.
    """

    id: str
    content: str
    records: Pairs = ()


def canonical(value: Mapping[str, Any]) -> str:
    """Canonical JSON: keys sorted, no spaces, no escapes but those that JSON needs.

    >>> canonical({"b": "é", "a": [1, True]})
    '{"a":[1,true],"b":"é"}'
    """
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def ident_of(text: str) -> str:
    """The id of a canonical text: the first 16 hex digits of its SHA-256, as for items.

    >>> ident_of('{}')
    '44136fa355b3678a'
    """
    return hashlib.sha256(text.encode()).hexdigest()[:16]


HEADER = canonical({"format": FORMAT, "version": VERSION})


def format_entry(entry: Entry) -> str:
    """The line of an entry, without its end."""
    return f'{{"content":{entry.content},"id":"{entry.id}","records":{{{records_text(entry.records)}}}}}'


def canonical_entries(text: str) -> list[Entry] | None:
    """The entries of some lines, each with its end; None if any of them is not canonical or not true."""
    entries = []
    for content, _, ident, records in rows_in(text) or ():
        pairs = _true_pairs(records)
        if pairs is None or ident_of(content) != ident:
            return None
        entries.append(Entry(ident, content, pairs))
    return entries or None


@lru_cache(maxsize=KEPT)
def _true_pairs(records: str) -> Pairs | None:
    """The records of a canonical line; None if only the models can tell, or if one is not what its id says."""
    pairs = pairs_in(records)
    for ident, text in pairs or ():
        if _record_ident(text) != ident:
            return None
    return pairs


@lru_cache(maxsize=KEPT)
def _record_ident(text: str) -> str:
    """The id of a record that is one as canonical JSON; empty if only the models can tell."""
    return ident_of(text) if is_record(text) else ""


def united(entries: Iterable[Entry]) -> Entry:
    """One entry of several of the same item: the union of their records. BankError if they are too many.

    Commutative, associative and idempotent, since a record is its id.
    """
    first, *others = entries
    if all(other.records == first.records for other in others):
        return first
    records = tuple(sorted({pair for entry in (first, *others) for pair in entry.records}))
    if len(records) > MOST_RECORDS:
        raise BankError(
            f"item {shown(first.id)} would have {len(records)} records, over {MOST_RECORDS}: split the bank"
        )
    return Entry(first.id, first.content, records)
