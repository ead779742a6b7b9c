"""Pools: variants of each item in the same cell, of which the learning platform draws one for every student."""

from collections.abc import Callable, Sequence
from random import Random

from barwright.blueprint.blueprint import Plan
from barwright.errors import CapacityError
from barwright.forms.cells import parallel_item
from barwright.forms.draft import Draft
from barwright.forms.questions import Cell
from barwright.items.item import Item
from barwright.showing import shown

Pool = tuple[Item, ...]
Told = Callable[[int], None]
"""Hears how many items of a form are made."""


def untold(_done: int) -> None:
    """Hears nothing."""


def pools_of(
    draft: Draft, plans: Sequence[Plan], cells: Sequence[Cell], *, variants: int, seed: str, told: Told = untold
) -> tuple[Pool, ...]:
    """For each item of the draft a pool of so many variants, itself the first; with 1 there is nothing to draw.

    No two variants of a form share an excerpt, and none gives away an item of another pool. CapacityError says which
    place of the form has too few. `told` hears how many items are made, those of the draft included.
    """
    pools: list[Pool] = []
    for place, (item, plan, cell) in enumerate(zip(draft.items, plans, cells, strict=True), start=1):
        beside, pool = draft.beside(item), [item]
        for variant in range(1, variants):
            rng = Random(f"{seed}/{place}/variant {variant}")
            other = parallel_item(plan, cell, beside, rng, aim=cell.difficulty)
            if other is None:
                raise CapacityError(
                    f"question {place}, {shown(plan.ask.id)}: {variants} variants are asked for, "
                    f"{len(pool)} can be made: "
                    "lower `variants`, teach more elements or meters, or allow longer excerpts with `measures`",
                    part=plan.number,
                )
            pool.append(other)
            told(len(draft.items) + len(pools) * (variants - 1) + variant)
        draft.absorb(beside)
        pools.append(tuple(pool))
    return tuple(pools)
