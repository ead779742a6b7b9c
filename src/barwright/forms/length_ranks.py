"""How long right answers can be among their choices: the rank of length is drawn first, then a question that has it.

Most errors make what is missing longer, so that of questions drawn at random the shortest choice is right. Which ranks
a right answer of some length can have, for lack of shorter or longer wrong ones, is looked up on a sample.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import lru_cache
from random import Random

from barwright.asks.ask import Ask, Question, Space
from barwright.blueprint.blueprint import Plan
from barwright.forms.seeing import BY_LENGTH, seen_answer
from barwright.forms.typical import drawn_sample

# Questions that are looked at for each length of the right answer; a rank counts that one in so many of them has.
EACH, SHARE = 6, 3


def has_ranks(plan: Plan) -> bool:
    """Whether the right answer is one choice that is told by its length, and has to be put in a blank."""
    return plan.ask.id in BY_LENGTH and plan.ask.answer == "symbols" and plan.ask.interaction != "several"


def ranks_of(plan: Plan, question: Question) -> frozenset[int]:
    """How many wrong choices can be shorter than a right answer as long as this one, if all differ in length."""
    table = _table(plan.ask, plan.space, plan.choices - 1)
    return table.get(seen_answer(question.keys[0]).size, frozenset({0}))


@lru_cache(maxsize=64)
def _table(ask: Ask, space: Space, wrong: int) -> dict[int, frozenset[int]]:
    by_size: dict[int, list[Question]] = {}
    for question in drawn_sample(ask, space):
        by_size.setdefault(seen_answer(question.keys[0]).size, []).append(question)
    table = {}
    for size, questions in by_size.items():
        looked_at = questions[:EACH]
        # Where lengths are few an item has one choice fewer, or one that is as long as the measure.
        table[size] = (
            _seen(ask, looked_at, space, size, wrong)
            or _seen(ask, looked_at, space, size, wrong - 1)
            or _seen(ask, looked_at, space, size, wrong - 1, usual=False)
        )
    return table


def _seen(
    ask: Ask, questions: Sequence[Question], space: Space, size: int, wrong: int, *, usual: bool = True
) -> frozenset[int]:
    able = Counter(rank for q in questions for rank in _ranks(ask, q, space, size, wrong, usual=usual))
    return frozenset(rank for rank, count in able.items() if count * SHARE >= len(questions))


def _ranks(ask: Ask, question: Question, space: Space, size: int, wrong: int, *, usual: bool) -> Iterator[int]:
    """The ranks that the lengths of wrong answers allow, with `usual` those as long as the measure left out."""
    offers = ask.offers(question, space.anywhere, Random(question.text))
    answers = (*offers, *ask.pairs(question, space.anywhere))
    lengths = {seen_answer(a).size for a in answers} - {size}
    shorter = sum(length < size for length in lengths)
    most = question.excerpt.meter.ticks if usual else max(lengths, default=0) + 1
    longer = sum(size < length < most for length in lengths)
    yield from (rank for rank in range(wrong + 1) if shorter >= rank and longer >= wrong - rank)
