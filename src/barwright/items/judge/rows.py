"""Count labeling, judged: which row of counts belongs to a figure, and which figure to a row."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from barwright.errors import RhythmError
from barwright.items.judge.figures import drawn_of, figure_faults, figure_pairs
from barwright.items.judge.notation import measure_faults, syncopation_faults
from barwright.items.judge.reasons import reason
from barwright.items.judge.words import unknown_words
from barwright.items.model import Item
from barwright.items.taught import Taught
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import (
    all_conventions_rows,
    count_labels,
    format_row,
    labelled_events,
    normal_row,
    spans,
)
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import format_excerpt

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
    yield from _texts_faults(item, right, all_conventions_rows(excerpt, item.conventions))
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
    labels = _row(plain, item.conventions).replace("|", " ").split()
    place = _place_of_mark(excerpt, item.conventions) if labels else None
    if place is None:
        yield reason("no-count", format_excerpt(excerpt))
        return
    rows = map(_labels, all_conventions_rows(plain, item.conventions))
    # A row with fewer labels leaves some empty; the others stand in a fuller row too.
    anywhere = frozenset(row[place] for row in rows if len(row) == len(labels))
    yield from _texts_faults(item, labels[place], anywhere)


def _place_of_mark(excerpt: Excerpt, conventions: Conventions) -> int | None:
    """The marked symbol's place among the labels of the row; None if it has no label of its own, or is held."""
    measures = labelled_events(replace(excerpt, mark=None), conventions)
    places = [(event.measure, event.index) for measure in measures for event, label in measure if label]
    if excerpt.mark not in places:
        return None
    number, index = excerpt.mark
    earlier = [*(s for m in excerpt.measures[:number] for s in m), *excerpt.measures[number][:index]]
    return None if earlier and earlier[-1].tied else places.index(excerpt.mark)


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
        elif not choice.key and _may_share_row(own, excerpt, row) and row in all_conventions_rows(own, conventions):
            yield reason("right-elsewhere", f"{text} can be counted {row}")


def _may_share_row(own: Excerpt, shown: Excerpt, row: str) -> bool:
    """Whether a row of `shown` could be one of `own` at all: one label a sound or rest, a rest's label marked as one.

    Only rows that leave labels out can have fewer. This spares the long list of all rows.
    """
    ours, theirs = ([s.silent for m in spans(e) for s in m] for e in (own, shown))
    labels = len(_labels(row))
    return len(ours) > labels or (len(ours) == labels and (len(theirs) != labels or ours == theirs))
