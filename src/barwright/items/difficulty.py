"""Expected difficulty of an excerpt: a weighted count of what is printed, the same table for every form of a quiz.

Source: rhythm recognition grew harder mainly with the number of sounds (Virginia Tech dissertation 1988, 2,146 band
students); the other features and all weights are common practice, to be replaced by class data. A blueprint may set its
own weights in `[difficulty]`. The number says which of two excerpts is harder, not by how much.

Where classes have answered (results/difficulty.py), the weights hold more: what a kind of item, or one very excerpt,
has proved to be harder by than its features let expect. Such measured weights are named by a word and what it is of:
`fitted sounds`, `kind finish-measure 4/4 1`, `item finish-measure 4/4 q q _`.
"""

from collections.abc import Mapping
from fractions import Fraction

from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import ticks_in, ticks_of
from barwright.rhythm.meter import felt_ticks
from barwright.rhythm.text import format_excerpt

FITTED, KIND, ITEM = "fitted", "kind", "item"
"""What a measured weight is of (see above)."""
# One weight for each sound, rest, onset off the felt beats, dot, tie, and measure in a compound or additive meter.
WEIGHTS: Mapping[str, int] = {"sounds": 2, "rests": 2, "offbeats": 3, "dots": 3, "ties": 3, "unequal_meter": 4}


def features(excerpt: Excerpt) -> dict[str, int]:
    """Counts of what is printed: sounds (ties joined), rests, onsets off the felt beats, dots, ties, unequal meters.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> features(parse_excerpt("3/4 q. e rq"))
    {'sounds': 2, 'rests': 1, 'offbeats': 1, 'dots': 1, 'ties': 0, 'unequal_meter': 0}
    """
    meter = excerpt.meter
    beats = felt_ticks(meter)
    sounds = rests = offbeats = dots = ties = 0
    tied = False
    for number, measure in enumerate(excerpt.measures):
        onset = meter.ticks - ticks_in(measure, meter) if excerpt.pickup and not number else 0
        for symbol in measure:
            if symbol.kind == "note" and not tied:
                sounds += 1
                offbeats += onset not in beats
            onset += ticks_of(symbol, meter)
            tied = symbol.tied
            rests, ties = rests + symbol.silent, ties + tied
            dots += symbol.value.dots if symbol.value is not None else 0
    return {
        "sounds": sounds,
        "rests": rests,
        "offbeats": offbeats,
        "dots": dots,
        "ties": ties,
        "unequal_meter": len(excerpt.measures) * (excerpt.meter.kind != "simple"),
    }


def difficulty(excerpt: Excerpt, weights: Mapping[str, int]) -> int:
    """The weighted sum of the features, moved by what was measured; at least 1, so that forms can be compared by ratio.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> difficulty(parse_excerpt("4/4 q q h"), WEIGHTS), difficulty(parse_excerpt("4/4 q q h"), {**WEIGHTS, "4/4 1": 5})
    (6, 11)
    """
    moved = _moved(excerpt, weights) if len(weights) > len(WEIGHTS) else 0
    return weighed(features(excerpt), weights, moved)


def _moved(excerpt: Excerpt, weights: Mapping[str, int]) -> int:
    kind = weights.get(f"{excerpt.meter} {len(excerpt.measures)}", 0)
    return weights.get(format_excerpt(excerpt), kind)


def weighed(counts: Mapping[str, int], weights: Mapping[str, int], moved: int = 0) -> int:
    """The weighted sum of counted features, and what is added to it; at least 1.

    >>> weighed({"sounds": 3, "rests": 1}, WEIGHTS)
    8
    """
    return max(1, moved + sum(weights[name] * count for name, count in counts.items()))


def weights_for(ask: str, table: Mapping[str, int]) -> dict[str, int]:
    """The weights that hold for the items of an ask: the usual ones, those measured, and before all a blueprint's own.

    Beside the features stand what kinds (`4/4 1`) and excerpts of this ask are moved by.

    >>> weights_for("x", {"rests": 5, "fitted rests": 7, "fitted dots": 1, "kind x 4/4 1": 2, "kind y 4/4 1": 9})
    {'sounds': 2, 'rests': 5, 'offbeats': 3, 'dots': 1, 'ties': 3, 'unequal_meter': 4, '4/4 1': 2}
    """
    weights = {name: table.get(name, table.get(f"{FITTED} {name}", usual)) for name, usual in WEIGHTS.items()}
    for word in (f"{KIND} {ask} ", f"{ITEM} {ask} "):
        weights |= {key.removeprefix(word): value for key, value in table.items() if key.startswith(word)}
    return weights


def mean(values: list[int]) -> Fraction:
    """The exact mean; 0 of nothing."""
    return Fraction(sum(values), len(values)) if values else Fraction(0)
