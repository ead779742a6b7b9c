"""What makes a legal measure hard to read: syncopation, which is taught on its own, and too much at once.

Syncopation comes later than the values it is made of in every sequence of teaching (district scope-and-sequence
documents: eighths in grade 5, the syncopated eighth-quarter-eighth in grade 6), so it counts as an element. The bounds
on ties and short rests are common practice in method books.
"""

from fractions import Fraction
from functools import lru_cache

from barwright.rhythm.measure import Symbols, events
from barwright.rhythm.meter import Meter

MOST_TIES = 1
MOST_SHORT_RESTS = {"simple": 1, "compound": 2, "additive": 2}


@lru_cache(maxsize=1 << 13)
def syncopated(symbols: Symbols, meter: Meter) -> bool:
    """Whether a sound that starts off the felt beats is held over the start of one; ties join notes into a sound.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import parse_symbols
    >>> syncopated(parse_symbols("e q e"), parse_meter("2/4")), syncopated(parse_symbols("q. e"), parse_meter("2/4"))
    (True, False)
    """
    beats, onset, tied = meter.felt_onsets, Fraction(0), False
    for event in events(symbols, meter):
        onset = onset if tied else event.onset
        end = event.onset + event.length
        if event.symbol.kind == "note" and onset not in beats and any(onset < beat < end for beat in beats):
            return True
        tied = event.symbol.tied
    return False


@lru_cache(maxsize=1 << 13)
def crowded(symbols: Symbols, meter: Meter) -> bool:
    """Whether more ties, or more rests shorter than a felt beat, stand in the measure than method books print.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import parse_symbols
    >>> crowded(parse_symbols("re e e re"), parse_meter("2/4")), crowded(parse_symbols("re e q"), parse_meter("2/4"))
    (True, False)
    """
    short = sum(s.kind == "rest" and s.value is not None and s.value.length < min(meter.felt_beats) for s in symbols)
    return short > MOST_SHORT_RESTS[meter.kind] or sum(s.tied for s in symbols) > MOST_TIES
