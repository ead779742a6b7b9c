"""What a teacher should know of a rhythm that is counted or drawn as written, though it is unusual."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from barwright.notation.legality import FAULTS, notation_faults
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import (
    BLANK,
    Symbols,
    total,
    with_tie,
)
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_symbols, in_parts, parse_excerpt
from barwright.showing import shown


def remarks(text: str, *, conventions: Conventions) -> tuple[str, ...]:
    """One line on a pickup, and one on each measure that the conventions would not print, with what allows it.

    >>> remarks("4/4 q | q q h", conventions=Conventions())
    ('the first measure is short (1/4 of 4/4): it is taken as a pickup; if it is none, add 3/4',)
    """
    excerpt = parse_excerpt(text)
    return (*_pickup(excerpt), *_unusual(excerpt, conventions))


def _pickup(excerpt: Excerpt) -> Iterator[str]:
    if excerpt.pickup:
        meter = excerpt.meter
        first = total(excerpt.measures[0], meter)
        have, missing = in_parts(meter, first, meter.capacity - first)
        yield f"the first measure is short ({have} of {meter}): it is taken as a pickup; if it is none, add {missing}"


def _unusual(excerpt: Excerpt, conventions: Conventions) -> Iterator[str]:
    last = len(excerpt.measures) - 1
    for number, symbols in enumerate(excerpt.measures):
        if BLANK in symbols or total(symbols, excerpt.meter) != excerpt.meter.capacity:
            continue
        if number < last:  # a tie over the barline is no matter of this measure
            symbols = (*symbols[:-1], with_tie(symbols[-1], False))
        for fault in notation_faults(symbols, excerpt.meter, conventions):
            where = f"measure {number + (not excerpt.pickup)}, {shown(format_symbols(symbols))}"
            yield f"{where}: {FAULTS[fault]}; {_allowing(fault, symbols, excerpt.meter, conventions)}"


def _allowing(fault: str, symbols: Symbols, meter: Meter, conventions: Conventions) -> str:
    """What makes the measure usual: another convention, or another rest."""
    if fault == "silent-measure-in-pieces":
        return "write rW"
    for name, values in convention_values().items():
        for value in values:
            changed: dict[str, Any] = {name: value}
            if fault not in notation_faults(symbols, meter, replace(conventions, **changed)):
                return f"-c {name}={str(value).lower() if isinstance(value, bool) else value} allows it"
    return "no convention allows it"
