"""What reading answers back asks of the teacher: the doubtful lines of the file of columns, as fields of a page."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath

from barwright.blueprint.names import folder_name
from barwright.errors import BarwrightError
from barwright.tasks.diagnose.diagnose import COLUMNS
from barwright.tasks.files import read_text

ENDINGS = (".csv", ".xlsx", ".zip", ".xml", ".txt", ".tsv")
_HEAD = re.compile(r"\[(.*)\]")
_LINE = re.compile(r'(\w+) = "(.*?)"  # (.*)|(\w+) = "(.*)"')


@dataclass(frozen=True, slots=True)
class Asked:
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


def columns_asked(folder: Path) -> tuple[Asked, ...]:
    """Every line of the file of columns that says something; none where there is no such file."""
    path = folder / COLUMNS
    if not path.is_file():
        return ()
    return tuple(_lines(read_text(path, kind="file of columns")))


def _lines(text: str) -> Iterator[Asked]:
    table = ""
    for number, line in enumerate(text.split("\n"), start=1):
        if head := _HEAD.fullmatch(line):
            table = head[1].strip('"').removesuffix(".columns").strip('"')
        elif found := _LINE.fullmatch(line):
            yield Asked(number, table, found[1] or found[4], found[2] if found[1] else found[5], found[3] or "")


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
