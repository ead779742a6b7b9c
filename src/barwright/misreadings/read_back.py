"""From a row of counts back to rhythms: which measures a student reads from it who holds one misreading, or two.

Measures are sorted once by the rows that they are counted as, rightly and by every error; then any row is looked up.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from barwright.counting.counts import format_row, labels_if_counted, normal_row
from barwright.misreadings.answers import rows
from barwright.misreadings.belief import Misreading, Row
from barwright.misreadings.pairs import heard_by_pairs, pair_of, pair_rows
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter

# Errors that write another number of labels than the rhythm has sounds and rests, and those of them that do so always.
AT_TIMES = frozenset(
    {"one-pair-of-parentheses-for-two-rests", "notes-numbered-in-order", "count-restarts-at-the-half-measure"}
)
ALWAYS = frozenset(
    {
        "separate-notes-joined-by-hyphens",
        "rests-take-no-time",
        "count-waits-during-rests",
        "every-beat-split-in-two",
        "rests-counted-as-held",
        "held-beats-struck-again",
        "held-beats-in-parentheses",
        "tied-note-struck-again",
        "tied-note-taken-for-a-rest",
        "dot-taken-for-a-rest",
        "dot-counted-as-a-note",
        "only-the-beats-counted",
        "a-pair-of-parentheses-for-each-beat-of-a-rest",
    }
)


@dataclass(frozen=True, slots=True, eq=False)
class ReadBack:
    """Measures of one meter by normal row: those that are counted so, and those that an error (its id) counts so."""

    counted: Mapping[str, tuple[Symbols, ...]]
    miscounted: Mapping[str, tuple[tuple[Symbols, str], ...]]
    pairs: Mapping[str, tuple[tuple[Symbols, str], ...]]


@lru_cache(maxsize=64)
def read_back(
    measures: tuple[Symbols, ...],
    meter: Meter,
    misreadings: tuple[Misreading, ...],
    conventions: Conventions,
    *,
    with_pairs: bool = False,
    labels: int | None = None,
) -> ReadBack:
    """The measures sorted by the rows they are counted as; `with_pairs` by pairs of errors, too, which takes longer.

    `labels`: how many the rows have that will be looked up; errors that give another number are not acted out.
    """
    counted: dict[str, list[Symbols]] = {}
    single: dict[str, list[tuple[Symbols, str]]] = {}
    double: dict[str, list[tuple[Symbols, str]]] = {}
    for symbols in measures:
        excerpt = Excerpt(meter, (symbols,))
        own = labels_if_counted(excerpt, conventions)
        if own is None:
            continue
        row = normal_row(format_row(own), conventions)
        counted.setdefault(row, []).append(symbols)
        able = misreadings if labels is None else _able(misreadings, same=labels == len(row.split()))
        for m, _, text in rows(able, excerpt, conventions):
            single.setdefault(normal_row(text, conventions), []).append((symbols, m.id))
        for pair, _, text in pair_rows(misreadings, excerpt, conventions) if with_pairs else ():
            double.setdefault(normal_row(text, conventions), []).append((symbols, pair.id))
    return ReadBack(
        {row: tuple(group) for row, group in counted.items()},
        {row: tuple(group) for row, group in single.items()},
        {row: tuple(group) for row, group in double.items()},
    )


@lru_cache(maxsize=256)
def _able(misreadings: tuple[Misreading, ...], *, same: bool) -> tuple[Misreading, ...]:
    """Those that may give the same number of labels as there are sounds and rests, or another."""
    return tuple(m for m in misreadings if (m.id not in ALWAYS if same else m.id in ALWAYS | AT_TIMES))


Written = Callable[[Row], Iterable[Symbols]]
"""The legal measures that a row stands for."""


def rhythms_read(
    index: ReadBack,
    given: Row,
    misreadings: Sequence[Misreading],
    conventions: Conventions,
    *,
    written: Written | None = None,
) -> dict[Symbols, tuple[str, ...]]:
    """Every wrong measure that a student reads from the row, with the ids of the errors, or pairs of them, that do it.

    An error of writing reads the row as a measure that it would count so; an error of reading hears another row. Two
    may be held: both heard one after the other, or a row heard amiss and the rhythm for it miscounted. Where one error
    alone leads to a measure no pair is told. `written` gives the measures of a heard row; without it they are looked up
    in the index, which is enough where it holds every measure.
    """
    row = normal_row(format_row(given), conventions)

    def looked_up(heard: Row) -> Iterable[Symbols]:
        return index.counted.get(normal_row(format_row(heard), conventions), ())

    alone = dict(_by_one(index, row, given, misreadings, conventions, written or looked_up))
    both = _gathered(_by_two(index, row, given, misreadings, conventions, written or looked_up))
    right = set(index.counted.get(row, ()))
    rhythms = {symbols: ids for symbols, ids in both.items() if symbols not in alone} | alone
    return {symbols: ids for symbols, ids in rhythms.items() if symbols not in right}


def _gathered(pairs: Iterable[tuple[Symbols, str]]) -> dict[Symbols, tuple[str, ...]]:
    gathered: dict[Symbols, dict[str, None]] = {}
    for symbols, ident in pairs:
        gathered.setdefault(symbols, {})[ident] = None
    return {symbols: tuple(ids) for symbols, ids in gathered.items()}


def _by_one(
    index: ReadBack, row: str, given: Row, misreadings: Sequence[Misreading], conventions: Conventions, written: Written
) -> dict[Symbols, tuple[str, ...]]:
    heard = [(symbols, m.id) for m, other in _heard(given, misreadings, conventions) for symbols in written(other)]
    return _gathered([*index.miscounted.get(row, ()), *heard])


def _heard(given: Row, misreadings: Sequence[Misreading], conventions: Conventions) -> Iterator[tuple[Misreading, Row]]:
    for m in misreadings:
        other = None if m.hear is None else m.hear(given, conventions)
        if other is not None:
            yield m, other


def _by_two(
    index: ReadBack, row: str, given: Row, misreadings: Sequence[Misreading], conventions: Conventions, written: Written
) -> Iterator[tuple[Symbols, str]]:
    yield from index.pairs.get(row, ())
    for pair, other in heard_by_pairs(misreadings, given, conventions):
        for symbols in written(other):
            yield symbols, pair.id
    known, places = {m.id: m for m in misreadings}, {m.id: n for n, m in enumerate(misreadings)}
    for m, other in _heard(given, misreadings, conventions):
        for symbols, ident in index.miscounted.get(normal_row(format_row(other), conventions), ()):
            both = pair_of(*sorted((m, known[ident]), key=lambda each: places[each.id]))
            if both is not None:
                yield symbols, both.id
