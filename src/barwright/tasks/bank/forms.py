"""Items of a bank as forms: one for each set of conventions, since these decide how a figure is drawn."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from random import Random

from barwright.bank.views import View
from barwright.errors import BankError, ItemError
from barwright.forms.assembly import form_ident
from barwright.forms.orders import shown_orders
from barwright.items.form import Changes, Form, FormItem
from barwright.rhythm.conventions import CONVENTION_NAMES, Conventions
from barwright.rhythm.excerpt import Figure
from barwright.showing import shown
from barwright.tasks.packing import drawn_pictures
from barwright.tasks.progress import Progress, silent
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import Picture, WordedForm

USUAL = "Usual conventions"


@dataclass(frozen=True, slots=True)
class BankForm:
    """The items of one set of conventions: as seen in the bank, in words, and drawn. They have the same order."""

    conventions: str
    views: tuple[View, ...]
    worded: WordedForm
    pictures: dict[Figure, Picture]


def bank_forms(
    title: str,
    views: Iterable[View],
    *,
    language: str,
    music_font: str,
    wording: Changes = (),
    check: Callable[[WordedForm], None] = lambda _form: None,
    progress: Progress = silent,
) -> tuple[BankForm, ...]:
    """Forms of all the items, the usual conventions first; BankError naming an item that this version cannot read.

    `wording`: sentences of the department's own. `check` may refuse a form before any picture is drawn.
    """
    by_conventions: dict[Conventions, list[View]] = {}
    for view in views:
        try:
            by_conventions.setdefault(view.item.conventions, []).append(view)
        except ItemError as error:
            raise BankError(
                f"item {shown(view.entry.id)}: {error}: leave it out by --where, or delete its line"
            ) from error
    named = sorted((_name_of(conventions), conventions) for conventions in by_conventions)
    named.sort(key=lambda each: each[0] != USUAL)
    forms = [_form(title, name, by_conventions[conventions], language, wording) for name, conventions in named]
    for form in forms:
        check(form)
    made = []
    for (name, conventions), form in zip(named, forms, strict=True):
        pictures = drawn_pictures([form], conventions, music_font, progress=progress)
        made.append(BankForm(name, tuple(by_conventions[conventions]), form, pictures))
    return tuple(made)


def _name_of(conventions: Conventions) -> str:
    usual = Conventions()
    values = {name: getattr(conventions, name) for name in CONVENTION_NAMES}
    return ", ".join(f"{k} = {_written(v)}" for k, v in values.items() if v != getattr(usual, k)) or USUAL


def _written(value: object) -> str:
    """The value of a convention as a blueprint has it, without quotation marks."""
    return str(value).lower() if isinstance(value, bool) else str(value)


def _form(title: str, name: str, views: Sequence[View], language: str, wording: Changes) -> WordedForm:
    items = [view.item for view in views]
    orders = shown_orders(items, Random(title))
    placed = tuple(FormItem(i, order, 1, n) for n, (i, order) in enumerate(zip(items, orders, strict=True), start=1))
    form = Form(title, name, language, True, True, placed, form_ident(title, placed), choice_labels=True)
    return worded_form(replace(form, wording=wording))
