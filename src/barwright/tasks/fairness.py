"""Whether the forms of a quiz are fair to every section: what is told of it, and what makes a form too poor to give."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from barwright.asks import ASKS
from barwright.blueprint.blueprint import Blueprint
from barwright.forms.assembly import MadeForm
from barwright.forms.orders import WITH_A_PLACE, key_places
from barwright.forms.parallel import (
    KINDS,
    WHOLE,
    Cells,
    Trait,
    cells_of,
    farthest,
    first_variants,
    room,
    sizes,
    spread_of,
)
from barwright.forms.seeing import seen_answer
from barwright.items.form import Form, FormItem
from barwright.items.item import Item
from barwright.showing import shown
from barwright.tasks.saying import counted, listed
from barwright.tasks.standing import label

# A form may share so large a part of its excerpts with other forms (common practice).
MOST_REPEATS = Fraction(1, 4)
# In a part of fewer items one answer all through may be chance.
LEAST_ITEMS = 3
# Rows of the table for each ask, if not all are wanted.
ROWS = 2

HELP = "ask for fewer items or sections, teach more elements or meters, or allow longer excerpts with `measures`"
OVERRULE = "give --allow-repeats to have it all the same"

Fault = tuple[int, str]
"""The number of a part, from 0, and what is wrong with it."""


def fairness_faults(made: Sequence[MadeForm], others: Sequence[Form], blueprint: Blueprint) -> list[Fault]:
    """Why forms are too poor to be fair, part by part; `others` are the forms that stand beside those made."""
    faults = [*_one_answer(made, blueprint), *_apart(made, others, blueprint)]
    repeats = [fault for each in made for fault in _repeats(each)]
    return sorted(faults + repeats[:1])


def _repeats(made: MadeForm) -> Iterator[Fault]:
    items, again = len(made.form.items), len(made.shared)
    if again > MOST_REPEATS * items:
        yield (
            0,
            (
                f"{again} of {items} excerpts of {shown(label(made.form))} stand in other forms too, more than a "
                f"quarter, so its answers are passed on: {HELP}, or {OVERRULE}"
            ),
        )


def _one_answer(made: Sequence[MadeForm], blueprint: Blueprint) -> Iterator[Fault]:
    for number in range(len(blueprint.part)):
        for each in made:
            items = _part_items(each.form, blueprint, number)
            keys = {tuple(key.answer for key in item.keys) for item in items}
            if len(keys) == 1 and len(items) >= LEAST_ITEMS:
                text = " and ".join(answer.text for answer in min(keys))
                yield (
                    number,
                    (
                        f"items = {len(items)}: all {shown(items[0].ask)} items of {shown(label(each.form))} have the "
                        f"answer {shown(text)}: {HELP}, or {OVERRULE}"
                    ),
                )
                break


def _part_items(form: Form, blueprint: Blueprint, number: int) -> tuple[Item, ...]:
    items = first_variants(form)
    start = sum(part.items for part in blueprint.part[:number])
    return items[start : start + blueprint.part[number].items]


def _apart(made: Sequence[MadeForm], others: Sequence[Form], blueprint: Blueprint) -> Iterator[Fault]:
    """The worst cell of each ask in which a made form lies too far from another."""
    forms = [*(each.form for each in made), *others]
    cells, items = _cells(forms), sizes(first_variants(forms[0]))
    worst: dict[str, tuple[int, Cells, int]] = {}
    for each in cells:
        ask = each.trait.of
        for own in range(len(made)):
            away = each.away(own)
            if ask != WHOLE and away > max(room(items[ask]), worst.get(ask, (0, each, 0))[0]):
                worst[ask] = away, each, own
    for ask, (away, each, own) in worst.items():
        counts = each.counts
        other = next(n for n, count in enumerate(counts) if abs(counts[own] - count) == away)
        part = next(n for n, part in enumerate(blueprint.part) if part.ask == ask)
        yield (
            part,
            (
                f"items = {blueprint.part[part].items}: the forms are not parallel: {counts[own]} {shown(ask)} items "
                f"of {shown(label(forms[own]))} {_said(each.trait)}, and {counts[other]} of "
                f"{shown(label(forms[other]))} (up to {room(items[ask])} apart is fair): {HELP}, try another "
                f"--seed, or {OVERRULE}"
            ),
        )


def _said(trait: Trait) -> str:
    if trait.kind == "off-beats":
        return "have sounds off the beat"
    verb = {"answers": "have the answer", "meters": "are in", "values": "show", "misreadings": "offer"}[trait.kind]
    return f"{verb} {shown(trait.name)}"


def _cells(forms: Sequence[Form]) -> tuple[Cells, ...]:
    return cells_of([spread_of(first_variants(form)) for form in forms])


def parallel_table(made: Sequence[MadeForm], *, whole: bool) -> Iterator[str]:
    """By ask, the worst form first, how many items each form lies apart from another in one cell; all with `whole`."""
    if len(made) < 2:
        return
    forms = [each.form for each in made]
    cells, items = _cells(forms), sizes(first_variants(forms[0]))
    asks = [ask for ask in items if ask != WHOLE]
    names = [label(form) for form in forms]
    left, right = max(map(len, (*asks, "ask"))), max(map(len, (*names, "and 00 forms more")))
    yield "How many items a form is apart from the others, at most, in any answer, meter, value, ...; worst form first:"
    yield f"{'ask':<{left}}  items  {'form':<{right}}  {'  '.join(KINDS)}"
    away = [farthest(cells, number) for number in range(len(forms))]
    for ask in asks:
        figures = [tuple(each.get((ask, kind), 0) for kind in KINDS) for each in away]
        order = sorted(range(len(forms)), key=lambda n: (-max(figures[n]), -sum(figures[n]), n))
        rows = order if whole else order[:ROWS]
        for row, number in enumerate(rows):
            begin = f"{ask:<{left}}  {items[ask]:>5}" if not row else " " * (left + 7)
            yield f"{begin}  {names[number]:<{right}}  {_figures(figures[number])}"
        if len(rows) < len(order):
            most = tuple(max(figures[n][k] for n in order[ROWS:]) for k in range(len(KINDS)))
            more = f"and {counted(len(order) - ROWS, 'form')} more"
            yield f"{' ' * (left + 7)}  {more:<{right}}  {_figures(most)}"


def _figures(figures: Iterable[int]) -> str:
    return "  ".join(f"{figure:>{len(kind)}}" for kind, figure in zip(KINDS, figures, strict=True))


def spread_lines(made: Sequence[MadeForm], blueprint: Blueprint) -> Iterator[str]:
    """For --verbose, part by part: where right answers stand, how many there are, and how long among the choices."""
    for number, part in enumerate(blueprint.part):
        told: dict[str, list[str]] = {}
        for each in made:
            text = "; ".join(_spreads(_placed(each.form, blueprint, number)))
            told.setdefault(text, []).append(label(each.form))
        for text, names in told.items():
            if text:
                who = "all forms" if len(names) == len(made) else listed(names, "and")
                yield f"part {number + 1}, {part.ask}, {who}: {text}"


def _placed(form: Form, blueprint: Blueprint, number: int) -> list[FormItem]:
    first = {placed.number: placed for placed in reversed(form.items)}
    start = 1 + sum(part.items for part in blueprint.part[:number])
    return [first[place] for place in range(start, start + blueprint.part[number].items)]


def _spreads(placed: Sequence[FormItem]) -> Iterator[str]:
    items = [each.item for each in placed]
    if ASKS[items[0].ask].interaction in WITH_A_PLACE:
        places = Counter(key_places(items, [each.order for each in placed]))
        most = max(len(item.choices) for item in items)
        yield "right answers in position " + ", ".join(f"{n + 1}: {places[n]}" for n in range(most))
    if ASKS[items[0].ask].interaction == "several":
        right = Counter(len(item.keys) for item in items)
        yield "right answers an item " + ", ".join(f"{count}: {right[count]}" for count in sorted(right))
    ranks = Counter(rank for item in items for rank in _ranks(item))
    if ranks:
        yield "length of the right answer among the choices " + ", ".join(f"{name}: {ranks[name]}" for name in RANKS)


RANKS = ("shortest", "between", "longest", "all alike")


def _ranks(item: Item) -> Iterator[str]:
    """How long each right answer is among the lengths on offer, where the choices are rhythms."""
    lengths = {choice.answer: seen_answer(choice.answer).length for choice in item.choices}
    if not item.wrong or None in lengths.values() or next(iter(lengths)).kind == "meter":
        return
    known = [length for length in lengths.values() if length is not None]
    for key in item.keys:
        length = lengths[key.answer]
        if min(known) == max(known):
            yield "all alike"
        else:
            yield "shortest" if length == min(known) else "longest" if length == max(known) else "between"
