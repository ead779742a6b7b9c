"""Which symbols of a measure make up a triplet together."""

from fractions import Fraction
from functools import cache

from barwright.rhythm.measure import Symbols
from barwright.rhythm.values import NAMES


@cache
def triplet_groups(symbols: Symbols) -> tuple[tuple[int, ...], ...]:
    """Indices of the members of each triplet: neighbours that together last a plain value, as few as do.

    What is left over at the end (a triplet that is not complete) is a group too. Source: three in the time of two,
    G. Read, Music Notation (2nd ed. 1979).

    >>> from barwright.rhythm.text import parse_symbols
    >>> triplet_groups(parse_symbols("et et et q qt et"))
    ((0, 1, 2), (4, 5))
    """
    found: list[tuple[int, ...]] = []
    group: list[int] = []
    lasts = Fraction(0)
    for index, symbol in enumerate(symbols):
        member = symbol.value is not None and symbol.value.triplet
        if group and (not member or (len(group) > 1 and lasts in NAMES)):
            found.append(tuple(group))
            group, lasts = [], Fraction(0)
        if symbol.value is not None and member:
            group.append(index)
            lasts += symbol.value.length
    return (*found, tuple(group)) if group else tuple(found)
