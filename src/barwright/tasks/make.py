"""`make`: a blueprint becomes forms, figures, packages, proof, key and record; or one form, or a retake, is added."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.names import folder_name
from barwright.blueprint.parsing import examined, told
from barwright.blueprint.toml_lines import Source
from barwright.edits.applying import as_made, excerpts_in, excerpts_of
from barwright.edits.changes import Changes
from barwright.errors import BarwrightError, BlueprintError
from barwright.forms.assembly import MadeForm
from barwright.forms.ready_items import EMPTY, Stock
from barwright.items.accommodations import ACCOMMODATIONS, Accommodation
from barwright.items.form import Form
from barwright.showing import MOST_NAMED, meant, shown
from barwright.tasks.accommodations import Accommodated, Asked, asked_of, left_of, standing_files, with_versions
from barwright.tasks.bank.measured import NOTHING, Measured
from barwright.tasks.capacity import capacity_faults, meter_faults
from barwright.tasks.crews import HERE, Crew
from barwright.tasks.excerpts import avoided, with_excerpts
from barwright.tasks.expressing import standard_faults
from barwright.tasks.files import read_text
from barwright.tasks.folders import HeldFolder, changing
from barwright.tasks.new_forms import drawn_forms, is_other
from barwright.tasks.own_wording import OwnWording, check_own_wording, own_wording
from barwright.tasks.packing import Kinds, Order, Packed, packed
from barwright.tasks.paths import folder_in
from barwright.tasks.printing import Printed
from barwright.tasks.progress import Progress, silent
from barwright.tasks.question.quiz import changes_of
from barwright.tasks.question.remaking import staying, with_teacher_changes
from barwright.tasks.sections import with_sections
from barwright.tasks.standing import (
    are_printed,
    carried_on,
    check_forgets_nothing,
    check_same_plan,
    kinds_of,
    label,
    old_forms,
    ordered_kinds,
    record_fault,
    stale_packages,
    standing_forms,
)

ALL = "the blueprint names them all"


@dataclass(frozen=True, slots=True)
class Made:
    """What was written where, the new forms for a summary, and the packages and forms that were taken away.

    `unread`: why the record of the quiz that stood there before could not be read; empty if it could. `measured`: a
    line on the counts of a bank by which the forms are kept equally hard; empty if there are none. `told`: what changes
    to single questions make unequal, and which of them have no effect. `accommodations`: those of the new forms.
    """

    folder: Path
    packed: Packed
    forms: tuple[MadeForm, ...]
    blueprint: Blueprint
    removed: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()
    unread: str = ""
    measured: str = ""
    told: tuple[str, ...] = ()
    accommodations: tuple[Accommodation, ...] = ()


def make(
    path: Path,
    order: Order,
    *,
    progress: Progress,
    stock: Stock = EMPTY,
    measured: Measured = NOTHING,
    crew: Crew = HERE,
) -> Made:
    """Builds and writes everything; BlueprintError with all faults, or OutputError, before any work.

    The forms of a new quiz are filled from the stock first. With sections in the order only those are made, and the
    others of a folder that exists stay byte for byte; with a retake, that retake of each section. What others put into
    the folder stays there. `measured`: what classes' answers say of difficulty; the record keeps it, and forms that are
    made later go by that. `crew`: who draws and packs.
    """
    with changing(folder_of(path, order)) as held:
        return made_in(held, path, order, progress=progress, stock=stock, measured=measured, crew=crew)


def made_in(
    held: HeldFolder,
    path: Path,
    order: Order,
    *,
    progress: Progress,
    stock: Stock = EMPTY,
    measured: Measured = NOTHING,
    crew: Crew = HERE,
) -> Made:
    """What `make` does, in the folder of the quiz, which is held: nobody changes it between reading and writing."""
    asking = asked_in(held, path, order, progress=progress, stock=stock, measured=measured)
    return written_in(held, asking, made_of(asking, progress=progress, crew=crew))


@dataclass(frozen=True, slots=True)
class Asking:
    """All that the forms of a quiz are made of, read while its folder is held; so they can be made anywhere.

    `before`: the forms that the folder holds, which are added to where it is `again`. `never`: excerpts that the
    blueprint avoids. `kinds`: the packages of each section. `on_paper`: whether forms are printed. `unread`,
    `measured`: as of `Made`. `own`: the sentences of the class. `asked`: the accommodations of each form.
    """

    path: Path
    folder: Path
    blueprint: Blueprint
    source: Source
    order: Order
    stock: Stock
    before: tuple[Form, ...]
    again: bool
    never: frozenset[str]
    changes: Changes
    kinds: Mapping[str, Kinds]
    on_paper: bool
    unread: str
    measured: str
    own: OwnWording
    asked: Asked

    @property
    def old(self) -> tuple[Form, ...]:
        """The forms that are there and count: none for a new quiz."""
        return tuple(form for form in self.before if not form.earlier) if self.again else ()


def asked_in(
    held: HeldFolder,
    path: Path,
    order: Order,
    *,
    progress: Progress = silent,
    stock: Stock = EMPTY,
    measured: Measured = NOTHING,
) -> Asking:
    """What is to be made in a folder that is held; BlueprintError or OutputError as `make`."""
    blueprint, source = sound_blueprint(path, order, progress=progress)
    return asking_in(held, path, order, blueprint, source, stock=stock, measured=measured)


def asking_in(
    held: HeldFolder,
    path: Path,
    order: Order,
    blueprint: Blueprint,
    source: Source,
    *,
    stock: Stock = EMPTY,
    measured: Measured = NOTHING,
) -> Asking:
    """What is to be made of a sound blueprint in a folder that is held."""
    own = own_wording(blueprint, path)
    folder, again = held.path, held.exists and bool(order.sections or order.retake)
    _check_free(held, order, again=again)
    unread = "" if again else record_fault(folder)
    before = standing_forms(folder) if again else old_forms(folder)
    blueprint = _as_hard(blueprint, before if again else (), measured, folder)
    if again:
        check_same_plan(tuple(map(as_made, before)), blueprint, path, folder)
    elif not order.forget_retakes:
        check_forgets_nothing(folder, before, blueprint.sections)
    sections = tuple(dict.fromkeys([*blueprint.sections, *(form.section for form in before)]))
    return Asking(
        path,
        folder,
        blueprint,
        source,
        order,
        stock,
        before,
        again,
        avoided(blueprint, path),
        changes_of(folder)[1],
        {section: kinds_of(order, folder, before, section, order.retake) for section in sections},
        are_printed(order, folder, before),
        unread,
        measured.told,
        own,
        asked_of((*order.accommodations, *blueprint.quiz.accommodations), folder, before, sections, order.retake),
    )


def _check_free(held: HeldFolder, order: Order, *, again: bool) -> None:
    """OutputError or BarwrightError where an order cannot be carried out in this folder."""
    check_order(order)
    held.check_free(replace=again or order.replace)
    if order.retake and not again:
        raise BarwrightError(f"{held.path} does not exist: make the quiz before its retakes")


def made_of(asking: Asking, *, progress: Progress = silent, crew: Crew = HERE) -> Made:
    """The forms and all files of a quiz, of nothing but what was asked: no file is opened, so any process can do it.

    BlueprintError where too little is left, or a form would be too poor to be fair. Pieces of packing go to the crew.
    """
    blueprint, order, before = asking.blueprint, asking.order, asking.before
    crew.warm()
    new, changed = _changed(asking, progress)
    said = asking.old[0].wording if asking.old else asking.own.changes  # forms of one quiz speak alike
    fresh = [replace(made.form, measured=tuple(blueprint.measured.items()), wording=said) for made in new]
    check_own_wording(fresh, asking.own, blueprint)
    forms = _merged(asking.old, fresh, blueprint.sections)
    kinds = [(form, kind) for form in fresh for kind in asking.kinds[form.section]]
    curriculum = {k: tuple(v) for k, v in blueprint.curriculum.items()}
    earlier = carried_on(before, fresh) if asking.again else ()
    printed = Printed(tuple(fresh) if asking.on_paper else (), blueprint.quiz.paper)
    versions = Accommodated(asking.asked, fresh, blueprint, asking.on_paper)
    result = packed(
        forms, kinds, curriculum, printed, earlier, music_font=order.music_font, progress=progress, crew=crew,
        left=left_of(forms, versions),
    )  # fmt: skip
    result = with_versions(result, kinds, versions, music_font=order.music_font, progress=progress, crew=crew)
    lost = _lost(before, (*forms, *earlier))
    names = {name for form in fresh for name in asking.asked.get((form.section, form.retake), ())}
    told = (asking.unread, asking.measured, changed, tuple(name for name in ACCOMMODATIONS if name in names))
    return Made(asking.folder, result, new, blueprint, (), lost, *told)


def written_in(held: HeldFolder, asking: Asking, made: Made) -> Made:
    """Writes what was made into the folder, which is held all the time, and says what was taken away there."""
    kept = staying(asking.old, [each.form for each in made.forms])
    files = (*made.packed.packages, *made.packed.printed, *made.packed.versions)
    gone = stale_packages(asking.folder, asking.before, kept, files, asking.blueprint.sections)
    still = {(form.section, form.retake) for form in kept}
    old = [form for form in asking.before if not form.earlier and (form.section, form.retake) not in still]
    gone += tuple(path for path in standing_files(asking.folder, old) if path not in files)
    held.write(made.packed.files, gone=gone)
    return replace(made, removed=gone)


def _changed(asking: Asking, progress: Progress) -> tuple[tuple[MadeForm, ...], tuple[str, ...]]:
    """The new forms with what the teacher changed in single questions, and what that makes unequal."""
    blueprint, order, before, changes = asking.blueprint, asking.order, asking.before, asking.changes
    plain = tuple(map(as_made, before)) if asking.again else ()  # as they were made; none for a new quiz
    never = asking.never
    if is_other(order) and plain:
        never |= excerpts_in(changes) | excerpts_of(before) - excerpts_of(plain)
    new = drawn_forms(blueprint, asking.source, order, progress, stock=asking.stock, never=never, before=plain)
    had = before if is_other(order) else [form for form in before if form.earlier]
    avoid = never | excerpts_of(had) if plain else never
    return with_teacher_changes(new, changes, blueprint, old=asking.old, avoid=avoid)


def _as_hard(blueprint: Blueprint, before: Sequence[Form], measured: Measured, folder: Path) -> Blueprint:
    """The blueprint as hard as answers of classes tell, or as the forms are to which others are added."""
    if before and measured.weights:
        raise BarwrightError(
            f"{folder} stays as hard as it is: leave --bank away, or make the quiz anew with --replace alone"
        )
    return blueprint.with_measured(dict(before[0].measured) if before else measured.weights)


def _lost(before: Sequence[Form], now: Sequence[Form]) -> tuple[str, ...]:
    """What the forms are called that the record no longer tells of."""
    there = {(form.section, form.retake, form.earlier) for form in now}
    return tuple(label(form) for form in before if (form.section, form.retake, form.earlier) not in there)


def folder_of(path: Path, order: Order) -> Path:
    """Where the quiz of a blueprint file lies."""
    return folder_in(order.out, folder_name(path.stem) or "quiz")


def sound_blueprint(path: Path, order: Order, *, progress: Progress = silent) -> tuple[Blueprint, Source]:
    """The blueprint of a file with its sections and the order's seed, and its lines; BlueprintError with all faults."""
    blueprint, source = sound_plan(path, order, progress=progress)
    blueprint = with_sections(blueprint, path)
    if order.seed is not None:
        blueprint = blueprint.model_copy(update={"seed": order.seed})
    for name in order.sections:
        if name not in blueprint.sections:
            few = len(blueprint.sections) <= MOST_NAMED
            mend = f": use {', '.join(map(shown, blueprint.sections))}" if few else meant(name, blueprint.sections, ALL)
            raise BarwrightError(f"section {shown(name)} is not in {path}{mend}")
    return blueprint, source


def sound_plan(path: Path, order: Order, *, progress: Progress = silent) -> tuple[Blueprint, Source]:
    """The blueprint of a file as it stands, its class list not read, and its lines; BlueprintError with every fault.

    What the standards of the order, or of the folder that is there, cannot express is among the faults. Whether there
    are excerpts enough is only asked beside other faults, or when a form cannot be filled: to build a form is the
    quickest way to know.
    """
    reading = examined(read_text(path), str(path))
    blueprint, faults = reading.blueprint, [*reading.faults]
    if blueprint is not None and not faults:
        blueprint = with_excerpts(blueprint, path)
    if blueprint is not None:
        faults += standard_faults(blueprint, reading.numbers, ordered_kinds(order, folder_of(path, order)))
        known = capacity_faults(blueprint, reading.numbers, progress=progress) if faults else meter_faults(blueprint)
        faults += known
    if faults or blueprint is None:
        raise BlueprintError(told(faults, reading.source))
    return blueprint, reading.source


def check_order(order: Order) -> None:
    """BarwrightError if retakes are to be forgotten where nothing is."""
    if order.forget_retakes and (not order.replace or order.sections or order.retake):
        raise BarwrightError(
            "--forget-retakes does nothing here: give it with --replace, and without --section and --retake, to make "
            "the whole quiz anew"
        )


def _merged(old: tuple[Form, ...], new: list[Form], sections: Sequence[str]) -> tuple[Form, ...]:
    """The old forms with the new ones in their places: the quiz, then each retake; sections as in the blueprint."""
    place = {section: number for number, section in enumerate(sections)}
    forms = {(form.section, form.retake): form for form in (*old, *new)}
    return tuple(sorted(forms.values(), key=lambda form: (form.retake, place.get(form.section, len(place)))))
