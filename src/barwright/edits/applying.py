"""Changes to single questions applied to forms as `make` made them; whatever no change is about stays as it is."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from random import Random

from barwright.asks import ASKS
from barwright.asks.tags import keywords_of
from barwright.blueprint.blueprint import Blueprint, taught_by
from barwright.edits.changes import Changes, Put, Spot, Whose
from barwright.edits.others import others
from barwright.errors import BarwrightError
from barwright.forms.assembly import Pattern, form_ident, pattern_of
from barwright.forms.cueing import traces
from barwright.forms.orders import WITH_A_PLACE, shown_orders
from barwright.forms.ready_items import question_name, question_of
from barwright.items.form import Form, FormItem
from barwright.items.item import Item
from barwright.items.own_words import OURS
from barwright.judge import judged
from barwright.rhythm.text import format_excerpt
from barwright.showing import shown


@dataclass(frozen=True, slots=True)
class Applied:
    """The forms with the changes in them, and for the teacher, by line of the file, what had no effect."""

    forms: tuple[Form, ...]
    idle: tuple[str, ...] = ()


@dataclass(slots=True)
class _Draft:
    """A form while it is changed: its items by index, and which of them the teacher chose."""

    form: Form
    pattern: Pattern
    items: list[Item]
    chosen: dict[int, Put] = field(default_factory=dict)


def as_made(form: Form) -> Form:
    """The form as `make` made it, before any change."""
    items = tuple(sorted((placed.as_made for placed in form.items), key=lambda placed: placed.number))
    return replace(form, items=items, ident=form_ident(form.title, items))


def spots_of(form: Form) -> tuple[Spot, ...]:
    """The spot of each item of a form, in its order."""
    count: dict[int, int] = {}
    spots = []
    for placed in form.items:
        number = placed.as_made.number
        count[number] = count.get(number, 0) + 1
        spots.append(Spot(form.section, form.retake, number, count[number]))
    return tuple(spots)


def name_of(item: Item) -> str:
    """The name of the question that an item asks."""
    return question_name(item.ask, question_of(item))


def excerpts_of(forms: Sequence[Form]) -> frozenset[str]:
    """Every excerpt of the forms, those that `make` made and the teacher exchanged among them."""
    placed = [each for form in forms for each in form.items]
    return frozenset(format_excerpt(item.excerpt) for each in placed for item in (each.item, each.as_made.item))


def excerpts_in(changes: Changes) -> frozenset[str]:
    """Every excerpt that the changes name."""
    return frozenset(format_excerpt(put.item.excerpt) for put in (*changes.exchanges, *changes.keeps.values()))


def with_changes(
    made: Sequence[Form],
    changes: Changes,
    blueprint: Blueprint,
    *,
    beside: Sequence[Form] = (),
    standing: Sequence[Form] = (),
    avoid: frozenset[str] = frozenset(),
) -> Applied:
    """These forms, as `make` made them, with every change; `beside` are the other forms of the quiz as they stand.

    Where a question has to make room, since it is never to be asked or would meet a chosen one, the one that stands in
    its place in `standing` (the forms as they are) is taken if it can be, else the likest other; none is about an
    excerpt in `avoid`. BarwrightError where there is none left for a question that is never to be asked.
    """
    drafts = [_drafted(form, changes, blueprint) for form in made]
    now = {(form.section, form.retake): form for form in standing}
    for draft in drafts:
        _make_room(draft, drafts, changes, beside, now, avoid)
    forms = tuple(_finished(draft, changes, blueprint) for draft in drafts)
    return Applied(forms, tuple(_idle(drafts, changes, blueprint, beside)))


def _drafted(form: Form, changes: Changes, blueprint: Blueprint) -> _Draft:
    draft = _Draft(form, pattern_of(form, blueprint), [placed.item for placed in form.items])
    for index, (placed, spot) in enumerate(zip(form.items, spots_of(form), strict=True)):
        kept = changes.keeps.get(spot)
        puts = [*changes.exchanged(spot.whose, placed.item.id), *([kept] if kept else [])]
        able = [put for put in puts if name_of(put.item) not in changes.never and not unfit(put, placed, blueprint)]
        if able:
            draft.chosen[index], draft.items[index] = able[-1], able[-1].item
    return draft


def unfit(put: Put, placed: FormItem, blueprint: Blueprint) -> str:
    """Why a question cannot stand in a place of the blueprint as it is; empty if it can."""
    if put.item.ask != placed.item.ask:
        return f"it asks {put.item.ask}, and the question there {placed.item.ask}"
    if put.item.conventions != placed.item.conventions:
        return "it was made for other conventions"
    return "it shows what is not taught" if judged(put.item, taught_by(blueprint.elements)) else ""


def _make_room(
    draft: _Draft,
    drafts: Sequence[_Draft],
    changes: Changes,
    beside: Sequence[Form],
    now: Mapping[Whose, Form],
    avoid: frozenset[str],
) -> None:
    """Exchanges what is never to be asked, and what would meet a question that the teacher chose."""
    whose = draft.form.section, draft.form.retake
    for index, spot in enumerate(spots_of(draft.form)):
        if index in draft.chosen or not _must_go(draft, index, drafts, changes, beside):
            continue
        seen = avoid | excerpts_in(changes) | excerpts_of(beside) | excerpts_of([each.form for each in drafts])
        seen |= {format_excerpt(item.excerpt) for each in drafts for item in each.items}
        old = draft.items[index]
        other = _standing(draft, index, now.get(whose), drafts, changes, beside)
        if other is None:
            items = [replace(p, item=item) for p, item in zip(draft.form.items, draft.items, strict=True)]
            able = others(items, index, draft.pattern, seen=seen, retired=changes.never)
            other = able[0].item if able else None
        if other is not None:
            draft.items[index] = other
        elif name_of(old) in changes.never:
            raise BarwrightError(
                f"{changes.name}: question {spot.place} of {shown(spot.section)} is never to be asked, and no other is "
                "left for its place: take it out of the file, teach more, or ask for fewer items"
            )


def _must_go(draft: _Draft, index: int, drafts: Sequence[_Draft], changes: Changes, beside: Sequence[Form]) -> bool:
    item = draft.items[index]
    if name_of(item) in changes.never:
        return True
    text = format_excerpt(item.excerpt)
    chosen = {format_excerpt(put.item.excerpt) for each in drafts for put in each.chosen.values()}
    changed = (placed for form in beside for placed in form.items if placed.as_made.item != placed.item)
    if text in chosen.union(format_excerpt(placed.item.excerpt) for placed in changed):
        return True
    variants = {n for n, each in enumerate(draft.form.items) if each.number == draft.form.items[index].number}
    settles, guards = traces(item.ask, question_of(item))
    for n, put in draft.chosen.items():
        if n not in variants:
            more, other = traces(put.item.ask, question_of(put.item))
            if settles & other or guards & more:
                return True
    return False


def _standing(
    draft: _Draft,
    index: int,
    now: Form | None,
    drafts: Sequence[_Draft],
    changes: Changes,
    beside: Sequence[Form],
) -> Item | None:
    """The question that stands in a place already instead of what `make` made, if it may."""
    made, spot = draft.form.items[index], spots_of(draft.form)[index]
    for placed, other in zip(now.items, spots_of(now), strict=True) if now else ():
        if other == spot and placed.as_made.item == made.item and placed.item != made.item:
            old, draft.items[index] = draft.items[index], placed.item
            goes = _must_go(draft, index, drafts, changes, beside)
            draft.items[index] = old
            return None if goes else placed.item
    return None


def _finished(draft: _Draft, changes: Changes, blueprint: Blueprint) -> Form:
    form = draft.form
    whose = form.section, form.retake
    numbers = {placed.number for placed in form.items}
    order = changes.orders.get(whose, ())
    to = {place: number for number, place in enumerate(order, start=1)} if len(order) == len(numbers) else {}
    finished = []
    for placed, item in zip(form.items, draft.items, strict=True):
        points = changes.points.get((*whose, placed.number), placed.points)
        new = replace(
            placed,
            item=item,
            order=shown_order(placed, item),
            points=points,
            number=to.get(placed.number, placed.number),
            keywords=placed.keywords if item == placed.item else keywords_of(item, blueprint.curriculum),
        )
        words = changes.words.get(item.id, OURS)
        finished.append(replace(new, words=words, made=None if new == placed else placed))
    items = tuple(sorted(finished, key=lambda placed: placed.number))
    return replace(form, items=items, ident=form_ident(form.title, items))


def shown_order(placed: FormItem, item: Item) -> tuple[int, ...]:
    """The order of the choices of an item that takes the place of another: the key stays where it was."""
    if item == placed.item:
        return placed.order
    ask = ASKS[item.ask]
    (order,) = shown_orders([item], Random(item.id))
    if ask.interaction not in WITH_A_PLACE or ask.pinned:
        return order
    key = next(index for index, choice in enumerate(item.choices) if choice.key)
    place = next(n for n, index in enumerate(placed.order) if placed.item.choices[index].key)
    left = [index for index in order if index != key]
    return (*left[:place], key, *left[place:])


def _idle(drafts: Sequence[_Draft], changes: Changes, blueprint: Blueprint, beside: Sequence[Form]) -> Iterator[str]:
    """What of the changes has no effect on the forms that were made, and why."""
    forms = {(draft.form.section, draft.form.retake): draft for draft in drafts}
    elsewhere = {(form.section, form.retake) for form in beside}
    used = {id(put) for draft in drafts for put in draft.chosen.values()}
    waiting = sum(whose not in forms and whose not in elsewhere for whose in _named(changes))
    for put in changes.keeps.values():
        if put.spot.whose in forms and id(put) not in used:
            why = _why(put, forms[put.spot.whose], changes, blueprint)
            yield f"{changes.name}, line {put.line}: the question kept there is left out: {why}."
    for put in changes.exchanges:
        draft = forms.get(put.spot.whose)
        waiting += draft is not None and all(placed.item.id != put.made for placed in draft.form.items)
    for whose, order in changes.orders.items():
        held = len({placed.number for placed in forms[whose].form.items}) if whose in forms else len(order)
        if held != len(order):
            wrong = f"the order of {shown(whose[0])} names {len(order)} places, and the form has {held}"
            yield f"{changes.name}: {wrong}: they stand as made."
    if waiting:
        are = "is a change" if waiting == 1 else f"are {waiting} changes"
        yield f"{changes.name}: there {are} for questions that are not in the forms as they are now; they wait there."


def _named(changes: Changes) -> list[Whose]:
    """The form of each change, once for each."""
    puts = [put.spot.whose for put in (*changes.exchanges, *changes.keeps.values())]
    return [*puts, *((section, retake) for section, retake, _ in changes.points), *changes.orders]


def _why(put: Put, draft: _Draft, changes: Changes, blueprint: Blueprint) -> str:
    if name_of(put.item) in changes.never:
        return "it is never to be asked"
    for placed, spot in zip(draft.form.items, spots_of(draft.form), strict=True):
        if spot == put.spot:
            return unfit(put, placed, blueprint)
    return f"the form has no question {put.spot.place}"
