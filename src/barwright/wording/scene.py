"""What the sentences of one item may speak of: the names that templates use."""

from collections.abc import Mapping
from fractions import Fraction

from barwright.items.families import ASKS
from barwright.items.model import Item
from barwright.rhythm.measure import Symbol, length_of
from barwright.rhythm.text import parse_measures
from barwright.rhythm.values import NAMES
from barwright.wording.language import Language
from barwright.wording.numbers import amount, counts_in_beats, unit_names

Scene = Mapping[str, object]


def answer_symbols(item: Item) -> tuple[Symbol, ...]:
    """All symbols of all choices, where the choices are symbols or measures."""
    texts = (c.answer.text for c in item.choices if c.answer.kind in ("symbols", "measures"))
    return tuple(s for text in texts for measure in parse_measures(text) for s in measure)


def offer_of(item: Item) -> str:
    """`notes`, `rests` or `mixed`: what the choices are made of; `notes` where they are no symbols."""
    silent = {s.silent for s in answer_symbols(item)}
    return "mixed" if len(silent) > 1 else "rests" if silent == {True} else "notes"


def _symbol_word(symbol: Symbol, words: Language) -> str:
    return words.pair("asks", "offer.rests" if symbol.silent else "offer.notes")[0]


def scene_of(item: Item, number: int, words: Language) -> Scene:
    """Every name that the sentences around an item may use (told in LAYOUT.md)."""
    excerpt, meter = item.excerpt, item.excerpt.meter
    names = unit_names(meter, item.conventions, words)
    unit = words.pair("words", f"note.{NAMES[meter.unit]}")
    offer = words.pair("asks", f"offer.{offer_of(item)}")
    symbols = (*excerpt.symbols, *answer_symbols(item))
    mark = excerpt.mark
    return {
        "number": number,
        "meter": str(meter),
        "top": meter.top,
        "bottom": meter.bottom,
        "in_beats": counts_in_beats(meter, item.conventions),
        "holds": amount(Fraction(meter.top), names, words),
        "one_unit": amount(Fraction(1), names, words),
        "unit": unit[0],
        "units": unit[1],
        "measures": len(excerpt.measures),
        "offer": offer[0],
        "offers": offer[1],
        "notes": any(s.kind == "note" for s in symbols),
        "rests": any(s.silent for s in symbols),
        "ties": any(s.tied for s in symbols),
        "one": words.pair("asks", "offer.mixed" if any(s.silent for s in symbols) else "offer.notes")[0],
        "struck": item.conventions.rest_counts == "strike",
        "parts": any(length_of(s, meter) % meter.unit for s in excerpt.symbols),
        "shown": _symbol_word(excerpt.symbols[0], words),
        "marked": _symbol_word(excerpt.measures[mark[0]][mark[1]], words) if mark else "",
        "asks_meter": ASKS[item.ask].answer == "meter",
        "asks_top": item.target == "top",
        "target": words.text("asks", f"target.{item.target}") if item.target else "",
    }
