"""Whether an item may be used: what its reviews come to."""

import json
from typing import Literal

from barwright.bank.grammar import Pairs

State = Literal["new", "approved", "retired"]
STATES: tuple[State, ...] = ("new", "approved", "retired")


def state_of(records: Pairs) -> State:
    """Whether an item is new, approved or retired; whoever retired it and whenever, until that is taken back.

    The order of records does not matter, so that banks can be merged in any order. They are canonical JSON, in which no
    text can hold a bare quotation mark, so most need not be opened.

    >>> state_of((("a", '{"kind":"review","verdict":"retire"}'), ("b", '{"kind":"review","verdict":"approve"}')))
    'retired'
    >>> state_of((("a", '{"kind":"review","verdict":"retire"}'), ("b", '{"kind":"return","of":["a"],"text":""}')))
    'new'
    """
    state: State = "new"
    for _, text in records:
        if '"verdict":"' in text:
            if '"verdict":"retire"' in text:
                return "retired" if standing_retirements(records) else _without_retirements(records)
            if '"verdict":"approve"' in text:
                state = "approved"
    return state


def standing_retirements(records: Pairs) -> tuple[str, ...]:
    """The ids of the records that retire an item and are not taken back."""
    returned = returned_records(records)
    return tuple(ident for ident, text in records if '"verdict":"retire"' in text and ident not in returned)


def returned_records(records: Pairs) -> frozenset[str]:
    """The ids of the records that other records take back."""
    taken_back = [json.loads(text)["of"] for _, text in records if '"kind":"return"' in text]
    return frozenset(ident for each in taken_back for ident in each)


def _without_retirements(records: Pairs) -> State:
    return "approved" if any('"verdict":"approve"' in text for _, text in records) else "new"
