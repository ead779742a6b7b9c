"""`bank merge`: several banks become one that has all their items with all their records."""

from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path

from barwright.bank.entries import Entry
from barwright.bank.merging import bank_lines, merged
from barwright.errors import OutputError
from barwright.tasks.bank.files import entries_of, held_bank, write_whole


@dataclass(slots=True)
class Merged:
    """How many items the new bank has, and faults of lines that went over as they are."""

    items: int = 0
    faults: tuple[str, ...] = field(default=())


def merge(banks: Sequence[Path], output: Path, *, replace: bool) -> Merged:
    """Writes the union of banks; the order in which they are named makes no difference.

    The output may be one of them. OutputError if it exists and may not be replaced; BankError for a bank that cannot be
    read, or whose header is not one this version writes.
    """
    result = Merged()

    def counted(entries: Iterator[Entry]) -> Iterator[Entry]:
        for entry in entries:
            result.items += 1
            yield entry

    with held_bank(output) as real, ExitStack() as stack:
        if real.exists() and not replace:
            raise OutputError(f"{output} exists: give --replace to write it anew, or another name")
        pairs = [stack.enter_context(entries_of(path)) for path in banks]
        streams, faults = [entries for entries, _ in pairs], [each for _, each in pairs]
        lines = bank_lines(counted(merged(streams)), lambda: [raw for each in faults for raw in each.kept])
        write_whole(real, output, lines)
    result.faults = tuple(text for each in faults for text in each.told)
    return result
