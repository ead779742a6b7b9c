"""Choosing wrong answers: only what a misreading leads to, each told apart from the others, varied over a quiz."""

from collections import Counter
from collections.abc import Sequence
from random import Random

from barwright.items.asks import Ask, Offers, Question
from barwright.items.model import Answer, Choice

# A misreading must be on offer in several items before picks of it mean anything (two picks over two items at least,
# common practice), so those begun are offered again, up to this often, before new ones are.
CHANCES = 3
MOST_FORESEEN = 8


def chosen(
    ask: Ask,
    question: Question,
    offers: Offers,
    *,
    wanted: int,
    focus: Sequence[str],
    offered: Counter[str],
    rng: Random,
) -> tuple[Choice, ...]:
    """Up to `wanted` wrong choices, each credited to another misreading; fewer if no more can be told apart.

    `offered` counts how often each misreading has stood in the form so far; `focus` names those that the teacher wants.
    For entries every foreseen answer is kept, the least ambiguous first.
    """
    if ask.interaction == "entry":
        return _foreseen(offers)
    found: list[Choice] = []
    ranked = _ranked(offers, focus, offered, rng)
    for strict in (True, False):
        for misreading in ranked:
            if len(found) == wanted:
                return tuple(found)
            choice = _choice_for(misreading, ask, question, offers, found, strict, rng)
            if choice is not None:
                found.append(choice)
    return tuple(found)


def _foreseen(offers: Offers) -> tuple[Choice, ...]:
    ranked = sorted(offers, key=lambda a: (len(offers[a]), a))
    return tuple(Choice(a, offers[a]) for a in ranked[:MOST_FORESEEN])


def _ranked(offers: Offers, focus: Sequence[str], offered: Counter[str], rng: Random) -> list[str]:
    """The misreadings that lead anywhere here: those in focus first, then those begun, then new ones, then the rest."""
    able = sorted({m for ids in offers.values() for m in ids})

    def rank(misreading: str) -> tuple[bool, int, int, int]:
        often = offered[misreading]
        band = 2 if often >= CHANCES else int(often == 0)
        return misreading not in focus, band if misreading not in focus else 0, often, rng.getrandbits(32)

    return sorted(able, key=rank)


def _choice_for(
    misreading: str, ask: Ask, question: Question, offers: Offers, found: list[Choice], strict: bool, rng: Random
) -> Choice | None:
    """The best answer of this misreading that can stand beside those found; None if there is none.

    With `strict` no other choice may be an answer of the same misreading, nor this one of theirs.
    """
    credited = {c.misreading for c in found}
    if misreading in credited:
        return None
    also = {m for c in found for m in c.misreadings}
    able: list[Answer] = []
    for answer, ids in offers.items():
        if misreading not in ids or any(answer == c.answer for c in found):
            continue
        if strict and (misreading in also or credited & set(ids)):
            continue
        others = (*question.keys, *(c.answer for c in found))
        if not any(ask.clash(question, answer, other) for other in others):
            able.append(answer)
    if not able:
        return None
    best = min(able, key=lambda a: (len(offers[a]) > 1, ask.farness(question, a), rng.getrandbits(32)))
    return Choice(best, (misreading, *(m for m in offers[best] if m != misreading)))
