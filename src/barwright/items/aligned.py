"""Rows of counts that can be picked symbol by symbol: one label of one word under each sound and each rest."""

from dataclasses import replace
from random import Random

from barwright.items.asks import Offers, Question, Space
from barwright.items.model import Answer
from barwright.items.offers import misreadings_for
from barwright.misreadings.answers import rows
from barwright.rhythm.counting import Row, count_labels, format_row, labels_if_counted, normal_row, parse_row
from barwright.rhythm.excerpt import Excerpt

LEAST_LABELS = 2


def is_aligned(labels: Row) -> bool:
    """Whether no label is empty or of several words, so that its text is read back symbol by symbol.

    >>> is_aligned((("1-2", "(3)"),)), is_aligned((("1 2", "3"),)), is_aligned((("1", ""),))
    (True, False, False)
    """
    return parse_row(format_row(labels)) == labels


def aligned_question(excerpt: Excerpt, space: Space) -> Question | None:
    """The question which count belongs under each symbol; None with a single symbol, or one that has no count."""
    labels = labels_if_counted(excerpt, space.conventions)
    if labels is None or sum(map(len, labels)) < LEAST_LABELS or not is_aligned(labels):
        return None
    return Question(excerpt, (Answer("row", format_row(labels)),))


def aligned_offers(question: Question, space: Space, _rng: Random) -> Offers:
    """Wrong rows with a label for each label of the right one.

    Left out are rows with a label that a class writes there which marks onsets only: it is picked by itself, and right.
    """
    house, excerpt = space.conventions, question.excerpt
    right = _labels(parse_row(question.keys[0].text))
    onsets = _labels(count_labels(excerpt, replace(house, held="onset_only")))
    same = normal_row(question.keys[0].text, house)
    spelt: dict[str, str] = {}
    found: dict[Answer, tuple[str, ...]] = {}
    for m, labels, text in rows(misreadings_for("count-under-each", space.taught), excerpt, house):
        elsewhere = any(own == onset != key for own, onset, key in zip(_labels(labels), onsets, right, strict=True))
        if not elsewhere and is_aligned(labels) and normal_row(text, house) != same:
            answer = Answer("row", spelt.setdefault(normal_row(text, house), text))
            found[answer] = (*found.get(answer, ()), m.id)
    return found


def _labels(row: Row) -> tuple[str, ...]:
    return tuple(label for measure in row for label in measure)
