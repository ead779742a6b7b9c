"""Beginners' errors of counting whole, half and quarter notes and rests: each with its reasoning, common practice."""

from barwright.counting.labels import Spans
from barwright.misreadings.belief import (
    HYPOTHESIS,
    LABELING,
    Misreading,
    Reading,
    Spot,
    Usage,
)
from barwright.misreadings.believed_rows import counts_of, with_names, with_spots

FOUR_BEATS = 4


def lengths_written_as_counts(reading: Reading) -> Reading | None:
    """What a student writes who puts under each note how many beats it lasts, not when it comes.

    Note values are drilled as numbers before counting starts, so the number that belongs to a half note is 2 (common
    practice).
    """
    return with_names(reading, _lengths) if counts_of(reading).usage.numbered else None


def _lengths(measure: Spans, usage: Usage) -> list[str] | None:
    beat = usage.beat
    if beat is None or any(sound.length % beat for sound in measure):
        return None
    return [usage.written(str(sound.length // beat), sound) for sound in measure]


def every_note_counted_from_one(reading: Reading) -> Reading | None:
    """What a student writes who counts each note by itself and begins with 1 every time.

    A half note is learned as "1-2", a whole note as "1-2-3-4"; the counts are kept with the symbol (common practice).
    """
    return with_spots(reading, _from_one) if counts_of(reading).usage.numbered else None


def _from_one(measure: Spans, _usage: Usage) -> list[Spot]:
    return [(0, sound.length) for sound in measure]


def count_restarts_at_the_half_measure(reading: Reading) -> Reading | None:
    """What a student writes who counts a measure of four beats as two halves: 1 2 1 2.

    Marching, and songs in 2/4, give two beats at a time (common practice).
    """
    usage = counts_of(reading).usage
    if not usage.numbered or usage.beat is None or reading.meter.ticks != FOUR_BEATS * usage.beat:
        return None
    return with_names(reading, _in_halves)


def _in_halves(measure: Spans, usage: Usage) -> list[str | None]:
    half, bare = usage.meter.ticks // 2, usage.bare
    joins = usage.conventions.held != "onset_only" and usage.conventions.counting == "numbers"
    labels: list[str | None] = []
    for sound in measure:
        onset, end = sound.onset, sound.onset + sound.length
        if end <= half or onset >= half:
            text = bare(onset % half, sound.length, sound.triplet)
        else:
            first, second = bare(onset, half - onset, sound.triplet), bare(0, end - half, sound.triplet)
            text = first if first is None or second is None or not joins else f"{first}-{second}"
        labels.append(None if text is None else usage.written(text, sound))
    return labels


def count_starts_again_after_a_rest(reading: Reading) -> Reading | None:
    """What a student writes who begins again at 1 with the first note after a rest, as after a stop in speech."""
    return with_spots(reading, _again) if counts_of(reading).usage.numbered else None


def _again(measure: Spans, usage: Usage) -> list[Spot] | None:
    spots: list[Spot] = []
    beat, start = usage.beat, 0
    for index, sound in enumerate(measure):
        if index and measure[index - 1].silent and not sound.silent:
            start = sound.onset
        if beat is None or (sound.onset - start) % beat != sound.onset % beat:
            return None
        spots.append((sound.onset - start, sound.length))
    return spots


def last_held_beat_counted_again(reading: Reading) -> Reading | None:
    """What a student writes who gives the last held beat of a long note to the next note as well: 1-2 2-3.

    The voice stays on the number while the eye moves on (common practice).
    """
    return with_spots(reading, _late) if counts_of(reading).usage.numbered else None


def _late(measure: Spans, usage: Usage) -> list[Spot] | None:
    beat, behind = usage.beat, 0
    if beat is None:
        return None
    spots: list[Spot] = []
    for sound in measure:
        spots.append((sound.onset - behind, sound.length))
        if sound.length >= 2 * beat and sound.length % beat == 0:
            behind += beat
    return spots


def last_beat_of_each_note_written(reading: Reading) -> Reading | None:
    """What a student writes who counts a long note through and puts down the last number, not the first."""
    return with_spots(reading, _last_beats) if counts_of(reading).usage.numbered else None


def _last_beats(measure: Spans, usage: Usage) -> list[Spot] | None:
    beat = usage.beat
    if beat is None:
        return None
    long = [sound.length >= 2 * beat and sound.length % beat == 0 for sound in measure]
    return [
        (sound.onset + sound.length - beat, beat) if is_long else (sound.onset, sound.length)
        for sound, is_long in zip(measure, long, strict=True)
    ]


def counted_to_four_in_every_measure(reading: Reading) -> Reading | None:
    """What a student writes who counts to four in every measure: the last note or rest is held until four.

    1 2 3 4 is said before every piece in 4/4 and becomes a habit (common practice).
    """
    beat = counts_of(reading).usage.beat
    if reading.conventions.counting != "numbers" or beat is None or reading.conventions.held != "beats":
        return None
    if reading.meter.ticks >= FOUR_BEATS * beat or reading.excerpt.pickup or reading.meter.kind != "simple":
        return None
    return with_spots(reading, _to_four)


def _to_four(measure: Spans, usage: Usage) -> list[Spot] | None:
    if usage.beat is None:
        return None
    *before, last = measure
    return [*((s.onset, s.length) for s in before), (last.onset, FOUR_BEATS * usage.beat - last.onset)]


BEGINNER_COUNTS = (
    Misreading(lengths_written_as_counts, LABELING, "label", source=HYPOTHESIS),
    Misreading(every_note_counted_from_one, LABELING, "label", source=HYPOTHESIS),
    Misreading(count_restarts_at_the_half_measure, LABELING, "label", source=HYPOTHESIS),
    Misreading(count_starts_again_after_a_rest, LABELING, "label", needs=frozenset({"r"}), source=HYPOTHESIS),
    Misreading(last_held_beat_counted_again, LABELING, "label", source=HYPOTHESIS),
    Misreading(last_beat_of_each_note_written, LABELING, "label", source=HYPOTHESIS),
    Misreading(counted_to_four_in_every_measure, LABELING, "label", source=HYPOTHESIS),
)
