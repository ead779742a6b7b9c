"""Making a filled form fair: items are exchanged inside their cells until the form is like those beside it.

Every item has marks: its traits, what its mirror image would have too, its key in its part, the chances it gives to
tell named misreadings apart. A form costs something for each mark that stands too often or too seldom in it. A question
is weighed by its marks before any wrong answers are looked for, so that only what would help is built and judged.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from random import Random
from typing import NamedTuple

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.cells import Cell, cell_of, tried_questions
from barwright.forms.draft import Desk
from barwright.forms.item_making import made_item
from barwright.forms.parallel import (
    CHANCES,
    WHOLE,
    Spread,
    Trait,
    apart_chances,
    misreading_traits,
    question_traits,
    room,
    spread_of,
    twin_name,
)
from barwright.forms.question_sample import in_one_meter
from barwright.forms.ready_items import question_of
from barwright.forms.typical import FORMS, supply, usual_counts, usual_difficulty
from barwright.items.difficulty import difficulty
from barwright.items.item import Item
from barwright.rhythm.text import format_excerpt

# The sum of a form may lie this far from what is aimed at before items are exchanged: well inside the aim of 5 %.
NEAR = 100  # one part of so many
# What is given up first if not all can be had: the lowest.
FAR, TWINS, ONE_KEY, SAME_EXCERPT, NO_CHANCE, OUT_OF_STOCK, PER_HUNDREDTH = 20, 30, 30, 12, 30, 15, 4
# What an answer that the first form has more or less often weighs, against 1 of any other trait: answers are passed on.
OTHER_ANSWER = 5
# Questions that are looked at for one place, and of the best those that are built until one is accepted.
LOOKED_AT = 60
BUILT = 4
# Rounds over the form; each helps less than the one before.
ROUNDS = 6


class Mark(NamedTuple):
    """Something of an item that is no trait but matters to its form: `kind` says what, `of` where, `name` which."""

    kind: str
    of: str
    name: str


Marks = frozenset[Trait | Mark]


@dataclass(frozen=True, slots=True)
class Aim:
    """What a form should be like: each trait not less often than in `least`, not more often than in `most`.

    A trait that `most` does not name may stand there as often as `room` says. Best is as often as in `best`, and a sum
    of difficulties of `difficulty`. `items`: how many items each ask has; `parts`: how many each part has. `free`:
    kinds of traits that may be as they are. `named`: the misreadings that are to be told apart.
    """

    least: Mapping[Trait, int]
    most: Mapping[Trait, int]
    best: Mapping[Trait, int]
    difficulty: int
    items: Mapping[str, int]
    parts: Mapping[str, int]
    named: tuple[str, ...]
    free: frozenset[str] = frozenset()

    def cost(self, mark: Trait | Mark, count: int) -> int:
        """What it costs that a mark stands so often in the form."""
        if isinstance(mark, Trait):
            if mark.kind in self.free:
                return 0
            most = self.most.get(mark)
            over = count - (room(self.items[mark.of]) if most is None else most)
            under = self.least.get(mark, 0) - count
            weight = OTHER_ANSWER if mark.kind == "answers" else 1
            return FAR * max(over, under, 0) + weight * abs(count - self.best.get(mark, 0))
        if mark.kind == "twin":
            return TWINS * max(count - 1, 0)
        if mark.kind == "key":
            return ONE_KEY * (count == self.parts[mark.of] > 1)
        if mark.kind == "excerpt":
            return SAME_EXCERPT * max(count - 1, 0)
        return NO_CHANCE * max(CHANCES - count, 0)

    def off(self, sum_: int) -> int:
        """What it costs that the difficulties of the form have this sum."""
        away = abs(sum_ - self.difficulty) * NEAR // max(self.difficulty, 1)
        return PER_HUNDREDTH * away


@dataclass(slots=True)
class _Scales:
    """A form on the scales: how often each mark stands in it, and the sum of its difficulties."""

    aim: Aim
    counts: Counter[Trait | Mark] = field(default_factory=Counter)
    sum: int = 0

    def after(self, gone: Marks, come: Marks, harder: int) -> int:
        """By how much the cost changes if these marks go and come; below 0 it is for the better."""
        aim, counts = self.aim, self.counts
        change = aim.off(self.sum + harder) - aim.off(self.sum)
        for mark in gone - come:
            change += aim.cost(mark, counts[mark] - 1) - aim.cost(mark, counts[mark])
        for mark in come - gone:
            change += aim.cost(mark, counts[mark] + 1) - aim.cost(mark, counts[mark])
        return change

    def exchange(self, gone: Marks, come: Marks, harder: int) -> None:
        self.counts.subtract(gone - come)
        self.counts.update(come - gone)
        self.sum += harder

    def is_fair(self) -> bool:
        """Whether nothing is too far off; what is only not at its best is good enough."""
        return not self.aim.off(self.sum) and not any(map(self.is_bad, self._all()))

    def is_bad(self, mark: Trait | Mark) -> bool:
        """Whether a mark stands too often or too seldom."""
        return self.aim.cost(mark, self.counts[mark]) >= SAME_EXCERPT

    def may_gain(self, plan: Plan, marks: Marks) -> bool:
        """Whether another item of this part could make the form better."""
        if self.aim.off(self.sum):
            return True
        bad = [mark for mark in self._all() if self.is_bad(mark)]
        return any(mark in marks or mark.kind == "apart" or mark.of in (plan.ask.id, WHOLE) for mark in bad)

    def worn(self, item: Item) -> dict[str, int]:
        """How much oftener than it should each misreading of the item's ask stands in the form; wanting ones lowest."""
        traits = (mark for mark in self._all() if isinstance(mark, Trait) and mark.kind == "misreadings")
        over: Counter[str] = Counter()
        for trait in traits:
            if trait.of in (item.ask, WHOLE):
                over[trait.name] += self.counts[trait] - self.aim.best.get(trait, 0)
        for mark in _chances(self.aim.named):
            if self.counts[mark] < CHANCES:
                over[mark.of] -= NO_CHANCE
        return over

    def _all(self) -> set[Trait | Mark]:
        return {*self.counts, *self.aim.least, *_chances(self.aim.named)}


def balanced(
    desk: Desk,
    plans: Sequence[Plan],
    cells: Sequence[Cell],
    found: Mapping[int, Item],
    places: Sequence[int],
    seed: str,
    *,
    beside: Sequence[Sequence[Item]],
) -> dict[int, Item]:
    """The items by place, some of them exchanged; `places` are tried in this order: those with most to choose from.

    `beside`: the items of the other forms. An item is only exchanged for one with the same misreadings on offer, or,
    where misreadings are out of balance, with as many others. Those about excerpts of the teacher's own stay.
    """
    spreads = [spread_of(items) for items in beside]
    items, in_parts = _sizes(plans)
    least, most = _bounds(spreads, items)
    best = Counter(spreads[0])
    for trait, excerpts in supply(_parts(plans)).items():
        share = int(excerpts / FORMS)
        if trait.kind != "answers":  # whether it is Yes or No matters more than who gets the last of few
            best[trait] = min(best[trait], share)
        if trait in most:
            most[trait] = max(least[trait], min(most[trait], max(share, 1)))
    whole = sum(cell.difficulty for cell in cells)
    aim = Aim(least, most, best, whole, items, in_parts, _named(plans))
    return _exchanged(desk, plans, cells, found, places, seed, aim)


def steadied(desk: Desk, plans: Sequence[Plan], seed: str) -> list[Item]:
    """The items of a first form, a plan for each, some of them exchanged so that it is like what parts usually give.

    Other forms can then match it: of an extreme one there is seldom a second.
    """
    parts, (items, in_parts) = _parts(plans), _sizes(plans)
    best = usual_counts(parts)
    least = {trait: count - room(items[trait.of]) for trait, count in best.items()}
    most = {trait: count + room(items[trait.of]) for trait, count in best.items()}
    for trait, excerpts in supply(parts).items():
        most[trait] = min(most.get(trait, items[trait.of]), max(1, int(excerpts / FORMS)))
    aim = Aim(
        least, most, best, usual_difficulty(parts), items, in_parts, _named(plans), free=frozenset({"misreadings"})
    )
    cells = [cell_of(item, plan) for item, plan in zip(desk.items, plans, strict=True)]
    found = _exchanged(desk, plans, cells, dict(enumerate(desk.items)), range(len(plans)), seed, aim)
    desk.bent.clear()  # nothing that it should have been like
    return [found[place] for place in sorted(found)]


def _exchanged(
    desk: Desk,
    plans: Sequence[Plan],
    cells: Sequence[Cell],
    found: Mapping[int, Item],
    places: Sequence[int],
    seed: str,
    aim: Aim,
) -> dict[int, Item]:
    found, part = dict(found), part_names(plans)
    scales = _Scales(aim)
    for place, item in found.items():
        marks = item_marks(plans[place], part[place], item, aim.named)
        scales.exchange(frozenset(), marks, difficulty(item.excerpt, plans[place].weights))
    for round_ in range(ROUNDS):
        if scales.is_fair():
            break
        for place in places:
            item = found[place]
            marks = item_marks(plans[place], part[place], item, aim.named)
            if item.id in desk.own or not scales.may_gain(plans[place], marks):
                continue
            search = _Search(desk, plans[place], cells[place], part[place], item, marks, scales, round_)
            better = search.better(Random(f"{seed}/{place}/again {round_}"))
            if better is not None:
                found[place] = better
                if scales.is_fair():
                    break
    return found


@dataclass(frozen=True, slots=True)
class _Search:
    """Looking for a better item in the place of one: `round_` 0 in its meter, 1 in any, then with any misreadings."""

    desk: Desk
    plan: Plan
    cell: Cell
    part: str
    item: Item
    marks: Marks
    scales: _Scales
    round_: int

    def better(self, rng: Random) -> Item | None:
        """The item that is now in the form instead; None if none was found that makes the form better."""
        now = difficulty(self.item.excerpt, self.plan.weights)
        in_stock = any(each.id == self.item.id for each in self.desk.stock.items.get(self.item.ask, ()))
        for question in self._ranked(rng, now):
            other = self._built(question, rng)
            if other is None:
                continue
            marks = item_marks(self.plan, self.part, other, self.scales.aim.named)
            harder = difficulty(other.excerpt, self.plan.weights) - now
            if self.scales.after(self.marks, marks, harder) + OUT_OF_STOCK * in_stock < 0:
                self.scales.exchange(self.marks, marks, harder)
                self._exchange(question, other)
                return other
        return None

    def _ranked(self, rng: Random, now: int) -> list[Question]:
        """The questions that promise most, if their wrong answers are like the item's."""
        plan = self.plan if self.round_ else in_one_meter(self.plan, self.cell.meter)
        kept = frozenset(mark for mark in self.marks if mark.kind in ("misreadings", "apart"))
        found: dict[str, tuple[int, Question]] = {}
        for question in islice(self._questions(plan, rng), LOOKED_AT):
            if question.text in found:
                continue
            come = kept | question_marks(self.plan, self.part, question)
            change = self.scales.after(self.marks, come, difficulty(question.excerpt, self.plan.weights) - now)
            found[question.text] = change, question
        least = NO_CHANCE if self.round_ > 1 else 0  # other misreadings may help by so much
        ranked = sorted((each for each in found.values() if each[0] < least), key=lambda each: each[0])
        able = (question for _, question in ranked if not self._is_barred(question))
        return list(islice(able, BUILT))

    def _questions(self, plan: Plan, rng: Random) -> Iterator[Question]:
        """Questions to look at; for a first form only drawn ones: an ask draws what is worth asking before the rest."""
        if not self.scales.aim.free:
            return tried_questions(plan, rng)
        drawn = (plan.ask.draw(plan.space, rng) for _ in range(LOOKED_AT))
        return (question for question in drawn if question is not None)

    def _is_barred(self, question: Question) -> bool:
        return self.desk.elsewhere(question) or self.desk.meets(self.plan, question)

    def _built(self, question: Question, rng: Random) -> Item | None:
        tally, wrong = self.desk.tally, self.item.wrong
        only = frozenset(choice.misreading for choice in wrong)
        if self.round_ < 2 and len(only) == len(wrong):
            return made_item(self.plan, question, fewer=0, tally=tally, rng=rng, only=only)
        return made_item(
            self.plan, question, fewer=0, tally=tally, rng=rng, over=self.scales.worn(self.item), wrong=len(wrong)
        )

    def _exchange(self, question: Question, other: Item) -> None:
        desk, plan = self.desk, self.plan
        desk.bent.pop(self.item.id, None)
        desk.release(self.item)
        desk.keep(plan, question, other)
        if {choice.misreading for choice in other.wrong} != self.cell.misreadings:
            named = ", ".join(sorted(self.cell.misreadings))
            desk.bent[other.id] = f"{plan.ask.id}: other misreadings than {named}"
        elif other.excerpt.meter != self.cell.meter:
            desk.bent[other.id] = f"{plan.ask.id}: {other.excerpt.meter} for {self.cell.meter}, to be as hard"


def question_marks(plan: Plan, part: str, question: Question) -> Marks:
    """The marks of a question of a part, whatever its wrong answers are."""
    keys = " ".join(key.text for key in question.keys)
    return frozenset(
        (
            *question_traits(plan.ask, question),
            Mark("twin", plan.ask.id, twin_name(plan.ask.id, question)),
            Mark("key", part, keys),
            Mark("excerpt", "form", format_excerpt(question.excerpt)),
        )
    )


def item_marks(plan: Plan, part: str, item: Item, named: Sequence[str]) -> Marks:
    """All marks of an item."""
    chances = (Mark("apart", one, other) for one, other in apart_chances([item], named))
    return question_marks(plan, part, question_of(item)) | {*misreading_traits(item), *chances}


def part_names(plans: Sequence[Plan]) -> list[str]:
    """For each place the name of its part, `1` for the first."""
    numbers = {id(plan): str(number) for number, (plan, _) in enumerate(_parts(plans), start=1)}
    return [numbers[id(plan)] for plan in plans]


def _parts(plans: Sequence[Plan]) -> list[tuple[Plan, int]]:
    """Each part's plan, and how many places it has."""
    counts = Counter(map(id, plans))
    return [(plan, counts[id(plan)]) for plan in {id(plan): plan for plan in plans}.values()]


def _sizes(plans: Sequence[Plan]) -> tuple[Counter[str], Counter[str]]:
    """How many items each ask has, and each part."""
    asks = Counter(name for plan in plans for name in (plan.ask.id, WHOLE))
    return asks, Counter(part_names(plans))


def _named(plans: Sequence[Plan]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(misreading for plan in plans for misreading in plan.focus))


def _chances(named: Sequence[str]) -> Iterator[Mark]:
    return (Mark("apart", one, other) for one in named for other in named)


def _bounds(spreads: Sequence[Spread], items: Mapping[str, int]) -> tuple[dict[Trait, int], dict[Trait, int]]:
    """How seldom and how often each trait may stand in a form that is to be near to all of these."""
    traits = sorted(set().union(*spreads))
    least = {t: max(spread[t] for spread in spreads) - room(items[t.of]) for t in traits}
    return least, {t: min(spread[t] for spread in spreads) + room(items[t.of]) for t in traits}
