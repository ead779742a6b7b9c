"""One item from one question: wrong answers chosen, then judged; refused ones are counted, never kept."""

from collections import Counter
from dataclasses import dataclass, field
from random import Random

from barwright.items.asks import Question
from barwright.items.blueprint import Plan
from barwright.items.distractors import chosen
from barwright.items.judge import judged
from barwright.items.model import Choice, Item

TRIES = 4
LEAST_CHOICES = 3
LEAST_FORESEEN = 2


@dataclass(slots=True)
class Tally:
    """What happened while a form was made: misreadings on offer, items judged, and refusals by reason."""

    offered: Counter[str] = field(default_factory=Counter)
    judged: int = 0
    refused: Counter[str] = field(default_factory=Counter)
    short: int = 0


def made_item(plan: Plan, question: Question, *, fewer: int, tally: Tally, rng: Random) -> Item | None:
    """An item that the judge accepts, with at most `fewer` choices less than planned; None if there is none.

    The tally gains what was judged and refused, not what is offered: only a kept item is on offer.
    """
    ask = plan.ask
    offers = ask.offers(question, plan.space, rng)
    most = plan.choices - len(question.keys)
    least = LEAST_FORESEEN if ask.interaction == "entry" else max(most - fewer, LEAST_CHOICES - len(question.keys))
    if ask.interaction == "several":
        least = max(least, 2)
    if len(offers) < least:
        tally.short += 1
        return None
    left = dict(offers)
    for _ in range(TRIES):
        wrong = chosen(ask, question, left, wanted=most, focus=plan.focus, offered=tally.offered, rng=rng)
        if len(wrong) < least:
            tally.short += 1
            return None
        item = item_of(plan, question, wrong)
        reasons = judged(item, plan.space.taught)
        tally.judged += 1
        if not reasons:
            return item
        tally.refused.update(reason.split(":")[0] for reason in reasons[:1])
        for choice in _culprits(plan, question, wrong, len(reasons)):
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
