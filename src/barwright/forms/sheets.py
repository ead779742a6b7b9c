"""Questions at hand for the parts of a form, drawn once for several places, with their marks.

A draw costs little beside the wrong answers of a question, so that the best of many is built. Forms that are made one
after the other choose from the same sheets, where a part has many: what one has taken is no longer free for the next.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.marks import Marked, marked
from barwright.forms.question_sample import has_few
from barwright.forms.questions import listed_at_random
from barwright.rhythm.meter import Meter

# Questions on a sheet for each item of its part, and at most; how many places choose from it before another is drawn.
DRAWN_EACH, MOST_DRAWN, SERVED = 28, 96, 12
# Forms choose from one sheet where no more than one in so many of its draws gives what was drawn before: else so few
# questions are left for the last of them that no form like the first can be made.
COMMON = 5


Drawn = dict[tuple[object, ...], tuple[Marked, ...]]
"""Sheets by what they were drawn for, kept for the forms that choose from them too; none where each has its own."""


@dataclass(slots=True)
class _Sheet:
    questions: tuple[Marked, ...]
    number: int
    left: int


@dataclass(slots=True)
class Sheets:
    """The sheets of a form; `seed` is what its draws begin with. With `few` all questions of a part that has few.

    `common`: what the draws of sheets begin with that several forms choose from; without it the seed. `drawn`: those.
    """

    seed: str = ""
    few: bool = True
    common: str = ""
    drawn: Drawn = field(default_factory=dict)
    _held: dict[tuple[object, ...], _Sheet] = field(default_factory=dict)
    _counts: Counter[tuple[object, ...]] = field(default_factory=Counter)

    def of(self, plan: Plan, meter: Meter | None = None) -> tuple[Marked, ...]:
        """Questions of a part to choose from, in one meter or in all; another choice of them now and then."""
        few = self.few and has_few(plan.ask, plan.space)
        name = (plan.number, plan.ask.id, plan.space.meters)
        sheet = self._held.get(name)
        if sheet is None or (not sheet.left and not few):
            self._counts[name] += 1
            sheet = self._held[name] = _Sheet(self._next(plan, name, few=few), plan.number, SERVED)
        sheet.left = max(sheet.left - 1, 0)
        return tuple(each for each in sheet.questions if meter in (None, each.question.excerpt.meter))

    def _next(self, plan: Plan, name: tuple[object, ...], *, few: bool) -> tuple[Marked, ...]:
        """The questions of the next sheet of this name: a common one, where hardly any question is drawn twice."""
        which, number = (self.common, *name), self._counts[name]
        if few or not self.common:
            return self._own(plan, number, few=few)
        if (which, number) not in self.drawn:
            rng = Random(f"{self.common}/{plan.number} {plan.ask.id} sheet {number}")
            questions = list(_drawn(plan, rng))
            different = {question.text: question for question in questions}
            rich = COMMON * len(different) >= (COMMON - 1) * len(questions)
            self.drawn[which, number] = _marked(plan, different.values()) if rich else ()
        return self.drawn[which, number] or self._own(plan, number, few=few)

    def _own(self, plan: Plan, number: int, *, few: bool) -> tuple[Marked, ...]:
        """A sheet that no other form chooses from."""
        rng = Random(f"{self.seed}/{plan.number} {plan.ask.id} sheet {number}")
        if few:
            return _marked(plan, listed_at_random(plan, rng))
        return _marked(plan, {question.text: question for question in _drawn(plan, rng)}.values())

    def renew(self) -> None:
        """Has another sheet drawn for every part, which no other form chooses from."""
        self.common = ""
        self._held.clear()

    def turn(self, plan: Plan) -> None:
        """Has another sheet drawn for the next place of a part, where one is drawn at all."""
        for sheet in self._held.values():
            sheet.left = 0 if sheet.number == plan.number else sheet.left


def _marked(plan: Plan, questions: Iterable[Question]) -> tuple[Marked, ...]:
    return tuple(marked(plan, question) for question in questions)


def _drawn(plan: Plan, rng: Random) -> Iterator[Question]:
    """Questions, as often of a kind as the ask draws them, some of them twice."""
    draws = (plan.ask.draw(plan.space, rng) for _ in range(min(DRAWN_EACH * (1 + plan.items), MOST_DRAWN)))
    return (question for question in draws if question is not None)
