"""The metrical frame of a measure: where its felt beats begin, how they divide, and what must stay visible in print.

Rules of notation compare places all the time, so this module and `legality` count in ticks: whole numbers, exact
for every note value (`values.TICKS`).
"""

from bisect import bisect_right
from dataclasses import dataclass
from functools import cache
from itertools import accumulate

from barwright.rhythm.conventions import Conventions, HalfRest
from barwright.rhythm.grouping import groupings
from barwright.rhythm.measure import Symbol
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import TICKS, ticks

HALF, QUARTER, EIGHTH, SIXTEENTH = TICKS // 2, TICKS // 4, TICKS // 8, TICKS // 16
DOTTED_QUARTER = 3 * EIGHTH


@dataclass(frozen=True, slots=True)
class FrameSign:
    """What the rules need to know of a printed symbol; `length`, `plain` in ticks, both 0 for a full-measure rest."""

    silent: bool
    length: int = 0
    plain: int = 0
    dots: int = 0
    triplet: bool = False
    tied: bool = False

    @property
    def full_measure(self) -> bool:
        """Whether it is the full-measure rest."""
        return self.silent and not self.length


FULL_MEASURE = FrameSign(silent=True)


@cache
def sign_of(symbol: Symbol) -> FrameSign:
    """The sign of a note or rest; a blank has none and must be sorted out before."""
    if symbol.value is None:
        return FULL_MEASURE
    value = symbol.value
    return FrameSign(symbol.silent, value.ticks, ticks(value.plain), value.dots, value.triplet, symbol.tied)


@dataclass(frozen=True, slots=True)
class PrintRules:
    """The conventions that decide what may be printed; see `Conventions` for each."""

    half_rest_in_3_4: HalfRest
    dotted_rests: str
    compound_tail_rest: str
    strict_middle: bool


def print_rules(conventions: Conventions) -> PrintRules:
    """The part of the conventions that legality depends on."""
    return PrintRules(
        conventions.half_rest_in_3_4,
        conventions.dotted_rests,
        conventions.compound_tail_rest,
        conventions.strict_middle,
    )


@dataclass(frozen=True, slots=True)
class Frame:
    """Places in ticks from the start of the measure; `beats` and `segments` end with the end of the measure.

    `division` says into how many parts each felt beat divides. `segments` are the larger groups that a rest of several
    beats must keep to (the halves of 4/4); with `closed` no note may hide them either (additive meters). `middle`
    is the place that no sound may hide in a quadruple meter, else 0; `triplets` says whether they are in use.
    """

    rules: PrintRules
    capacity: int
    beats: tuple[int, ...]
    division: tuple[int, ...]
    segments: tuple[int, ...]
    closed: bool
    middle: int
    triplets: bool

    def beat(self, onset: int) -> tuple[int, int, int]:
        """Start, length and division of the felt beat that a place inside the measure lies in."""
        index = bisect_right(self.beats, onset) - 1
        return self.beats[index], self.beats[index + 1] - self.beats[index], self.division[index]

    def segment(self, onset: int) -> tuple[int, int]:
        """Start and end of the segment that a place inside the measure lies in."""
        index = bisect_right(self.segments, onset) - 1
        return self.segments[index], self.segments[index + 1]


@cache
def frames(meter: Meter, rules: PrintRules) -> tuple[Frame, ...]:
    """One frame a grouping that the meter can stand for, the usual grouping first.

    3/8 is one beat of three eighths in print, whatever its count (Open University 3.6: one beam).
    """
    return tuple(_frame(meter, groups, rules) for groups in groupings(meter))


def _frame(meter: Meter, groups: tuple[int, ...], rules: PrintRules) -> Frame:
    unit = ticks(meter.unit)
    additive = meter.kind == "additive"
    beats: tuple[int, ...] = (unit,) * meter.top
    if meter.kind == "compound" or (meter.top, meter.bottom) == (3, 8):
        beats = (DOTTED_QUARTER,) * (meter.top // 3)
    elif additive and meter.bottom == 8:
        beats = tuple(g * unit for g in groups)
    segments = groups if additive else _segments(meter)
    return Frame(
        rules,
        meter.ticks,
        tuple(accumulate(beats, initial=0)),
        tuple(3 if b == DOTTED_QUARTER else 2 for b in beats),
        tuple(s * unit for s in accumulate(segments, initial=0)),
        closed=additive,
        middle=meter.ticks // 2 if meter.kind == "simple" and meter.top == 4 else 0,
        triplets=meter.bottom in (2, 4),
    )


def _segments(meter: Meter) -> tuple[int, ...]:
    """Larger groups in bottom-number units: halves in quadruple meters, threes in multiples of three."""
    if meter.kind == "compound":
        return (6, 6) if meter.top == 12 else (meter.top,)
    for size, multiples in ((2, (4,)), (3, (6, 9, 12)), (4, (8,))):
        if meter.top in multiples:
            return (size,) * (meter.top // size)
    return (meter.top,)
