"""Choosing wrong answers: only what a misreading leads to, each told apart from the others, varied over a quiz."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from barwright.asks.ask import Ask, Offers, Question
from barwright.forms.question_sample import Able, frequency, support
from barwright.items.item import Answer, Choice
from barwright.misreadings import SELDOM

# A misreading must be on offer in several items before picks of it mean anything (two picks over two items at least,
# common practice), so those begun are offered again, up to this often, before new ones are.
CHANCES = 3
# Typed answers that are foreseen with a hint of their own; any other wrong one is read when the class has answered.
FORESEEN = 4
# A misreading that shows in less than one of so many excerpts is offered only where nothing else is left: the parallel
# forms need it too.
RARE = 4
# Other excerpts that must be able to fill a cell, of a sample of 16, before a first form may have it.
SUPPORT = 3


@dataclass(frozen=True, slots=True)
class Wish:
    """What is wanted of the wrong choices of one item.

    `count` of them at most, `least` at least; misreadings in `focus` first; `offered` counts how often each has stood
    in the form so far, and `sample` which show together on other excerpts, that parallel items can be found. With
    `only` no other misreading is credited. `over` tells how much oftener than it should each stands in the form; then
    the most wanting come first, whatever else. `rhythms` counts the rhythms that were wrong choices in the form: who
    has read the hint of one would strike it out in the next item.
    """

    count: int
    least: int = 0
    focus: Sequence[str] = ()
    offered: Mapping[str, int] = field(default_factory=dict)
    sample: tuple[Able, ...] = ()
    only: frozenset[str] = frozenset()
    over: Mapping[str, int] | None = None
    rhythms: Mapping[Answer, int] = field(default_factory=dict)

    def joins(self, misreading: str, choices: Sequence[Choice]) -> bool:
        """Whether it shows together with those found on enough other excerpts, or is in focus, which outweighs that."""
        together = frozenset((misreading, *(c.misreading for c in choices)))
        return misreading in self.focus or is_supported(self.sample, together)


def is_supported(sample: tuple[Able, ...], misreadings: frozenset[str]) -> bool:
    """Whether enough excerpts of a sample (of all of a small one) can have wrong choices of all these misreadings."""
    return support(sample, misreadings) >= min(SUPPORT, len(sample))


def chosen(ask: Ask, question: Question, offers: Offers, *, wish: Wish, rng: Random) -> tuple[Choice, ...]:
    """Up to the wished number of wrong choices, each credited to another misreading; fewer if no more are apart.

    No misreading leads to two of them, so that a pick tells which it was; only where even the least number is not
    reached otherwise may it (a note and a rest of one length).
    """
    choices: list[Choice] = []
    answers: dict[str, list[Answer]] = {}
    for answer, ids in offers.items():
        for misreading in ids:
            answers.setdefault(misreading, []).append(answer)
    ranked = _ranked(answers, wish, rng)
    for strict, alone in ((True, False), (True, True), (False, True)):
        for misreading in ranked:
            if len(choices) >= (wish.count if strict else wish.least):
                break
            if not alone and not wish.joins(misreading, choices):
                continue
            able = _able(misreading, answers[misreading], ask, question, offers, choices, strict)
            if able:
                best = min(able, key=lambda a: _rank(a, ask, question, offers, wish, rng))
                choices.append(_credited(best, misreading, offers))
    return tuple(choices) if ask.sort is None else _of_two_sorts(choices, ranked, ask, question, offers)


def _credited(answer: Answer, misreading: str, offers: Offers) -> Choice:
    """The answer as a wrong choice that is credited to one of those that lead to it first."""
    return Choice(answer, (misreading, *(m for m in offers[answer] if m != misreading)))


def _of_two_sorts(
    choices: list[Choice], ranked: list[str], ask: Ask, question: Question, offers: Offers
) -> tuple[Choice, ...]:
    """The wrong choices, the last that can be exchanged for one of another sort if all of the item are of one."""
    assert ask.sort is not None
    sorts = {ask.sort(answer) for answer in (*question.keys, *(c.answer for c in choices))}
    others = [answer for answer in offers if ask.sort(answer) not in sorts] if len(sorts) == 1 else []
    for place in reversed(range(len(choices) if others else 0)):
        left = [*choices[:place], *choices[place + 1 :]]
        for misreading in ranked:
            led = [answer for answer in others if misreading in offers[answer]]
            for able in _able(misreading, led, ask, question, offers, left, strict=True):
                return (*choices[:place], _credited(able, misreading, offers), *choices[place + 1 :])
    return tuple(choices)


def _rank(
    answer: Answer, ask: Ask, question: Question, offers: Offers, wish: Wish, rng: Random
) -> tuple[int, bool, int, int]:
    """What makes one answer of a misreading a better wrong choice than another: the lowest comes first."""
    again = wish.rhythms.get(answer, 0) if answer.kind == "measures" else 0
    return again, len(offers[answer]) > 1, ask.farness(question, answer), rng.getrandbits(32)


def _ranked(answers: Iterable[str], wish: Wish, rng: Random) -> list[str]:
    """The misreadings that lead anywhere here: those in focus, begun, new, with chances enough, rare."""
    able = sorted(m for m in answers if not wish.only or m in wish.only)
    known = frequency(wish.sample)
    most = max(known.values(), default=0)

    def rank(misreading: str) -> tuple[int, int, int, int]:
        if wish.over is not None:
            return wish.over.get(misreading, 0), misreading in SELDOM, 0, rng.getrandbits(32)
        often = wish.offered.get(misreading, 0)
        band = 2 if often >= CHANCES else int(often == 0)
        if misreading in SELDOM:
            band = 3
        if known.get(misreading, 0) * RARE < most:
            band = 4
        focused = misreading in wish.focus
        return not focused, 0 if focused else band, often, rng.getrandbits(32)

    return sorted(able, key=rank)


def _able(
    misreading: str,
    answers: list[Answer],
    ask: Ask,
    question: Question,
    offers: Offers,
    choices: list[Choice],
    strict: bool,
) -> list[Answer]:
    """The answers of this misreading that can stand beside those found.

    With `strict` no other choice may be an answer of the same misreading, nor this one of theirs.
    """
    credited = {c.misreading for c in choices}
    if misreading in credited or (strict and any(misreading in c.misreadings for c in choices)):
        return []
    taken = {c.answer for c in choices}
    others = (*question.keys, *(c.answer for c in choices))
    return [
        answer
        for answer in answers
        if answer not in taken
        and not (strict and credited.intersection(offers[answer]))
        and not any(ask.clash(question, answer, other) for other in others)
    ]
