"""Rows of counts that can be picked symbol by symbol: one label of one word under each sound and each rest."""

from random import Random

from barwright.items.asks import Offers, Question, Space
from barwright.items.model import Answer
from barwright.items.offers import misreadings_for
from barwright.misreadings.answers import row
from barwright.rhythm.counting import Row, count_labels, format_row, normal_row, parse_row
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
    labels = count_labels(excerpt, space.conventions)
    if sum(map(len, labels)) < LEAST_LABELS or not is_aligned(labels):
        return None
    return Question(excerpt, (Answer("row", format_row(labels)),))


def aligned_offers(question: Question, space: Space, _rng: Random) -> Offers:
    """Wrong rows with a label for each label of the right one."""
    house, excerpt = space.conventions, question.excerpt
    right = normal_row(question.keys[0].text, house)
    spelt: dict[str, str] = {}
    found: dict[Answer, tuple[str, ...]] = {}
    for m in misreadings_for("count-under-each", space.taught):
        labels = row(m, excerpt, house)
        if labels is not None and is_aligned(labels):
            text = format_row(labels)
            same = normal_row(text, house)
            if same != right:
                answer = Answer("row", spelt.setdefault(same, text))
                found[answer] = (*found.get(answer, ()), m.id)
    return found
