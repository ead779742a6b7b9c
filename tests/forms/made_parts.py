"""Parts that list, draw and offer what a case puts down, in place of all that can be read in a space."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import cycle, product
from random import Random

from asks.spaces import excerpt, space
from barwright.asks import ASKS
from barwright.asks.ask import Question, Space, no_pairs
from barwright.blueprint.blueprint import Plan
from barwright.items.difficulty import WEIGHTS
from barwright.items.item import Answer, AnswerKind
from forms.made_items import in_ask, plan

Ways = Mapping[str, str]
"""Wrong answers by their text, each with the errors that lead there."""


def question(text: str, *keys: str, kind: AnswerKind = "symbols") -> Question:
    """A question with a blank and the symbols that fill it, a quarter unless they are named."""
    return Question(excerpt(text), tuple(Answer(kind, key) for key in keys or ("q",)))


# Of a part with so many questions there is always enough. Their measures need not be full.
MANY = [question(f"4/4 {' '.join(each)} _") for each in product("hqes", repeat=4)]


def part(
    listed: Sequence[Question],
    *,
    drawn: Sequence[Question | None] = (None,),
    offers: Ways | None = None,
    on: Mapping[str, Ways] | None = None,
    ask: str = "finish-measure",
    meters: str = "4/4",
    items: int = 4,
    choices: int = 4,
    focus: str = "",
    all_of_them: bool = True,
    even: bool = False,
    fewer: bool = False,
) -> Plan:
    """A part of these questions in their meters; it draws those in turn. Each offers the same, but for some, in `on`.

    `even`: no question is harder than another. `fewer`: a choice less will do.
    """
    turn = cycle(drawn)

    def every(narrow: Space) -> Iterator[Question]:
        return iter([each for each in listed if each.excerpt.meter in narrow.meters])

    def ways(asked: Question, _space: Space, _rng: Random) -> dict[Answer, tuple[str, ...]]:
        here = (on or {}).get(asked.text, offers or {})
        return {Answer(ASKS[ask].answer, text): tuple(each.split()) for text, each in here.items()}

    made = replace(
        plan(ask, space("w h. h q. q e rh rq re", meters), items=items, choices=choices, focus=tuple(focus.split())),
        fewer_choices=fewer,
    )
    return in_ask(
        replace(made, weights=dict.fromkeys(WEIGHTS, 0)) if even else made,
        listed=every, draw=lambda _space, _rng: next(turn), offers=ways, pairs=no_pairs,
        lists_all=lambda _space: all_of_them,
    )  # fmt: skip
