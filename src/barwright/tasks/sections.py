"""Sections from the school's own list: `classes.csv` of OneRoster 1.1 or 1.2, or any CSV file with a named column.

OneRoster CSV (1EdTech, an open standard) has one class a row with `title`, and may mark rows with the status
`tobedeleted`; columns that hold several values part them by commas. Only class names are read, never students.
"""

import csv
import io
from collections.abc import Iterator, Mapping
from pathlib import Path

from barwright.errors import BarwrightError
from barwright.items.blueprint import MOST_SECTIONS, Blueprint
from barwright.items.naming import folder_name, section_fault
from barwright.tasks.files import read_text

MOST_ROWS = 20_000
GONE = "tobedeleted"


def with_sections(blueprint: Blueprint, path: Path) -> Blueprint:
    """The blueprint with the sections of its `sections_file`, which lies beside the blueprint file.

    Raises BarwrightError naming file, line or column, and the mend.
    """
    if blueprint.sections_file is None:
        return blueprint
    file = path.parent / blueprint.sections_file
    names = section_names(read_text(file), str(file), blueprint.sections_column, blueprint.sections_where)
    return blueprint.model_copy(update={"sections": list(names)})


def section_names(text: str, name: str, column: str, where: Mapping[str, str]) -> tuple[str, ...]:
    """The names in a column of a CSV text, in the order of the file; rows that `where` does not want are left out.

    >>> section_names("title,subjects\\nBand 6,Music\\nMath 6,Math\\n", "c.csv", "title", {"subjects": "music"})
    ('Band 6',)
    """
    rows = csv.DictReader(io.StringIO(text, newline=""), strict=True)
    known = _columns(rows, name)
    for wanted in (column, *where):
        if wanted not in known:
            raise BarwrightError(
                f"{name}, line 1: there is no column {wanted!r}: use one of {', '.join(known) or 'none'}"
            )
    rows.fieldnames = known
    found: dict[str, str] = {}
    for line, title in _titles(rows, column, where, name):
        folder, fault = folder_name(title), section_fault(title)
        if fault is not None:
            raise BarwrightError(f"{name}, line {line}: {column} = {title!r} {fault}")
        if found.setdefault(folder, title) != title:
            raise BarwrightError(
                f"{name}, line {line}: {title!r} and {found[folder]!r} would share the folder {folder!r}: rename one"
            )
    if not 1 <= len(found) <= MOST_SECTIONS:
        raise BarwrightError(
            f"{name}: {len(found)} classes are left, and 1 to {MOST_SECTIONS} can have a form: change sections_where"
        )
    return tuple(found.values())


def _columns(rows: "csv.DictReader[str]", name: str) -> list[str]:
    """The names in the first line; BarwrightError where two are alike, or they are not parted by commas."""
    try:
        known = [c.strip() for c in rows.fieldnames or ()]
    except csv.Error as error:
        raise BarwrightError(f"{name}, line 1: this is not CSV ({error}): save the list as CSV in UTF-8") from error
    twice = next((c for c in known if known.count(c) > 1), None)
    if twice is not None:
        raise BarwrightError(f"{name}, line 1: there are two columns {twice!r}: rename one")
    if len(known) == 1 and ";" in known[0]:
        raise BarwrightError(f"{name}, line 1: the columns are parted by semicolons: save the list as CSV with commas")
    return known


def _titles(rows: "csv.DictReader[str]", column: str, where: Mapping[str, str], name: str) -> Iterator[tuple[int, str]]:
    try:
        for count, row in enumerate(rows):
            if count >= MOST_ROWS:
                raise BarwrightError(f"{name}: has over {MOST_ROWS} rows: is this the list of classes?")
            if None in row:
                raise BarwrightError(
                    f"{name}, line {rows.line_num}: more values than columns: put a value with commas in quotes"
                )
            if (row.get("status") or "").strip().lower() != GONE and _wanted(row, where):
                yield rows.line_num, (row.get(column) or "").strip()
    except csv.Error as error:
        raise BarwrightError(
            f"{name}, line {rows.reader.line_num}: this is not CSV ({error}): save the list as CSV in UTF-8"
        ) from error


def _wanted(row: Mapping[str, str | None], where: Mapping[str, str]) -> bool:
    """Whether each named column holds the wanted value, alone or as one of several parted by commas."""
    return all(
        value.strip().lower() in [v.strip().lower() for v in (row.get(column) or "").split(",")]
        for column, value in where.items()
    )
