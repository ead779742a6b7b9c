"""Cueing, by hand: which questions may not stand in one form, since one settles what the other asks."""

import pytest

from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.forms.cueing import traces
from barwright.items.item import Answer
from barwright.rhythm.text import parse_excerpt


def question(ask: str, excerpt: str, key: str, target: str = "") -> tuple[str, Question]:
    return ask, Question(parse_excerpt(excerpt, full=False), (Answer(ASKS[ask].answer, key),), target)


def cued(one: tuple[str, Question], other: tuple[str, Question]) -> bool:
    """Whether they may not meet, whichever comes first."""
    settled, guarded = traces(*one)
    more_settled, more_guarded = traces(*other)
    return bool(settled & more_guarded or more_settled & guarded)


ROW = question("counts-for-rhythm", "3/4 h q", "1-2 3")
APART = [
    # the same row is the key of both
    (ROW, question("write-counts", "3/4 h q", "1-2 3")),
    # one shows the row under which the other's rhythm is asked
    (question("rhythm-for-counts", "3/4 h q", "h q"), question("count-under-mark", "3/4 *h q | q q q", "1-2")),
    # a figure under its signature, and the same figure whose signature is asked
    (ROW, question("time-signature-for-rhythm", "3/4 h q", "3/4")),
    (
        question("what-the-numbers-say", "3/4 h q", "adds-up 3 4", "top"),
        question("rhythm-for-time-signature", "3/4 h q", "h q"),
    ),
    # the same number of the same signature
    (
        question("what-the-numbers-say", "3/4 h q", "adds-up 3 4", "top"),
        question("what-the-numbers-say", "3/4 q h", "adds-up 3 4", "top"),
    ),
    # the same blank
    (question("finish-measure", "3/4 h _", "q"), question("beats-left", "3/4 h _", "1")),
    # the same question twice
    (ROW, ROW),
]
TOGETHER = [
    (ROW, question("counts-for-rhythm", "3/4 q h", "1 2-3")),
    (ROW, question("finish-measure", "3/4 h _", "q")),
    (question("finish-measure", "3/4 h _", "q"), question("finish-measure", "3/4 q q _", "q")),
    (question("time-signature-for-rhythm", "3/4 h q", "3/4"), question("rhythm-for-time-signature", "3/4 q h", "q h")),
    (
        question("what-the-numbers-say", "3/4 h q", "adds-up 3 4", "top"),
        question("what-the-numbers-say", "3/4 q h", "stands-for 4", "bottom"),
    ),
    # two marks in two rhythms may have the same count
    (question("count-under-mark", "3/4 *q h", "1"), question("count-under-mark", "3/4 *q q q", "1")),
    (question("does-it-fit", "3/4 w", "fits-not 4 3"), question("does-it-fit", "3/4 h", "fits 2 3")),
]


@pytest.mark.parametrize(("one", "other"), APART)
def test_one_would_settle_the_other(one: tuple[str, Question], other: tuple[str, Question]) -> None:
    assert cued(one, other)
    assert cued(other, one)


@pytest.mark.parametrize(("one", "other"), TOGETHER)
def test_both_may_stand_in_a_form(one: tuple[str, Question], other: tuple[str, Question]) -> None:
    assert not cued(one, other)


def test_a_signature_settles_only_its_own_measures() -> None:
    shown = question("counts-for-rhythm", "3/4 h q | q q q", "1-2 3 | 1 2 3")
    assert cued(shown, question("time-signature-for-rhythm", "3/4 q q q", "3/4"))
    assert not cued(shown, question("time-signature-for-rhythm", "3/4 q h", "3/4"))
