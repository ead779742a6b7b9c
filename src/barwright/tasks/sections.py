"""Sections from the school's own list: `classes.csv` of OneRoster 1.1 or 1.2, or any CSV file with a named column.

OneRoster CSV (1EdTech, an open standard) has one class a row with `title`, and may mark rows with the status
`tobedeleted`; columns that hold several values part them by commas. Only class names are read, never students.
"""

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from barwright.blueprint.blueprint import MOST_SECTIONS, Blueprint
from barwright.blueprint.names import folder_name, section_fault
from barwright.errors import BarwrightError
from barwright.showing import meant, shown
from barwright.tasks.files import read_text, shown_path

if TYPE_CHECKING:
    from _csv import Reader

MOST_ROWS = 20_000
SIGNS = {",": "commas", ";": "semicolons", "\t": "tabs"}
GONE = "tobedeleted"


def with_sections(blueprint: Blueprint, path: Path) -> Blueprint:
    """The blueprint with the sections of its `sections_file`, which lies beside the blueprint file.

    Raises BarwrightError naming file, line or column, and the mend.
    """
    if blueprint.sections_file is None:
        return blueprint
    file = path.parent / blueprint.sections_file
    _check_beside(file, path)
    text = read_text(file, kind="class list")
    names = section_names(text, shown_path(file), blueprint.sections_column, blueprint.sections_where)
    return blueprint.model_copy(update={"sections": list(names)})


def _check_beside(file: Path, path: Path) -> None:
    """BarwrightError for a class list that lies elsewhere than beside or below the blueprint, by a link too."""
    try:
        inside = file.resolve().is_relative_to(path.parent.resolve())
    except (OSError, ValueError, RuntimeError) as error:
        raise BarwrightError(f"{shown_path(file)}: cannot be read: check the name and the folder") from error
    if not inside:
        raise BarwrightError(
            f"{shown_path(file)}: this is a link to another folder: copy the list beside the blueprint, and "
            f"give its name"
        )


def section_names(text: str, name: str, column: str, where: Mapping[str, str]) -> tuple[str, ...]:
    """The names in a column of a CSV text, in the order of the file; rows that `where` does not want are left out.

    The columns are parted by commas or, as spreadsheets write them in many countries, by semicolons.

    >>> section_names("title,subjects\\nBand 6,Music\\nMath 6,Math\\n", "c.csv", "title", {"subjects": "music"})
    ('Band 6',)
    """
    titles: dict[str, str] = {}
    for line, row in rows_in(text, name, (column, *where)):
        if row.get("status", "").lower() == GONE or not is_wanted(row, where):
            continue
        title = row.get(column, "")
        folder, fault = folder_name(title), section_fault(title)
        if not title:
            raise BarwrightError(f"{name}, line {line}: {column} is empty: write the class's name, or delete the line")
        if fault is not None:
            raise BarwrightError(f"{name}, line {line}: {column} = {shown(title)} {fault}")
        if titles.setdefault(folder, title) != title:
            raise BarwrightError(
                f"{name}, line {line}: {shown(title)} and {shown(titles[folder])} would share the folder "
                f"{shown(folder)}: rename one"
            )
    if not 1 <= len(titles) <= MOST_SECTIONS:
        raise BarwrightError(f"{name}: {_amount_text(len(titles), text, where)}")
    return tuple(titles.values())


def _amount_text(count: int, text: str, where: Mapping[str, str]) -> str:
    """What is wrong with a list of so many classes, and the mend."""
    if where:
        return f"{count} classes are left, and 1 to {MOST_SECTIONS} can have a form: change sections_where"
    if count:
        return f"{count} classes, and 1 to {MOST_SECTIONS} can have a form: choose some by sections_where"
    marked = f" but those marked {GONE}" if GONE in text.lower() else ""
    return f"the list has no class{marked}: write one on each line below the names of the columns"


def rows_in(
    text: str, name: str, wanted: Sequence[str], *, most: int = MOST_ROWS
) -> Iterator[tuple[int, dict[str, str]]]:
    """The rows with their lines, values by the names of the columns, which stand in the first row; blank ones are none.

    Raises BarwrightError where a wanted column is missing, and for what is no CSV.
    """
    if not text.strip():
        raise BarwrightError(f"{name}: the file is empty: export the list of classes again")
    sign = _sign(text, wanted)
    reader, known = _reader(text, sign), list[str]()
    try:
        for count, values in enumerate(filter(any, map(_stripped, reader))):
            if not count:
                known = _columns(values, f"{name}, line {reader.line_num}", sign, wanted)
                continue
            if count > most:
                raise BarwrightError(f"{name}: has over {most} rows: is this the list of classes?")
            if any(values[len(known) :]):
                mend = f"put a value with {SIGNS[sign]} in quotes"
                raise BarwrightError(f"{name}, line {reader.line_num}: more values than columns: {mend}")
            yield reader.line_num, dict(zip(known, values, strict=False))
    except csv.Error as error:
        raise BarwrightError(
            f"{name}, line {reader.line_num}: this is not CSV, which spreadsheets write: save the list as CSV in UTF-8"
        ) from error


def _sign(text: str, wanted: Sequence[str]) -> str:
    """What parts the columns: that by which the first row has the wanted ones, or else the most."""
    columns: dict[str, list[str]] = {}
    for sign in SIGNS:
        try:
            columns[sign] = next(filter(any, map(_stripped, _reader(text, sign))), [])
        except csv.Error:
            columns[sign] = []
    return max(SIGNS, key=lambda sign: (set(wanted) <= set(columns[sign]), len(columns[sign])))


def _reader(text: str, sign: str) -> "Reader":
    return csv.reader(io.StringIO(text, newline=""), delimiter=sign, strict=True)


def _stripped(row: Sequence[str]) -> list[str]:
    return [value.strip() for value in row]


def _columns(row: list[str], place: str, sign: str, wanted: Sequence[str]) -> list[str]:
    """The names of the columns; BarwrightError where one is missing, two are alike, or they are parted by tabs."""
    if sign == "\t":
        raise BarwrightError(f"{place}: the columns are parted by tabs: save the list as CSV with commas")
    known = [column for index, column in enumerate(row) if any(row[index:])]
    twice = next((c for c in known if known.count(c) > 1), None)
    if twice is not None:
        raise BarwrightError(f"{place}: there are two columns {shown(twice)}: rename one")
    for column in wanted:
        if column not in known:
            raise BarwrightError(f"{place}: there is no column {shown(column)}{_columns_there(column, place, known)}")
    return known


def _columns_there(column: str, place: str, known: Sequence[str]) -> str:
    """The columns that there are, if it is a class list by its name and looks: of any other file nothing is told."""
    if len(known) < 2 and ".csv," not in place.lower():
        return ": is this the list of classes?"
    return meant(column, known, "the first line of the file has them all")


def is_wanted(row: Mapping[str, str], where: Mapping[str, str]) -> bool:
    """Whether each named column holds the wanted value, alone or as one of several parted by commas."""
    return all(
        value.strip().lower() in [v.strip().lower() for v in row.get(column, "").split(",")]
        for column, value in where.items()
    )
