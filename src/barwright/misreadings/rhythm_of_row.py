"""The rhythm that a row of counts stands for: the inverse of counting, symbol by symbol."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import product

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
    named = _named_sounds(tokens, ties, usage_of(meter, conventions))
    # Where the labels so far can end: the onset, and inside a triplet how long a member is and how many are there.
    ends = {(0, 0, 0)}
    for at, label in enumerate(labels):
        ends = {
            (onset + length, length, (members + 1) % 3) if third else (onset + length, 0, 0)
            for onset, member, members in ends
            for length, third in named.get((onset, label, not at and ties), ())
            if not members or (third and length == member)
        }
    return any(onset == meter.ticks and not members for onset, _, members in ends)


_Named = Mapping[tuple[int, str, bool], Collection[tuple[int, bool]]]


@lru_cache(maxsize=64)
def _named_sounds(tokens: frozenset[str], ties: bool, usage: Usage) -> _Named:
    """By onset, label and whether a tie may lead into it: the sounds that are counted so, with their lengths in ticks
    and whether each is the member of a triplet."""
    single, members = _lengths(tokens, ties)
    able = (*((length, False) for length in single), *((length, True) for length in members))
    named: dict[tuple[int, str, bool], set[tuple[int, bool]]] = {}
    onsets, known = [0], {0}
    for onset in onsets:
        for length, third in able:
            end = onset + length
            if end > usage.meter.ticks:
                continue
            for quiet, held in product((False, True), (False, True)):
                label = usage.spoken(onset, length, quiet, held, third)
                if label is not None and (not quiet or label.startswith(("(", "R"))):
                    for tied in (True,) if held else (True, False):
                        named.setdefault((onset, label, tied), set()).add((length, third))
            if end not in known:
                known.add(end)
                onsets.append(end)
    return named


@lru_cache(maxsize=64)
def _lengths(tokens: frozenset[str], ties: bool) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """How long a sound may be, in ticks: by itself, and as a member of a triplet."""
    single = {s.value.ticks for s in _symbols(tokens) if s.value is not None}
    tied = {one + other for one in single for other in single} if ties else set()
    members = (parse_symbol(token).value for token in tokens if token.endswith("t"))
    return tuple(sorted(single | tied)), tuple(sorted({value.ticks for value in members if value is not None}))
