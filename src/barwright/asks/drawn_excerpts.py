"""Drawing and listing of the full measures that every ask starts from."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache, lru_cache
from itertools import islice, product
from random import Random

from barwright.asks.ask import Space
from barwright.errors import CapacityError
from barwright.notation.legal_measures import (
    all_measures,
    drawn_measure,
    is_within,
    measure_count,
)
from barwright.notation.reading_ease import crowded, syncopated
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_symbol

MOST_EXCERPTS = 8_000  # that are listed of one space


@lru_cache(maxsize=1 << 13)
def well_written(symbols: Symbols, meter: Meter, space: Space) -> bool:
    """Whether a legal measure is one that this space draws."""
    return is_within(symbols, space.alphabet, meter, space.conventions, space.limits)


@lru_cache(maxsize=1 << 13)
def readable(symbols: Symbols, meter: Meter, space: Space) -> bool:
    """Whether a legal measure can be set before this class: no syncopation unless taught, and not too much at once."""
    return not crowded(symbols, meter) and (space.taught.syncopation or not syncopated(symbols, meter))


def readable_count(space: Space, meter: Meter) -> int:
    """How many legal, readable measures there are."""
    return measure_count(space.alphabet, meter, space.conventions, limits=space.limits)


def readable_measure(space: Space, meter: Meter, rng: Random) -> Symbols:
    """A legal, readable measure, each with the same chance; RhythmError if there is none."""
    return drawn_measure(space.alphabet, meter, space.conventions, rng=rng, limits=space.limits)


def listed_measures(space: Space, meter: Meter) -> Iterator[Symbols]:
    """Every legal, readable measure."""
    return all_measures(space.alphabet, meter, space.conventions, limits=space.limits)


def can_sound(space: Space, meter: Meter) -> bool:
    """Whether there is a legal, readable measure with a note in it."""
    limits = replace(space.limits, sounding=True)
    return measure_count(space.alphabet, meter, space.conventions, limits=limits) > 0


@lru_cache(maxsize=256)
def fillable_meters(space: Space) -> tuple[Meter, ...]:
    """The meters of which there is a measure to show; CapacityError if there is none."""
    found = tuple(meter for meter in space.meters if can_sound(space, meter))
    if not found:
        raise CapacityError(
            f"no measure of {', '.join(map(str, space.meters))} can be made of {' '.join(space.alphabet.tokens)}: "
            "teach other values, or syncopation"
        )
    return found


def drawn_excerpt(space: Space, rng: Random) -> Excerpt:
    """Legal full measures, not all silent: the meter is drawn first, so that a quiz mixes them, then each measure."""
    meters = fillable_meters(space)
    while True:
        meter = meters[rng.randrange(len(meters))]
        excerpt = Excerpt(meter, tuple(readable_measure(space, meter, rng) for _ in range(space.measures)))
        if not all(s.silent for s in excerpt.symbols):
            return excerpt


@lru_cache(maxsize=256)
def has_few_excerpts(space: Space) -> bool:
    """Whether `listed_excerpts` gives every excerpt of a space."""
    counts: list[int] = [readable_count(space, meter) ** space.measures for meter in space.meters]
    return sum(counts) <= MOST_EXCERPTS


def listed_excerpts(space: Space) -> Iterator[Excerpt]:
    """Excerpts of legal full measures, not all silent, meter by meter: every one, or the first MOST_EXCERPTS.

    An ask may have a question about none of millions, and whoever lists them would wait for ever.
    """
    return islice(_every_excerpt(space), MOST_EXCERPTS)


def _every_excerpt(space: Space) -> Iterator[Excerpt]:
    for meter in space.meters:
        for measures in _listed(space, meter, space.measures):
            excerpt = Excerpt(meter, measures)
            if not all(s.silent for s in excerpt.symbols):
                yield excerpt


def _listed(space: Space, meter: Meter, count: int) -> Iterator[tuple[Symbols, ...]]:
    """Successions of so many measures, one by one: there may be millions."""
    if not count:
        yield ()
        return
    for first in listed_measures(space, meter):
        for others in _listed(space, meter, count - 1):
            yield (first, *others)


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
