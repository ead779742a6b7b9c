"""What stands in a quiz folder already: the packages that `make` wrote into it, and which are to be written next."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path, PurePosixPath

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.names import folder_name
from barwright.errors import BarwrightError
from barwright.items.form import Form
from barwright.paper.forms import PaperSize
from barwright.qti import WRITERS, PackageShape
from barwright.showing import shown
from barwright.tasks.form_folders import RECORD, form_folder
from barwright.tasks.packing import PROOF, USUAL_STANDARDS, Kinds, Order
from barwright.tasks.printing import PDFS, Printed
from barwright.tasks.record import read_all_forms, read_record_text
from barwright.tasks.saying import listed

MOST_TOLD = 6  # forms that a message names


def label(form: Form) -> str:
    """A form by its section, and its retake if it is one."""
    name = f"{form.section}, retake {form.retake}" if form.retake else form.section
    return f"{name}, earlier form {form.earlier}" if form.earlier else name


def old_forms(folder: Path) -> tuple[Form, ...]:
    """All forms that the record of a quiz folder tells of, earlier ones among them; none where none can be read."""
    try:
        return read_all_forms(read_record_text(folder / RECORD), str(folder / RECORD))
    except BarwrightError:
        return ()


def record_fault(folder: Path) -> str:
    """Why the record that stands in a quiz folder cannot be read; empty if it can be, or if there is none."""
    try:
        if (folder / RECORD).exists():
            read_all_forms(read_record_text(folder / RECORD), str(folder / RECORD))
    except OSError as error:
        return f"{folder / RECORD}: cannot be read ({error.strerror})"
    except BarwrightError as error:
        return str(error)
    return ""


def standing_forms(folder: Path) -> tuple[Form, ...]:
    """All forms of a quiz folder that is to be added to; BarwrightError where its record is missing or damaged."""
    path = folder / RECORD
    if not path.is_file():
        raise BarwrightError(
            f"{path} is missing, and no form can be added without it: make the quiz anew with --replace"
        )
    forms = read_all_forms(read_record_text(path), str(path))
    if all(form.retake or form.earlier for form in forms):
        raise BarwrightError(f"{path}: it tells of retakes only: make the quiz anew with --replace")
    return forms


def check_same_plan(old: Sequence[Form], blueprint: Blueprint, path: Path, folder: Path) -> None:
    """BarwrightError if the forms of a folder were made from another plan: a new one would not be parallel to them."""
    now = blueprint.prints
    changed = [key for key, print_ in now if any(dict(form.prints).get(key, print_) != print_ for form in old)]
    if not changed and any(
        placed.item.conventions != blueprint.all_conventions for form in old for placed in form.items
    ):
        changed = ["conventions"]
    asks = [part.ask for part in blueprint.part for _ in range(part.items)]
    if not changed and any(list({p.number: p.item.ask for p in form.items}.values()) != asks for form in old):
        changed = ["part"]
    if changed:
        raise BarwrightError(
            f"{folder} was made from another blueprint than {path} is now ({listed(changed, 'and')} changed), so a new "
            "form would not be parallel to the others: change that back, or make a new quiz with --out, or this one "
            "anew with --replace alone"
        )


def check_forgets_nothing(folder: Path, old: Sequence[Form], sections: Sequence[str]) -> None:
    """BarwrightError if a quiz that is made anew would forget forms that a class may have had.

    These are retakes, forms that others took the place of, and those of sections that the blueprint names no more.
    """
    now = {(section, 0, 0) for section in sections}
    names = [label(form) for form in old if (form.section, form.retake, form.earlier) not in now]
    if not old:
        places = {str(PurePosixPath(path).parent) for path in _unrecorded(folder, sections)}
        names = sorted(place for place in places if "/" in place)
    if names:
        more = [f"{len(names) - MOST_TOLD} more"] if len(names) > MOST_TOLD else []
        raise BarwrightError(
            f"{folder} holds what classes may have had, and --replace would forget it "
            f"({'; '.join([*names[:MOST_TOLD], *more])}): make one form alone anew with --section, or another quiz "
            "with --out; to forget it all the same give --forget-retakes as well"
        )


def carried_on(before: Sequence[Form], fresh: Sequence[Form]) -> tuple[Form, ...]:
    """The earlier forms of a quiz with those that fresh ones with other questions take the place of."""
    earlier = [form for form in before if form.earlier]
    for new in fresh:
        same = [form for form in before if (form.section, form.retake) == (new.section, new.retake)]
        last = max((form.earlier for form in same), default=0)
        earlier += [replace(form, earlier=last + 1) for form in same if not form.earlier and form.ident != new.ident]
    return tuple(earlier)


def check_own_folders(sections: Sequence[str], kept: Sequence[Form]) -> None:
    """BarwrightError for a section whose folder another section of the quiz has."""
    for section in sections:
        for form in kept:
            if form.section != section and folder_name(form.section) == folder_name(section):
                raise BarwrightError(
                    f"section {shown(section)} would have the folder of {shown(form.section)}, which the "
                    f"quiz has already: "
                    "write it as before, or give it a name of its own"
                )


def kinds_of(order: Order, folder: Path, old: Sequence[Form], section: str, retake: int) -> Kinds:
    """The standards and shapes of a form's packages: as ordered, else those it has, else those of its neighbours.

    Of what is not ordered, a form that is made again keeps what lies in its folder; a retake takes after the section's
    quiz, and a new section after the other forms.
    """
    own = [f for f in old if (f.section, f.retake) == (section, retake)]
    quiz = [f for f in old if f.section == section and not f.retake]
    had = next((kinds for forms in (own, quiz, old) if (kinds := _kinds(folder, forms))), ())
    if not order.standards and not order.shapes and had:
        return had
    standards = order.standards or tuple(dict.fromkeys(s for s, _ in had)) or USUAL_STANDARDS
    shapes = order.shapes or tuple(dict.fromkeys(s for _, s in had)) or ("quiz",)
    return tuple((standard, shape) for standard in standards for shape in shapes)


def printed_of(order: Order, folder: Path, old: Sequence[Form], fresh: Sequence[Form], paper: PaperSize) -> Printed:
    """The new forms that are printed: all if it is ordered, or if the quiz has printed forms already."""
    return Printed(tuple(fresh) if are_printed(order, folder, old) else (), paper)


def are_printed(order: Order, folder: Path, old: Sequence[Form]) -> bool:
    """Whether new forms are printed: it is ordered, or the quiz has printed forms already."""
    return order.paper or any((folder / form_folder(form) / name).is_file() for form in old for name in PDFS)


def ordered_kinds(order: Order, folder: Path) -> Kinds:
    """Every kind of package that the order asks for, in any of its forms."""
    old = old_forms(folder)
    sections = order.sections or tuple(dict.fromkeys(form.section for form in old)) or ("",)
    kinds = (kind for s in sections for kind in kinds_of(order, folder, old, s, order.retake))
    return tuple(dict.fromkeys(kinds))


def _kinds(folder: Path, forms: Sequence[Form]) -> Kinds:
    return tuple(dict.fromkeys(kind for form in forms for kind in _standing(folder, form)))


def _standing(folder: Path, form: Form) -> Iterator[tuple[str, PackageShape]]:
    for standard, writer in WRITERS.items():
        for shape, name in writer.files.items():
            if (folder / form_folder(form) / name).is_file():
                yield standard, shape


def _unrecorded(folder: Path, sections: Sequence[str]) -> Iterator[str]:
    """The packages and printed pages of these sections in a folder that `make` once wrote, as the proof in it shows."""
    if not (folder / PROOF).is_file():
        return
    names = sorted({*PDFS, *(name for writer in WRITERS.values() for name in writer.files.values())})
    for section in sections:
        place = folder / folder_name(section)
        retakes = sorted(path for path in place.glob("retake-*") if path.name.removeprefix("retake-").isdecimal())
        paths = (each / name for each in (place, *retakes) for name in names)
        yield from (path.relative_to(folder).as_posix() for path in paths if path.is_file())


def stale_packages(
    folder: Path, old: Sequence[Form], kept: Sequence[Form], packages: Sequence[str], sections: Sequence[str]
) -> tuple[str, ...]:
    """The packages and printed pages of old forms that are neither kept nor written anew, as paths in the folder.

    Where no record tells of old forms, the packages in the folders of these sections and their retakes are of old ones.
    """
    if not old:
        return tuple(path for path in _unrecorded(folder, sections) if path not in packages)
    still = {form_folder(form) for form in kept}
    ours = (
        f"{form_folder(form)}/{WRITERS[standard].files[shape]}"
        for form in old
        if form_folder(form) not in still
        for standard, shape in _standing(folder, form)
    )
    printed = (f"{form_folder(form)}/{name}" for form in old if form_folder(form) not in still for name in PDFS)
    pages = (path for path in printed if (folder / path).is_file())
    return tuple(path for path in (*ours, *pages) if path not in packages)
