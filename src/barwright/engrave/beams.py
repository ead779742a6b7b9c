"""Beams over the notes that share them: which notes, and the bars that join their stems."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from barwright.engrave.placed import Placed
from barwright.engrave.smufl import Box
from barwright.engrave.symbols import STEM_TOP, STEM_WIDTH
from barwright.notation.beaming import beam_groups
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import (
    Event,
    Symbol,
    Symbols,
    events,
    total,
)
from barwright.rhythm.meter import Meter

# Bravura's engravingDefaults (SMuFL 1.4), in staff spaces.
BEAM = 0.5
BEAM_STEP = 0.75  # beam and the gap below it
STUB = 1.1  # a partial beam is about as long as a notehead is wide (E. Gould 2011)

Group = tuple[int, ...]


class Bar(NamedTuple):
    """One bar from a note's stem to another's: the indices of both, and its level, 0 for the beam of eighths.

    A partial beam joins nothing: both are its note, and `towards` is 1 if it goes to the right, else -1.
    """

    first: int
    last: int
    level: int = 0
    towards: int = 0


def _flags(symbol: Symbol) -> int:
    return symbol.value.flags if symbol.kind == "note" and symbol.value is not None else 0


def beamed(
    symbols: Symbols, meter: Meter, conventions: Conventions, *, start: Fraction, end: Fraction
) -> tuple[Bar, ...]:
    """Every bar of a measure, group by group, each group's widest first; `start` and `end` as for `groups`."""
    flags = list(map(_flags, symbols))
    if len(flags) - flags.count(0) < 2:  # nothing to join, which is quickly seen
        return ()
    beams = groups(symbols, meter, conventions, start=start, end=end)
    if max(flags) == 1:
        return tuple([Bar(group[0], group[-1]) for group in beams])
    made = events(symbols, meter, start=start)
    return tuple([bar for group in beams for bar in _bars([made[n] for n in group])])


def groups(
    symbols: Symbols, meter: Meter, conventions: Conventions, *, start: Fraction, end: Fraction
) -> tuple[Group, ...]:
    """Indices that share a beam. What stands after a blank is placed from the `end` of the measure.

    So the beams are those of the whole measure as far as they do not touch the blank, and tell nothing of its length.
    """
    blanks = [n for n, symbol in enumerate(symbols) if symbol.kind == "blank"]
    if not blanks:
        return beam_groups(symbols, meter, conventions, start=start)
    beams: list[Group] = []
    edges = [-1, *blanks, len(symbols)]
    for left, right in pairwise(edges):
        part = symbols[left + 1 : right]
        if part:
            onset = max(Fraction(0), end - total(part, meter)) if left >= 0 else start
            beams += [
                tuple(n + left + 1 for n in group) for group in beam_groups(part, meter, conventions, start=onset)
            ]
    return tuple(beams)


def _bars(group: Sequence[Event]) -> Iterator[Bar]:
    """The bars of one group of notes."""
    yield Bar(group[0].index, group[-1].index)
    last = len(group) - 1
    short = [_flags(e.symbol) > 1 for e in group]
    n = 0
    while n <= last:
        first = n
        while n <= last and short[n]:
            n += 1
        if n - first > 1:
            yield Bar(group[first].index, group[n - 1].index, 1)
        elif n > first:
            yield _stub(group, first)
        n += n == first


def _stub(group: Sequence[Event], n: int) -> Bar:
    """A partial beam towards the notes that fill the eighth with this one: right from the start of an eighth."""
    forward = n == 0 or (n < len(group) - 1 and (group[n].onset % Fraction(1, 8)) == 0)
    return Bar(group[n].index, group[n].index, 1, 1 if forward else -1)


def beam(bar: Bar, stems: Sequence[float]) -> Placed:
    """A bar of a measure whose notes have the right edges of their `stems` here, in staff spaces."""
    top = STEM_TOP - bar.level * BEAM_STEP
    if bar.towards:
        left = stems[bar.first] - (STEM_WIDTH if bar.towards > 0 else STUB)
        return Placed("beam", "bar", Box(left, top - BEAM, left + STUB, top))
    return Placed("beam", "bar", Box(stems[bar.first] - STEM_WIDTH, top - BEAM, stems[bar.last], top))
