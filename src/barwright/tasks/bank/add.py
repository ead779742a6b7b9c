"""`bank add`: the items of a quiz's record join a bank, with where they come from and who got them."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter
from pathlib import Path
from typing import Any

from barwright.bank.entries import Entry, united
from barwright.bank.intake import count_entries, quiz_entries
from barwright.bank.merging import merged
from barwright.bank.reading import header_fault
from barwright.errors import BankError
from barwright.items.form import Form
from barwright.showing import meant, shown
from barwright.tasks.bank.files import update
from barwright.tasks.diagnose.diagnose import DOCUMENT, RESULTS
from barwright.tasks.files import read_text
from barwright.tasks.record import MOST_BYTES, read_record, read_record_text, record_lines


@dataclass(frozen=True, slots=True)
class Added:
    """How many items the record holds, how many of them were new to the bank, and faults of the bank's other lines."""

    items: int
    new: int
    faults: tuple[str, ...]


def add(
    record: Path,
    bank: Path,
    *,
    date: str = "",
    source: str = "",
    results: bool = False,
    sections: Sequence[str] = (),
    retake: int | None = None,
) -> Added:
    """Adds the items of a record to a bank, which is made if it is not there; adding twice changes nothing.

    Only those of these sections (none: all) and of this retake (0: the quiz itself; None: the quiz and its retakes).
    With `results` also the counts that `diagnose` wrote beside the record.

    BarwrightError naming file and line for a record that is not as `make` wrote it, and for a section or retake that is
    not in it; BankError as `files.update`.
    """
    text = read_record_text(record)
    if not header_fault(text.partition("\n")[0].encode()):
        raise BankError(f"{record}: this is a bank, not the record of a quiz: join banks with barwright bank merge")
    forms = _given(read_record(text, str(record)), record, sections, retake)
    header, *lines = map(json.loads, record_lines(text))
    entries = quiz_entries(forms, _tags(lines), made_by=str(header.get("made_by", "")), by=source, date=date)
    wanted, known = {entry.id for entry in entries}, set()
    if results:
        document, told = _diagnosis(record)
        entries = (*entries, *count_entries(forms, told, str(document), by=source, date=date))

    def noted(old: Iterator[Entry]) -> Iterator[Entry]:
        for entry in old:
            if entry.id in wanted:
                known.add(entry.id)
            yield entry

    joined = tuple(united(each) for _, each in groupby(sorted(entries, key=attrgetter("id")), key=attrgetter("id")))
    faults = update(bank, lambda old: merged([noted(old), joined]), create=True)
    return Added(len(wanted), len(wanted) - len(known), faults.told)


def _diagnosis(record: Path) -> tuple[Path, str]:
    """Where the diagnosis beside a record lies, and its text; BankError where there is none."""
    document = record.parent / RESULTS / DOCUMENT
    if not document.is_file():
        raise BankError(f"{document} is missing: run barwright diagnose on {record.parent} first")
    return document, read_text(document, most=MOST_BYTES, kind="diagnosis")


def _given(forms: Sequence[Form], record: Path, sections: Sequence[str], retake: int | None) -> list[Form]:
    """The forms that were given; BankError for a section or retake that the record does not tell of."""
    known = {form.section.casefold(): form.section for form in forms}
    for name in sections:
        if name.casefold() not in known:
            mend = meant(name, known.values(), "the proof of the quiz names them all")
            raise BankError(f"section {shown(name)} is not in {record}{mend}")
    wanted = {known[name.casefold()] for name in sections} or set(known.values())
    given = [form for form in forms if form.section in wanted and retake in (None, form.retake)]
    for section in known.values():
        if section in wanted and sections and all(form.section != section for form in given):
            raise BankError(f"{record} tells of no {_which(retake)} of {shown(section)}: look at the proof of the quiz")
    if not given:
        raise BankError(f"{record} tells of no {_which(retake)}: look at the proof of the quiz")
    return given


def _which(retake: int | None) -> str:
    return f"retake {retake}" if retake else "quiz itself"


def _tags(lines: list[dict[str, Any]]) -> dict[str, tuple[str, ...]]:
    """The curriculum tags of each item's id; what is no list of texts is none."""
    by_item = {}
    for line in lines:
        tags = line.get("tags", {})
        codes = tags.get("curriculum", ()) if isinstance(tags, dict) else ()
        by_item[line["item"]] = (
            tuple(code for code in codes if isinstance(code, str)) if isinstance(codes, list) else ()
        )
    return by_item
