"""The variables of an item in QTI 2.2 and 3.0: responses with their right answers and mappings, score and feedback.

SCORE is in points, not in shares of one: an item is worth the same in a test, in a bank and on its own, and no weight
can get lost on the way.
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from lxml import etree

from barwright.items.item import Interaction
from barwright.qti.v2and3.dialect import Dialect
from barwright.qti.v2and3.item_plan import (
    FEEDBACK,
    RESPONSE,
    SCORE,
    ItemPlan,
    decimal,
    response_of,
)

# Cardinality and base type of the response; drop-downs have a response each, all of them like a single choice.
_RESPONSES: dict[Interaction, tuple[str, str]] = {
    "figures": ("single", "identifier"),
    "texts": ("single", "identifier"),
    "several": ("multiple", "identifier"),
    "entry": ("single", "string"),
    "gaps": ("multiple", "directedPair"),
    "inline": ("single", "identifier"),
    "order": ("ordered", "identifier"),
}


def add_variables(parent: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    """Adds the response declarations, then those of SCORE and of feedback where there is some."""
    if plan.interaction == "inline":
        for slot in plan.slots:
            _add_response(parent, plan, dialect, ident=response_of(slot), right=slot.keys[:1])
    else:
        made = _add_response(parent, plan, dialect, ident=RESPONSE, right=_right(plan))
        mapping = _mapping(plan)
        if mapping:
            _add_mapping(made, plan, dialect, mapping)
    _add_outcomes(parent, plan, dialect)


def _right(plan: ItemPlan) -> tuple[str, ...]:
    """One fully right answer, value by value."""
    match plan.interaction:
        case "entry":
            return plan.keys[0].spellings[:1]
        case "gaps":
            return tuple(each[0] for each in plan.pairs)
        case "order":
            return plan.sequence
    return tuple(key.ident for key in plan.keys)


def _mapping(plan: ItemPlan) -> Mapping[str, Fraction]:
    """Points by value, where values add up: typed spellings always, ticks and gaps where parts of an answer count.

    A wrong tick costs as much as a right one earns, else ticking everything would pay.
    """
    if plan.interaction == "entry":
        return {spelling: Fraction(plan.points) for key in plan.keys for spelling in key.spellings}
    if plan.partial and plan.interaction == "several":
        return {answer.ident: plan.share if answer.key else -plan.share for answer in plan.answers}
    if plan.partial and plan.interaction == "gaps":
        return {pair: plan.share for each in plan.pairs for pair in each}
    return {}


def _add_response(
    parent: etree._Element, plan: ItemPlan, dialect: Dialect, *, ident: str, right: Iterable[str]
) -> etree._Element:
    cardinality, base = _RESPONSES[plan.interaction]
    made = dialect.add(parent, "responseDeclaration", identifier=ident, cardinality=cardinality, baseType=base)
    holder = dialect.add(made, "correctResponse")
    for value in right:
        dialect.add(holder, "value", text=value)
    return made


def _add_mapping(
    declaration: etree._Element, plan: ItemPlan, dialect: Dialect, mapping: Mapping[str, Fraction]
) -> None:
    bounds = {"defaultValue": "0", "lowerBound": "0", "upperBound": str(plan.points)}
    holder = dialect.add(declaration, "mapping", **bounds)
    # Case is the only leniency that mappings have; identifiers are compared as they are.
    lenient = {"caseSensitive": "false"} if plan.interaction == "entry" else {}
    for key, value in mapping.items():
        dialect.add(holder, "mapEntry", mapKey=key, mappedValue=decimal(value), **lenient)


def _add_outcomes(parent: etree._Element, plan: ItemPlan, dialect: Dialect) -> None:
    bounds = {"normalMaximum": str(plan.points), "normalMinimum": "0"}
    score = dialect.add(
        parent, "outcomeDeclaration", identifier=SCORE, cardinality="single", baseType="float", **bounds
    )
    dialect.add(dialect.add(score, "defaultValue"), "value", text="0")
    for outcome in dict.fromkeys(map(plan.outcome, plan.told)):
        cardinality = "multiple" if plan.interaction == "several" and outcome == FEEDBACK else "single"
        dialect.add(parent, "outcomeDeclaration", identifier=outcome, cardinality=cardinality, baseType="identifier")
