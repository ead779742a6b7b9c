"""`bank difficulty`: how hard kinds of items have proved to be, and the weights that a blueprint may take from that."""

from collections.abc import Iterable
from pathlib import Path

from barwright.bank.views import View
from barwright.errors import BankError
from barwright.items.difficulty import WEIGHTS
from barwright.results.difficulty import WORTH, Counted, fitted
from barwright.tasks.bank.show import matching
from barwright.tasks.saying import counted as numbered


def difficulty(bank: Path) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines to print, and faults of lines that cannot be read; BankError if nothing was ever counted."""
    with matching(bank, ()) as (views, faults):
        items = counted(views)
        told = faults.told
    if not items:
        raise BankError(f"{bank}: no item has counts yet: add some with barwright bank add RECORD {bank} --results")
    fit = fitted(items)
    rows = [("kind", "items", "asked", "right", "expected", "taken")]
    rows += [
        (k.model, str(k.items), str(k.asked), f"{k.share:.2f}", f"{k.expected:.2f}", f"{k.shrunk:.2f}")
        for k in fit.kinds
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    weights = ["", "[difficulty]", *(f"{name} = {value}" for name, value in fit.weights.items())]
    about = (
        f"Kinds of items (ask, meter, measures), hardest first, from {numbered(len(items), 'item')} with counts. "
        f"Taken: the share right, drawn toward what the features let expect as by {WORTH} more students. "
        "For a blueprint:"
    )
    return (*lines, about, *weights), told


def counted(views: Iterable[View]) -> tuple[Counted, ...]:
    """The items of a bank that have counts and can be read."""
    items = []
    for view in views:
        count = view.went
        numbers = {name: view.feature(name) for name in WEIGHTS}
        if count is not None and all(value is not None for value in numbers.values()):
            features = {name: value or 0 for name, value in numbers.items()}
            model = f"{view.ask} {view.meter} {view.measures}"
            items.append(Counted(model, view.ask, view.excerpt, features, count.asked, count.right))
    return tuple(items)
