"""The proof of a form as its page shows it: every question, what can be changed in it, and what could stand there."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from string import ascii_uppercase

from barwright.errors import BarwrightError, BlueprintError
from barwright.items.form import Form
from barwright.items.own_words import MOST_LETTERS
from barwright.pages import items_shown
from barwright.tasks.form_folders import RECORD
from barwright.tasks.packing import drawn_pictures
from barwright.tasks.progress import silent
from barwright.tasks.question.offering import offered
from barwright.tasks.question.quiz import QUESTIONS, Which, check_seen, print_of_quiz
from barwright.tasks.question.show import Row, show
from barwright.tasks.record import read_record_text, recorded_font
from barwright.tasks.shown.quiz import KEPT, forms_of
from barwright.tasks.standing import label
from barwright.wording.items_in_words import worded_form
from barwright.wording.side_by_side import Said, intro_of
from barwright.wording.worded import WordedForm, WordedItem, numbered


@dataclass(frozen=True, slots=True)
class Changeable:
    """What can be changed in a question: `done` is what was changed already, each with what it was before.

    `changes`: what can be taken back, as the command names it. `up` and `down`: the numbers that it can
    have next, 0 where there is none. `answers`: the wrong ones that a hint can be for, as the command names them, in
    words, and with their own hint if they have one; none where the quiz tells no hints.
    """

    done: tuple[tuple[str, str], ...]
    kept: bool
    points: int
    changes: tuple[str, ...]
    up: int
    down: int
    hints: bool
    stem: str
    hint: str
    answers: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class QuestionShown:
    """One question on the proof: its number (3b with variants), its id, its HTML, and what can be changed in it."""

    number: str
    item_id: str
    html: str
    change: Changeable | None = None


@dataclass(frozen=True, slots=True)
class ProofShown:
    """The proof of one form.

    `seen`: the print of the quiz that is shown. `fixed`: why nothing can be changed in it, a line each; empty if it can
    be. `unequal`: what is not alike in the forms. `never`: ids of what is never asked. `by_hand`: whether there is a
    file of changes, which may have been edited.
    """

    title: str
    label: str
    section: str
    retake: int
    intro: tuple[Said, ...]
    questions: tuple[QuestionShown, ...]
    seen: str
    fixed: tuple[str, ...] = ()
    unequal: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    by_hand: bool = False
    most_letters: int = MOST_LETTERS


@dataclass(frozen=True, slots=True)
class OtherShown:
    """A question that could stand in a place: its id, how much harder it is than what `make` put there and what
    else it has not in common with that, and how it looks as HTML.
    """

    item_id: str
    harder: int
    unlike: str
    html: str


def proof_shown(folder: Path, number: int, plan: Path | None) -> ProofShown | None:
    """The proof of the form with this number, from 1; None if there is none. `plan`: what the quiz was made
    from; without it nothing in the proof can be changed.
    """
    forms = forms_of(folder)
    if not 1 <= number <= len(forms):
        return None
    form = forms[number - 1]
    worded, articles = _articles(folder / RECORD, (folder / RECORD).stat().st_mtime_ns, number)
    questions = tuple(
        QuestionShown(f"{place}{variant}", item.item_id, html)
        for (place, variant, item), html in zip(numbered(worded), articles, strict=True)
    )
    proof = ProofShown(
        form.title, label(form), form.section, form.retake, _intro(worded), questions, print_of_quiz(folder),
        by_hand=(folder / QUESTIONS).is_file(),
    )  # fmt: skip
    if plan is None:
        return proof
    try:
        return _changeable(proof, folder, plan, worded.items)
    except BarwrightError as error:
        return replace(proof, fixed=error.faults if isinstance(error, BlueprintError) else (str(error),))


def articles_by_number(folder: Path, number: int) -> dict[str, str]:
    """How each question of the form with this number (from 1) looks on its proof as HTML, by its own number (3b)."""
    worded, articles = _articles(folder / RECORD, (folder / RECORD).stat().st_mtime_ns, number)
    places = (f"{place}{variant}" for place, variant, _ in numbered(worded))
    return dict(zip(places, articles, strict=True))


def _intro(form: WordedForm) -> tuple[Said, ...]:
    """The paragraphs before the questions, each with its language: the page around them is in another, it may be."""
    return tuple(replace(said, language=said.language or form.language) for said in intro_of(form))


@lru_cache(KEPT)
def _articles(record: Path, _changed: int, number: int) -> tuple[WordedForm, tuple[str, ...]]:
    form = forms_of(record.parent)[number - 1]
    worded = worded_form(form)
    font = recorded_font(read_record_text(record), str(record))
    pictures = drawn_pictures([worded], form.items[0].item.conventions, font, progress=silent)
    return worded, items_shown(worded, pictures)


def _changeable(proof: ProofShown, folder: Path, plan: Path, items: Sequence[WordedItem]) -> ProofShown:
    shown = show(folder, Which("", proof.section, proof.retake, plan))
    ((form, rows),) = shown.forms
    last = max(placed.number for placed in form.items)
    changes = (_change(form, row, item, last) for row, item in zip(rows, items, strict=True))
    questions = tuple(replace(each, change=what) for each, what in zip(proof.questions, changes, strict=True))
    return replace(proof, questions=questions, unequal=shown.unequal, never=shown.never)


def _change(form: Form, row: Row, item: WordedItem, last: int) -> Changeable:
    placed = row.placed
    number, words = placed.number, placed.words
    return Changeable(
        done=tuple(_done(row)),
        kept=row.kept,
        points=placed.points,
        changes=row.changes,
        up=number - 1,
        down=number + 1 if number < last else 0,
        hints=form.feedback,
        stem=words.stem,
        hint=words.hint,
        answers=tuple(_answers(row, item)) if form.feedback else (),
    )


def _done(row: Row) -> Iterator[tuple[str, str]]:
    """What was changed in a question, each with what it was before."""
    made = row.placed.as_made
    if row.kept:
        yield "kept", ""
    if row.exchanged:
        yield "exchanged", made.item.id
    if row.moved:
        yield "moved", str(made.number)
    if row.valued:
        yield "points", ""
    if row.worded:
        yield "words", ""


def _answers(row: Row, item: WordedItem) -> list[tuple[str, str, str]]:
    choices = [row.placed.item.choices[index] for index in row.placed.order]
    lettered = item.interaction != "entry" and not item.foreseen
    wrong = []
    for letter, choice in zip(ascii_uppercase, choices, strict=False):
        if choice in row.placed.item.wrong:
            own = dict(row.placed.words.hints).get(choice.answer.text, "")
            name = letter if lettered else choice.answer.text
            wrong.append((letter, name, own))
    return wrong


def others_shown(folder: Path, proof: ProofShown, number: str, plan: Path, seen: str) -> tuple[OtherShown, ...]:
    """What could stand in the place of a question of a proof, to be looked at side by side.

    BarwrightError where nothing is left, or if the quiz is not as it was `seen`, which is its print.
    """
    check_seen(folder, seen)
    offer = offered(folder, Which(number, proof.section, proof.retake, plan))
    articles = items_shown(offer.words, offer.pictures)
    return tuple(
        OtherShown(other.item.id, other.harder, other.unlike, html)
        for other, html in zip(offer.others, articles, strict=True)
    )
