"""What becomes an item, and what the judge says of it: bounds of wrong choices, and a tally of what was judged."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.distractors import FORESEEN
from barwright.items.item import Answer, Choice, Item
from barwright.judge import judged

TRIES = 4
LEAST_CHOICES = 3
LEAST_FORESEEN = 2
LEAST_OF_SEVERAL = 1
LEAST_ORDERS = 1


@dataclass(slots=True)
class Tally:
    """What happened while a form was made: misreadings on offer, items judged, and refusals by reason.

    `rhythms`: how often each whole rhythm stands in it as a wrong choice. `kept`: by ask the items whose answer is
    picked, `led`: how many wrong answers there were to choose from for these.
    """

    offered: Counter[str] = field(default_factory=Counter)
    rhythms: Counter[Answer] = field(default_factory=Counter)
    judged: int = 0
    refused: Counter[str] = field(default_factory=Counter)
    short: int = 0
    kept: Counter[str] = field(default_factory=Counter)
    led: Counter[str] = field(default_factory=Counter)


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


def accepted(plan: Plan, item: Item, tally: Tally) -> tuple[str, ...]:
    """The judge's reasons against an item, none if it is accepted; the tally gains both."""
    reasons = tuple(judged(item, plan.space.taught))
    tally.judged += 1
    tally.refused.update(reason.split(":")[0] for reason in reasons[:1])
    return reasons


def culprits(plan: Plan, question: Question, wrong: Sequence[Choice], reasons: int) -> list[Choice]:
    """The wrong choices without any of which the judge would have less to say, so that they are not tried again."""
    guilty = []
    for choice in wrong:
        others = tuple(c for c in wrong if c != choice)
        if len(judged(item_of(plan, question, others), plan.space.taught)) < reasons:
            guilty.append(choice)
    return guilty


def item_of(plan: Plan, question: Question, wrong: Sequence[Choice]) -> Item:
    """The question with these wrong choices as an item; choices sorted by answer."""
    choices = (*(Choice(k) for k in question.keys), *wrong)
    ordered = tuple(sorted(choices, key=lambda c: c.answer))
    return Item(plan.ask.id, question.excerpt, plan.space.conventions, ordered, question.target)
