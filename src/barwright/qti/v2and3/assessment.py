"""The test of a form in QTI 2.2 and 3.0: one part, one section, the items in order, and draws where there are variants.

Source: the schemas of QTI 2.2.4 and 3.0.
"""

from lxml import etree

from barwright.qti.package_content import PackageContent, ShownItem
from barwright.qti.v2and3.dialect import Dialect
from barwright.qti.v2and3.item_plan import SCORE
from barwright.qti.xml import LANG, document

ITEMS = "items"


def item_path(question: ShownItem) -> str:
    """Where the item stands in the package."""
    return f"{ITEMS}/{question.item.ident}.xml"


def assessment_document(content: PackageContent, dialect: Dialect) -> bytes:
    """The form as a test.

    Items keep their order and may be answered in any; each is handed in on its own and once, for else feedback could
    not be shown at it. The score is the sum of the items' points.
    """
    form, add = content.form, dialect.add
    root = dialect.root("assessmentTest", {"identifier": form.ident, "title": form.called})
    bounds = {"normalMaximum": str(content.points), "normalMinimum": "0"}
    score = add(root, "outcomeDeclaration", identifier=SCORE, cardinality="single", baseType="float", **bounds)
    add(add(score, "defaultValue"), "value", text="0")
    part = add(root, "testPart", identifier="part_1", navigationMode="nonlinear", submissionMode="individual")
    shown = "true" if form.feedback else "false"
    add(part, "itemSessionControl", maxAttempts="1", showFeedback=shown)
    section = add(part, "assessmentSection", identifier="section_1", title=form.called, visible="true")
    _add_intro(section, content, dialect)
    for number, run in enumerate(content.runs, start=1):
        _add_run(section, run, dialect, number=number)
    total = add(add(add(root, "outcomeProcessing"), "setOutcomeValue", identifier=SCORE), "sum")
    add(total, "testVariables", variableIdentifier=SCORE)
    return document(root)


def _add_intro(section: etree._Element, content: PackageContent, dialect: Dialect) -> None:
    if not content.form.intro:
        return
    block = dialect.add(section, "rubricBlock", use="instructions", view="candidate")
    block.set(LANG, content.form.language)
    holder = dialect.add(block, "contentBody") if dialect.body else block
    for paragraph in content.form.intro:
        dialect.add(holder, "p", text=paragraph)


def _add_run(section: etree._Element, run: tuple[ShownItem, ...], dialect: Dialect, *, number: int) -> None:
    """One question, or the variants of one in a section that students do not see, from which each gets one."""
    holder, first = section, run[0].item
    if first.pool:
        named = {"identifier": f"pool_{number}", "title": first.title, "visible": "false"}
        holder = dialect.add(section, "assessmentSection", **named)
        dialect.add(holder, "selection", select="1")
    for question in run:
        # Results name the reference, so that it has the identifier of the item.
        dialect.add(holder, "assessmentItemRef", identifier=question.item.ident, href=item_path(question))
