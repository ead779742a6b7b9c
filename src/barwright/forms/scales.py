"""A form on the scales: what it costs that a mark stands too often or too seldom in it."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from barwright.blueprint.blueprint import Plan
from barwright.forms.draft import OTHER_ANSWER, SLIGHT, Draft
from barwright.forms.marks import Mark, Marked, Marks, chance_marks
from barwright.forms.parallel import APART, WHOLE, Trait, room, wanted_chances

# The sum of a form may lie this far from what is aimed at before items are exchanged: well inside the aim of 5 %.
NEAR = 100  # one part of so many
# What is given up first if not all can be had: the lowest.
FAR, TWINS, ONE_KEY, SAME_EXCERPT, NO_CHANCE, PER_HUNDREDTH = 20, 30, 30, 12, 60, 4
# An item less that shows what its part is to be about, beside what it costs that none or one does; nothing is exchanged
# for the sake of it alone.
NOT_ABOUT = 15
# The same for a misreading in all asks together: each ask alone matters more.
FAR_IN_ALL = 5
# Marks that wrong answers give an item; all others come with the question.
OF_WRONG = ("misreadings", "apart", "about")


@dataclass(frozen=True, slots=True)
class Aim:
    """What a form should be like: each trait not less often than in `least`, not more often than in `most`.

    A trait that `most` does not name may stand there as often as `room` says. Best is as often as in `best`, and a sum
    of difficulties of `difficulty`. `items`: how many items each ask has; `parts`: how many each part has. `free`:
    kinds of traits that may stand there as often as they do, up to `most`.
    """

    least: Mapping[Trait, int]
    most: Mapping[Trait, int]
    best: Mapping[Trait, int]
    difficulty: int
    items: Mapping[str, int]
    parts: Mapping[str, int]
    free: frozenset[str] = frozenset()

    def far(self, mark: Trait | Mark, count: int) -> int:
        """What it costs that a mark stands so often in the form, if it is good enough not to be too far off."""
        if not isinstance(mark, Trait):
            return self.cost(mark, count)
        most = self.most.get(mark)
        if mark.kind in self.free:
            return 0 if most is None or mark.of == WHOLE else FAR * max(count - most, 0)
        over = count - (room(self.items[mark.of]) if most is None else most)
        under = self.least.get(mark, 0) - count
        return (FAR_IN_ALL if mark.of == WHOLE else FAR) * max(over, under, 0)

    def cost(self, mark: Trait | Mark, count: int) -> int:
        """What it costs that a mark stands so often in the form."""
        if isinstance(mark, Trait):
            if mark.kind in self.free:
                return self.far(mark, count)
            weight = OTHER_ANSWER if mark.kind == "answers" else 1
            return self.far(mark, count) + weight * abs(count - self.best.get(mark, 0))
        if mark.kind == "twin":
            return TWINS * max(count - 1, 0)
        if mark.kind == "key":
            return ONE_KEY * (count == self.parts.get(mark.of, 0) > 1)
        if mark.kind == "excerpt":
            return SAME_EXCERPT * max(count - 1, 0)
        if mark.kind == "slight":
            return SLIGHT * count
        if mark.kind == "about":
            items = self.parts.get(mark.of, 0)
            return NOT_ABOUT * max(items - count, 0) + NO_CHANCE * max(min(items, APART) - count, 0)
        return NO_CHANCE * max(wanted_chances(mark.of, mark.name) - count, 0)

    def off(self, sum_: int) -> int:
        """What it costs that the difficulties of the form have this sum."""
        away = abs(sum_ - self.difficulty) * NEAR // max(self.difficulty, 1)
        return PER_HUNDREDTH * away


@dataclass(slots=True)
class Scales:
    """A form in the making on the scales; `bad`: the marks that stand in it too often or too seldom.

    `only`: with any, no item is exchanged for the sake of anything else.
    """

    aim: Aim
    draft: Draft
    only: Marks = frozenset()
    bad: set[Trait | Mark] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.look({*self.draft.shown, *self.aim.least, *chance_marks(self.draft.named)})

    def look(self, marks: Iterable[Trait | Mark]) -> None:
        """Looks at these marks again, of which some have come or gone."""
        for mark in marks:
            if self._is_settled_later(mark) or (self.only and mark not in self.only):
                continue
            if mark.kind != "about" and self.aim.cost(mark, self.draft.shown[mark]) >= SAME_EXCERPT:
                self.bad.add(mark)
            else:
                self.bad.discard(mark)

    def _is_settled_later(self, mark: Trait | Mark) -> bool:
        """Whether a mark comes with wrong choices that are taken only when all questions are there."""
        return self.draft.settling and mark.kind in OF_WRONG

    def after(self, gone: Marks, come: Marks, harder: int) -> int:
        """By how much the cost changes if these marks go and come; below 0 it is for the better."""
        aim, counts, sum_ = self.aim, self.draft.shown, self.draft.sum
        change = aim.off(sum_ + harder) - aim.off(sum_)
        change += sum([self._step(mark, counts[mark], -1) for mark in gone - come])
        return change + sum([self._step(mark, counts[mark], 1) for mark in come - gone])

    def exchanges(self, gone: Marks, kept: Marks, now: int, sheet: Iterable[Marked]) -> Iterator[tuple[int, Marked]]:
        """Each question of a sheet and what `after` says if it comes in the place of an item with the marks in `gone`.

        `kept`: those of them that stay whatever comes; `now`: how difficult the item is. Each mark is weighed once.
        """
        aim, counts, sum_ = self.aim, self.draft.shown, self.draft.sum
        less = {m: self._step(m, counts.get(m, 0), -1) for m in gone - kept}
        start, more = sum(less.values()) - aim.off(sum_), dict[Trait | Mark, int]()
        for each in sheet:
            change = start + aim.off(sum_ + each.difficulty - now)
            for mark in each.marks:
                if mark in less:
                    change -= less[mark]
                elif mark not in kept:
                    if mark not in more:
                        more[mark] = self._step(mark, counts.get(mark, 0), 1)
                    change += more[mark]
            yield change, each

    def _step(self, mark: Trait | Mark, count: int, more: int) -> int:
        """By how much the cost changes if a mark that stands so often comes once more, or with -1 once less."""
        if self._is_settled_later(mark):
            return 0
        return self.aim.cost(mark, count + more) - self.aim.cost(mark, count)

    def is_fair(self) -> bool:
        """Whether nothing is too far off; what is only not at its best is good enough."""
        return not self.bad and not self._is_off()

    def _is_off(self) -> bool:
        """Whether the form is too hard or too easy, where that matters."""
        return not self.only and self.aim.off(self.draft.sum) > 0

    def may_gain(self, plan: Plan, marks: Marks) -> bool:
        """Whether another question in the place of an item with these marks could make the form better."""
        if self._is_off():
            return True
        return any(self._helps(mark, plan, marks) for mark in self.bad if mark.kind not in OF_WRONG)

    def may_choose(self, plan: Plan, marks: Marks) -> bool:
        """Whether other wrong answers in an item with these marks could make the form better."""
        return any(self._helps(mark, plan, marks) for mark in self.bad if mark.kind in OF_WRONG)

    def _helps(self, mark: Trait | Mark, plan: Plan, marks: Marks) -> bool:
        """Whether a bad mark is one of these and stands too often, or could come to an item of the part."""
        count = self.draft.shown[mark]
        if mark not in marks and mark.kind != "apart" and mark.of != plan.ask.id:
            return False
        return self.aim.cost(mark, count - 1 if mark in marks else count + 1) < self.aim.cost(mark, count)

    def wanting(self, ask: str) -> frozenset[str]:
        """The misreadings that stand too seldom in items of an ask, if that is to be mended now."""
        return frozenset(
            mark.name
            for mark in self.bad
            if isinstance(mark, Trait) and mark.kind == "misreadings" and mark.of == ask
            if self.draft.shown[mark] < self.aim.least.get(mark, 0)
        )

    def worn(self, ask: str) -> Counter[str]:
        """What it costs that each misreading comes to an item of the ask; wanting ones lowest."""
        over: Counter[str] = Counter()
        for name in {*self.draft.over(ask), *(t.name for t in self.aim.least if t.kind == "misreadings")}:
            for trait in (Trait(ask, "misreadings", name), Trait(WHOLE, "misreadings", name)):
                count = self.draft.shown[trait]
                over[name] += self.aim.cost(trait, count + 1) - self.aim.cost(trait, count)
        return over
