"""Count labeling: the counts under a rhythm, read or written, in the class's counting system."""

from collections.abc import Iterator
from random import Random

from barwright.items.aligned import aligned_offers, drawn_aligned, listed_aligned, lists_all
from barwright.items.asks import Ask, Offers, Question, Space, never
from barwright.items.drawing import drawn_excerpt, listed_excerpts
from barwright.items.model import Answer
from barwright.items.offers import label_offers, rhythm_offers, row_offers
from barwright.rhythm.counting import format_row, labels_if_counted, spans
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import format_measures

FAMILY = "count-labeling"


def _row_question(excerpt: Excerpt, space: Space) -> Question | None:
    """None where the class's counting system has no count, as below."""
    labels = labels_if_counted(excerpt, space.conventions)
    return None if labels is None else Question(excerpt, (Answer("row", format_row(labels)),))


def _rhythm_question(excerpt: Excerpt, space: Space) -> Question | None:
    if labels_if_counted(excerpt, space.conventions) is None:
        return None
    return Question(excerpt, (Answer("measures", format_measures(excerpt.measures)),))


def _marks(excerpt: Excerpt, space: Space) -> list[tuple[int, int, str]]:
    """Measure and index of the first symbol of every sound or rest that has a label, and the label."""
    pairs = zip(spans(excerpt), labels_if_counted(excerpt, space.conventions) or (), strict=False)
    marks = [(n, sound.at, label) for n, pair in enumerate(pairs) for sound, label in zip(*pair, strict=True)]
    return [mark for mark in marks if mark[2]]


def _mark_question(excerpt: Excerpt, measure: int, index: int, label: str) -> Question:
    """The excerpt with that symbol marked, keyed by its label."""
    marked = Excerpt(excerpt.meter, excerpt.measures, excerpt.pickup, (measure, index))
    return Question(marked, (Answer("row", label),))


def _draw_row(space: Space, rng: Random) -> Question | None:
    return _row_question(drawn_excerpt(space, rng), space)


def _listed_rows(space: Space) -> Iterator[Question]:
    return filter(None, (_row_question(excerpt, space) for excerpt in listed_excerpts(space)))


def _draw_rhythm(space: Space, rng: Random) -> Question | None:
    return _rhythm_question(drawn_excerpt(space, rng), space)


def _listed_rhythms(space: Space) -> Iterator[Question]:
    return filter(None, (_rhythm_question(excerpt, space) for excerpt in listed_excerpts(space)))


def _draw_mark(space: Space, rng: Random) -> Question | None:
    excerpt = drawn_excerpt(space, rng)
    marks = _marks(excerpt, space)
    return _mark_question(excerpt, *marks[rng.randrange(len(marks))]) if marks else None


def _listed_marks(space: Space) -> Iterator[Question]:
    for excerpt in listed_excerpts(space):
        yield from (_mark_question(excerpt, *each) for each in _marks(excerpt, space))


def _rows_to_pick(question: Question, space: Space, _rng: Random) -> Offers:
    return row_offers("counts-for-rhythm", question.excerpt, space)


def _rows_to_write(question: Question, space: Space, _rng: Random) -> Offers:
    return row_offers("write-counts", question.excerpt, space)


def _labels(question: Question, space: Space, _rng: Random) -> Offers:
    return label_offers("count-under-mark", question, space)


def _rhythms(question: Question, space: Space, rng: Random) -> Offers:
    return rhythm_offers("rhythm-for-counts", question.excerpt, space, rng)


ASKS = (
    Ask(
        "counts-for-rhythm", FAMILY, "texts", "row",
        draw=_draw_row, listed=_listed_rows, offers=_rows_to_pick, clash=never, measures=2,
    ),
    Ask(
        "rhythm-for-counts", FAMILY, "figures", "measures",
        draw=_draw_rhythm, listed=_listed_rhythms, offers=_rhythms, clash=never,
    ),
    Ask(
        "count-under-mark", FAMILY, "entry", "row",
        draw=_draw_mark, listed=_listed_marks, offers=_labels, clash=never, measures=2,
    ),
    Ask(
        "write-counts", FAMILY, "entry", "row",
        draw=_draw_row, listed=_listed_rows, offers=_rows_to_write, clash=never, measures=2,
    ),
    Ask(
        "count-under-each", FAMILY, "inline", "row",
        draw=drawn_aligned, listed=listed_aligned, offers=aligned_offers, clash=never, lists_all=lists_all, measures=2,
    ),
)  # fmt: skip
