"""`bank show`: the items of a bank that meet some conditions, as a table or as a page with figures."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from barwright.bank.entries import Entry
from barwright.bank.reading import (
    Blocks,
    DisorderError,
    Faults,
    ordered_entries,
    rising_entries,
)
from barwright.bank.table import (
    Found,
    found_of,
    summary_lines,
    table_lines,
)
from barwright.bank.views import View
from barwright.bank.where import Filter, filter_of, names_asked, unknown_name
from barwright.errors import BankError
from barwright.tasks.bank.aside import aside_for
from barwright.tasks.bank.files import entries_of, opened
from barwright.tasks.progress import Progress, silent

if TYPE_CHECKING:
    from barwright.pages import Note

__all__ = ["Found", "matching", "note_of", "show", "show_page", "table_lines"]


def checked_filter(bank: Path, where: Sequence[str]) -> Filter:
    """Whether an entry meets all conditions; BankError for one that is not understood, or that names what no item has.

    A bank is read once more only where a condition names something.
    """
    holds, asked = filter_of(where), names_asked(where)
    if asked:
        with entries_of(bank) as (entries, _):
            fault = unknown_name(asked, entries)
        if fault:
            raise BankError(f"{bank}: {fault}")
    return holds


@contextmanager
def matching(bank: Path, where: Sequence[str]) -> Iterator[tuple[Iterator[View], Faults]]:
    """The items that meet all conditions, sorted by id, and the faults that gather while they are read."""
    holds = checked_filter(bank, where)
    with entries_of(bank) as (entries, faults):
        yield map(View, filter(holds, entries)), faults


def show(bank: Path, *, where: Sequence[str], most: int) -> tuple[Found, tuple[str, ...]]:
    """Up to `most` items that meet all conditions, how many there are, and the faults of lines that cannot be read."""
    holds = checked_filter(bank, where)
    with opened(bank) as blocks, aside_for(bank) as aside:

        def listed(read: Callable[[Blocks, Faults], Iterator[Entry]]) -> tuple[Found, tuple[str, ...]]:
            faults = Faults(str(bank))
            shown = found_of(map(View, filter(holds, read(blocks, faults))), most=most)
            return shown, faults.told

        try:
            return listed(rising_entries)
        except DisorderError:
            return listed(partial(ordered_entries, aside=aside))


def show_page(
    bank: Path,
    page: Path,
    listing: Found,
    *,
    language: str,
    music_font: str,
    replace: bool,
    progress: Progress = silent,
) -> Path:
    """Writes the found items as a page and gives back its path; BankError if there are none."""
    from barwright.pages import BankSheet, bank_page
    from barwright.tasks.bank.forms import bank_forms
    from barwright.tasks.files import write_new
    from barwright.tasks.own_wording import bank_wording

    if listing.total and not listing.views:
        raise BankError(f"{bank}: none of {listing.total:,} items is to be shown: raise --most to have a page of some")
    if not listing.views:
        raise BankError(f"{bank}: no item meets these conditions, so there is no page to write")

    forms = bank_forms(
        bank.stem,
        listing.views,
        language=language,
        music_font=music_font,
        wording=bank_wording(bank, language),
        progress=progress,
    )
    sheets = [BankSheet(each.worded, each.pictures, tuple(map(note_of, each.views))) for each in forms]
    write_new(page, bank_page(sheets, summary_lines(listing)), replace=replace)
    return page


def note_of(view: View) -> "Note":
    """What a bank says of one item, for people."""
    from barwright.pages import Note

    return Note(
        view.entry.id,
        view.state,
        tuple(_review(r) for r in view.records if r["kind"] in ("review", "return")),
        _told((r for r in view.records if r["kind"] == "source"), "title", "by"),
        _told(view.usages, "section", "title"),
        tuple(sorted(view.named("tag", "tag"))),
    )


def _review(record: Mapping[str, Any]) -> tuple[str, str, str]:
    return record.get("verdict", "return"), _joined(record["by"], record["date"]), record["text"]


def _told(records: Iterable[Mapping[str, Any]], *fields: str) -> tuple[str, ...]:
    """Each record as one text, sorted by date; one without a date only if none with the same words has one."""
    ordered = sorted(records, key=lambda r: (r["date"], r[fields[0]]))
    named = [(_joined(*(record[f] for f in fields)), record["date"]) for record in ordered]
    dated = {words for words, date in named if date}
    return tuple(dict.fromkeys(_joined(words, date) for words, date in named if date or words not in dated))


def _joined(*texts: str) -> str:
    return ", ".join(text for text in texts if text)
