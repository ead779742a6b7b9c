"""Finding the next item of a form: freely for the first form, in the same cell for every other.

A cell is what parallel items have in common: the part, the meter, the misreadings on offer, and about the same expected
difficulty. The first form of a quiz is drawn freely and makes the cells; the other forms fill them.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.distractors import is_supported
from barwright.forms.draft import Desk
from barwright.forms.item_making import made_item
from barwright.forms.question_sample import (
    frequency,
    has_few,
    in_one_meter,
    sample_of,
    whole_sample,
)
from barwright.forms.ready_items import fitting, question_of
from barwright.items.difficulty import difficulty
from barwright.items.item import Answer, Item
from barwright.rhythm.meter import Meter

# Draws before a short item (one choice fewer) is taken, and before every question is listed instead.
FULL_DRAWS = 40
# Draws after which an item is taken even if few other excerpts can fill its cell.
SUPPORT_DRAWS = 8
MOST_DRAWS = 120
MOST_LISTED = 4_000
# Where a part has few questions, one use of a misreading weighs as much as so many excerpts on which it shows.
WORN = 4
# More than any misreading is worn by use: those that a part is to be about come first all the same.
WANTED = 1_000_000
# What another key than the first form's, or an excerpt that the form has already, weighs against a difficulty off the
# aim: where few answers can be keys, each must be the key about equally often in every form.
UNLIKE = 6
# Parallel items that are looked at before the one of fitting difficulty is taken.
LOOKED_AT = 8


@dataclass(frozen=True, slots=True)
class Cell:
    """What the parallel items of one place have in common; `difficulty` and `keys` are the first form's."""

    meter: Meter
    misreadings: frozenset[str]
    difficulty: int
    keys: tuple[Answer, ...] = ()


def cell_of(item: Item, plan: Plan) -> Cell:
    """The cell that this item makes."""
    misreadings = frozenset(c.misreading for c in item.wrong)
    keys = tuple(c.answer for c in item.keys)
    return Cell(item.excerpt.meter, misreadings, difficulty(item.excerpt, plan.weights), keys)


def free_item(plan: Plan, desk: Desk, rng: Random) -> Item | None:
    """The next item of a first form: from the stock, else about a teacher's own excerpt, else about a drawn one.

    What is drawn makes a cell that others can fill too. An excerpt that another form has comes only at the end.
    """
    return (
        _stocked_item(plan, desk)
        or _own_item(plan, desk, rng)
        or _unshared_item(plan, desk, rng)
        or _any_item(plan, desk, rng, sharing=True)
    )


def _own_item(plan: Plan, desk: Desk, rng: Random) -> Item | None:
    """An item about an excerpt of the teacher's own, as long as the form has not had its share; the fullest are first.

    Only questions that no misreading leads astray on are passed over.
    """
    if plan.own.space is None or desk.has_share(plan):
        return None
    own, spare = replace(plan, space=plan.own.space), None
    for question in listed_at_random(own, rng):
        if desk.elsewhere(question) or desk.meets(plan, question) or desk.repeats(question):
            continue
        item = made_item(own, question, fewer=int(plan.fewer_choices), tally=desk.tally, rng=rng)
        if item is not None and _is_full(plan, item):
            return desk.keep_own(plan, question, item)
        spare = spare or (None if item is None else (question, item))
    return None if spare is None else desk.keep_own(plan, *spare)


def _stocked_item(plan: Plan, desk: Desk, *, cell: Cell | None = None, aim: int = 0) -> Item | None:
    """An item of the stock, with the misreadings of the cell if there is one, and of difficulty near to `aim`."""

    def rank(found: tuple[Question, Item]) -> tuple[int, bool, bool]:
        question, item = found
        away = abs(difficulty(item.excerpt, plan.weights) - aim) if cell else not _can_be_filled(plan, item)
        return away, desk.too_often(plan, question), not _is_about(plan, item)

    able = [(question_of(item), item) for item in fitting(desk.stock, plan)]
    able = [each for each in able if not desk.elsewhere(each[0]) and not desk.meets(plan, each[0])]
    if cell is not None:
        able = [each for each in able if cell_of(each[1], plan).misreadings == cell.misreadings]
    best = min(able, key=rank, default=None)
    return None if best is None else desk.keep(plan, *best)


def _unshared_item(plan: Plan, desk: Desk, rng: Random) -> Item | None:
    spare: tuple[Question, Item] | None = None
    for drawn in range(MOST_DRAWS):
        question = plan.ask.draw(plan.space, rng)
        if question is None or desk.elsewhere(question) or desk.meets(plan, question):
            continue
        if drawn < FULL_DRAWS and (desk.too_often(plan, question) or desk.repeats(question)):
            continue
        item = _supported(plan, question, desk, rng)
        if item is None:
            continue
        wanted = drawn >= FULL_DRAWS or _is_about(plan, item)
        if wanted and _is_full(plan, item) and (drawn >= SUPPORT_DRAWS or _can_be_filled(plan, item)):
            return desk.keep(plan, question, item)
        spare = spare or (question, item)
        if drawn >= FULL_DRAWS:
            break
    return desk.keep(plan, *spare) if spare is not None else _any_item(plan, desk, rng, sharing=False)


def _supported(plan: Plan, question: Question, desk: Desk, rng: Random) -> Item | None:
    """An item whose misreadings show on many other excerpts; where there are few at all, on as many as can be."""
    fewer = int(plan.fewer_choices)
    if has_few(plan.ask, plan.space):
        shown = frequency(whole_sample(plan))
        over = {m: WORN * desk.tally.offered[m] - count - WANTED * (m in plan.focus) for m, count in shown.items()}
        return made_item(plan, question, fewer=fewer, tally=desk.tally, rng=rng, over=over)
    sample = sample_of(plan, question.excerpt.meter)
    return made_item(plan, question, fewer=fewer, tally=desk.tally, rng=rng, sample=sample)


def _is_about(plan: Plan, item: Item) -> bool:
    """Whether one of the misreadings that the part is to be about is on offer, if it is about any."""
    return not plan.focus or any(c.misreading in plan.focus for c in item.wrong)


def _is_full(plan: Plan, item: Item) -> bool:
    return plan.ask.interaction in ("entry", "order") or len(item.choices) >= plan.choices


def _can_be_filled(plan: Plan, item: Item) -> bool:
    return is_supported(sample_of(plan, item.excerpt.meter), cell_of(item, plan).misreadings)


def _any_item(plan: Plan, desk: Desk, rng: Random, *, sharing: bool) -> Item | None:
    """An item of any question that is left, or with `sharing` even of one that another form has too."""
    for question in listed_at_random(plan, rng):
        if desk.meets(plan, question) or (desk.elsewhere(question) and not sharing):
            continue
        item = made_item(plan, question, fewer=int(plan.fewer_choices), tally=desk.tally, rng=rng)
        if item is not None:
            return desk.keep(plan, question, item)
    return None


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


def parallel_item(plan: Plan, cell: Cell, desk: Desk, rng: Random, *, aim: int) -> Item | None:
    """An item in the cell, from the stock or new, of a difficulty as near to `aim` as a look at some can find.

    Where the cell has none left, the meter is given up first, then the misreadings; the desk notes what was bent. The
    meter is given up too for a claim that no other item of it has: whether the answer is Yes or No matters more.
    """
    desk.due.update(cell.misreadings)
    narrow = in_one_meter(plan, cell.meter)
    stocked = _stocked_item(narrow, desk, cell=cell, aim=aim) or _own_in_cell(narrow, cell, desk, rng, aim)
    if stocked is not None:
        return stocked
    found = _nearest(narrow, cell, desk, rng, aim)
    if found is None or (plan.ask.answer == "claim" and not _is_like(plan, found[0], cell)):
        wide = _nearest(plan, cell, desk, rng, aim)
        found = wide if found is None or (wide is not None and _is_like(plan, wide[0], cell)) else found
    if found is not None:
        if found[1].excerpt.meter != cell.meter:
            desk.bent[found[1].id] = f"{plan.ask.id}: {found[1].excerpt.meter} for {cell.meter}"
        return desk.keep(plan, *found)
    near = _compensating(narrow, cell, desk, rng, aim) or _compensating(plan, cell, desk, rng, aim)
    item = desk.keep(plan, *near) if near is not None else free_item(plan, desk, rng)
    if item is not None:
        desk.bent[item.id] = f"{plan.ask.id}: other misreadings than {', '.join(sorted(cell.misreadings))}"
    return item


def _own_in_cell(plan: Plan, cell: Cell, desk: Desk, rng: Random, aim: int) -> Item | None:
    """The item of the cell about a teacher's own excerpt that is nearest to `aim`, if the form has a share left."""
    if plan.own.space is None or desk.has_share(plan):
        return None
    own = replace(plan.own.space, meters=plan.space.meters)
    own = replace(own, own=tuple(e for e in own.own if e.meter in own.meters))
    found = _nearest(replace(plan, space=own), cell, desk, rng, aim) if own.own else None
    return None if found is None else desk.keep_own(plan, *found)


def _compensating(plan: Plan, cell: Cell, desk: Desk, rng: Random, aim: int) -> tuple[Question, Item] | None:
    """An item of as many choices, whose misreadings are those that the form still owes, as far as an excerpt allows."""
    over = Counter(desk.tally.offered)
    over.subtract(desk.due)
    found: list[tuple[int, int, Question, Item]] = []
    for question in _tried(plan, rng):
        if desk.elsewhere(question) or desk.meets(plan, question):
            continue
        item = made_item(plan, question, fewer=0, tally=desk.tally, rng=rng, over=over, wrong=len(cell.misreadings))
        if item is not None:
            cost = sum(over[c.misreading] for c in item.wrong)
            found.append((cost, abs(difficulty(item.excerpt, plan.weights) - aim), question, item))
        if len(found) == 2 * LOOKED_AT:
            break
    best = min(found, key=lambda f: f[:2], default=None)
    return None if best is None else best[2:]


def nearest_item(
    plan: Plan, cell: Cell, desk: Desk, rng: Random, *, aim: int, wide: bool
) -> tuple[Question, Item] | None:
    """An item of the cell in its own meter, with `wide` in any, of difficulty near to `aim`; it is not kept yet."""
    return _nearest(plan if wide else in_one_meter(plan, cell.meter), cell, desk, rng, aim)


def _nearest(plan: Plan, cell: Cell, desk: Desk, rng: Random, aim: int) -> tuple[Question, Item] | None:
    found: dict[str, tuple[int, Question, Item]] = {}
    enough = LOOKED_AT if abs(aim - cell.difficulty) <= 1 else 4 * LOOKED_AT
    for question in _tried(plan, rng):
        if question.text in found or desk.elsewhere(question) or desk.meets(plan, question):
            continue
        item = made_item(plan, question, fewer=0, tally=desk.tally, rng=rng, only=cell.misreadings)
        if item is None:
            continue
        unlike = not _is_like(plan, question, cell)
        away = abs(difficulty(item.excerpt, plan.weights) - aim) + UNLIKE * (unlike + desk.repeats(question))
        found[question.text] = away, question, item
        if away == 0 or len(found) == enough:
            break
    best = min(found.values(), key=lambda f: f[0], default=None)
    return None if best is None else best[1:]


def _told_by(plan: Plan, keys: tuple[Answer, ...]) -> tuple[str, ...]:
    """What parallel items should have in common of their right answers, where these are few: Yes or No of a claim."""
    if plan.ask.answer == "claim":
        return tuple(key.text.split(" ")[0] for key in keys)
    return tuple(key.text for key in keys) if plan.ask.answer in ("symbols", "number") else ()


def _is_like(plan: Plan, question: Question, cell: Cell) -> bool:
    return _told_by(plan, question.keys) == _told_by(plan, cell.keys)


def _tried(plan: Plan, rng: Random) -> Iterator[Question]:
    """Questions to try: drawn, or all of them at random where there are few."""
    if has_few(plan.ask, plan.space):
        yield from listed_at_random(plan, rng)
        return
    for _ in range(MOST_DRAWS):
        question = plan.ask.draw(plan.space, rng)
        if question is not None:
            yield question
