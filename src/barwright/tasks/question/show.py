"""`question show`: the questions of a quiz with their numbers and ids, and what was changed in each."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from barwright.edits.applying import spots_of
from barwright.items.form import Form, FormItem
from barwright.rhythm.text import format_excerpt
from barwright.tasks.question.quiz import StandingQuiz, Which, forms_meant, kinds_of, standing_quiz
from barwright.tasks.question.unequal import unequal_lines
from barwright.tasks.saying import counted
from barwright.tasks.standing import label


@dataclass(frozen=True, slots=True)
class Row:
    """A question as it stands: `number` with the letter of a variant, and what was changed in it.

    `changes`: which of them can be taken back, see `kinds_of`.
    """

    number: str
    placed: FormItem
    kept: bool
    exchanged: bool
    moved: bool
    valued: bool
    worded: bool
    changes: tuple[str, ...]

    @property
    def marks(self) -> str:
        """What was changed, in words; empty if nothing was."""
        made = self.placed.as_made
        said = {
            "kept": self.kept,
            f"in place of {made.item.id}": self.exchanged,
            f"made as {made.number}": self.moved,
            "own points": self.valued,
            "own words": self.worded,
        }
        return ", ".join(word for word, true in said.items() if true)


@dataclass(frozen=True, slots=True)
class ShownQuiz:
    """The forms of a quiz, a row for each question; what is unequal in them; the ids of what is never asked."""

    forms: tuple[tuple[Form, tuple[Row, ...]], ...]
    unequal: tuple[str, ...]
    never: tuple[str, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """All of it, to be printed."""
        return tuple(self._lines())

    def _lines(self) -> Iterator[str]:
        for form, rows in self.forms:
            yield f"{label(form)}:"
            width = max(len(row.number) for row in rows)
            asks = max(len(row.placed.item.ask) for row in rows)
            for row in rows:
                item, worth = row.placed.item, counted(row.placed.points, "point")
                marks = f"  [{row.marks}]" if row.marks else ""
                yield (
                    f"{row.number:>{width + 2}}  {item.id}  {item.ask:<{asks}}  {worth}  "
                    f"{format_excerpt(item.excerpt)}{marks}"
                )
        yield from (f"Never asked: {ident}" for ident in self.never)
        yield from self.unequal


def show(folder: Path, which: Which) -> ShownQuiz:
    """The questions of a quiz folder; BarwrightError as `standing_quiz`. `which.question` is not looked at."""
    quiz = standing_quiz(folder, which.blueprint)
    forms = tuple((form, tuple(_rows(form, quiz))) for form in forms_meant(quiz, which))
    return ShownQuiz(forms, unequal_lines(quiz.forms, quiz.blueprint), quiz.changes.refused)


def _rows(form: Form, quiz: StandingQuiz) -> Iterator[Row]:
    pools: dict[int, int] = {}
    for placed, spot in zip(form.items, spots_of(form), strict=True):
        place = pools[placed.number] = pools.get(placed.number, -1) + 1
        made = placed.as_made
        yield Row(
            f"{placed.number}{chr(ord('a') + place) if placed.pool else ''}",
            placed,
            kept=spot in quiz.changes.keeps,
            exchanged=placed.item != made.item,
            moved=placed.number != made.number,
            valued=placed.points != made.points,
            worded=bool(placed.words.texts),
            changes=kinds_of(quiz, spot, placed),
        )
