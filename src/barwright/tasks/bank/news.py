"""What a colleague's bank would bring to ours, before the two are merged: nothing is written."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.bank.states import STATES, State, state_of
from barwright.errors import BankError
from barwright.tasks.bank.files import entries_of
from barwright.tasks.saying import counted

MOST_ITEMS = 200_000


@dataclass(frozen=True, slots=True)
class News:
    """How many items of other banks are new to ours, how many more records those have that it knows, and faults.

    `idents`: of the new items. `retired`: how many that ours may use would be retired.
    """

    total: int
    idents: tuple[str, ...]
    told_more: int
    records: int
    retired: int
    faults: tuple[str, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """What would come, in words."""
        known = self.total - len(self.idents)
        lines = [f"{counted(self.total, 'item')}: {len(self.idents):,} new, {known:,} that the bank has already."]
        if self.told_more:
            lines.append(f"{counted(self.records, 'new remark')} about {counted(self.told_more, 'item')} that it has.")
        if self.retired:
            lines.append(
                f"{counted(self.retired, 'item')} that it may use would be retired, since a colleague retired them."
            )
        return tuple(lines)


def news(bank: Path, others: Sequence[Path]) -> News:
    """What others would bring to a bank; BankError for one that cannot be read, as `merge`."""
    ours = {}
    with entries_of(bank) as (entries, faults):
        for entry in entries:
            ours[entry.id] = (state_of(entry.records), entry.records)
            if len(ours) > MOST_ITEMS:
                raise BankError(f"{bank}: has over {MOST_ITEMS:,} items: merge without looking first")
    told = list(faults.told)
    new, more, records, retired, total = [], 0, 0, 0, set[str]()
    for other in others:
        with entries_of(other) as (entries, theirs):
            for entry in entries:
                total.add(entry.id)
                if entry.id not in ours:
                    new.append(entry.id)
                    continue
                state, known = ours[entry.id]
                fresh = [pair for pair in entry.records if pair not in known]
                more, records = more + bool(fresh), records + len(fresh)
                retired += _retires(state, (*known, *fresh))
        told += theirs.told
    return News(len(total), tuple(dict.fromkeys(new)), more, records, retired, tuple(told))


def _retires(before: State, records: tuple[tuple[str, str], ...]) -> bool:
    return before != STATES[2] and state_of(tuple(sorted(records))) == STATES[2]
