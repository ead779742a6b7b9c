"""`bank export`: items of a bank as question banks for learning platforms."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.bank.table import found_of
from barwright.blueprint.names import folder_name
from barwright.errors import BankError
from barwright.qti import (
    WRITERS,
    check_expressible,
    written,
    zipped,
)
from barwright.tasks.bank.forms import BankForm, bank_forms
from barwright.tasks.bank.show import matching
from barwright.tasks.folders import HeldFolder, changing
from barwright.tasks.form_folders import RECORD
from barwright.tasks.own_wording import bank_wording
from barwright.tasks.packing import USUAL_STANDARDS, Order
from barwright.tasks.paths import folder_in
from barwright.tasks.progress import Progress, silent
from barwright.wording.worded import WordedForm

MOST_ITEMS = 2000
NOT_RETIRED = "review!=retired"


@dataclass(frozen=True, slots=True)
class Exported:
    """What was written where, how many items, faults of lines that cannot be read, and old packages taken away."""

    folder: Path
    packages: tuple[str, ...]
    items: int
    faults: tuple[str, ...]
    removed: tuple[str, ...] = ()


def export(bank: Path, order: Order, *, where: Sequence[str], language: str, progress: Progress = silent) -> Exported:
    """Writes a folder with a question bank for each standard, and for each set of conventions where there are several.

    Retired items are left out. BankError if no item is left or too many are, OutputError if the folder exists,
    StandardError if a standard cannot express an item.
    """
    with changing(folder_in(order.out, folder_name(bank.stem) or "bank")) as held:
        held.check_free(replace=order.replace)
        return _exported(held, bank, order, where=where, language=language, progress=progress)


def _exported(
    held: HeldFolder, bank: Path, order: Order, *, where: Sequence[str], language: str, progress: Progress
) -> Exported:
    with matching(bank, (*where, NOT_RETIRED)) as (views, faults):
        listing = found_of(views, most=MOST_ITEMS)
        told = faults.told
    items = listing.total
    if not 0 < items <= MOST_ITEMS:
        raise BankError(
            f"{bank}: {items:,} items meet these conditions and are not retired: a package has 1 to {MOST_ITEMS:,}; "
            "narrow or widen them by --where"
        )
    standards = order.standards or USUAL_STANDARDS

    def check(form: WordedForm) -> None:
        for standard in standards:
            check_expressible(form, standard=standard, shape="bank")

    forms = bank_forms(
        bank.stem,
        listing.views,
        language=language,
        music_font=order.music_font,
        wording=bank_wording(bank, language),
        check=check,
        progress=progress,
    )
    files: dict[str, bytes] = {}
    for form in forms:
        for standard in standards:
            entries = written(form.worded, form.pictures, standard=standard, shape="bank")
            files[f"{_folder(form, forms)}{WRITERS[standard].files['bank']}"] = zipped(entries)
    gone = tuple(sorted(_packages(held.path) - files.keys()))
    held.write(files, gone=gone)
    return Exported(held.path, tuple(files), items, told, gone)


def _packages(folder: Path) -> set[str]:
    """The question banks in the folder and in the folders of its conventions, as paths in it."""
    names = [writer.files["bank"] for writer in WRITERS.values()]
    places = ("",) if (folder / RECORD).exists() else ("", "*/")  # a quiz has its own in the folders of its sections
    paths = (path for place in places for name in names for path in folder.glob(place + name))
    return {path.relative_to(folder).as_posix() for path in paths}


def _folder(form: BankForm, forms: Sequence[BankForm]) -> str:
    return f"{folder_name(form.conventions)}/" if len(forms) > 1 else ""
