"""One item of QTI 2.2 or 3.0 as a document: variables, body, catalogs, rules, feedback, in the order of the schemas."""

from barwright.qti.package_content import ShownItem
from barwright.qti.v2and3.body import add_body, add_catalogs, page_of
from barwright.qti.v2and3.dialect import Dialect
from barwright.qti.v2and3.item_plan import GENERAL, plan_of
from barwright.qti.v2and3.rules import add_rules
from barwright.qti.v2and3.style_sheet import SHEET, figures_shown
from barwright.qti.v2and3.variables import add_variables
from barwright.qti.xml import (
    LANG,
    document,
    set_text,
)


def item_document(question: ShownItem, dialect: Dialect, *, language: str, partial: bool) -> bytes:
    """The document of one item; with `partial`, parts of an answer earn part of the points where it has parts."""
    item = question.item
    head = {"identifier": item.ident, "title": item.title, LANG: language}
    root = dialect.root("assessmentItem", head | {"adaptive": "false", "timeDependent": "false"})
    plan, page = plan_of(question, partial=partial), page_of(question, dialect)
    add_variables(root, plan, dialect)
    if figures_shown(question):
        dialect.add(root, "stylesheet", href=f"../{SHEET.path}", type="text/css")
    add_body(root, page)
    add_catalogs(root, page)
    add_rules(root, plan, dialect)
    for told in question.feedback:
        value = told.name or GENERAL
        shown = {"outcomeIdentifier": plan.outcome(value), "identifier": value, "showHide": "show"}
        made = dialect.add(root, "modalFeedback", **shown)
        set_text(dialect.add(dialect.add(made, "contentBody") if dialect.body else made, "p"), told.text)
    return document(root)
