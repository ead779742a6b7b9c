"""Rows of counts that follow from what a student believes: labels from believed onsets and lengths.

Onsets and lengths are counted in ticks here, exact whole numbers, as the counting of the class is (`values.TICKS`).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import accumulate

from barwright.errors import RhythmError
from barwright.misreadings.reading import PER_TICK, Reading, Row, true_reading
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import count_labels, format_row
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.labels import Span, Spans, dressed, labeller, spans
from barwright.rhythm.measure import with_tie
from barwright.rhythm.meter import Meter
from barwright.rhythm.pulse import counted_beats
from barwright.rhythm.syllables import kodaly_labels
from barwright.rhythm.values import TICKS

# Systems that name the number of a beat.
NUMBERED = ("numbers", "eastman")

# Where a student places a sound: onset and length in ticks; None: it gets no label.
Spot = tuple[int, int] | None
# (onset in ticks, length in ticks, silent, held over a barline, triplet member) -> label; None: there is no count.
Speaker = Callable[[int, int, bool, bool, bool], str | None]


@dataclass(frozen=True, slots=True)
class Sheet:
    """What every student error with counts is held against: the excerpt read rightly, and the right row.

    `reading` has all that there is to count, and the true labels; `text` is the right row as text; `onsets` the labels
    of a class that marks onsets only, None where it has none.
    """

    reading: Reading
    text: str
    onsets: Row | None


@lru_cache(maxsize=4096)
def sheet_of(excerpt: Excerpt, conventions: Conventions) -> Sheet | None:
    """The sheet of an excerpt; None where it has a blank or the counting system has no count."""
    reading = true_reading(excerpt, conventions)
    right = right_row(reading)
    if right is None:
        return None
    onsets = right_row(true_reading(excerpt, _onsets_only(conventions)))
    return Sheet(replace(reading, counts=measures_of(reading), right=right), format_row(right), onsets)


@cache
def _onsets_only(conventions: Conventions) -> Conventions:
    return replace(conventions, held="onset_only")


def right_row(reading: Reading) -> Row | None:
    """The labels as the class writes them; None where the excerpt has a blank or the counting system has no count."""
    if reading.right is not None or not measures_of(reading):
        return reading.right
    try:
        return count_labels(reading.excerpt, reading.conventions)
    except RhythmError:
        return None


def measures_of(reading: Reading) -> tuple[Spans, ...]:
    """What there is to count in each measure; nothing at all with a blank."""
    if reading.counts is not None:
        return reading.counts
    return () if reading.excerpt.blank is not None else spans(reading.excerpt)


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
    row = tuple(tuple(measure) for measure in labels)
    if not row or not all(any(measure) for measure in row) or row == right_row(reading):
        return None
    r = reading  # not `replace`, as in `with_lengths`
    return Reading(r.excerpt, r.conventions, r.lengths, r.capacity, counts=r.counts, right=r.right, labels=row)


def with_each(reading: Reading, label: Callable[[int, Span], str | None]) -> Reading | None:
    """The reading with a label from each sound and its index in the measure; None where one has none."""
    found = []
    for measure in measures_of(reading):
        row = []
        for index, sound in enumerate(measure):
            text = label(index, sound)
            if text is None:
                return None
            row.append(text)
        found.append(row)
    return with_labels(reading, found)


def with_spots(
    reading: Reading, place: Callable[[Spans], Sequence[Spot] | None], *, meter: Meter | None = None
) -> Reading | None:
    """The reading with every sound counted at the spot that `place` gives it; None where `place` gives none."""
    found = []
    for measure in measures_of(reading):
        spots = place(measure)
        row = None if spots is None else row_at(reading, measure, spots, meter=meter)
        if row is None:
            return None
        found.append(row)
    return with_labels(reading, found)


def row_at(
    reading: Reading, measure: Spans, spots: Sequence[Spot], *, meter: Meter | None = None
) -> tuple[str, ...] | None:
    """The labels of one measure's sounds at these spots; None where the counting system has no count for one.

    Kodaly words go by lengths and neighbours, so a sound without a spot is taken out before words are given.
    """
    if reading.conventions.counting == "kodaly":
        return _words_at(reading, measure, spots)
    spoken, found = speaker(meter or reading.meter, reading.conventions), []
    for sound, spot in zip(measure, spots, strict=True):
        label = "" if spot is None else spoken(*spot, sound.silent, sound.held, sound.triplet)
        if label is None:
            return None
        found.append(label)
    return tuple(found)


def _words_at(reading: Reading, measure: Spans, spots: Sequence[Spot]) -> tuple[str, ...] | None:
    placed = zip(measure, spots, strict=True)
    there = tuple(replace(sound, onset=spot[0], length=spot[1]) for sound, spot in placed if spot is not None)
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
    found = []
    for number, measure in enumerate(measures_of(reading)):
        spots = _believed_spots(reading, measure, number)
        row = None if spots is None else row_at(reading, measure, spots)
        if row is None or not any(row):
            return None
        found.append(row)
    return tuple(found) or None


def _believed_spots(reading: Reading, measure: Spans, number: int) -> list[Spot] | None:
    """Onset and length of each sound if its symbols last what is believed; a sound of no length has no spot."""
    believed = reading.lengths[number]
    total, capacity = sum(believed) // PER_TICK, reading.meter.ticks
    start = capacity - total if reading.excerpt.pickup and number == 0 else 0
    if any(length % PER_TICK for length in believed) or total > max(capacity, TICKS) or start < 0:
        return None
    ends = (*(sound.index for sound in measure[1:]), len(believed))
    lengths = [sum(believed[s.index : end]) // PER_TICK for s, end in zip(measure, ends, strict=True)]
    onsets = accumulate(lengths[:-1], initial=start)
    return [(onset, length) if length else None for onset, length in zip(onsets, lengths, strict=True)]


def without_ties(excerpt: Excerpt) -> Excerpt:
    """The same notes and rests, no two of them tied."""
    measures = tuple(tuple(with_tie(s, False) for s in m) for m in excerpt.measures)
    return Excerpt(excerpt.meter, measures, excerpt.pickup, excerpt.mark)
