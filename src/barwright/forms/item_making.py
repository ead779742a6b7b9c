"""One item from one question: wrong answers chosen, then judged; refused ones are counted, never kept."""

from collections.abc import Mapping
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.distractors import Wish, chosen
from barwright.forms.judging import TRIES, Bounds, Tally, accepted, bounds_of, culprits, item_of
from barwright.forms.picked_items import picked_item
from barwright.forms.question_sample import Able
from barwright.forms.watch import Guessers, is_picked
from barwright.items.item import Item


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
    guessers: Guessers | None = None,
) -> Item | None:
    """An item that the judge accepts, with at most `fewer` choices less than planned; None if there is none.

    With `wrong` it has exactly so many wrong choices. With `over` the misreadings that stand lowest in it come first.
    With `only` each of its wrong choices is credited to one of these misreadings, and all of them are. The tally gains
    what was judged and refused, not what is offered: only a kept item is on offer.

    Where the student picks among choices, these are taken so that `guessers` stay at chance (see `picked_items`).
    """
    if is_picked(plan.ask.id):
        return picked_item(plan, question, fewer=fewer, tally=tally, rng=rng, guessers=guessers, wrong=wrong)
    exactly = len(only) or wrong
    bounds = Bounds(exactly, exactly) if exactly else bounds_of(plan, len(question.keys), fewer=fewer)
    wish = Wish(bounds.most, bounds.least, plan.focus, tally.offered, sample, only, over, tally.rhythms)
    return _chosen_item(plan, question, wish, tally, rng)


def makes_an_item(plan: Plan, question: Question, rng: Random) -> bool:
    """Whether any item of the question is accepted, whatever it would tell a guesser.

    The first choices that can be told apart are tried; all that there are only where those do not do.
    """
    fewer, tally = int(plan.fewer_choices), Tally()
    if plan.ask.sets is None:
        bounds = bounds_of(plan, len(question.keys), fewer=fewer)
        if _chosen_item(plan, question, Wish(bounds.most, bounds.least), tally, rng) is not None:
            return True
    return made_item(plan, question, fewer=fewer, tally=tally, rng=rng) is not None


def _chosen_item(plan: Plan, question: Question, wish: Wish, tally: Tally, rng: Random) -> Item | None:
    left = dict(plan.ask.offers(question, plan.space.anywhere, rng))
    for _ in range(TRIES):
        choices = chosen(plan.ask, question, left, wish=wish, rng=rng) if len(left) >= wish.least else ()
        if len(choices) < wish.least:
            tally.short += 1
            return None
        item = item_of(plan, question, choices)
        reasons = accepted(plan, item, tally)
        if not reasons:
            return item
        for choice in culprits(plan, question, choices, len(reasons)):
            del left[choice.answer]
    return None
