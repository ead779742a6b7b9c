"""One item of QTI 2.2 or 3.0 as a document: variables, body, catalogs, rules, feedback, in the order of the schemas."""

from copy import copy
from functools import cache

from lxml import etree

from barwright.qti.package_content import ShownItem
from barwright.qti.v2and3.body import add_body, add_catalogs, page_of
from barwright.qti.v2and3.dialect import Dialect
from barwright.qti.v2and3.item_plan import GENERAL, ItemPlan, plan_of
from barwright.qti.v2and3.rules import add_rules
from barwright.qti.v2and3.style_sheet import SHEET, figures_shown
from barwright.qti.v2and3.variables import add_variables
from barwright.qti.xml import (
    LANG,
    document,
    set_attribute,
    set_text,
    stamped,
)


def item_document(question: ShownItem, dialect: Dialect, *, language: str, partial: bool) -> bytes:
    """The document of one item; with `partial`, parts of an answer earn part of the points where it has parts."""
    item = question.item
    root = copy(_empty(dialect, language))
    set_attribute(root, "identifier", item.ident)
    set_attribute(root, "title", item.title)
    plan, page = plan_of(question, partial=partial), page_of(question, dialect)
    # Typed answers are all different, so that keeping their variables and rules would only fill the memory.
    kept = None if item.interaction == "entry" else _kept(plan, dialect)
    if kept is None:
        add_variables(root, plan, dialect)
    else:
        root.extend(copy(kept[0]))
    if figures_shown(question):
        dialect.add(root, "stylesheet", href=f"../{SHEET.path}", type="text/css")
    add_body(root, page)
    add_catalogs(root, page)
    if kept is None:
        add_rules(root, plan, dialect)
    else:
        root.extend(copy(kept[1]))
    for told in question.feedback:
        value = told.name or GENERAL
        made = stamped(root, _feedback(plan.outcome(value), value, dialect))
        set_text(next(made.iter(dialect.tags["p"])), told.text)
    return document(root)


@cache
def _empty(dialect: Dialect, language: str) -> etree._Element:
    head = {"identifier": "", "title": "", LANG: language, "adaptive": "false", "timeDependent": "false"}
    return dialect.root("assessmentItem", head)


@cache
def _kept(plan: ItemPlan, dialect: Dialect) -> tuple[etree._Element, etree._Element]:
    """The variables and the rules, each in a holder of its own."""
    variables, rules = dialect.root("assessmentItem", {}), dialect.root("assessmentItem", {})
    add_variables(variables, plan, dialect)
    add_rules(rules, plan, dialect)
    return variables, rules


@cache
def _feedback(outcome: str, value: str, dialect: Dialect) -> etree._Element:
    holder = dialect.root("assessmentItem", {})
    made = dialect.add(holder, "modalFeedback", outcomeIdentifier=outcome, identifier=value, showHide="show")
    dialect.add(dialect.add(made, "contentBody") if dialect.body else made, "p")
    return made
