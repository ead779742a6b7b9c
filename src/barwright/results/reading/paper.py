"""Answers that were copied from strips on paper: one row a student, a letter or what was written for each question."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from barwright.results.reading.asked import AskedSheet
from barwright.results.reading.bounds import MOST_HEADER_ROWS
from barwright.results.reading.grids import Grid
from barwright.results.reading.headings import role_of
from barwright.results.reading.table_layout import WHO, layout_of
from barwright.results.reading.which_form import forms_of_section, section_column

_NOTHING = ("-", "\u2013", "\u2014")
_WHO, _FORM = "Student", "Form"


def on_paper(sheet: AskedSheet) -> AskedSheet:
    """The form as it is printed: of variants, of which a platform draws one for each student, paper has the first."""
    first = {question.number: question for question in reversed(sheet.questions)}
    return replace(sheet, questions=tuple(replace(first[number], variant="") for number in sorted(first)))


def typed_tables(grid: Grid, sheets: Sequence[AskedSheet]) -> tuple[tuple[Grid, Sequence[AskedSheet]], ...]:
    """The table with dashes as blanks; where a column names forms, a table for each of them, and its form.

    Without headings the first column is the student, one more before the answers is the form's code or the section, and
    the answers stand in the order of the questions. Rows keep their places, so that messages number them as they are.
    """
    plain = replace(grid, rows=[["" if cell.strip() in _NOTHING else cell for cell in row] for row in grid.rows])
    headed = _with_headings(plain, sheets)
    layout = layout_of(headed, sheets)
    column = section_column(layout, sheets)
    if column is None:
        return ((headed, sheets),)
    named = {number: row[column].strip() for number, row in layout.rows}
    return tuple(
        (replace(headed, rows=_alone(headed.rows, named, name)), forms_of_section(name, sheets) or sheets)
        for name in dict.fromkeys(named.values())
    )


def _alone(rows: list[list[str]], named: Mapping[int, str], name: str) -> list[list[str]]:
    """The rows of one form and the headings; those of other forms are blank."""
    return [row if named.get(number, name) == name else [] for number, row in enumerate(rows, start=1)]


def _with_headings(grid: Grid, sheets: Sequence[AskedSheet]) -> Grid:
    """The table with headings: its own if one of them says who answered, or where they are the numbers alone."""
    if any(role_of(cell) in WHO for row in grid.rows[:MOST_HEADER_ROWS] for cell in row):
        return grid
    width = max(map(len, grid.rows))
    for sheet in sheets:
        numbers = [str(question.number) for question in sheet.questions]
        before = [_WHO, _FORM][: width - len(numbers)]
        if before and len(before) + len(numbers) == width:
            own = [cell.strip() for cell in grid.rows[0][len(before) :]] == numbers
            return replace(grid, rows=[[*before, *numbers], *grid.rows[own:]])
    return grid
