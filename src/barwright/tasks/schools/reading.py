"""Schools with their sections: `orgs.csv` and `classes.csv` of OneRoster 1.1 or 1.2, or any CSV with both.

OneRoster CSV (1EdTech, an open standard): `orgs.csv` has `sourcedId`, `name` and `type`, which is `school` for a
school; `classes.csv` has `title` and `schoolSourcedId`. Rows with the status `tobedeleted` are none. They lie in a
folder or in a zip. Of any other CSV two columns are read, `school` and `section`. Nothing is read of students or
teachers.
"""

import io
import zipfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path, PurePosixPath

from barwright.blueprint.blueprint import MOST_SECTIONS
from barwright.blueprint.names import folder_name, section_fault, text_fault
from barwright.errors import BarwrightError
from barwright.inputs import content_of
from barwright.results.reading.bounds import ZIP_DAMAGE
from barwright.showing import shown
from barwright.tasks.files import decoded, read_text, shown_path
from barwright.tasks.sections import GONE, is_wanted, rows_in

MOST_BYTES = 400_000_000
MOST_ROWS = 3_000_000
ORGS, CLASSES = "orgs.csv", "classes.csv"
KIND = "list of schools"
MOST_SEED = 2**32
SEEDS = 6  # that are tried: of a tight plan one in five is refused, and so one school in fifteen thousand is


@dataclass(frozen=True, slots=True)
class School:
    """A school: its id, its name, the folder of its quizzes, its sections; `fault`: why it cannot have a quiz."""

    ident: str
    name: str
    folder: str
    sections: tuple[str, ...]
    fault: str = ""

    def seeds(self, seed: int) -> tuple[int, ...]:
        """The seeds of this school's quiz, of that of the plan: one is tried after another until the forms are fair.

        >>> School("17", "Alder Creek", "alder-creek", ("Band 6",)).seeds(304)[0]
        2213335155
        """
        texts = [f"{seed} {self.ident}", *(f"{seed} {self.ident} {n}" for n in range(2, SEEDS + 1))]
        return tuple(int(sha256(text.encode()).hexdigest(), 16) % MOST_SEED for text in texts)


@dataclass(frozen=True, slots=True)
class Schools:
    """The schools of a list, by name, and how many of it have no section and so get no quiz."""

    schools: tuple[School, ...]
    without: int


def schools_in(path: Path, where: Mapping[str, str]) -> Schools:
    """The schools of a file, a folder or a zip; classes that `where` does not want are left out.

    A fault of one school stands in it, so that it stops no other. BarwrightError for a list that cannot be read.
    """
    named: dict[str, str] = {}
    titles: dict[str, list[str]] = {}
    for ident, name, title in _rows_of(path, where):
        named.setdefault(ident, name)
        if title:
            titles.setdefault(ident, []).append(title)
    if not titles:
        raise BarwrightError(f"{shown_path(path)}: no school of it has a class: is this the {KIND}?")
    folders = _folders({ident: named[ident] for ident in titles}, path)
    schools = [_school(ident, named[ident], folders[ident], found) for ident, found in titles.items()]
    return Schools(tuple(sorted(schools, key=lambda each: (each.name, each.ident))), len(named) - len(titles))


def conditions_of(texts: Sequence[str], plans: Sequence[Mapping[str, str]]) -> dict[str, str]:
    """Which classes are wanted, by column: as the command line says it, as `subjects=Music`; else as all plans say it.

    BarwrightError for a text that is no such condition, and where plans want different classes.
    """
    wanted: dict[str, str] = {}
    for text in texts:
        column, sign, value = (part.strip() for part in text.partition("="))
        if not column or not sign or not value:
            raise BarwrightError(f"--where {shown(text)}: write it as COLUMN=VALUE, e.g. subjects=Music")
        if column in wanted:
            raise BarwrightError(f"--where {shown(text)}: {column} is said twice: keep one of them")
        wanted[column] = value
    if not texts and any(plan != plans[0] for plan in plans):
        raise BarwrightError("the blueprints want different classes (sections_where): say which by --where")
    return wanted or dict(plans[0])


def _rows_of(path: Path, where: Mapping[str, str]) -> Iterator[tuple[str, str, str]]:
    """Id and name of a school and the title of a class; an empty title for a school that may have none."""
    if path.name.lower() in (ORGS, CLASSES):
        path = path.parent
    if path.is_dir():
        yield from _roster(read_text(path / ORGS, most=MOST_BYTES, kind=KIND), _classes(path), path, where)
    elif zipfile.is_zipfile(path):
        yield from _roster(_unpacked(path, ORGS), _unpacked(path, CLASSES), path, where)
    else:
        name = shown_path(path)
        text = read_text(path, most=MOST_BYTES, kind=KIND)
        for line, row in rows_in(text, name, ("school", "section", *where), most=MOST_ROWS):
            if is_wanted(row, where):
                for column in ("school", "section"):
                    _check_filled(row, column, f"{name}, line {line}")
                yield row["school"], row["school"], row["section"]


def _classes(folder: Path) -> str:
    return read_text(folder / CLASSES, most=MOST_BYTES, kind="list of classes")


def _unpacked(path: Path, name: str) -> str:
    """The text of a file of a zip, wherever in it; BarwrightError if there is none, or if the zip is damaged."""
    try:
        with zipfile.ZipFile(io.BytesIO(content_of(path, MOST_BYTES))) as archive:
            entry = next((e for e in archive.infolist() if PurePosixPath(e.filename).name.lower() == name), None)
            if entry is None:
                raise BarwrightError(f"{shown_path(path)}: there is no {name} in it: export both lists into one zip")
            with archive.open(entry) as file:
                content = file.read(MOST_BYTES + 1)
    except ZIP_DAMAGE as error:
        raise BarwrightError(f"{shown_path(path)}: this zip is damaged: export the lists again") from error
    if len(content) > MOST_BYTES:
        raise BarwrightError(f"{shown_path(path)}: {name} in it has over {MOST_BYTES:,} bytes: split the district")
    return decoded(content, path / name, KIND)


def _roster(orgs: str, classes: str, path: Path, where: Mapping[str, str]) -> Iterator[tuple[str, str, str]]:
    names, others = dict[str, str](), set[str]()
    place = shown_path(path / ORGS)
    for line, row in rows_in(orgs, place, ("sourcedId", "name", "type"), most=MOST_ROWS):
        if row.get("status", "").lower() == GONE or row.get("type", "").lower() != "school":
            others.add(row.get("sourcedId", ""))
            continue
        for column in ("sourcedId", "name"):
            _check_filled(row, column, f"{place}, line {line}")
        names[row["sourcedId"]] = row["name"]
        yield row["sourcedId"], row["name"], ""
    place = shown_path(path / CLASSES)
    for line, row in rows_in(classes, place, ("title", "schoolSourcedId", *where), most=MOST_ROWS):
        school = row.get("schoolSourcedId", "")
        if row.get("status", "").lower() == GONE or school in others or not is_wanted(row, where):
            continue
        if school not in names:
            raise BarwrightError(
                f"{place}, line {line}: schoolSourcedId = {shown(school)} is no school of {ORGS}: export both "
                "lists again"
            )
        _check_filled(row, "title", f"{place}, line {line}")
        yield school, names[school], row["title"]


def _check_filled(row: Mapping[str, str], column: str, place: str) -> None:
    if not row.get(column, ""):
        raise BarwrightError(f"{place}: {column} is empty: write it, or delete the line")
    if fault := text_fault(row[column]):
        raise BarwrightError(f"{place}: {column} = {shown(row[column])} {fault}")


def _folders(names: Mapping[str, str], path: Path) -> dict[str, str]:
    """The folder of each school by its id: after its name, and its id where schools share that.

    BarwrightError where not even that tells them apart.
    """
    plain = {ident: folder_name(name) for ident, name in names.items()}
    often = Counter(plain.values())
    folders = {
        ident: folder if folder and often[folder] == 1 else folder_name(f"{names[ident]} {ident}")
        for ident, folder in plain.items()
    }
    first: dict[str, str] = {}
    for ident, folder in folders.items():
        other = first.setdefault(folder, ident)
        if other != ident or not folder:
            both = f"schools {shown(names[other])} and {shown(names[ident])}"
            raise BarwrightError(f"{shown_path(path)}: {both} would share the folder {shown(folder)}: rename one")
    return folders


def _school(ident: str, name: str, folder: str, titles: Sequence[str]) -> School:
    sections: dict[str, str] = {}
    fault = ""
    for title in titles:
        wrong = section_fault(title)
        there = sections.setdefault(folder_name(title), title)
        if wrong:
            fault = fault or f"section {shown(title)} {wrong}"
        elif there != title:
            fault = fault or f"sections {shown(there)} and {shown(title)} would share a folder: rename one"
    if len(sections) > MOST_SECTIONS:
        fault = fault or f"{len(sections)} sections, and 1 to {MOST_SECTIONS} can have a form: choose some by --where"
    return School(ident, name, folder, tuple(sections.values()), fault)
