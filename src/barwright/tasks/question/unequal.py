"""What makes the forms of a quiz unequal after a change to single questions, in plain words."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from barwright.blueprint.blueprint import Blueprint
from barwright.edits.applying import as_made
from barwright.forms.assembly import pattern_of
from barwright.forms.key_places import LONGEST_RUN
from barwright.forms.orders import key_places, longest_run
from barwright.items.difficulty import difficulty, mean
from barwright.items.form import Form, FormItem
from barwright.rhythm.text import format_excerpt
from barwright.tasks.saying import counted, listed
from barwright.tasks.standing import label

MOST_APART = Fraction(5, 100)  # of mean expected difficulty between the forms of a quiz, as `make` aims at


def unequal_lines(forms: Sequence[Form], blueprint: Blueprint) -> tuple[str, ...]:
    """A line for each thing that is not alike in the forms as they stand and was in those that `make` made."""
    lines: list[str] = []
    for retake in dict.fromkeys(form.retake for form in forms):
        group = [form for form in forms if form.retake == retake]
        lines += _worth(group)
        lines += _hardness(group, blueprint)
        for form in group:
            lines += _questions(form, blueprint)
            lines += _order(form)
    return (*lines, *_shared(forms))


def _worth(forms: Sequence[Form]) -> Iterator[str]:
    """Where not all forms are worth as much."""
    by_points: dict[int, list[str]] = {}
    for form in forms:
        points = {placed.number: placed.points for placed in form.items}
        by_points.setdefault(sum(points.values()), []).append(label(form))
    if len(by_points) > 1:
        each = [f"{counted(points, 'point')} in {listed(names, 'and')}" for points, names in by_points.items()]
        yield f"Unequal: {'; '.join(each)}. Give the questions like it in the other forms as many."


def _hardness(forms: Sequence[Form], blueprint: Blueprint) -> Iterator[str]:
    """Where the forms lie further apart in expected difficulty than `make` aims at, by a change."""
    now, before = _apart(forms, blueprint), _apart([as_made(form) for form in forms], blueprint)
    if now > MOST_APART and now > before:
        yield (
            f"Unequal: the mean difficulties of the forms now lie {float(now):.1%} apart (aim: at most "
            f"{float(MOST_APART):.0%}; before: {float(before):.1%})."
        )


def _apart(forms: Sequence[Form], blueprint: Blueprint) -> Fraction:
    weights = {name: each for form in forms[:1] for name, each in _weights(form, blueprint).items()}
    means = [mean([difficulty(placed.item.excerpt, weights) for placed in form.items]) for form in forms]
    return (max(means) - min(means)) * len(means) / sum(means) if means else Fraction(0)


def _weights(form: Form, blueprint: Blueprint) -> dict[str, int]:
    return dict(pattern_of(as_made(form), blueprint).plans[0].weights)


def _questions(form: Form, blueprint: Blueprint) -> Iterator[str]:
    weights = _weights(form, blueprint)
    for placed in form.items:
        where = f"question {placed.number} of {label(form)}"
        if placed.made is not None and placed.item != placed.made.item:
            unlike = list(_unlike(placed, placed.made, weights))
            if unlike:
                yield f"Unequal: {where} {listed(unlike, 'and')} than the one that make put there."
        if placed.words.stem:
            yield f"Unequal: {where} is asked in words of your own; the other forms ask theirs in ours."


def _unlike(placed: FormItem, made: FormItem, weights: dict[str, int]) -> Iterator[str]:
    """What an item has not in common with that in whose place it stands."""
    one, other = placed.item, made.item
    if one.excerpt.meter != other.excerpt.meter:
        yield f"is in {one.excerpt.meter}, not {other.excerpt.meter}, that is in another meter"
    if {c.misreading for c in one.wrong} != {c.misreading for c in other.wrong}:
        yield "shows other misreadings"
    harder = difficulty(one.excerpt, weights) - difficulty(other.excerpt, weights)
    if harder:
        yield f"is {'harder' if harder > 0 else 'easier'} (by {abs(harder)})"


def _order(form: Form) -> Iterator[str]:
    asks = {placed.number: placed.item.ask for placed in form.items}
    planned = {placed.number: placed.item.ask for placed in as_made(form).items}
    moved = [number for number in asks if asks[number] != planned.get(number)]
    if moved:
        yield (
            f"Unequal: in {label(form)} {counted(len(moved), 'number')} ask another kind of question than in the plan "
            f"(from question {min(moved)} on): move them in the other forms, too."
        )
    items = [placed.item for placed in form.items]
    run = longest_run(key_places(items, [placed.order for placed in form.items]))
    made = as_made(form)
    was = longest_run(key_places([p.item for p in made.items], [p.order for p in made.items]))
    if run > LONGEST_RUN and run > was:
        yield f"In {label(form)} the right answer now stands at the same place {run} times in a row."


def _shared(forms: Sequence[Form]) -> Iterator[str]:
    """Excerpts that two forms have, one of them by a change."""
    where: dict[str, list[tuple[Form, FormItem]]] = {}
    for form in forms:
        for placed in form.items:
            where.setdefault(format_excerpt(placed.item.excerpt), []).append((form, placed))
    for text, uses in where.items():
        if len({form.ident for form, _ in uses}) > 1 and any(p.item != p.as_made.item for _, p in uses):
            places = [f"question {placed.number} of {label(form)}" for form, placed in uses]
            yield f"Unequal: {listed(places, 'and')} are about the same rhythm ({text})."
