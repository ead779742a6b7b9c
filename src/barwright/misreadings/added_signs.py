"""Errors of counting that add what is not there: hyphens, parentheses, counts; and their inverses.

Most errors leave something out. Without these the right row would be the one with most signs (all common practice;
hypotheses to be tested on class data).
"""

from collections.abc import Sequence
from functools import lru_cache

from barwright.counting.labels import CountedMeasure, Span, Spans, rest_style
from barwright.misreadings.belief import (
    HYPOTHESIS,
    LABELING,
    Misreading,
    Reading,
    Spot,
    Usage,
)
from barwright.misreadings.believed_rows import (
    KEPT,
    complete,
    counts_of,
    with_changes,
    with_labels,
    with_names,
    with_spots,
)
from barwright.misreadings.count_labels import with_grouped_counts
from barwright.misreadings.count_signs import inside, with_marks
from barwright.rhythm.measure import Symbol
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


def only_the_beats_counted(reading: Reading) -> Reading | None:
    """What a student writes who puts numbers under what begins on a beat, and nothing under what comes in between.

    The foot taps the beats, and they are counted aloud before anything between them is (common practice).
    """
    usage = counts_of(reading).usage
    return with_names(reading, _on_the_beat) if usage.numbered and usage.beat is not None else None


def _on_the_beat(measure: Spans, usage: Usage) -> list[str | None]:
    beat = usage.beat or usage.meter.ticks
    return ["" if s.onset % beat else usage.spoken(s.onset, s.length, s.silent, s.held, s.triplet) for s in measure]


def dot_taken_for_a_rest(reading: Reading) -> Reading | None:
    """What a student writes who takes the dot for a stop, as at the end of a sentence: the note is silent for the rest.

    A dotted half note becomes 1-2 (3) (common practice).
    """
    return _with_dots(reading, silent=True) if rest_style(reading.conventions) == "parentheses" else None


def dot_counted_as_a_note(reading: Reading) -> Reading | None:
    """What a student writes who gives the dot a count of its own, as if another note were struck: 1-2 3 for 1-2-3.

    That a dot is worth half the note is learned as a sum, half + quarter, and so read as two notes (common practice).
    """
    return _with_dots(reading, silent=False)


def _with_dots(reading: Reading, *, silent: bool) -> Reading | None:
    """The row where every dot has a count of its own; None without a dotted note that is counted."""
    counts = counts_of(reading)
    if not any(_has_dot(span, measure.symbols[span.at]) for measure in counts.measures for span in measure.spans):
        return None
    labels = complete([_dots_apart(measure, counts.usage, silent) for measure in counts.measures])
    return None if labels is None else with_labels(reading, labels)


def _has_dot(sound: Span, symbol: Symbol) -> bool:
    value = symbol.value
    whole = value is not None and value.dots == 1 and sound.length == value.ticks
    return whole and not (sound.silent or sound.held)


@lru_cache(maxsize=KEPT)
def _dots_apart(measure: CountedMeasure, usage: Usage, silent: bool) -> tuple[str, ...] | None:
    return complete([_in_two(sound, measure.symbols[sound.at], usage, silent) for sound in measure.spans])


def _in_two(sound: Span, symbol: Symbol, usage: Usage, silent: bool) -> str | None:
    """The count of a sound, of a dotted note those of the note and of its dot."""
    onset = sound.onset
    if not _has_dot(sound, symbol):
        return usage.spoken(onset, sound.length, sound.silent, sound.held, sound.triplet)
    dot = sound.length // 3
    note = usage.spoken(onset, 2 * dot, False, False, False)
    more = usage.spoken(onset + 2 * dot, dot, silent, False, False)
    return None if note is None or more is None else f"{note} {more}"


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
    Misreading(only_the_beats_counted, LABELING, "label", needs=frozenset({"e"}), source=HYPOTHESIS),
    Misreading(dot_taken_for_a_rest, LABELING, "label", needs=frozenset({".", "r"}), source=HYPOTHESIS),
    Misreading(dot_counted_as_a_note, LABELING, "label", needs=frozenset({"."}), source=HYPOTHESIS),
)
