"""What a space can supply: a sample of its questions, each with the misreadings that lead to wrong answers on it.

Parallel forms need cells that many excerpts can fill. The sample tells which misreadings often show together; it
depends on the space and the ask only, so it is the same for every form and section.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from itertools import islice
from random import Random

from barwright.asks.ask import Ask, Question, Space
from barwright.blueprint.blueprint import Plan
from barwright.rhythm.meter import Meter

SAMPLE = 16
TRIES = 4 * SAMPLE
FEW = 120

Able = frozenset[str]


def in_one_meter(plan: Plan, meter: Meter) -> Plan:
    """The plan with this meter alone."""
    return replace(plan, space=one_meter(plan.space, meter))


def one_meter(space: Space, meter: Meter) -> Space:
    """The space with this meter alone."""
    return replace(space, meters=(meter,))


def able(ask: Ask, question: Question, space: Space) -> Able:
    """The ids of all misreadings that lead to a wrong answer on the question."""
    offers = ask.offers(question, space.anywhere, Random(question.text))
    return frozenset(m for ids in offers.values() for m in ids)


@lru_cache(maxsize=256)
def has_few(ask: Ask, space: Space) -> bool:
    """Whether a space has so few questions that trying all of them is no more work than drawing some."""
    return sum(1 for _ in islice(ask.listed(space), FEW + 1)) <= FEW


@lru_cache(maxsize=256)
def _sample(ask: Ask, space: Space) -> tuple[Able, ...]:
    if has_few(ask, space):
        return tuple(able(ask, q, space) for q in islice(ask.listed(space), FEW))
    # The same for every ask, which then look at the same excerpts: much of what errors make of those is remembered.
    rng = Random(f"{space.alphabet.tokens} {space.meters} {space.measures}")
    drawn: dict[str, Able] = {}
    for _ in range(TRIES):
        question = ask.draw(space, rng)
        if question is not None and question.text not in drawn:
            drawn[question.text] = able(ask, question, space)
        if len(drawn) == SAMPLE:
            break
    return tuple(drawn.values())


def sample_of(plan: Plan, meter: Meter) -> tuple[Able, ...]:
    """The sample of a plan's questions in one meter."""
    return _sample(plan.ask, one_meter(plan.space, meter))


def whole_sample(plan: Plan) -> tuple[Able, ...]:
    """The sample of a plan's questions in all its meters; all of them where they are few."""
    return _sample(plan.ask, plan.space)


@lru_cache(maxsize=256)
def frequency(sample: tuple[Able, ...]) -> Mapping[str, int]:
    """In how many questions of the sample each misreading leads to a wrong answer."""
    return Counter(m for each in sample for m in each)


def support(sample: Iterable[Able], misreadings: frozenset[str]) -> int:
    """In how many questions of the sample all these misreadings lead to wrong answers."""
    return sum(misreadings <= each for each in sample)
