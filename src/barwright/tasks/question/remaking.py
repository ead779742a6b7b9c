"""What `make` does with the changes to single questions that lie in a quiz folder."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from barwright.blueprint.blueprint import Blueprint
from barwright.edits.applying import with_changes
from barwright.edits.changes import NOTHING, Changes
from barwright.forms.assembly import MadeForm, pattern_of
from barwright.items.difficulty import difficulty, mean
from barwright.items.form import Form
from barwright.rhythm.text import format_excerpt
from barwright.tasks.question.changing import check_words
from barwright.tasks.question.unequal import unequal_lines


def with_teacher_changes(
    made: tuple[MadeForm, ...],
    changes: Changes,
    blueprint: Blueprint,
    *,
    old: Sequence[Form],
    avoid: frozenset[str],
) -> tuple[tuple[MadeForm, ...], tuple[str, ...]]:
    """The forms with the changes in them, and what is to be told of these; `old` are the forms that stood there.

    BlueprintError for own words that give something away.
    """
    if changes == NOTHING:
        return made, ()
    fresh = [each.form for each in made]
    stay = staying(old, fresh)
    applied = with_changes(fresh, changes, blueprint, beside=stay, standing=old, avoid=avoid)
    check_words(applied.forms, changes, blueprint)
    new = tuple(_with_form(each, form, blueprint) for each, form in zip(made, applied.forms, strict=True))
    return new, (*unequal_lines((*applied.forms, *stay), blueprint), *applied.idle)


def staying(old: Sequence[Form], fresh: Sequence[Form]) -> list[Form]:
    """The old forms in whose place no fresh one stands."""
    anew = {(form.section, form.retake) for form in fresh}
    return [form for form in old if (form.section, form.retake) not in anew]


def _with_form(made: MadeForm, form: Form, blueprint: Blueprint) -> MadeForm:
    """What is told of a form, when another stands in its place."""
    if form.ident == made.form.ident:
        return replace(made, form=form)
    weights = pattern_of(made.form, blueprint).plans[0].weights
    first = {placed.number: placed.item for placed in reversed(form.items)}
    texts = {format_excerpt(placed.item.excerpt) for placed in form.items}
    offered = Counter(choice.misreading for placed in form.items for choice in placed.item.wrong)
    return replace(
        made,
        form=form,
        tally=replace(made.tally, offered=offered),
        shared=tuple(text for text in made.shared if text in texts),
        difficulty=mean([difficulty(item.excerpt, weights) for item in first.values()]),
    )
