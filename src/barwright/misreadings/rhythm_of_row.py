"""The rhythm that a row of counts stands for: the inverse of counting, symbol by symbol."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

from barwright.misreadings.belief import Row, Usage, usage_of
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import Symbol, Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_symbol


@lru_cache(maxsize=64)
def _symbols(tokens: frozenset[str]) -> tuple[Symbol, ...]:
    """The symbols with a length of their own that stand alone: no full-measure rest, no members of a triplet."""
    symbols = (parse_symbol(token) for token in sorted(tokens) if not token.endswith("t"))
    return tuple(s for s in symbols if s.value is not None)


def rhythms_of_row(
    row: Row, meter: Meter, tokens: frozenset[str], conventions: Conventions
) -> Iterator[tuple[Symbols, ...]]:
    """Ways to write the row in these symbols without ties, each measure exactly full; legality is not asked.

    Of one measure all ways, of several the first. None in kodaly, whose words do not go by places.

    >>> from barwright.rhythm.text import format_measures
    >>> row = (("1", "(2)", "3-4"),)
    >>> tokens = frozenset({"q", "h", "rq", "rh"})
    >>> [format_measures(way) for way in rhythms_of_row(row, Meter(4, 4), tokens, Conventions())]
    ['q rq h']
    """
    if conventions.counting == "kodaly":
        return
    usage = usage_of(meter, conventions)
    measures = [list(_filled(labels, 0, usage, _symbols(tokens))) for labels in row]
    if len(measures) == 1:
        yield from ((symbols,) for symbols in measures[0])
    elif all(measures):
        yield tuple(ways[0] for ways in measures)


def _filled(labels: Sequence[str], onset: int, usage: Usage, symbols: tuple[Symbol, ...]) -> Iterator[Symbols]:
    if not labels:
        if onset == usage.meter.ticks:
            yield ()
        return
    for symbol in symbols:
        length = symbol.value.ticks if symbol.value is not None else 0
        fits = onset + length <= usage.meter.ticks
        if fits and usage.spoken(onset, length, symbol.silent, False, False) == labels[0]:
            for others in _filled(labels[1:], onset + length, usage, symbols):
                yield (symbol, *others)
