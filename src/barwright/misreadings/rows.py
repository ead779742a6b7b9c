"""Rows of counts that follow from what a student believes: labels from believed onsets and lengths.

Onsets and lengths are counted in ticks here, exact whole numbers, as the counting of the class is (`values.TICKS`).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Any

from barwright.errors import RhythmError
from barwright.misreadings.reading import PER_TICK, Counts, Reading, Row, Spot, true_reading
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import count_labels, format_row
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.labels import Span, Spans, dressed, labeller, spans
from barwright.rhythm.measure import with_tie
from barwright.rhythm.meter import Meter
from barwright.rhythm.pulse import by_groups, counted_beats
from barwright.rhythm.syllables import kodaly_labels
from barwright.rhythm.values import TICKS

# Systems that name the number of a beat.
NUMBERED = ("numbers", "eastman")

# (onset in ticks, length in ticks, silent, held over a barline, triplet member) -> label; None: there is no count.
Speaker = Callable[[int, int, bool, bool, bool], str | None]


@dataclass(frozen=True, slots=True)
class Sheet:
    """What every student error with counts is held against: the excerpt read rightly, with all that there is to count.

    `text` is the right row as text; `onsets` the labels of a class that marks onsets only, None where it has none.
    """

    reading: Reading
    text: str
    onsets: Row | None


@lru_cache(maxsize=2048)
def sheet_of(excerpt: Excerpt, conventions: Conventions) -> Sheet | None:
    """The sheet of an excerpt; None where it has a blank or the counting system has no count."""
    reading = true_reading(excerpt, conventions)
    counts = counts_of(reading)
    if counts.row is None:
        return None
    onsets = class_row(excerpt, _onsets_only(conventions))
    return Sheet(reading._replace(counts=counts), format_row(counts.row), onsets)


@cache
def _onsets_only(conventions: Conventions) -> Conventions:
    return replace(conventions, held="onset_only")


def class_row(excerpt: Excerpt, conventions: Conventions) -> Row | None:
    """The labels as the class writes them; None where the excerpt has a blank or the counting system has no count."""
    try:
        return None if excerpt.blank is not None else count_labels(excerpt, conventions)
    except RhythmError:
        return None


def counts_of(reading: Reading) -> Counts:
    """What there is to count in the excerpt of a reading."""
    if reading.counts is not None:
        return reading.counts
    excerpt = reading.excerpt
    measures = () if excerpt.blank is not None else spans(excerpt)
    spots: tuple[list[Spot], ...] = tuple([[(s.onset, s.length) for s in measure] for measure in measures])
    plain = bool(excerpt.meter.groups) or not by_groups(excerpt.meter)
    lengths = true_reading(excerpt, reading.conventions).lengths
    return Counts(measures, spots, lengths, class_row(excerpt, reading.conventions), plain)


def right_row(reading: Reading) -> Row | None:
    """The right labels of a reading's excerpt, as in `Counts`."""
    return counts_of(reading).row


def measures_of(reading: Reading) -> tuple[Spans, ...]:
    """The sounds and rests of a reading's excerpt, as in `Counts`."""
    return counts_of(reading).measures


def beat_of(reading: Reading) -> int | None:
    """Length in ticks of the beat that the class counts; None where beats differ (additive meters by groups)."""
    return _beat(reading.meter, reading.conventions)


@cache
def _beat(meter: Meter, conventions: Conventions) -> int | None:
    lengths = {beat.length for beat in counted_beats(meter, conventions)}
    return lengths.pop() if len(lengths) == 1 else None


def is_numbered(reading: Reading) -> bool:
    """Whether counts are beat numbers."""
    return reading.conventions.counting in NUMBERED


def written(reading: Reading, bare: str, sound: Span) -> str:
    """A bare count as the class writes it: a rest marked as a rest, a part held over a barline after a hyphen."""
    return dressed(bare, reading.conventions.rest_counts, silent=sound.silent, held=sound.held)


@cache
def speaker(meter: Meter, conventions: Conventions) -> Speaker:
    """How a class names what stands at any spot; past the end of the measure counting goes on. Not for kodaly."""
    label, style = labeller(meter, conventions), conventions.rest_counts

    @cache
    def spoken(onset: int, length: int, silent: bool, held: bool, triplet: bool) -> str | None:
        bare = label(onset, length, triplet)
        return None if bare is None else dressed(bare, style, silent=silent, held=held)

    return spoken


def with_labels(reading: Reading, labels: Sequence[Sequence[str]]) -> Reading | None:
    """A right reading but for these labels; None if they are the right ones, or a measure would have none."""
    row = tuple(map(tuple, labels))
    if not row or not all(map(any, row)) or row == right_row(reading):
        return None
    r = reading
    return Reading(r.excerpt, r.conventions, r.lengths, r.capacity, counts=r.counts, labels=row)


def complete(labels: list[Any]) -> tuple[str, ...] | None:
    """The labels of a measure; None if one of them is None."""
    return None if None in labels else tuple(labels)


def with_each(reading: Reading, label: Callable[[int, Span], str | None]) -> Reading | None:
    """The reading with a label from each sound and its index in the measure; None where one has none."""
    found = []
    for measure in measures_of(reading):
        row = complete([label(index, sound) for index, sound in enumerate(measure)])
        if row is None:
            return None
        found.append(row)
    return with_labels(reading, found)


def with_spots(
    reading: Reading, place: Callable[[Spans], list[Spot] | None], *, meter: Meter | None = None
) -> Reading | None:
    """The reading with every sound counted at the spot that `place` gives it; None where `place` gives none."""
    counts, found = counts_of(reading), []
    for number, measure in enumerate(counts.measures):
        spots = place(measure)
        if spots == counts.spots[number] and counts.row is not None and counts.plain and meter is None:
            row: tuple[str, ...] | None = counts.row[number]
        else:
            row = None if spots is None else row_at(reading, measure, spots, meter=meter)
        if row is None:
            return None
        found.append(row)
    return with_labels(reading, found)


def row_at(
    reading: Reading, measure: Spans, spots: list[Spot], *, meter: Meter | None = None
) -> tuple[str, ...] | None:
    """The labels of one measure's sounds at these spots; None where the counting system has no count for one.

    Kodaly words go by lengths and neighbours, so a sound without a spot is taken out before words are given.
    """
    if reading.conventions.counting == "kodaly":
        return _words_at(reading, measure, spots)
    spoken = speaker(meter or reading.meter, reading.conventions)
    placed = zip(measure, spots, strict=True)
    return complete([spoken(*spot, s.silent, s.held, s.triplet) if spot else "" for s, spot in placed])


def _words_at(reading: Reading, measure: Spans, spots: list[Spot]) -> tuple[str, ...] | None:
    placed = zip(measure, spots, strict=True)
    there = tuple(sound._replace(onset=spot[0], length=spot[1]) for sound, spot in placed if spot is not None)
    words = iter(kodaly_labels(there, reading.excerpt.measures[measure[0].measure], reading.meter))
    found = []
    for sound, spot in zip(measure, spots, strict=True):
        word = "" if spot is None else next(words)
        if word is None:
            return None
        found.append(written(reading, word, sound))
    return tuple(found)


def row_by_lengths(reading: Reading) -> Row | None:
    """The labels that follow from the believed lengths; None where there is none, or the student would notice.

    A student may count past the end of the measure, but not past both the measure and four quarters (common practice).
    """
    counts, found = counts_of(reading), []
    for number, measure in enumerate(counts.measures):
        believed = reading.lengths[number]
        as_it_is = believed == counts.lengths[number] and sum(believed) <= PER_TICK * reading.meter.ticks
        if as_it_is and counts.row is not None and counts.plain:
            row: tuple[str, ...] | None = counts.row[number]
        else:
            spots = _believed_spots(reading, measure, number)
            row = None if spots is None else row_at(reading, measure, spots)
        if row is None or not any(row):
            return None
        found.append(row)
    return tuple(found) or None


def _believed_spots(reading: Reading, measure: Spans, number: int) -> list[Spot] | None:
    """Onset and length of each sound if its symbols last what is believed; a sound of no length has no spot."""
    believed, capacity = reading.lengths[number], reading.meter.ticks
    lengths = [length // PER_TICK for length in believed]
    total = sum(lengths)
    onset = capacity - total if reading.excerpt.pickup and number == 0 else 0
    if total * PER_TICK != sum(believed) or total > max(capacity, TICKS) or onset < 0:
        return None
    if len(measure) < len(lengths):  # tied notes are one sound
        ends = (*(sound.at for sound in measure[1:]), len(lengths))
        lengths = [sum(lengths[s.at : end]) for s, end in zip(measure, ends, strict=True)]
    found: list[Spot] = []
    for length in lengths:
        found.append((onset, length) if length else None)
        onset += length
    return found


def without_ties(excerpt: Excerpt) -> Excerpt:
    """The same notes and rests, no two of them tied."""
    measures = tuple(tuple(with_tie(s, False) for s in m) for m in excerpt.measures)
    return Excerpt(excerpt.meter, measures, excerpt.pickup, excerpt.mark)
