"""Meters as written: 3/4 and 6/8 stay apart, an additive meter keeps its groups.

"Beat" has several meanings in music and in libraries; here every name says which:
`unit` is the note value of the bottom number, a *felt beat* is what the foot taps
(the bottom value in simple meters, the dotted quarter in 6/8, 9/8, 12/8, a group in additive meters).
Source: Open University, An introduction to music theory, 3.6, 3.9 (simple, compound); G. Read 1979 (additive).
"""

import re
from dataclasses import dataclass, field, fields
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import Literal

from barwright.errors import RhythmError
from barwright.rhythm.values import TICKS, as_made
from barwright.showing import shown

BOTTOMS = (2, 4, 8)
COMPOUND_TOPS = (6, 9, 12)
# Groups of an additive meter written with one top number; first the usual one (common practice: long first in five,
# short first in seven). Asymmetrical meters: trade tables of 3+2 or 2+3, and 2+2+3, 2+3+2, 3+2+2.
ADDITIVE_GROUPS = {5: ((3, 2), (2, 3)), 7: ((2, 2, 3), (2, 3, 2), (3, 2, 2))}

Kind = Literal["simple", "compound", "additive"]

_TEXT = re.compile(r"(\d+(?:\+\d+)*)/(\d+)")


_KNOWN: dict[tuple[int, int, tuple[int, ...]], "Meter"] = {}  # there are few, and no refused ones


@dataclass(frozen=True, slots=True, eq=False, init=False)
class Meter:
    """A time signature as written: top number, bottom number, and groups if it is written as a sum.

    `capacity` is what a full measure holds and `unit` the bottom number's note value, both in whole notes; `ticks` is
    the capacity in ticks (`values.TICKS`). `kind`: 3/8 counts as simple here (three eighth beats); the convention
    `three_eight` may feel it in one. Equal meters are one object (like equal symbols, see `measure.Symbol`).

    >>> parse_meter("3/4").capacity == parse_meter("6/8").capacity
    True
    >>> parse_meter("3/4") == parse_meter("6/8")
    False
    """

    top: int
    bottom: int
    groups: tuple[int, ...]
    capacity: Fraction = field(init=False, repr=False, compare=False)
    unit: Fraction = field(init=False, repr=False, compare=False)
    ticks: int = field(init=False, repr=False, compare=False)
    kind: Kind = field(init=False, repr=False, compare=False)

    def __new__(cls, top: int, bottom: int, groups: tuple[int, ...] = ()) -> "Meter":
        known = _KNOWN.get((top, bottom, groups))
        if known is not None:
            return known
        if bottom not in BOTTOMS:
            raise RhythmError(f"time signature {top}/{bottom}: the bottom number must be 2, 4 or 8")
        if not 1 <= top <= 12:
            raise RhythmError(f"time signature {top}/{bottom}: the top number must be 1 to 12")
        if groups and (sum(groups) != top or any(g not in (2, 3, 4) for g in groups)):
            written = f"{'+'.join(map(str, groups))}/{bottom}"
            raise RhythmError(f"time signature {written}: groups of 2, 3 or 4 that add up to {top} are needed")
        made = object.__new__(cls)
        capacity, ticks = Fraction(top, bottom), top * TICKS // bottom
        parts = (top, bottom, groups, capacity, Fraction(1, bottom), ticks, _kind(top, bottom, groups))
        for part, value in zip(fields(cls), parts, strict=True):
            object.__setattr__(made, part.name, value)
        return _KNOWN.setdefault((top, bottom, groups), made)

    __reduce__ = as_made

    def __str__(self) -> str:
        top = "+".join(map(str, self.groups)) if self.groups else str(self.top)
        return f"{top}/{self.bottom}"

    @property
    def felt_beats(self) -> tuple[Fraction, ...]:
        """Lengths of the felt beats in order, in whole notes.

        >>> [str(b) for b in parse_meter("6/8").felt_beats]
        ['3/8', '3/8']
        """
        if self.kind == "compound":
            return (Fraction(3, 8),) * (self.top // 3)
        if self.kind == "additive":
            return tuple(g * self.unit for g in self.groups or ADDITIVE_GROUPS[self.top][0])
        return (self.unit,) * self.top


def _kind(top: int, bottom: int, groups: tuple[int, ...]) -> Kind:
    if groups or (bottom == 8 and top in ADDITIVE_GROUPS):
        return "additive"
    return "compound" if bottom == 8 and top in COMPOUND_TOPS else "simple"


@lru_cache(256)
def felt_ticks(meter: Meter) -> tuple[int, ...]:
    """Onsets of the felt beats in ticks from the start of the measure, the end of the measure last.

    >>> felt_ticks(parse_meter("6/8"))
    (0, 576, 1152)
    """
    return tuple(accumulate((int(beat * TICKS) for beat in meter.felt_beats), initial=0))


def place_ranks(meter: Meter) -> tuple[int, ...]:
    """How strong the places of a measure are, sixteenth by sixteenth, its end last: 0 is strongest.

    0 are the felt beats, 1 their halves or thirds (in additive meters the bottom number's notes), 2 the halves of
    these, and so on.

    >>> place_ranks(parse_meter("2/4")), place_ranks(parse_meter("3/8"))
    ((0, 2, 1, 2, 0, 2, 1, 2, 0), (0, 1, 0, 1, 0, 1, 0))
    """
    ranks: list[int] = []
    for start, end in pairwise(felt_ticks(meter)):
        thirds, units = (end - start) // 3, TICKS // meter.bottom
        first = thirds if meter.kind == "compound" else units if meter.kind == "additive" else (end - start) // 2
        ranks += [_rank(place, first) for place in range(0, end - start, TICKS // 16)]
    return (*ranks, 0)


def _rank(place: int, division: int) -> int:
    """The rank of a place in a beat, in ticks from its start, which divides first into parts of this length."""
    rank = min(place, 1)
    while place % division:
        division //= 2
        rank += 1
    return rank


def parse_meter(text: str) -> Meter:
    """The meter of `3/4`, `6/8`, `2+3/8`; raises RhythmError for anything else.

    >>> str(parse_meter("2+2+3/8"))
    '2+2+3/8'
    """
    match = _TEXT.fullmatch(text.strip())
    if match is None:
        raise RhythmError(f"time signature {shown(text)} cannot be read: write it as 3/4, 6/8 or 2+3/8")
    tops = [int(t) for t in match[1].split("+")]
    return Meter(sum(tops), int(match[2]), tuple(tops) if len(tops) > 1 else ())


# Meters that some rule names.
THREE_EIGHT, TWO_TWO = Meter(3, 8), Meter(2, 2)
