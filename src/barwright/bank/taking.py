"""What a bank has to offer to one blueprint: approved items that fit the class, and questions that are retired."""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from random import Random

from barwright.bank.views import View
from barwright.blueprint.blueprint import Blueprint, taught_by
from barwright.errors import ItemError
from barwright.forms.ready_items import Stock, question_name, question_of
from barwright.items.item import Item
from barwright.items.taught import Taught
from barwright.judge import judged


@dataclass(slots=True)
class Taken:
    """The stock, and why approved items of the wanted asks were left: reason -> how many."""

    stock: Stock
    left: Counter[str] = field(default_factory=Counter)


def taken_from(
    views: Iterable[View], blueprint: Blueprint, *, since: str, wanted: Callable[[View], bool] = lambda _view: True
) -> Taken:
    """The stock for a blueprint: of the approved items those least used first, then by chance of the blueprint's seed.

    A question that a section had on or after the date `since`, or without a date, is not given to it again, whatever
    was said of its item; nor is a retired one. Approved items are taken if they are `wanted`.
    """
    asks = {part.ask for part in blueprint.part}
    taught = taught_by(blueprint.elements)
    left: Counter[str] = Counter()
    usable: list[tuple[int, int, View]] = []
    retired: set[str] = set()
    had: dict[str, set[str]] = {section: set() for section in blueprint.sections}
    rng = Random(f"{blueprint.seed}/bank")
    for view in views:
        sections = _sections(view, since) & had.keys() if view.ask in asks else ()
        approved = view.state == "approved" and wanted(view)
        if view.ask not in asks or not (sections or approved or view.state == "retired"):
            continue
        try:
            item = view.item
        except ItemError:
            left["cannot be read by this version"] += approved
            continue
        name = question_name(item.ask, question_of(item))
        for section in sections:
            had[section].add(name)
        if view.state == "retired":
            retired.add(name)
        elif approved and (why := _unfit(item, blueprint, taught)):
            left[why] += 1
        elif approved:
            usable.append((view.uses, rng.getrandbits(32), view))
    usable.sort(key=lambda each: each[:2])
    items = {ask: tuple(view.item for _, _, view in usable if view.ask == ask) for ask in asks}
    return Taken(Stock(items, {s: frozenset(names) for s, names in had.items()}, frozenset(retired)), +left)


def _unfit(item: Item, blueprint: Blueprint, taught: Taught) -> str:
    """Why an approved item is nothing for a class; empty if it fits."""
    if item.conventions != blueprint.all_conventions:
        return "were made for other conventions"
    return "show what is not taught, or are refused by the judge" if judged(item, taught) else ""


def _sections(view: View, since: str) -> set[str]:
    """The sections that had an item on or after a date; a use of which no date is known counts."""
    return {use["section"] for use in view.usages if not use["date"] or use["date"] >= since}
