"""The order of the items of a part in each form: the answer to a question of one form is not that of the others.

Parts stay where they are. Inside a part each form has an order of its own, so that a student who passes on "the first
is a quarter rest" tells the next class nothing.
"""

from collections.abc import Sequence
from itertools import groupby
from random import Random

from barwright.items.blueprint import Plan
from barwright.items.model import Answer

# Orders that are thrown, of which the one least like the first form's is taken.
THROWS = 12

Keys = tuple[Answer, ...]


def mixed_places(plans: Sequence[Plan], first: Sequence[Keys], keys: Sequence[Keys], rng: Random) -> tuple[int, ...]:
    """For each place of a form the number of the item that is to stand there, from the same part.

    `first`: the right answers of the first form, place by place; `keys`: those of this form's items. As few as can be
    found by some throws are the same in the same place.
    """
    found: list[int] = []
    for _, group in groupby(range(len(plans)), key=lambda place: id(plans[place])):
        part = list(group)
        thrown = [rng.sample(part, len(part)) for _ in range(THROWS)]
        alike = [sum(keys[n] == first[place] for place, n in zip(part, order, strict=True)) for order in thrown]
        found += thrown[alike.index(min(alike))]
    return tuple(found)
