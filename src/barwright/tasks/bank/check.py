"""`bank check`: every line read strictly, every id worked out anew, every item judged, every misreading run again."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from barwright.bank.checking import content_faults
from barwright.bank.reading import (
    Faults,
    LineFault,
    entries_in,
    late_lines,
)
from barwright.bank.views import View
from barwright.showing import shown
from barwright.tasks.bank.files import opened

Progress = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class Checked:
    """How many items are sound, and what is wrong with the others, by line."""

    sound: int
    faults: tuple[str, ...]


def check(bank: Path, *, progress: Progress = lambda _done: None) -> Checked:
    """Everything that is wrong with a bank, with line and mend; BankError if it cannot be read at all."""
    sound, line_faults, seen = 0, list[LineFault](), set[str]()
    with opened(bank) as blocks:
        faults = Faults(str(bank))
        late = late_lines(blocks(), str(bank))
        for done, (number, entry) in enumerate(entries_in(blocks(), faults), start=1):
            texts = list(content_faults(View(entry).content))
            if entry.id in seen:
                texts.append("it stands twice: any command that writes joins its records")
            elif number in late:
                texts.append("it is out of order, since lines are sorted by id: any command that writes sorts them")
            seen.add(entry.id)
            line_faults += [LineFault(number, f"item {shown(entry.id)}: {text}") for text in texts]
            sound += not texts
            progress(done)
    return Checked(sound, Faults(str(bank), [*faults.found, *line_faults]).told)
