"""Expected difficulty of an excerpt: a weighted count of what is printed, the same table for every form of a quiz.

Source: rhythm recognition grew harder mainly with the number of sounds (Virginia Tech dissertation 1988, 2,146 band
students); the other features and all weights are common practice, to be replaced by class data. A blueprint may set its
own weights in `[difficulty]`. The number says which of two excerpts is harder, not by how much.
"""

from collections.abc import Mapping
from fractions import Fraction

from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import ticks_in, ticks_of
from barwright.rhythm.meter import felt_ticks

# One weight for each sound, rest, onset off the felt beats, dot, tie, and measure in a compound or additive meter.
WEIGHTS: Mapping[str, int] = {"sounds": 2, "rests": 2, "offbeats": 3, "dots": 3, "ties": 3, "unequal_meter": 4}


def features(excerpt: Excerpt) -> dict[str, int]:
    """Counts of what is printed: sounds (ties joined), rests, onsets off the felt beats, dots, ties, unequal meters.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> features(parse_excerpt("3/4 q. e rq"))
    {'sounds': 2, 'rests': 1, 'offbeats': 1, 'dots': 1, 'ties': 0, 'unequal_meter': 0}
    """
    meter, symbols = excerpt.meter, excerpt.symbols
    beats = felt_ticks(meter)
    sounds = offbeats = 0
    tied = False
    for number, measure in enumerate(excerpt.measures):
        onset = meter.ticks - ticks_in(measure, meter) if excerpt.pickup and not number else 0
        for symbol in measure:
            if symbol.kind == "note" and not tied:
                sounds += 1
                offbeats += onset not in beats
            onset += ticks_of(symbol, meter)
            tied = symbol.tied
    return {
        "sounds": sounds,
        "rests": sum(s.silent for s in symbols),
        "offbeats": offbeats,
        "dots": sum(s.value.dots for s in symbols if s.value is not None),
        "ties": sum(s.tied for s in symbols),
        "unequal_meter": len(excerpt.measures) * (excerpt.meter.kind != "simple"),
    }


def difficulty(excerpt: Excerpt, weights: Mapping[str, int]) -> int:
    """The weighted sum of the features; at least 1, so that forms can be compared by ratio."""
    return weighed(features(excerpt), weights)


def weighed(counts: Mapping[str, int], weights: Mapping[str, int]) -> int:
    """The weighted sum of counted features; at least 1.

    >>> weighed({"sounds": 3, "rests": 1}, WEIGHTS)
    8
    """
    return max(1, sum(weights[name] * count for name, count in counts.items()))


def mean(values: list[int]) -> Fraction:
    """The exact mean; 0 of nothing."""
    return Fraction(sum(values), len(values)) if values else Fraction(0)
