"""`bank difficulty`: how hard kinds of items have proved to be, and the weights that a blueprint may take from that."""

from pathlib import Path

from barwright.bank.difficulty import WORTH, counted, fitted
from barwright.errors import BankError
from barwright.tasks.bank.show import matching
from barwright.tasks.saying import counted as numbered


def difficulty(bank: Path) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines to print, and faults of lines that cannot be read; BankError if nothing was ever counted."""
    with matching(bank, ()) as (views, faults):
        items = counted(views)
        told = faults.told
    if not items:
        raise BankError(f"{bank}: no item has counts yet: add some with barwright bank add RECORD {bank} --results")
    found = fitted(items)
    rows = [("kind", "items", "asked", "right", "expected", "taken")]
    rows += [
        (k.model, str(k.items), str(k.asked), f"{k.share:.2f}", f"{k.expected:.2f}", f"{k.shrunk:.2f}")
        for k in found.kinds
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    weights = ["", "[difficulty]", *(f"{name} = {value}" for name, value in found.weights.items())]
    about = (
        f"Kinds of items (ask, meter, measures), hardest first, from {numbered(len(items), 'item')} with counts. "
        f"Taken: the share right, drawn toward what the features let expect as by {WORTH} more students. "
        "For a blueprint:"
    )
    return (*lines, about, *weights), told
