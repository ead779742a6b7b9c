"""Rows of counts that follow from what a student believes: labels from believed onsets and lengths.

Onsets and lengths are counted in ticks here, exact whole numbers, as the counting of the class is (pulse.TICKS).
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache, lru_cache
from itertools import accumulate

from barwright.errors import RhythmError
from barwright.misreadings.reading import Counted, Reading, Row, true_reading
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import Sound, count_labels, sounds
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.labels import dressed, labeller
from barwright.rhythm.meter import Meter
from barwright.rhythm.pulse import TICKS, counted_beats, ticks
from barwright.rhythm.syllables import kodaly_labels

# Systems that name the number of a beat.
NUMBERED = ("numbers", "eastman")

Measure = tuple[Counted, ...]
# Where a student places a sound: onset and length in ticks; None: it gets no label.
Spot = tuple[int, int] | None
# (onset in ticks, length in ticks, silent, held over a barline, triplet member) -> label; None: there is no count.
Speaker = Callable[[int, int, bool, bool, bool], str | None]


@lru_cache(maxsize=4096)
def counted_reading(excerpt: Excerpt, conventions: Conventions) -> Reading:
    """The excerpt read rightly, with all that there is to count, and the true labels where it has some."""
    reading = true_reading(excerpt, conventions)
    return replace(reading, counts=measures_of(reading), right=right_row(reading))


def right_row(reading: Reading) -> Row | None:
    """The labels as the class writes them; None where the excerpt has a blank or the counting system has no count."""
    if reading.right is not None or not measures_of(reading):
        return reading.right
    try:
        return count_labels(reading.excerpt, reading.conventions)
    except RhythmError:
        return None


@lru_cache(maxsize=4096)
def row_of_onsets(excerpt: Excerpt, conventions: Conventions) -> Row | None:
    """The labels as a class writes them that marks onsets only; None as for `right_row`."""
    return right_row(true_reading(excerpt, replace(conventions, held="onset_only")))


def measures_of(reading: Reading) -> tuple[Measure, ...]:
    """What there is to count in each measure; nothing at all with a blank, or a length that is no number of ticks."""
    if reading.counts is not None:
        return reading.counts
    if reading.excerpt.blank is not None:
        return ()
    found = []
    for number, measure in enumerate(sounds(reading.excerpt)):
        row = tuple(counted for s in measure if (counted := _counted(s, number)) is not None)
        if len(row) < len(measure):
            return ()
        found.append(row)
    return tuple(found)


def _counted(sound: Sound, number: int) -> Counted | None:
    onset, length = ticks(sound.onset), ticks(sound.length)
    if onset is None or length is None:
        return None
    return Counted(onset, length, sound.silent, sound.held, sound.triplet, number, sound.first.index)


def capacity_of(meter: Meter) -> int:
    """What a full measure holds, in ticks."""
    return meter.top * TICKS // meter.bottom


def beat_of(reading: Reading) -> int | None:
    """Length in ticks of the beat that the class counts; None where beats differ (additive meters by groups)."""
    lengths = {beat.length for beat in counted_beats(reading.meter, reading.conventions)}
    return lengths.pop() if len(lengths) == 1 else None


def is_numbered(reading: Reading) -> bool:
    """Whether counts are beat numbers."""
    return reading.conventions.counting in NUMBERED


def written(reading: Reading, bare: str, sound: Counted) -> str:
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
    """The reading with these labels; None if they are the right ones, or a measure would have none."""
    row = tuple(tuple(measure) for measure in labels)
    if not row or not all(any(measure) for measure in row) or row == right_row(reading):
        return None
    return replace(reading, labels=row)


def with_each(reading: Reading, label: Callable[[int, Counted], str | None]) -> Reading | None:
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
    reading: Reading, place: Callable[[Measure], Sequence[Spot] | None], *, meter: Meter | None = None
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
    reading: Reading, measure: Measure, spots: Sequence[Spot], *, meter: Meter | None = None
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


def _words_at(reading: Reading, measure: Measure, spots: Sequence[Spot]) -> tuple[str, ...] | None:
    number = measure[0].measure
    there = [
        Sound(sound.first, Fraction(spot[0], TICKS), Fraction(spot[1], TICKS), sound.held)
        for sound, spot in zip(sounds(reading.excerpt)[number], spots, strict=True)
        if spot is not None
    ]
    words = iter(kodaly_labels(tuple(there), reading.excerpt.measures[number], reading.meter))
    found = []
    for counted, spot in zip(measure, spots, strict=True):
        word = "" if spot is None else next(words)
        if word is None:
            return None
        found.append(written(reading, word, counted))
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


def _believed_spots(reading: Reading, measure: Measure, number: int) -> list[Spot] | None:
    """Onset and length of each sound if its symbols last what is believed; a sound of no length has no spot."""
    believed = [length for each in reading.lengths[number] if (length := ticks(each)) is not None]
    total, capacity = sum(believed), capacity_of(reading.meter)
    start = capacity - total if reading.excerpt.pickup and number == 0 else 0
    if len(believed) < len(reading.lengths[number]) or total > max(capacity, TICKS) or start < 0:
        return None
    ends = (*(sound.index for sound in measure[1:]), len(believed))
    lengths = [sum(believed[s.index : end]) for s, end in zip(measure, ends, strict=True)]
    onsets = accumulate(lengths[:-1], initial=start)
    return [(onset, length) if length else None for onset, length in zip(onsets, lengths, strict=True)]


def without_ties(excerpt: Excerpt) -> Excerpt:
    """The same notes and rests, no two of them tied."""
    measures = tuple(tuple(replace(s, tied=False) if s.tied else s for s in m) for m in excerpt.measures)
    return Excerpt(excerpt.meter, measures, excerpt.pickup, excerpt.mark)
