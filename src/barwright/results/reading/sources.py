"""Any file of answers: a results report, a table, a workbook, or a zip of many of them.

QTI gives each place of an answer that is put together a response variable of its own, `RESPONSE_s1` and so on, and some
tables have a column a variable: they become one column again.
"""

import io
import re
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from barwright.errors import ResultsError
from barwright.results.reading.asked import AskedSheet, Given
from barwright.results.reading.bounds import (
    MOST_BYTES,
    MOST_FILES,
    MOST_UNPACKED,
    ZIP_DAMAGE,
    cut,
)
from barwright.results.reading.grids import Grid, grid_of
from barwright.results.reading.headings import mentions
from barwright.results.reading.long import long_columns, read_long
from barwright.results.reading.paper import on_paper, typed_tables
from barwright.results.reading.reports import looks_like_xml, read_report
from barwright.results.reading.table_layout import TableLayout, layout_of
from barwright.results.reading.told import Doubts, Said, TableRead
from barwright.results.reading.versions import of_version
from barwright.results.reading.wide import read_wide
from barwright.results.reading.workbooks import is_workbook, workbook_grids

_PLACE = re.compile(r"[\W_]*(?:response_?)?(?<![a-z0-9])(s[1-9]\d?)\W*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Parts:
    """The heading of a question without its place, and the column (from 0) of each place."""

    heading: str
    columns: dict[str, int]


def with_places_joined(layout: TableLayout, sheets: Sequence[AskedSheet]) -> TableLayout:
    """The table with each question's columns of places as one, which stands where the first of them stood."""
    parts = _parts(layout, sheets)
    if not parts:
        return layout
    headings, roles = list(layout.headings), list(layout.roles)
    for each in parts:
        first, *others = each.columns.values()
        headings[first], roles[first] = each.heading, ""
        for at in others:
            roles[at] = "other"
    rows = tuple((number, _joined(row, parts)) for number, row in layout.rows)
    return replace(layout, headings=tuple(headings), roles=tuple(roles), rows=rows)


def _parts(layout: TableLayout, sheets: Sequence[AskedSheet]) -> list[_Parts]:
    """The columns of places, question by question: a place that comes again begins another one."""
    parts: list[_Parts] = []
    for at, heading in enumerate(layout.headings):
        match = _PLACE.search(heading)
        if match is None or not _is_put_together(bare := heading[: match.start()], sheets):
            continue
        place = match[1].lower()
        if not parts or parts[-1].heading != bare or place in parts[-1].columns:
            parts.append(_Parts(bare, {}))
        parts[-1].columns[place] = at
    return parts


def _is_put_together(heading: str, sheets: Sequence[AskedSheet]) -> bool:
    """Whether a heading names a question, in some form, whose answer is put into several places."""
    return any(mention.question.interaction == "inline" for sheet in sheets for mention in mentions(heading, sheet))


def _joined(row: Sequence[str], parts: Sequence[_Parts]) -> list[str]:
    cells = list(row)
    for each in parts:
        filled = {place: row[at].strip() for place, at in each.columns.items() if row[at].strip()}
        for at in each.columns.values():
            cells[at] = ""
        single = len(each.columns) == 1
        text = "\n".join(value if single else f"{place}={value}" for place, value in filled.items())
        cells[next(iter(each.columns.values()))] = text
    return cells


_OTHERS = {
    b"%PDF": "a PDF: export the answers as CSV or .xlsx",
    b"\xd0\xcf\x11\xe0": "an old Excel workbook (.xls): save it as .xlsx or CSV",
    b"\x1f\x8b": "a gzip archive: unpack it first",
    b"Rar!": "a RAR archive: unpack it first",
    b"7z\xbc\xaf": "a 7z archive: unpack it first",
    b"\x89PNG": "a picture: export the answers as CSV or .xlsx",
    b"\xff\xd8\xff": "a picture: export the answers as CSV or .xlsx",
}
_MOST_REFUSED = 20


@dataclass(frozen=True, slots=True)
class Gathered:
    """What files held: answers; in lines for people what was matched, what could not be read, and which files were
    refused and why; and the doubts of tables, whose answers are not to be used before they are settled."""

    givens: tuple[Given, ...] = ()
    told: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    doubts: tuple[Doubts, ...] = ()


def gathered(
    files: Sequence[tuple[str, bytes]], sheets: Sequence[AskedSheet], said: Mapping[str, Said], *, paper: bool = False
) -> Gathered:
    """The answers of all files, named for messages; what cannot be read is refused file by file.

    `paper`: tables were copied from strips, so that their letters are those of the forms.
    """
    gathering = _Gathering([on_paper(sheet) for sheet in sheets] if paper else sheets, said, paper)
    for name, data in files:
        gathering.take(name, data)
    return gathering.all()


class _Gathering:
    def __init__(self, sheets: Sequence[AskedSheet], said: Mapping[str, Said], paper: bool) -> None:
        self.sheets, self.said, self.paper = sheets, said, paper
        self.givens: list[Given] = []
        self.told: list[str] = []
        self.faults: list[str] = []
        self.refused: list[str] = []
        self.doubts: list[Doubts] = []

    def all(self) -> Gathered:
        """What was found; of many files that were refused the first, and how many more there are."""
        more = len(self.refused) - _MOST_REFUSED
        refused = self.refused[:_MOST_REFUSED] + ([f"{more:,} more files were refused"] if more > 0 else [])
        return Gathered(tuple(self.givens), tuple(self.told), tuple(self.faults), tuple(refused), tuple(self.doubts))

    def take(self, name: str, data: bytes) -> None:
        """Reads one file, whatever it is."""
        try:
            if data.startswith(b"PK"):
                self._zip(name, data)
            elif looks_like_xml(data):
                self._reports([(name, data)], name)
            else:
                self._grids((self._text(name, data),))
        except ResultsError as error:
            self.refused.append(str(error))

    def _text(self, name: str, data: bytes) -> Grid:
        for start, kind in _OTHERS.items():
            if data.startswith(start):
                raise ResultsError(f"{name}: it is {kind}")
        return grid_of(data, name)

    def _zip(self, name: str, data: bytes) -> None:
        names = _zip_names(data, name)
        if is_workbook(names):
            self._grids(workbook_grids(data, name))
            return
        if "mimetype" in names or "content.xml" in names:
            raise ResultsError(f"{name}: it is an OpenDocument table: save it as .xlsx or CSV")
        if "imsmanifest.xml" in names:
            raise ResultsError(
                f"{name}: it is a package of questions, not of answers: give what the platform exports as results"
            )
        members = list(_members(data, name))
        reports = [(f"{name}: {cut(member)}", content) for member, content in members if looks_like_xml(content)]
        for member, content in members:
            if not looks_like_xml(content):
                called = f"{name}: {cut(member)}"
                if content.startswith(b"PK") and not is_workbook(_zip_names(content, called)):
                    self.refused.append(f"{called}: it is a zip inside a zip: unpack it first")
                else:
                    self.take(called, content)
        if reports:
            self._reports(reports, name)

    def _reports(self, reports: Sequence[tuple[str, bytes]], name: str) -> None:
        students: dict[str, set[str]] = {}
        for called, data in reports:
            try:
                report = read_report(data, called, self.sheets)
            except ResultsError as error:
                self.refused.append(str(error))
                continue
            self.givens += report.givens
            self.faults += report.faults
            students.setdefault(report.sheet.name, set()).update(given.student for given in report.givens)
        if students:
            by = ", ".join(f"{form}: {len(those)} student(s)" for form, those in students.items())
            self.told.append(f"{name}: QTI results, questions and answers by identifier; {by}")

    def _grids(self, grids: Sequence[Grid]) -> None:
        """Reads the tables; of a workbook those that are about the quiz, and refuses it if none is."""
        why: list[str] = []
        sheets = self.sheets
        tables = [each for grid in grids for each in (typed_tables(grid, sheets) if self.paper else ((grid, sheets),))]
        for grid, able in tables:
            try:
                read = self._table(grid, able)
            except ResultsError as error:
                why.append(str(error))
                continue
            self.givens += read.givens
            self.told += [*([f"{grid.name}: {grid.remark}"] if grid.remark else []), *read.told]
            self.faults += read.faults
            self.doubts.append(read.doubts)
        if why and len(why) == len(tables):
            raise ResultsError(why[0])
        self.told += [f"left out: {each}" for each in why]

    def _table(self, grid: Grid, able: Sequence[AskedSheet]) -> TableRead:
        said = self.said.get(grid.name, Said())
        sheets = [sheet for sheet in able if said.form in (None, sheet.name)]
        if self.paper:
            said = replace(said, letters=True)
        sheets = of_version(grid.name, sheets, paper=self.paper)
        layout = with_places_joined(layout_of(grid, sheets), sheets)
        if not layout.rows:
            raise ResultsError(f"{grid.name}: it has headings and nothing below them: export the answers again")
        columns = None if said.columns else long_columns(layout, sheets)
        if columns is not None:
            return read_long(grid.name, layout, columns, sheets, said)
        return read_wide(grid.name, layout, sheets, said)


def _zip_names(data: bytes, name: str) -> list[str]:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return archive.namelist()
    except ZIP_DAMAGE as error:
        raise ResultsError(f"{name}: the zip is damaged ({cut(str(error))}): export it again") from error


def _members(data: bytes, name: str) -> Iterator[tuple[str, bytes]]:
    """The files in a zip, as far as they are some; ResultsError if it unpacks to too much or is damaged."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = [member for member in archive.infolist() if not member.is_dir() and _is_ours(member.filename)]
            size = sum(member.file_size for member in members)
            if len(members) > MOST_FILES or size > MOST_UNPACKED:
                raise ResultsError(
                    f"{name}: unpacks to {size:,} bytes in {len(members):,} files, which is more than is read"
                )
            left = MOST_UNPACKED
            for member in members:
                with archive.open(member) as part:
                    content = part.read(min(left, MOST_BYTES) + 1)
                left -= len(content)
                if len(content) > MOST_BYTES or left < 0:
                    raise ResultsError(f"{name}: {cut(member.filename)} unpacks to more than is read")
                yield member.filename, content
    except ZIP_DAMAGE as error:
        raise ResultsError(f"{name}: the zip is damaged ({cut(str(error))}): export it again") from error


def _is_ours(path: str) -> bool:
    """Whether a member is no by-product of an operating system."""
    return not path.startswith("__MACOSX/") and not path.rpartition("/")[2].startswith(".")
