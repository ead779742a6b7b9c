"""What a form is aimed at: how seldom and how often each trait may stand in it, so that it is like the forms beside it.

A first form has none beside it: it is aimed at what its parts usually give, of which there is enough for other forms.
"""

from collections import Counter
from collections.abc import Mapping, Sequence

from barwright.blueprint.blueprint import Plan
from barwright.forms.draft import MOST_ALIKE, Draft
from barwright.forms.parallel import WHOLE, Spread, Trait, bounds, room
from barwright.forms.questions import Cell
from barwright.forms.ready_items import question_of
from barwright.forms.scales import Aim
from barwright.forms.typical import FORMS, demand, misreadings_supply, supply, usual_counts, usual_difficulty


def aim_beside(plans: Sequence[Plan], cells: Sequence[Cell], beside: Sequence[Spread], named: Sequence[str]) -> Aim:
    """The aim of a form in these cells, a plan for each; `beside`: the traits of the other forms.

    `named`: misreadings that parts name, which show as often as they can.
    """
    items, in_parts = _sizes(plans)
    best = Counter(mark for cell in cells for mark in cell.marks if isinstance(mark, Trait))
    least, most = _bounds([best, *beside], items)
    for trait, excerpts in supply(_parts(plans)).items():
        share = int(excerpts / FORMS)
        if trait.kind != "answers":  # whether it is Yes or No matters more than who gets the last of few
            best[trait] = min(best[trait], share)
        if trait in most:
            most[trait] = max(least[trait], min(most[trait], max(share, 1)))
    for trait in most:
        if trait.kind == "answers":
            most[trait] = max(least[trait], _seldom_enough(trait, most[trait], best[trait], items))
    for trait, needed in demand(_parts(plans)).items():
        if trait in most:
            best[trait] = min(max(best[trait], round(needed)), most[trait])
            least[trait] = max(least[trait], min(int(needed), most[trait]))
    for trait, share in misreadings_supply(_parts(plans)).items():
        if trait in most and trait.name not in named:
            most[trait] = max(least[trait], min(most[trait], max(share, best[trait])))
    return Aim(least, most, best, sum(cell.difficulty for cell in cells), items, in_parts)


def usual_aim(draft: Draft, plans: Sequence[Plan]) -> Aim:
    """The aim of a first form, a plan for each of its items: what is usual among questions of its right answers."""
    parts, (items, in_parts) = _parts(plans), _sizes(plans)
    placed = [(plan, question_of(item)) for plan, item in zip(plans, draft.items, strict=True)]
    best = usual_counts(placed)
    best |= {mark: n for mark, n in draft.shown.items() if isinstance(mark, Trait) and mark.kind == "answers"}
    least = {trait: count - room(items[trait.of]) for trait, count in best.items()}
    most = {trait: count + room(items[trait.of]) for trait, count in best.items()}
    for trait, excerpts in supply(parts).items():
        most[trait] = min(most.get(trait, items[trait.of]), max(1, int(excerpts / FORMS)))
    most |= {t: _seldom_enough(t, most[t], best[t], items) for t in best if t.kind == "answers"}
    most |= {t: share for t, share in misreadings_supply(parts).items() if t.name not in draft.named}
    hard = (usual_difficulty(placed) + draft.sum) // 2  # answers that were drawn are kept rather than all of the usual
    return Aim(least, most, best, hard, items, in_parts, free=frozenset({"misreadings"}))


def _seldom_enough(answer: Trait, most: int, best: int, items: Mapping[str, int]) -> int:
    """How often an answer may stand in a form: in no more than one of three items, if it did not from the first."""
    return min(most, max(best, items[answer.of] // MOST_ALIKE))


def _parts(plans: Sequence[Plan]) -> list[tuple[Plan, int]]:
    """Each part's plan, and how many places it has."""
    counts = Counter(plan.number for plan in plans)
    return [(plan, counts[plan.number]) for plan in {plan.number: plan for plan in plans}.values()]


def _sizes(plans: Sequence[Plan]) -> tuple[Counter[str], Counter[str]]:
    """How many items each ask has, and each part."""
    asks = Counter(name for plan in plans for name in (plan.ask.id, WHOLE))
    return asks, Counter(part_names(plans))


def part_names(plans: Sequence[Plan]) -> list[str]:
    """For each place the name of its part, `1` for the first."""
    return [str(plan.number) for plan in plans]


def _bounds(spreads: Sequence[Spread], items: Mapping[str, int]) -> tuple[dict[Trait, int], dict[Trait, int]]:
    """How seldom and how often each trait may stand in a form that is to be near to all of these."""
    between = {
        trait: bounds([spread[trait] for spread in spreads], room(items[trait.of]))
        for trait in set[Trait]().union(*spreads)
    }
    return {t: least for t, (least, _) in between.items()}, {t: most for t, (_, most) in between.items()}
