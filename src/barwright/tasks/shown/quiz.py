"""A made quiz as its pages show it: its forms with their packages, and every question of a form as on the proof."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from barwright.engrave.font import DEFAULT
from barwright.items.form import Form
from barwright.pages import items_shown
from barwright.qti import WRITERS
from barwright.tasks.form_folders import form_folder
from barwright.tasks.packing import PROOF, RECORD, drawn_pictures, first_to_import
from barwright.tasks.progress import silent
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
    """One form: its number on the page, what it is called, and its packages."""

    number: int
    label: str
    section: str
    retake: int
    questions: int
    points: int
    packages: tuple[Package, ...]


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


@dataclass(frozen=True, slots=True)
class QuestionShown:
    """One question on the proof: its place in the form, its id, and how it looks, as HTML."""

    number: int
    item_id: str
    html: str


@dataclass(frozen=True, slots=True)
class ProofShown:
    """The proof of one form."""

    title: str
    label: str
    section: str
    retake: int
    intro: tuple[str, ...]
    questions: tuple[QuestionShown, ...]


def quiz_shown(folder: Path) -> QuizShown:
    """What a quiz folder holds; BarwrightError for a record that is damaged."""
    forms = _forms(folder)
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


def _forms(folder: Path) -> tuple[Form, ...]:
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
    return FormShown(number, label(form), form.section, form.retake, *worths, packages)


def proof_shown(folder: Path, number: int) -> ProofShown | None:
    """The proof of the form with this number, from 1; None if there is none."""
    path = folder / RECORD
    return _proof(path, path.stat().st_mtime_ns, number)


@lru_cache(KEPT)
def _proof(path: Path, changed: int, number: int) -> ProofShown | None:
    forms = _read(path, changed)
    if not 1 <= number <= len(forms):
        return None
    form = forms[number - 1]
    worded = worded_form(form)
    pictures = drawn_pictures([worded], form.items[0].item.conventions, DEFAULT, progress=silent)
    articles = items_shown(worded, pictures)
    questions = tuple(
        QuestionShown(placed.number, item.item_id, html)
        for placed, item, html in zip(form.items, worded.items, articles, strict=True)
    )
    return ProofShown(form.title, label(form), form.section, form.retake, worded.intro, questions)


def downloads(shown: QuizShown) -> frozenset[str]:
    """Every file of a quiz that a page offers, as paths in its folder."""
    packages: Sequence[str] = [package.path for form in shown.forms for package in form.packages]
    documents = [PROOF] * shown.proof + [KEY] * shown.key + [f"{RESULTS}/{REPORT}"] * shown.report
    tables = [f"{RESULTS}/{name}" for name in shown.tables]
    feedback = [f"{RESULTS}/feedback/{name}" for name in shown.feedback]
    return frozenset([*packages, *documents, *tables, *feedback])
