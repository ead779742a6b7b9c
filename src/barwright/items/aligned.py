"""Rows of counts that can be picked symbol by symbol: one label of one word under each sound and each rest."""

from functools import lru_cache
from random import Random

from barwright.items.asks import Offers, Question, Space
from barwright.items.model import Answer
from barwright.items.offers import misreadings_for
from barwright.misreadings.answers import rows
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.counting import (
    Row,
    all_conventions_rows,
    count_labels,
    format_row,
    labels_if_counted,
    normal_row,
    parse_row,
)
from barwright.rhythm.excerpt import Excerpt

LEAST_LABELS = 2
MOST_LABELS = 12  # in one list: more are no longer looked through


def is_aligned(labels: Row) -> bool:
    """Whether no label is of several words, so that its text is read back symbol by symbol, or of none, such as `()`.

    >>> is_aligned((("1-2", "(3)"),)), is_aligned((("1 2", "3"),)), is_aligned((("1", ""),)), is_aligned((("1", "()"),))
    (True, False, False, False)
    """
    return parse_row(format_row(labels)) == labels and all(label.strip("()") for row in labels for label in row)


def aligned_question(excerpt: Excerpt, space: Space) -> Question | None:
    """The question which count belongs under each symbol.

    None with a single symbol, with one that has no count, and where another class could pick, from the labels of the
    right row, a label that is right for it and wrong here: all of them are on offer under every symbol.
    """
    labels = labels_if_counted(excerpt, space.conventions)
    if labels is None or sum(map(len, labels)) < LEAST_LABELS or not is_aligned(labels):
        return None
    row = format_row(labels)
    offered = _labels(row, space.conventions)
    if len(set(offered)) > MOST_LABELS or not _right_elsewhere(excerpt, space.conventions).isdisjoint(offered):
        return None
    return Question(excerpt, (Answer("row", row),))


def aligned_offers(question: Question, space: Space, _rng: Random) -> Offers:
    """Wrong rows with a label for each label of the right one.

    Left out are rows with a label that another class writes under some symbol (it is picked by itself, and right), and
    rows that would make the lists too long.
    """
    house, excerpt = space.conventions, question.excerpt
    right = _labels(question.keys[0].text, house)
    elsewhere = _right_elsewhere(excerpt, house)
    spelt: dict[str, str] = {}
    found: dict[Answer, tuple[str, ...]] = {}
    for m, labels, text in rows(misreadings_for("count-under-each", space.taught), excerpt, house):
        if not is_aligned(labels):
            continue
        own = _labels(text, house)
        short = len({*right, *own}) <= MOST_LABELS
        if short and len(own) == len(right) and own != right and elsewhere.isdisjoint(own):
            answer = Answer("row", spelt.setdefault(normal_row(text, house), text))
            found[answer] = (*found.get(answer, ()), m.id)
    return found


def _labels(row: str, conventions: Conventions) -> tuple[str, ...]:
    """The labels of a row as they are compared, barlines dropped."""
    return tuple(normal_row(label, conventions) for measure in parse_row(row) for label in measure)


@lru_cache(1 << 12)
def _right_elsewhere(excerpt: Excerpt, conventions: Conventions) -> frozenset[str]:
    """Labels that some other class writes under a symbol where this class writes another one."""
    right = _labels(format_row(count_labels(excerpt, conventions)), conventions)
    others = (row.replace("|", " ").split() for row in all_conventions_rows(excerpt, conventions))
    full = [row for row in others if len(row) == len(right)]
    return frozenset(label for row in full for label, own in zip(row, right, strict=True) if label != own)
