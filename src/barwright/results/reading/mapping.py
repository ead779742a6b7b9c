"""The file of columns: what was told of each table and what is to be said, as TOML; written and read."""

import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from barwright.errors import ResultsError
from barwright.results.reading.bounds import cut
from barwright.results.reading.told import NOTHING, Doubts, Said

ASKED = "?"
LETTERS = {"form": True, "no": False}
_MOST_SHOWN = 40  # letters of what stands in a cell
_QUOTES = {ord("“"): '"', ord("”"): '"'}
_REMARK = re.compile(r"(.*?)(?:; answers (“.*”))?(?:; perhaps (\d{1,3}[a-j]?): ([^“”]*))?", re.DOTALL)
_SAMPLE = re.compile("“([^“”]*)”")
_COLUMN = re.compile(r"[A-Z]{1,3}")
_QUESTION = re.compile(r"\d{1,3}[a-j]?")
_HEAD = """\
# What Barwright makes of the columns of these files. Where a line has "?" it cannot tell: write what it is, save this
# file, and run barwright diagnose again. Any other line may be mended, too.
#
# columns   a column's letter = the number of its question in key.html, or "none" if it holds no answers
# form      the section's form that the file is of
# letters   "form": A, B, C ... are the choices in the order of key.html; "no": the platform mixed them for each
#           student, so that letters tell nothing and are left out
# student   may be added: the letter or the heading of the column that says who answered
"""


def columns_text(doubts: Iterable[Doubts]) -> str:
    """The file for these tables, with what was told of each.

    >>> "form = " in columns_text([Doubts("a.csv", ("Period 1", "Period 3"), "Period 1", False, ())])
    True
    """
    return _HEAD + "".join(_table(each) for each in doubts)


def _table(doubt: Doubts) -> str:
    lines = ["", f"[{toml_text(doubt.name)}]"]
    if doubt.forms:
        lines.append(f'form = "{ASKED}"  # {" or ".join(map(_remark, doubt.forms))}')
    elif doubt.form:
        lines.append(f"form = {toml_text(doubt.form)}")
    if doubt.letters:
        lines.append(f'letters = "{ASKED}"  # form or no')
    if doubt.lines:
        lines.append(f"[{toml_text(doubt.name)}.columns]")
    for line in doubt.lines:
        value = ASKED if line.doubt else line.question
        told = f"; by {line.by}" if line.by and not line.doubt else ""
        samples = ", ".join(f"“{_remark(cut(text, _MOST_SHOWN)).translate(_QUOTES)}”" for text in line.samples)
        perhaps = f"; perhaps {line.question}: {line.doubt}" if line.doubt else ""
        holds = f"; answers {samples}" * bool(samples)
        lines.append(f"{line.column} = {toml_text(value)}  # {_remark(line.heading)}{told}{holds}{perhaps}")
    return "\n".join(lines) + "\n"


@dataclass(frozen=True, slots=True)
class Remark:
    """What the file says beside a column: its heading, what stands oftenest in it, and the question that it perhaps is.

    `samples` is empty, and `question` and `doubt` are, where nobody has to compare anything.
    """

    heading: str
    samples: tuple[str, ...] = ()
    question: str = ""
    doubt: str = ""


def read_remark(text: str) -> Remark:
    """What a remark of the file tells.

    >>> read_remark("Q 3; answers “half”, “A”; perhaps 2: its heading does not say so").samples
    ('half', 'A')
    """
    found = _REMARK.fullmatch(text)
    assert found is not None  # the pattern takes any text of one line
    heading, samples, question, doubt = found.groups(default="")
    return Remark(heading, tuple(_SAMPLE.findall(samples)), question, doubt)


def toml_text(text: str) -> str:
    """A text as a TOML basic string.

    >>> print(toml_text('a "b"'))
    "a \\"b\\""
    """
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + re.sub(r"[\x00-\x1f\x7f]", lambda match: f"\\u{ord(match[0]):04x}", escaped) + '"'


def _remark(text: str) -> str:
    return re.sub(r"[\x00-\x1f\x7f]", " ", cut(text)) or "no heading"


def parse_columns(text: str, name: str, forms: Sequence[str]) -> dict[str, Said]:
    """What the file says of each table, by its name; ResultsError naming the table, the value and the mend.

    `forms` are the names of the quiz's forms.
    """
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ResultsError(
            f"{name}: it cannot be read ({cut(str(error))}): mend it, or delete it and run again"
        ) from error
    return {table: _said(value, f"{name}, [{cut(table)}]", forms) for table, value in tables.items()}


def _said(table: object, where: str, forms: Sequence[str]) -> Said:
    if not isinstance(table, Mapping):
        raise ResultsError(f"{where}: a table of lines is needed here: delete it and run again")
    for key in table:
        if key not in ("form", "letters", "student", "columns"):
            raise ResultsError(f"{where}: {cut(str(key))!r} is not known: use form, letters, student or columns")
    form, letters, student = (_text(table, key, where) for key in ("form", "letters", "student"))
    if form is not None and form not in forms:
        raise ResultsError(f"{where}: form = {form!r} is no form of this quiz: use {', '.join(map(repr, forms))}")
    if letters is not None and letters not in LETTERS:
        raise ResultsError(f"{where}: letters = {letters!r} is not known: use 'form' or 'no'")
    columns = table.get("columns", {})
    if not isinstance(columns, Mapping):
        raise ResultsError(f'{where}: columns must hold lines such as C = "3"')
    told = {column: _text(columns, column, where) for column in columns}
    for column, value in told.items():
        if _COLUMN.fullmatch(column) is None:
            raise ResultsError(f"{where}: {cut(column)!r} is no column: use its letter, as A or AB")
        if value is not None and value != NOTHING and _QUESTION.fullmatch(value) is None:
            raise ResultsError(f"{where}: {column} = {value!r} is no question: use its number, or 'none'")
    columns_said = {column: value for column, value in told.items() if value is not None}
    return Said(form, student, None if letters is None else LETTERS[letters], columns_said)


def _text(table: Mapping[str, object], key: str, where: str) -> str | None:
    """The text under a key; None if it is not there, or still asked."""
    value = table.get(key)
    if isinstance(value, int) and not isinstance(value, bool):
        value = str(value)
    if value is not None and not isinstance(value, str):
        raise ResultsError(f"{where}: {cut(key)} must be a text in quotation marks")
    return None if value in (None, ASKED, "") else value.strip() if value else None
