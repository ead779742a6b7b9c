"""`sheet`: a page of practice for the lesson before a quiz, and its key."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.counting.counts import count_labels
from barwright.engrave.font import load_font
from barwright.engrave.smufl import MusicFont
from barwright.errors import BlueprintError, CapacityError, OutputError
from barwright.forms.assembly import made_forms
from barwright.forms.practice import Practice, practice
from barwright.items.form import Changes, Form
from barwright.items.item import Item
from barwright.paper.drawing import Drawing
from barwright.paper.sheets import Exercise, PracticePage, sheet_data
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt, Figure, fragment
from barwright.rhythm.measure import Symbols
from barwright.rhythm.text import parse_symbols
from barwright.tasks.files import write_new
from barwright.tasks.make import folder_of, sound_blueprint
from barwright.tasks.own_wording import own_wording
from barwright.tasks.packing import Order
from barwright.tasks.paper_drawings import counted_drawing, plain_drawing, unparted_drawing
from barwright.tasks.progress import Progress, silent
from barwright.tasks.standing import old_forms
from barwright.wording.alt_text import spoken
from barwright.wording.counting_rules import rules_of_all
from barwright.wording.language import Language, words_for
from barwright.wording.own_counts import said_row

SHEET, SHEET_KEY = "-practice.pdf", "-practice-key.pdf"


@dataclass(frozen=True, slots=True)
class WrittenSheet:
    """What was written, and how many forms of the quiz the page spares; `made`: whether a record told of them."""

    page: Path
    key: Path
    forms: int
    made: bool


def sheet(path: Path, order: Order, *, progress: Progress = silent) -> WrittenSheet:
    """Writes the page and its key beside the quiz's folder; BlueprintError with all faults, OutputError if one exists.

    The excerpts of every form in the quiz's record are left out; without a record, those of the forms that `make` would
    make now.
    """
    from barwright.paper.typesetting import typeset  # a large library, which other commands do without

    blueprint, source = sound_blueprint(path, order, progress=progress)
    folder = folder_of(path, order)
    made = old_forms(folder)
    try:
        forms = made or tuple(each.form for each in made_forms(blueprint, progress=_items(progress)))
        exercises = practice(blueprint, _excerpts(forms), seed=blueprint.seed)
    except CapacityError as error:
        raise BlueprintError([source.fault(("part",), str(error))]) from error
    page = practice_page(exercises, blueprint, load_font(order.music_font), own_wording(blueprint, path).changes)
    paths = [folder.with_name(folder.name + end) for end in (SHEET, SHEET_KEY)]
    for target in paths:
        if target.exists() and not order.replace:
            raise OutputError(f"{target} exists: give --replace to write it anew, or another folder with --out")
    for target, key in zip(paths, (False, True), strict=True):
        write_new(target, typeset(sheet_data(page, blueprint.quiz.paper, key=key)), replace=order.replace)
    return WrittenSheet(paths[0], paths[1], len(forms), bool(made))


def _items(progress: Progress) -> Callable[[int, int], None]:
    return lambda done, of: progress("items", done, of)


def _excerpts(forms: Sequence[Form]) -> tuple[Excerpt, ...]:
    return tuple(placed.item.excerpt for form in forms for placed in form.items)


def practice_page(exercises: Practice, blueprint: Blueprint, font: MusicFont, own: Changes = ()) -> PracticePage:
    """The exercises drawn and told, and how the class counts."""
    words = words_for(blueprint.languages[0], own)
    draw = _Pen(font, blueprint.all_conventions, words)
    return PracticePage(
        blueprint.title,
        words.code,
        [draw.completed(q.excerpt, parse_symbols(q.keys[0].text)) for q in exercises.complete],
        [draw.counted(item) for item in exercises.counts],
        [draw.parted(excerpt) for excerpt in exercises.barlines],
        rules_of_all(exercises.counts, words),
    )


@dataclass(frozen=True, slots=True)
class _Pen:
    """Draws exercises and their solutions in one font, under one class's conventions."""

    font: MusicFont
    conventions: Conventions
    words: Language

    def completed(self, excerpt: Excerpt, answer: Symbols) -> Exercise:
        """A measure with a blank, and the measure filled."""
        blank, full = Figure(excerpt), Figure(excerpt.filled(answer))
        return Exercise(self._plain(blank), self._told(blank), self._plain(full), self._told(full))

    def counted(self, item: Item) -> Exercise:
        """A rhythm with a line under each note and rest, and the counts on them."""
        figure = Figure(item.excerpt)
        drawing = counted_drawing(figure, self.font, self.conventions)
        row = said_row(count_labels(item.excerpt, self.conventions), self.conventions.counting, self.words)
        labels = tuple(label for measure in row for label in measure)
        return Exercise(drawing, self._told(figure), drawing, self._told(figure), labels)

    def parted(self, excerpt: Excerpt) -> Exercise:
        """A line without its barlines, and with them."""
        figure = Figure(excerpt)
        told = self._told(replace(fragment(excerpt.symbols, excerpt.meter), signature=True))
        unparted = unparted_drawing(figure, self.font, self.conventions)
        return Exercise(unparted, told, self._plain(figure), self._told(figure))

    def _plain(self, figure: Figure) -> Drawing:
        return plain_drawing(figure, self.font, self.conventions)

    def _told(self, figure: Figure) -> str:
        return spoken(figure, self.conventions, self.words)


def sheet_lines(done: WrittenSheet) -> tuple[str, ...]:
    """What was written, and what it was held against."""
    forms = f"{done.forms} form{'s' if done.forms != 1 else ''}"
    held = f"the {forms} in its record" if done.made else f"the {forms} that make would make now"
    return (f"Wrote {done.page} and {done.key}: nothing on it is asked in the quiz ({held}).",)
