"""Who answered: the columns of a table that name a student, and the name and the attempt of each row."""

from collections.abc import Sequence
from dataclasses import dataclass

from barwright.errors import ResultsError
from barwright.results.reading.compared_texts import number
from barwright.results.reading.table_layout import TableLayout, letter_of


@dataclass(frozen=True, slots=True)
class Identity:
    """The columns by which students are told apart, those of their names, and that of attempts; from 0."""

    key: tuple[int, ...]
    shown: tuple[int, ...]
    attempt: int | None
    heading: str

    def of(self, row: Sequence[str]) -> str:
        """The student of a row as the file names them; empty if the row names none."""
        return " ".join(" ".join(row[at].split()) for at in self.key).strip()[:200]

    def name(self, row: Sequence[str]) -> str:
        """The name in a row; empty if it has none."""
        return " ".join(" ".join(row[at].split()) for at in self.shown).strip()[:200]

    def turn(self, row: Sequence[str]) -> int:
        """The number of the attempt; 0 where the row does not say."""
        value = number(row[self.attempt]) if self.attempt is not None else None
        return int(value) if value is not None else 0


def identity_of(layout: TableLayout, student: str | None, name: str) -> Identity:
    """How a table tells students apart; ResultsError if it has no column for that.

    `student`: the column that the teacher's file names, by its letter or heading.
    """
    attempt = next(iter(layout.columns("attempt")), None)
    full = layout.columns("name")[:1] or (layout.columns("first")[:1] + layout.columns("last")[:1])
    if student is not None:
        wanted = student.strip()
        for at, heading in enumerate(layout.headings):
            if wanted.upper() == letter_of(at) or wanted.casefold() == heading.casefold():
                return Identity((at,), full, attempt, heading)
        raise ResultsError(f"{name}: the file of columns says student = {student!r}, and no column is called so")
    filled = [
        at
        for at in layout.columns("key", "login")
        if sum(bool(row[at].strip()) for _, row in layout.rows) * 2 > len(layout.rows)
    ]
    key = tuple(filled[:1]) or full
    if not key:
        free = [at for at, role in enumerate(layout.roles) if not role and not layout.headings[at]]
        raise ResultsError(
            f"{name}: no column says who answered: give one the heading Student"
            + (f" (column {letter_of(free[0])}?)" if free else "")
        )
    return Identity(key, full, attempt, " ".join(layout.headings[at] for at in key))
