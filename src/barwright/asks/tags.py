"""Tags of an item: what it is about, how hard it may be, and what it can show."""

from collections.abc import Mapping, Sequence
from typing import Any

from barwright.asks import ASKS
from barwright.items.difficulty import WEIGHTS, features
from barwright.items.item import Item
from barwright.misreadings import JOINT
from barwright.rhythm.text import format_symbol


def keywords_of(item: Item, curriculum: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """What a list of contents may say of an item: curriculum tags, family, meter, elements, features that are there."""
    tags = tags_of(item, curriculum)
    codes, elements = tags["curriculum"], tags["elements"]
    counted = [f"{name} {tags[name]}" for name in WEIGHTS if tags[name]]
    return (*codes, ASKS[item.ask].family, str(item.excerpt.meter), *elements, *counted)


def tags_of(item: Item, curriculum: Mapping[str, Sequence[str]]) -> dict[str, Any]:
    """Family, ask, meter, elements, features, misreadings on offer, and the curriculum tags of family and ask."""
    ask = ASKS[item.ask]
    elements = {format_symbol(s).removesuffix("~") for s in item.excerpt.symbols if s.kind != "blank"}
    return {
        "family": ask.family,
        "ask": ask.id,
        "meter": str(item.excerpt.meter),
        "elements": sorted(elements),
        "measures": len(item.excerpt.measures),
        **features(item.excerpt),
        "misreadings": sorted({m for c in item.wrong for way in c.misreadings for m in way.split(JOINT)}),
        "curriculum": sorted({*curriculum.get(ask.family, ()), *curriculum.get(ask.id, ())}),
    }
