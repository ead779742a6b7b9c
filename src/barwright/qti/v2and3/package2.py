"""A whole package of QTI 2.2 or 3.0: items, a file each, a test unless it is a bank, pictures, and the manifest.

An item is variables, body, catalogs, rules and feedback, in the order of the schemas; a test is one part, one section,
the items in order, each in a section of its own where each is to stand alone, and draws where there are variants.

Sources: Content Packaging 1.1.4 with the resource types of QTI 2.2; the schemas of QTI 2.2.4 and 3.0.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from lxml import etree

from barwright.items.item import Interaction
from barwright.qti.manifest import (
    QTI22_PACKAGE,
    QTI30_BANK,
    QTI30_PACKAGE,
    About,
    Facts,
    Packaging,
    Resource,
    manifest,
)
from barwright.qti.package_content import PackageContent, ShownItem
from barwright.qti.v2and3.body import add_body, add_catalogs, add_paragraph, page_of
from barwright.qti.v2and3.dialect import DIALECT_22, DIALECT_30, Dialect
from barwright.qti.v2and3.item_plan import GENERAL, SCORE, plan_of
from barwright.qti.v2and3.rules import add_rules
from barwright.qti.v2and3.style_sheet import RESOURCE, SHEET, figures_shown
from barwright.qti.v2and3.variables import add_variables
from barwright.qti.xml import (
    LANG,
    document,
)
from barwright.qti.zip_entries import ZipEntry
from barwright.wording.side_by_side import Said, intro_of

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
        holder = _own_page(section, run[0], dialect, number=number) if form.one_a_page else section
        _add_run(holder, run, dialect, number=number)
    total = add(add(add(root, "outcomeProcessing"), "setOutcomeValue", identifier=SCORE), "sum")
    add(total, "testVariables", variableIdentifier=SCORE)
    return document(root)


def _add_intro(section: etree._Element, content: PackageContent, dialect: Dialect) -> None:
    if not content.form.intro:
        return
    block = dialect.add(section, "rubricBlock", use="instructions", view="candidate")
    block.set(LANG, content.form.language)
    holder = dialect.add(block, "contentBody") if dialect.body else block
    for said in intro_of(content.form):
        add_paragraph(holder, said, dialect)


def _own_page(section: etree._Element, question: ShownItem, dialect: Dialect, *, number: int) -> etree._Element:
    """A section for one question: these standards know no pages, and platforms show a section on one."""
    named = {"identifier": f"page_{number}", "title": question.item.title, "visible": "true"}
    return dialect.add(section, "assessmentSection", **named)


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
        holder = dialect.add(made, "contentBody") if dialect.body else made
        for said in (Said(told.text), *told.also):
            add_paragraph(holder, said, dialect)
    return document(root)


TEST = "test.xml"
INTERACTION_TYPES: dict[Interaction, str] = {
    "figures": "choiceInteraction",
    "texts": "choiceInteraction",
    "several": "choiceInteraction",
    "entry": "textEntryInteraction",
    "gaps": "gapMatchInteraction",
    "inline": "inlineChoiceInteraction",
    "order": "orderInteraction",
}


@dataclass(frozen=True, slots=True)
class PackageEdition:
    """One standard: the language of its items, its manifest by whether it is a bank, and the end of its type names."""

    language: Dialect
    manifests: Mapping[bool, Packaging]
    version: str


EDITION_22 = PackageEdition(DIALECT_22, {False: QTI22_PACKAGE, True: QTI22_PACKAGE}, "xmlv2p2")
EDITION_30 = PackageEdition(DIALECT_30, {False: QTI30_PACKAGE, True: QTI30_BANK}, "xmlv3p0")


def package_entries(content: PackageContent, edition: PackageEdition, *, bank: bool) -> tuple[ZipEntry, ...]:
    """All files, the manifest first; a bank has no test, for there is no other kind of bank in these standards."""
    form, language = content.form, edition.language
    partial = form.credit == "per-choice"
    items = tuple(
        ZipEntry(item_path(q), item_document(q, language, language=form.language, partial=partial))
        for q in content.questions
    )
    test = () if bank else (ZipEntry(TEST, assessment_document(content, language)),)
    resources = [_item_resource(q, edition) for q in content.questions]
    if test:
        needs = tuple(r.ident for r in resources)
        resources.insert(
            0, Resource("resource_test", f"imsqti_test_{edition.version}", (TEST,), main=TEST, needs=needs)
        )
    resources += [
        Resource(_picture_ident(image.path), "webcontent", (image.path,), main=image.path) for image in content.images
    ]
    sheets = (SHEET,) if content.images else ()
    resources += [RESOURCE] * len(sheets)
    about = About(form.ident, form.called, form.language)
    return (manifest(edition.manifests[bank], resources, about=about), *test, *items, *sheets, *content.images)


def _item_resource(question: ShownItem, edition: PackageEdition) -> Resource:
    item, path = question.item, item_path(question)
    shown = figures_shown(question)
    sheet = (RESOURCE.ident,) if shown else ()
    keywords = tuple(dict.fromkeys(word for word in (item.category, *item.keywords) if word))
    count = len(question.slots) if item.interaction == "inline" else 1
    return Resource(
        f"resource_{item.ident}",
        f"imsqti_item_{edition.version}",
        (path,),
        main=path,
        needs=(*sheet, *dict.fromkeys(_picture_ident(each.path) for each in shown)),
        facts=Facts(
            item.ident, item.title, keywords, (INTERACTION_TYPES[item.interaction],) * count, bool(question.feedback)
        ),
    )


def _picture_ident(path: str) -> str:
    """The identifier of a picture's resource: an XML name."""
    return path.replace("/", "_")
