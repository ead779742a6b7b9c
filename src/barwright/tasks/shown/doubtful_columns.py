"""What reading answers back asks of the teacher: the doubtful lines of the file of columns, as fields of a page."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath

from barwright.blueprint.names import folder_name
from barwright.errors import BarwrightError
from barwright.results.reading.mapping import Remark, read_remark
from barwright.tasks.diagnose.diagnose import COLUMNS
from barwright.tasks.files import read_text
from barwright.tasks.shown.proof import articles_by_number
from barwright.tasks.shown.quiz import forms_of
from barwright.tasks.standing import label

ENDINGS = (".csv", ".xlsx", ".zip", ".xml", ".txt", ".tsv")
_HEAD = re.compile(r"\[(.*)\]")
_LINE = re.compile(r'(\w+) = "(.*?)"  # (.*)|(\w+) = "(.*)"')


@dataclass(frozen=True, slots=True)
class DoubtfulColumn:
    """One line of the file of columns: its number, its table, its key, what it says now, and the remark beside it."""

    line: int
    table: str
    key: str
    value: str
    remark: str

    @property
    def open(self) -> bool:
        """Whether the teacher has to say it."""
        return self.value == "?"

    @property
    def about(self) -> Remark:
        """What the remark tells of a column."""
        return read_remark(self.remark)


@dataclass(frozen=True, slots=True)
class TableAsked:
    """What is asked of one table of answers.

    `forms`: the proofs to compare with, as their numbers and labels: that of the form that the file is of, or of all
    that it may be of. `questions`: of each question of the first of these its number and how it looks as HTML.
    """

    name: str
    form: DoubtfulColumn | None
    letters: DoubtfulColumn | None
    columns: tuple[DoubtfulColumn, ...]
    forms: tuple[tuple[int, str], ...]
    questions: Mapping[str, str]

    @property
    def open(self) -> bool:
        """Whether the teacher has to say anything of it."""
        return any(each is not None and each.open for each in (self.form, self.letters, *self.columns))


def columns_asked(folder: Path) -> tuple[TableAsked, ...]:
    """What the file of columns says of each table, and what it asks; none where there is no such file."""
    path = folder / COLUMNS
    if not path.is_file():
        return ()
    lines = tuple(_lines(read_text(path, kind="file of columns")))
    tables = dict.fromkeys(line.table for line in lines)
    return tuple(_table(name, [line for line in lines if line.table == name], folder) for name in tables)


def _table(name: str, lines: Sequence[DoubtfulColumn], folder: Path) -> TableAsked:
    """What is said and asked of one table; questions are shown where a column is to be compared with one."""
    by_key = {line.key: line for line in lines}
    form, letters = by_key.get("form"), by_key.get("letters")
    columns = tuple(line for line in lines if line.key.isupper())
    labels = {label(each): number for number, each in enumerate(forms_of(folder), start=1)}
    named = form.remark.split(" or ") if form is not None and form.open else [form.value] if form is not None else []
    forms = tuple((labels[each], each) for each in named if each in labels)
    questions: Mapping[str, str] = {}
    if forms and any(column.open for column in columns):
        questions = articles_by_number(folder, forms[0][0])
    return TableAsked(name, form, letters, columns, forms, questions)


def _lines(text: str) -> Iterator[DoubtfulColumn]:
    table = ""
    for number, line in enumerate(text.split("\n"), start=1):
        if head := _HEAD.fullmatch(line):
            table = head[1].strip('"').removesuffix(".columns").strip('"')
        elif found := _LINE.fullmatch(line):
            yield DoubtfulColumn(
                number, table, found[1] or found[4], found[2] if found[1] else found[5], found[3] or ""
            )


def upload_name(name: str) -> str:
    """A plain name for a file of answers; BarwrightError for a kind that is none.

    >>> upload_name("C:\\\\a\\\\Period 1 (final).CSV")
    'period-1-final.csv'
    """
    path = PureWindowsPath(name)
    if path.suffix.lower() not in ENDINGS:
        raise BarwrightError(
            f"{path.name}: give what the platform gave out: a table (CSV or .xlsx), QTI results, or a zip of them"
        )
    return f"{folder_name(path.stem)[:80] or 'answers'}{path.suffix.lower()}"
