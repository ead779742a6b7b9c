"""Answers that are put together: labels picked symbol by symbol, groups moved into an order.

There the student never sees a whole answer of the item, but the texts it is made of, in an order that tells nothing.
This is the one place that says which texts these are, where they go, and what each answer looks like in them.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import permutations

from barwright.errors import ItemError
from barwright.items.families import ASKS
from barwright.items.model import Item
from barwright.rhythm.counting import normal_row, parse_row
from barwright.rhythm.labels import STROKE
from barwright.rhythm.text import format_symbols, parse_groups

_WORD = re.compile(r"\d+|[^\W\d_]+|&")


@dataclass(frozen=True, slots=True)
class Slot:
    """A place for a label: the measure, the sound or rest in it, both from 0, and the texts on offer there."""

    measure: int
    sound: int
    options: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Placing:
    """What a student puts into places: `texts` (labels, or groups as rhythm text) in the order in which they are shown.

    `slots` are the places of labels; groups are put in a row, and have none. `filled` tells for each choice of the item
    which texts it consists of, place by place. Texts are named by their index.
    """

    texts: tuple[str, ...]
    slots: tuple[Slot, ...]
    filled: tuple[tuple[int, ...], ...]


def placing_of(item: Item) -> Placing | None:
    """What is put into places; None where the student picks, types or drags whole answers.

    Raises ItemError for an item whose answers are not made of the same parts, which the judge would refuse.
    """
    interaction = ASKS[item.ask].interaction
    if interaction == "inline":
        return _labels(item)
    return _groups(item) if interaction == "order" else None


def place_name(index: int, *, slot: bool = False) -> str:
    """The neutral identifier of a text, or of a slot, in packages and records.

    >>> place_name(0), place_name(2, slot=True)
    ('c1', 's3')
    """
    return f"{'s' if slot else 'c'}{index + 1}"


def recorded_places(item: Item, order: Sequence[int]) -> dict[str, object]:
    """What a record must hold to read answers that are put together, as plain data; nothing for other items.

    `texts` and `slots` with the names they have in packages, and in the shown `order` of the item's choices what each
    looks like as a response: the names of the texts, place by place.
    """
    placing = placing_of(item)
    if placing is None:
        return {}
    return {
        "texts": [{"ident": place_name(n), "text": text} for n, text in enumerate(placing.texts)],
        "slots": [
            {
                "ident": place_name(n, slot=True),
                "measure": slot.measure,
                "sound": slot.sound,
                "options": [place_name(o) for o in slot.options],
            }
            for n, slot in enumerate(placing.slots)
        ],
        "filled": [[place_name(text) for text in placing.filled[index]] for index in order],
    }


@lru_cache(1 << 12)
def _labels(item: Item) -> Placing:
    """A slot wherever the rows on offer differ; elsewhere the count is given."""
    house = item.conventions
    rows = [parse_row(c.answer.text) for c in sorted(item.choices, key=lambda c: not c.key)]
    if len({tuple(map(len, row)) for row in rows}) != 1:
        raise ItemError(f"the rows of item {item.id} have not all a label for the same symbols: take it out")
    places = [(n, k) for n, measure in enumerate(rows[0]) for k in range(len(measure))]
    spelt: dict[str, str] = {}
    for row in rows:
        for measure in row:
            for label in measure:
                spelt.setdefault(normal_row(label, house), label)
    texts = tuple(sorted(spelt.values(), key=_rank))
    at = {normal: texts.index(label) for normal, label in spelt.items()}

    def index(label: str) -> int:
        return at[normal_row(label, house)]

    offered = {(n, k): tuple(sorted({index(row[n][k]) for row in rows})) for n, k in places}
    slots = tuple(Slot(n, k, options) for (n, k), options in offered.items() if len(options) > 1)
    filled = tuple(
        tuple(index(row[s.measure][s.sound]) for s in slots) for row in (parse_row(c.answer.text) for c in item.choices)
    )
    used = sorted({text for slot in slots for text in slot.options})
    return _without_unused(Placing(texts, slots, filled), used)


def _without_unused(placing: Placing, used: Sequence[int]) -> Placing:
    """Only the texts that a slot offers."""
    new = {old: index for index, old in enumerate(used)}
    return Placing(
        tuple(placing.texts[old] for old in used),
        tuple(Slot(s.measure, s.sound, tuple(new[o] for o in s.options)) for s in placing.slots),
        tuple(tuple(new[text] for text in row) for row in placing.filled),
    )


def _rank(label: str) -> tuple[list[tuple[bool, int, str]], bool, str]:
    """By numbers, then words, rests behind: an order that a student expects, and the same for any key.

    >>> sorted(["&", "(2)", "2-3", "1", "2", "la"], key=_rank)
    ['1', '2', '(2)', '2-3', '&', 'la']
    """
    words = _WORD.findall(label.replace(STROKE, ""))
    numbers = [(not w.isdecimal(), int(w) if w.isdecimal() else 0, w) for w in words]
    return numbers, label.startswith("(") or STROKE in label, label


@lru_cache(1 << 12)
def _groups(item: Item) -> Placing:
    """The groups in an order that is neither right nor one that an error leads to, picked by the item's own hash."""
    orders = [tuple(map(format_symbols, parse_groups(c.answer.text))) for c in item.choices]
    if len({tuple(sorted(order)) for order in orders}) != 1 or len(set(orders[0])) < len(orders[0]):
        raise ItemError(f"the orders of item {item.id} are not of the same groups: take it out")
    free = [order for order in permutations(sorted(orders[0])) if order not in orders]
    texts = free[int(item.id, 16) % len(free)] if free else orders[0]
    return Placing(texts, (), tuple(tuple(map(texts.index, order)) for order in orders))
