"""The sets of wrong choices that an ask holds for fair (`Ask.sets`), each choice with a misreading of its own."""

from collections.abc import Sequence
from dataclasses import replace
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.choosing import Candidate

# Two choices that are credited to one misreading weigh as the square of so many parts (`winnings.ITEM`): a pick then
# tells less, but a length or a statement that always stands alone would tell all.
TWICE = 60 * 60
LEAST_NAMED = 2  # wrong choices of an item, of which one may be what the part is to be about


def fair_sets(
    plan: Plan, question: Question, candidates: Sequence[Candidate], count: int, rng: Random
) -> list[tuple[Candidate, ...]]:
    """Sets of so many wrong choices, by the sets of the ask.

    Those offered seldom come in only where others are few, or all of one sort. A statement that a named misreading
    leads to is offered in any case, even if it is right nowhere in the class.
    """
    sets = _usual_sets(plan, question, candidates, count, rng)
    named = [c for c in candidates if set(c.ways).intersection(plan.focus)] if plan.ask.answer == "claim" else []
    if not named or count < LEAST_NAMED or any(set(c.ways).intersection(plan.focus) for wrong in sets for c in wrong):
        return sets
    others = _usual_sets(plan, question, candidates, count - 1, rng)
    return [
        credited([*wrong, each]) for each in named for wrong in others if _may_join(plan, question, each, wrong)
    ] or sets


def _may_join(plan: Plan, question: Question, one: Candidate, wrong: Sequence[Candidate]) -> bool:
    return all(c.answer != one.answer and not plan.ask.clash(question, one.answer, c.answer) for c in wrong)


def _usual_sets(
    plan: Plan, question: Question, candidates: Sequence[Candidate], count: int, rng: Random
) -> list[tuple[Candidate, ...]]:
    assert plan.ask.sets is not None
    usual = [c for c in candidates if not c.seldom]
    alike = len(_sorts(plan, question, usual)) < len(_sorts(plan, question, candidates))
    for able in (candidates,) if alike else (usual, candidates):
        known = {c.answer: c for c in able}
        offers = {answer: c.ways for answer, c in known.items()}
        draws = plan.ask.sets(question, offers, plan.space.anywhere, count, rng)
        sets = [credited([known[answer] for answer in drawn]) for drawn in draws]
        if sets:
            return sets
    return []


def _sorts(plan: Plan, question: Question, candidates: Sequence[Candidate]) -> set[str]:
    """What the choices begin with that is told apart at a glance, if the ask has such sorts."""
    if plan.ask.sort is None:
        return set()
    return {plan.ask.sort(answer) for answer in (*question.keys, *(c.answer for c in candidates))}


def credited(wrong: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """These choices, each credited to another misreading as far as can be, the first of its ways before others.

    >>> from barwright.items.item import Answer
    >>> two = (Candidate(Answer("symbols", "h"), ("a", "b")), Candidate(Answer("symbols", "q q"), ("a",)))
    >>> [c.ways for c in credited(two)]
    [('b', 'a'), ('a',)]
    """
    mine: dict[str, int] = {}

    def finds(number: int, tried: set[str]) -> bool:
        """Whether the choice gets a misreading of its own, if need be by another giving way (Kuhn 1955)."""
        for way in wrong[number].ways:
            if way not in tried:
                tried.add(way)
                if way not in mine or finds(mine[way], tried):
                    mine[way] = number
                    return True
        return False

    for number in sorted(range(len(wrong)), key=lambda n: len(wrong[n].ways)):
        finds(number, set())
    own = {number: way for way, number in mine.items()}
    return tuple(_with_first(c, own.get(number)) for number, c in enumerate(wrong))


def _with_first(candidate: Candidate, way: str | None) -> Candidate:
    """The candidate credited to this way; without one to its first, at a cost."""
    if way is None:
        return replace(candidate, bias=candidate.bias + TWICE)
    return replace(candidate, ways=(way, *(other for other in candidate.ways if other != way)))
