"""Rhythms near a rhythm: the candidates for wrong figures under a row of counts.

Where a meter has few legal measures they are all candidates; else those one step away: a note for a rest and the other
way round, two symbols joined into one, one split in two, neighbours exchanged, a tie set or taken away, also over a
barline.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import pairwise
from random import Random

from barwright.asks.ask import Space
from barwright.asks.drawn_excerpts import listed_measures, readable, readable_count
from barwright.items.taught import Taught, taught_symbols
from barwright.notation.legality import is_legal
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import (
    Symbol,
    Symbols,
    ended,
    turned,
    with_tie,
)
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_symbol

FEW_MEASURES = 60


def near_rhythms(excerpt: Excerpt, space: Space, rng: Random) -> Iterator[Excerpt]:
    """Legal excerpts of taught symbols that differ from this one, in a random order."""
    left = list(_near_excerpts(excerpt, space))
    while left:
        index = rng.randrange(len(left))
        left[index], left[-1] = left[-1], left[index]
        yield left.pop()


@lru_cache(maxsize=1 << 11)
def _near_excerpts(excerpt: Excerpt, space: Space) -> tuple[Excerpt, ...]:
    near: dict[Excerpt, None] = {}
    for number, symbols in enumerate(excerpt.measures):
        held = number > 0 and excerpt.measures[number - 1][-1].tied
        for other in _near_measures(symbols, excerpt.meter, space, held=held):
            measures = (*excerpt.measures[:number], other, *excerpt.measures[number + 1 :])
            near[Excerpt(excerpt.meter, measures, excerpt.pickup)] = None
    near.update(dict.fromkeys(_over_barlines(excerpt, space)))
    everywhere = Excerpt(excerpt.meter, tuple(_sounding(m) for m in excerpt.measures), excerpt.pickup)
    if everywhere != excerpt and all(_able(m, excerpt.meter, space) for m in everywhere.measures):
        near[everywhere] = None
    return tuple(near)


def _over_barlines(excerpt: Excerpt, space: Space) -> Iterator[Excerpt]:
    """The excerpt with the tie over one barline set or taken away, where notes stand on both sides."""
    for number, (symbols, following) in enumerate(pairwise(excerpt.measures)):
        if symbols[-1].kind == following[0].kind == "note":
            turned_over = (*symbols[:-1], with_tie(symbols[-1], not symbols[-1].tied))
            if _able(turned_over, excerpt.meter, space) and not (following[0].tied and turned_over[-1].tied):
                measures = (*excerpt.measures[:number], turned_over, *excerpt.measures[number + 1 :])
                yield Excerpt(excerpt.meter, measures, excerpt.pickup)


def has_few_measures(space: Space, meter: Meter) -> bool:
    """Whether all legal measures of a meter are near each other, being few."""
    return readable_count(space, meter) <= FEW_MEASURES


def _few(space: Space, meter: Meter, held: bool, onward: bool) -> tuple[Symbols, ...]:
    """All legal measures of a meter if they are few, else none; `held` and `onward`: with ties that lead in and out."""
    if not has_few_measures(space, meter):
        return ()
    return tuple(listed_measures(space, meter, held=held, onward=onward))


def _near_measures(symbols: Symbols, meter: Meter, space: Space, *, held: bool) -> tuple[Symbols, ...]:
    """Measures that can take the place of this one: ties that lead in and out stay."""
    onward = symbols[-1].tied
    few = _few(space, meter, held, onward)
    if few:
        return tuple(s for s in few if s != symbols)
    steps = {
        *_turned(symbols),
        *_joined(symbols, space.taught),
        *_split(symbols, space.taught),
        *_exchanged(symbols),
        *_tied(symbols),
    }
    led = ((*s[:-1], with_tie(s[-1], onward)) for s in steps if s[-1].kind == "note" or not onward)
    able = (s for s in led if s != symbols and _able(s, meter, space) and _can_be_held(s[0], held=held))
    return tuple(sorted(set(able), key=_rank))


def _can_be_held(symbol: Symbol, *, held: bool) -> bool:
    """Whether a tie may lead to a symbol, if one does."""
    return not held or (symbol.kind == "note" and not symbol.tied)


def _rank(symbols: Symbols) -> list[str]:
    """A fixed order of measures."""
    return list(map(_printed, symbols))


@lru_cache(maxsize=256)
def _printed(symbol: Symbol) -> str:
    return repr(symbol)


def _able(symbols: Symbols, meter: Meter, space: Space) -> bool:
    taught = taught_symbols(space.taught).issuperset(symbols)
    return taught and readable(symbols, meter, space) and is_legal(ended(symbols), meter, space.conventions)


def _sounding(symbols: Symbols) -> Symbols:
    """Every rest a note of the same value."""
    return tuple(turned(s) if s.kind == "rest" else s for s in symbols)


def _turned(symbols: Symbols) -> Iterator[Symbols]:
    yield _sounding(symbols)
    for index, symbol in enumerate(symbols):
        yield (*symbols[:index], turned(symbol), *symbols[index + 1 :])


def _by_length(taught: Taught) -> Mapping[int, tuple[Symbol, ...]]:
    """The taught symbols by length in ticks."""
    by_length: dict[int, tuple[Symbol, ...]] = {}
    for token in sorted(taught.tokens):
        symbol = parse_symbol(token)
        if symbol.value is not None and not symbol.value.triplet:
            by_length[symbol.value.ticks] = (*by_length.get(symbol.value.ticks, ()), symbol)
    return by_length


def _pairs(length: int, taught: Taught) -> tuple[Symbols, ...]:
    """Two taught symbols that last so many ticks together."""
    lengths = _by_length(taught)
    return tuple(
        (one, other) for first, ones in lengths.items() for one in ones for other in lengths.get(length - first, ())
    )


def _joined(symbols: Symbols, taught: Taught) -> Iterator[Symbols]:
    """Neighbours as one symbol of their length: the second of them held, or all silent."""
    for index in range(len(symbols) - 1):
        one, other = symbols[index : index + 2]
        if one.value is not None and other.value is not None:
            for symbol in _by_length(taught).get(one.value.ticks + other.value.ticks, ()):
                yield (*symbols[:index], symbol, *symbols[index + 2 :])


def _split(symbols: Symbols, taught: Taught) -> Iterator[Symbols]:
    """One symbol as two of its length together, sounding or silent."""
    for index, symbol in enumerate(symbols):
        if symbol.value is not None:
            for pair in _pairs(symbol.value.ticks, taught):
                yield (*symbols[:index], *pair, *symbols[index + 1 :])


def _exchanged(symbols: Symbols) -> Iterator[Symbols]:
    for index in range(len(symbols) - 1):
        one, other = symbols[index : index + 2]
        if not one.tied and not other.tied:
            yield (*symbols[:index], other, one, *symbols[index + 2 :])


def _tied(symbols: Symbols) -> Iterator[Symbols]:
    for index, symbol in enumerate(symbols[:-1]):
        if symbol.kind == "note":
            yield (*symbols[:index], with_tie(symbol, not symbol.tied), *symbols[index + 1 :])
