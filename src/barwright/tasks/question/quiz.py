"""A quiz folder as it stands, with the blueprint that it was made from: what `barwright question` looks at."""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.names import folder_name
from barwright.blueprint.parsing import read_blueprint
from barwright.edits.applying import as_made, excerpts_of, spots_of
from barwright.edits.changes import NOTHING, Changes, Spot
from barwright.edits.reading import MOST_BYTES, read_changes
from barwright.errors import BarwrightError
from barwright.items.form import Form, FormItem
from barwright.showing import meant, shown
from barwright.tasks.excerpts import avoided, with_excerpts
from barwright.tasks.files import read_text
from barwright.tasks.form_folders import RECORD
from barwright.tasks.paths import real_path
from barwright.tasks.record import read_all_forms, read_record_text, recorded_font
from barwright.tasks.saying import listed
from barwright.tasks.sections import with_sections
from barwright.tasks.standing import check_same_plan, label

QUESTIONS = "questions.toml"
LEAST_OF_ID = 4
_NUMBER = re.compile(r"([0-9]{1,3})([a-z]?)")
_IDENT = re.compile(rf"[0-9a-f]{{{LEAST_OF_ID},16}}")


@dataclass(frozen=True, slots=True)
class Which:
    """A question as the command line names it: by number (with `draw` and a letter, as 3b) or by the start of its id.

    `section` empty and `retake` None: not said. `blueprint` None: the one that the folder has its name from. `seen`:
    the print (`print_of_quiz`) of the quiz in which it was seen, where that matters.
    """

    question: str
    section: str = ""
    retake: int | None = None
    blueprint: Path | None = None
    seen: str = ""


@dataclass(frozen=True, slots=True)
class StandingQuiz:
    """The forms of a quiz folder as they are, and the earlier ones; its changes, as text, too.

    `font`: what its figures are drawn with. `avoid`: the excerpts that no other question may be about.
    """

    folder: Path
    blueprint: Blueprint
    forms: tuple[Form, ...]
    earlier: tuple[Form, ...]
    text: str
    changes: Changes
    font: str
    avoid: frozenset[str]


@dataclass(frozen=True, slots=True)
class NamedQuestion:
    """A question that was named: its form, and the index of its item there."""

    form: Form
    at: int

    @property
    def placed(self) -> FormItem:
        """The item in its place."""
        return self.form.items[self.at]

    @property
    def spot(self) -> Spot:
        """Where `make` put it."""
        return spots_of(self.form)[self.at]

    @property
    def name(self) -> str:
        """What it is called in messages."""
        return f"question {self.placed.number} of {label(self.form)}"


def print_of_quiz(folder: Path) -> str:
    """A short hash of the record of a quiz and its changes, by which a page tells which questions it shows."""
    digest = hashlib.sha256(read_record_text(folder / RECORD).encode())
    digest.update(changes_text(folder).encode())
    return digest.hexdigest()[:16]


def check_seen(folder: Path, seen: str) -> None:
    """BarwrightError if a quiz is not as it was when it had this print; nothing is said where that is empty."""
    if seen and print_of_quiz(folder) != seen:
        raise BarwrightError(
            f"{folder} was changed elsewhere since this page was shown, so nothing was written: look at it anew"
        )


def changes_text(folder: Path) -> str:
    """The file of changes in a quiz folder as text; empty where there is none."""
    path = folder / QUESTIONS
    return read_text(path, most=MOST_BYTES, kind="file of changes") if path.is_file() else ""


def changes_of(folder: Path) -> tuple[str, Changes]:
    """The file of changes in a quiz folder, as text and read; nothing where there is none. BlueprintError if faulty."""
    text = changes_text(folder)
    return text, read_changes(text, str(folder / QUESTIONS)) if text else NOTHING


def standing_quiz(folder: Path, blueprint: Path | None = None) -> StandingQuiz:
    """The quiz of a folder; BarwrightError if it has no record, or was made from another blueprint."""
    record = folder / RECORD
    if not record.is_file():
        raise BarwrightError(f"{record} is missing: give the quiz folder that make wrote, e.g. out/unit-3")
    path = blueprint or blueprint_of(folder)
    plan, _ = read_blueprint(read_text(path), str(path))
    plan = with_sections(with_excerpts(plan, path), path)
    told = read_record_text(record)
    every = read_all_forms(told, str(record))
    forms = tuple(form for form in every if not form.earlier)
    earlier = tuple(form for form in every if form.earlier)
    check_same_plan([as_made(form) for form in forms], plan, path, folder)
    plan = plan.with_measured(dict(forms[0].measured))
    text, changes = changes_of(folder)
    avoid = excerpts_of(earlier) | avoided(plan, path)
    return StandingQuiz(folder, plan, forms, earlier, text, changes, recorded_font(told, str(record)), avoid)


def blueprint_of(folder: Path) -> Path:
    """The blueprint that a quiz folder has its name from, in the folder above its own or the one above that.

    BarwrightError where there is none, or more than one.
    """
    real = real_path(folder)
    near = [path for above in list(real.parents)[:2] for path in sorted(above.glob("*.toml"))]
    blueprints = [path for path in near if (folder_name(path.stem) or "quiz") == real.name]
    if len(blueprints) != 1:
        why = (
            f"{listed(map(str, blueprints), 'and')} have its name" if blueprints else "no blueprint of its name is near"
        )
        raise BarwrightError(f"{folder}: {why}: say from which it was made, with --blueprint FILE")
    return blueprints[0]


def asked(quiz: StandingQuiz, which: Which) -> NamedQuestion:
    """The question that is meant; BarwrightError if there is none, or if it may be several."""
    forms = forms_meant(quiz, which)
    name = which.question.strip().lower()
    if match := _NUMBER.fullmatch(name):
        return _by_number(forms, int(match[1]), match[2], which)
    if not _IDENT.fullmatch(name):
        raise BarwrightError(
            f"question {shown(which.question)}: give its number, or {LEAST_OF_ID} letters or more of its id"
        )
    questions = [
        NamedQuestion(form, at) for form in forms for at, each in enumerate(form.items) if each.item.id.startswith(name)
    ]
    if not questions:
        raise BarwrightError(f"no question here has the id {shown(which.question)}: see barwright question show")
    if len(questions) > 1:
        ids = {each.placed.item.id for each in questions}
        mend = "give more of it" if len(ids) > 1 else "say in which with --section and --retake"
        raise BarwrightError(f"the id {shown(which.question)} is that of {len(questions)} questions: {mend}")
    return questions[0]


def kinds_of(quiz: StandingQuiz, spot: Spot, placed: FormItem) -> tuple[str, ...]:
    """Which changes a question has, as `question back --what` names them."""
    changes = quiz.changes
    held = {
        "another": bool(changes.exchanged(spot.whose, placed.as_made.item.id)),
        "keep": spot in changes.keeps,
        "points": (*spot.whose, spot.place) in changes.points,
        "move": spot.whose in changes.orders,
        "wording": placed.item.id in changes.words,
    }
    return tuple(kind for kind, there in held.items() if there)


def forms_meant(quiz: StandingQuiz, which: Which) -> Sequence[Form]:
    """The forms of the section and retake that are named; all where none is. BarwrightError if it is not there."""
    sections = {form.section.casefold(): form.section for form in quiz.forms}
    if which.section and which.section.casefold() not in sections:
        mend = meant(which.section, sections.values(), "barwright question show names them all")
        raise BarwrightError(f"section {shown(which.section)} is not in {quiz.folder}{mend}")
    named = [f for f in quiz.forms if not which.section or f.section == sections[which.section.casefold()]]
    forms = [form for form in named if which.retake in (None, form.retake)]
    if not forms:
        whose = f" of {shown(which.section)}" if which.section else ""
        raise BarwrightError(f"{quiz.folder} has no retake {which.retake}{whose}")
    return forms


def _by_number(forms: Sequence[Form], number: int, letter: str, which: Which) -> NamedQuestion:
    quiz = [form for form in forms if not form.retake] if which.retake is None else list(forms)
    if len(quiz) != 1:
        names = listed([shown(form.section) for form in quiz or forms], "or")
        raise BarwrightError(f"question {number} of which section? Give --section: {names}")
    form = quiz[0]
    places = [at for at, placed in enumerate(form.items) if placed.number == number]
    if not places:
        most = max(placed.number for placed in form.items)
        raise BarwrightError(f"{label(form)} has no question {number}: it has 1 to {most}")
    variant = ord(letter) - ord("a") if letter else 0
    if letter and (len(places) == 1 or variant >= len(places)):
        raise BarwrightError(f"question {number} of {label(form)} has no variant {letter}: see barwright question show")
    if not letter and len(places) > 1:
        last = chr(ord("a") + len(places) - 1)
        raise BarwrightError(f"question {number} of {label(form)} has variants: say which, {number}a to {number}{last}")
    return NamedQuestion(form, places[variant])
