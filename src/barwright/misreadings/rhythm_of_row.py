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


@lru_cache(maxsize=1 << 15)
def counts_a_measure(
    labels: tuple[str, ...], meter: Meter, tokens: frozenset[str], conventions: Conventions, *, ties: bool
) -> bool:
    """Whether the labels count some full measure of these symbols, legal or not; with `ties` of tied ones, too.

    Of triplets whole ones stand in it. False in kodaly, as for `rhythms_of_row`.

    >>> tokens = frozenset({"q", "h", "rq"})
    >>> rows = ("1-2", "3-4"), ("1", "3-4"), ("-1-2-3", "4")
    >>> [counts_a_measure(row, Meter(4, 4), tokens, Conventions(), ties=False) for row in rows]
    [True, False, False]
    >>> counts_a_measure(rows[2], Meter(4, 4), tokens, Conventions(), ties=True)
    True
    """
    if conventions.counting == "kodaly":
        return False
    usage = usage_of(meter, conventions)
    lengths, triplets = _lengths(tokens, ties)

    def fits(at: int, onset: int, *, triplet: int = 0, member: int = 0) -> bool:
        """Whether the labels from this one on fill the measure; inside a triplet its members are all as long."""
        if at == len(labels):
            return onset == usage.meter.ticks and not member
        label, first = labels[at], not at and ties
        silent = label.startswith(("(", "R"))
        able = ((triplet, True),) if member else (*((n, False) for n in lengths), *((n, True) for n in triplets))
        return any(
            any(
                usage.spoken(onset, n, quiet, held, third) == label
                for quiet in {silent, False}
                for held in {first, False}
            )
            and fits(at + 1, onset + n, triplet=n, member=(member + 1) % 3 if third else 0)
            for n, third in able
            if onset + n <= usage.meter.ticks
        )

    return fits(0, 0)


@lru_cache(maxsize=64)
def _lengths(tokens: frozenset[str], ties: bool) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """How long a sound may be, in ticks: by itself, and as a member of a triplet."""
    single = {s.value.ticks for s in _symbols(tokens) if s.value is not None}
    tied = {one + other for one in single for other in single} if ties else set()
    members = (parse_symbol(token).value for token in tokens if token.endswith("t"))
    return tuple(sorted(single | tied)), tuple(sorted({value.ticks for value in members if value is not None}))
