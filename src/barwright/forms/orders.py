"""The shown order of choices: keys spread evenly over the positions, no more than two alike in a row.

Source of the bounds: item-writing guidelines on key position (Haladyna, Downing & Rodriguez 2002), stricter by design.

The order of the items of a part in each form: the answer to a question of one form is not that of the others.

Parts stay where they are. Inside a part each form has an order of its own, so that a student who passes on "the first
is a quarter rest" tells the next class nothing."""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import groupby
from random import Random

from barwright.asks import ASKS
from barwright.blueprint.blueprint import Plan
from barwright.forms.key_places import LONGEST_RUN, drawn_places
from barwright.items.form import Form
from barwright.items.item import Answer, Item
from barwright.rhythm.meter import parse_meter

# One choice of several is picked or dragged: only there has the key a position.
WITH_A_PLACE = ("figures", "texts", "gaps")
# How often positions are drawn until the whole form is even, too.
TRIES = 40

Orders = tuple[tuple[int, ...], ...]
"""For each item of a form the order in which its choices are shown, as indices."""


def shown_orders(items: Sequence[Item], rng: Random, *, parts: Sequence[str] = ()) -> Orders:
    """For each item the order of its choices as indices.

    Signatures stand in logical order, several keys at random, answers that are typed or put together as they are; the
    single keys of all other items take each position within one as often in each part (`parts`: of each item; one if
    nothing is said) and so in the form, with no run of three, as hard to foresee as that allows (see `key_places`).
    """
    parts = parts or [""] * len(items)
    placed = _placed(items, parts, rng)
    blemish = _blemish(items, placed, parts)
    for _ in range(TRIES):
        if not any(blemish):
            break
        other = _placed(items, parts, rng)
        other_blemish = _blemish(items, other, parts)
        if other_blemish < blemish:
            placed, blemish = other, other_blemish
    return tuple(_order(item, place, rng) for item, place in zip(items, placed, strict=True))


def key_places(items: Sequence[Item], orders: Sequence[tuple[int, ...]]) -> list[int | None]:
    """The position of each item's single key, or None."""
    return [
        next(place for place, index in enumerate(order) if item.choices[index].key)
        if ASKS[item.ask].interaction in WITH_A_PLACE
        else None
        for item, order in zip(items, orders, strict=True)
    ]


def _placed(items: Sequence[Item], parts: Sequence[str], rng: Random) -> list[int | None]:
    """The position of each item's single key, part by part."""
    placed: list[int | None] = [None] * len(items)
    for part in dict.fromkeys(parts):
        numbers = [n for n, name in enumerate(parts) if name == part]
        able = [_able(items[n]) for n in numbers]
        for n, place in zip(numbers, drawn_places(able, rng, before=placed[: numbers[0]]), strict=True):
            placed[n] = place
    return placed


def _able(item: Item) -> frozenset[int] | None:
    """The positions that the key of an item can have; None if it has none."""
    fixed = _fixed_place(item)
    if fixed is not None:
        return frozenset({fixed})
    return frozenset(_range(item)) if _free(item) else None


def _blemish(items: Sequence[Item], placed: Sequence[int | None], parts: Sequence[str]) -> tuple[bool, int, int]:
    """Whether a run is too long, how uneven the positions are in parts, and in the form: 0 if all is fair."""
    used = Counter((part, p) for part, p in zip(parts, placed, strict=True) if p is not None)
    run = longest_run(placed) > LONGEST_RUN
    open_ = Counter((part, p) for part, item in zip(parts, items, strict=True) if _free(item) for p in _range(item))
    within = sum(max(_uneven(used, open_, part) - 1, 0) for part in dict.fromkeys(parts))
    whole: Counter[int] = Counter()
    for (_, place), count in used.items():
        whole[place] += count
    return run, within, max(max(whole.values(), default=0) - min(whole.values(), default=0) - 1, 0)


def _range(item: Item) -> range:
    return range(len(item.choices))


def _uneven(used: Counter[tuple[str, int]], open_: Counter[tuple[str, int]], part: str) -> int:
    """How much oftener one position of a part is used than another that its items have, where they can be chosen."""
    counts = [used[each] for each in open_ if each[0] == part]
    return max(counts, default=0) - min(counts, default=0)


def longest_run(places: Sequence[int | None]) -> int:
    """The longest run of equal neighbouring places; None (no single key) breaks a run.

    >>> longest_run([0, 1, 1, None, 1])
    2
    """
    longest = run = 0
    before: int | None = None
    for place in places:
        run = run + 1 if place is not None and place == before else int(place is not None)
        longest, before = max(longest, run), place
    return longest


def _free(item: Item) -> bool:
    return ASKS[item.ask].interaction in WITH_A_PLACE and not ASKS[item.ask].pinned


def _logical(item: Item) -> list[int]:
    def rank(index: int) -> tuple[int, int]:
        meter = parse_meter(item.choices[index].answer.text)
        return meter.bottom, meter.top

    return sorted(range(len(item.choices)), key=rank)


def _fixed_place(item: Item) -> int | None:
    if not ASKS[item.ask].pinned:
        return None
    return next(place for place, index in enumerate(_logical(item)) if item.choices[index].key)


def _order(item: Item, place: int | None, rng: Random) -> tuple[int, ...]:
    if ASKS[item.ask].interaction in ("entry", "inline", "order"):
        return tuple(range(len(item.choices)))
    if ASKS[item.ask].pinned:
        return tuple(_logical(item))
    left = [i for i, c in enumerate(item.choices) if place is None or not c.key]
    order = []
    while left:
        order.append(left.pop(rng.randrange(len(left))))
    if place is not None:
        order.insert(place, next(i for i, c in enumerate(item.choices) if c.key))
    return tuple(order)


# Orders that are thrown for a part, of which the one least like the other forms' is taken.
THROWS = 60

Keys = tuple[tuple[Answer, ...], ...]
"""The right answers of a form, question by question."""


def keys_of(form: Form) -> Keys:
    """The right answers of a form; of the variants of a question those of the first."""
    first = {placed.number: placed.item for placed in reversed(form.items)}
    return tuple(tuple(key.answer for key in first[number].keys) for number in sorted(first))


def mixed_places(
    plans: Sequence[Plan], others: Sequence[Keys], keys: Keys, rng: Random, *, prompts: Sequence[str] = ()
) -> tuple[int, ...]:
    """For each place of a form the number of the item that is to stand there, from the same part.

    `others`: the right answers of the other forms; `keys`: those of this form's items. As few as some throws can find
    are the same in the same place. With `prompts`, what each item asks, none stands three times in a row where there
    are enough others.
    """
    numbers: list[int] = []
    so_far = [0] * len(others)
    for _, group in groupby(range(len(plans)), key=lambda place: id(plans[place])):
        part = list(group)
        thrown = [rng.sample(part, len(part)) for _ in range(THROWS)]
        if prompts:
            thrown = [_without_runs(numbers[-LONGEST_RUN:], order, prompts) for order in thrown]
        alike = [
            [had + _alike(part, order, keys, other) for had, other in zip(so_far, others, strict=True)]
            for order in thrown
        ]
        cost = [
            (runs_of(numbers[-LONGEST_RUN:] + order, prompts), max(each, default=0), sum(each))
            for order, each in zip(thrown, alike, strict=True)
        ]
        best = cost.index(min(cost))
        numbers, so_far = [*numbers, *thrown[best]], alike[best]
    return tuple(numbers)


def runs_of(order: Sequence[int], prompts: Sequence[str]) -> int:
    """How many prompts stand for the third time in a row, or oftener.

    >>> runs_of([0, 1, 2, 3], ["3/4", "3/4", "3/4", "4/4"])
    1
    """
    asked = [prompts[number] for number in order] if prompts else []
    return _runs_ending(asked, range(len(asked)))


def _runs_ending(asked: Sequence[str], places: Iterable[int]) -> int:
    """At how many of these places a prompt stands for the third time in a row, or oftener."""
    return sum([n >= LONGEST_RUN and len(set(asked[n - LONGEST_RUN : n + 1])) == 1 for n in places])


def _without_runs(before: Sequence[int], order: list[int], prompts: Sequence[str]) -> list[int]:
    """The order, items exchanged where a prompt would stand three times in a row after those before."""
    order = [*before, *order]
    asked = [prompts[number] for number in order]
    for place in range(len(before), len(order)):
        if _runs_ending(asked, (place,)):
            for other in range(len(before), len(order)):
                if _fewer_runs(asked, place, other):
                    order[place], order[other] = order[other], order[place]
                    asked[place], asked[other] = asked[other], asked[place]
                    break
    return order[len(before) :]


def _fewer_runs(asked: Sequence[str], one: int, other: int) -> bool:
    """Whether fewer prompts stand three times in a row once these two are exchanged: only runs about them change."""
    if asked[one] == asked[other]:
        return False
    changed = list(asked)
    changed[one], changed[other] = changed[other], changed[one]
    touched = {n for place in (one, other) for n in range(place, min(place + LONGEST_RUN + 1, len(asked)))}
    return _runs_ending(changed, touched) < _runs_ending(asked, touched)


def _alike(part: Sequence[int], order: Sequence[int], keys: Keys, other: Keys) -> int:
    return sum(keys[number] == other[place] for place, number in zip(part, order, strict=True))
