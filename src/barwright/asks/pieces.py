"""Answers that are put together: labels picked symbol by symbol, groups moved into an order.

There the student never sees a whole answer of the item, but the texts it is made of, in an order that tells nothing.
This is the one place that says which texts these are, where they go, and what each answer looks like in them.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from barwright.asks import ASKS
from barwright.counting.counts import normal_row, parse_row
from barwright.counting.labels import STROKE
from barwright.counting.systems import SYSTEMS
from barwright.errors import ItemError
from barwright.items.item import Item
from barwright.rhythm.conventions import Counting
from barwright.rhythm.text import format_symbols, parse_groups

_WORD = re.compile(r"\d+|[^\W\d_]+|&")


@dataclass(frozen=True, slots=True)
class Slot:
    """A place for a label: the measure, the sound or rest in it, both from 0, and the texts on offer there.

    All texts are on offer in every slot, so that no list says more of its own symbol than the others do.
    """

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


def _labels(item: Item) -> Placing:
    """A slot under every sound and rest, and the same labels in all: those of the right row and of every wrong one."""
    conventions = item.conventions
    rows = [parse_row(c.answer.text) for c in item.choices]
    if len({tuple(map(len, row)) for row in rows}) != 1:
        raise ItemError(f"the rows of item {item.id} have not all a label for the same symbols: take it out")
    spelt: dict[str, str] = {}
    for _, row in sorted(zip(item.choices, rows, strict=True), key=lambda pair: not pair[0].key):
        for label in (label for measure in row for label in measure):
            spelt.setdefault(normal_row(label, conventions), label)
    ordered = sorted(spelt.items(), key=lambda pair: _rank(pair[1], conventions.counting))
    at = {normal: index for index, (normal, _) in enumerate(ordered)}
    texts, every = tuple(label for _, label in ordered), tuple(range(len(ordered)))
    slots = tuple(Slot(n, k, every) for n, measure in enumerate(rows[0]) for k in range(len(measure)))
    filled = tuple(tuple(at[normal_row(label, conventions)] for measure in row for label in measure) for row in rows)
    return Placing(texts, slots, filled)


def _rank(label: str, counting: Counting) -> tuple[list[tuple[bool, int, str]], bool, str]:
    """By numbers, then by the system's words, rests behind: an order that a student expects, and the same for any key.

    >>> sorted(["a", "&", "(2)", "2-3", "1", "2", "la", "e"], key=lambda label: _rank(label, "numbers"))
    ['1', '2', '(2)', '2-3', 'e', '&', 'a', 'la']
    """
    words, order = _WORD.findall(label.replace(STROKE, "")), SYSTEMS[counting].words
    places = [
        (False, int(word), "") if word.isdecimal() else (True, order.index(word) if word in order else len(order), word)
        for word in words
    ]
    return places, label.startswith("(") or STROKE in label, label


def _groups(item: Item) -> Placing:
    """The groups in an order that is neither right nor one that an error leads to, picked by the item's own hash."""
    orders = [tuple(map(format_symbols, parse_groups(c.answer.text))) for c in item.choices]
    if len({tuple(sorted(order)) for order in orders}) != 1 or len(set(orders[0])) < len(orders[0]):
        raise ItemError(f"the orders of item {item.id} are not of the same groups: take it out")
    free = [order for order in permutations(sorted(orders[0])) if order not in orders]
    texts = free[int(item.id, 16) % len(free)] if free else orders[0]
    return Placing(texts, (), tuple(tuple(map(texts.index, order)) for order in orders))
