"""Response processing of items in QTI 2.2 and 3.0, written out in full.

A template would do for the score, but sets no feedback, and its address differs between the published examples. Every
item has one rule for an answer that is all right, which scores all points exactly; where parts of an answer count, what
they add up to stands in the `else` of that rule.
"""

from collections.abc import Callable

from lxml import etree

from barwright.items.item import Interaction
from barwright.qti.package_content import PLACING
from barwright.qti.v2and3.dialect import Dialect
from barwright.qti.v2and3.item_plan import (
    FEEDBACK,
    GENERAL,
    RESPONSE,
    SCORE,
    ItemPlan,
    ScoredAnswer,
    decimal,
    response_of,
)
from barwright.wording.worded import WordedSlot


def add_rules(parent: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    """Adds the `responseProcessing`."""
    processing = dialect.add(parent, "responseProcessing")
    if plan.interaction == "entry":
        _entry_rules(processing, plan, dialect)
    else:
        _choice_rules(processing, plan, dialect)


def _choice_rules(processing: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    """All right, a wrong answer that is foreseen, or neither; then what the choices themselves are told."""
    placing, told = plan.interaction in PLACING, plan.told
    chosen = {answer.ident for answer in plan.answers}
    condition = dialect.add(processing, "responseCondition")
    good = dialect.add(condition, "responseIf")
    _ALL_RIGHT.get(plan.interaction, _matches)(good, plan, dialect)
    _set(good, dialect, SCORE, base="float", value=str(plan.points))
    for each in told:
        if placing and each in chosen and each not in plan.astray:
            _set(good, dialect, FEEDBACK, base="identifier", value=each)
    parts = _PARTS.get(plan.interaction) if plan.partial else None
    for ident, filled in plan.foreseen:
        wrong = dialect.add(condition, "responseElseIf")
        _add_whole(wrong, plan, dialect, filled=filled)
        if parts:
            parts(wrong, plan, dialect)
        _set(wrong, dialect, FEEDBACK, base="identifier", value=ident)
    if parts or GENERAL in told:
        other = dialect.add(condition, "responseElse")
        if parts:
            parts(other, plan, dialect)
        if GENERAL in told:
            _set(other, dialect, plan.outcome(GENERAL), base="identifier", value=GENERAL)
    if placing:
        _astray_rules(processing, plan, dialect)
    elif set(told) - {GENERAL}:
        shown = dialect.add(processing, "setOutcomeValue", identifier=FEEDBACK)
        dialect.add(shown, "variable", identifier=RESPONSE)


def _entry_rules(processing: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    """Typed answers score by the mapping; each foreseen one has its own feedback, any other or none the general one."""
    add = dialect.add
    condition = add(processing, "responseCondition")
    typed = _add_mapped(condition, dialect)
    if not plan.told:
        return
    kinds = add(typed, "responseCondition")
    for number, answer in enumerate(sorted(plan.answers, key=lambda a: not a.key)):
        branch = add(kinds, "responseElseIf" if number else "responseIf")
        if answer.key and len(plan.keys) == 1:
            scored = add(branch, "gt")
            add(scored, "variable", identifier=SCORE)
            add(scored, "baseValue", text="0", baseType="float")
        else:
            _typed(branch, answer, dialect)
        _set(branch, dialect, FEEDBACK, base="identifier", value=answer.ident)
    for other in (add(kinds, "responseElse"), add(condition, "responseElse")):
        _set(other, dialect, FEEDBACK, base="identifier", value=GENERAL)


def _typed(parent: etree._Element, answer: ScoredAnswer, dialect: Dialect) -> None:
    """Whether one of the spellings was typed, in either case."""
    any_of = dialect.add(parent, "or")
    for spelling in answer.spellings:
        same = dialect.add(any_of, "stringMatch", caseSensitive="false")
        dialect.add(same, "variable", identifier=RESPONSE)
        dialect.add(same, "baseValue", text=spelling, baseType="string")


def _astray_rules(processing: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    """A choice that belongs nowhere tells its feedback wherever it was used."""
    for ident in plan.astray:
        used = dialect.add(dialect.add(processing, "responseCondition"), "responseIf")
        any_of = dialect.add(used, "or")
        for slot in plan.slots:
            _filled(any_of, plan, dialect, slot=slot, ident=ident)
        _set(used, dialect, plan.outcome(ident), base="identifier", value=ident)


Rule = Callable[[etree._Element, ItemPlan, Dialect], None]


def _matches(parent: etree._Element, _: ItemPlan, dialect: Dialect) -> None:
    """Whether the response is the right one, in order where it is ordered."""
    same = dialect.add(parent, "match")
    dialect.add(same, "variable", identifier=RESPONSE)
    dialect.add(same, "correct", identifier=RESPONSE)


def _all_gaps(parent: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    choosy = all(len(slot.keys) == 1 for slot in plan.slots)
    (_matches if choosy else _all_slots)(parent, plan, dialect)


def _all_slots(parent: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    every = dialect.add(parent, "and")
    for slot in plan.slots:
        _slot_right(every, plan, dialect, slot=slot)


def _add_mapped(condition: etree._Element, dialect: Dialect) -> etree._Element:
    """The branch for any answer at all, in which the score is what the mapping of the response adds up to.

    No answer is no value, which mappings of the standard take for nothing, but some platforms trip over.
    """
    branch = dialect.add(condition, "responseIf")
    dialect.add(dialect.add(dialect.add(branch, "not"), "isNull"), "variable", identifier=RESPONSE)
    dialect.add(dialect.add(branch, "setOutcomeValue", identifier=SCORE), "mapResponse", identifier=RESPONSE)
    return branch


def _mapped(parent: etree._Element, _: ItemPlan, dialect: Dialect) -> None:
    _add_mapped(dialect.add(parent, "responseCondition"), dialect)


def _slot_by_slot(parent: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    for slot in plan.slots:
        branch = dialect.add(dialect.add(parent, "responseCondition"), "responseIf")
        _slot_right(branch, plan, dialect, slot=slot)
        _earn(branch, plan, dialect)


def _place_by_place(parent: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    for place, ident in enumerate(plan.sequence, start=1):
        branch = dialect.add(dialect.add(parent, "responseCondition"), "responseIf")
        _at_place(branch, dialect, place=place, ident=ident)
        _earn(branch, plan, dialect)


def _at_place(parent: etree._Element, dialect: Dialect, *, place: int, ident: str) -> None:
    """Whether that choice stands at that place of an order, counted from 1."""
    same = dialect.add(parent, "match")
    dialect.add(dialect.add(same, "index", n=str(place)), "variable", identifier=RESPONSE)
    dialect.add(same, "baseValue", text=ident, baseType="identifier")


def _add_whole(parent: etree._Element, plan: ItemPlan, dialect: Dialect, *, filled: tuple[str, ...]) -> None:
    """Whether the whole answer is this one."""
    every = dialect.add(parent, "and")
    for place, ident in enumerate(filled, start=1):
        if plan.slots:
            _filled(every, plan, dialect, slot=plan.slots[place - 1], ident=ident)
        else:
            _at_place(every, dialect, place=place, ident=ident)


# Whether all of an answer is right, where comparing it with the right one does not tell; what parts of it add up to.
_ALL_RIGHT: dict[Interaction, Rule] = {"gaps": _all_gaps, "inline": _all_slots}
_PARTS: dict[Interaction, Rule] = {
    "several": _mapped,
    "gaps": _mapped,
    "inline": _slot_by_slot,
    "order": _place_by_place,
}


def _slot_right(parent: etree._Element, plan: ItemPlan, dialect: Dialect, *, slot: WordedSlot) -> None:
    """Whether one of the slot's keys is in it."""
    holder = dialect.add(parent, "or") if len(slot.keys) > 1 else parent
    for ident in slot.keys:
        _filled(holder, plan, dialect, slot=slot, ident=ident)


def _filled(parent: etree._Element, plan: ItemPlan, dialect: Dialect, *, slot: WordedSlot, ident: str) -> None:
    """Whether that choice is in the slot."""
    if plan.interaction == "gaps":
        inside = dialect.add(parent, "member")
        dialect.add(inside, "baseValue", text=f"{ident} {slot.ident}", baseType="directedPair")
        dialect.add(inside, "variable", identifier=RESPONSE)
    else:
        same = dialect.add(parent, "match")
        dialect.add(same, "variable", identifier=response_of(slot))
        dialect.add(same, "baseValue", text=ident, baseType="identifier")


def _earn(parent: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    total = dialect.add(dialect.add(parent, "setOutcomeValue", identifier=SCORE), "sum")
    dialect.add(total, "variable", identifier=SCORE)
    dialect.add(total, "baseValue", text=decimal(plan.share), baseType="float")


def _set(parent: etree._Element, dialect: Dialect, outcome: str, *, base: str, value: str) -> None:
    made = dialect.add(parent, "setOutcomeValue", identifier=outcome)
    dialect.add(made, "baseValue", text=value, baseType=base)
