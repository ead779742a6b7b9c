"""Errors of counting that add what is not there: hyphens, parentheses, counts; and their inverses.

Most errors leave something out. Without these the right row would be the one with most signs (all common practice;
hypotheses to be tested on class data).
"""

from collections.abc import Sequence

from barwright.counting.labels import Spans
from barwright.misreadings.belief import (
    HYPOTHESIS,
    LABELING,
    Misreading,
    Reading,
    Spot,
    Usage,
)
from barwright.misreadings.believed_rows import counts_of, with_changes, with_spots
from barwright.misreadings.count_labels import with_grouped_counts
from barwright.misreadings.count_signs import inside, with_marks
from barwright.rhythm.values import TICKS

HALF_NOTE = TICKS // 2
_PICKED = frozenset({"rhythm-for-counts"})
Labels = Sequence[str]


def _counts_held_beats(reading: Reading) -> bool:
    conventions = reading.conventions
    return (
        conventions.counting == "numbers" and conventions.held == "beats" and counts_of(reading).usage.beat is not None
    )


def counted_up_to_the_next_note(reading: Reading) -> Reading | None:
    """What a student writes who counts each note up to the number on which the next symbol begins, that one included.

    Both ends are counted, as when posts of a fence are counted for its parts (common practice).
    """
    return with_spots(reading, _both_ends) if _counts_held_beats(reading) else None


def _both_ends(measure: Spans, usage: Usage) -> list[Spot] | None:
    beat = usage.beat
    if beat is None:
        return None
    *before, last = measure
    spots: list[Spot] = []
    for sound in before:
        whole = not sound.silent and sound.onset % beat == 0 and sound.length % beat == 0
        spots.append((sound.onset, sound.length + beat * whole))
    return [*spots, (last.onset, last.length)]


def last_held_beat_left_out(reading: Reading) -> Reading | None:
    """What a student writes who lets go of a long note one beat too early: three beats become 1-2."""
    return with_spots(reading, _let_go) if _counts_held_beats(reading) else None


def _let_go(measure: Spans, usage: Usage) -> list[Spot] | None:
    beat = usage.beat
    if beat is None:
        return None
    return [(s.onset, s.length - beat * (not s.silent and s.length >= 2 * beat)) for s in measure]


def open_notes_taken_for_rests(reading: Reading) -> Reading | None:
    """What a student writes who takes notes with an open head for rests: what is empty seems silent."""
    return None if any(s.tied for s in reading.excerpt.symbols) else with_marks(reading, _open_silent)


def _open_silent(measure: Spans, labels: Labels) -> list[str]:
    pairs = zip(measure, labels, strict=True)
    return [f"({x})" if s.length >= HALF_NOTE and x and not x.startswith("(") else x for s, x in pairs]


def long_rests_taken_for_notes(reading: Reading) -> Reading | None:
    """What a student writes who takes the block of the half or whole rest for a note, but knows the other rests."""
    silent = [s for s in reading.excerpt.symbols if s.silent]
    if all(s.value is None or s.value.ticks >= HALF_NOTE for s in silent):
        return None  # then it is no other error than counts of rests without parentheses
    return with_marks(reading, _blocks_sound)


def _blocks_sound(measure: Spans, labels: Labels) -> list[str]:
    pairs = zip(measure, labels, strict=True)
    return [inside(label) if s.silent and s.length >= HALF_NOTE else label for s, label in pairs]


def tied_note_taken_for_a_rest(reading: Reading) -> Reading | None:
    """What a student writes who takes the second note of a tie for silence, since it is not played again."""
    if reading.conventions.rest_counts != "parentheses":
        return None
    return with_grouped_counts(reading, _silent_after_the_first)


def _silent_after_the_first(group: Sequence[str], held: bool) -> str:
    """One sound's counts; `held`: a tie leads into it, so even its first note is not played."""
    played = 0 if held else 1
    return " ".join([*group[:played], *(f"({label})" for label in group[played:])])


def every_beat_split_in_two(reading: Reading) -> Reading | None:
    """What a student writes who puts 1 & 2 & under all that lasts, even where nothing begins on the &.

    Counting 1 & 2 & 3 & 4 & aloud is drilled before it is written (common practice).
    """
    simple = reading.meter.kind == "simple" and counts_of(reading).usage.beat is not None
    return with_changes(reading, _with_ands) if _counts_held_beats(reading) and simple else None


def _with_ands(measure: Spans, labels: Labels) -> list[str]:
    """Whole beats as a number and an & each; what begins or ends inside a beat stays as it is."""
    return [_split(label) if label.replace("-", "").strip("()").isdecimal() and _lasts(n, measure) else label
            for n, label in enumerate(labels)]  # fmt: skip


def _lasts(index: int, measure: Spans) -> bool:
    return measure[index].length >= TICKS // 4 and not measure[index].triplet


def _split(label: str) -> str:
    shape = "({})" if label.startswith("(") else "{}"
    beats = inside(label).lstrip("-").split("-")
    return " ".join(shape.format(part) for beat in beats for part in (beat, "&"))


ADDED_SIGNS = (
    Misreading(
        counted_up_to_the_next_note,
        LABELING - _PICKED,
        "label",
        confused_with=("last-held-beat-counted-again",),
        source=HYPOTHESIS,
    ),
    Misreading(last_held_beat_left_out, LABELING - _PICKED, "label", source=HYPOTHESIS),
    Misreading(open_notes_taken_for_rests, LABELING, "label", needs=frozenset({"h", "r"}), source=HYPOTHESIS),
    Misreading(
        long_rests_taken_for_notes,
        LABELING,
        "label",
        needs=frozenset({"rh"}),
        confused_with=("rest-counts-without-parentheses",),
        source=HYPOTHESIS,
    ),
    Misreading(tied_note_taken_for_a_rest, LABELING, "label", needs=frozenset({"~", "r"}), source=HYPOTHESIS),
    Misreading(
        every_beat_split_in_two,
        LABELING,
        "label",
        needs=frozenset({"e"}),
        confused_with=("numbers-and-ands-alternate",),
        source=HYPOTHESIS,
    ),
)
