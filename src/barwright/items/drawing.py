"""Drawing and listing of the full measures that every ask starts from."""

from collections.abc import Iterator
from functools import cache
from itertools import product
from random import Random

from barwright.items.asks import Space
from barwright.rhythm.capacity import all_measures, drawn_measure
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_symbol


def drawn_excerpt(space: Space, rng: Random) -> Excerpt:
    """Legal full measures: the meter is drawn first, so that a quiz mixes them, then each measure uniformly."""
    meter = space.meters[rng.randrange(len(space.meters))]
    return Excerpt(
        meter, tuple(drawn_measure(space.alphabet, meter, space.conventions, rng=rng) for _ in range(space.measures))
    )


def listed_excerpts(space: Space) -> Iterator[Excerpt]:
    """Every excerpt of legal full measures, meter by meter."""
    for meter in space.meters:
        single = tuple(all_measures(space.alphabet, meter, space.conventions))
        for measures in product(single, repeat=space.measures):
            yield Excerpt(meter, measures)


@cache
def fillers(tokens: frozenset[str], width: int) -> tuple[Symbols, ...]:
    """Every group of `width` taught symbols that can be offered for a blank, sorted by token.

    Triplet members are never offered singly; the whole-rest sign only alone.
    """
    single = [t for t in sorted(tokens) if not t.endswith("t")]
    groups = product(single, repeat=width)
    return tuple(tuple(map(parse_symbol, g)) for g in groups if width == 1 or "rW" not in g)


def in_meter(excerpt: Excerpt, meter: Meter) -> Excerpt:
    """The same printed measures under another time signature."""
    return Excerpt(meter, excerpt.measures, excerpt.pickup)
