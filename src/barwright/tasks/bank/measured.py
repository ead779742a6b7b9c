"""What a bank's counts say of difficulty, for the forms of a quiz: taken in by `make --bank` and by `bank take`."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from barwright.errors import BankError
from barwright.results.difficulty import fitted
from barwright.tasks.bank.difficulty import counted as counted_items
from barwright.tasks.bank.show import matching
from barwright.tasks.saying import counted


@dataclass(frozen=True, slots=True)
class Measured:
    """Weights for a plan (`Blueprint.with_measured`), a line that tells of them, and faults of lines of the bank."""

    weights: Mapping[str, int] = field(default_factory=dict)
    told: str = ""
    faults: tuple[str, ...] = ()


NOTHING = Measured()


def measured_by(bank: Path, *, wanted: bool = True) -> Measured:
    """What the counts of a bank say; nothing, or BankError where it is `wanted`, if no item has counts."""
    with matching(bank, ()) as (views, faults):
        items = counted_items(views)
        told = faults.told
    if not items and wanted:
        raise BankError(f"{bank}: no item has counts yet: add some with barwright bank add RECORD {bank} --results")
    if not items:
        return Measured(faults=told)
    asked = counted(sum(item.asked for item in items), "answer")
    line = f"Forms are kept equally hard by {asked} to {counted(len(items), 'item')} of {bank.name} as well."
    return Measured(fitted(items).measured, line, told)
