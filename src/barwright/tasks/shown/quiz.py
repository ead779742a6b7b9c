"""A made quiz as its page shows it: its forms with their packages and what is printed of them, and its documents."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from barwright.items.form import Form
from barwright.qti import WRITERS
from barwright.tasks.accommodations import standing_files
from barwright.tasks.form_folders import RECORD, form_folder
from barwright.tasks.packing import PROOF, first_to_import
from barwright.tasks.printing import PDFS
from barwright.tasks.record import read_record, read_record_text
from barwright.tasks.standing import label
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import worth

KEPT = 40  # forms whose questions are remembered: with their pictures about 200 kB each
KEY, RESULTS, REPORT, RETEACH, ANSWERS = "key.html", "results", "report.html", "reteach.toml", "answers"
_TABLES = ("students.csv", "items.csv")


@dataclass(frozen=True, slots=True)
class Package:
    """One file to import: its path in the quiz folder, its standard in full, its size, and whether to try it first."""

    path: str
    standard: str
    kilobytes: int
    first: bool


@dataclass(frozen=True, slots=True)
class FormShown:
    """One form: its number on the page, what it is called, its packages, and its printed pages and the files
    of its versions by their paths."""

    number: int
    label: str
    section: str
    retake: int
    questions: int
    points: int
    packages: tuple[Package, ...]
    printed: tuple[str, ...] = ()
    versions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class QuizShown:
    """A quiz: its title and forms, the documents that can be looked at, and what answers have been read."""

    name: str
    title: str
    forms: tuple[FormShown, ...]
    proof: bool
    key: bool
    report: bool
    reteach: bool
    tables: tuple[str, ...]
    feedback: tuple[str, ...]
    answers: tuple[str, ...]


def quiz_shown(folder: Path) -> QuizShown:
    """What a quiz folder holds; BarwrightError for a record that is damaged."""
    forms = forms_of(folder)
    results = folder / RESULTS
    return QuizShown(
        name=folder.name,
        title=forms[0].title,
        forms=tuple(
            _form(n, form, folder, worths)
            for n, (form, worths) in enumerate(zip(forms, _worths(folder), strict=True), start=1)
        ),
        proof=(folder / PROOF).is_file(),
        key=(folder / KEY).is_file(),
        report=(results / REPORT).is_file(),
        reteach=(results / RETEACH).is_file(),
        tables=tuple(name for name in _TABLES if (results / name).is_file()),
        feedback=tuple(path.name for path in sorted((results / "feedback").glob("*.html"))),
        answers=tuple(path.name for path in sorted((folder / ANSWERS).glob("*")) if path.is_file()),
    )


def forms_of(folder: Path) -> tuple[Form, ...]:
    """The forms of a quiz as its record tells them; BarwrightError for one that is damaged."""
    path = folder / RECORD
    return _read(path, path.stat().st_mtime_ns)


@lru_cache(KEPT)
def _read(path: Path, _changed: int) -> tuple[Form, ...]:
    return read_record(read_record_text(path), str(path))


def _worths(folder: Path) -> tuple[tuple[int, int], ...]:
    path = folder / RECORD
    return _worths_read(path, path.stat().st_mtime_ns)


@lru_cache(KEPT)
def _worths_read(path: Path, changed: int) -> tuple[tuple[int, int], ...]:
    return tuple(worth(worded_form(form)) for form in _read(path, changed))


def _form(number: int, form: Form, folder: Path, worths: tuple[int, int]) -> FormShown:
    there = {
        f"{form_folder(form)}/{name}": writer.name
        for writer in WRITERS.values()
        for name in writer.files.values()
        if (folder / form_folder(form) / name).is_file()
    }
    first = first_to_import(tuple(there)) if there else ""
    packages = tuple(
        Package(path, name, -(-(folder / path).stat().st_size // 1000), path == first) for path, name in there.items()
    )
    pages = (f"{form_folder(form)}/{name}" for name in PDFS)
    printed = tuple(path for path in pages if (folder / path).is_file())
    versions = standing_files(folder, [form])
    return FormShown(number, label(form), form.section, form.retake, *worths, packages, printed, versions)


def downloads(shown: QuizShown) -> frozenset[str]:
    """Every file of a quiz that a page offers, as paths in its folder."""
    packages: Sequence[str] = [package.path for form in shown.forms for package in form.packages]
    printed = [path for form in shown.forms for path in (*form.printed, *form.versions)]
    documents = [PROOF] * shown.proof + [KEY] * shown.key + [f"{RESULTS}/{REPORT}"] * shown.report
    tables = [f"{RESULTS}/{name}" for name in shown.tables]
    feedback = [f"{RESULTS}/feedback/{name}" for name in shown.feedback]
    return frozenset([*packages, *printed, *documents, *tables, *feedback])
