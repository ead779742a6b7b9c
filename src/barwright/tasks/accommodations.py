"""Versions of a form for accommodations: the files of each, in a folder of its own inside that of the form.

The items are the form's own, with their identifiers, numbers and letters: one key serves all versions, and answers to
any of them are read as answers to the form. Nothing here knows of a student.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.engrave.font import load_font
from barwright.forms.lessened import choices_left, numbers_left
from barwright.items.accommodations import (
    ACCOMMODATIONS,
    CODES,
    Accommodation,
    accommodation_folder,
    version_ident,
)
from barwright.items.form import Form
from barwright.pages import read_aloud_page
from barwright.paper.forms import USUAL_LOOK, PaperLook, PaperSize, quiz_data
from barwright.qti import WRITERS, PackageShape, written, zipped
from barwright.qti.package_content import PLACING
from barwright.rhythm.excerpt import Figure
from barwright.tasks.crews import HERE, Crew
from barwright.tasks.form_folders import form_folder
from barwright.tasks.packing import USUAL_SIZE, FigureSize, Packed, drawn_pictures
from barwright.tasks.paper_drawings import USUALLY, DrawnAs, form_drawings
from barwright.tasks.printing import QUIZ_PDF
from barwright.tasks.progress import Progress, silent
from barwright.tasks.record import RecordedLeft
from barwright.tasks.saying import listed
from barwright.wording.aloud import braille_lines, script_lines
from barwright.wording.items_in_words import worded_form
from barwright.wording.language import words_of
from barwright.wording.lessened import with_choices, with_numbers
from barwright.wording.on_paper import paper_form
from barwright.wording.worded import WordedForm, figures_of

Asked = Mapping[tuple[str, int], tuple[Accommodation, ...]]
"""The accommodations of each form, by section and retake."""
READ_ALOUD_PAGE, READ_ALOUD_TEXT, BRAILLE_TEXT = "read-aloud.html", "read-aloud.txt", "braille.txt"
VERSION_FILES = (
    QUIZ_PDF,
    READ_ALOUD_PAGE,
    READ_ALOUD_TEXT,
    BRAILLE_TEXT,
    *(name for writer in WRITERS.values() for name in writer.files.values()),
)


@dataclass(frozen=True, slots=True)
class Version:
    """How the forms of an accommodation are made: how pages and figures look, and which standards can say it in which
    shapes (none named: all).
    """

    look: PaperLook = USUAL_LOOK
    drawn_as: DrawnAs = USUALLY
    size: FigureSize = USUAL_SIZE
    kinds: tuple[tuple[str, PackageShape], ...] = ()


# Large print: text of 18 points and more, a staff space of 2.5 mm on paper and 4.2 mm on screen, one column.
VERSIONS: Mapping[Accommodation, Version] = {
    "large_print": Version(
        PaperLook(zoom=1.64, strips_apart=True), DrawnAs(widest=50.0), FigureSize(sp_px=16, widest=40.0)
    ),
    "high_contrast": Version(PaperLook(thick=1.7), DrawnAs(heavy=True), FigureSize(heavy=True)),
    "one_a_page": Version(PaperLook(one_a_page=True, strips_apart=True), kinds=(("qti22", "quiz"), ("qti30", "quiz"))),
    "fewer_choices": Version(),
    "fewer_items": Version(),
}
"""Those with packages and pages; the others are texts."""
_PAGED_FILES = {WRITERS[standard].files[shape] for standard, shape in VERSIONS["one_a_page"].kinds}


@dataclass(frozen=True, slots=True)
class Accommodated:
    """Which versions there are of every form, and for which forms they are written now; `paper`: on which sheets."""

    asked: Asked
    fresh: Sequence[Form]
    blueprint: Blueprint
    printed: bool

    @property
    def paper(self) -> PaperSize:
        """The sheets of the plan."""
        return self.blueprint.quiz.paper


def version_lines(packed: Packed, names: Sequence[Accommodation]) -> tuple[str, ...]:
    """What to tell of the versions that were written, and of what cannot be said in a standard."""
    folders = tuple(dict.fromkeys(path.rpartition("/")[0] for path in packed.versions))
    lines = []
    if folders:
        first, more = folders[0].rpartition("/")[0], len({folder.rpartition("/")[0] for folder in folders}) > 1
        kinds = listed(tuple(dict.fromkeys(folder.rpartition("/")[2] for folder in folders)), "and")
        lines.append(
            f"Versions in {first}{', and so for each form' if more else ''}: {kinds}. Questions keep their numbers and "
            "choices their letters, so one key serves all, and answers are read together."
        )
    older = {path.rpartition("/")[2] for path in packed.packages} - _PAGED_FILES
    if "one_a_page" in names and older:
        lines.append(
            "one-a-page: only QTI 2.2 and 3.0 can set each question apart in a quiz; Common Cartridge, QTI 1.2 and "
            "banks have no such thing, so it has no packages of these."
        )
    return tuple(lines)


def standing_accommodations(folder: Path, form: Form) -> tuple[Accommodation, ...]:
    """Those that lie in the folder of a form already."""
    own = folder / form_folder(form)
    return tuple(
        name
        for name in ACCOMMODATIONS
        if any((own / accommodation_folder(name) / file).is_file() for file in VERSION_FILES)
    )


def standing_files(folder: Path, forms: Sequence[Form]) -> tuple[str, ...]:
    """The files of the versions of these forms, as paths in the folder of the quiz."""
    paths = (
        f"{form_folder(form)}/{accommodation_folder(name)}/{file}"
        for form in forms
        for name in ACCOMMODATIONS
        for file in VERSION_FILES
    )
    return tuple(path for path in paths if (folder / path).is_file())


def asked_of(
    wanted: Sequence[Accommodation], folder: Path, before: Sequence[Form], sections: Sequence[str], retake: int
) -> Asked:
    """The accommodations of the forms that stand, and of those that are made of these sections: as wanted, and what
    the form, or else the quiz of its section, or else other forms have already.
    """
    standing = {(f.section, f.retake): standing_accommodations(folder, f) for f in before if not f.earlier}
    everywhere = {name for names in standing.values() for name in names}
    asked = dict(standing)
    for section in sections:
        had = standing.get((section, retake)) or standing.get((section, 0)) or tuple(everywhere)
        asked[section, retake] = tuple(name for name in ACCOMMODATIONS if name in (*wanted, *had))
    return asked


def left_of(forms: Sequence[Form], accommodated: Accommodated) -> RecordedLeft:
    """What the record tells of versions with fewer choices or items."""
    found: dict[tuple[str, int], dict[str, dict[str, object]]] = {}
    for form in forms:
        names = accommodated.asked.get((form.section, form.retake), ())
        mine: dict[str, dict[str, object]] = {placed.item.id: {} for placed in form.items}
        if "fewer_choices" in names:
            for ident, kept in _idents_left(form, accommodated.blueprint).items():
                mine[ident]["fewer_choices"] = list(kept)
        if "fewer_items" in names:
            numbers = numbers_left(form, accommodated.blueprint)
            for placed in form.items:
                mine[placed.item.id]["fewer_items"] = placed.number in numbers
        found[form.section, form.retake] = mine
    return found


def _idents_left(form: Form, blueprint: Blueprint) -> dict[str, tuple[str, ...]]:
    """For each item that loses a choice the idents of those that stay, as packages name them."""
    left = choices_left(form, blueprint)
    return {
        placed.item.id: tuple(f"c{n}" for n, place in enumerate(placed.order, start=1) if place in left[placed.item.id])
        for placed in form.items
        if len(left[placed.item.id]) < len(placed.order)
    }


def with_versions(
    made: Packed,
    kinds: Sequence[tuple[Form, tuple[str, PackageShape]]],
    accommodated: Accommodated,
    *,
    music_font: str,
    progress: Progress,
    crew: Crew = HERE,
) -> Packed:
    """What was packed, and beside it the versions of the fresh forms, with packages as the forms have."""
    orders = [
        _Order(
            form,
            name,
            tuple(kind for each, kind in kinds if each is form),
            accommodated,
            music_font,
            _names_of(form, made),
        )
        for form in accommodated.fresh
        for name in accommodated.asked.get((form.section, form.retake), ())
    ]
    if not orders:
        return made
    files: dict[str, bytes] = {}
    for done, version in enumerate(crew.mapped(_version_files, orders), start=1):
        files |= version
        progress("versions", done, len(orders))
    return replace(made, files=made.files | files, versions=tuple(files))


def _names_of(form: Form, made: Packed) -> dict[Figure, str]:
    """What the packages of a form call its pictures."""
    words = next(words for words in made.forms if words.ident == form.ident)
    return {figure: made.picture_names[figure] for figure in figures_of(words)}


@dataclass(frozen=True, slots=True)
class _Order:
    """One version of one form to be made; its pictures are called as the form's, so that results name them alike."""

    form: Form
    name: Accommodation
    kinds: tuple[tuple[str, PackageShape], ...]
    accommodated: Accommodated
    music_font: str
    picture_names: Mapping[Figure, str]


def _version_files(order: _Order) -> dict[str, bytes]:
    """The files of a version by their paths inside the folder of the quiz."""
    name, folder = order.name, f"{form_folder(order.form)}/{accommodation_folder(order.name)}"
    if name in ("read_aloud", "braille_text"):
        return {f"{folder}/{file}": data for file, data in _texts(order.form, name).items()}
    form = _form_of(order)
    worded = _numbered(worded_form(form), form)
    files = _packages(order, form, worded)
    if order.accommodated.printed:
        files[QUIZ_PDF] = _pdf(order, form, worded)
    return {f"{folder}/{file}": data for file, data in files.items()}


def _texts(form: Form, name: Accommodation) -> dict[str, bytes]:
    worded = worded_form(form)
    on_paper = paper_form(form, worded)
    if name == "braille_text":
        return {BRAILLE_TEXT: _text(braille_lines(_typed(on_paper, worded)))}
    return {READ_ALOUD_PAGE: read_aloud_page(on_paper), READ_ALOUD_TEXT: _text(script_lines(on_paper))}


def _typed(on_paper: WordedForm, on_screen: WordedForm) -> WordedForm:
    """The form of paper, since nothing can be dragged, with the screen's words where an answer is picked or typed."""
    typed = {item.ident: replace(item, pool="") for item in on_screen.items if item.interaction not in PLACING}
    items = tuple(typed.get(item.ident, item) for item in on_paper.items)
    return replace(on_screen, items=items)


def _text(lines: Sequence[str]) -> bytes:
    return "".join(f"{line}\n" for line in lines).encode()


def _form_of(order: _Order) -> Form:
    """The form with the items that the version has."""
    if order.name != "fewer_items":
        return order.form
    kept = numbers_left(order.form, order.accommodated.blueprint)
    return replace(order.form, items=tuple(placed for placed in order.form.items if placed.number in kept))


def _numbered(worded: WordedForm, form: Form) -> WordedForm:
    return with_numbers(worded, [placed.number for placed in form.items])


def _lessened(worded: WordedForm, order: _Order) -> WordedForm:
    if order.name != "fewer_choices":
        return worded
    return with_choices(worded, _idents_left(order.form, order.accommodated.blueprint))


def _packages(order: _Order, form: Form, worded: WordedForm) -> dict[str, bytes]:
    version = VERSIONS[order.name]
    kinds = [kind for kind in order.kinds if not version.kinds or kind in version.kinds]
    if not kinds:
        return {}
    called = words_of(form).text("paper", "version", {"title": worded.called, "code": CODES[order.name]})
    shown_form = replace(
        _lessened(worded, order),
        ident=version_ident(form.ident, order.name),
        name=called,
        one_a_page=order.name == "one_a_page",
    )
    conventions = form.items[0].item.conventions
    drawn = drawn_pictures([shown_form], conventions, order.music_font, progress=silent, size=version.size)
    pictures = {figure: replace(picture, name=order.picture_names[figure]) for figure, picture in drawn.items()}
    return {
        WRITERS[standard].files[shape]: zipped(written(shown_form, pictures, standard=standard, shape=shape))
        for standard, shape in kinds
    }


def _pdf(order: _Order, form: Form, worded: WordedForm) -> bytes:
    from barwright.paper.typesetting import typeset  # a large library, which a quiz without paper never needs

    version = VERSIONS[order.name]
    on_paper = _lessened(paper_form(form, worded, apart=version.look.strips_apart), order)
    conventions = form.items[0].item.conventions
    drawings = form_drawings(on_paper, load_font(order.music_font), conventions, version.drawn_as)
    return typeset(quiz_data(on_paper, drawings, order.accommodated.paper, version.look))
