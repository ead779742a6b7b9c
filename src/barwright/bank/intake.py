"""What the record of a quiz brings to a bank: its items, and for each where it comes from and who got it."""

from collections.abc import Iterable, Mapping, Sequence

from barwright.bank.entries import Entry, united
from barwright.bank.records import entry_of, record_of
from barwright.items.form import Form


def quiz_entries(
    forms: Iterable[Form], tags: Mapping[str, Sequence[str]], *, made_by: str, by: str, date: str
) -> tuple[Entry, ...]:
    """An entry for every different item of the forms, sorted by id; BankError for a text that may not be recorded.

    `tags` gives the curriculum tags of an item's id, `made_by` the program, `by` who adds it, `date` the day on which
    the sections got their forms (empty if it is not said).
    """
    found: dict[str, list[Entry]] = {}
    for form in forms:
        source = record_of("source", by=by, date=date, made_by=made_by, title=form.title)
        usage = record_of("usage", by=by, date=date, form=form.ident, section=form.section, title=form.title)
        for placed in form.items:
            marks = [record_of("tag", tag=tag) for tag in tags.get(placed.item.id, ())]
            found.setdefault(placed.item.id, []).append(entry_of(placed.item, [source, usage, *marks]))
    return tuple(united(found[ident]) for ident in sorted(found))
