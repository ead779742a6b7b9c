"""What stands in a quiz folder already: the packages that `make` wrote into it, and which are to be written next."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from barwright.errors import BarwrightError
from barwright.items.forms import Form
from barwright.qti import WRITERS, Shape
from barwright.tasks.packing import RECORD, USUAL_STANDARDS, Kinds, Order, form_folder
from barwright.tasks.record import read_record, read_record_text


def old_forms(folder: Path) -> tuple[Form, ...]:
    """The forms that the record of a quiz folder tells of; none where there is no record that can be read."""
    try:
        return read_record(read_record_text(folder / RECORD), str(folder / RECORD))
    except BarwrightError:
        return ()


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


def ordered_kinds(order: Order, folder: Path) -> Kinds:
    """Every kind of package that the order asks for, in any of its forms."""
    old = old_forms(folder)
    sections = order.sections or tuple(dict.fromkeys(form.section for form in old)) or ("",)
    kinds = (kind for s in sections for kind in kinds_of(order, folder, old, s, order.retake))
    return tuple(dict.fromkeys(kinds))


def _kinds(folder: Path, forms: Sequence[Form]) -> Kinds:
    return tuple(dict.fromkeys(kind for form in forms for kind in _standing(folder, form)))


def _standing(folder: Path, form: Form) -> Iterator[tuple[str, Shape]]:
    for standard, writer in WRITERS.items():
        for shape, name in writer.files.items():
            if (folder / form_folder(form) / name).is_file():
                yield standard, shape


def stale_packages(folder: Path, old: Sequence[Form], kept: Sequence[Form], packages: Sequence[str]) -> tuple[str, ...]:
    """The packages of old forms that are neither kept nor written anew, as paths in the folder."""
    still = {form_folder(form) for form in kept}
    ours = (
        f"{form_folder(form)}/{WRITERS[standard].files[shape]}"
        for form in old
        if form_folder(form) not in still
        for standard, shape in _standing(folder, form)
    )
    return tuple(path for path in ours if path not in packages)
