"""The counting words that a class knows: those that its symbols have in its meters.

Count labeling, judged: which row of counts belongs to a figure, and which figure to a row.

Counts picked symbol by symbol, judged: each row has a label for each symbol, and only the keyed labels are right.

The student combines labels, and all labels of the item are on offer under each symbol. So it is not enough that whole
rows are wrong: each label beside the right one must be wrong under every symbol, under the stated conventions and under
all others."""

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations, product
from math import ceil

from barwright.counting.counts import (
    Row,
    arguable_rows,
    count_labels,
    format_row,
    labelled_events,
    normal_row,
    parse_row,
    sound_label,
    spans,
)
from barwright.counting.labels import STROKE
from barwright.errors import RhythmError
from barwright.items.item import Item
from barwright.items.taught import Taught
from barwright.judge.every_item import drawn_of, figure_faults, figure_pairs
from barwright.judge.print_rules import measure_faults, syncopation_faults
from barwright.judge.reasons import reason
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Event
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_excerpt, parse_symbol
from barwright.rhythm.values import NoteValue

_WORD = re.compile(r"[^\W\d_]+|&")
_REST_MARK = re.compile(f"[(R{STROKE}]")


def unknown_words(row: str, taught: Taught, conventions: Conventions) -> tuple[str, ...]:
    """Words and rest signs of a row that no taught symbol has in a taught meter, sorted; numbers are always known.

    Kodaly-style words go by figures, not places, and are not looked into.
    """
    if conventions.counting == "kodaly":
        return ()
    silent = any(token.startswith("r") for token in taught.tokens)
    rests = set() if silent or not _REST_MARK.search(row) else {"a rest"}
    words = set(_WORD.findall(row.replace(STROKE, ""))) - {"R"}
    return tuple(sorted((words - _known_words(taught, conventions)) | rests))


@cache
def _known_words(taught: Taught, conventions: Conventions) -> frozenset[str]:
    """The words under a measure of one taught symbol over and over, for each symbol and meter."""
    words: set[str] = set()
    values = [v for t in taught.tokens if (v := parse_symbol(t).value) is not None]
    for meter, value in product(taught.meters, values):
        onsets = (n * value.length for n in range(ceil(meter.capacity / value.length)))
        labels = (_label(onset, value, conventions, meter=meter) for onset in onsets)
        words.update(word for label in labels for word in _WORD.findall(label))
    return frozenset(words)


def _label(onset: Fraction, value: NoteValue, conventions: Conventions, *, meter: Meter) -> str:
    try:
        return sound_label(onset, value.length, meter=meter, conventions=conventions, triplet=value.triplet)
    except RhythmError:
        return ""


# A key with more labels than any other by more than this, or fewer, stands out (Haladyna, Downing & Rodriguez 2002).
MOST_LABELS_APART = 2


def _row(excerpt: Excerpt, conventions: Conventions) -> str:
    """The normal row of an excerpt; empty where the counting system has no count for it."""
    try:
        return normal_row(format_row(count_labels(excerpt, conventions)), conventions)
    except RhythmError:
        return ""


def _labels(row: str) -> list[str]:
    return row.replace("|", " ").split()


def row_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against picked or typed rows: the key is the row of the stated conventions, no other is one of any."""
    excerpt = item.excerpt
    yield from measure_faults(excerpt.measures, excerpt.meter, item.conventions, pickup=excerpt.pickup)
    right = _row(excerpt, item.conventions)
    if not right:
        yield reason("no-count", format_excerpt(excerpt))
        return
    yield from _texts_faults(item, right, arguable_rows(excerpt, item.conventions))
    if item.ask == "counts-for-rhythm":
        yield from _row_betrays(item)
        for choice in item.choices:
            text = choice.answer.text
            unknown = unknown_words(normal_row(text, item.conventions), taught, item.conventions)
            if unknown:
                yield reason("untaught", f"{', '.join(unknown)} in {text}")


def mark_faults(item: Item, _taught: Taught) -> Iterator[str]:
    """Reasons against typed counts of one symbol: as for a whole row, and the symbol has a count of its own."""
    excerpt, plain = item.excerpt, replace(item.excerpt, mark=None)
    yield from measure_faults(excerpt.measures, excerpt.meter, item.conventions, pickup=excerpt.pickup)
    counted = _counted(plain, item.conventions)
    place = _place_of_mark(excerpt, counted)
    if place is None:
        yield reason("no-count", format_excerpt(excerpt))
        return
    anywhere = _labels_anywhere(plain, item.conventions, len(counted))[place]
    yield from _texts_faults(item, normal_row(counted[place][1], item.conventions), frozenset(anywhere))


def _counted(excerpt: Excerpt, conventions: Conventions) -> list[tuple[Event, str]]:
    """Every sound and rest with its label; none where the counting system has no count for one.

    The row does not tell them apart: it leaves out what has no label, and a label with a hyphen joins the one before.
    """
    try:
        return [each for measure in labelled_events(excerpt, conventions) for each in measure]
    except RhythmError:
        return []


def _place_of_mark(excerpt: Excerpt, counted: list[tuple[Event, str]]) -> int | None:
    """The marked symbol's place among all that is counted; None if it has no label, or one with a hyphen: of a held
    part, or of a note that begins where nothing is counted."""
    places = ((place, label) for place, (e, label) in enumerate(counted) if (e.measure, e.index) == excerpt.mark)
    return next((place for place, label in places if label and not label.startswith("-")), None)


def _texts_faults(item: Item, right: str, anywhere: frozenset[str]) -> Iterator[str]:
    """Reasons found by comparing normal rows: no accepted spelling of a row has another (`counting.spellings`)."""
    text = format_excerpt(item.excerpt)
    normal = {c: normal_row(c.answer.text, item.conventions) for c in item.choices}
    for choice, row in normal.items():
        if choice.key and row != right:
            yield reason("key-not-right", f"{row}, but {right} for {text}")
        elif not choice.key and row == right:
            yield reason("second-right-answer", f"{choice.answer.text} for {text}")
        elif not choice.key and row in anywhere:
            yield reason("right-elsewhere", f"{choice.answer.text} for {text}")
    for (one, first), (other, second) in combinations(normal.items(), 2):
        if first == second:
            yield reason("same-meaning", f"{one.answer.text}, {other.answer.text}")


def _row_betrays(item: Item) -> Iterator[str]:
    keys = [len(_labels(c.answer.text)) for c in item.keys]
    wrong = [len(_labels(c.answer.text)) for c in item.wrong]
    for key in keys:
        if key - max(wrong) > MOST_LABELS_APART or min(wrong) - key > MOST_LABELS_APART:
            yield reason("length-tells-key", f"{key} labels, others {min(wrong)} to {max(wrong)}")


def figure_for_row_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against a choice of figures for a row: the excerpt is keyed, no other ever has this row."""
    excerpt, conventions = item.excerpt, item.conventions
    row = _row(excerpt, conventions)
    if not row:
        yield reason("no-count", format_excerpt(excerpt))
        return
    yield from figure_pairs(item)
    for choice in item.choices:
        text, drawn = choice.answer.text, drawn_of(choice.answer.text, excerpt.meter)
        yield from figure_faults(item, choice, drawn)
        yield from measure_faults(drawn.measures, excerpt.meter, conventions, pickup=excerpt.pickup)
        yield from syncopation_faults(drawn.measures[excerpt.pickup :], excerpt.meter, taught)
        own = Excerpt(excerpt.meter, drawn.measures, excerpt.pickup)
        if not choice.key and _row(own, conventions) == row:
            yield reason("second-right-answer", f"{text} is counted {row}")
        elif not choice.key and _may_share_row(own, excerpt, row) and row in arguable_rows(own, conventions):
            yield reason("right-elsewhere", f"{text} can be counted {row}")


def _may_share_row(own: Excerpt, shown: Excerpt, row: str) -> bool:
    """Whether a row of `shown` could be one of `own` at all: one label a sound or rest, a rest's label marked as one.

    Only rows that leave labels out can have fewer. This spares the long list of all rows.
    """
    ours, theirs = ([s.silent for m in spans(e) for s in m] for e in (own, shown))
    labels = len(_labels(row))
    return len(ours) > labels or (len(ours) == labels and (len(theirs) != labels or ours == theirs))


LEAST_SLOTS = 2
MOST_LABELS = 12  # in one list: more are no longer looked through


def _shape(row: Row) -> tuple[int, ...]:
    return tuple(map(len, row))


def _has_gap(row: Row) -> bool:
    """Whether some label says nothing: parentheses round no word."""
    return any(not label.strip("()") for measure in row for label in measure)


def _right(excerpt: Excerpt, conventions: Conventions) -> Row | None:
    """The labels of an excerpt; None where some symbol has none, or one that its text does not show as one."""
    try:
        labels = count_labels(excerpt, conventions)
    except RhythmError:
        return None
    return labels if parse_row(format_row(labels)) == labels else None


def aligned_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against rows that are offered label by label."""
    excerpt, conventions = item.excerpt, item.conventions
    yield from measure_faults(excerpt.measures, excerpt.meter, conventions, pickup=excerpt.pickup)
    right = _right(excerpt, conventions)
    if right is None:
        yield reason("no-count", format_excerpt(excerpt))
        return
    rows = {choice: parse_row(choice.answer.text) for choice in item.choices}
    unaligned = [c.answer.text for c, row in rows.items() if _shape(row) != _shape(right) or _has_gap(row)]
    yield from (reason("not-aligned", text) for text in unaligned)
    if unaligned:
        return
    wanted = _normal(right, conventions)
    offered: set[str] = set()
    seen: dict[tuple[str, ...], str] = {}
    for choice, row in rows.items():
        text, labels = choice.answer.text, _normal(row, conventions)
        if choice.key and labels != wanted:
            yield reason("key-not-right", f"{text}, but {format_row(right)} for {format_excerpt(excerpt)}")
        elif not choice.key and labels == wanted:
            yield reason("second-right-answer", f"{text} for {format_excerpt(excerpt)}")
        elif labels in seen:
            yield reason("same-meaning", f"{seen[labels]}, {text}")
        seen.setdefault(labels, text)
        offered.update(labels)
        unknown = unknown_words(" ".join(labels), taught, conventions)
        if unknown:
            yield reason("untaught", f"{', '.join(unknown)} in {text}")
    yield from _list_faults(excerpt, conventions, wanted, offered)


def _normal(row: Row, conventions: Conventions) -> tuple[str, ...]:
    return tuple(normal_row(label, conventions) for measure in row for label in measure)


def _list_faults(
    excerpt: Excerpt, conventions: Conventions, wanted: tuple[str, ...], offered: set[str]
) -> Iterator[str]:
    """Reasons against the one list of labels that is on offer under every symbol."""
    if len(wanted) < LEAST_SLOTS:
        yield reason("too-few-slots", format_excerpt(excerpt))
    if len(offered) > MOST_LABELS:
        yield reason("too-many-labels", f"{len(offered)} for {format_excerpt(excerpt)}")
    anywhere = _labels_anywhere(excerpt, conventions, len(wanted))
    for place, label in enumerate(wanted):
        for other in sorted((offered & anywhere[place]) - {label}):
            yield reason("right-elsewhere", f"{other} under symbol {place + 1} of {format_excerpt(excerpt)}")


def _labels_anywhere(excerpt: Excerpt, conventions: Conventions, count: int) -> list[set[str]]:
    """For each symbol every label that a class could write there, in any counting system.

    Rows that leave labels out tell nothing more: the labels that they do write stand in a fuller row too.
    """
    rows = (row.replace("|", " ").split() for row in arguable_rows(replace(excerpt, mark=None), conventions))
    full = [row for row in rows if len(row) == count]
    return [{row[place] for row in full} for place in range(count)]
