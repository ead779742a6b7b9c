"""Beginners' errors of counting whole, half and quarter notes and rests: each with its reasoning, common practice."""

from barwright.misreadings.reading import LABELING, Misreading, Reading, Spot
from barwright.misreadings.rows import (
    beat_of,
    is_numbered,
    measures_of,
    row_at,
    with_each,
    with_labels,
    with_spots,
    written,
)
from barwright.rhythm.labels import Span, Spans, labeller

FOUR_BEATS = 4


def lengths_written_as_counts(reading: Reading) -> Reading | None:
    """What a student writes who puts under each note how many beats it lasts, not when it comes.

    Note values are drilled as numbers before counting starts, so the number that belongs to a half note is 2 (common
    practice).
    """
    beat = beat_of(reading)
    if not is_numbered(reading) or beat is None:
        return None

    def label(_: int, sound: Span) -> str | None:
        beats, part = divmod(sound.length, beat)
        return None if part else written(reading, str(beats), sound)

    return with_each(reading, label)


def every_note_counted_from_one(reading: Reading) -> Reading | None:
    """What a student writes who counts each note by itself and begins with 1 every time.

    A half note is learned as "1-2", a whole note as "1-2-3-4"; the counts are kept with the symbol (common practice).
    """
    if not is_numbered(reading):
        return None
    return with_spots(reading, lambda measure: [(0, sound.length) for sound in measure])


def count_restarts_at_the_half_measure(reading: Reading) -> Reading | None:
    """What a student writes who counts a measure of four beats as two halves: 1 2 1 2.

    Marching, and songs in 2/4, give two beats at a time (common practice).
    """
    beat = beat_of(reading)
    if not is_numbered(reading) or beat is None or reading.meter.ticks != FOUR_BEATS * beat:
        return None
    half = 2 * beat
    bare = labeller(reading.meter, reading.conventions)
    joins = reading.conventions.held != "onset_only" and reading.conventions.counting == "numbers"

    def label(_: int, sound: Span) -> str | None:
        onset, end = sound.onset, sound.onset + sound.length
        if end <= half or onset >= half:
            text = bare(onset % half, sound.length, sound.triplet)
        else:
            first, second = bare(onset, half - onset, sound.triplet), bare(0, end - half, sound.triplet)
            text = first if first is None or second is None or not joins else f"{first}-{second}"
        return None if text is None else written(reading, text, sound)

    return with_each(reading, label)


def count_starts_again_after_a_rest(reading: Reading) -> Reading | None:
    """What a student writes who begins again at 1 with the first note after a rest, as after a stop in speech."""
    beat = beat_of(reading)
    if not is_numbered(reading) or beat is None:
        return None

    def again(measure: Spans) -> list[Spot] | None:
        found: list[Spot] = []
        start = 0
        for index, sound in enumerate(measure):
            if index and measure[index - 1].silent and not sound.silent:
                start = sound.onset
            if (sound.onset - start) % beat != sound.onset % beat:
                return None
            found.append((sound.onset - start, sound.length))
        return found

    return with_spots(reading, again)


def last_held_beat_counted_again(reading: Reading) -> Reading | None:
    """What a student writes who gives the last held beat of a long note to the next note as well: 1-2 2-3.

    The voice stays on the number while the eye moves on (common practice).
    """
    beat = beat_of(reading)
    if not is_numbered(reading) or beat is None:
        return None

    def late(measure: Spans) -> list[Spot]:
        found: list[Spot] = []
        behind = 0
        for sound in measure:
            found.append((sound.onset - behind, sound.length))
            if sound.length >= 2 * beat and sound.length % beat == 0:
                behind += beat
        return found

    return with_spots(reading, late)


def last_beat_of_each_note_written(reading: Reading) -> Reading | None:
    """What a student writes who counts a long note through and puts down the last number, not the first."""
    beat = beat_of(reading)
    if not is_numbered(reading) or beat is None:
        return None

    def end(sound: Span) -> Spot:
        if sound.length < 2 * beat or sound.length % beat:
            return (sound.onset, sound.length)
        return (sound.onset + sound.length - beat, beat)

    return with_spots(reading, lambda measure: [end(sound) for sound in measure])


def counted_to_four_in_every_measure(reading: Reading) -> Reading | None:
    """What a student writes who counts to four in every measure: the last note or rest is held until four.

    1 2 3 4 is said before every piece in 4/4 and becomes a habit (common practice).
    """
    beat = beat_of(reading)
    if reading.conventions.counting != "numbers" or beat is None or reading.conventions.held != "beats":
        return None
    if reading.meter.ticks >= FOUR_BEATS * beat or reading.excerpt.pickup or reading.meter.kind != "simple":
        return None
    found = []
    for measure in measures_of(reading):
        *before, last = measure
        spots = [(s.onset, s.length) for s in before]
        row = row_at(reading, measure, [*spots, (last.onset, FOUR_BEATS * beat - last.onset)])
        if row is None:
            return None
        found.append(row)
    return with_labels(reading, found)


BEGINNER_COUNTS = (
    Misreading("lengths-written-as-counts", lengths_written_as_counts, LABELING, "label"),
    Misreading("every-note-counted-from-one", every_note_counted_from_one, LABELING, "label"),
    Misreading("count-restarts-at-the-half-measure", count_restarts_at_the_half_measure, LABELING, "label"),
    Misreading(
        "count-starts-again-after-a-rest", count_starts_again_after_a_rest, LABELING, "label", needs=frozenset({"r"})
    ),
    Misreading("last-held-beat-counted-again", last_held_beat_counted_again, LABELING, "label"),
    Misreading("last-beat-of-each-note-written", last_beat_of_each_note_written, LABELING, "label"),
    Misreading("counted-to-four-in-every-measure", counted_to_four_in_every_measure, LABELING, "label"),
)
