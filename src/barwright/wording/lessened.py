"""A form in words with fewer choices or items: what stays keeps its number, its letter and its identifiers, so answers
to it are read as answers to the form, and a class can talk about question 7 and choice C whoever has which version.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from barwright.wording.worded import WordedForm, WordedItem, WordedSlot

Left = Mapping[str, Collection[str]]
"""For each item, by its id, the idents of the choices that stay."""


def with_numbers(form: WordedForm, numbers: Sequence[int]) -> WordedForm:
    """The form whose items have these numbers, item by item, whatever is left out before them."""
    return replace(form, items=tuple(replace(i, number=n) for i, n in zip(form.items, numbers, strict=True)))


def with_choices(form: WordedForm, left: Left) -> WordedForm:
    """Each item with the choices that stay; in every language that it is shown in."""
    return replace(form, items=tuple(_with_choices(item, left.get(item.item_id)) for item in form.items))


def _with_choices(item: WordedItem, left: Collection[str] | None) -> WordedItem:
    if left is None or all(choice.ident in left for choice in item.choices):
        return item
    also = tuple((code, _with_choices(other, left)) for code, other in item.also)
    pieces = tuple(_slot(piece, left) if isinstance(piece, WordedSlot) else piece for piece in item.pieces)
    choices = tuple(choice for choice in item.choices if choice.ident in left)
    return replace(item, choices=choices, pieces=pieces, also=also)


def _slot(slot: WordedSlot, left: Collection[str]) -> WordedSlot:
    return replace(slot, options=tuple(option for option in slot.options if option in left))
