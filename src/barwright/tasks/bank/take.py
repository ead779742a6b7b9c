"""`bank take`: a quiz from a blueprint, filled from approved items of a bank first, then with new ones."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.bank.records import checked_date
from barwright.bank.taking import taken_from
from barwright.tasks.bank.measured import measured_by
from barwright.tasks.bank.show import checked_filter, matching
from barwright.tasks.folders import changing
from barwright.tasks.make import (
    Made,
    folder_of,
    made_in,
    sound_blueprint,
)
from barwright.tasks.packing import Order
from barwright.tasks.progress import Progress, silent
from barwright.tasks.saying import counted
from barwright.tasks.summary import judgements, summary


@dataclass(frozen=True, slots=True)
class TakenQuiz:
    """The quiz, and what was taken.

    `from_bank`: by section, how many items are the bank's. `left`: why approved items were left, how many. `faults`:
    of lines that cannot be read.
    """

    made: Made
    from_bank: dict[str, int]
    left: Counter[str]
    faults: tuple[str, ...]


def take(
    bank: Path,
    blueprint: Path,
    order: Order,
    *,
    where: Sequence[str],
    since: str,
    progress: Progress = silent,
) -> TakenQuiz:
    """Writes the same folder as `make`. Questions that a section had on or after `since` are not given to it again.

    Nor are retired ones to anybody, whatever the conditions. The bank's counts say how hard items are. BankError for a
    date that is none; else as `make`.
    """
    holds = checked_filter(bank, where)
    with changing(folder_of(blueprint, order)) as held:
        plan, _ = sound_blueprint(blueprint, order, progress=progress)
        with matching(bank, ()) as (views, faults):
            taken = taken_from(views, plan, since=checked_date(since), wanted=lambda view: holds(view.entry))
            told = faults.told
        measured = measured_by(bank, wanted=False)
        made = made_in(held, blueprint, order, progress=progress, stock=taken.stock, measured=measured)
    ids = {item.id for items in taken.stock.items.values() for item in items}
    used = {each.form.section: sum(p.item.id in ids for p in each.form.items) for each in made.forms}
    return TakenQuiz(made, used, taken.left, told)


def taken_lines(taken: TakenQuiz, *, verbose: bool = False) -> tuple[str, ...]:
    """What make says of the forms, how many items of each are the bank's, and why approved items were left."""
    lines = [*summary(taken.made), *(judgements(taken.made) if verbose else ())]
    for form in taken.made.forms:
        section = form.form.section
        lines.append(
            f"{section}: {taken.from_bank[section]} of {counted(len(form.form.items), 'item')} are from the bank."
        )
    lines += [
        f"Not for this class: {counted(count, 'approved item')} {reason}." for reason, count in taken.left.most_common()
    ]
    return tuple(lines)
