"""From forms to the files of a quiz folder: pictures, packages, proof, key and record."""

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from barwright.engrave.draw import SP_PX, drawn_look
from barwright.engrave.font import DEFAULT, load_font
from barwright.engrave.look import Look, look
from barwright.engrave.places import SYSTEM_WIDTH
from barwright.errors import BarwrightError
from barwright.items.accommodations import ACCOMMODATIONS, Accommodation
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
from barwright.showing import meant, shown
from barwright.tasks.crews import HERE, Crew
from barwright.tasks.form_folders import RECORD, form_folder
from barwright.tasks.printing import NOTHING_PRINTED, Printed, one_variant, printed_files
from barwright.tasks.progress import Progress
from barwright.tasks.record import NOTHING_LEFT_OUT, RecordedLeft, record_text
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import Picture, Pictures, WordedForm, figures_of

USUAL_STANDARDS = ("cc13", "qti12")
SHAPES: dict[str, PackageShape] = {"quiz": "quiz", "bank": "bank"}
PROOF, KEY = "proof.html", "key.html"
SHARES = 4  # of the figures, that each worker draws: few enough to be worth sending, so many that none waits long


@dataclass(frozen=True, slots=True)
class FigureSize:
    """How figures of packages are drawn: the staff space on screen in pixels, the width of a line in staff spaces at
    most, and whether strokes are thicker.
    """

    sp_px: int = SP_PX
    widest: float = SYSTEM_WIDTH
    heavy: bool = False


USUAL_SIZE = FigureSize()
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
    accommodations: tuple[Accommodation, ...] = ()


@dataclass(frozen=True, slots=True)
class Packed:
    """Files by path inside the quiz folder, the packages and the printed pages among them, the forms in words, and how
    many pictures. `one_variant`: how many questions have variants, of which paper shows the first. `versions`: files
    of accommodations. `picture_names`: what packages call the pictures."""

    files: dict[str, bytes]
    packages: tuple[str, ...]
    forms: tuple[WordedForm, ...]
    figures: int
    printed: tuple[str, ...] = ()
    one_variant: int = 0
    versions: tuple[str, ...] = ()
    picture_names: Mapping[Figure, str] = field(default_factory=dict)


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


def accommodations_of(names: Sequence[str] | None) -> tuple[Accommodation, ...]:
    """The accommodations of the command line, in the order of the table; BarwrightError for an unknown one."""
    wanted = [name.replace("-", "_") for name in names or ()]
    for name in wanted:
        if name not in ACCOMMODATIONS:
            mend = meant(name, ACCOMMODATIONS, f"use {', '.join(ACCOMMODATIONS)}")
            raise BarwrightError(f"--for {shown(name)} is not known{mend}")
    return tuple(each for each in ACCOMMODATIONS if each in wanted)


def packed(
    forms: Sequence[Form],
    kinds: Sequence[tuple[Form, tuple[str, PackageShape]]],
    curriculum: Curriculum,
    printed: Printed = NOTHING_PRINTED,
    earlier: Sequence[Form] = (),
    *,
    music_font: str,
    progress: Progress,
    crew: Crew = HERE,
    left: RecordedLeft = NOTHING_LEFT_OUT,
) -> Packed:
    """The packages of these kinds of new forms, those of them that are printed, and proof, key and record of all forms.

    `earlier`: the forms that others took the place of, for the record. `left`: for the record, too. `crew`: who words,
    draws and packs.
    """
    shown = tuple(crew.mapped(worded_form, forms))
    worded = {(form.section, form.retake): words for form, words in zip(forms, shown, strict=True)}
    conventions = forms[0].items[0].item.conventions
    pictures = drawn_pictures(shown, conventions, music_font, progress=progress, crew=crew)
    wanted = [(worded[form.section, form.retake], kind) for form, kind in kinds]
    pieces: list[_Piece] = [_Package(words, _own(words, pictures), *kind) for words, kind in wanted]
    pieces += [_Page(name, shown, pictures) for name in _PAGES]
    *zips, proof, key = crew.mapped(_written, pieces)
    files: dict[str, bytes] = {}
    for done, ((form, (standard, shape)), package) in enumerate(zip(kinds, zips, strict=True), start=1):
        files[f"{form_folder(form)}/{WRITERS[standard].files[shape]}"] = package
        progress("packages", done, len(kinds))
    packages = tuple(files)
    pdfs = printed_files(printed, worded, music_font, progress=progress)
    files |= pdfs
    files |= {PROOF: proof, KEY: key}
    record = record_text([*forms, *earlier], curriculum, (shown, pictures), music_font=music_font, left=left)
    files[RECORD] = record.encode()
    named = {figure: picture.name for figure, picture in pictures.items()}
    pdfs_of = (tuple(pdfs), one_variant(printed.forms))
    return Packed(files, packages, shown, len(pictures), *pdfs_of, picture_names=named)


@dataclass(frozen=True, slots=True)
class _Package:
    """A package to be written: a form in words, its pictures, the standard and the shape."""

    form: WordedForm
    pictures: Pictures
    standard: str
    shape: PackageShape


@dataclass(frozen=True, slots=True)
class _Page:
    """A page to be written, by its name."""

    name: str
    forms: tuple[WordedForm, ...]
    pictures: Pictures


_Piece = _Package | _Page
_PAGES = {PROOF: proof_page, KEY: key_page}


def _written(piece: _Piece) -> bytes:
    if isinstance(piece, _Page):
        return _PAGES[piece.name](piece.forms, piece.pictures)
    return zipped(written(piece.form, piece.pictures, standard=piece.standard, shape=piece.shape))


def _own(form: WordedForm, pictures: Pictures) -> Pictures:
    """The pictures of one form."""
    return {figure: pictures[figure] for figure in figures_of(form)}


def first_to_import(packages: Sequence[str]) -> str:
    """The package that is tried first: Common Cartridge 1.3 if there is one, which most platforms read."""
    usual = WRITERS[USUAL_STANDARDS[0]].files.values()
    return next((path for path in packages if path.rpartition("/")[2] in usual), packages[0])


def drawn_pictures(
    forms: Sequence[WordedForm],
    conventions: Conventions,
    music_font: str,
    *,
    progress: Progress,
    crew: Crew = HERE,
    size: FigureSize = USUAL_SIZE,
) -> dict[Figure, Picture]:
    """Every figure, drawn once if others look alike; file names are hashes of the picture, so they tell nothing."""
    wanted = dict.fromkeys(figure for form in forms for figure in figures_of(form))
    looks = {figure: look(figure, conventions) for figure in wanted}
    alike = Counter(looks.values())
    pictures: dict[Look, Picture] = {}
    done = 0
    for shared, drawn in _all_drawn(tuple(alike), music_font, size, crew):
        pictures[shared] = drawn
        done += alike[shared]
        progress("figures", done, len(wanted))
    return {figure: pictures[looks[figure]] for figure in wanted}


@dataclass(frozen=True, slots=True)
class _Looks:
    """What several figures look like, the font they are drawn in, and how large."""

    looks: tuple[Look, ...]
    music_font: str
    size: FigureSize


def _all_drawn(
    looks: tuple[Look, ...], music_font: str, size: FigureSize, crew: Crew
) -> Iterator[tuple[Look, Picture]]:
    if crew.workers == 1:
        yield from _each_drawn(_Looks(looks, music_font, size))
        return
    share = max(1, -(-len(looks) // (crew.workers * SHARES)))
    shares = [_Looks(looks[begin : begin + share], music_font, size) for begin in range(0, len(looks), share)]
    for drawn in crew.mapped(_drawn, shares):
        yield from drawn


def _drawn(share: _Looks) -> list[tuple[Look, Picture]]:
    return list(_each_drawn(share))


def _each_drawn(share: _Looks) -> Iterator[tuple[Look, Picture]]:
    font, size = load_font(share.music_font), share.size
    for each in share.looks:
        png, width_px, height_px = drawn_look(each, font, sp_px=size.sp_px, widest=size.widest, heavy=size.heavy)
        yield each, Picture(f"{hashlib.sha256(png).hexdigest()[:16]}.png", png, width_px, height_px)
