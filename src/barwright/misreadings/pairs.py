"""Two misreadings held at once, acted out one after the other: what a student then counts, fills in or takes for full.

The order is that of reading: first what symbols last, then where the sounds stand (or what a measure holds), then what
their places are called, last the signs of the row. In any other order the names hide what came before. A pair is only
told where neither error alone leads to the same answer: masking, one error hides another (Burton 1982, from memory).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import combinations
from typing import NamedTuple

from barwright.counting.counts import format_row
from barwright.counting.labels import CountedMeasure
from barwright.misreadings import JOINT, MISREADINGS
from barwright.misreadings.answers import is_full, rows
from barwright.misreadings.belief import (
    Counts,
    Lengths,
    Misreading,
    Reading,
    Row,
    Spot,
    true_reading,
)
from barwright.misreadings.believed_rows import (
    believed_spots,
    row_by_lengths,
    sheet_of,
)
from barwright.misreadings.exclusions import contradict
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import FULL_MEASURE_REST

KEPT = 1 << 13
VALUES, PLACES, NAMES, SIGNS = range(4)
# Errors with counts that are not of values, by what they change; all others of LABELING change places.
NAMING = frozenset(
    {
        "count-waits-during-rests",
        "notes-numbered-in-order",
        "numbers-and-ands-alternate",
        "lengths-written-as-counts",
        "count-restarts-at-the-half-measure",
        "tied-note-struck-again",
        "tied-note-taken-for-a-rest",
        "only-the-beats-counted",
        "dot-taken-for-a-rest",
        "dot-counted-as-a-note",
    }
)
SIGNING = frozenset(
    {
        "held-beats-struck-again",
        "rest-counts-without-parentheses",
        "one-pair-of-parentheses-for-two-rests",
        "a-pair-of-parentheses-for-each-beat-of-a-rest",
        "parentheses-around-the-notes",
        "held-beats-in-parentheses",
        "separate-notes-joined-by-hyphens",
        "open-notes-taken-for-rests",
        "long-rests-taken-for-notes",
        "every-beat-split-in-two",
    }
)


class Pair(NamedTuple):
    """Two misreadings, in the order in which they are acted out."""

    first: Misreading
    second: Misreading

    @property
    def id(self) -> str:
        """Both ids, joined; no id of a misreading holds the joint."""
        return f"{self.first.id}{JOINT}{self.second.id}"


def stage(m: Misreading) -> int:
    """When in reading the error happens: with values, places (or the capacity), names, or signs (the last step)."""
    if m.replaces == "value":
        return VALUES
    if m.id in SIGNING or m.replaces == "answer":
        return SIGNS
    return NAMES if m.id in NAMING else PLACES


def pair_named(ident: str) -> Pair | None:
    """The pair of this id; None where there are not two misreadings that can be held at once, in the order of reading.

    >>> pair_named("dots-passed-over") is pair_named("dot-doubles+dots-passed-over") is None
    True
    """
    held = [MISREADINGS[m] for m in ident.split(JOINT) if m in MISREADINGS]
    pair = pair_of(*held) if len(held) == len("AB") else None
    return pair if pair is not None and pair.id == ident else None


@lru_cache(maxsize=256)
def pairs_of(misreadings: tuple[Misreading, ...]) -> tuple[Pair, ...]:
    """All pairs that a student may hold, each in the order of reading; of one stage in the order given."""
    pairs = (pair_of(*two) for two in combinations(misreadings, 2))
    return tuple(pair for pair in pairs if pair is not None)


@lru_cache(maxsize=1 << 13)
def pair_of(one: Misreading, other: Misreading) -> Pair | None:
    """The pair of these two in the order of reading, of one stage in the order given; None if nobody holds both."""
    if one is other or contradict(one, other) or stage(one) == stage(other) == NAMES:
        return None
    return Pair(*sorted((one, other), key=stage))


def merged_lengths(one: Lengths, other: Lengths, true: Lengths) -> Lengths | None:
    """Believed lengths of two errors together; None where both misread one symbol, each in its own way."""
    merged = []
    for mine, yours, right in zip(one, other, true, strict=True):
        if any(a != t and b != t and a != b for a, b, t in zip(mine, yours, right, strict=True)):
            return None
        merged.append(tuple(b if a == t else a for a, b, t in zip(mine, yours, right, strict=True)))
    return tuple(merged)


@dataclass(slots=True)
class Alone:
    """What single misreadings make of a right reading, worked out once for all pairs that they are in.

    `taken` holds what is known already: by misreading its reading, None where it does not show.
    """

    right: Reading
    taken: dict[Misreading, Reading | None] = field(default_factory=dict)
    _begun: dict[Misreading, Reading] = field(default_factory=dict)

    def by(self, m: Misreading) -> Reading | None:
        """The reading of who holds this misreading only; None where it does not show."""
        if m not in self.taken:
            self.taken[m] = m.act(self.right)
        return self.taken[m]

    def begun(self, m: Misreading, one: Reading) -> Reading:
        """What the next error in reading begins with, `one` being what this misreading makes of it."""
        if one.excerpt.blank is not None or one.counts is None:
            return one
        if m not in self._begun:
            self._begun[m] = _handed_on(one) or one
        return self._begun[m]


def acted(pair: Pair, alone: Alone) -> Reading | None:
    """The reading of who holds both; None where one of them does not show, or they contradict each other here."""
    one = alone.by(pair.first)
    if one is None:
        return None
    if stage(pair.second) > VALUES:
        return pair.second.act(alone.begun(pair.first, one))
    other = alone.by(pair.second)
    lengths = None if other is None else merged_lengths(one.lengths, other.lengths, alone.right.lengths)
    if other is None or lengths is None:
        return None
    return one._replace(lengths=lengths, over=one.over + other.over)


def _handed_on(reading: Reading) -> Reading | None:
    """A student's reading as what the next error begins with: sounds and labels as they are believed to be.

    None where the labels do not follow, or the student would notice.
    """
    counts = reading.counts
    row = reading.labels or row_by_lengths(reading)
    if counts is None or row is None:
        return None
    measures, usage = counts.measures, counts.usage
    if reading.places is not None:
        place, usage = reading.places
        measures = tuple(_at(m, _placed(place(m.spans, usage))) for m in counts.measures)
    elif reading.labels is None:
        pickup, ticks = reading.excerpt.pickup, reading.meter.ticks
        measures = tuple(
            _at(m, _placed(believed_spots(m.spans, reading.lengths[n], ticks, pickup and not n)))
            for n, m in enumerate(counts.measures)
        )
    heard = tuple(tuple(label for label in labels if label) if reading.places or reading.labels is None else labels
                  for labels in row)  # fmt: skip
    if any(len(m.spans) != len(labels) for m, labels in zip(measures, heard, strict=True)):
        return None  # a sound has no label where the class names none, such as sixteenths of 9/8
    return reading._replace(counts=Counts(measures, heard, usage), labels=None, places=None)


def _placed(spots: Sequence[Spot] | None) -> tuple[Spot, ...] | None:
    return None if spots is None else tuple(spots)


@lru_cache(maxsize=KEPT)
def _at(measure: CountedMeasure, spots: tuple[Spot, ...] | None) -> CountedMeasure:
    """The measure with its sounds at these spots; those without one are gone. Remembered, to be a key of caches."""
    if spots is None:
        return measure
    pairs = zip(measure.spans, spots, strict=True)
    spans = tuple(s._replace(onset=spot[0], length=spot[1]) for s, spot in pairs if spot is not None)
    return CountedMeasure(measure.symbols, spans)


def pair_rows(
    misreadings: Iterable[Misreading], excerpt: Excerpt, conventions: Conventions
) -> Iterator[tuple[Pair, Row, str]]:
    """The row that each pair of these misreadings leads to, and the same as text.

    Rows that are right, or that one misreading alone leads to, are not told: a pick of them says nothing of a pair.

    >>> from barwright.misreadings import JOINT, MISREADINGS
    >>> from barwright.rhythm.text import parse_excerpt
    >>> two = [MISREADINGS["every-rest-is-one-beat"], MISREADINGS["rest-counts-without-parentheses"]]
    >>> [(pair.id, text) for pair, _, text in pair_rows(two, parse_excerpt("4/4 rh q q"), Conventions())]
    [('every-rest-is-one-beat+rest-counts-without-parentheses', '1 2 3')]
    """
    sheet = sheet_of(excerpt, conventions)
    if sheet is None:
        return
    single = {m: text for m, _, text in rows(misreadings, excerpt, conventions)}
    known = {sheet.text, *single.values()}
    alone = Alone(sheet.reading)
    for pair in pairs_of(tuple(single)):
        row = _row(pair, alone)
        if row is None or row == sheet.onsets:
            continue
        text = format_row(row)
        if text not in known:
            yield pair, row, text


def _row(pair: Pair, alone: Alone) -> Row | None:
    reading = acted(pair, alone)
    if reading is None:
        return None
    row = row_by_lengths(reading) if reading.labels is None else reading.labels
    return row if row and all(map(any, row)) else None


def heard_by_pairs(
    misreadings: Iterable[Misreading], given: Row, conventions: Conventions
) -> Iterator[tuple[Pair, Row]]:
    """The row of counts as each pair of errors of reading hears it; not told where one alone hears the same."""
    alone = {m: m.hear(given, conventions) for m in misreadings if m.hear is not None}
    known = {given, *(row for row in alone.values() if row is not None)}
    for pair in pairs_of(tuple(m for m, row in alone.items() if row is not None)):
        row, hear = alone[pair.first], pair.second.hear
        heard = None if row is None or hear is None else hear(row, conventions)
        if heard is not None and heard not in known:
            yield pair, heard


def pair_believers(misreadings: Iterable[Misreading], excerpt: Excerpt, conventions: Conventions) -> list[Pair]:
    """The pairs under which an excerpt that is not full is believed to be, where it is by neither alone."""
    right = true_reading(excerpt, conventions)
    if (FULL_MEASURE_REST,) in excerpt.measures or is_full(right):
        return []
    taken = {m: m.act(right) for m in misreadings if m.bears_on != "filler" and m.replaces != "grouping"}
    open_to = tuple(m for m, reading in taken.items() if reading is not None and not is_full(reading))
    alone = Alone(right, taken)
    readings = ((pair, acted(pair, alone)) for pair in pairs_of(open_to))
    return [pair for pair, reading in readings if reading is not None and is_full(reading)]


def asks_of(pair: Pair) -> frozenset[str]:
    """Where a pair may serve: where both do."""
    return pair.first.exercises & pair.second.exercises
