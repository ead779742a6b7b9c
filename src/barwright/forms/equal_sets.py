"""Sets of choices in which each could be the right one: whoever sees no more than the choices cannot tell which it is.

Such a set stands in the item of any of its choices, all others being errors of whoever is asked about that one. If each
of these items comes equally often, the choices tell nothing at all, whatever they look like. So a question is taken the
oftener the more sets it has, and each of its sets as often as any other.
"""

from collections.abc import Sequence
from itertools import combinations
from math import log
from random import Random

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.choosing import Candidate, told_apart

# Candidates that are held against each other; of more the first.
MOST = 60
# What the wait for a question with one set is on average.
WAIT = 1_000


def can_be_equal(plan: Plan) -> bool:
    """Whether sets are looked for at all: where the ask can tell, and no misreadings are named, which few sets show."""
    return plan.ask.if_right is not None and not plan.focus


def equal_sets(
    plan: Plan, question: Question, candidates: Sequence[Candidate], count: int
) -> list[tuple[Candidate, ...]]:
    """All sets of so many wrong choices each of which would be right with the key and the others as its wrong ones."""
    if_right, (key,) = plan.ask.if_right, question.keys
    assert if_right is not None
    usual = [each for each in candidates if not each.seldom][:MOST]
    offered = if_right(question, [each.answer for each in usual], plan.space.anywhere)
    able = [each for each in usual if key in offered.get(each.answer, ())]
    beside = {
        (one, other)
        for (one, a), (other, b) in combinations(enumerate(able), 2)
        if a.answer in offered[b.answer] and b.answer in offered[a.answer] and told_apart(a, b)
    }
    return [tuple(able[n] for n in numbers) for numbers in _all_beside(range(len(able)), count, beside)]


def _all_beside(numbers: Sequence[int], count: int, beside: set[tuple[int, int]]) -> list[tuple[int, ...]]:
    """So many of these numbers, any two of which stand beside each other; each set once, in rising order."""
    if not count:
        return [()]
    sets = []
    for place, first in enumerate(numbers):
        others = [other for other in numbers[place + 1 :] if (first, other) in beside]
        sets += [(first, *rest) for rest in _all_beside(others, count - 1, beside)]
    return sets


def wait(sets: int, rng: Random) -> int:
    """A wait for a question with so many sets: of some questions each comes first as often as its share of all sets.

    The waits are exponential, with a mean of WAIT over the sets.
    """
    return int(-log(1 - rng.random()) * WAIT / sets)
