"""Answers as scores: right or not, all or nothing, and what a student scores who only guesses."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import factorial
from typing import Literal

from barwright.asks import ASKS
from barwright.asks.pieces import placing_of
from barwright.items.item import Item
from barwright.results.acting import answered, right_answers
from barwright.results.answers import Administered, Response
from barwright.results.statistics import Score

Omit = Literal["wrong", "exclude"]
Row = tuple[str, tuple[Score, ...]]


def is_right(answer: Sequence[str], item: Item) -> bool:
    """Whether an answer is fully right."""
    return answered((text for text in answer if text.strip()), item) in right_answers(item)


def chance(item: Item) -> Fraction:
    """The chance to be right by guessing: 1 over the number of answers that can be given; 0 where one types.

    Of several that may be right any set of ticks but none is an answer.
    """
    interaction = ASKS[item.ask].interaction
    if interaction == "entry":
        return Fraction(0)
    placing = placing_of(item)
    if placing is not None:
        ways = len(placing.texts) ** len(placing.slots) if placing.slots else factorial(len(placing.texts))
        return Fraction(1, ways)
    if interaction == "several":
        return Fraction(1, 2 ** len(item.choices) - 1)
    return Fraction(len(item.keys), len(item.choices))


def score_rows(form: Administered, responses: Sequence[Response], *, omit: Omit) -> tuple[Row, ...]:
    """A row for each student of a form, sorted: the score on each item of the form.

    None for an item that no student of the form has any answer to (the files do not hold it), for a variant that the
    student did not get, and with `omit` = `exclude` for one that was left out; else what is left out is wrong.
    """
    given: dict[str, dict[str, tuple[str, ...]]] = {}
    for response in responses:
        if response.form == form.ident:
            given.setdefault(response.student, {})[response.item] = response.answer
    there = {item for answers in given.values() for item, answer in answers.items() if answer}
    return tuple((student, _scores(form, given[student], there, omit)) for student in sorted(given))


def _scores(
    form: Administered, answers: Mapping[str, tuple[str, ...]], there: set[str], omit: Omit
) -> tuple[Score, ...]:
    got = {asked.number: asked.id for asked in form.items if answers.get(asked.id)}
    scores: list[Score] = []
    for asked in form.items:
        answer = answers.get(asked.id, ())
        had = asked.id in there and got.get(asked.number, asked.id) == asked.id
        if not had or (not answer and omit == "exclude"):
            scores.append(None)
        else:
            scores.append(int(is_right(answer, asked.item)))
    return tuple(scores)


def by_number(form: Administered, scores: Sequence[Score]) -> tuple[Score, ...]:
    """The scores by question: of variants the one that the student got."""
    by_question: dict[int, Score] = {}
    for asked, score in zip(form.items, scores, strict=True):
        if by_question.get(asked.number) is None:
            by_question[asked.number] = score
    return tuple(by_question.values())
