"""One item from one question: wrong answers chosen, then judged; refused ones are counted, never kept."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.distractors import FORESEEN, Wish, chosen
from barwright.forms.question_sample import Able
from barwright.items.item import Answer, Choice, Item
from barwright.judge import judged

TRIES = 4
LEAST_CHOICES = 3
LEAST_FORESEEN = 2
LEAST_OF_SEVERAL = 2
LEAST_ORDERS = 1


@dataclass(slots=True)
class Tally:
    """What happened while a form was made: misreadings on offer, items judged, and refusals by reason.

    `rhythms`: how often each whole rhythm stands in it as a wrong choice.
    """

    offered: Counter[str] = field(default_factory=Counter)
    rhythms: Counter[Answer] = field(default_factory=Counter)
    judged: int = 0
    refused: Counter[str] = field(default_factory=Counter)
    short: int = 0


@dataclass(frozen=True, slots=True)
class Bounds:
    """How many wrong choices an item has, at least and at most."""

    least: int
    most: int


def bounds_of(plan: Plan, keys: int, *, fewer: int) -> Bounds:
    """The bounds of a plan's items with so many keys, if `fewer` choices less than planned will do."""
    if plan.ask.interaction == "entry":
        return Bounds(LEAST_FORESEEN, FORESEEN)
    if plan.ask.interaction == "order":
        return Bounds(LEAST_ORDERS, FORESEEN)
    most = plan.choices - keys
    least = max(most - fewer, LEAST_CHOICES - keys)
    return Bounds(max(least, LEAST_OF_SEVERAL) if plan.ask.interaction == "several" else least, most)


def made_item(
    plan: Plan,
    question: Question,
    *,
    fewer: int,
    tally: Tally,
    rng: Random,
    sample: tuple[Able, ...] = (),
    only: frozenset[str] = frozenset(),
    over: Mapping[str, int] | None = None,
    wrong: int = 0,
) -> Item | None:
    """An item that the judge accepts, with at most `fewer` choices less than planned; None if there is none.

    With `wrong` it has exactly so many wrong choices. With `over` the misreadings that stand lowest in it come first.
    With `only` each of its wrong choices is credited to one of these misreadings, and all of them are. The tally gains
    what was judged and refused, not what is offered: only a kept item is on offer.
    """
    left = dict(plan.ask.offers(question, plan.space.anywhere, rng))
    exactly = len(only) or wrong
    bounds = Bounds(exactly, exactly) if exactly else bounds_of(plan, len(question.keys), fewer=fewer)
    wish = Wish(bounds.most, bounds.least, plan.focus, tally.offered, sample, only, over, tally.rhythms)
    for _ in range(TRIES):
        found = chosen(plan.ask, question, left, wish=wish, rng=rng) if len(left) >= bounds.least else ()
        if len(found) < bounds.least:
            tally.short += 1
            return None
        item = item_of(plan, question, found)
        reasons = judged(item, plan.space.taught)
        tally.judged += 1
        if not reasons:
            return item
        tally.refused.update(reason.split(":")[0] for reason in reasons[:1])
        for choice in _culprits(plan, question, found, len(reasons)):
            del left[choice.answer]
    return None


def _culprits(plan: Plan, question: Question, wrong: tuple[Choice, ...], reasons: int) -> list[Choice]:
    """The wrong choices without any of which the judge would have less to say, so that they are not tried again."""
    found = []
    for choice in wrong:
        others = tuple(c for c in wrong if c != choice)
        if len(judged(item_of(plan, question, others), plan.space.taught)) < reasons:
            found.append(choice)
    return found


def item_of(plan: Plan, question: Question, wrong: tuple[Choice, ...]) -> Item:
    """The question with these wrong choices as an item; choices sorted by answer."""
    choices = (*(Choice(k) for k in question.keys), *wrong)
    ordered = tuple(sorted(choices, key=lambda c: c.answer))
    return Item(plan.ask.id, question.excerpt, plan.space.conventions, ordered, question.target)
