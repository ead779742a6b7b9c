"""Tags of an item: what it is about, how hard it may be, and what it can show."""

from barwright.items.families import ASKS
from barwright.items.model import Item
from barwright.rhythm.text import format_symbol

# Features that made rhythm recognition harder in a study of 2,146 band students (Virginia Tech dissertation 1988:
# mainly the number of sounds); the others are common practice. They are counted here, not weighed.


def features(item: Item) -> dict[str, int]:
    """Counts of what is printed in the excerpt: sounds, rests, off-beat onsets (felt beats), dots, ties."""
    excerpt = item.excerpt
    beats = set(excerpt.meter.felt_onsets)
    sounds = offbeats = 0
    tied = False
    for measure in excerpt.events():
        for event in measure:
            if event.symbol.kind == "note" and not tied:
                sounds += 1
                offbeats += event.onset not in beats
            tied = event.symbol.tied
    symbols = excerpt.symbols
    return {
        "sounds": sounds,
        "rests": sum(s.silent for s in symbols),
        "offbeats": offbeats,
        "dots": sum(s.value.dots for s in symbols if s.value is not None),
        "ties": sum(s.tied for s in symbols),
    }


def tags_of(item: Item, curriculum: dict[str, tuple[str, ...]]) -> dict[str, object]:
    """Family, ask, meter, elements, features, misreadings on offer, and the curriculum tags of family and ask."""
    ask = ASKS[item.ask]
    elements = {format_symbol(s).removesuffix("~") for s in item.excerpt.symbols if s.kind != "blank"}
    return {
        "family": ask.family,
        "ask": ask.id,
        "meter": str(item.excerpt.meter),
        "elements": sorted(elements),
        "measures": len(item.excerpt.measures),
        **features(item),
        "misreadings": sorted({m for c in item.wrong for m in c.misreadings}),
        "curriculum": sorted({*curriculum.get(ask.family, ()), *curriculum.get(ask.id, ())}),
    }
