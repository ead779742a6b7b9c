"""Marks of an item: what its form counts, so that no form has more or less of it than is fair.

Traits are what parallel forms have equally often (see `parallel`). Other marks must not meet in a form: mirror images,
one excerpt for two asks, one key through a part; or must be there often enough: chances to tell named misreadings
apart.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.parallel import Trait, apart_in, question_traits, traits_of_offered, twin_name
from barwright.forms.ready_items import question_of
from barwright.items.difficulty import difficulty
from barwright.items.item import Choice, Item
from barwright.rhythm.text import format_excerpt


class Mark(NamedTuple):
    """Something of an item that is no trait but matters to its form: `kind` says what, `of` where, `name` which."""

    kind: str
    of: str
    name: str


Marks = frozenset[Trait | Mark]


class Marked(NamedTuple):
    """A question with its marks, whatever its wrong answers are, and its difficulty."""

    question: Question
    marks: Marks
    difficulty: int


def marked(plan: Plan, question: Question) -> Marked:
    """A question of a part with its marks."""
    return Marked(question, question_marks(plan, question), difficulty(question.excerpt, plan.weights))


def question_marks(plan: Plan, question: Question) -> Marks:
    """The marks of a question of a part, whatever its wrong answers are."""
    keys = " ".join(key.text for key in question.keys)
    sorts = {plan.ask.sort(key) for key in question.keys} if plan.ask.sort is not None else ()
    return frozenset(
        (
            *(Mark("key", str(plan.number), each) for each in sorts),
            *((Mark("slight", plan.ask.id, ""),) if plan.ask.slight is not None and plan.ask.slight(question) else ()),
            *question_traits(plan.ask, question),
            Mark("twin", plan.ask.id, twin_name(plan.ask.id, question)),
            Mark("key", str(plan.number), keys),
            Mark("excerpt", "form", format_excerpt(question.excerpt)),
        )
    )


def wrong_marks(plan: Plan, item: Item, named: Sequence[str]) -> Marks:
    """The marks of the wrong answers of an item; `named`: the misreadings that are to be told apart."""
    return choices_marks(plan, item.wrong, named)


def choices_marks(plan: Plan, wrong: Sequence[Choice], named: Sequence[str]) -> Marks:
    """The marks that these wrong choices give an item of a part."""
    about = (Mark("about", str(plan.number), name) for each in wrong if (name := each.misreading) in plan.focus)
    chances = (Mark("apart", *pair) for pair in apart_in(wrong, named))
    offered = {name for each in wrong for name in each.held}
    return frozenset((*traits_of_offered(plan.ask.id, offered), *about, *chances))


def item_marks(plan: Plan, item: Item, named: Sequence[str]) -> Marks:
    """All marks of an item."""
    return question_marks(plan, question_of(item)) | wrong_marks(plan, item, named)


def chance_marks(named: Sequence[str]) -> Iterator[Mark]:
    """The marks of all chances that a form should give."""
    return (Mark("apart", one, other) for one in named for other in named)
