"""What is recorded about items: made here, and summed up."""

from typing import Literal

from pydantic import ValidationError

from barwright.bank.grammar import Pairs
from barwright.bank.model import RECORD, Review, Source, Tag, Usage
from barwright.bank.shapes import field_text
from barwright.errors import BankError

State = Literal["new", "approved", "retired"]
STATES: tuple[State, ...] = ("new", "approved", "retired")


def record_of(kind: str, **fields: str) -> Source | Usage | Review | Tag:
    """A record of this kind; BankError naming the field for a text that may not stand in a bank."""
    try:
        return RECORD.validate_python({"kind": kind, **fields})
    except ValidationError as error:
        raise BankError(field_text(error)) from error


def checked_date(text: str) -> str:
    """The date, if it is one or empty; BankError if not.

    >>> checked_date("2025-03-14")
    '2025-03-14'
    """
    record_of("review", by="", date=text, text="", verdict="comment")
    return text


def state_of(records: Pairs) -> State:
    """Whether an item is new, approved or retired; whoever retired it and whenever, retired stays retired.

    The order of records does not matter, so that banks can be merged in any order. They are canonical JSON, in which no
    text can hold a bare quotation mark, so they need not be opened.

    >>> state_of((("", '{"kind":"review","verdict":"retire"}'), ("", '{"kind":"review","verdict":"approve"}')))
    'retired'
    """
    state: State = "new"
    for _, text in records:
        if '"verdict":"retire"' in text:
            return "retired"
        if '"verdict":"approve"' in text:
            state = "approved"
    return state
