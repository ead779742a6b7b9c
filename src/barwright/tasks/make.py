"""`make`: a blueprint becomes forms, figures, packages, proof, key and record; or one form, or a retake, is added."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.names import folder_name
from barwright.blueprint.parsing import examined, told
from barwright.blueprint.toml_lines import Source
from barwright.edits.applying import as_made, excerpts_in, excerpts_of
from barwright.errors import BarwrightError, BlueprintError, CapacityError
from barwright.forms.assembly import (
    MadeForm,
    Pattern,
    first_form,
    made_forms,
    parallel_form,
    pattern_of,
)
from barwright.forms.ready_items import EMPTY, Stock
from barwright.items.form import Form
from barwright.rhythm.text import format_excerpt
from barwright.showing import MOST_NAMED, meant, shown
from barwright.tasks.bank.measured import NOTHING, Measured
from barwright.tasks.capacity import capacity_faults, meter_faults, rare_wrong_rhythms
from barwright.tasks.excerpts import avoided, with_excerpts
from barwright.tasks.expressing import standard_faults
from barwright.tasks.fairness import fairness_faults
from barwright.tasks.files import read_text
from barwright.tasks.folders import HeldFolder, changing
from barwright.tasks.own_wording import check_own_wording, own_wording
from barwright.tasks.packing import Order, Packed, packed
from barwright.tasks.places import folder_in
from barwright.tasks.progress import Progress, silent
from barwright.tasks.question.quiz import changes_of
from barwright.tasks.question.remaking import staying, with_teacher_changes
from barwright.tasks.saying import counted
from barwright.tasks.sections import with_sections
from barwright.tasks.standing import (
    carried_on,
    check_forgets_nothing,
    check_own_folders,
    check_same_plan,
    kinds_of,
    label,
    old_forms,
    ordered_kinds,
    printed_of,
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
    to single questions make unequal, and which of them have no effect.
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


def make(path: Path, order: Order, *, progress: Progress, stock: Stock = EMPTY, measured: Measured = NOTHING) -> Made:
    """Builds and writes everything; BlueprintError with all faults, or OutputError, before any work.

    The forms of a new quiz are filled from the stock first. With sections in the order only those are made, and the
    others of a folder that exists stay byte for byte; with a retake, that retake of each section. What others put into
    the folder stays there. `measured`: what classes' answers say of difficulty; the record keeps it, and forms that are
    made later go by that.
    """
    with changing(folder_of(path, order)) as held:
        return made_in(held, path, order, progress=progress, stock=stock, measured=measured)


def made_in(
    held: HeldFolder,
    path: Path,
    order: Order,
    *,
    progress: Progress,
    stock: Stock = EMPTY,
    measured: Measured = NOTHING,
) -> Made:
    """What `make` does, in the folder of the quiz, which is held: nobody changes it between reading and writing."""
    (blueprint, source), folder = sound_blueprint(path, order, progress=progress), held.path
    own = own_wording(blueprint, path)
    again = held.exists and bool(order.sections or order.retake)
    check_order(order)
    held.check_free(replace=again or order.replace)
    if order.retake and not again:
        raise BarwrightError(f"{folder} does not exist: make the quiz before its retakes")
    unread = "" if again else record_fault(folder)
    before = standing_forms(folder) if again else old_forms(folder)
    old, plain = tuple(form for form in before if not form.earlier) if again else (), tuple(map(as_made, before))
    blueprint = _as_hard(blueprint, before if again else (), measured, folder)
    if again:
        check_same_plan(plain, blueprint, path, folder)
    elif not order.forget_retakes:
        check_forgets_nothing(folder, before, blueprint.sections)
    new, changed = _changed(folder, path, blueprint, source, order, progress, stock, before, plain if again else ())
    said = old[0].wording if old else own.changes  # forms of one quiz speak alike
    fresh = [replace(made.form, measured=tuple(blueprint.measured.items()), wording=said) for made in new]
    check_own_wording(fresh, own, blueprint)
    forms = _merged(old, fresh, blueprint.sections)
    kinds = [(form, kind) for form in fresh for kind in kinds_of(order, folder, before, form.section, form.retake)]
    curriculum = {k: tuple(v) for k, v in blueprint.curriculum.items()}
    earlier = carried_on(before, fresh) if again else ()
    on_paper = printed_of(order, folder, before, fresh, blueprint.quiz.paper)
    result = packed(forms, kinds, curriculum, on_paper, earlier, music_font=order.music_font, progress=progress)
    gone = stale_packages(folder, before, staying(old, fresh), (*result.packages, *result.printed), blueprint.sections)
    held.write(result.files, gone=gone)
    lost = _lost(before, (*forms, *earlier))
    return Made(folder, result, new, blueprint, gone, lost, unread, measured.told, changed)


def _changed(
    folder: Path,
    path: Path,
    blueprint: Blueprint,
    source: Source,
    order: Order,
    progress: Progress,
    stock: Stock,
    before: Sequence[Form],
    plain: tuple[Form, ...],
) -> tuple[tuple[MadeForm, ...], tuple[str, ...]]:
    """The new forms with what the teacher changed in single questions, and what that makes unequal.

    `before`: what the record tells of; `plain`: the same as they were made, none for a new quiz.
    """
    never = avoided(blueprint, path)
    _, changes = changes_of(folder)
    if is_other(order) and plain:
        never |= excerpts_in(changes) | excerpts_of(before) - excerpts_of(plain)
    new = _drawn(blueprint, source, order, progress, stock=stock, never=never, before=plain)
    had = before if is_other(order) else [form for form in before if form.earlier]
    avoid = never | excerpts_of(had) if plain else never
    old = tuple(form for form in before if not form.earlier) if plain else ()
    return with_teacher_changes(new, changes, blueprint, old=old, avoid=avoid)


def _as_hard(blueprint: Blueprint, before: Sequence[Form], measured: Measured, folder: Path) -> Blueprint:
    """The blueprint as hard as answers of classes tell, or as the forms are to which others are added."""
    if before and measured.weights:
        raise BarwrightError(
            f"{folder} stays as hard as it is: leave --bank away, or make the quiz anew with --replace alone"
        )
    return blueprint.with_measured(dict(before[0].measured) if before else measured.weights)


def _drawn(
    blueprint: Blueprint,
    source: Source,
    order: Order,
    progress: Progress,
    *,
    stock: Stock,
    never: frozenset[str],
    before: tuple[Form, ...],
) -> tuple[MadeForm, ...]:
    """The new forms; BlueprintError where too little is left, or a form would be too poor to be fair.

    `before`: the forms that are added to, as they were made; none for a new quiz.
    """
    try:
        if before:
            new = _made_again(blueprint, before, order, progress, never)
        else:
            new = _made_first(blueprint, order, progress, stock, never)
    except CapacityError as error:
        if wanting := list(capacity_faults(blueprint, tuple(range(len(blueprint.part))), progress=progress)):
            raise BlueprintError(told(wanting, source)) from error
        text = f"{error}{_why_few(blueprint, error.part, stock)}"
        raise BlueprintError([source.fault(("part", error.part - 1, "items"), text)]) from error
    _check_fair(new, [form for form in before if not form.earlier], blueprint, source, order)
    return new


def _lost(before: Sequence[Form], now: Sequence[Form]) -> tuple[str, ...]:
    """What the forms are called that the record no longer tells of."""
    there = {(form.section, form.retake, form.earlier) for form in now}
    return tuple(label(form) for form in before if (form.section, form.retake, form.earlier) not in there)


def _check_fair(
    new: Sequence[MadeForm], old: Sequence[Form], blueprint: Blueprint, source: Source, order: Order
) -> None:
    """BlueprintError where a new form is too poor to be fair beside the other new ones and the old ones that stay."""
    made = {(each.form.section, each.form.retake) for each in new}
    retakes = {0, *(each.form.retake for each in new)}
    old = tuple(form for form in old if form.retake in retakes and form.section in blueprint.sections)
    beside = [form for form in old if (form.section, form.retake) not in made]
    faults = [] if order.allow_repeats else fairness_faults(new, beside, blueprint)
    if faults:
        raise BlueprintError([source.fault(("part", part, "items"), text) for part, text in faults])


def folder_of(path: Path, order: Order) -> Path:
    """Where the quiz of a blueprint file lies."""
    return folder_in(order.out, folder_name(path.stem) or "quiz")


def sound_blueprint(path: Path, order: Order, *, progress: Progress = silent) -> tuple[Blueprint, Source]:
    """The blueprint of a file with the order's seed, and its lines; BlueprintError with every fault.

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
    blueprint = with_sections(blueprint, path)
    if order.seed is not None:
        blueprint = blueprint.model_copy(update={"seed": order.seed})
    for name in order.sections:
        if name not in blueprint.sections:
            few = len(blueprint.sections) <= MOST_NAMED
            mend = f": use {', '.join(map(shown, blueprint.sections))}" if few else meant(name, blueprint.sections, ALL)
            raise BarwrightError(f"section {shown(name)} is not in {path}{mend}")
    return blueprint, reading.source


def _why_few(blueprint: Blueprint, part: int, stock: Stock) -> str:
    """What else makes the items of a part (from 1) few: questions retired or had before, or rules of counting."""
    ask = blueprint.part[part - 1].ask
    why = rare_wrong_rhythms(ask, blueprint)
    if retired := sum(name.startswith(f"{ask} ") for name in stock.retired):
        why += f" ({counted(retired, 'question')} of this ask are retired in the bank, and are not asked again)"
    had = {
        section: sum(name.startswith(f"{ask} ") for name in names - stock.retired)
        for section, names in stock.had.items()
    }
    if any(had.values()):
        section = max(had, key=lambda each: had[each])
        asked = counted(had[section], "question")
        why += (
            f" ({shown(section)} has had {asked} of this ask, not asked again: a later --since frees those with a date)"
        )
    return why


def _made_first(
    blueprint: Blueprint, order: Order, progress: Progress, stock: Stock, never: frozenset[str]
) -> tuple[MadeForm, ...]:
    made = made_forms(blueprint, progress=lambda done, of: progress("items", done, of), stock=stock, never=never)
    return tuple(each for each in made if not order.sections or each.form.section in order.sections)


def _made_again(
    blueprint: Blueprint, before: tuple[Form, ...], order: Order, progress: Progress, never: frozenset[str]
) -> tuple[MadeForm, ...]:
    """The wanted forms, apart from every other form of the record and without the excerpts in `never`.

    With another seed, or as a retake, of what the class has not had. `before` are the forms as they were made.
    """
    old = tuple(form for form in before if not form.earlier)
    other = is_other(order)
    named = tuple(sorted(order.sections, key=blueprint.sections.index))
    sections = named or tuple(f.section for f in old if not f.retake)
    if order.retake:
        _check_retake(old, sections, order)
    kept = [f for f in old if (f.retake, f.section) not in {(order.retake, s) for s in sections}]
    check_own_folders(sections, kept)
    past = [form for form in before if form.earlier]
    taken = {excerpt: label(form) for form in (*past, *kept) for excerpt in _excerpts(form)}
    others = (*kept, *past, *old) if order.seed is not None else kept
    pattern = next((pattern_of(form, blueprint) for form in others if not form.retake), None)
    made: list[MadeForm] = []
    for number, section in enumerate(sections):
        first = section == blueprint.sections[0] and not order.retake and order.seed is None
        if pattern is None or first:
            form, own = _first_again(blueprint, section, taken, never)
            pattern = pattern or own
        else:
            had = () if order.allow_repeats or not other else (f for f in before if f.section == section)
            seen = never.union(*map(_excerpts, had))
            beside = [*kept, *(each.form for each in made)]
            if not other:
                again = _as_at_first(blueprint, pattern, section, beside, never)
            else:
                again = None if order.retake else _as_it_is(blueprint, pattern, section, before, taken, beside, never)
            form = again or parallel_form(
                blueprint, pattern, section, taken=taken, retake=order.retake, never=seen, beside=beside
            )
            taken |= dict.fromkeys(_excerpts(form.form), label(form.form))
        made.append(form)
        progress("forms", number + 1, len(sections))
    return tuple(made)


def _first_again(
    blueprint: Blueprint, section: str, taken: dict[str, str], never: frozenset[str]
) -> tuple[MadeForm, Pattern]:
    """The first form as the blueprint gave it at first, and its pattern; another if others have its excerpts by now."""
    form, pattern = first_form(blueprint, section, taken={}, never=never)
    if taken.keys() & set(_excerpts(form.form)):
        return first_form(blueprint, section, taken=taken, never=never)
    taken.update(dict.fromkeys(_excerpts(form.form), label(form.form)))
    return form, pattern


def _as_at_first(
    blueprint: Blueprint, pattern: Pattern, section: str, others: Sequence[Form], never: frozenset[str]
) -> MadeForm | None:
    """The form that the blueprint gave a section at first; None if another form has one of its excerpts by now."""
    earlier = blueprint.sections[: blueprint.sections.index(section)]
    before = [form for form in others if not form.retake and form.section in earlier]
    taken = {excerpt: label(form) for form in before for excerpt in _excerpts(form)}
    made = parallel_form(blueprint, pattern, section, taken=taken, beside=before, never=never)
    later = {excerpt for form in others if form not in before for excerpt in _excerpts(form)}
    return None if later.intersection(_excerpts(made.form)) else made


def is_other(order: Order) -> bool:
    """Whether a form is made again with other questions than it has."""
    return bool(order.retake) or order.seed is not None


def check_order(order: Order) -> None:
    """BarwrightError if retakes are to be forgotten where nothing is."""
    if order.forget_retakes and (not order.replace or order.sections or order.retake):
        raise BarwrightError(
            "--forget-retakes does nothing here: give it with --replace, and without --section and --retake, to make "
            "the whole quiz anew"
        )


def _as_it_is(
    blueprint: Blueprint,
    pattern: Pattern,
    section: str,
    before: Sequence[Form],
    taken: dict[str, str],
    others: Sequence[Form],
    never: frozenset[str],
) -> MadeForm | None:
    """The form that a section has, if this seed made it from what the class had had by then; None if not."""
    now = [form for form in before if form.section == section and not form.retake and not form.earlier]
    had = never.union(e for form in before if form.section == section and form not in now for e in _excerpts(form))
    try:
        made = parallel_form(blueprint, pattern, section, taken=dict(taken), never=had, beside=others)
    except CapacityError:
        return None
    return made if [form.ident for form in now] == [made.form.ident] else None


def _check_retake(old: tuple[Form, ...], sections: tuple[str, ...], order: Order) -> None:
    have = {(form.section, form.retake) for form in old}
    for section in sections:
        if (section, 0) not in have:
            raise BarwrightError(f"section {shown(section)} has no form yet: make it before its retake")
        if (section, order.retake) in have and not order.replace:
            raise BarwrightError(f"retake {order.retake} of {shown(section)} exists: give --replace to make it anew")


def _excerpts(form: Form) -> tuple[str, ...]:
    return tuple(format_excerpt(placed.item.excerpt) for placed in form.items)


def _merged(old: tuple[Form, ...], new: list[Form], sections: Sequence[str]) -> tuple[Form, ...]:
    """The old forms with the new ones in their places: the quiz, then each retake; sections as in the blueprint."""
    place = {section: number for number, section in enumerate(sections)}
    forms = {(form.section, form.retake): form for form in (*old, *new)}
    return tuple(sorted(forms.values(), key=lambda form: (form.retake, place.get(form.section, len(place)))))
