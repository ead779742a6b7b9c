"""One QTI 1.2.1 item: a frame that many items share, then its own texts, choices, conditions and feedback."""

from dataclasses import dataclass

from lxml import etree

from barwright.items.item import Interaction
from barwright.qti.package_content import (
    Block,
    Option,
    ShownItem,
    html,
    html_option,
)
from barwright.qti.v12 import scores_and_feedback
from barwright.qti.v12.material import (
    Q,
    TextType,
    labelled,
    material,
    metadata,
)
from barwright.qti.xml import (
    LANG,
    child,
    set_text,
)

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

    In a `cartridge` each item scores 0 to 100 and weighs its points, and links begin with a token for the package. In
    plain QTI 1.2 an item scores its points and links are relative to the document.
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
class ItemFrame:
    """All that makes two items alike but for their texts and typed answers; `category` only in a bank.

    `labels` are the choices as ident, whether it is right, and how it is shown; `told` which feedback an answer shows,
    `told_as` how feedback is shown: with markup where it stands in several languages.
    """

    edition: Edition
    interaction: Interaction
    points: int
    shuffled: bool
    pinned: bool
    language: str
    category: str
    banked: bool
    labels: tuple[tuple[str, bool, TextType], ...]
    told: tuple[tuple[str, str], ...]
    told_as: TextType


def add_item(parent: etree._Element, question: ShownItem, edition: Edition, *, language: str, banked: bool) -> None:
    """Adds the item; in a bank with its category, and with the language of its feedback, which nothing above tells."""
    item = question.item
    told = scores_and_feedback.told_of(question)
    frame = _frame(question, edition, told, language=language, banked=banked)
    made = _framed(parent, frame, ident=item.ident, title=item.title)
    _, presentation, processing, *feedback = made
    set_text(presentation[0][0], html(question.stem, base=edition.base, language=language))
    if item.interaction == "entry":
        scores_and_feedback.add_spellings(processing, question, dict(told), full=edition.full_score(item.points))
    else:
        for label, option in zip(presentation[1][0], question.options, strict=True):
            set_text(label[0][0], _shown(option, base=edition.base, language=language))
    for shown, each in zip(feedback, question.feedback, strict=True):
        told_in_all: tuple[Block, ...] = (each.text, *each.also)
        rich = frame.told_as == "text/html"
        set_text(shown[0][0], html(told_in_all, base=edition.base, language=language) if rich else each.text)


def _frame(
    question: ShownItem, edition: Edition, told: tuple[tuple[str, str], ...], *, language: str, banked: bool
) -> ItemFrame:
    item = question.item
    kinds: tuple[TextType, TextType] = ("text/plain", "text/html")
    ticked = () if item.interaction == "entry" else question.options
    return ItemFrame(
        edition=edition,
        interaction=item.interaction,
        points=item.points,
        shuffled=question.shuffled,
        pinned=item.pinned,
        language=language,
        category=item.category if banked else "",
        banked=banked,
        labels=tuple([(o.choice.ident, o.choice.key, kinds[o.rich]) for o in ticked]),
        told=told,
        told_as=kinds[bool(item.also)],
    )


def _shown(option: Option, *, base: str, language: str) -> str:
    if option.image is None:
        return html(option.said, base=base, language=language) if option.rich else option.choice.text
    return html_option(option.choice.label, option.image, base=base, language=language)


def _framed(parent: etree._Element, frame: ItemFrame, *, ident: str, title: str) -> etree._Element:
    """A new item without its texts and typed answers."""
    made = child(parent, f"{Q}item", attributes={"ident": ident, "title": title})
    metadata(child(made, f"{Q}itemmetadata"), _fields(frame))
    presentation = child(made, f"{Q}presentation", attributes={LANG: frame.language})
    material(presentation, "", kind="text/html")
    _add_response(presentation, frame)
    kind, full = "Decimal" if frame.edition.cartridge else "Integer", frame.edition.full_score(frame.points)
    processing = child(made, f"{Q}resprocessing")
    scores_and_feedback.add_outcome(processing, full=full, kind=kind)
    if frame.interaction != "entry":
        several, ticks = frame.interaction == "several", [(ident, key) for ident, key, _ in frame.labels]
        scores_and_feedback.add_conditions(processing, ticks, dict(frame.told), several=several, full=full)
    shown = [feedback for _, feedback in frame.told]
    scores_and_feedback.add_feedback(made, shown, kind=frame.told_as, language=frame.language if frame.banked else "")
    return made


def _fields(frame: ItemFrame) -> dict[str, str]:
    cartridge = frame.edition.cartridge
    category = {"cc_question_category" if cartridge else "qmd_topic": frame.category} if frame.category else {}
    if cartridge:
        return {"cc_profile": ITEM_PROFILES[frame.interaction], "cc_weighting": str(frame.points), **category}
    return {"qmd_maximumscore": str(frame.points), **category}


def _add_response(presentation: etree._Element, frame: ItemFrame) -> None:
    cardinality = "Multiple" if frame.interaction == "several" else "Single"
    head = {"ident": scores_and_feedback.RESPONSE, "rcardinality": cardinality}
    if frame.interaction == "entry":
        child(child(presentation, f"{Q}response_str", attributes=head), f"{Q}render_fib", attributes=ENTRY_BOX)
    else:
        response = child(presentation, f"{Q}response_lid", attributes=head)
        choices = child(response, f"{Q}render_choice", attributes={"shuffle": "Yes" if frame.shuffled else "No"})
        for ident, _, kind in frame.labels:
            label = labelled(choices, "response_label", ident=ident, text="", kind=kind)
            if frame.pinned:
                label.set("rshuffle", "No")
