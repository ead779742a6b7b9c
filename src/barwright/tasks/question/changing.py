"""How a quiz folder is changed in single questions: the file of changes is edited, then all forms follow from it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.edits.applying import as_made, with_changes
from barwright.edits.changes import Changes
from barwright.edits.reading import read_changes
from barwright.edits.writing import ChangesText
from barwright.errors import BarwrightError, BlueprintError
from barwright.items.form import Form
from barwright.showing import in_quotes
from barwright.tasks.accommodations import Accommodated, left_of, standing_accommodations, with_versions
from barwright.tasks.folders import HeldFolder, changing
from barwright.tasks.packing import Order, packed
from barwright.tasks.progress import Progress, silent
from barwright.tasks.question.giveaways import own_faults
from barwright.tasks.question.quiz import (
    QUESTIONS,
    NamedQuestion,
    StandingQuiz,
    Which,
    asked,
    check_seen,
    standing_quiz,
)
from barwright.tasks.question.unequal import unequal_lines
from barwright.tasks.saying import counted, quoted
from barwright.tasks.standing import kinds_of, label, printed_of

Edit = Callable[[StandingQuiz, NamedQuestion, ChangesText], str]
"""What a command does to the text of the changes for a question; it says what that was."""
WholeEdit = Callable[[StandingQuiz, ChangesText], str]


@dataclass(frozen=True, slots=True)
class Changed:
    """What was done to a quiz folder.

    `told`: what was done, in words. `forms`: those that are not as before, as they are now. `packages`: which were
    written. `unequal` and `idle`: what is not alike in the forms, and what of the changes has no effect; `before` is
    what was unequal already.
    """

    folder: Path
    told: str
    forms: tuple[Form, ...] = ()
    packages: tuple[str, ...] = ()
    unequal: tuple[str, ...] = ()
    idle: tuple[str, ...] = ()
    before: tuple[str, ...] = ()

    @property
    def news(self) -> tuple[str, ...]:
        """What was done, and what of the unequal was not so before."""
        return (self.told, *(line for line in self.unequal if line not in self.before), *self.idle)

    @property
    def lines(self) -> tuple[str, ...]:
        """What was done and what is new of it, to be printed."""
        new = [line for line in self.unequal if line not in self.before]
        old = len(self.unequal) - len(new)
        still = f"Unequal since before: {counted(old, 'thing')}; barwright question show {quoted(self.folder)} tells."
        return (self.told, *new, *([still] if old else []), *self.idle)


def changed(folder: Path, which: Which, edit: Edit, *, progress: Progress = silent) -> Changed:
    """The folder after an edit of one question; BarwrightError, and nothing is changed, for whatever is wrong."""

    def whole(quiz: StandingQuiz, text: ChangesText) -> str:
        return edit(quiz, asked(quiz, which), text)

    return changed_by(folder, which, whole, progress=progress)


def changed_by(folder: Path, which: Which, edit: WholeEdit, *, progress: Progress = silent) -> Changed:
    """The folder after an edit that need not be about a question of the forms as they are; else as `changed`."""
    with changing(folder) as held:
        quiz = _held_quiz(held, which.blueprint, which.seen)
        text = ChangesText(quiz.text, str(folder / QUESTIONS))
        told = edit(quiz, text)
        return rewritten(held, quiz, text.text, told, progress=progress)


def edited(folder: Path, blueprint: Path | None, *, seen: str = "", progress: Progress = silent) -> Changed:
    """The folder after its file of changes was edited by hand: all forms follow from it. `seen` as in `Which`."""
    with changing(folder) as held:
        quiz = _held_quiz(held, blueprint, seen)
        if not quiz.text:
            raise BarwrightError(f"{folder / QUESTIONS} is missing, so there is nothing to apply")
        return rewritten(held, quiz, quiz.text, f"Applied {folder / QUESTIONS}.", progress=progress)


def _held_quiz(held: HeldFolder, blueprint: Path | None, seen: str) -> StandingQuiz:
    if held.exists:
        held.check_free(replace=True)
        check_seen(held.path, seen)
    return standing_quiz(held.path, blueprint)


def rewritten(held: HeldFolder, quiz: StandingQuiz, text: str, told: str, *, progress: Progress = silent) -> Changed:
    """Writes the text of the changes and every file that follows from it, all together or nothing."""
    changes = read_changes(text, str(quiz.folder / QUESTIONS))
    made = [as_made(form) for form in quiz.forms]
    applied = with_changes(made, changes, quiz.blueprint, standing=quiz.forms, avoid=quiz.avoid)
    check_words(applied.forms, changes, quiz.blueprint)
    fresh = [new for new, old in zip(applied.forms, quiz.forms, strict=True) if new != old]
    there = (held.real / QUESTIONS).is_file()
    files = {QUESTIONS: text.encode()} if text else {}
    gone = [QUESTIONS] if there and not text else []
    packages: tuple[str, ...] = ()
    if fresh:
        order, before = Order(quiz.folder), (*quiz.forms, *quiz.earlier)
        kinds = [(f, kind) for f in fresh for kind in kinds_of(order, held.real, before, f.section, f.retake)]
        curriculum = {key: tuple(codes) for key, codes in quiz.blueprint.curriculum.items()}
        on_paper = printed_of(order, held.real, before, fresh, quiz.blueprint.quiz.paper)
        asked = {(f.section, f.retake): standing_accommodations(held.real, f) for f in quiz.forms}
        versions = Accommodated(asked, fresh, quiz.blueprint, bool(on_paper.forms))
        result = packed(
            applied.forms, kinds, curriculum, on_paper, quiz.earlier, music_font=quiz.font, progress=progress,
            left=left_of(applied.forms, versions),
        )  # fmt: skip
        result = with_versions(result, kinds, versions, music_font=quiz.font, progress=progress)
        files |= result.files
        packages = (*result.packages, *result.printed, *result.versions)
    if files or gone:
        held.write(files, gone=gone)
    unequal = unequal_lines(applied.forms, quiz.blueprint)
    old = unequal_lines(quiz.forms, quiz.blueprint)
    return Changed(quiz.folder, told, tuple(fresh), packages, unequal, applied.idle, old)


def check_words(forms: Sequence[Form], changes: Changes, blueprint: Blueprint) -> None:
    """BlueprintError, a line each, for own words that give something away or leave out what must be said."""
    if faults := list(_word_faults(forms, changes, blueprint)):
        raise BlueprintError(dict.fromkeys(faults))


def _word_faults(forms: Sequence[Form], changes: Changes, blueprint: Blueprint) -> Iterator[str]:
    for form in forms:
        for placed in form.items:
            for fault in own_faults(placed, form, blueprint):
                line = changes.lines.get(placed.item.id, 1)
                where = f"question {placed.number} of {in_quotes(label(form))}"
                yield f"{changes.name}, line {line}: {where}, {fault}"
