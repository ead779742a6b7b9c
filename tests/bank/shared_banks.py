"""The demo department in shared/banks: two teachers of the invented Maple Hollow school, and what they have together.

Both began with the same blueprint, so many of their items are the same; each gave other sections, and made a quiz that
the other does not have. Built by the program itself, so that the files cannot drift from it.
"""

from collections.abc import Callable, Iterable, Sequence
from functools import cache
from pathlib import Path

from barwright.asks.tags import tags_of
from barwright.bank.entries import Entry, united
from barwright.bank.intake import quiz_entries
from barwright.bank.merging import bank_lines, merged
from barwright.bank.records import pairs_of, record_of
from barwright.bank.views import View
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.tasks.bank.schema import schema

SHARED = Path(__file__).parents[2] / "shared"
HALVES, EIGHTHS, SIX_EIGHT = (
    "unit-1-half-notes-and-rests.toml",
    "unit-2-eighths-and-dotted-quarters.toml",
    "unit-3-first-six-eight.toml",
)
ALDER, BIRCH = "Ms. Alder", "Mr. Birch"

Wanted = Callable[[View, int], bool]


def quiz(name: str, sections: Sequence[str], *, by: str, date: str) -> tuple[Entry, ...]:
    """The entries of a quiz from a shared blueprint, given to these sections on this date."""
    blueprint, _ = read_blueprint((SHARED / "blueprints" / name).read_text("utf-8"), name)
    forms = [made.form for made in made_forms(blueprint.model_copy(update={"sections": list(sections)}))]
    items = (placed.item for form in forms for placed in form.items)
    tags = {item.id: tags_of(item, blueprint.curriculum)["curriculum"] for item in items}
    return quiz_entries(forms, tags, made_by="barwright", by=by, date=date)


def reviewed(bank: Iterable[Entry], wanted: Wanted, verdict: str, *, by: str, date: str, text: str = "") -> list[Entry]:
    """The bank with a verdict on every wanted item; a wish gets the item and its place in the bank."""
    said = pairs_of([record_of("review", by=by, date=date, text=text, verdict=verdict)])
    return [
        united([entry, Entry(entry.id, entry.content, said)]) if wanted(View(entry), place) else entry
        for place, entry in enumerate(bank)
    ]


@cache
def alder() -> tuple[Entry, ...]:
    """Half notes and rests for three sections, eighths for two; she approves what is short, and retires one item."""
    bank: Iterable[Entry] = merged(
        [
            quiz(HALVES, ["Period 1", "Period 3", "Period 6"], by=ALDER, date="2025-09-12"),
            quiz(EIGHTHS, ["Period 1", "Period 3"], by=ALDER, date="2025-11-07"),
        ]
    )
    bank = reviewed(bank, lambda v, _: (v.feature("sounds") or 0) <= 4, "approve", by=ALDER, date="2025-09-19")
    bare = "it shows no note"
    return tuple(
        reviewed(bank, lambda v, _: v.feature("sounds") == 0, "retire", by=ALDER, date="2025-09-19", text=bare)
    )


@cache
def birch() -> tuple[Entry, ...]:
    """Alder's half notes and rests for two other sections, and six-eight; he approves every third and remarks."""
    bank: Iterable[Entry] = merged(
        [
            quiz(HALVES, ["Period 2", "Period 4"], by=BIRCH, date="2025-09-15"),
            quiz(SIX_EIGHT, ["Period 4"], by=BIRCH, date="2026-01-23"),
        ]
    )
    bank = reviewed(bank, lambda _, place: place % 3 == 0, "approve", by=BIRCH, date="2025-10-02")
    asked = 'two students asked what "fits" means'
    return tuple(
        reviewed(bank, lambda v, _: v.ask == "does-it-fit", "comment", by=BIRCH, date="2025-10-02", text=asked)
    )


def shared_files() -> dict[str, bytes]:
    """Every file of shared/banks by name."""
    banks = {"alder": alder(), "birch": birch(), "maple-hollow": tuple(merged([alder(), birch()]))}
    files = {f"{name}.jsonl": b"".join(bank_lines(bank)) for name, bank in banks.items()}
    return {**files, "bank.schema.json": schema().encode()}
