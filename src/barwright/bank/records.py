"""What is recorded about items: each record checked at the door, and entries made with them."""

from calendar import monthrange
from collections.abc import Iterable

from pydantic import BaseModel, ValidationError

from barwright.bank.entries import Entry, canonical, ident_of
from barwright.bank.grammar import Pairs
from barwright.bank.model import (
    RECORD,
    Counts,
    Return,
    Review,
    Source,
    Tag,
    Usage,
)
from barwright.bank.shapes import field_text
from barwright.errors import BankError
from barwright.items.item import Item, item_content
from barwright.showing import shown


def record_of(
    kind: str, **fields: str | int | list[int] | list[str]
) -> Source | Usage | Counts | Review | Return | Tag:
    """A record of this kind; BankError naming the field for a text that may not stand in a bank, or for no date."""
    try:
        record = RECORD.validate_python({"kind": kind, **fields})
    except ValidationError as error:
        raise BankError(field_text(error)) from error
    if fields.get("date"):
        _check_calendar(str(fields["date"]))
    return record


def checked_date(text: str) -> str:
    """The date, if it is one or empty; BankError if not.

    >>> checked_date("2025-03-14")
    '2025-03-14'
    """
    record_of("review", by="", date=text, text="", verdict="comment")
    return text


def _check_calendar(text: str) -> None:
    year, month, day = map(int, text.split("-"))
    if not (year and 1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]):
        raise BankError(f"date {shown(text)} is not in the calendar: write one that is, as 2025-03-14")


def entry_of(item: Item, records: Iterable[BaseModel] = ()) -> Entry:
    """The entry of an item with these records."""
    return Entry(item.id, canonical(item_content(item)), pairs_of(records))


def pairs_of(records: Iterable[BaseModel]) -> Pairs:
    """Each record as canonical JSON under its id, sorted, equal ones once."""
    texts = {canonical(record.model_dump(mode="json")) for record in records}
    return tuple(sorted((ident_of(text), text) for text in texts))
