"""What can be held against an item of a bank: today's judge, and every misreading run again."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from barwright.asks.derivation import way_leads_to
from barwright.asks.item_content import parsed_item
from barwright.errors import ItemError
from barwright.items.item import Item
from barwright.items.taught import Taught
from barwright.judge import judged
from barwright.judge.answer_texts import meter_of
from barwright.misreadings import JOINT
from barwright.rhythm.meter import BOTTOMS, Meter
from barwright.showing import shown

# Every token of rhythm text, and a meter of each bottom number and kind: nothing is untaught to this class, so that an
# item is judged by its music alone. What a real class knows is asked when it is to get the item.
_NOTES = tuple(letter + dots for letter in "whqes" for dots in ("", ".", ".."))
_TOKENS = frozenset((*_NOTES, *(f"r{t}" for t in _NOTES), *(f"{r}{t}t" for t in "whqes" for r in ("", "r")), "rW"))
_METERS = tuple(Meter(top, bottom) for bottom in BOTTOMS for top in range(1, 13))


def all_taught(item: Item) -> Taught:
    """A class that knows every symbol and meter, those of the item among them."""
    meters = [meter_of(c.answer.text) for c in item.choices if c.answer.kind == "meter"]
    return Taught(_TOKENS, True, (*_METERS, item.excerpt.meter, *(m for m in meters if m is not None)))


def item_faults(item: Item) -> Iterator[str]:
    """Why the judge would not keep the item today, or which wrong answer its misreading does not lead to."""
    reasons = judged(item, all_taught(item))
    yield from (f"the judge refuses it ({reason})" for reason in reasons)
    for choice in () if reasons else item.wrong:
        for way in choice.misreadings:
            if not way_leads_to(way, item, choice.answer):
                what, lead = ("misreadings", "do not lead") if JOINT in way else ("misreading", "does not lead")
                yield f"{what} {shown(way)} {lead} to the answer {shown(choice.answer.text)}"


def content_faults(content: Mapping[str, Any]) -> tuple[str, ...]:
    """Everything against a content whose shape has been checked: what cannot be read, else the faults of its item."""
    try:
        item = parsed_item(content)
    except ItemError as error:
        return (str(error),)
    tidy = replace(item, choices=tuple(sorted(item.choices, key=lambda c: c.answer)))
    faults = list(item_faults(tidy))
    if tidy != item:
        faults.append("its choices are not sorted by kind and text, so the same question would have two ids: sort them")
    return tuple(faults)
