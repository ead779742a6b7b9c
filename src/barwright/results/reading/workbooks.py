"""The sheets of an .xlsx workbook as grids: values only, never a formula, and no more than is bounded."""

import io
import zipfile
from collections.abc import Iterator
from typing import TYPE_CHECKING

from barwright.errors import ResultsError
from barwright.results.reading.bounds import (
    MOST_FILES,
    MOST_ROWS,
    MOST_UNPACKED,
    ZIP_DAMAGE,
    cut,
)
from barwright.results.reading.grids import Grid, bounded

if TYPE_CHECKING:
    from openpyxl.worksheet._read_only import ReadOnlyWorksheet

MOST_SHEETS = 40
_DOCTYPE = (b"<!DOCTYPE", b"<!ENTITY")


def is_workbook(names: list[str]) -> bool:
    """Whether the members of a zip are those of a workbook."""
    return "xl/workbook.xml" in names


def workbook_grids(data: bytes, name: str) -> tuple[Grid, ...]:
    """A grid for each sheet that holds something; ResultsError for a broken workbook, or one that is too large."""
    _check(data, name)
    from openpyxl import load_workbook  # takes long to load, and few files need it

    try:
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        sheets = [sheet for sheet in book.worksheets if sheet.sheet_state == "visible"]
        if len(sheets) > MOST_SHEETS:
            raise ResultsError(f"{name}: has {len(sheets)} sheets, and {MOST_SHEETS} are read at most")
        all_grids = tuple(_grid(sheet, name, alone=len(sheets) == 1) for sheet in sheets)
    # openpyxl tells damage in as many ways as there are libraries below it.
    except (*ZIP_DAMAGE, ArithmeticError, AttributeError, SyntaxError, TypeError) as error:
        raise ResultsError(f"{name}: the workbook is damaged ({cut(str(error))}): save it again") from error
    grids = tuple(grid for grid in all_grids if grid.rows)
    if not grids:
        raise ResultsError(f"{name}: it is empty: export the answers again")
    return grids


def _check(data: bytes, name: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
            size = sum(member.file_size for member in members)
            if len(members) > MOST_FILES or size > MOST_UNPACKED:
                raise ResultsError(
                    f"{name}: unpacks to {size:,} bytes, over {MOST_UNPACKED:,}: is it a table of answers?"
                )
            for member in members:
                with archive.open(member) as part:
                    if any(mark in part.read(2000) for mark in _DOCTYPE):
                        raise ResultsError(
                            f"{name}: the workbook declares entities, which no table needs: save it anew"
                        )
    except ZIP_DAMAGE as error:
        raise ResultsError(f"{name}: the workbook is damaged ({cut(str(error))}): save it again") from error


def _grid(sheet: "ReadOnlyWorksheet", name: str, *, alone: bool) -> Grid:
    called = name if alone else f"{name}, sheet {sheet.title!r}"
    sheet.reset_dimensions()  # what a file says of its own size may be wrong
    rows = list(_texts(sheet))
    if not any(any(row) for row in rows):
        return Grid(called, [])
    return Grid(called, bounded(iter(rows), called))


def _texts(sheet: "ReadOnlyWorksheet") -> Iterator[list[str]]:
    for number, row in enumerate(sheet):
        if number > MOST_ROWS:
            raise ResultsError(f"sheet {sheet.title!r}: has over {MOST_ROWS:,} rows: split the file")
        yield [_text(cell.value) for cell in row]


def _text(value: object) -> str:
    """The value as a person would type it: 2 for 2.0, no time where a date has none."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value)
