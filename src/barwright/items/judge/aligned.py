"""Counts picked symbol by symbol, judged: each row has a label for each symbol, and only the keyed labels are right.

The student combines labels, and all labels of the item are on offer under each symbol. So it is not enough that whole
rows are wrong: each label beside the right one must be wrong under every symbol, under the stated conventions and under
all others.
"""

from collections.abc import Iterator
from dataclasses import replace

from barwright.errors import RhythmError
from barwright.items.judge.notation import measure_faults
from barwright.items.judge.reasons import reason
from barwright.items.judge.words import unknown_words
from barwright.items.model import Item
from barwright.items.taught import Taught
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import Row, all_conventions_rows, count_labels, format_row, normal_row, parse_row
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import format_excerpt

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
    excerpt, house = item.excerpt, item.conventions
    yield from measure_faults(excerpt.measures, excerpt.meter, house, pickup=excerpt.pickup)
    right = _right(excerpt, house)
    if right is None:
        yield reason("no-count", format_excerpt(excerpt))
        return
    rows = {choice: parse_row(choice.answer.text) for choice in item.choices}
    unaligned = [c.answer.text for c, row in rows.items() if _shape(row) != _shape(right) or _has_gap(row)]
    yield from (reason("not-aligned", text) for text in unaligned)
    if unaligned:
        return
    wanted = _normal(right, house)
    offered: set[str] = set()
    seen: dict[tuple[str, ...], str] = {}
    for choice, row in rows.items():
        text, labels = choice.answer.text, _normal(row, house)
        if choice.key and labels != wanted:
            yield reason("key-not-right", f"{text}, but {format_row(right)} for {format_excerpt(excerpt)}")
        elif not choice.key and labels == wanted:
            yield reason("second-right-answer", f"{text} for {format_excerpt(excerpt)}")
        elif labels in seen:
            yield reason("same-meaning", f"{seen[labels]}, {text}")
        seen.setdefault(labels, text)
        offered.update(labels)
        unknown = unknown_words(" ".join(labels), taught, house)
        if unknown:
            yield reason("untaught", f"{', '.join(unknown)} in {text}")
    yield from _list_faults(excerpt, house, wanted, offered)


def _normal(row: Row, conventions: Conventions) -> tuple[str, ...]:
    return tuple(normal_row(label, conventions) for measure in row for label in measure)


def _list_faults(excerpt: Excerpt, house: Conventions, wanted: tuple[str, ...], offered: set[str]) -> Iterator[str]:
    """Reasons against the one list of labels that is on offer under every symbol."""
    if len(wanted) < LEAST_SLOTS:
        yield reason("too-few-slots", format_excerpt(excerpt))
    if len(offered) > MOST_LABELS:
        yield reason("too-many-labels", f"{len(offered)} for {format_excerpt(excerpt)}")
    anywhere = _labels_anywhere(excerpt, house, len(wanted))
    for place, label in enumerate(wanted):
        for other in sorted((offered & anywhere[place]) - {label}):
            yield reason("right-elsewhere", f"{other} under symbol {place + 1} of {format_excerpt(excerpt)}")


def _labels_anywhere(excerpt: Excerpt, house: Conventions, count: int) -> list[set[str]]:
    """For each symbol every label that a class could write there, in any counting system.

    Rows that leave labels out tell nothing more: the labels that they do write stand in a fuller row too.
    """
    rows = (row.replace("|", " ").split() for row in all_conventions_rows(replace(excerpt, mark=None), house))
    full = [row for row in rows if len(row) == count]
    return [{row[place] for row in full} for place in range(count)]
