"""`make`: a blueprint becomes forms, figures, packages, proof, key and record."""

import hashlib
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from barwright.engrave.draw import drawn
from barwright.engrave.font import DEFAULT, load_font
from barwright.errors import BarwrightError, BlueprintError
from barwright.items.assembly import MadeForm, made_forms, spread
from barwright.items.blueprint import Blueprint
from barwright.items.blueprint_faults import examined, folder_name, told
from barwright.items.blueprint_lines import Source
from barwright.pages import key_page, proof_page
from barwright.qti import WRITERS, Shape, written, zipped
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.tasks.capacity import capacity_faults
from barwright.tasks.files import check_free, read_text, write_folder
from barwright.tasks.record import record_text
from barwright.tasks.sections import with_sections
from barwright.wording.forms import worded_form
from barwright.wording.model import Picture, WordedForm, figures_of

USUAL_STANDARDS = ("cc13", "qti12")
SHAPES: dict[str, Shape] = {"quiz": "quiz", "bank": "bank"}


def standards_of(names: Sequence[str] | None) -> tuple[str, ...]:
    """The standards of the command line, `all` spelled out; BarwrightError for an unknown one."""
    wanted = [s for name in names or USUAL_STANDARDS for s in (WRITERS if name == "all" else [name])]
    for name in wanted:
        if name not in WRITERS:
            raise BarwrightError(f"standard {name!r} is not known: use {', '.join(WRITERS)} or all")
    return tuple(dict.fromkeys(wanted))


def shapes_of(names: Sequence[str] | None) -> tuple[Shape, ...]:
    """The shapes of the command line; BarwrightError for an unknown one."""
    for name in names or ():
        if name not in SHAPES:
            raise BarwrightError(f"--as {name!r} is not known: use {' or '.join(SHAPES)}")
    return tuple(dict.fromkeys(SHAPES[name] for name in names or ("quiz",)))


Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Order:
    """What the teacher asked for beside the blueprint."""

    out: Path
    seed: int | None = None
    standards: tuple[str, ...] = USUAL_STANDARDS
    shapes: tuple[Shape, ...] = ("quiz",)
    sections: tuple[str, ...] = ()
    replace: bool = False
    music_font: str = DEFAULT


@dataclass(frozen=True, slots=True)
class Made:
    """What was written, and the forms for a summary; `figures` and `png_bytes` count different pictures once."""

    folder: Path
    files: tuple[str, ...]
    forms: tuple[MadeForm, ...]
    figures: int
    png_bytes: int


def make(path: Path, order: Order, *, progress: Progress) -> Made:
    """Builds and writes everything; BlueprintError with all faults, or OutputError, before any work."""
    blueprint, _ = sound_blueprint(path, order)
    folder = order.out / (folder_name(path.stem) or "quiz")
    check_free(folder, replace=order.replace)
    made = made_forms(blueprint, progress=lambda done, of: progress("items", done, of))
    worded = tuple(worded_form(each.form) for each in made)
    pictures = drawn_pictures(worded, blueprint.house, order.music_font, progress=progress)
    files = _package_files(worded, pictures, order, progress)
    files["proof.html"] = proof_page(worded, pictures)
    files["key.html"] = key_page(worded, pictures)
    curriculum = {k: tuple(v) for k, v in blueprint.curriculum.items()}
    files["record.jsonl"] = record_text(blueprint.title, [m.form for m in made], curriculum).encode()
    write_folder(folder, files, replace=order.replace)
    return Made(folder, tuple(files), made, len(pictures), sum(len(p.png) for p in pictures.values()))


def sound_blueprint(path: Path, order: Order) -> tuple[Blueprint, Source]:
    """The blueprint of a file with the order's seed; BlueprintError with every fault, capacity included."""
    blueprint, source, faults = examined(read_text(path), str(path))
    if blueprint is not None:
        faults = [*faults, *capacity_faults(blueprint)]
    if faults or blueprint is None:
        raise BlueprintError(told(faults, source))
    blueprint = with_sections(blueprint, path)
    if order.seed is not None:
        blueprint = blueprint.model_copy(update={"seed": order.seed})
    for name in order.sections:
        if name not in blueprint.sections:
            known = ", ".join(map(repr, blueprint.sections))
            raise BarwrightError(f"section {name!r} is not in {path}: use {known}")
    return blueprint, source


def drawn_pictures(
    forms: Sequence[WordedForm], house: Conventions, music_font: str, *, progress: Progress
) -> dict[Figure, Picture]:
    """Every different figure drawn once; file names are hashes of the picture, so they tell nothing."""
    font = load_font(music_font)
    wanted = dict.fromkeys(figure for form in forms for figure in figures_of(form))
    pictures = {}
    for done, figure in enumerate(wanted, start=1):
        png, width_px, height_px = drawn(figure, font, house)
        name = f"{hashlib.sha256(png).hexdigest()[:16]}.png"
        pictures[figure] = Picture(name, png, width_px, height_px)
        progress("figures", done, len(wanted))
    return pictures


def _package_files(
    forms: Sequence[WordedForm], pictures: dict[Figure, Picture], order: Order, progress: Progress
) -> dict[str, bytes]:
    wanted = [(f, s, shape) for f in forms for s in order.standards for shape in order.shapes]
    files = {}
    for done, (form, standard, shape) in enumerate(wanted, start=1):
        entries = written(form, pictures, standard=standard, shape=shape)
        files[f"{folder_name(form.section)}/{WRITERS[standard].files[shape]}"] = zipped(entries)
        progress("packages", done, len(wanted))
    return files


MOST_SPREAD = 0.05


def summary(made: Made) -> tuple[str, ...]:
    """A table of the forms: items, mean difficulty, misreadings on offer, excerpts shared; and what was bent."""
    width = max(len("form"), *(len(each.form.section) for each in made.forms))
    lines = [f"{'form':<{width}}  items  mean difficulty  misreadings (twice or more)  excerpts shared"]
    for each in made.forms:
        offered = each.tally.offered
        often = sum(count >= 2 for count in offered.values())
        lines.append(
            f"{each.form.section:<{width}}  {len(each.form.items):>5}  {float(each.difficulty):>15.2f}  "
            f"{f'{len(offered)} ({often})':>27}  {len(each.shared):>15}"
        )
    if len(made.forms) > 1:
        lines.append(f"Mean difficulties lie {float(spread(made.forms)):.1%} apart (aim: at most {MOST_SPREAD:.0%}).")
    for each in made.forms:
        lines += [f"{each.form.section}: bent for want of excerpts: {bent}" for bent in each.bent]
    return tuple(lines)


def judgements(made: Made) -> tuple[str, ...]:
    """How many items the judge saw and refused, with the reasons, for --verbose."""
    refused: Counter[str] = Counter()
    for each in made.forms:
        refused += each.tally.refused
    seen = sum(each.tally.judged for each in made.forms)
    short = sum(each.tally.short for each in made.forms)
    lines = [f"judge: {seen} items seen, {refused.total()} refused; {short} excerpts had too few wrong answers"]
    lines += [f"  {count} x {reason}" for reason, count in refused.most_common()]
    offered: Counter[str] = Counter()
    for each in made.forms:
        offered += each.tally.offered
    lines.append("misreadings on offer, all sections:")
    lines += [f"  {count} x {misreading}" for misreading, count in sorted(offered.items())]
    return tuple(lines)
