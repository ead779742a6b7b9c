"""What the record of a quiz brings to a bank: its items, and for each where it comes from and who got it."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from barwright.bank.entries import Entry, united
from barwright.bank.records import entry_of, record_of
from barwright.bank.text_patterns import LEAST_COUNTED
from barwright.errors import BankError
from barwright.items.form import Form


def quiz_entries(
    forms: Iterable[Form], tags: Mapping[str, Sequence[str]], *, made_by: str, by: str, date: str
) -> tuple[Entry, ...]:
    """An entry for every different item of the forms, sorted by id; BankError for a text that may not be recorded.

    `tags` gives the curriculum tags of an item's id, `made_by` the program, `by` who adds it, `date` the day on which
    the sections got their forms (empty if it is not said).
    """
    entries: dict[str, list[Entry]] = {}
    for form in forms:
        source = record_of("source", by=by, date=date, made_by=made_by, title=form.title)
        usage = record_of("usage", by=by, date=date, form=form.ident, section=form.section, title=form.title)
        for placed in form.items:
            marks = [record_of("tag", tag=tag) for tag in tags.get(placed.item.id, ())]
            entries.setdefault(placed.item.id, []).append(entry_of(placed.item, [source, usage, *marks]))
    return tuple(united(entries[ident]) for ident in sorted(entries))


def count_entries(forms: Iterable[Form], document: str, name: str, *, by: str, date: str) -> tuple[Entry, ...]:
    """An entry with its counts for every item of the forms that a diagnosis counts; fewer than five students count not.

    `document` is the text of a diagnosis.json, called `name`; BankError for one that is none, or of other forms.
    """
    try:
        counted = {
            (str(form["form"]), str(item["item"])): (str(form["section"]), item)
            for form in json.loads(document)["forms"]
            for item in form["items"]
        }
        return tuple(_counted(forms, counted, by=by, date=date))
    except (KeyError, TypeError, ValueError, RecursionError) as error:
        raise BankError(f"{name}: this is no diagnosis of this version: run barwright diagnose again") from error


def _counted(
    forms: Iterable[Form], counted: Mapping[tuple[str, str], tuple[str, Any]], *, by: str, date: str
) -> Iterator[Entry]:
    for form in forms:
        for placed in form.items:
            section, told = counted.get((form.ident, placed.item.id), ("", None))
            if told is None or told["asked"] < LEAST_COUNTED:
                continue
            picks = {pick["answer"]: pick["picks"] for pick in told["picks"]}
            numbers = {key: int(told[key]) for key in ("asked", "right", "others", "omitted")}
            record = record_of(
                "counts",
                by=by,
                date=date,
                form=form.ident,
                section=section,
                title=form.title,
                picks=[int(picks[choice.answer.text]) for choice in placed.item.choices],
                **numbers,
            )
            yield entry_of(placed.item, [record])
