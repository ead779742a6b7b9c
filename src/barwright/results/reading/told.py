"""What was understood of a table, and what somebody should say first: the side of the teacher when answers are read."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from barwright.results.reading.asked import Given

NOTHING = "none"
"""In the file of columns: a column that holds no answers."""


@dataclass(frozen=True, slots=True)
class Said:
    """What the teacher's file says of a table: its form by name, the column of students, whether letters are those of
    the form's order, and for columns the number of a question, or NOTHING. Columns by letter; None or absent: not said.
    """

    form: str | None = None
    student: str | None = None
    letters: bool | None = None
    columns: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ColumnLine:
    """One column in the file of columns: its letter, its heading, the question it is taken for (a number, NOTHING, or
    empty: not known), how that was told, what makes it doubtful, and what stands oftenest in a column that somebody has
    to compare."""

    column: str
    heading: str
    question: str
    by: str = ""
    doubt: str = ""
    samples: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Doubts:
    """What is to be said of a table before it is used. `forms`: those it may be of, if more than one; `letters`:
    whether it has letters for choices that platforms mix."""

    name: str
    forms: tuple[str, ...]
    form: str
    letters: bool
    lines: tuple[ColumnLine, ...]

    @property
    def any(self) -> bool:
        """Whether something is doubtful at all."""
        return bool(self.forms) or self.letters or any(line.doubt for line in self.lines)


@dataclass(frozen=True, slots=True)
class TableRead:
    """The answers of a table, what was matched and how in lines for people, what could not be read, and the doubts."""

    givens: tuple[Given, ...]
    told: tuple[str, ...]
    faults: tuple[str, ...]
    doubts: Doubts
