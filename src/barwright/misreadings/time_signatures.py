"""Errors about the time signature: what a measure holds, what the numbers tell, which note gets the beat.

Claims about the numbers are texts: `how-many N`, `gets-beat U`, `adds-up N U`, `stands-for U`, `big-beats N`,
`kind-of-note`, `notes N`, `measures N`, `lasts N` (N a number, U a bottom number). A claim that is true of the excerpt
is not made.
"""

from fractions import Fraction

from barwright.counting.labels import Spans
from barwright.misreadings.adding_up import notes_claim
from barwright.misreadings.belief import (
    COMPLETION,
    FITTING,
    HYPOTHESIS,
    LABELING,
    SAYING,
    SIGNATURES,
    Misreading,
    Reading,
    Spot,
    Usage,
    how_many,
    true_totals,
    with_capacity,
)
from barwright.misreadings.believed_rows import with_spots
from barwright.rhythm.meter import Meter
from barwright.rhythm.said_beats import counts_in_beats
from barwright.rhythm.values import TICKS, ticks

FOUR_QUARTERS = TICKS
FOUR_BEATS = 4
NAMED = (1, 2, 4, 8)  # numbers that stand for a note
SAID_BEATS = (2, 4)  # nobody says that a measure has eight beats
QUARTER = ticks(Fraction(1, 4))
# Notes that are called a beat in some meter, besides that of the bottom number.
BEATS = (QUARTER, ticks(Fraction(3, 8)))
THREE_FOUR, FOUR_FOUR, TWO_TWO, SIX_EIGHT = Meter(3, 4), Meter(4, 4), Meter(2, 2), Meter(6, 8)

_RHYTHM = frozenset({"rhythm-for-time-signature"})
_SIGNATURE = frozenset({"time-signature-for-rhythm"})


def numbers_of_the_signature_swapped(reading: Reading) -> Reading | None:
    """What a student reads who swaps the two numbers: the bottom one says how many, so a measure has four quarters."""
    meter = reading.meter
    note = meter.top in NAMED and counts_in_beats(meter, reading.conventions)
    bottom = "" if meter.bottom not in SAID_BEATS else f"how-many {meter.bottom}"
    top = f"gets-beat {meter.top}" if note else "kind-of-note"
    return reading._replace(capacity=FOUR_QUARTERS, top=top, bottom=bottom)


def jobs_of_the_numbers_mixed_up(reading: Reading) -> Reading | None:
    """What a student says who knows the time signature, but not which number says what.

    Each is given the other's job: the top number says which note gets the beat, the bottom one how many there are.
    """
    meter = reading.meter
    said = counts_in_beats(meter, reading.conventions)
    note = f"gets-beat {meter.bottom}" if said else f"stands-for {meter.bottom}"
    return reading._replace(top=note, bottom=how_many(reading, meter.top))


def quarter_always_gets_the_beat(reading: Reading) -> Reading | None:
    """What a student reads who passes over the bottom number and always counts quarter notes."""
    meter = reading.meter
    if reading.unit == QUARTER:
        return None
    return reading._replace(
        capacity=meter.top * QUARTER, beat=QUARTER, top=f"adds-up {meter.top} 4", bottom="gets-beat 4"
    )


def every_measure_has_four_beats(reading: Reading) -> Reading | None:
    """What a student reads who counts to four in every measure, whatever the time signature says."""
    other = with_capacity(reading, FOUR_QUARTERS)
    if other is None:
        return None
    felt = {reading.capacity / beat for beat in (reading.unit, *BEATS)}
    top = "" if FOUR_BEATS in felt else f"how-many {FOUR_BEATS}"
    return other._replace(holds=FOUR_BEATS * reading.unit, top=top)


def half_of_the_measure_taken_for_the_whole(reading: Reading) -> Reading | None:
    """What a student reads who takes the first half of a measure of four beats for all of it: 1 2 1 2.

    Marching, and songs in 2/4, give two beats at a time (common practice).
    """
    meter = reading.meter
    if meter.top != FOUR_BEATS:
        return None
    return reading._replace(capacity=reading.capacity // 2, top=how_many(reading, meter.top // 2))


def steps_between_the_beats_counted(reading: Reading) -> Reading | None:
    """What a student reads who counts the steps from beat to beat, not the beats: from 1 to 4 it is three steps.

    Like counting the gaps between fence posts (common practice).
    """
    meter = reading.meter
    if meter.top < 3:
        return None
    return reading._replace(capacity=reading.capacity - reading.unit, top=how_many(reading, meter.top - 1))


def four_four_taken_for_granted(reading: Reading) -> Reading | None:
    """What a student writes who puts 4/4 before every rhythm without adding it up.

    Most pieces that beginners play are in 4/4 (common practice).
    """
    if reading.meter != FOUR_FOUR:
        return None
    held = true_totals(reading.excerpt)
    return reading._replace(capacity=held[0]) if len(set(held)) == 1 else None


def six_eight_counted_as_three_four(reading: Reading) -> Reading | None:
    """What a student reads who takes 6/8 for 3/4: both hold the same, and quarter beats are better known."""
    return _taken_for(reading, THREE_FOUR) if reading.meter in (SIX_EIGHT, THREE_FOUR) else None


def cut_time_counted_in_four(reading: Reading) -> Reading | None:
    """What a student reads who takes 2/2 for 4/4: the quarter note gets the beat, where the class counts half notes."""
    if reading.conventions.cut_time == "in_four" or reading.meter not in (TWO_TWO, FOUR_FOUR):
        return None
    return _taken_for(reading, FOUR_FOUR)


def _taken_for(reading: Reading, meter: Meter) -> Reading:
    """The reading with the counts of another meter of the same capacity; as it is where that is the printed one.

    It is a reading even then: the student takes the printed meter, and its rhythms, for the other's as well.
    """
    return with_spots(reading, _as_they_are, meter=meter) or reading


def _as_they_are(measure: Spans, _usage: Usage) -> list[Spot]:
    return [(sound.onset, sound.length) for sound in measure]


def every_eighth_is_a_big_beat(reading: Reading) -> Reading | None:
    """What a student says who hears six big beats in 6/8 where the class counts two; nine, twelve likewise."""
    meter = reading.meter
    if meter.kind != "compound" or reading.conventions.compound == "bottom":
        return None
    return reading._replace(top=f"big-beats {meter.top}")


def bottom_number_counts_the_notes(reading: Reading) -> Reading | None:
    """What a student says who thinks that the bottom number tells how many notes stand in a measure."""
    return reading._replace(bottom=notes_claim(reading, reading.meter.bottom))


def bottom_number_tells_how_long_its_note_lasts(reading: Reading) -> Reading | None:
    """What a student says who looks for the note that lasts so many beats: 4 on the bottom stands for the whole note.

    "A whole note gets four beats" is drilled, so 4 and the whole note are linked (common practice). The half note, with
    its two beats, is found rightly.
    """
    return reading._replace(bottom="gets-beat 1") if reading.meter.bottom == FOUR_BEATS else None


def signature_counts_the_measures(reading: Reading) -> Reading | None:
    """What a student says who thinks that a number of the time signature tells how many measures the music has."""
    measures = len(reading.excerpt.measures)
    if measures == 1:
        return None  # one measure stands there: nobody says that it is four
    true = {measures, measures - reading.excerpt.pickup}
    top, bottom = ("" if n in true else f"measures {n}" for n in (reading.meter.top, reading.meter.bottom))
    return reading._replace(top=top, bottom=bottom)


def signature_tells_how_long_a_note_lasts(reading: Reading) -> Reading | None:
    """What a student says who thinks that a number of the time signature tells how many beats each note lasts.

    Nothing is said where there is no note.
    """
    meter = reading.meter
    pairs = zip(reading.excerpt.measures, reading.lengths, strict=True)
    lengths = {t for symbols, true in pairs for s, t in zip(symbols, true, strict=True) if not s.silent}
    if not lengths:
        return None
    alike = lengths if len(lengths) == 1 else set()
    true = {Fraction(length, beat) for length in alike for beat in (reading.unit, *BEATS)}
    top, bottom = ("" if n in true else f"lasts {n}" for n in (meter.top, meter.bottom))
    return reading._replace(top=top, bottom=bottom)


METERS = (
    Misreading(
        numbers_of_the_signature_swapped,
        COMPLETION | _RHYTHM | FITTING | SAYING,
        "capacity",
        confused_with=("every-measure-has-four-beats",),
        source=HYPOTHESIS,
    ),
    Misreading(jobs_of_the_numbers_mixed_up, SAYING, "answer", source=HYPOTHESIS),
    Misreading(
        quarter_always_gets_the_beat,
        COMPLETION | SIGNATURES | FITTING | SAYING,
        "capacity",
        needs=frozenset({"q"}),
        source=HYPOTHESIS,
    ),
    Misreading(
        every_measure_has_four_beats,
        COMPLETION | _RHYTHM | FITTING | SAYING,
        "capacity",
        confused_with=("numbers-of-the-signature-swapped",),
        source=HYPOTHESIS,
    ),
    Misreading(half_of_the_measure_taken_for_the_whole, _RHYTHM | FITTING | SAYING, "capacity", source=HYPOTHESIS),
    Misreading(steps_between_the_beats_counted, FITTING | SAYING, "capacity", source=HYPOTHESIS),
    Misreading(four_four_taken_for_granted, _SIGNATURE, "capacity", source=HYPOTHESIS),
    Misreading(six_eight_counted_as_three_four, LABELING | SIGNATURES, "grouping", source=HYPOTHESIS),
    Misreading(cut_time_counted_in_four, LABELING | SIGNATURES, "grouping", source=HYPOTHESIS),
    Misreading(every_eighth_is_a_big_beat, SAYING, "grouping", source=HYPOTHESIS),
    Misreading(bottom_number_counts_the_notes, SAYING, "answer", source=HYPOTHESIS),
    Misreading(
        bottom_number_tells_how_long_its_note_lasts, SAYING, "answer", needs=frozenset({"w"}), source=HYPOTHESIS
    ),
    Misreading(signature_counts_the_measures, SAYING, "answer", source=HYPOTHESIS),
    Misreading(signature_tells_how_long_a_note_lasts, SAYING, "answer", source=HYPOTHESIS),
)
