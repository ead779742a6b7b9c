"""Making a filled form fair: items are exchanged inside their cells until the form is like those beside it.

Every item has marks (see `marks`), and a form costs something for each that stands too often or too seldom in it. A
question is weighed by its marks before any wrong answers are looked for, so that only what would help is built and
judged.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random

from barwright.blueprint.blueprint import Plan
from barwright.errors import CapacityError
from barwright.forms.aims import aim_beside, usual_aim
from barwright.forms.cells import parallel_item
from barwright.forms.draft import Draft
from barwright.forms.item_making import made_item
from barwright.forms.marks import Mark, Marked, Marks, marked, wrong_marks
from barwright.forms.parallel import Spread, spread_of, too_few_chances, traits_unlike
from barwright.forms.picked_items import Picked, Want, drawn_pool, fewer_beside, judged_item, picked_question, unjudged
from barwright.forms.question_sample import able as able_on
from barwright.forms.questions import Cell, cell_of
from barwright.forms.ready_items import question_of
from barwright.forms.scales import FAR, NO_CHANCE, OF_WRONG, Aim, Scales
from barwright.forms.settling import settled
from barwright.forms.watch import is_picked
from barwright.items.difficulty import difficulty
from barwright.items.item import Item
from barwright.showing import shown

# What it costs to take an item made anew for one of the stock: who takes from a bank wants what was approved there.
OUT_OF_STOCK = 1_000
# Of the best questions for one place those that are built until one is accepted.
BUILT = 3
# Of the best questions those that are looked at for one on which a misreading that is wanting shows.
LOOKED_AT = 24
# Rounds over the form; each helps less than the one before. From the last but one on any misreadings will do.
ROUNDS, LAST = 4, 2
# Of these for items whose wrong choices are settled: in a third one of forty questions that are built still helps.
SETTLED_ROUNDS = 2
# How often other questions are drawn for places that are still unlike: it costs far less than another form.
RENEWED = 4
# Places of a form for which a better item is looked for in all rounds together: in a large form each weighs little.
MOST_SEARCHES = 200
_NO_CHOICES = (
    "for an item of {} no wrong choices are found: ask for fewer, teach more elements or meters, or allow longer "
    "excerpts with `measures`"
)
# Items judged for each place, after which none is exchanged any more.
MOST_JUDGED = 3


def balanced(
    draft: Draft,
    plans: Sequence[Plan],
    cells: Sequence[Cell],
    placed: Mapping[int, Item],
    places: Sequence[int],
    *,
    beside: Sequence[Spread],
) -> dict[int, Item]:
    """The items by place, some of them exchanged; `places` are tried in this order: those with most to choose from.

    `beside`: the traits of the other forms. An item is exchanged for one with the same misreadings on offer, or, where
    its answer is picked or misreadings are out of balance, with as many others. Those about excerpts of the teacher's
    own stay.
    """
    aim = aim_beside(plans, cells, beside, draft.named)
    exchanged = _settled_and_exchanged(draft, plans, cells, placed, places, aim)
    return _mended(draft, plans, cells, exchanged, places, aim, beside)


def _mended(
    draft: Draft,
    plans: Sequence[Plan],
    cells: Sequence[Cell],
    placed: dict[int, Item],
    places: Sequence[int],
    aim: Aim,
    beside: Sequence[Spread],
) -> dict[int, Item]:
    """The items, those that make the form unfair exchanged for items of newly drawn questions, as far as can be."""
    for _ in range(RENEWED):
        made = list(placed.values())
        apart = (Mark("apart", one, other) for one, other, _ in too_few_chances(made, draft.named))
        faults: Marks = frozenset((*traits_unlike(spread_of(made), beside, aim.items), *apart))
        if not faults:
            break
        draft.sheets.renew()
        placed = _exchanged(draft, plans, cells, placed, places, Scales(aim, draft, faults), SETTLED_ROUNDS)
    return placed


def steadied(draft: Draft, plans: Sequence[Plan]) -> list[Item]:
    """The items of a first form, a plan for each, some of them exchanged so that it is like what parts usually give.

    Other forms can then match it: of an extreme one there is seldom a second. Its answers stay, as far as there are
    excerpts enough for others.
    """
    aim = usual_aim(draft, plans)
    cells = [cell_of(item, plan) for item, plan in zip(draft.items, plans, strict=True)]
    exchanged = _settled_and_exchanged(draft, plans, cells, dict(enumerate(draft.items)), range(len(plans)), aim)
    draft.bent.clear()  # nothing that it should have been like
    return [exchanged[place] for place in sorted(exchanged)]


def _settled_and_exchanged(
    draft: Draft,
    plans: Sequence[Plan],
    cells: Sequence[Cell],
    placed: Mapping[int, Item],
    places: Sequence[int],
    aim: Aim,
) -> dict[int, Item]:
    """The items, first questions exchanged, then all wrong choices taken, then both exchanged where that did not do."""
    exchanged = _exchanged(draft, plans, cells, placed, places, Scales(aim, draft))
    rng = Random(f"{draft.sheets.seed}/settled")
    settled_, without = settled(draft, plans, exchanged, aim, rng)
    for place in without:
        item = parallel_item(plans[place], cells[place], draft, rng, aim=cells[place].difficulty)
        if item is None:
            raise CapacityError(_NO_CHOICES.format(shown(plans[place].ask.id)), part=plans[place].number)
        settled_[place] = item
    return _exchanged(draft, plans, cells, settled_, places, Scales(aim, draft), SETTLED_ROUNDS)


def _exchanged(
    draft: Draft,
    plans: Sequence[Plan],
    cells: Sequence[Cell],
    placed: Mapping[int, Item],
    places: Sequence[int],
    scales: Scales,
    again: int = ROUNDS,
) -> dict[int, Item]:
    """The items, some of them exchanged; in the place of those whose answer is picked in `again` rounds only."""
    placed, searches = dict(placed), 0
    for round_ in range(ROUNDS):
        changed = False
        for place in places:
            if scales.is_fair() or searches == MOST_SEARCHES or draft.tally.judged >= MOST_JUDGED * len(plans):
                return placed
            item, plan = placed[place], plans[place]
            if item.id in draft.own or (round_ >= again and is_picked(plan.ask.id)):
                continue
            searches += 1
            search = _Search(draft, plan, cells[place], item, scales, round_)
            better = search.better(Random(f"{draft.sheets.seed}/{place} {round_}"))
            if better is not None:
                placed[place], changed = better, True
        if not changed and round_:
            break
    return placed


@dataclass(frozen=True, slots=True)
class _Search:
    """Looking for a better item in the place of one: in round 0 in its meter, then in any."""

    draft: Draft
    plan: Plan
    cell: Cell
    item: Item
    scales: Scales
    round_: int

    def better(self, rng: Random) -> Item | None:
        """The item that is now in the form instead; None if none was found that makes the form better."""
        draft, plan, now = self.draft, self.plan, difficulty(self.item.excerpt, self.plan.weights)
        marks = draft.marks_of(self.item)
        may_choose = self.scales.may_choose(plan, marks)
        own = [marked(plan, question_of(self.item))] if may_choose and self._may_choose_again() else []
        # Another question may cost so much more as other wrong answers of it may be worth.
        least = FAR if may_choose and self.round_ else 0
        ranked = self._ranked(marks, now, least) if least or self.scales.may_gain(plan, marks) else []
        if not ranked and not own:
            return None
        in_stock = any(each.id == self.item.id for each in draft.stock.items.get(plan.ask.id, ()))
        draft.release(self.item)
        # The item has gone already: what comes is weighed against what would come back.
        back = self.scales.after(frozenset(), marks, now) - OUT_OF_STOCK * in_stock
        for each in (*own, *self._able(ranked)):
            other = self._built(each, back, rng)
            if other is not None:
                draft.bent.pop(self.item.id, None)
                draft.keep(plan, each.question, other)
                self._note(other)
                self.scales.look(marks | draft.marks_of(other))
                return other
        draft.keep(plan, question_of(self.item), self.item)
        return None

    def _may_choose_again(self) -> bool:
        """Whether other wrong choices of the question may help: once they are picked for it, one look at them tells."""
        return not self.round_ or not is_picked(self.plan.ask.id)

    def _ranked(self, marks: Marks, now: int, least: int) -> list[Marked]:
        """The questions that promise something, the most first, if their wrong answers are like the item's."""
        meter = None if self.round_ else self.cell.meter
        kept = frozenset(mark for mark in marks if mark.kind in OF_WRONG)
        weighed = self.scales.exchanges(marks, kept, now, self.draft.sheets.of(self.plan, meter))
        promising = [(change, each) for change, each in weighed if change < least]
        return [each for _, each in sorted(promising, key=lambda each: each[0])]

    def _able(self, ranked: Sequence[Marked]) -> list[Marked]:
        """The best of them that may stand in the form, now that the item is out of it.

        Where misreadings are wanting those on which one of these shows, of some that are looked at, come first.
        """
        draft, wanting = self.draft, self.scales.wanting(self.plan.ask.id)
        able, others = list[Marked](), list[Marked]()
        for each in ranked:
            if draft.elsewhere(each.question) or draft.meets(self.plan, each.question):
                continue
            (able if self._shows(each, wanting) else others).append(each)
            if len(able) == BUILT or len(able) + len(others) == LOOKED_AT:
                break
        return [*able, *others][:BUILT]

    def _shows(self, each: Marked, wanting: frozenset[str]) -> bool:
        """Whether one of these misreadings leads to a wrong answer on the question; true of none."""
        return not wanting or not wanting.isdisjoint(able_on(self.plan.ask, each.question, self.plan.space.anywhere))

    def _built(self, each: Marked, back: int, rng: Random) -> Item | None:
        """An item of the question that costs the form less than the item that is to come back; judged only then."""
        wrong, over = self.item.wrong, self.scales.worn(self.plan.ask.id)
        if is_picked(self.plan.ask.id):
            return self._picked(each, back, over, rng)
        tally, only = self.draft.tally, frozenset(choice.misreading for choice in wrong)
        if self.round_ < LAST and len(only) == len(wrong) and each.question != question_of(self.item):
            item = made_item(self.plan, each.question, fewer=0, tally=tally, rng=rng, only=only)
        else:
            for one, _ in self.draft.lacking():
                over[one] -= NO_CHANCE
            item = made_item(self.plan, each.question, fewer=0, tally=tally, rng=rng, over=over, wrong=len(wrong))
        return item if item is not None and self._costs(each, item) < back else None

    def _picked(self, each: Marked, back: int, over: Mapping[str, int], rng: Random) -> Item | None:
        draft, plan, choices = self.draft, self.plan, len(self.item.choices)
        if len(each.question.keys) != len(self.item.keys):
            return None  # as many are to be ticked
        if draft.settling:
            return self._open(each, choices, back, rng)
        owed = {name: -cost for name, cost in over.items()}
        want = Want(fewer_beside(plan), choices, owed, draft.lacking(), tried=draft.tried)
        picked = picked_question(plan, each.question, want, tally=draft.tally, rng=rng, guessers=draft.guessers)
        if picked is None or self._costs(each, unjudged(plan, picked)) >= back:
            return None
        item = judged_item(plan, picked, want, tally=draft.tally, rng=rng, guessers=draft.guessers)
        return item if item is not None and self._costs(each, item) < back else None

    def _open(self, each: Marked, choices: int, back: int, rng: Random) -> Item | None:
        """An item of the question whose wrong choices are taken later."""
        draft, plan = self.draft, self.plan
        want = Want(fewer_beside(plan), choices, {}, draft.lacking(), tried=draft.tried)
        open_ = draft.pools.get(self.item.id)
        about = (self.item.offered if open_ is None else open_.can_show(plan.focus)).intersection(plan.focus)
        if about and not about <= able_on(plan.ask, each.question, plan.space):
            return None
        pool = drawn_pool(plan, each.question, want, tally=draft.tally, rng=rng, guessers=draft.guessers)
        if not pool.sets or not about <= pool.can_show(plan.focus):
            return None
        item = unjudged(plan, Picked(each.question, (), pool.sets[0], 0))
        if self._costs(each, item) >= back:
            return None
        draft.pools[item.id] = pool
        return item

    def _costs(self, each: Marked, item: Item) -> int:
        """What the item costs the form if it comes."""
        come = each.marks | wrong_marks(self.plan, item, self.draft.named)
        return self.scales.after(frozenset(), come, each.difficulty)

    def _note(self, other: Item) -> None:
        """Notes in which respect the item is not like the first form's."""
        draft, plan = self.draft, self.plan
        if not is_picked(plan.ask.id) and other.offered != self.cell.misreadings:
            named = ", ".join(sorted(self.cell.misreadings))
            draft.bent[other.id] = f"{plan.ask.id}: other misreadings than {named}"
        elif other.excerpt.meter != self.cell.meter:
            draft.bent[other.id] = f"{plan.ask.id}: {other.excerpt.meter} for {self.cell.meter}, to be as hard"
