"""What a bank has to offer to one blueprint: approved items that fit the class, and questions that are retired."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from random import Random

from barwright.bank.views import View
from barwright.errors import ItemError
from barwright.items.blueprint import Blueprint, taught_by
from barwright.items.judge import judged
from barwright.items.stock import Stock, question_name, question_of


@dataclass(slots=True)
class Taken:
    """The stock, and why approved items of the wanted asks were left: reason -> how many."""

    stock: Stock
    left: Counter[str] = field(default_factory=Counter)


def taken_from(views: Iterable[View], blueprint: Blueprint, *, since: str) -> Taken:
    """The stock for a blueprint: of the approved items those least used first, then by chance of the blueprint's seed.

    An item that a section had on or after the date `since`, or without a date, is not given to it again.
    """
    asks = {part.ask for part in blueprint.part}
    taught = taught_by(blueprint.elements)
    left: Counter[str] = Counter()
    found: list[tuple[int, int, View]] = []
    retired: set[str] = set()
    had: dict[str, set[str]] = {section: set() for section in blueprint.sections}
    rng = Random(f"{blueprint.seed}/bank")
    for view in views:
        if view.ask not in asks or view.state == "new":
            continue
        try:
            item = view.item
        except ItemError:
            left["cannot be read by this version"] += 1
            continue
        if view.state == "retired":
            retired.add(question_name(item.ask, question_of(item)))
        elif item.conventions != blueprint.house:
            left["were made for other conventions"] += 1
        elif judged(item, taught):
            left["show what is not taught, or are refused by the judge"] += 1
        else:
            found.append((view.uses, rng.getrandbits(32), view))
            for section in _sections(view, since) & had.keys():
                had[section].add(item.id)
    found.sort(key=lambda each: each[:2])
    items = {ask: tuple(view.item for _, _, view in found if view.ask == ask) for ask in asks}
    return Taken(Stock(items, {s: frozenset(ids) for s, ids in had.items()}, frozenset(retired)), left)


def _sections(view: View, since: str) -> set[str]:
    """The sections that had an item on or after a date; a use of which no date is known counts."""
    return {use["section"] for use in view.usages if not use["date"] or use["date"] >= since}
