"""From forms to the files of a quiz folder: pictures, packages, proof, key and record."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.engrave.draw import drawn_look
from barwright.engrave.font import DEFAULT, load_font
from barwright.engrave.look import Look, look
from barwright.errors import BarwrightError
from barwright.items.form import Form
from barwright.pages import key_page, proof_page
from barwright.qti import (
    WRITERS,
    PackageShape,
    written,
    zipped,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.showing import shown
from barwright.tasks.form_folders import RECORD, form_folder
from barwright.tasks.printing import NOTHING_PRINTED, Printed, one_variant, printed_files
from barwright.tasks.progress import Progress
from barwright.tasks.record import record_text
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import Picture, WordedForm, figures_of

USUAL_STANDARDS = ("cc13", "qti12")
SHAPES: dict[str, PackageShape] = {"quiz": "quiz", "bank": "bank"}
PROOF = "proof.html"

Kinds = tuple[tuple[str, PackageShape], ...]
"""Which packages: standard and shape of each."""
Curriculum = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Order:
    """What the teacher asked for beside the blueprint; standards and shapes that are empty were not said."""

    out: Path
    seed: int | None = None
    standards: tuple[str, ...] = ()
    shapes: tuple[PackageShape, ...] = ()
    sections: tuple[str, ...] = ()
    replace: bool = False
    music_font: str = DEFAULT
    retake: int = 0
    forget_retakes: bool = False
    allow_repeats: bool = False
    paper: bool = False


@dataclass(frozen=True, slots=True)
class Packed:
    """Files by path inside the quiz folder, the packages and the printed pages among them, the forms in words, and how
    many pictures. `one_variant`: how many questions have variants, of which paper shows the first."""

    files: dict[str, bytes]
    packages: tuple[str, ...]
    forms: tuple[WordedForm, ...]
    figures: int
    printed: tuple[str, ...] = ()
    one_variant: int = 0


def standards_of(names: Sequence[str] | None) -> tuple[str, ...]:
    """The standards of the command line, `all` spelled out, none if none is said; BarwrightError for an unknown one."""
    wanted = [s for name in names or () for s in (WRITERS if name == "all" else [name])]
    for name in wanted:
        if name not in WRITERS:
            raise BarwrightError(f"standard {shown(name)} is not known: use {', '.join(WRITERS)} or all")
    return tuple(dict.fromkeys(wanted))


def shapes_of(names: Sequence[str] | None) -> tuple[PackageShape, ...]:
    """The shapes of the command line, none if none is said; BarwrightError for an unknown one."""
    for name in names or ():
        if name not in SHAPES:
            raise BarwrightError(f"--as {shown(name)} is not known: use {' or '.join(SHAPES)}")
    return tuple(dict.fromkeys(SHAPES[name] for name in names or ()))


def packed(
    forms: Sequence[Form],
    kinds: Sequence[tuple[Form, tuple[str, PackageShape]]],
    curriculum: Curriculum,
    printed: Printed = NOTHING_PRINTED,
    earlier: Sequence[Form] = (),
    *,
    music_font: str,
    progress: Progress,
) -> Packed:
    """The packages of these kinds of new forms, those of them that are printed, and proof, key and record of all forms.

    `earlier`: the forms that others took the place of, for the record.
    """
    worded = {(form.section, form.retake): worded_form(form) for form in forms}
    shown = tuple(worded.values())
    pictures = drawn_pictures(shown, forms[0].items[0].item.conventions, music_font, progress=progress)
    files: dict[str, bytes] = {}
    for done, (form, (standard, shape)) in enumerate(kinds, start=1):
        entries = written(worded[form.section, form.retake], pictures, standard=standard, shape=shape)
        files[f"{form_folder(form)}/{WRITERS[standard].files[shape]}"] = zipped(entries)
        progress("packages", done, len(kinds))
    packages = tuple(files)
    pdfs = printed_files(printed, worded, music_font, progress=progress)
    files |= pdfs
    files[PROOF] = proof_page(shown, pictures)
    files["key.html"] = key_page(shown, pictures)
    record = record_text([*forms, *earlier], curriculum, (shown, pictures), music_font=music_font)
    files[RECORD] = record.encode()
    return Packed(files, packages, shown, len(pictures), tuple(pdfs), one_variant(printed.forms))


def first_to_import(packages: Sequence[str]) -> str:
    """The package that is tried first: Common Cartridge 1.3 if there is one, which most platforms read."""
    usual = WRITERS[USUAL_STANDARDS[0]].files.values()
    return next((path for path in packages if path.rpartition("/")[2] in usual), packages[0])


def drawn_pictures(
    forms: Sequence[WordedForm], conventions: Conventions, music_font: str, *, progress: Progress
) -> dict[Figure, Picture]:
    """Every figure, drawn once if others look alike; file names are hashes of the picture, so they tell nothing."""
    font = load_font(music_font)
    wanted = dict.fromkeys(figure for form in forms for figure in figures_of(form))
    pictures = {}
    alike: dict[Look, Picture] = {}
    for done, figure in enumerate(wanted, start=1):
        seen = look(figure, conventions)
        picture = alike.get(seen)
        if picture is None:
            png, width_px, height_px = drawn_look(seen, font)
            picture = alike[seen] = Picture(f"{hashlib.sha256(png).hexdigest()[:16]}.png", png, width_px, height_px)
        pictures[figure] = picture
        progress("figures", done, len(wanted))
    return pictures
