"""Rows of counts that follow from what a student believes: labels from believed onsets and lengths.

Onsets and lengths are counted in ticks here, exact whole numbers, as the counting of the class is (`values.TICKS`).
What an error makes of a measure depends on that measure and the class only, so it is remembered measure by measure:
excerpts are many, measures are few.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

from barwright.counting.counts import format_row, labels_if_counted
from barwright.counting.kodaly import kodaly_labels
from barwright.counting.labels import CountedMeasure, Spans, counted_measures
from barwright.misreadings.belief import (
    Counts,
    Misreading,
    Reading,
    Row,
    Spot,
    Usage,
    true_reading,
    usage_of,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import with_tie
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import TICKS, WRITTEN

Labels = tuple[str, ...]
# What an error makes of one measure: spots for its sounds, or labels (None: there is no count), or of its right labels
# others. These are keys of what is remembered, so they are functions of a module, not made anew for each reading.
Place = Callable[[Spans, Usage], list[Spot] | None]
Name = Callable[[Spans, Usage], Sequence[str | None] | None]
Change = Callable[[Spans, Labels], Sequence[str]]
KEPT = 1 << 13


@dataclass(frozen=True, slots=True)
class Sheet:
    """What every student error with counts is held against: the excerpt read rightly, with all that there is to count.

    `text` is the right row as text; `onsets` the labels of a class that marks onsets only, None where it has none.
    `wrong` remembers the row, and its text, that each misreading leads to, since several asks hold theirs against it.
    """

    reading: Reading
    text: str
    onsets: Row | None
    wrong: dict[Misreading, tuple[Row, str] | None] = field(default_factory=dict)


@lru_cache(maxsize=2048)
def sheet_of(excerpt: Excerpt, conventions: Conventions) -> Sheet | None:
    """The sheet of an excerpt; None where it has a blank or the counting system has no count."""
    reading = true_reading(excerpt, conventions)
    counts = counts_of(reading)
    if counts.row is None:
        return None
    onsets = labels_if_counted(excerpt, _onsets_only(conventions))
    return Sheet(reading._replace(counts=counts), format_row(counts.row), onsets)


def _onsets_only(conventions: Conventions) -> Conventions:
    return replace(conventions, held="onset_only")


def counts_of(reading: Reading) -> Counts:
    """What there is to count in the excerpt of a reading."""
    if reading.counts is not None:
        return reading.counts
    excerpt, conventions = reading.excerpt, reading.conventions
    measures = () if excerpt.blank is not None else counted_measures(excerpt)
    return Counts(measures, labels_if_counted(excerpt, conventions), usage_of(excerpt.meter, conventions))


def with_labels(reading: Reading, row: Row) -> Reading | None:
    """A right reading but for these labels; None if they are the right ones, or a measure would have none."""
    if not row or not all(map(any, row)) or row == counts_of(reading).row:
        return None
    r = reading
    return Reading(r.excerpt, r.conventions, r.lengths, r.capacity, counts=r.counts, labels=row)


def _with_each(reading: Reading, labels: list[Labels | None]) -> Reading | None:
    return None if None in labels else with_labels(reading, complete(labels) or ())


def complete(parts: Sequence[Any]) -> tuple[Any, ...] | None:
    """All the parts; None if one is missing."""
    return None if None in parts else tuple(parts)


def with_names(reading: Reading, name: Name) -> Reading | None:
    """The reading with the labels that `name` gives each measure; None where it gives none, or a sound has none."""
    counts = counts_of(reading)
    return _with_each(reading, [_named(name, measure, counts.usage) for measure in counts.measures])


def _named(name: Name, measure: CountedMeasure, usage: Usage) -> Labels | None:
    labels = name(measure.spans, usage)
    return None if labels is None else complete(labels)


def with_changes(reading: Reading, change: Change) -> Reading | None:
    """The reading with the right labels of each measure changed; None where there are no right ones."""
    counts = counts_of(reading)
    if counts.row is None:
        return None
    pairs = zip(counts.measures, counts.row, strict=True)
    return with_labels(reading, tuple([_changed(change, measure, labels) for measure, labels in pairs]))


def _changed(change: Change, measure: CountedMeasure, labels: Labels) -> Labels:
    return tuple(change(measure.spans, labels))


def with_spots(reading: Reading, place: Place, *, meter: Meter | None = None) -> Reading | None:
    """The reading with every sound counted at the spot that `place` gives it; None where `place` gives none."""
    counts = counts_of(reading)
    other = meter is not None and reading.conventions.counting != "kodaly"  # its words do not go by the meter's beats
    usage = usage_of(meter, reading.conventions) if other and meter is not None else counts.usage
    counted = _with_each(reading, [_placed(place, measure, usage) for measure in counts.measures])
    return None if counted is None else counted._replace(places=(place, usage))


@lru_cache(maxsize=KEPT)
def _placed(place: Place, measure: CountedMeasure, usage: Usage) -> Labels | None:
    spots = place(measure.spans, usage)
    return None if spots is None else labels_at(measure, spots, usage)


def labels_at(measure: CountedMeasure, spots: list[Spot], usage: Usage) -> Labels | None:
    """The labels of one measure's sounds at these spots; None where the counting system has no count for one.

    Kodaly words go by lengths and neighbours, so a sound without a spot is taken out before words are given.
    """
    placed = list(zip(measure.spans, spots, strict=True))
    if usage.conventions.counting != "kodaly":
        spoken = usage.spoken
        return complete([spoken(*spot, s.silent, s.held, s.triplet) if spot else "" for s, spot in placed])
    there = tuple(sound._replace(onset=spot[0], length=spot[1]) for sound, spot in placed if spot is not None)
    words = iter(kodaly_labels(there, measure.symbols, usage.meter))
    named = [(sound, "" if spot is None else next(words)) for sound, spot in placed]
    return complete([None if word is None else usage.written(word, sound) for sound, word in named])


def row_by_lengths(reading: Reading) -> Row | None:
    """The labels that follow from the believed lengths; None where there is none, or the student would notice.

    A student may count past the end of the measure, but not past both the measure and four quarters (common practice).
    """
    counts, excerpt, rows = counts_of(reading), reading.excerpt, []
    for number, measure in enumerate(counts.measures):
        late = excerpt.pickup and not number
        row = _by_lengths(measure, reading.lengths[number], counts.usage, late)
        if row is None or not any(row):
            return None
        rows.append(row)
    return tuple(rows) or None


@lru_cache(maxsize=KEPT)
def _by_lengths(measure: CountedMeasure, believed: tuple[int, ...], usage: Usage, late: bool) -> Labels | None:
    spots = believed_spots(measure.spans, believed, usage.meter.ticks, late)
    return None if spots is None else labels_at(measure, spots, usage)


def believed_spots(measure: Spans, believed: tuple[int, ...], capacity: int, late: bool) -> list[Spot] | None:
    """Onset and length of each sound if its symbols last what is believed; a sound of no length has no spot."""
    lengths, total = list(believed), sum(believed)
    onset = capacity - total if late else 0
    if any(length % WRITTEN for length in believed) or total > max(capacity, TICKS) or onset < 0:
        return None
    if len(measure) < len(lengths):  # tied notes are one sound
        ends = (*(sound.at for sound in measure[1:]), len(lengths))
        lengths = [sum(lengths[s.at : end]) for s, end in zip(measure, ends, strict=True)]
    spots: list[Spot] = []
    for length in lengths:
        spots.append((onset, length) if length else None)
        onset += length
    return spots


def without_ties(excerpt: Excerpt) -> Excerpt:
    """An excerpt's notes and rests, no two of them tied."""
    measures = tuple(tuple(with_tie(s, False) for s in m) for m in excerpt.measures)
    return Excerpt(excerpt.meter, measures, excerpt.pickup, excerpt.mark)
