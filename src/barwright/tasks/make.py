"""`make`: a blueprint becomes forms, figures, packages, proof, key and record; or one form, or a retake, is added."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from barwright.errors import BarwrightError, BlueprintError, CapacityError
from barwright.items.assembly import MadeForm, first_form, made_forms, parallel_form, pattern_of, spread
from barwright.items.blueprint import Blueprint
from barwright.items.blueprint_faults import examined, told
from barwright.items.blueprint_lines import Source
from barwright.items.forms import Form
from barwright.items.naming import folder_name
from barwright.items.stock import EMPTY, Stock
from barwright.rhythm.text import format_excerpt
from barwright.tasks.capacity import capacity_faults
from barwright.tasks.files import check_free, read_text, write_folder
from barwright.tasks.packing import RECORD, Order, Packed, Progress, form_folder, packed
from barwright.tasks.record import read_record, read_record_text
from barwright.tasks.sections import with_sections

MOST_SPREAD = 0.05  # of mean expected difficulty between the forms of a quiz


@dataclass(frozen=True, slots=True)
class Made:
    """What was written where, and the new forms for a summary."""

    folder: Path
    packed: Packed
    forms: tuple[MadeForm, ...]


def make(path: Path, order: Order, *, progress: Progress, stock: Stock = EMPTY) -> Made:
    """Builds and writes everything; BlueprintError with all faults, or OutputError, before any work.

    The forms of a new quiz are filled from the stock first. With sections in the order only those are made, and the
    others of a folder that exists stay byte for byte; with a retake, that retake of each section.
    """
    blueprint, source = sound_blueprint(path, order)
    folder = order.out / (folder_name(path.stem) or "quiz")
    again = folder.exists() and (order.sections or order.retake)
    if not again:
        check_free(folder, replace=order.replace)
    if order.retake and not again:
        raise BarwrightError(f"{folder} does not exist: make the quiz before its retakes")
    old = read_record(read_record_text(folder / RECORD), str(folder / RECORD)) if again else ()
    try:
        new = _made_again(blueprint, old, order, progress) if again else _made_first(blueprint, order, progress, stock)
    except CapacityError as error:
        raise BlueprintError([source.fault(("part", error.part - 1, "items"), str(error))]) from error
    forms = _merged(old, [made.form for made in new])
    curriculum = {k: tuple(v) for k, v in blueprint.curriculum.items()}
    result = packed(forms, [made.form for made in new], order, curriculum, progress)
    kept = _kept_files(folder, old, new) if again else {}
    write_folder(folder, {**kept, **result.files}, replace=True if again else order.replace)
    return Made(folder, result, new)


def sound_blueprint(path: Path, order: Order) -> tuple[Blueprint, Source]:
    """The blueprint of a file with the order's seed, and its lines; BlueprintError with every fault."""
    found = examined(read_text(path), str(path))
    blueprint = found.blueprint
    faults = [*found.faults, *(capacity_faults(blueprint, found.numbers) if blueprint is not None else ())]
    if faults or blueprint is None:
        raise BlueprintError(told(faults, found.source))
    blueprint = with_sections(blueprint, path)
    if order.seed is not None:
        blueprint = blueprint.model_copy(update={"seed": order.seed})
    for name in order.sections:
        if name not in blueprint.sections:
            known = ", ".join(map(repr, blueprint.sections))
            raise BarwrightError(f"section {name!r} is not in {path}: use {known}")
    return blueprint, found.source


def _made_first(blueprint: Blueprint, order: Order, progress: Progress, stock: Stock) -> tuple[MadeForm, ...]:
    made = made_forms(blueprint, progress=lambda done, of: progress("items", done, of), stock=stock)
    return tuple(each for each in made if not order.sections or each.form.section in order.sections)


def _made_again(blueprint: Blueprint, old: tuple[Form, ...], order: Order, progress: Progress) -> tuple[MadeForm, ...]:
    """The wanted forms, apart from every other form of the record."""
    sections = order.sections or tuple(f.section for f in old if not f.retake)
    if order.retake:
        _check_retake(old, sections, order)
    kept = [f for f in old if (f.retake, f.section) not in {(order.retake, s) for s in sections}]
    taken = {excerpt: _label(form) for form in kept for excerpt in _excerpts(form)}
    pattern, made = pattern_of(blueprint), []
    for number, section in enumerate(sections):
        seen = frozenset(e for form in old if form.section == section and order.retake for e in _excerpts(form))
        if section == blueprint.sections[0] and not order.retake:
            made.append(first_form(blueprint, section, taken=taken)[0])
        else:
            made.append(parallel_form(blueprint, pattern, section, taken=taken, retake=order.retake, never=seen))
        progress("forms", number + 1, len(sections))
    return tuple(made)


def _check_retake(old: tuple[Form, ...], sections: tuple[str, ...], order: Order) -> None:
    have = {(form.section, form.retake) for form in old}
    for section in sections:
        if (section, 0) not in have:
            raise BarwrightError(f"section {section!r} has no form yet: make it before its retake")
        if (section, order.retake) in have and not order.replace:
            raise BarwrightError(f"retake {order.retake} of {section!r} exists: give --replace to make it anew")


def _label(form: Form) -> str:
    return f"{form.section}, retake {form.retake}" if form.retake else form.section


def _excerpts(form: Form) -> tuple[str, ...]:
    return tuple(format_excerpt(placed.item.excerpt) for placed in form.items)


def _merged(old: tuple[Form, ...], new: list[Form]) -> tuple[Form, ...]:
    """The old forms with the new ones in their places, and those that are new altogether after them."""
    found = {(form.section, form.retake): form for form in (*old, *new)}
    return tuple(found.values())


def _kept_files(folder: Path, old: tuple[Form, ...], new: tuple[MadeForm, ...]) -> dict[str, bytes]:
    """The files of the forms that are not made again."""
    again = {form_folder(made.form) for made in new}
    places = [folder / form_folder(form) for form in old if form_folder(form) not in again]
    files = (file for place in places if place.is_dir() for file in sorted(place.iterdir()) if file.is_file())
    return {file.relative_to(folder).as_posix(): file.read_bytes() for file in files}


def summary(made: Made) -> tuple[str, ...]:
    """A table of the forms: items, mean difficulty, misreadings on offer, excerpts shared; and what was bent."""
    names = [_label(each.form) for each in made.forms]
    width = max(len("form"), *map(len, names))
    lines = [f"{'form':<{width}}  items  mean difficulty  misreadings (twice or more)  excerpts shared"]
    for name, each in zip(names, made.forms, strict=True):
        offered = each.tally.offered
        often = sum(count >= 2 for count in offered.values())
        lines.append(
            f"{name:<{width}}  {len(each.form.items):>5}  {float(each.difficulty):>15.2f}  "
            f"{f'{len(offered)} ({often})':>27}  {len(each.shared):>15}"
        )
    if len(made.forms) > 1:
        apart = float(spread(made.forms))
        lines.append(f"Mean difficulties lie {apart:.1%} apart (aim: at most {MOST_SPREAD:.0%}).")
        if apart > MOST_SPREAD:
            lines.append(
                f"Difficulty is {apart - MOST_SPREAD:.1%} over the aim: the excerpts that are left allow no better. "
                "Another seed, fewer items, or longer excerpts with `measures` help."
            )
    for name, each in zip(names, made.forms, strict=True):
        for bent, count in Counter(each.bent).items():
            lines.append(f"{name}: bent for want of excerpts{f' ({count} times)' if count > 1 else ''}: {bent}")
    return tuple(lines + [line for name, each in zip(names, made.forms, strict=True) for line in _unseen(name, each)])


def _unseen(name: str, made: MadeForm) -> Iterator[str]:
    """A line for each misreading that the blueprint wants first and that no item of the form offers."""
    for misreading in made.wanted:
        if not made.tally.offered[misreading]:
            yield f"{name}: {misreading} was asked for, and shows in no item: ask for more items or longer excerpts."


def judgements(made: Made) -> tuple[str, ...]:
    """How many items the judge saw and refused, with the reasons, for --verbose."""
    refused: Counter[str] = Counter()
    offered: Counter[str] = Counter()
    for each in made.forms:
        refused += each.tally.refused
        offered += each.tally.offered
    seen = sum(each.tally.judged for each in made.forms)
    short = sum(each.tally.short for each in made.forms)
    lines = [f"judge: {seen} items seen, {refused.total()} refused; {short} excerpts had too few wrong answers"]
    lines += [f"  {count} x {reason}" for reason, count in refused.most_common()]
    lines.append("misreadings on offer, all forms:")
    lines += [f"  {count} x {misreading}" for misreading, count in sorted(offered.items())]
    return tuple(lines)
