"""Cells, and the questions that may fill them: what parallel items have in common, and what to try in which order."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.marks import Marks, item_marks
from barwright.forms.question_sample import has_few
from barwright.items.difficulty import difficulty
from barwright.items.item import Answer, Item
from barwright.rhythm.meter import Meter

MOST_DRAWS = 120
MOST_LISTED = 4_000


@dataclass(frozen=True, slots=True)
class Cell:
    """What the parallel items of one place have in common; `difficulty` and `keys` are the first form's.

    `wrong`: how many wrong choices they have. `misreadings`: what these stand for, alone or held with another. `marks`:
    all that the first form's item shows.
    """

    meter: Meter
    misreadings: frozenset[str]
    difficulty: int
    keys: tuple[Answer, ...] = ()
    wrong: int = 0
    marks: Marks = frozenset()


def cell_of(item: Item, plan: Plan) -> Cell:
    """The cell that this item makes."""
    keys, marks = tuple(c.answer for c in item.keys), item_marks(plan, item, ())
    hard = difficulty(item.excerpt, plan.weights)
    return Cell(item.excerpt.meter, item.offered, hard, keys, len(item.wrong), marks)


def own_questions(plan: Plan) -> tuple[Question, ...]:
    """Every question of a part about the teacher's own excerpts."""
    return () if plan.own.space is None else tuple(plan.ask.listed(plan.own.space))


def listed_at_random(plan: Plan, rng: Random) -> Iterator[Question]:
    """The questions of a part in a random order; of very many only the first."""
    left = list(islice(plan.ask.listed(plan.space), MOST_LISTED))
    while left:
        index = rng.randrange(len(left))
        left[index], left[-1] = left[-1], left[index]
        yield left.pop()


def _told_by(plan: Plan, keys: tuple[Answer, ...]) -> tuple[str, ...]:
    """What parallel items should have in common of their right answers, where these are few: Yes or No of a claim.

    Where several may be right, how many are.
    """
    if plan.ask.mixes:
        return (str(len(keys)),)
    if plan.ask.answer == "claim":
        return tuple(key.text.split(" ")[0] for key in keys)
    return tuple(key.text for key in keys) if plan.ask.answer in ("symbols", "number") else ()


def is_like(plan: Plan, question: Question, cell: Cell) -> bool:
    """Whether a question has a right answer like those of the cell, where these are few."""
    return _told_by(plan, question.keys) == _told_by(plan, cell.keys)


def tried(plan: Plan, rng: Random) -> Iterator[Question]:
    """Questions to try: drawn, or all of them at random where there are few."""
    if has_few(plan.ask, plan.space):
        yield from listed_at_random(plan, rng)
        return
    for _ in range(MOST_DRAWS):
        question = plan.ask.draw(plan.space, rng)
        if question is not None:
            yield question
