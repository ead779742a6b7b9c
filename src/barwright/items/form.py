"""Forms: the version of a quiz that one section gets."""

from dataclasses import dataclass
from typing import Literal

from barwright.items.item import Item

ALL_SECTIONS = "All sections"  # the only form of a blueprint that names no section


CODE_SIGNS = 5


def form_code(ident: str) -> str:
    """The code that is printed on a form and its key: a few signs of its ident, which tell nothing.

    >>> form_code("f199c194c540e3427")
    '199C1'
    """
    return ident[1 : 1 + CODE_SIGNS].upper()


@dataclass(frozen=True, slots=True)
class FormItem:
    """An item in its place: `order` gives the shown order of the choices as indices into `item.choices`.

    Items of one `number` are variants in one `pool`, of which each student gets one. `keywords` are for lists of
    contents: curriculum tags, meter, elements, features of difficulty; nothing of key or misreadings.
    """

    item: Item
    order: tuple[int, ...]
    points: int
    number: int
    pool: str = ""
    keywords: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Form:
    """One section's quiz; `ident` is neutral and a hash of its content; `retake` is 0 for the quiz itself.

    `prints`: what the forms of the quiz have in common (see `Blueprint.prints`); empty where that is not known.
    `measured`: what a bank's counts said of difficulty when the quiz was made (see items/difficulty.py).
    `choice_labels`: whether picture choices have a short label beside them.
    `earlier`: 0 for the form as it is; 1 and up for those that it took the place of, which the class may have had.
    """

    title: str
    section: str
    language: str
    shuffle: bool
    feedback: bool
    items: tuple[FormItem, ...]
    ident: str
    retake: int = 0
    credit: Literal["all-or-nothing", "per-choice"] = "all-or-nothing"
    prints: tuple[tuple[str, str], ...] = ()
    choice_labels: bool = False
    earlier: int = 0
    measured: tuple[tuple[str, int], ...] = ()
