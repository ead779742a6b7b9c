"""The new forms of a quiz: of a whole one, of some sections again, or of a retake; no file is opened here."""

from collections.abc import Sequence

from barwright.blueprint.blueprint import Blueprint
from barwright.blueprint.parsing import told
from barwright.blueprint.toml_lines import Source
from barwright.errors import BarwrightError, BlueprintError, CapacityError, UnfairError
from barwright.forms.assembly import (
    MadeForm,
    Pattern,
    first_form,
    made_forms,
    parallel_form,
    pattern_of,
)
from barwright.forms.ready_items import Stock
from barwright.items.form import Form
from barwright.rhythm.text import format_excerpt
from barwright.showing import shown
from barwright.tasks.capacity import capacity_faults, rare_wrong_rhythms
from barwright.tasks.fairness import fairness_faults
from barwright.tasks.packing import Order
from barwright.tasks.progress import Progress
from barwright.tasks.saying import counted
from barwright.tasks.standing import check_own_folders, label


def drawn_forms(
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


def _check_fair(
    new: Sequence[MadeForm], old: Sequence[Form], blueprint: Blueprint, source: Source, order: Order
) -> None:
    """UnfairError where a new form is too poor to be fair beside the other new ones and the old ones that stay."""
    made = {(each.form.section, each.form.retake) for each in new}
    retakes = {0, *(each.form.retake for each in new)}
    old = tuple(form for form in old if form.retake in retakes and form.section in blueprint.sections)
    beside = [form for form in old if (form.section, form.retake) not in made]
    faults = [] if order.allow_repeats else fairness_faults(new, beside, blueprint)
    if faults:
        raise UnfairError([source.fault(("part", part, "items"), text) for part, text in faults])


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
