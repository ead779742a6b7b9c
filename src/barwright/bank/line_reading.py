"""Lines of a bank become entries: canonical ones at sight, others by the models, told what is wrong with them."""

from pydantic import ValidationError

from barwright.bank.checking import content_faults
from barwright.bank.entries import Entry, canonical, canonical_entries, ident_of
from barwright.bank.json_text import JsonError, json_object
from barwright.bank.model import Content, Line
from barwright.bank.shapes import COPY, shape_text
from barwright.errors import BankError
from barwright.showing import shown


def parse_entry(line: str) -> Entry:
    """The entry of a line, whether canonical or not; BankError, with the mend, for one that cannot be read.

    Checked are the shape of everything and that every id is that of what it names; not whether the item is right.
    """
    known = canonical_entries(f"{line}\n")
    if known:
        return known[0]
    return modelled_entry(line)


def modelled_entry(line: str) -> Entry:
    """The entry of a line that the models read, made canonical; BankError, with the mend, for one that they refuse."""
    try:
        json_object(line)
        read = Line.model_validate_json(line)
    except JsonError as error:
        raise BankError(f"{error}: {COPY}") from error
    except ValidationError as error:
        raise BankError(shape_text(error)) from error
    content = canonical(read.content.model_dump(mode="json"))
    if ident_of(content) != read.id:
        raise BankError(_changed(content, read.id))
    records = {ident: canonical(record.model_dump(mode="json")) for ident, record in read.records.items()}
    pairs = tuple(sorted(records.items()))
    for ident, text in pairs:
        if ident_of(text) != ident:
            raise BankError(
                f"record {shown(ident)} does not give this id but {shown(ident_of(text))}, so it was "
                f"changed by hand: take the "
                "line from another copy of the bank, or delete the record"
            )
    return Entry(read.id, content, pairs)


def _changed(content: str, ident: str) -> str:
    """That the content was changed, with what is wrong in it if that can be seen."""
    seen = content_faults(Content.model_validate_json(content).model_dump())
    why = f"{seen[0]}; " if seen else ""
    return (
        f"{why}the content does not give the id {shown(ident)} but {shown(ident_of(content))}, so it was "
        f"changed by hand: take "
        "the line from another copy of the bank, or delete it"
    )
