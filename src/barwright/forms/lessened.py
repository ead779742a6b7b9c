"""A form with fewer choices, or with fewer items: which stay, so that answers still tell as much as can be.

A choice tells least whose misreading no part of the plan names and which has most other chances in the form; two
chances, with which a student can be named at all, are kept before a single one. No choice goes without which the judge
would refuse the item, since the others would tell the key.

A square is one misreading, another, and both at once beside the key. Without the corner of both the key lies between
the other two and is most like them; without another corner it never is. So one square of three loses the corner of
both: who takes what is most like the others is then right as often as by chance.
"""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from random import Random

from barwright.asks import ASKS
from barwright.asks.ask import Question, Space
from barwright.blueprint.blueprint import Blueprint, plan_of, taught_by
from barwright.items.form import Form, FormItem
from barwright.items.item import Choice, Interaction, Item
from barwright.judge import judged

PICKED: tuple[Interaction, ...] = ("figures", "texts", "gaps")  # one choice of several; not where several are ticked
LEAST_WRONG = 2
CHANCES = 4  # that find a misreading even beside another one, see `results.chances`
TWICE = 2  # items that must have offered a misreading before a student is named for it


def named_in(blueprint: Blueprint) -> frozenset[str]:
    """The misreadings that parts of the plan name."""
    return frozenset(misreading for part in blueprint.part for misreading in part.misreadings)


def choices_left(form: Form, blueprint: Blueprint) -> dict[str, frozenset[int]]:
    """For each item of a form, by its id, the places of the choices (in `Item.choices`) that stay: all, or one less.

    All stay where fewer than two wrong ones would be left, where several are right, or where the ask holds no smaller
    set for fair.
    """
    items = [placed.item for placed in form.items]
    chances = Counter(misreading for item in items for misreading in item.offered)
    squares = sorted(item.id for item in items if _is_lessened(item) and len(item.wrong) == len(corners(item)))
    without_both = frozenset(squares[: (len(squares) + 1) // 3])
    spaces = {part.ask: plan_of(part, blueprint).space.anywhere for part in blueprint.part}
    taught, named, left = taught_by(blueprint.elements), named_in(blueprint), {}
    for item in items:
        fair = _droppable(item, spaces, without_both) if _is_lessened(item) else []
        able = [choice for choice in fair if not judged(_without(item, choice), taught)]
        everywhere = range(len(item.choices))
        if not able:
            left[item.id] = frozenset(everywhere)
            continue
        gone = min(able, key=lambda choice: (_tells(choice, chances, named), choice.answer.text))
        kept = [choice for choice in item.choices if choice is not gone]
        chances.subtract(item.offered - {held for choice in kept for held in choice.held})
        left[item.id] = frozenset(place for place in everywhere if item.choices[place] is not gone)
    return left


def corners(item: Item) -> tuple[Choice, ...]:
    """The wrong choices of a square, the corner of both last; none where there is no square."""
    for both in item.wrong:
        alone = [choice for choice in item.wrong if choice.misreading in both.held]
        if len(both.held) == len(alone) == 2:
            return (*alone, both)
    return ()


def _without(item: Item, gone: Choice) -> Item:
    return replace(item, choices=tuple(choice for choice in item.choices if choice is not gone))


def _is_lessened(item: Item) -> bool:
    return ASKS[item.ask].interaction in PICKED and len(item.wrong) > LEAST_WRONG


def _droppable(item: Item, spaces: Mapping[str, Space], without_both: Collection[str]) -> list[Choice]:
    """The wrong choices of which any may go, so that the item stays fair."""
    square, fair = corners(item), _outside_fair_sets(item, spaces)
    if len(square) == len(item.wrong):
        fitting = square[-1:] if item.id in without_both else square[:-1]
    else:
        fitting = tuple(choice for choice in item.wrong if choice not in square)
    return [choice for choice in fair if choice in fitting] or fair


def _outside_fair_sets(item: Item, spaces: Mapping[str, Space]) -> list[Choice]:
    """The choices without which the others are a set that the ask holds for fair; any, where any will do together."""
    sets = ASKS[item.ask].sets
    if sets is None:
        return list(item.wrong)
    if item.ask not in spaces:
        return []
    question = Question(item.excerpt, tuple(key.answer for key in item.keys), item.target)
    offers = {choice.answer: choice.misreadings for choice in item.wrong}
    drawn = sets(question, offers, spaces[item.ask], len(item.wrong) - 1, Random(item.id))
    fair = {frozenset(each) for each in drawn}
    return [choice for choice in item.wrong if offers.keys() - {choice.answer} in fair]


def _tells(choice: Choice, chances: Mapping[str, int], named: frozenset[str]) -> tuple[bool, bool, int]:
    """How much a wrong choice tells: whether the plan names its misreading, whether that would be left with too few
    chances to name a student, and how few it has."""
    fewest = min(chances[held] for held in choice.held)
    return not named.isdisjoint(choice.held), fewest == TWICE, -fewest


def numbers_left(form: Form, blueprint: Blueprint) -> frozenset[int]:
    """The numbers of the items that stay, two of three rounded up; each ask keeps one at least.

    One after another the item goes that costs least: chances of named misreadings first, up to four for each, then
    misreadings left with fewer than two chances, then chances in all; of equal ones the last.
    """
    places: dict[int, list[FormItem]] = {}
    for placed in form.items:
        places.setdefault(placed.number, []).append(placed)
    offered = {number: frozenset[str]().union(*(p.item.offered for p in each)) for number, each in places.items()}
    asks = {number: each[0].item.ask for number, each in places.items()}
    named, left = named_in(blueprint), list(places)
    for _ in range(len(places) // 3):
        able = [number for number in left if sum(asks[other] == asks[number] for other in left) > 1]
        if not able:
            break
        left.remove(min(able, key=lambda number: (*_cost(number, left, offered, named), -number)))
    return frozenset(left)


def _cost(
    number: int, left: Sequence[int], offered: Mapping[int, frozenset[str]], named: frozenset[str]
) -> tuple[int, int, int]:
    before = Counter(misreading for each in left for misreading in offered[each])
    mine = offered[number]
    wanted = sum(before[misreading] <= CHANCES for misreading in mine & named)
    scarce = sum(before[misreading] <= TWICE for misreading in mine)
    return wanted, scarce, sum(-before[misreading] for misreading in mine)
