"""Which form a table is of, as far as a column of sections or the name of the file says it."""

from collections.abc import Sequence

from barwright.blueprint.names import folder_name
from barwright.items.form import form_code
from barwright.results.reading.asked import AskedSheet
from barwright.results.reading.compared_texts import plain
from barwright.results.reading.table_layout import TableLayout


def section_column(layout: TableLayout, sheets: Sequence[AskedSheet]) -> int | None:
    """The column that holds names of sections of the quiz; None if none does."""
    for at in layout.columns("section"):
        values = {row[at].strip() for _, row in layout.rows if row[at].strip()}
        if values and sum(bool(forms_of_section(value, sheets)) for value in values) * 2 > len(values):
            return at
    return None


def forms_of_section(text: str, sheets: Sequence[AskedSheet]) -> tuple[AskedSheet, ...]:
    """The forms of the section that a cell names, the quiz and its retakes, or the form whose printed code it is.

    None if it names neither.
    """
    wanted = plain(text)
    exact = tuple(sheet for sheet in sheets if plain(sheet.section) == wanted)
    if not exact:
        exact = tuple(sheet for sheet in sheets if plain(form_code(sheet.ident)) == wanted)
    return exact or tuple(sheet for sheet in sheets if folder_name(sheet.section) == folder_name(text))


def form_in_name(name: str, sheets: Sequence[AskedSheet]) -> AskedSheet | None:
    """The one form whose section, and retake, a file is named after; None if that is none, or more than one."""
    words = f"-{folder_name(name)}-"
    named = [sheet for sheet in sheets if f"-{folder_name(sheet.section)}-" in words]
    retake = [sheet for sheet in named if sheet.retake and f"-retake-{sheet.retake}-" in words]
    quiz = [sheet for sheet in named if not sheet.retake]
    for some in (retake, quiz if "-retake-" not in words else named):
        if len(some) == 1:
            return some[0]
    return None
