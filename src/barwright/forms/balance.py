"""Bringing a filled form to the difficulty of the first: items are exchanged inside their cells until it is near."""

from collections.abc import Sequence
from fractions import Fraction
from random import Random

from barwright.blueprint.blueprint import Plan
from barwright.forms.cells import nearest_item
from barwright.forms.draft import Desk
from barwright.forms.questions import Cell
from barwright.forms.ready_items import question_of
from barwright.items.difficulty import difficulty
from barwright.items.item import Item

# The sum of a form may lie this far from the first form's before items are exchanged: well inside the aim of 5 %.
NEAR = Fraction(1, 100)


def balanced(
    desk: Desk, plans: Sequence[Plan], cells: Sequence[Cell], found: dict[int, Item], places: Sequence[int], seed: str
) -> dict[int, Item]:
    """The items by place, some of them exchanged; `places` are tried in this order: those with most to choose from.

    An item is only exchanged for one of the same cell that brings the sum nearer to the cells' own; if that is not
    enough, for one in another meter. Those about excerpts of the teacher's own stay.
    """
    found = dict(found)
    whole = sum(cell.difficulty for cell in cells)
    ahead = sum(difficulty(found[n].excerpt, plans[n].weights) for n in found) - whole
    for place, wide in ((place, wide) for wide in (False, True) for place in places):
        if abs(ahead) <= NEAR * whole:
            break
        plan, item = plans[place], found[place]
        if item.id in desk.own:
            continue
        now = difficulty(item.excerpt, plan.weights)
        desk.release(item)
        other = nearest_item(plan, cells[place], desk, Random(f"{seed}/{place}/again"), aim=now - ahead, wide=wide)
        if other is not None and abs(ahead + difficulty(other[1].excerpt, plan.weights) - now) < abs(ahead):
            ahead += difficulty(other[1].excerpt, plan.weights) - now
            found[place] = desk.keep(plan, *other)
            desk.bent.pop(item.id, None)
            if other[0].excerpt.meter != cells[place].meter:
                desk.bent[other[1].id] = (
                    f"{plan.ask.id}: {other[0].excerpt.meter} for {cells[place].meter}, to be as hard"
                )
        else:
            desk.keep(plan, question_of(item), item)
    return found
