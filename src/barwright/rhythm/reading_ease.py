"""What makes a legal measure hard to read: syncopation, which is taught on its own, and too much at once.

Syncopation comes later than the values it is made of in every sequence of teaching (district scope-and-sequence
documents: eighths in grade 5, the syncopated eighth-quarter-eighth in grade 6), so it counts as an element. The bounds
on ties and short rests are common practice in method books.
"""

from functools import lru_cache
from itertools import pairwise

from barwright.rhythm.measure import Symbols, ticks_of
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
