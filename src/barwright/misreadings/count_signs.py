"""Errors with the marks of a row of counts, written or read: parentheses for rests, hyphens for what is held.

They show only in classes that write rests in parentheses, those with hyphens only where held beats are joined by them.
"""

from collections.abc import Callable, Sequence

from barwright.counting.labels import Spans, rest_style
from barwright.misreadings.belief import (
    HYPOTHESIS,
    LABELING,
    Misreading,
    Reading,
    Row,
    Spot,
    Usage,
)
from barwright.misreadings.believed_rows import Change, with_changes, with_spots
from barwright.rhythm.conventions import Conventions

_PICKED = frozenset({"rhythm-for-counts"})
# Two rests and one long rest sound alike, so a rhythm that differs by them only is no wrong rhythm.
_WRITTEN = LABELING - _PICKED
Labels = Sequence[str]


def with_marks(reading: Reading, change: Change) -> Reading | None:
    """The right row with each measure's labels changed; None in a class that does not write rests in parentheses."""
    return with_changes(reading, change) if rest_style(reading.conventions) == "parentheses" else None


def inside(label: str) -> str:
    """A label without its parentheses."""
    return label.removeprefix("(").removesuffix(")")


def rest_counts_without_parentheses(reading: Reading) -> Reading | None:
    """What a student writes who counts the rests but does not put their counts in parentheses."""
    return with_marks(reading, _bare)


def _bare(_measure: Spans, labels: Labels) -> list[str]:
    return [inside(label) for label in labels]


def one_pair_of_parentheses_for_two_rests(reading: Reading) -> Reading | None:
    """What a student writes who puts one pair of parentheses around the counts of rests that follow each other.

    The silence is heard as one, so it is written as one rest (common practice).
    """
    return with_marks(reading, _one_pair)


def _one_pair(measure: Spans, labels: Labels) -> list[str]:
    written: list[str] = []
    lead = 0
    for index, (sound, label) in enumerate(zip(measure, labels, strict=True)):
        if sound.silent and index and measure[index - 1].silent and label and written[lead]:
            written[lead] = f"({inside(written[lead])}-{inside(label)})"
            written.append("")
        else:
            lead = index
            written.append(label)
    return written


def a_pair_of_parentheses_for_each_beat_of_a_rest(reading: Reading) -> Reading | None:
    """What a student writes who gives every beat of a long rest its own pair of parentheses, like several rests."""
    if reading.conventions.held != "beats":
        return None
    return with_marks(reading, _pairs)


def _pairs(_measure: Spans, labels: Labels) -> list[str]:
    return [
        " ".join(f"({part})" for part in inside(label).split("-")) if label.startswith("(") else label
        for label in labels
    ]


# An error that a rest alone does not show: under it stands what a student writes who puts no parentheses at all.
SHOWN_BY_NOTES = frozenset({"parentheses-around-the-notes"})


def parentheses_around_the_notes(reading: Reading) -> Reading | None:
    """What a student writes who puts the notes in parentheses and leaves the rests without: the sign turned around."""
    return with_marks(reading, _turned)


def _turned(_measure: Spans, labels: Labels) -> list[str]:
    return [inside(label) if label.startswith("(") or not label else f"({label})" for label in labels]


def held_beats_in_parentheses(reading: Reading) -> Reading | None:
    """What a student writes who puts the held beats of a note in parentheses, since nothing is played on them."""
    if reading.conventions.counting != "numbers" or reading.conventions.held != "beats":
        return None
    return with_marks(reading, _silent_beats)


def _silent_beats(_measure: Spans, labels: Labels) -> list[str]:
    return [_silenced(label) for label in labels]


def _silenced(label: str) -> str:
    if label.startswith("(") or "-" not in label.lstrip("-"):
        return label
    first, *held = label.lstrip("-").split("-")
    return " ".join(("-" * label.startswith("-") + first, *(f"({beat})" for beat in held)))


def rests_counted_as_held(reading: Reading) -> Reading | None:
    """What a student writes who lets a note ring on through the rest that follows: its beats are joined to the note."""
    if reading.conventions.held != "beats" or not any(s.silent for s in reading.excerpt.symbols):
        return None
    return with_spots(reading, _rung_on)


def _rung_on(measure: Spans, _usage: Usage) -> list[Spot]:
    spots: list[Spot] = []
    lead = None
    for index, sound in enumerate(measure):
        if not sound.silent:
            lead = index
        if sound.silent and lead is not None:
            onset, _ = spots[lead] or (0, 0)
            spots[lead] = (onset, sound.onset + sound.length - onset)
            spots.append(None)
        else:
            spots.append((sound.onset, sound.length))
    return spots


def separate_notes_joined_by_hyphens(reading: Reading) -> Reading | None:
    """What a student writes who puts a hyphen between all counts, as if the notes were one long note."""
    if reading.conventions.counting != "numbers" or reading.conventions.held != "beats":
        return None
    return with_marks(reading, _joined)


def _joined(measure: Spans, labels: Labels) -> list[str]:
    written: list[str] = []
    lead = 0
    for index, (sound, label) in enumerate(zip(measure, labels, strict=True)):
        beats = label.replace("-", "").isdecimal() and not label.startswith("-")
        if index and beats and not sound.silent and not measure[index - 1].silent and written[lead]:
            written[lead] += f"-{label}"
            written.append("")
        else:
            lead = index
            written.append(label)
    return written


def nothing_written(_reading: Reading) -> Reading | None:
    """None: an error of reading a row of counts does not show in what a student writes."""
    return None


def _heard(row: Row, change: Callable[[Labels], Labels]) -> Row | None:
    """The row with each measure's labels changed as heard; None where none shows."""
    heard = tuple(tuple(change(measure)) for measure in row)
    return None if heard == row else heard


def _with_beats(row: Row, conventions: Conventions, change: Callable[[Labels], Labels]) -> Row | None:
    """The same; None too in a class that does not write held beats after hyphens, and rests in parentheses."""
    if conventions.counting != "numbers" or conventions.held != "beats" or conventions.rest_counts != "parentheses":
        return None
    return _heard(row, change)


def parentheses_passed_over(row: Row, conventions: Conventions) -> Row | None:
    """What a student reads who does not look at parentheses: a rest is taken for a note."""
    if rest_style(conventions) != "parentheses":
        return None
    return _heard(row, lambda labels: [inside(label) for label in labels])


def parentheses_taken_for_a_hold(row: Row, conventions: Conventions) -> Row | None:
    """What a student reads who takes a count in parentheses for one that is only held: a note lasts through it.

    The note before rings on; where none comes before, the one after begins early.
    """
    return _with_beats(row, conventions, _held)


def _held(labels: Labels) -> list[str]:
    written: list[str] = []
    early: list[str] = []
    for label in labels:
        beats = [part for part in inside(label).split("-") if part.isdecimal()]
        if label.startswith("(") and written:
            written[-1] = "-".join((written[-1], *beats))
        elif label.startswith("("):
            early += beats
        elif early and not written:
            written.append("-".join((*early, *beats)))
        else:
            written.append(label)
    return written or list(labels)


def hyphens_taken_for_new_notes(row: Row, conventions: Conventions) -> Row | None:
    """What a student reads who plays a note on every number, and does not see that the hyphen joins them to one."""
    return _with_beats(row, conventions, lambda labels: [part for label in labels for part in _parts(label, "{}")])


def hyphens_taken_for_rests(row: Row, conventions: Conventions) -> Row | None:
    """What a student reads who thinks that the number after a hyphen is silent: the note is not held to its end."""
    return _with_beats(row, conventions, lambda labels: [part for label in labels for part in _parts(label, "({})")])


def _parts(label: str, later: str) -> list[str]:
    """A held note's label taken apart, the parts after the first in the shape `later`; any other label as it is."""
    if label.startswith(("(", "-")):
        return [label]
    first, *held = label.split("-")
    return [first, *(later.format(beat) for beat in held)]


def order_of_long_and_short_passed_over(row: Row, conventions: Conventions) -> Row | None:
    """What a student reads who sees which notes and rests there are, but not their order: it is turned around.

    Source: the same total is taken for the same rhythm (trade's catalogue, EQTOTAL; common practice).
    """
    numbers = [part for labels in row for label in labels for part in inside(label).split("-")]
    return _with_beats(row, conventions, _turned_around) if all(n.isdecimal() for n in numbers) else None


def _turned_around(labels: Labels) -> list[str]:
    start, written = int(inside(labels[0]).split("-")[0]), []
    for label in reversed(labels):
        beats = len(inside(label).split("-"))
        counts = "-".join(str(n) for n in range(start, start + beats))
        written.append(f"({counts})" if label.startswith("(") else counts)
        start += beats
    return written


REST_COUNTS = (
    Misreading(rest_counts_without_parentheses, LABELING, "label", needs=frozenset({"r"}), source=HYPOTHESIS),
    Misreading(one_pair_of_parentheses_for_two_rests, _WRITTEN, "label", needs=frozenset({"r"}), source=HYPOTHESIS),
    Misreading(
        a_pair_of_parentheses_for_each_beat_of_a_rest, _WRITTEN, "label", needs=frozenset({"r"}), source=HYPOTHESIS
    ),
    Misreading(parentheses_around_the_notes, LABELING, "label", needs=frozenset({"r"}), source=HYPOTHESIS),
    Misreading(held_beats_in_parentheses, LABELING, "label", needs=frozenset({"r"}), source=HYPOTHESIS),
    Misreading(rests_counted_as_held, LABELING, "label", needs=frozenset({"r"}), source=HYPOTHESIS),
    Misreading(separate_notes_joined_by_hyphens, LABELING, "label", source=HYPOTHESIS),
    Misreading(
        nothing_written, _PICKED, "label", hear=parentheses_passed_over, needs=frozenset({"r"}), source=HYPOTHESIS
    ),
    Misreading(
        nothing_written, _PICKED, "label", hear=parentheses_taken_for_a_hold, needs=frozenset({"r"}), source=HYPOTHESIS
    ),
    Misreading(nothing_written, _PICKED, "grouping", hear=order_of_long_and_short_passed_over, source=HYPOTHESIS),
    Misreading(nothing_written, _PICKED, "label", hear=hyphens_taken_for_new_notes, source=HYPOTHESIS),
    Misreading(
        nothing_written, _PICKED, "label", hear=hyphens_taken_for_rests, needs=frozenset({"r"}), source=HYPOTHESIS
    ),
)
