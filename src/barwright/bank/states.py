"""Whether an item may be used: what its reviews come to."""

from typing import Literal

from barwright.bank.grammar import Pairs

State = Literal["new", "approved", "retired"]
STATES: tuple[State, ...] = ("new", "approved", "retired")


def state_of(records: Pairs) -> State:
    """Whether an item is new, approved or retired; whoever retired it and whenever, retired stays retired.

    The order of records does not matter, so that banks can be merged in any order. They are canonical JSON, in which no
    text can hold a bare quotation mark, so they need not be opened.

    >>> state_of((("", '{"kind":"review","verdict":"retire"}'), ("", '{"kind":"review","verdict":"approve"}')))
    'retired'
    """
    state: State = "new"
    for _, text in records:
        if '"verdict":"' in text:
            if '"verdict":"retire"' in text:
                return "retired"
            if '"verdict":"approve"' in text:
                state = "approved"
    return state
