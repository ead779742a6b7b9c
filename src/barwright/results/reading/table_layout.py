"""Where the headings of a table stand, and what its columns are by them: students, sections, attempts, or questions."""

from collections.abc import Sequence
from dataclasses import dataclass

from barwright.results.reading.asked import AskedSheet
from barwright.results.reading.bounds import MOST_HEADER_ROWS
from barwright.results.reading.grids import Grid
from barwright.results.reading.headings import (
    Role,
    holds_other,
    mentioned,
    mentions,
    role_of,
)

WHO: tuple[Role, ...] = ("key", "login", "name", "first", "last")
"""Roles of columns that say who answered."""


@dataclass(frozen=True, slots=True)
class TableLayout:
    """The headings of a table, one or two rows of them joined, the roles that they tell, and the rows of data.

    `rows`: number in the file (from 1) and cells, each as wide as the headings; blank rows are left out.
    """

    headings: tuple[str, ...]
    roles: tuple[Role, ...]
    rows: tuple[tuple[int, list[str]], ...]

    def columns(self, *roles: Role) -> tuple[int, ...]:
        """The columns of these roles, from 0, in the order of the roles."""
        return tuple(at for role in roles for at, each in enumerate(self.roles) if each == role)


def letter_of(column: int) -> str:
    """A column, from 0, as spreadsheets name it.

    >>> letter_of(0), letter_of(25), letter_of(26), letter_of(701), letter_of(702)
    ('A', 'Z', 'AA', 'ZZ', 'AAA')
    """
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(65 + rest) + name
    return name


def layout_of(grid: Grid, sheets: Sequence[AskedSheet]) -> TableLayout:
    """The layout of a table; without any headings that say something all of its rows are data."""
    width = max(map(len, grid.rows))
    rows = [row + [""] * (width - len(row)) for row in grid.rows]
    head, heading = _heading_rows(rows, sheets)
    headings = _joined([rows[number] for number in heading]) if heading else [""] * width
    roles = tuple(_role(text, sheets) for text in headings)
    data = tuple(
        (number, row) for number, row in enumerate(rows, start=1) if number > head and any(map(str.strip, row))
    )
    return TableLayout(tuple(headings), roles, data)


def _role(text: str, sheets: Sequence[AskedSheet]) -> Role:
    """The role that a joined heading tells, unless it is about a question."""
    role = role_of(text)
    if role:
        return role
    if any(mentions(text, sheet) for sheet in sheets):
        return ""
    # Two rows of headings: `Question 3` over `Points`.
    return "other" if holds_other(text) else ""


def _heading_rows(rows: Sequence[Sequence[str]], sheets: Sequence[AskedSheet]) -> tuple[int, tuple[int, ...]]:
    """How many rows stand before the data, and which of them (from 0) are headings: one row or two, or none."""
    few = rows[:MOST_HEADER_ROWS]
    scores = [mentioned(row, sheets) for row in few]
    naming = [number for number, row in enumerate(few) if any(role_of(text) in WHO for text in row)]
    best = max(scores, default=0)
    if not naming and best < 2:
        return 0, ()
    first = naming[0] if naming else scores.index(best)
    for other in (first - 1, first + 1):
        if 0 <= other < len(few) and _beside(rows[first], rows[other], sheets):
            both = tuple(sorted((first, other)))
            return both[1] + 1, both
    return first + 1, (first,)


def _beside(row: Sequence[str], other: Sequence[str], sheets: Sequence[AskedSheet]) -> bool:
    """Whether another row is one of headings, too: most of what it holds names questions or says what columns hold."""
    filled = [text for text in other if text.strip()]
    told = sum(bool(role_of(text)) or any(_says_question(text, sheet) for sheet in sheets) for text in filled)
    return told >= 2 and told * 2 > len(filled) and list(row) != list(other)


def _says_question(text: str, sheet: AskedSheet) -> bool:
    return any(mention.by != "number" for mention in mentions(text, sheet, bare=False))


def _joined(rows: Sequence[Sequence[str]]) -> list[str]:
    """Headings of one row, or of two: the upper one goes on over cells that are blank (merged cells)."""
    if len(rows) == 1:
        return [" ".join(text.split()) for text in rows[0]]
    headings, before = [], ""
    for upper, lower in zip(rows[0], rows[1], strict=True):
        before = upper if upper.strip() else before if lower.strip() else ""
        headings.append(" ".join(f"{before} {lower}".split()))
    return headings
