"""One QTI 1.2.1 item: a frame that many items share, then its own texts, choices, conditions and feedback."""

from dataclasses import dataclass
from functools import cache

from lxml import etree

from barwright.items.model import Interaction
from barwright.qti import v12_scoring
from barwright.qti.content import Option, Question, html, html_image
from barwright.qti.v12_material import Q, labelled, material, metadata
from barwright.qti.xml import LANG, QTI12, child, root_element, set_attribute, set_text, stamped

# Item types of the Common Cartridge profile, by interaction.
ITEM_PROFILES: dict[Interaction, str] = {
    "figures": "cc.multiple_choice.v0p1",
    "texts": "cc.multiple_choice.v0p1",
    "several": "cc.multiple_response.v0p1",
    "entry": "cc.fib.v0p1",
}
# Wide enough for the longest row, and the same for every entry, so that the box tells nothing of the answer.
ENTRY_BOX = {"fibtype": "String", "prompt": "Box", "rows": "1", "columns": "40"}


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


@dataclass(frozen=True, slots=True)
class Frame:
    """All that makes two items alike but for their texts, choices and feedback; `category` only in a bank."""

    edition: Edition
    interaction: Interaction
    points: int
    shuffled: bool
    language: str
    category: str


def add_item(parent: etree._Element, question: Question, edition: Edition, *, language: str, banked: bool) -> None:
    """Adds the item; in a bank with its category, and with the language of its feedback, which nothing above tells."""
    item = question.item
    category = item.category if banked else ""
    frame = Frame(edition, item.interaction, item.points, question.shuffled, language, category)
    made = stamped(parent, _framed(frame))
    set_attribute(made, "ident", item.ident)
    set_attribute(made, "title", item.title)
    _, presentation, processing = made
    set_text(presentation[0][0], html(question.stem, base=edition.base, language=language))
    if item.interaction != "entry":
        _add_labels(presentation[1][0], question, base=edition.base, language=language)
    v12_scoring.add_conditions(processing, question, full=edition.full_score(item.points))
    v12_scoring.add_feedback(made, question, language=language if banked else "")


def _add_labels(choices: etree._Element, question: Question, *, base: str, language: str) -> None:
    for option in question.options:
        label = _add_label(choices, option, base=base, language=language)
        if question.item.pinned:
            label.set("rshuffle", "No")


def _add_label(choices: etree._Element, option: Option, *, base: str, language: str) -> etree._Element:
    ident = option.choice.ident
    if option.image is None:
        return labelled(choices, "response_label", ident=ident, text=option.choice.text, kind="text/plain")
    picture = html_image(option.image, base=base, language=language)
    return labelled(choices, "response_label", ident=ident, text=picture, kind="text/html")


@cache
def _framed(frame: Frame) -> etree._Element:
    """The item without what is its own: metadata, empty stem and response, score variable; copied for each item."""
    root = root_element(QTI12, "pattern", attributes={})
    made = child(root, f"{Q}item", attributes={"ident": "", "title": ""})
    metadata(child(made, f"{Q}itemmetadata"), _fields(frame))
    presentation = child(made, f"{Q}presentation", attributes={LANG: frame.language})
    material(presentation, "", kind="text/html")
    _add_response(presentation, frame)
    kind = "Decimal" if frame.edition.cartridge else "Integer"
    v12_scoring.add_outcome(child(made, f"{Q}resprocessing"), full=frame.edition.full_score(frame.points), kind=kind)
    return made


def _fields(frame: Frame) -> dict[str, str]:
    cartridge = frame.edition.cartridge
    category = {"cc_question_category" if cartridge else "qmd_topic": frame.category} if frame.category else {}
    if cartridge:
        return {"cc_profile": ITEM_PROFILES[frame.interaction], "cc_weighting": str(frame.points), **category}
    return {"qmd_maximumscore": str(frame.points), **category}


def _add_response(presentation: etree._Element, frame: Frame) -> None:
    cardinality = "Multiple" if frame.interaction == "several" else "Single"
    head = {"ident": v12_scoring.RESPONSE, "rcardinality": cardinality}
    if frame.interaction == "entry":
        child(child(presentation, f"{Q}response_str", attributes=head), f"{Q}render_fib", attributes=ENTRY_BOX)
    else:
        response = child(presentation, f"{Q}response_lid", attributes=head)
        child(response, f"{Q}render_choice", attributes={"shuffle": "Yes" if frame.shuffled else "No"})
