"""Other questions for one place of a made form: of the same cell, as hard, and such as no section has seen."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

from barwright.forms.assembly import Pattern
from barwright.forms.cells import parallel_item
from barwright.forms.draft import Draft
from barwright.forms.ready_items import Stock, question_of
from barwright.items.difficulty import difficulty
from barwright.items.form import FormItem
from barwright.items.item import Item
from barwright.rhythm.text import format_excerpt

MOST_OTHERS = 6
# Questions that are of the cell but not as hard, or not quite of the cell, before the search for better ones ends.
MOST_UNLIKE = 2


@dataclass(frozen=True, slots=True)
class Other:
    """A question that could stand in a place: how much harder it is than what `make` put there (below 0: easier).

    `unlike`: what it has not in common with that, where no question is left that has; else empty.
    """

    item: Item
    harder: int
    unlike: str = ""


def others(
    items: Sequence[FormItem],
    at: int,
    pattern: Pattern,
    *,
    seen: frozenset[str],
    retired: frozenset[str] = frozenset(),
    most: int = MOST_OTHERS,
) -> tuple[Other, ...]:
    """At most so many other questions for one of a form's items, the likest first; the same whenever they are asked.

    `items` are the form's as they stand. None of the others is about an excerpt of the form or one that is `seen`, none
    is named in `retired` (see `question_name`), and none gives another question of the form away or is given away.
    """
    candidates = list(_found(items, at, pattern, seen, retired, most))
    return tuple(sorted(candidates, key=lambda other: (bool(other.unlike), abs(other.harder))))


def _found(
    items: Sequence[FormItem], at: int, pattern: Pattern, seen: frozenset[str], retired: frozenset[str], most: int
) -> Iterator[Other]:
    here = items[at]
    place = here.as_made.number - 1
    plan, cell = pattern.plans[place], pattern.cells[place]
    never = seen.union(format_excerpt(each.item.excerpt) for each in items)
    draft = Draft("other", {}, never=never, stock=Stock(retired=retired))
    for each in items:
        if each.as_made.number != here.as_made.number:
            draft.keep(pattern.plans[each.as_made.number - 1], question_of(each.item), each.item)
    unlike = 0
    for number in range(most):
        item = parallel_item(plan, cell, draft, Random(f"{here.item.id}/{number}"), aim=cell.difficulty)
        if item is None or format_excerpt(item.excerpt) in never:
            return
        bent = draft.bent.pop(item.id, "")
        harder = difficulty(item.excerpt, plan.weights) - cell.difficulty
        yield Other(item, harder, bent.partition(": ")[2])
        unlike += bool(bent)
        if unlike == MOST_UNLIKE:
            return
        draft.release(item)
        draft.never |= {format_excerpt(item.excerpt)}
