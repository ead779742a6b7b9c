"""The small parts of QTI 1.2.1 that every item repeats: texts with an identifier, and metadata fields.

They are copied from patterns, which is what keeps a thousand items well under a second.
"""

from collections.abc import Mapping
from typing import Literal

from lxml import etree

from barwright.qti.xml import (
    LANG,
    QTI12,
    child,
    set_text,
)

Q = f"{{{QTI12}}}"
TextType = Literal["text/plain", "text/html"]


def material(parent: etree._Element, text: str, *, kind: TextType) -> None:
    """`material/mattext`; HTML stands in it as escaped text, since its content model has no elements."""
    child(child(parent, f"{Q}material"), f"{Q}mattext", text=text, attributes={"texttype": kind})


def labelled(
    parent: etree._Element, name: str, *, ident: str, text: str, kind: TextType, language: str = ""
) -> etree._Element:
    """An element of that name and `ident` that holds one text: a `response_label` or an `itemfeedback`.

    `language` is empty where an element above tells it.
    """
    made = child(parent, f"{Q}{name}", attributes={"ident": ident})
    material(made, "", kind=kind)
    if language:
        made[0].set(LANG, language)
    set_text(made[0][0], text)
    return made


def metadata(parent: etree._Element, fields: Mapping[str, str]) -> None:
    """`qtimetadata` with these labels and entries."""
    made = child(parent, f"{Q}qtimetadata")
    for label, entry in fields.items():
        pair = child(made, f"{Q}qtimetadatafield")
        child(pair, f"{Q}fieldlabel", text=label)
        set_text(child(pair, f"{Q}fieldentry"), entry)
