"""What the parts of a blueprint usually give, and how often they can give it.

It depends on the plans only, so that a first form can be brought near to it whatever was drawn, and forms that come
after it find enough that is like it.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import islice
from random import Random

from barwright.asks.ask import Ask, Question, Space
from barwright.blueprint.blueprint import Plan
from barwright.forms.parallel import Trait, question_traits
from barwright.items.difficulty import difficulty
from barwright.rhythm.text import format_excerpt

SAMPLE = 32
# So many sections a teacher has of one class (common practice); a first form takes no more than its share.
FORMS = 6
# A part with more questions than this has enough for them.
MOST_COUNTED = 400

Parts = Sequence[tuple[Plan, int]]
"""Each part's plan, and how many items it has."""


def usual_difficulty(parts: Parts) -> int:
    """The sum of the difficulties of a form, if each part gives what is usual there."""
    return round(sum(count * _mean(plan) for plan, count in parts))


def _mean(plan: Plan) -> Fraction:
    questions = _sample(plan.ask, plan.space)
    return Fraction(sum(difficulty(q.excerpt, plan.weights) for q in questions), max(len(questions), 1))


def usual_counts(parts: Parts) -> dict[Trait, int]:
    """In how many items of a form each trait shows, if each part gives what is usual there."""
    shares: dict[Trait, Fraction] = {}
    for plan, items in parts:
        questions = _sample(plan.ask, plan.space)
        for trait, count in Counter(t for q in questions for t in question_traits(plan.ask, q)).items():
            shares[trait] = shares.get(trait, Fraction(0)) + Fraction(count * items, len(questions))
    return {trait: round(share) for trait, share in shares.items()}


def supply(parts: Parts) -> Mapping[Trait, Fraction]:
    """How many different excerpts each trait can show on, in asks that have few; an ask that is not named has enough.

    An excerpt that several asks could have is divided among them by how many items they have.
    """
    return _supply(tuple((plan.ask, plan.space, count) for plan, count in parts))


@lru_cache(maxsize=16)
def _supply(parts: tuple[tuple[Ask, Space, int], ...]) -> Mapping[Trait, Fraction]:
    questions = {ask: _all_of_few(ask, space) for ask, space, _ in parts}
    wanted: Counter[str] = Counter()
    for ask, _, items in parts:
        wanted.update(dict.fromkeys({format_excerpt(question.excerpt) for question in questions[ask]}, items))
    items_of: Counter[Ask] = Counter()
    for ask, _, items in parts:
        items_of[ask] += items
    found: dict[Trait, Fraction] = {}
    for ask, listed in questions.items():
        for trait, text in {(trait, format_excerpt(q.excerpt)) for q in listed for trait in question_traits(ask, q)}:
            found[trait] = found.get(trait, Fraction(0)) + Fraction(items_of[ask], wanted[text])
    return found


def _all_of_few(ask: Ask, space: Space) -> tuple[Question, ...]:
    """All questions of a part that has few; nothing of one with many."""
    listed = tuple(islice(ask.listed(space), MOST_COUNTED + 1)) if ask.lists_all(space) else ()
    return listed if len(listed) <= MOST_COUNTED else ()


@lru_cache(maxsize=256)
def _sample(ask: Ask, space: Space) -> tuple[Question, ...]:
    return tuple(islice(_drawn(ask, space), SAMPLE))


def _drawn(ask: Ask, space: Space) -> Iterator[Question]:
    rng = Random(f"{ask.id} {space.alphabet.tokens} {space.meters} {space.measures}")
    for _ in range(2 * SAMPLE):
        question = ask.draw(space, rng)
        if question is not None:
            yield question
