"""QTI 1.2.1 documents: the Common Cartridge profile of it, and plain QTI 1.2, from one set of functions.

Sources: QTI 1.2.1 ASI information model and its DTD; Common Cartridge 1.1 to 1.3, profile of QTI 1.2.1.
"""

from lxml import etree

from barwright.qti.package_content import PackageContent, html
from barwright.qti.v12 import scores_and_feedback
from barwright.qti.v12.item12 import Edition, add_item
from barwright.qti.v12.material import Q, material, metadata
from barwright.qti.xml import (
    LANG,
    QTI12,
    XSI,
    child,
    document,
    root_element,
)
from barwright.wording.side_by_side import intro_of

CARTRIDGE_EDITIONS = {
    minor: Edition(True, f"http://www.imsglobal.org/profile/cc/ccv1p{minor}/ccv1p{minor}_qtiasiv1p2p1_v1p0.xsd")
    for minor in (1, 2, 3)
}
PLAIN_EDITION = Edition(False, "http://www.imsglobal.org/xsd/ims_qtiasiv1p2p1.xsd")


def assessment_document(content: PackageContent, edition: Edition) -> bytes:
    """The form as one assessment with one section."""
    form, root = content.form, _root(edition)
    head = {"ident": form.ident, "title": form.called, LANG: form.language}
    assessment = child(root, f"{Q}assessment", attributes=head)
    if edition.cartridge:
        metadata(assessment, _exam_fields(form.feedback))
    else:
        switches = {"hintswitch": "No", "solutionswitch": "No", "feedbackswitch": _yes(form.feedback)}
        child(assessment, f"{Q}assessmentcontrol", attributes=switches)
    if form.intro:
        flow = child(child(assessment, f"{Q}presentation_material"), f"{Q}flow_mat")
        material(flow, html(intro_of(form), base=edition.base, language=form.language), kind="text/html")
    if not edition.cartridge:
        sums = child(assessment, f"{Q}outcomes_processing", attributes={"scoremodel": "SumOfScores"})
        scores_and_feedback.add_outcome(sums, full=content.points, kind="Integer")
    section = child(assessment, f"{Q}section", attributes={"ident": "root_section"})
    for number, run in enumerate(content.runs, start=1):
        holder = _pool(section, f"pool_{number}") if run[0].item.pool else section
        for question in run:
            add_item(holder, question, edition, language=form.language, banked=False)
    return document(root)


def _pool(section: etree._Element, ident: str) -> etree._Element:
    """A section within the section, from whose items each student gets one; only plain QTI 1.2 has such a thing."""
    pool = child(section, f"{Q}section", attributes={"ident": ident})
    selection = child(child(pool, f"{Q}selection_ordering"), f"{Q}selection")
    child(selection, f"{Q}selection_number", text="1")
    return pool


def bank_document(content: PackageContent, edition: Edition) -> bytes:
    """The form's items as an object bank: no order, no title, each item with its category."""
    root = _root(edition)
    bank = child(root, f"{Q}objectbank", attributes={"ident": content.form.ident})
    for question in content.questions:
        add_item(bank, question, edition, language=content.form.language, banked=True)
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


def _yes(truth: bool) -> str:
    return "Yes" if truth else "No"
