"""Forms: the version of a quiz that one section gets."""

from dataclasses import dataclass, replace
from typing import Literal

from barwright.items.item import Item
from barwright.items.own_words import OURS, OwnWords

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
    contents: curriculum tags, meter, elements, features of difficulty; nothing of key or misreadings. `words` are the
    teacher's own for this question. `made`: what `make` put here, where the item, its points or place were changed.
    """

    item: Item
    order: tuple[int, ...]
    points: int
    number: int
    pool: str = ""
    keywords: tuple[str, ...] = ()
    words: OwnWords = OURS
    made: "FormItem | None" = None

    @property
    def as_made(self) -> "FormItem":
        """What `make` put here, in its place."""
        return self.made or replace(self, words=OURS)

    @property
    def in_our_words(self) -> "FormItem":
        """This item in its place, without any words of the teacher's."""
        return replace(self, words=OURS)


Changes = tuple[tuple[str, str, str, tuple[str, ...]], ...]
"""Texts of the class's own: language, file and id of ours that they stand for, and the texts."""


@dataclass(frozen=True, slots=True)
class Form:
    """One section's quiz; `ident` is neutral and a hash of its content; `retake` is 0 for the quiz itself.

    `prints`: what the forms of the quiz have in common (see `Blueprint.prints`); empty where that is not known.
    `measured`: what a bank's counts said of difficulty when the quiz was made (see items/difficulty.py).
    `choice_labels`: whether picture choices have a short label beside them.
    `also`: further languages that stems, notes, hints and choices in words are shown in, below those of `language`.
    `wording`: the class's own sentences in place of ours, as they were when the form was made.
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
    also: tuple[str, ...] = ()
    wording: Changes = ()
