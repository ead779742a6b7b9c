"""The order of the items of a part in each form: the answer to a question of one form is not that of the others.

Parts stay where they are. Inside a part each form has an order of its own, so that a student who passes on "the first
is a quarter rest" tells the next class nothing.
"""

from collections.abc import Sequence
from itertools import groupby
from random import Random

from barwright.items.blueprint import Plan
from barwright.items.forms import Form
from barwright.items.model import Answer

# Orders that are thrown for a part, of which the one least like the other forms' is taken.
THROWS = 60

Keys = tuple[tuple[Answer, ...], ...]
"""The right answers of a form, question by question."""


def keys_of(form: Form) -> Keys:
    """The right answers of a form; of the variants of a question those of the first."""
    first = {placed.number: placed.item for placed in reversed(form.items)}
    return tuple(tuple(key.answer for key in first[number].keys) for number in sorted(first))


def mixed_places(plans: Sequence[Plan], others: Sequence[Keys], keys: Keys, rng: Random) -> tuple[int, ...]:
    """For each place of a form the number of the item that is to stand there, from the same part.

    `others`: the right answers of the other forms; `keys`: those of this form's items. As few as some throws can find
    are the same in the same place.
    """
    found: list[int] = []
    for _, group in groupby(range(len(plans)), key=lambda place: id(plans[place])):
        part = list(group)
        thrown = [rng.sample(part, len(part)) for _ in range(THROWS)]
        alike = [[_alike(part, order, keys, other) for other in others] for order in thrown]
        cost = [(max(each, default=0), sum(each)) for each in alike]
        found += thrown[cost.index(min(cost))]
    return tuple(found)


def _alike(part: Sequence[int], order: Sequence[int], keys: Keys, other: Keys) -> int:
    return sum(keys[number] == other[place] for place, number in zip(part, order, strict=True))
