"""What a student sees of an item in QTI 2.2 and 3.0: stem and figures, then the interaction.

Sources: the schemas of QTI 2.2.4 and 3.0 for what may stand where.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from lxml import etree

from barwright.items.item import Interaction
from barwright.qti.package_content import Image, Option, ShownItem
from barwright.qti.v2and3.dialect import Dialect
from barwright.qti.v2and3.item_plan import RESPONSE, response_of
from barwright.qti.v2and3.style_sheet import (
    CHOICE,
    FIGURE,
    LINE,
    OPTION,
    ROW,
    figures_shown,
)
from barwright.qti.xml import (
    LANG,
    child,
    set_text,
)
from barwright.wording.side_by_side import Said
from barwright.wording.worded import WordedSlot

ENTRY_LENGTH = "40"  # characters; the same for every entry, so that it tells nothing of the answer


@dataclass(frozen=True, slots=True)
class Page:
    """A question, how it is spelled, and the ids of its figures' catalogs, if the dialect has any."""

    question: ShownItem
    dialect: Dialect
    catalogs: Mapping[Image, str]


def page_of(question: ShownItem, dialect: Dialect) -> Page:
    """The page of a question; each different figure gets one catalog."""
    drawn: tuple[Image, ...] = ()
    if dialect.catalogs:
        drawn = figures_shown(question)
    return Page(question, dialect, {image: f"figure_{n}" for n, image in enumerate(drawn, start=1)})


def add_body(item: etree._Element, page: Page) -> None:
    """Adds the `itemBody`; the interaction comes last."""
    body = page.dialect.add(item, "itemBody")
    for block in page.question.stem:
        if isinstance(block, Image):
            _add_image(page.dialect.add(body, "p"), block, page)
        else:
            add_paragraph(body, block, page.dialect)
    _ADDERS[page.question.item.interaction](body, page)


def add_paragraph(holder: etree._Element, said: str | Said, dialect: Dialect) -> None:
    """Adds a text as a paragraph, with its language where that is another than the one around."""
    text, language = (said, "") if isinstance(said, str) else (said.text, said.language)
    made = dialect.add(holder, "p")
    set_text(made, text)
    if language:
        made.set(LANG, language)


def add_catalogs(item: etree._Element, page: Page) -> None:
    """Adds for each figure a catalog that offers its description to be read aloud and to be read at leisure."""
    if not page.catalogs:
        return
    holder = page.dialect.add(item, "catalogInfo")
    for image, ident in page.catalogs.items():
        catalog = page.dialect.add(holder, "catalog", id=ident)
        for support in ("spoken", "long-description"):
            card = page.dialect.add(catalog, "card", support=support)
            set_text(page.dialect.add(page.dialect.add(card, "htmlContent"), "p"), image.alt)


def _choice(body: etree._Element, page: Page, *, most: str) -> None:
    held = _interaction(body, "choiceInteraction", page, maxChoices=most)
    _add_simple_choices(held, page)


def _order(body: etree._Element, page: Page) -> None:
    _add_simple_choices(_interaction(body, "orderInteraction", page), page)


def _entry(body: etree._Element, page: Page) -> None:
    add, look = page.dialect.add, page.dialect.looks.get("entry", {})
    line = add(body, "p")
    add(line, "textEntryInteraction", responseIdentifier=RESPONSE, expectedLength=ENTRY_LENGTH, **look)


def _gaps(body: etree._Element, page: Page) -> None:
    """The choices to drag, then the row; each may be dragged as often as one likes, so that counting tells nothing."""
    add = page.dialect.add
    held = _interaction(body, "gapMatchInteraction", page, maxAssociations=str(len(page.question.slots)))
    for option in page.question.options:
        ident = option.choice.ident
        if option.image is None:
            add(held, "gapText", text=option.choice.text, identifier=ident, matchMax="0")
        else:
            _add_picture_gap(held, option, option.image, page)
    row = add(held, "p", **{"class": LINE})
    for piece in page.question.pieces:
        if isinstance(piece, Image):
            _add_image(row, piece, page)
        else:
            offered = {"matchGroup": " ".join(piece.options)} if piece.options else {}
            add(row, "gap", identifier=piece.ident, **offered)


def _add_picture_gap(held: etree._Element, option: Option, image: Image, page: Page) -> None:
    named = {"identifier": option.choice.ident, "matchMax": "0", "class": CHOICE}
    if page.dialect.picture_gap == "gapText":
        made = page.dialect.add(held, "gapText", text=_label(option), **named)
        _add_image(made, image, page)
        return
    label = {"objectLabel": option.choice.label} if option.choice.label else {}
    made = page.dialect.add(held, page.dialect.picture_gap, **named, **label)
    size = {"width": str(image.width_px), "height": str(image.height_px), "class": FIGURE}
    # What stands in an `object` serves where the picture cannot be shown: its alternative text.
    page.dialect.add(made, "object", text=image.alt, data=_source(image), type="image/png", **size)


def _inline(body: etree._Element, page: Page) -> None:
    """A row of cells, in each a figure and the drop-downs under it: so reading aloud keeps them together."""
    add = page.dialect.add
    row = add(add(add(body, "table", **{"class": ROW}), "tbody"), "tr")
    cell = None
    for piece in page.question.pieces:
        if cell is None or isinstance(piece, Image):
            cell = add(row, "td")
        line = add(cell, "p")
        if isinstance(piece, Image):
            _add_image(line, piece, page)
        else:
            _add_drop_down(line, piece, page)


def _add_drop_down(line: etree._Element, slot: WordedSlot, page: Page) -> None:
    add, question = page.dialect.add, page.question
    look, shuffled = page.dialect.looks.get("inline", {}), _truth(question.shuffled)
    held = add(line, "inlineChoiceInteraction", responseIdentifier=response_of(slot), shuffle=shuffled, **look)
    for option in question.options:
        choice = option.choice
        if not slot.options or choice.ident in slot.options:
            assert option.image is None, f"choice {choice.ident!r} is a picture, which no drop-down can show"
            add(held, "inlineChoice", text=choice.text, identifier=choice.ident, **_place(page))


def _interaction(body: etree._Element, name: str, page: Page, **attributes: str) -> etree._Element:
    question = page.question
    look, shuffled = page.dialect.looks.get(question.item.interaction, {}), _truth(question.shuffled)
    return page.dialect.add(body, name, responseIdentifier=RESPONSE, shuffle=shuffled, **attributes, **look)


def _add_simple_choices(held: etree._Element, page: Page) -> None:
    for option in page.question.options:
        _add_simple_choice(held, option, page)


def _add_simple_choice(held: etree._Element, option: Option, page: Page) -> None:
    ident, text = option.choice.ident, _label(option) if option.image else "" if option.rich else option.choice.text
    made = page.dialect.add(held, "simpleChoice", text=text, identifier=ident, **_place(page))
    if option.rich and not option.image:
        for said in option.said:
            add_paragraph(made, said, page.dialect)
    if option.image:
        _add_image(made, option.image, page, f"{FIGURE} {OPTION}")


def _label(option: Option) -> str:
    return f"{option.choice.label} " if option.choice.label else ""


def _place(page: Page) -> dict[str, str]:
    """Says of each choice of a pinned item that it stays, for platforms that shuffle whatever the item says."""
    return {"fixed": "true"} if page.question.item.pinned else {}


def _add_image(parent: etree._Element, image: Image, page: Page, look: str = FIGURE) -> None:
    # No height: a platform that makes a figure narrower keeps its shape.
    told = {"src": _source(image), "alt": image.alt, "width": str(image.width_px), "class": look}
    if image in page.catalogs:
        told["data-catalog-idref"] = page.catalogs[image]
    child(parent, page.dialect.tags["img"], attributes=told)  # HTML: no name to look up


def _source(image: Image) -> str:
    """The picture as seen from the folder of the items."""
    return f"../{image.path}"


def _truth(value: bool) -> str:
    return "true" if value else "false"


_ADDERS: dict[Interaction, Callable[[etree._Element, Page], None]] = {
    "figures": partial(_choice, most="1"),
    "texts": partial(_choice, most="1"),
    "several": partial(_choice, most="0"),  # any number
    "entry": _entry,
    "gaps": _gaps,
    "inline": _inline,
    "order": _order,
}
