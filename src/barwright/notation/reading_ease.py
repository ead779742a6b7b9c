"""What makes a legal measure hard to read: syncopation, which is taught on its own, and too much at once.

Syncopation comes later than the values it is made of in every sequence of teaching (district scope-and-sequence
documents: eighths in grade 5, the syncopated eighth-quarter-eighth in grade 6), so it counts as an element; the same
figure at half the size (sixteenth, eighth, sixteenth) goes with it. The bounds on ties and short rests are common
practice in method books.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from barwright.rhythm.measure import Symbol, Symbols, ticks_of
from barwright.rhythm.meter import Meter, felt_ticks, place_ranks
from barwright.rhythm.values import TICKS

SIXTEENTH = TICKS // 16
MOST_TIES = 1
MOST_SHORT_RESTS = {"simple": 1, "compound": 2, "additive": 2}


def syncopated(symbols: Symbols, meter: Meter) -> bool:
    """Whether a sound is held over a place that is stronger than the one where it starts; ties join notes into a sound.

    So is a sound from off the beat that a tie at the end holds over the barline.

    Stronger is a felt beat than what lies between, and a half or third of a beat than what lies between those. A
    triplet of several beats is no syncopation, though it hides them.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import parse_symbols
    >>> [syncopated(parse_symbols(text), parse_meter("2/4")) for text in ("e q e", "s e s q")]
    [True, True]
    >>> [syncopated(parse_symbols(text), parse_meter("2/4")) for text in ("q. e", "e. s q", "qt qt qt")]
    [False, False, False]
    """
    ranks, beat = place_ranks(meter), _shortest_beat(meter)
    onset, rank, tied = 0, 0, False
    for symbol in symbols:
        length = ticks_of(symbol, meter)
        rank = rank if tied else 0 if _is_long_triplet(symbol, beat) else _rank(ranks, symbol, onset)
        if symbol.kind == "note" and _hides_stronger(ranks, rank, onset, length, held=tied):
            return True
        onset, tied = onset + length, symbol.tied
    return tied and rank > 0


def _rank(ranks: tuple[int, ...], symbol: Symbol, onset: int) -> int:
    """How strong the place is where a symbol starts; what lies between the beats is all alike for a triplet."""
    if onset % SIXTEENTH:
        return 1
    rank = ranks[onset // SIXTEENTH]
    return min(rank, 1) if _in_triplet(symbol) else rank


def _in_triplet(symbol: Symbol) -> bool:
    return symbol.value is not None and symbol.value.triplet


def _is_long_triplet(symbol: Symbol, beat: int) -> bool:
    """Whether it is of a triplet that lasts several beats, which is taught as a figure of its own."""
    return symbol.value is not None and symbol.value.triplet and 3 * symbol.value.ticks > beat


def _hides_stronger(ranks: tuple[int, ...], rank: int, onset: int, length: int, *, held: bool) -> bool:
    """Whether a note covers a place stronger than `rank`; where it is held from before, it may itself start on one."""
    first = onset // SIXTEENTH + (not held)
    return rank > 0 and min(ranks[first : (onset + length - 1) // SIXTEENTH + 1], default=rank) < rank


def crowded(symbols: Symbols, meter: Meter) -> bool:
    """Whether more ties, or more rests shorter than a felt beat, stand in the measure than method books print.

    Or a tie to or from a triplet: the sound would last a length that no class counts.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import parse_symbols
    >>> crowded(parse_symbols("re e e re"), parse_meter("2/4")), crowded(parse_symbols("re e q"), parse_meter("2/4"))
    (True, False)
    >>> crowded(parse_symbols("q~ et et et"), parse_meter("2/4"))
    True
    """
    if any(before.tied and (_in_triplet(before) or _in_triplet(after)) for before, after in pairwise(symbols)):
        return True
    shortest = _shortest_beat(meter)
    short = sum(s.kind == "rest" and s.value is not None and s.value.ticks < shortest for s in symbols)
    return short > MOST_SHORT_RESTS[meter.kind] or sum(s.tied for s in symbols) > MOST_TIES


def _shortest_beat(meter: Meter) -> int:
    return min(end - start for start, end in pairwise(felt_ticks(meter)))


class Load(NamedTuple):
    """What a measure so far asks of a reader: ties and short rests.

    `rank`: how strong the place is where a sound that is tied on started (`place_ranks`); else 0. `split`: whether that
    is a triplet. `rest`: the length of a plain rest that stands last, in ticks; else 0.
    """

    ties: int = 0
    short_rests: int = 0
    rank: int = 0
    split: bool = False
    rest: int = 0


NOTHING = Load()


@dataclass(frozen=True, slots=True)
class Ease:
    """The bounds above as a walk through a measure of a meter meets them; make one with `ease`.

    `joined`: onset and length, in ticks, of the rests that take the place of two (Open University 4.2: as few rests as
    possible), since the class knows them and they may be printed there.
    """

    ranks: tuple[int, ...]
    shortest: int
    most_rests: int
    syncopation: bool
    joined: frozenset[tuple[int, int]] = frozenset()

    def after(self, load: Load, symbol: Symbol, onset: int, *, held: bool, length: int) -> Load | None:
        """The load after one more symbol, or None beyond the bounds; `onset` and `length` in ticks."""
        long = _is_long_triplet(symbol, self.shortest)
        rank = load.rank if held else 0 if long else _rank(self.ranks, symbol, onset)
        note, triplet = symbol.kind == "note", _in_triplet(symbol)
        if note and not self.syncopation and _hides_stronger(self.ranks, rank, onset, length, held=held):
            return None
        ties = load.ties + symbol.tied
        short = symbol.kind == "rest" and symbol.value is not None and length < self.shortest
        rests = load.short_rests + short
        plain = length if symbol.kind == "rest" and symbol.value is not None and not symbol.value.dots else 0
        split = plain and load.rest == plain and (onset - plain, 2 * plain) in self.joined
        if ties > MOST_TIES or rests > self.most_rests or split or (held and (load.split or triplet)):
            return None
        return Load(ties, rests, rank if symbol.tied else 0, symbol.tied and triplet, plain)


def ease(meter: Meter, *, syncopation: bool, joined: frozenset[tuple[int, int]] = frozenset()) -> Ease:
    """The bounds on a measure of the meter, for a class that was taught syncopation or was not; `joined` as in Ease."""
    return Ease(place_ranks(meter), _shortest_beat(meter), MOST_SHORT_RESTS[meter.kind], syncopation, joined)
