"""Simulated students who answer the very items of a quiz: they hold misreadings, slip, guess, or know no better.

They follow rules of their own (an answer is drawn step by step), not the table by which answers are weighed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

from barwright.results.acting import (
    Acted,
    Answered,
    is_open,
    right_answers,
)
from barwright.results.chances import NONE, FormActs, ItemActs
from barwright.results.evidence import Codes


@dataclass(frozen=True, slots=True)
class Student:
    """One simulated student: what is held, how often not acted on, how much else is not known, how one guesses.

    `steadiness`: how steadily a held misreading is acted on, besides slips. `together`: how often two that show are
    both acted on, one after the other, where that leads to an answer of its own. `testwise`: guesses what is most like
    the others.
    `hidden`: a steady error that those who weigh the answers do not know of.
    """

    held: tuple[str, ...] = ()
    slips: float = 0.1
    unknown: float = 0.1
    steadiness: float = 1.0
    together: float = 0.5
    testwise: bool = False
    hidden: Mapping[str, Answered] | None = None


def answers_of(students: Sequence[Student], form: FormActs, rng: Random) -> Codes:
    """What the students answer to every item of the form; of variants each student gets one."""
    places: dict[int, list[int]] = {}
    for column, item in enumerate(form.items):
        places.setdefault(item.asked.number, []).append(column)
    codes = np.full((len(students), len(form.items)), NONE, dtype=np.intp)
    for row, student in enumerate(students):
        for variants in places.values():
            column = variants[rng.randrange(len(variants))] if len(variants) > 1 else variants[0]
            codes[row, column] = _answer(student, form.items[column], rng)
    return codes


def _answer(student: Student, item: ItemActs, rng: Random) -> int:
    if student.hidden is not None and item.asked.id in student.hidden and rng.random() >= student.slips:
        return item.outcomes.place(student.hidden[item.asked.id])
    showing = [item.acts[name] for name in student.held if name in item.acts]
    joint = [Acted((answer,)) for held, answer in item.joint if set(held) <= set(student.held)]
    if joint and (not showing or rng.random() < student.together):
        showing = joint
    if showing:
        act = showing[rng.randrange(len(showing))]
        if rng.random() < (1 - student.slips) * student.steadiness:
            if act.answers:
                return item.outcomes.place(act.answers[rng.randrange(len(act.answers))])
            return _guess(student, item, rng) if rng.random() < 0.5 else _right(item, rng)
        return _right(item, rng) if rng.random() < 0.5 else _guess(student, item, rng)
    return _guess(student, item, rng) if rng.random() < student.unknown else _right(item, rng)


def _right(item: ItemActs, rng: Random) -> int:
    right = right_answers(item.asked.item)
    return item.outcomes.place(right[rng.randrange(len(right))])


def _guess(student: Student, item: ItemActs, rng: Random) -> int:
    """Any choice; the test-wise take what shares most with the other choices; typed guesses are mostly nonsense."""
    outcomes = item.outcomes
    if is_open(item.asked.item):
        return rng.randrange(outcomes.alone) if rng.random() < 0.5 else outcomes.size - 1
    if student.testwise and item.likeness:
        best = [place for place, like in enumerate(item.likeness) if like == max(item.likeness)]
        return best[rng.randrange(len(best))]
    return rng.randrange(outcomes.size)
