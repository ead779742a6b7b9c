"""The groups of additive meters: as written (2+3/8), or as the rhythm itself shows them (5/8, 7/8)."""

from collections.abc import Iterable
from fractions import Fraction
from itertools import accumulate

from barwright.rhythm.measure import Symbols, events
from barwright.rhythm.meter import ADDITIVE_GROUPS, Meter


def groupings(meter: Meter) -> tuple[tuple[int, ...], ...]:
    """Every grouping a meter can stand for, in bottom-number units, the usual one first; the written one alone if any.

    A meter that is not additive has one grouping: the whole measure.

    >>> from barwright.rhythm.meter import parse_meter
    >>> groupings(parse_meter("5/8")), groupings(parse_meter("2+3/8"))
    (((3, 2), (2, 3)), ((2, 3),))
    """
    if meter.kind != "additive":
        return ((meter.top,),)
    return (meter.groups,) if meter.groups else ADDITIVE_GROUPS[meter.top]


def group_onsets(groups: tuple[int, ...], meter: Meter) -> tuple[Fraction, ...]:
    """Where the groups begin, in whole notes, the end of the measure last."""
    return tuple(n * meter.unit for n in accumulate(groups, initial=0))


def hides_group(onset: Fraction, end: Fraction, bounds: Iterable[Fraction]) -> bool:
    """Whether a symbol from `onset` to `end` covers the start of a group without filling whole groups.

    Common practice: in 7/8 as 2+2+3 a half note on the first group fills two groups and hides nothing.
    """
    bounds = tuple(bounds)
    return any(onset < b < end for b in bounds) and not (onset in bounds and end in bounds)


def shown_groups(symbols: Symbols, meter: Meter, *, start: Fraction = Fraction(0)) -> tuple[int, ...]:
    """The grouping a measure shows, in bottom-number units: the first one whose groups no symbol hides, else the usual.

    Source: 5/8 is 3+2 or 2+3, 7/8 is 2+2+3, 2+3+2 or 3+2+2 (G. Read 1979); long first in five and short first in
    seven where the rhythm fits several (common practice).

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import parse_symbols
    >>> shown_groups(parse_symbols("q q."), parse_meter("5/8"))
    (2, 3)
    """
    choices = groupings(meter)
    if len(choices) == 1:
        return choices[0]
    spans = [(e.onset, e.onset + e.length) for e in events(symbols, meter, start=start) if e.symbol.value is not None]
    for groups in choices:
        bounds = group_onsets(groups, meter)
        if not any(hides_group(onset, end, bounds) for onset, end in spans):
            return groups
    return choices[0]
