"""What makes a legal measure hard to read: syncopation, which is taught on its own, and too much at once.

Syncopation comes later than the values it is made of in every sequence of teaching (district scope-and-sequence
documents: eighths in grade 5, the syncopated eighth-quarter-eighth in grade 6), so it counts as an element. The bounds
on ties and short rests are common practice in method books.
"""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise
from typing import NamedTuple

from barwright.rhythm.measure import Symbol, Symbols, ticks_of
from barwright.rhythm.meter import Meter, felt_ticks

MEASURES_KEPT = 1 << 13

MOST_TIES = 1
MOST_SHORT_RESTS = {"simple": 1, "compound": 2, "additive": 2}


@lru_cache(MEASURES_KEPT)
def syncopated(symbols: Symbols, meter: Meter) -> bool:
    """Whether a sound that starts off the felt beats is held over the start of one; ties join notes into a sound.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import parse_symbols
    >>> syncopated(parse_symbols("e q e"), parse_meter("2/4")), syncopated(parse_symbols("q. e"), parse_meter("2/4"))
    (True, False)
    """
    *beats, _ = felt_ticks(meter)
    onset, end, tied = 0, 0, False
    for symbol in symbols:
        onset = onset if tied else end
        end += ticks_of(symbol, meter)
        if symbol.kind == "note" and onset not in beats and any(onset < beat < end for beat in beats):
            return True
        tied = symbol.tied
    return False


@lru_cache(MEASURES_KEPT)
def crowded(symbols: Symbols, meter: Meter) -> bool:
    """Whether more ties, or more rests shorter than a felt beat, stand in the measure than method books print.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import parse_symbols
    >>> crowded(parse_symbols("re e e re"), parse_meter("2/4")), crowded(parse_symbols("re e q"), parse_meter("2/4"))
    (True, False)
    """
    beats = felt_ticks(meter)
    shortest = min(end - start for start, end in pairwise(beats))
    short = sum(s.kind == "rest" and s.value is not None and s.value.ticks < shortest for s in symbols)
    return short > MOST_SHORT_RESTS[meter.kind] or sum(s.tied for s in symbols) > MOST_TIES


class Load(NamedTuple):
    """What a measure so far asks of a reader: ties, short rests, and whether a sound from off the beat is held on.

    `rest`: the length of a plain rest that stands last, in ticks; else 0.
    """

    ties: int = 0
    short_rests: int = 0
    off_beat: bool = False
    rest: int = 0


NOTHING = Load()


@dataclass(frozen=True, slots=True)
class Ease:
    """The bounds above as a walk through a measure of a meter meets them; make one with `ease`.

    `joined`: onset and length, in ticks, of the rests that take the place of two (Open University 4.2: as few rests as
    possible), since the class knows them and they may be printed there.
    """

    beats: tuple[int, ...]
    shortest: int
    most_rests: int
    syncopation: bool
    joined: frozenset[tuple[int, int]] = frozenset()

    def after(self, load: Load, symbol: Symbol, onset: int, *, held: bool, length: int) -> Load | None:
        """The load after one more symbol, or None beyond the bounds; `onset` and `length` in ticks."""
        note = symbol.kind == "note"
        off_beat = note and (load.off_beat if held else onset not in self.beats[:-1])
        if off_beat and not self.syncopation:
            first = bisect_left(self.beats, onset) if held else bisect_right(self.beats, onset)
            if self.beats[first] < onset + length:
                return None
        ties = load.ties + symbol.tied
        short = symbol.kind == "rest" and symbol.value is not None and length < self.shortest
        rests = load.short_rests + short
        plain = length if symbol.kind == "rest" and symbol.value is not None and not symbol.value.dots else 0
        split = plain and load.rest == plain and (onset - plain, 2 * plain) in self.joined
        if ties > MOST_TIES or rests > self.most_rests or split:
            return None
        return Load(ties, rests, off_beat and symbol.tied, plain)


@cache
def ease(meter: Meter, *, syncopation: bool, joined: frozenset[tuple[int, int]] = frozenset()) -> Ease:
    """The bounds on a measure of the meter, for a class that was taught syncopation or was not; `joined` as in Ease."""
    beats = felt_ticks(meter)
    shortest = min(end - start for start, end in pairwise(beats))
    return Ease(beats, shortest, MOST_SHORT_RESTS[meter.kind], syncopation, joined)
