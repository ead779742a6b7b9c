"""Beams over the notes that share them: which notes, and the bars that join their stems."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from barwright.engrave.placed import Placed
from barwright.engrave.smufl import Box
from barwright.engrave.symbols import STEM_TOP, STEM_WIDTH
from barwright.rhythm.beaming import beam_groups
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import Event, Symbols, total
from barwright.rhythm.meter import Meter

# Bravura's engravingDefaults (SMuFL 1.4), in staff spaces.
BEAM = 0.5
BEAM_STEP = 0.75  # beam and the gap below it
STUB = 1.1  # a partial beam is about as long as a notehead is wide (E. Gould 2011)

Group = tuple[int, ...]


def groups(
    symbols: Symbols, meter: Meter, conventions: Conventions, *, start: Fraction, end: Fraction
) -> tuple[Group, ...]:
    """Indices that share a beam. What stands after a blank is placed from the `end` of the measure.

    So the beams are those of the whole measure as far as they do not touch the blank, and tell nothing of its length.
    """
    blanks = [n for n, symbol in enumerate(symbols) if symbol.kind == "blank"]
    if not blanks:
        return beam_groups(symbols, meter, conventions, start=start)
    found: list[Group] = []
    edges = [-1, *blanks, len(symbols)]
    for left, right in pairwise(edges):
        part = symbols[left + 1 : right]
        if part:
            onset = max(Fraction(0), end - total(part, meter)) if left >= 0 else start
            found += [
                tuple(n + left + 1 for n in group) for group in beam_groups(part, meter, conventions, start=onset)
            ]
    return tuple(found)


def beams(events: Sequence[Event], stems: Sequence[float]) -> Iterator[Placed]:
    """The beams of one group: its notes, and the right edges of their stems in staff spaces."""
    yield _beam(stems[0] - STEM_WIDTH, stems[-1], level=0)
    last = len(events) - 1
    short = [e.symbol.value is not None and e.symbol.value.flags > 1 for e in events]
    n = 0
    while n <= last:
        first = n
        while n <= last and short[n]:
            n += 1
        if n - first > 1:
            yield _beam(stems[first] - STEM_WIDTH, stems[n - 1], level=1)
        elif n > first:
            yield _stub(events, stems, first)
        n += n == first


def _stub(events: Sequence[Event], stems: Sequence[float], n: int) -> Placed:
    """A partial beam towards the notes that fill the eighth with this one: right from the start of an eighth."""
    forward = n == 0 or (n < len(events) - 1 and (events[n].onset % Fraction(1, 8)) == 0)
    left = stems[n] - STEM_WIDTH if forward else stems[n] - STUB
    return _beam(left, left + STUB, level=1)


def _beam(x0: float, x1: float, *, level: int) -> Placed:
    top = STEM_TOP - level * BEAM_STEP
    return Placed("beam", "bar", Box(x0, top - BEAM, x1, top))
