"""QTI 1.2.1 documents: the Common Cartridge profile of it, and plain QTI 1.2, from one set of functions.

Sources: QTI 1.2.1 ASI information model and its DTD; Common Cartridge 1.1 to 1.3, profile of QTI 1.2.1.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from lxml import etree

from barwright.qti import v12_scoring
from barwright.qti.content import Content, Option, Question, html, html_image
from barwright.qti.xml import LANG, QTI12, XSI, child, document, root_element

Q = f"{{{QTI12}}}"
RESPONSE = "response"  # one response an item: the profile allows no more
# Wide enough for the longest row, and the same for every entry, so that the box tells nothing of the answer.
ENTRY_COLUMNS = "40"

# Item types of the profile, by interaction.
ITEM_PROFILES = {
    "figures": "cc.multiple_choice.v0p1",
    "texts": "cc.multiple_choice.v0p1",
    "several": "cc.multiple_response.v0p1",
    "entry": "cc.fib.v0p1",
}


@dataclass(frozen=True, slots=True)
class Edition:
    """Where the two kinds of QTI 1.2.1 differ.

    In a `cartridge` each item scores 0 to 100 and weighs its points, and links begin with a token that stands for the
    top of the package. In plain QTI 1.2 an item scores its points and links are relative to the document.
    """

    cartridge: bool
    location: str

    @property
    def base(self) -> str:
        """What stands before the path of a picture in HTML."""
        return "$IMS-CC-FILEBASE$/" if self.cartridge else ""

    def full_score(self, points: int) -> int:
        """The score of a right answer."""
        return 100 if self.cartridge else points


CARTRIDGE_EDITIONS = {
    minor: Edition(True, f"http://www.imsglobal.org/profile/cc/ccv1p{minor}/ccv1p{minor}_qtiasiv1p2p1_v1p0.xsd")
    for minor in (1, 2, 3)
}
PLAIN_EDITION = Edition(False, "http://www.imsglobal.org/xsd/ims_qtiasiv1p2p1.xsd")


def assessment_document(content: Content, edition: Edition) -> bytes:
    """The form as one assessment with one section."""
    form, root = content.form, _root(edition)
    assessment = child(
        root, f"{Q}assessment", attributes={"ident": form.ident, "title": form.title, LANG: form.language}
    )
    if edition.cartridge:
        _fields(assessment, _exam_fields(form.feedback))
    else:
        switches = {"hintswitch": "No", "solutionswitch": "No", "feedbackswitch": _yes(form.feedback)}
        child(assessment, f"{Q}assessmentcontrol", attributes=switches)
    if form.intro:
        material = child(child(child(assessment, f"{Q}presentation_material"), f"{Q}flow_mat"), f"{Q}material")
        _rich(material, html(form.intro, base=edition.base, language=form.language))
    if not edition.cartridge:
        _total(assessment, sum(item.points for item in form.items))
    section = child(assessment, f"{Q}section", attributes={"ident": "root_section"})
    for question in content.questions:
        _item(section, question, edition, language=form.language)
    return document(root)


def bank_document(content: Content, edition: Edition) -> bytes:
    """The form's items as an object bank: no order, no title, each item with its category."""
    root = _root(edition)
    bank = child(root, f"{Q}objectbank", attributes={"ident": content.form.ident})
    for question in content.questions:
        _item(bank, question, edition, language=content.form.language, banked=True)
    return document(root)


def _root(edition: Edition) -> etree._Element:
    where = {f"{{{XSI}}}schemaLocation": f"{QTI12} {edition.location}"}
    return root_element(QTI12, "questestinterop", attributes=where)


def _exam_fields(feedback: bool) -> dict[str, str]:
    """Metadata of an assessment; the first three are required by the profile."""
    return {
        "cc_profile": "cc.exam.v0p1",
        "qmd_assessmenttype": "Examination",
        "qmd_scoretype": "Percentage",
        "qmd_feedbackpermitted": _yes(feedback),
        "qmd_hintspermitted": "No",
        "qmd_solutionspermitted": "No",
    }


def _total(assessment: etree._Element, points: int) -> None:
    """How the items' scores make the score of the test: their sum."""
    processing = child(assessment, f"{Q}outcomes_processing", attributes={"scoremodel": "SumOfScores"})
    v12_scoring.outcome(processing, full=points, kind="Integer")


def _item(parent: etree._Element, question: Question, edition: Edition, *, language: str, banked: bool = False) -> None:
    item = question.item
    made = child(parent, f"{Q}item", attributes={"ident": item.ident, "title": item.title})
    _fields(child(made, f"{Q}itemmetadata"), _item_fields(question, edition, banked=banked))
    _presentation(made, question, edition, language=language)
    kind = "Decimal" if edition.cartridge else "Integer"
    v12_scoring.processing(made, question, full=edition.full_score(item.points), kind=kind)
    v12_scoring.feedback(made, question, language=language if banked else "")


def _item_fields(question: Question, edition: Edition, *, banked: bool) -> dict[str, str]:
    item = question.item
    category = {"cc_question_category" if edition.cartridge else "qmd_topic": item.category}
    if edition.cartridge:
        fields = {"cc_profile": ITEM_PROFILES[item.interaction], "cc_weighting": str(item.points)}
    else:
        fields = {"qmd_maximumscore": str(item.points)}
    return fields | (category if banked and item.category else {})


def _fields(parent: etree._Element, fields: Mapping[str, str]) -> None:
    metadata = child(parent, f"{Q}qtimetadata")
    for label, entry in fields.items():
        made = child(metadata, f"{Q}qtimetadatafield")
        child(made, f"{Q}fieldlabel", text=label)
        child(made, f"{Q}fieldentry", text=entry)


def _presentation(parent: etree._Element, question: Question, edition: Edition, *, language: str) -> None:
    presentation = child(parent, f"{Q}presentation", attributes={LANG: language})
    _rich(child(presentation, f"{Q}material"), html(question.stem, base=edition.base, language=language))
    if question.item.interaction == "entry":
        response = child(presentation, f"{Q}response_str", attributes={"ident": RESPONSE, "rcardinality": "Single"})
        box = {"fibtype": "String", "prompt": "Box", "rows": "1", "columns": ENTRY_COLUMNS}
        child(response, f"{Q}render_fib", attributes=box)
        return
    cardinality = "Multiple" if question.item.interaction == "several" else "Single"
    response = child(presentation, f"{Q}response_lid", attributes={"ident": RESPONSE, "rcardinality": cardinality})
    choices = child(response, f"{Q}render_choice", attributes={"shuffle": _yes(question.shuffled)})
    fixed = {"rshuffle": "No"} if question.item.pinned else {}
    _labels(choices, question.options, edition, language=language, fixed=fixed)


def _labels(
    parent: etree._Element, options: Iterable[Option], edition: Edition, *, language: str, fixed: Mapping[str, str]
) -> None:
    for option in options:
        label = child(parent, f"{Q}response_label", attributes={"ident": option.choice.ident, **fixed})
        material = child(label, f"{Q}material")
        if option.image is not None:
            _rich(material, html_image(option.image, base=edition.base, language=language))
        else:
            v12_scoring.plain_text(material, option.choice.text)


def _rich(material: etree._Element, markup: str) -> None:
    """HTML as text of `mattext`, escaped by the XML writer: its content model has no elements."""
    child(material, f"{Q}mattext", text=markup, attributes={"texttype": "text/html"})


def _yes(truth: bool) -> str:
    return "Yes" if truth else "No"
