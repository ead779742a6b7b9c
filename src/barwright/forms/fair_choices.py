"""Choosing wrong answers by the sets that an ask holds for fair: the one that keeps guessers nearest to chance."""

from collections.abc import Sequence
from dataclasses import replace
from random import Random

from barwright.asks.ask import Ask, Offers, Question, Space
from barwright.forms.choosing import NAMED, giveaway
from barwright.forms.distractors import Wish
from barwright.forms.seeing import seen_item
from barwright.guesser import Ledger, Moments
from barwright.items.item import Answer, Choice
from barwright.misreadings import SELDOM

# Two choices credited to one misreading, and a misreading that shows seldom, weigh as the squares of so many parts
# (`winnings.ITEM`); a misreading that the part is to be about outweighs every guesser.
TWICE, RARELY, FOCUS = 60 * 60, 30 * 30, 1000 * 1000
# Sets that are weighed for one question, where the misreadings are given for one of many questions, and of these the
# best that are held against what learners could learn, which costs most.
WEIGHED, AMONG, LEARNT = 16, 3, 4
# A misreading that stands in the form once more than it should.
OVER = 20 * 20


def fairest(
    ask: Ask,
    question: Question,
    offers: Offers,
    space: Space,
    *,
    wish: Wish,
    ledger: Ledger,
    moments: Moments,
    rng: Random,
) -> tuple[Choice, ...]:
    """The wrong choices of the fair set that guessers of the form win least by; none if there is no such set.

    As many as are wished, or fewer if there are no more. With `wish.only` just these misreadings are credited; among
    statements only where that can be, for it matters more that parallel items have the same answer.
    """
    assert ask.sets is not None
    every = offers
    if wish.only:
        offers = {a: led for a, ids in offers.items() if (led := tuple(m for m in ids if m in wish.only))}
    for count in range(wish.count, wish.least - 1, -1):
        sets = (credited(wrong, offers, wish) for wrong in ask.sets(question, offers, space, count, rng))
        able = [each for each in sets if not wish.only or {c.misreading for c in each} == wish.only]
        weighed = []
        for choices in rng.sample(able, min(len(able), AMONG if wish.only else WEIGHED)):
            seen = seen_item(ask.id, question.keys, (c.answer for c in choices))
            weighed.append((NAMED * giveaway(ledger.with_next(seen)) + _wanting(choices, wish), seen, choices))
        if weighed:
            few = sorted(weighed, key=lambda each: each[0])[: 1 if wish.only else LEARNT]
            return few[0][2] if len(few) == 1 else min(few, key=lambda each: each[0] + moments.would_add(each[1]))[2]
    if wish.only and ask.answer == "claim":
        free = replace(wish, only=frozenset())
        return fairest(ask, question, every, space, wish=free, ledger=ledger, moments=moments, rng=rng)
    return ()


def _wanting(choices: Sequence[Choice], wish: Wish) -> int:
    """What the misreadings of a set weigh, whatever guessers win."""
    named = [c.misreading for c in choices]
    over = sum(wish.over.get(m, 0) for m in named) if wish.over is not None else 0
    return (
        TWICE * (len(named) - len(set(named)))
        + RARELY * sum(m in SELDOM for m in named)
        - FOCUS * sum(m in wish.focus for m in set(named))
        + OVER * over
    )


def credited(wrong: Sequence[Answer], offers: Offers, wish: Wish) -> tuple[Choice, ...]:
    """These answers as wrong choices, each credited to another misreading as far as can be.

    Those in focus first, then those that were offered least; the other misreadings that lead to an answer follow.
    """
    able = {answer: sorted(offers[answer], key=lambda m: _rank(m, wish)) for answer in wrong}
    mine: dict[str, Answer] = {}

    def finds(answer: Answer, tried: set[str]) -> bool:
        """Whether the answer gets a misreading of its own, if need be by another giving way (Kuhn 1955)."""
        for m in able[answer]:
            if m not in tried:
                tried.add(m)
                if m not in mine or finds(mine[m], tried):
                    mine[m] = answer
                    return True
        return False

    for answer in sorted(wrong, key=lambda a: len(able[a])):
        finds(answer, set())
    own = {answer: m for m, answer in mine.items()}
    return tuple(_choice(answer, own.get(answer, able[answer][0]), offers) for answer in wrong)


def _rank(misreading: str, wish: Wish) -> tuple[bool, bool, int, str]:
    return misreading not in wish.focus, misreading in SELDOM, wish.offered.get(misreading, 0), misreading


def _choice(answer: Answer, misreading: str, offers: Offers) -> Choice:
    return Choice(answer, (misreading, *(m for m in offers[answer] if m != misreading)))
