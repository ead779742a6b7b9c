"""Drawing and listing of the full measures that every ask starts from."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import islice, product
from random import Random

from barwright.asks.ask import Space
from barwright.errors import CapacityError
from barwright.notation.legal_measures import (
    Limits,
    all_measures,
    drawn_measure,
    is_within,
    measure_count,
)
from barwright.notation.legality import shown_frame
from barwright.notation.metrical_frame import frames, print_rules
from barwright.notation.patterns import figure_name, figures_in
from barwright.notation.reading_ease import crowded, syncopated
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols, ticks_of
from barwright.rhythm.meter import Meter, felt_ticks
from barwright.rhythm.text import parse_symbol

MOST_EXCERPTS = 8_000  # that are listed of one space
# One line in so many has a tie over a barline, where ties are taught and there is such a line.
TIED_LINES = 3
# So many measures are looked at for one that goes on well from the one before.
LOOKED_AT = 16


@lru_cache(maxsize=1 << 13)
def well_written(symbols: Symbols, meter: Meter, space: Space, *, held: bool = False) -> bool:
    """Whether a legal measure is one that this space draws; `held`: a tie leads into it."""
    limits = _limits(space, held, symbols[-1].tied)
    return is_within(symbols, space.alphabet, meter, space.conventions, limits)


@lru_cache(maxsize=1 << 13)
def readable(symbols: Symbols, meter: Meter, space: Space) -> bool:
    """Whether a legal measure can be set before this class: no syncopation unless taught, and not too much at once.

    Nor a figure that is not printed for it.
    """
    if crowded(symbols, meter) or (not space.taught.syncopation and syncopated(symbols, meter)):
        return False
    style = space.limits.style
    return style is None or not style.holds("any-pattern") or style.figures.issuperset(_figures(symbols, meter, space))


@lru_cache(maxsize=1 << 13)
def _figures(symbols: Symbols, meter: Meter, space: Space) -> frozenset[str]:
    """The names of the figures in a measure."""
    shown = shown_frame(symbols, frames(meter, print_rules(space.conventions)))
    return frozenset(map(figure_name, figures_in(symbols, shown))) - {""}


def _limits(space: Space, held: bool, onward: bool) -> Limits:
    return replace(space.limits, held=held, onward=onward) if held or onward else space.limits


def readable_count(space: Space, meter: Meter, *, held: bool = False, onward: bool = False) -> int:
    """How many legal, readable measures there are; `held` and `onward`: with ties that lead in and out."""
    return measure_count(space.alphabet, meter, space.conventions, limits=_limits(space, held, onward))


def readable_measure(space: Space, meter: Meter, rng: Random, *, held: bool = False, onward: bool = False) -> Symbols:
    """A legal, readable measure; RhythmError if there is none.

    Plain ones come more often, unless the space is `even`; those with as many things to notice have the same chance.
    """
    limits = _limits(space, held, onward)
    even = space.even or limits.style is None
    return drawn_measure(space.alphabet, meter, space.conventions, rng=rng, limits=limits, even=even)


def listed_measures(space: Space, meter: Meter, *, held: bool = False, onward: bool = False) -> Iterator[Symbols]:
    """Every legal, readable measure."""
    return all_measures(space.alphabet, meter, space.conventions, limits=_limits(space, held, onward))


def excerpt_count(space: Space, meter: Meter) -> int:
    """How many lines of measures there are, silent ones included: with one tie over a barline at most."""
    one = readable_count(space, meter)
    if space.measures == 1 or not _can_tie(space, meter):
        return int(one**space.measures)
    tied = readable_count(space, meter, onward=True) * readable_count(space, meter, held=True)
    return int(one**space.measures + (space.measures - 1) * tied * one ** (space.measures - 2))


def _can_tie(space: Space, meter: Meter) -> bool:
    """Whether a tie may lead over a barline of this meter."""
    able = space.tied_over and space.taught.ties
    return able and 0 not in (readable_count(space, meter, onward=True), readable_count(space, meter, held=True))


def can_sound(space: Space, meter: Meter) -> bool:
    """Whether there is a legal, readable measure with a note in it."""
    limits = replace(space.limits, sounding=True)
    return measure_count(space.alphabet, meter, space.conventions, limits=limits) > 0


@lru_cache(maxsize=256)
def fillable_meters(space: Space) -> tuple[Meter, ...]:
    """The meters of which there is a measure to show; CapacityError if there is none."""
    meters = tuple(meter for meter in space.meters if can_sound(space, meter))
    if not meters:
        raise CapacityError(
            f"no measure of {', '.join(map(str, space.meters))} can be made of {' '.join(space.alphabet.tokens)}: "
            "teach other values or syncopation, or allow more patterns and sounds in a measure"
        )
    return meters


def drawn_excerpt(space: Space, rng: Random) -> Excerpt:
    """Legal full measures, not all silent: the meter is drawn first, so that a quiz mixes them, then each measure.

    Or one of the teacher's own excerpts, if the space is one of these.
    """
    if space.own:
        return space.own[rng.randrange(len(space.own))]
    meters = fillable_meters(space)
    while True:
        meter = meters[rng.randrange(len(meters))]
        excerpt = Excerpt(meter, _drawn_line(space, meter, rng))
        if not all(s.silent for s in excerpt.symbols):
            return excerpt


def _drawn_line(space: Space, meter: Meter, rng: Random) -> tuple[Symbols, ...]:
    """Measures that go on well from each other, as far as a look at some can find: others stay possible."""
    tied = 0  # the number of the measure that a tie leads into
    if space.measures > 1 and _can_tie(space, meter) and not rng.randrange(TIED_LINES):
        tied = 1 + rng.randrange(space.measures - 1)
    line: list[Symbols] = []
    for number in range(space.measures):
        held, onward = 0 < tied == number, tied == number + 1
        for _ in range(LOOKED_AT):
            measure = readable_measure(space, meter, rng, held=held, onward=onward)
            if not line or space.even or _goes_on(line[-1], measure, meter, space):
                break
        line.append(measure)
    return tuple(line)


def _goes_on(before: Symbols, measure: Symbols, meter: Meter, space: Space) -> bool:
    """Whether a measure has no figure, or one comes back and it is shorter than the one before or ends on a long note.

    Nor are there ties in both, or more silence than sound. Lines of method books read so (common practice).
    """
    beat = felt_ticks(meter)[1]
    silence = sum(ticks_of(s, meter) for s in (*before, *measure) if s.silent)
    if silence > meter.ticks or (any(s.tied for s in before) and any(s.tied for s in measure)):
        return False
    ends = not measure[-1].silent and ticks_of(measure[-1], meter) >= beat
    figures, earlier = _figures(measure, meter, space), _figures(before, meter, space)
    if not figures:
        return True
    return (ends or len(measure) < len(before)) and (not earlier or bool(figures & earlier))


def has_few_excerpts(space: Space) -> bool:
    """Whether `listed_excerpts` gives every excerpt of a space."""
    return bool(space.own) or sum(excerpt_count(space, meter) for meter in space.meters) <= MOST_EXCERPTS


def each_once(excerpts: Iterable[Excerpt]) -> Iterator[Excerpt]:
    """These without those that came before; none is asked for before it is wanted."""
    seen: set[Excerpt] = set()
    for excerpt in excerpts:
        if excerpt not in seen:
            seen.add(excerpt)
            yield excerpt


def listed_excerpts(space: Space) -> Iterator[Excerpt]:
    """Excerpts of legal full measures, not all silent, meter by meter: every one, or the first MOST_EXCERPTS.

    The teacher's own take their place. An ask may have a question about none of millions, and whoever lists them would
    wait for ever.
    """
    return islice(_every_excerpt(space), MOST_EXCERPTS)


def _every_excerpt(space: Space) -> Iterator[Excerpt]:
    if space.own:
        yield from space.own
        return
    for meter in space.meters:
        last = space.measures if space.measures > 1 and _can_tie(space, meter) else 1
        for tied in range(last):
            for measures in _listed(space, meter, space.measures, tied=tied):
                excerpt = Excerpt(meter, measures)
                if not all(s.silent for s in excerpt.symbols):
                    yield excerpt


def _listed(space: Space, meter: Meter, count: int, *, tied: int) -> Iterator[tuple[Symbols, ...]]:
    """Lines of so many measures, one by one: there may be millions. `tied`: how many follow where a tie leads in."""
    if not count:
        yield ()
        return
    held, onward = 0 < tied == count, 0 < tied == count - 1
    for first in listed_measures(space, meter, held=held, onward=onward):
        for others in _listed(space, meter, count - 1, tied=tied):
            yield (first, *others)


def fillers(tokens: frozenset[str], width: int) -> tuple[Symbols, ...]:
    """Every group of `width` taught symbols that can be offered for a blank, sorted by token.

    Triplet members are never offered singly; the whole-rest sign only alone.
    """
    single = [t for t in sorted(tokens) if not t.endswith("t")]
    groups = product(single, repeat=width)
    return tuple(tuple(map(parse_symbol, g)) for g in groups if width == 1 or "rW" not in g)


@lru_cache(maxsize=256)
def in_meters(space: Space, meters: tuple[Meter, ...]) -> Space:
    """The space with these meters only."""
    return replace(space, meters=meters)


def in_meter(excerpt: Excerpt, meter: Meter) -> Excerpt:
    """The printed measures of an excerpt under another time signature."""
    return Excerpt(meter, excerpt.measures, excerpt.pickup)
