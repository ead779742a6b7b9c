"""Items and plans that are put together by hand, for the rules by which forms are made of them."""

from dataclasses import replace

from barwright.asks import ASKS
from barwright.asks.ask import Space
from barwright.asks.own_rhythms import NOTHING_OWN
from barwright.blueprint.blueprint import Plan
from barwright.items.difficulty import WEIGHTS
from barwright.items.item import Answer, Choice, Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt


def item(ask: str, excerpt: str, right: str, wrong: str, *, target: str = "") -> Item:
    """An item; right and wrong answers by commas, a wrong one as `text (error error)`, or of an error of its own."""
    kind = ASKS[ask].answer
    choices = [Choice(Answer(kind, text)) for text in right.split(", ")]
    for number, each in enumerate(wrong.split(", ") if wrong else ()):
        text, _, errors = each.partition(" <")
        ways = tuple(errors.removesuffix(">").split()) or (f"error-{number}",)
        choices.append(Choice(Answer(kind, text), ways))
    ordered = tuple(sorted(choices, key=lambda choice: choice.answer))
    return Item(ask, parse_excerpt(excerpt, full=False), Conventions(), ordered, target)


def plan(ask: str, a_space: Space, *, items: int = 4, choices: int = 4, focus: tuple[str, ...] = ()) -> Plan:
    """The plan of a part of this ask in this space."""
    return Plan(ASKS[ask], a_space, items, 1, choices, False, focus, WEIGHTS, NOTHING_OWN)


def in_ask(plan_: Plan, **changed: object) -> Plan:
    """The plan with an ask that differs so."""
    return replace(plan_, ask=replace(plan_.ask, **changed))
