"""Finding the next item of a form: freely for the first form, in the same cell for every other.

A cell is what parallel items have in common: the part, the meter, the misreadings on offer, and about the same expected
difficulty. The first form of a quiz is drawn freely and makes the cells; the other forms fill them.
"""

from dataclasses import replace
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.distractors import is_supported
from barwright.forms.draft import Draft
from barwright.forms.item_making import made_item
from barwright.forms.picked_cells import picked_free, picked_in_cell
from barwright.forms.question_sample import (
    frequency,
    has_few,
    in_one_meter,
    sample_of,
    whole_sample,
)
from barwright.forms.questions import MOST_DRAWS, Cell, cell_of, is_like, listed_at_random, tried
from barwright.forms.ready_items import fitting, question_of
from barwright.forms.watch import is_picked
from barwright.items.difficulty import difficulty
from barwright.items.item import Item
from barwright.rhythm.meter import Meter

# Draws before a short item (one choice fewer) is taken, and before every question is listed instead.
FULL_DRAWS = 40
# Draws after which an item is taken even if few other excerpts can fill its cell.
SUPPORT_DRAWS = 8
# Where a part has few questions, one use of a misreading weighs as much as so many excerpts on which it shows.
WORN = 4
# More than any misreading is worn by use: those that a part is to be about come first all the same.
WANTED = 1_000_000
# Items of other misreadings that are looked at before the one is taken that makes up best for others.
LOOKED_AT = 4
# Sheets of questions that are looked through for one place.
ROUNDS = 3


def free_item(plan: Plan, draft: Draft, rng: Random) -> Item | None:
    """The next item of a first form: from the stock, else about a teacher's own excerpt, else about a drawn one.

    What is drawn makes a cell that others can fill too. An excerpt that another form has comes only at the end.
    """
    return (
        _stocked_item(plan, draft)
        or _own_item(plan, draft, rng)
        or _unshared_item(plan, draft, rng)
        or _any_item(plan, draft, rng, sharing=True)
    )


def _own_item(plan: Plan, draft: Draft, rng: Random) -> Item | None:
    """An item about an excerpt of the teacher's own, as long as the form has not had its share; the fullest are first.

    Only questions that no misreading leads astray on are passed over.
    """
    if plan.own.space is None or draft.has_share(plan):
        return None
    own, spare = replace(plan, space=plan.own.space), None
    for question in listed_at_random(own, rng):
        if draft.elsewhere(question) or draft.meets(plan, question) or draft.repeats(question):
            continue
        item = made_item(
            own, question, fewer=int(plan.fewer_choices), tally=draft.tally, rng=rng, guessers=draft.guessers
        )
        if item is not None and _is_full(plan, item):
            return draft.keep_own(plan, question, item)
        spare = spare or (None if item is None else (question, item))
    return None if spare is None else draft.keep_own(plan, *spare)


def _stocked_item(plan: Plan, draft: Draft, *, cell: Cell | None = None, aim: int = 0) -> Item | None:
    """An item of the stock, with the misreadings of the cell if there is one, and of difficulty near to `aim`."""

    def rank(pair: tuple[Question, Item]) -> tuple[int, bool, bool]:
        question, item = pair
        away = abs(difficulty(item.excerpt, plan.weights) - aim) if cell else not _can_be_filled(plan, item)
        return away, draft.too_often(plan, question), not _is_about(plan, item)

    able = [(question_of(item), item) for item in fitting(draft.stock, plan)]
    able = [each for each in able if not draft.elsewhere(each[0]) and not draft.meets(plan, each[0])]
    if cell is not None:
        able = [each for each in able if cell_of(each[1], plan).misreadings == cell.misreadings]
    best = min(able, key=rank, default=None)
    return None if best is None else draft.keep(plan, *best)


def _unshared_item(plan: Plan, draft: Draft, rng: Random) -> Item | None:
    if is_picked(plan.ask.id):
        return picked_free(plan, draft, rng) or _any_item(plan, draft, rng, sharing=False)
    spare: tuple[Question, Item] | None = None
    for drawn in range(MOST_DRAWS):
        question = plan.ask.draw(plan.space, rng)
        if question is None or draft.elsewhere(question) or draft.meets(plan, question):
            continue
        if drawn < FULL_DRAWS and (draft.too_often(plan, question) or draft.repeats(question)):
            continue
        item = _supported(plan, question, draft, rng)
        if item is None:
            continue
        wanted = drawn >= FULL_DRAWS or _is_about(plan, item)
        if wanted and _is_full(plan, item) and (drawn >= SUPPORT_DRAWS or _can_be_filled(plan, item)):
            return draft.keep(plan, question, item)
        spare = spare or (question, item)
        if drawn >= FULL_DRAWS:
            break
    return draft.keep(plan, *spare) if spare is not None else _any_item(plan, draft, rng, sharing=False)


def _supported(plan: Plan, question: Question, draft: Draft, rng: Random) -> Item | None:
    """An item whose misreadings show on many other excerpts; where there are few at all, on as many as can be."""
    fewer = int(plan.fewer_choices)
    if has_few(plan.ask, plan.space):
        shown = frequency(whole_sample(plan))
        over = {m: WORN * draft.tally.offered[m] - count - WANTED * (m in plan.focus) for m, count in shown.items()}
        return made_item(plan, question, fewer=fewer, tally=draft.tally, rng=rng, over=over)
    sample = sample_of(plan, question.excerpt.meter)
    return made_item(plan, question, fewer=fewer, tally=draft.tally, rng=rng, sample=sample)


def _is_about(plan: Plan, item: Item) -> bool:
    """Whether one of the misreadings that the part is to be about is on offer, if it is about any."""
    return not plan.focus or any(c.misreading in plan.focus for c in item.wrong)


def _is_full(plan: Plan, item: Item) -> bool:
    return plan.ask.interaction in ("entry", "order") or len(item.choices) >= plan.choices


def _can_be_filled(plan: Plan, item: Item) -> bool:
    return is_supported(sample_of(plan, item.excerpt.meter), cell_of(item, plan).misreadings)


def _any_item(plan: Plan, draft: Draft, rng: Random, *, sharing: bool) -> Item | None:
    """An item of any question that is left, or with `sharing` even of one that another form has too."""
    for question in listed_at_random(plan, rng):
        if draft.meets(plan, question) or (draft.elsewhere(question) and not sharing):
            continue
        item = made_item(
            plan, question, fewer=int(plan.fewer_choices), tally=draft.tally, rng=rng, guessers=draft.guessers
        )
        if item is not None:
            return draft.keep(plan, question, item)
    return None


def parallel_item(plan: Plan, cell: Cell, draft: Draft, rng: Random, *, aim: int) -> Item | None:
    """An item in the cell, from the stock or new, of a difficulty as near to `aim` as a look at some can find.

    Where the cell has none left, the meter is given up first, then the misreadings; the draft notes what was bent. The
    meter is given up too for a claim that no other item of it has, or for as many answers to tick: that matters more.
    """
    draft.expect(cell.marks)
    narrow = in_one_meter(plan, cell.meter)
    stocked = _stocked_item(narrow, draft, cell=cell, aim=aim) or _own_in_cell(narrow, cell, draft, rng, aim)
    if stocked is not None:
        return stocked
    nearest = _nearest(plan, cell, draft, rng, aim, meter=cell.meter)
    if nearest is None or _misses(plan, nearest[0], cell):
        wide = _nearest(plan, cell, draft, rng, aim)
        nearest = wide if nearest is None or (wide is not None and not _misses(plan, wide[0], cell)) else nearest
    if nearest is not None:
        if nearest[1].excerpt.meter != cell.meter:
            draft.bent[nearest[1].id] = f"{plan.ask.id}: {nearest[1].excerpt.meter} for {cell.meter}"
        return draft.keep(plan, *nearest)
    near = _compensating(narrow, cell, draft, rng, aim) or _compensating(plan, cell, draft, rng, aim)
    item = draft.keep(plan, *near) if near is not None else free_item(plan, draft, rng)
    if item is not None:
        draft.bent[item.id] = f"{plan.ask.id}: other misreadings than {', '.join(sorted(cell.misreadings))}"
    return item


def _misses(plan: Plan, question: Question, cell: Cell) -> bool:
    """Whether it is what matters more than its meter: another verdict, or another number of answers to tick."""
    if plan.ask.answer == "claim":
        return not is_like(plan, question, cell)
    return len(question.keys) != len(cell.keys)


def _own_in_cell(plan: Plan, cell: Cell, draft: Draft, rng: Random, aim: int) -> Item | None:
    """The item of the cell about a teacher's own excerpt that is nearest to `aim`, if the form has a share left."""
    if plan.own.space is None or draft.has_share(plan):
        return None
    own = replace(plan.own.space, meters=plan.space.meters)
    own = replace(own, own=tuple(e for e in own.own if e.meter in own.meters))
    nearest = _nearest(replace(plan, space=own, number=-plan.number), cell, draft, rng, aim) if own.own else None
    return None if nearest is None else draft.keep_own(plan, *nearest)


def _compensating(plan: Plan, cell: Cell, draft: Draft, rng: Random, aim: int) -> tuple[Question, Item] | None:
    """An item of as many choices, whose misreadings are those that the form still owes, as far as an excerpt allows."""
    over = draft.over(plan.ask.id)
    candidates: list[tuple[int, int, Question, Item]] = []
    for question in tried(plan, rng):
        if draft.elsewhere(question) or draft.meets(plan, question):
            continue
        item = made_item(plan, question, fewer=0, tally=draft.tally, rng=rng, over=over, wrong=len(cell.misreadings))
        if item is not None:
            cost = sum(over[c.misreading] for c in item.wrong)
            candidates.append((cost, abs(difficulty(item.excerpt, plan.weights) - aim), question, item))
        if len(candidates) == LOOKED_AT:
            break
    best = min(candidates, key=lambda f: f[:2], default=None)
    return None if best is None else best[2:]


def _nearest(
    plan: Plan, cell: Cell, draft: Draft, rng: Random, aim: int, *, meter: Meter | None = None
) -> tuple[Question, Item] | None:
    """An item of the cell in its own meter, or in any, as like it and as near to `aim` as there is; not kept yet."""
    if is_picked(plan.ask.id):
        return picked_in_cell(plan, cell, draft, rng, aim, meter=meter)
    for _ in range(ROUNDS):
        ranked = sorted(
            draft.sheets.of(plan, meter), key=lambda each: abs(each.difficulty - aim) + draft.unlike(each.marks)
        )
        for each in ranked:
            if draft.elsewhere(each.question) or draft.meets(plan, each.question):
                continue
            item = made_item(plan, each.question, fewer=0, tally=draft.tally, rng=rng, only=cell.misreadings)
            if item is not None:
                return each.question, item
        draft.sheets.turn(plan)
    return None
