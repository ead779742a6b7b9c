"""A form as a student sees it who reads neither stem nor figure: what the guesser is given."""

from collections.abc import Iterable, Sequence

from barwright.asks import ASKS
from barwright.guesser import SeenChoice, SeenItem, seen_choice
from barwright.items.form import Form
from barwright.items.item import Answer, Item

# Where something is picked, so that a guess can be right.
PICKED = ("figures", "texts", "gaps", "several")
# Whatever has the right length is right here, and nothing else.
BY_LENGTH = frozenset(
    {
        "finish-measure",
        "finish-measure-with-two",
        "drag-into-the-blank",
        "all-that-fit",
        "rhythm-for-time-signature",
    }
)


def seen_answer(answer: Answer) -> SeenChoice:
    """An answer as it is printed in a choice."""
    return seen_choice(answer.kind, answer.text)


def seen_item(ask: str, right: Iterable[Answer], wrong: Iterable[Answer]) -> SeenItem:
    """An item in the making: the right answers first, whatever place they will take."""
    keys, others = tuple(map(seen_answer, right)), tuple(map(seen_answer, wrong))
    return SeenItem(ask, (*keys, *others), frozenset(range(len(keys))), ask in BY_LENGTH)


def shown_item(item: Item, order: Sequence[int]) -> SeenItem:
    """An item with its choices in their shown order."""
    choices = [item.choices[index] for index in order]
    keys = frozenset(place for place, choice in enumerate(choices) if choice.key)
    return SeenItem(item.ask, tuple(seen_answer(c.answer) for c in choices), keys, item.ask in BY_LENGTH)


def seen_form(form: Form) -> tuple[SeenItem, ...]:
    """The items of a form whose answers are picked, in order."""
    return tuple(
        shown_item(placed.item, placed.order) for placed in form.items if ASKS[placed.item.ask].interaction in PICKED
    )
