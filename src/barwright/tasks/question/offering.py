"""Other questions for one place, in words and drawn, so that they can be shown side by side."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from barwright.edits.applying import as_made, excerpts_in, excerpts_of, shown_order
from barwright.edits.others import MOST_OTHERS, Other, others
from barwright.errors import BarwrightError
from barwright.forms.assembly import form_ident, pattern_of
from barwright.items.form import Form
from barwright.pages import others_page
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.text import format_excerpt
from barwright.showing import shown
from barwright.tasks.files import with_ending, write_new
from barwright.tasks.packing import drawn_pictures
from barwright.tasks.progress import Progress, silent
from barwright.tasks.question.quiz import LEAST_OF_ID, NamedQuestion, StandingQuiz, Which, asked, standing_quiz
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import Picture, WordedForm

MOST = 12
NONE_LEFT = "no other question of its kind is left that no section has: teach more, or take another seed"


@dataclass(frozen=True, slots=True)
class OfferedOthers:
    """A question, and others that could stand in its place; `words` are the others in words, in the same order."""

    asked: NamedQuestion
    others: tuple[Other, ...]
    words: WordedForm
    pictures: dict[Figure, Picture]

    @property
    def lines(self) -> tuple[str, ...]:
        """The others to choose from, to be printed: id, rhythm, right answer, and what is not alike."""
        rows = []
        for other in self.others:
            keys = ", ".join(key.answer.text for key in other.item.keys)
            rows.append(f"{other.item.id}  {format_excerpt(other.item.excerpt)}  ->  {keys}  ({likeness(other)})")
        return (f"Instead of {self.asked.name} ({self.asked.placed.item.id}) could stand:", *rows)


def likeness(other: Other) -> str:
    """How like another question is to the one that make put there."""
    hard = "as hard" if not other.harder else f"{'harder' if other.harder > 0 else 'easier'} by {abs(other.harder)}"
    return f"{hard}; {other.unlike}" if other.unlike else hard


def offers(quiz: StandingQuiz, question: NamedQuestion, *, most: int = MOST_OTHERS) -> tuple[Other, ...]:
    """Other questions for the place of one, the likest first; BarwrightError where there is none."""
    seen = quiz.avoid | excerpts_of(quiz.forms) | excerpts_in(quiz.changes)
    pattern = pattern_of(as_made(question.form), quiz.blueprint)
    likest = others(question.form.items, question.at, pattern, seen=seen, retired=quiz.changes.never, most=most)
    if not likest:
        raise BarwrightError(f"{question.name}: {NONE_LEFT}")
    return likest


def taken(likest: Sequence[Other], take: str, question: NamedQuestion) -> Other:
    """The one whose id begins so; the first where nothing is said. BarwrightError if there is none, or several."""
    if not take:
        return likest[0]
    hits = [other for other in likest if other.item.id.startswith(take.strip().lower())]
    if len(take) < LEAST_OF_ID or len(hits) != 1:
        why = "is too short" if len(take) < LEAST_OF_ID else "is the id of none of the others"
        raise BarwrightError(f"--take {shown(take)} {why} for {question.name}: see barwright question others")
    return hits[0]


def offered(folder: Path, which: Which, *, most: int = MOST_OTHERS, progress: Progress = silent) -> OfferedOthers:
    """What could stand in the place of a question, with pictures; BarwrightError where nothing is left."""
    if not 1 <= most <= MOST:
        raise BarwrightError(f"--most {most}: use 1 to {MOST}")
    quiz = standing_quiz(folder, which.blueprint)
    question = asked(quiz, which)
    likest = offers(quiz, question, most=most)
    words = worded_form(_form_of(question, likest))
    conventions = question.placed.item.conventions
    return OfferedOthers(question, likest, words, drawn_pictures([words], conventions, quiz.font, progress=progress))


def _form_of(question: NamedQuestion, likest: Sequence[Other]) -> Form:
    """The others as a form, each as it would stand in its place."""
    here = question.placed.as_made
    placed = tuple(
        replace(here, item=other.item, order=shown_order(here, other.item), number=question.placed.number)
        for other in likest
    )
    return replace(question.form, items=placed, ident=form_ident(question.form.title, placed))


def write_page(offer: OfferedOthers, path: Path, *, replace_it: bool) -> Path:
    """Writes the others as a page to look at side by side, and gives back where it lies."""
    target = with_ending(path, (".html", ".htm"), "a page is HTML")
    notes = [(other.item.id, likeness(other)) for other in offer.others]
    write_new(target, others_page(offer.words, offer.pictures, notes, offer.asked.name), replace=replace_it)
    return target
