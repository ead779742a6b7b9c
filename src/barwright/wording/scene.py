"""What the sentences of one item may speak of: the names that templates use."""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import cache

from barwright.asks import ASKS
from barwright.counting.systems import SYSTEMS
from barwright.items.item import Answer, Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import Symbol, length_of
from barwright.rhythm.meter import Meter, parse_meter
from barwright.rhythm.said_beats import counts_in_beats
from barwright.rhythm.text import format_symbol, parse_measures
from barwright.rhythm.values import NAMES, NoteValue
from barwright.wording.language import Language
from barwright.wording.numbers_in_words import amount, unit_names
from barwright.wording.own_counts import said, sign_names

Scene = Mapping[str, object]
NO_MARK: Scene = {"marked": "", "marked_kind": ""}
OF_SYMBOLS = ("symbols", "measures")  # kinds of answers that are made of symbols


def _symbols_of(text: str) -> frozenset[Symbol]:
    return frozenset(s for measure in parse_measures(text) for s in measure)


def answer_symbols(item: Item) -> frozenset[Symbol]:
    """The different symbols of all choices, where they are symbols or measures, or orders of the excerpt."""
    if ASKS[item.ask].answer == "order":
        return frozenset().union(*item.excerpt.measures)
    return frozenset().union(*[_symbols_of(c.answer.text) for c in item.choices if c.answer.kind in OF_SYMBOLS])


def _symbols_in(answer: Answer, item: Item) -> frozenset[Symbol]:
    if ASKS[item.ask].answer == "order":
        return frozenset().union(*item.excerpt.measures)
    return _symbols_of(answer.text) if answer.kind in OF_SYMBOLS else frozenset()


def _marks_of(symbols: Iterable[Symbol]) -> frozenset[str]:
    """What can be named of symbols: `h`, `rq`, `rW` for notes and rests whatever their dots, `.` `~` `t` `r`."""
    marks: set[str] = set()
    for symbol in symbols:
        plain = symbol if symbol.value is None else Symbol(symbol.kind, NoteValue(symbol.value.plain))
        marks.add(format_symbol(plain))
        marks.update("r" * symbol.silent, "~" * symbol.tied)
        if symbol.value is not None:
            marks.update("." * symbol.value.dots, "t" * symbol.value.triplet)
    return frozenset(marks)


def hint_scene(item: Item, answer: Answer, words: Language) -> Scene:
    """What a sentence about one answer may name: the symbols that are seen in it and in the question.

    Where whole rhythms are picked, those of the picked one alone: the student has misread that, and the others may be
    the key.
    """
    ask, own = ASKS[item.ask], _symbols_in(answer, item)
    symbols = own if ask.choice == "measures" else own.union(*item.excerpt.measures)
    rests = any(s.silent for s in symbols)
    return {
        "shows": _marks_of(symbols),
        "rests": rests,
        "one": words.pair("asks", "offer.mixed" if rests else "offer.notes")[0],
        **_dotted_scene(symbols, words),
    }


def _has_twin(item: Item) -> bool:
    """Whether a time signature on offer holds as much as the right one: then the groups decide."""
    if ASKS[item.ask].answer != "meter":
        return False
    return any(parse_meter(c.answer.text).capacity == item.excerpt.meter.capacity for c in item.wrong)


def _joins(item: Item) -> bool:
    """Whether the right row of counts joins any, which counting with numbers alone does."""
    return item.conventions.counting == "numbers" and any("-" in c.answer.text for c in item.keys)


def offer_of(symbols: Iterable[Symbol]) -> str:
    """`notes`, `rests` or `mixed`: what choices are made of; `notes` where they are no symbols."""
    silent = {s.silent for s in symbols}
    return "mixed" if len(silent) > 1 else "rests" if silent == {True} else "notes"


def _dotted(symbols: Iterable[Symbol]) -> frozenset[Symbol]:
    return frozenset(s for s in symbols if s.value is not None and s.value.dots)


def _dotted_scene(symbols: Iterable[Symbol], words: Language) -> Scene:
    kind = offer_of(_dotted(symbols))
    return {"dotted": words.pair("asks", f"offer.{kind}")[0], "dotted_kind": kind}


def _symbol_scene(name: str, symbol: Symbol, words: Language) -> Scene:
    """What one symbol is, as a word and as a kind for languages whose sentences go by it."""
    kind = offer_of([symbol])
    return {name: words.pair("asks", f"offer.{kind}")[0], f"{name}_kind": kind}


def is_part(symbol: Symbol, meter: Meter) -> bool:
    """Whether a symbol is no whole number of the bottom number's notes."""
    return length_of(symbol, meter) % meter.unit != 0


def _symbol_names() -> dict[str, tuple[str, int]]:
    return {
        f"{value}_{kind}{'s' * several}": (f"{kind}.{value}", several)
        for value in NAMES.values()
        for kind in ("note", "rest")
        for several in (0, 1)
    }


SYMBOL_NAMES = _symbol_names()
"""`half_note`, `half_notes`, `half_rest` ...: what sentences call the symbols, and the words that it stands for."""


NAMES_OF_CLASS = frozenset(
    (*SYMBOL_NAMES, "on_half", "on_quarters", "rest_signs", "hold_sign", "hold_mark", "rest_word")
)
"""All names of `names_scene`, and what the signs in a row of counts are called."""


@cache
def names_scene(words: Language) -> Scene:
    """What the language, or the class, calls the symbols, one and several, and the parts of a beat in numbers."""
    symbols = {name: words.pair("words", ident)[several] for name, (ident, several) in SYMBOL_NAMES.items()}
    on_half, on_quarters = (said(text, "numbers", words) for text in ("&", "1 e & a"))
    return {**symbols, "on_half": on_half, "on_quarters": on_quarters}


@cache
def meter_scene(meter: Meter, conventions: Conventions, words: Language) -> Scene:
    """The names that the meter and the class's conventions settle."""
    names = unit_names(meter, conventions, words)
    one, several = words.pair("words", f"note.{NAMES[meter.unit]}")
    return {
        **names_scene(words),
        **sign_names(conventions, words),
        "meter": str(meter),
        "top": meter.top,
        "bottom": meter.bottom,
        "in_beats": counts_in_beats(meter, conventions),
        "holds": amount(Fraction(meter.top), names, words),
        "one_unit": amount(Fraction(1), names, words),
        "beats": names[1],
        "unit": one,
        "units": several,
        "struck": conventions.rest_counts == "strike",
        "numbered": SYSTEMS[conventions.counting].numbered,
    }


def scene_of(item: Item, number: int, words: Language) -> Scene:
    """Every name that the sentences around an item may use (told in LAYOUT.md)."""
    ask, excerpt, offered = ASKS[item.ask], item.excerpt, answer_symbols(item)
    offer_kind = offer_of(offered)
    offer = words.pair("asks", f"offer.{offer_kind}")
    printed = frozenset().union(*excerpt.measures)
    symbols = printed | offered
    rests = any(s.silent for s in symbols)
    mark = excerpt.mark
    return {
        **meter_scene(excerpt.meter, item.conventions, words),
        "number": number,
        "twin": _has_twin(item),
        "joins": _joins(item),
        "measures": len(excerpt.measures),
        "offer": offer[0],
        "offers": offer[1],
        "offer_kind": offer_kind,
        "notes": any(s.kind == "note" for s in symbols),
        "shows": _marks_of(symbols),
        "row": "",
        "row_rests": False,
        "row_holds": False,
        "rests": rests,
        "ties": any(s.tied for s in symbols),
        **_dotted_scene(symbols, words),
        "one": words.pair("asks", "offer.mixed" if rests else "offer.notes")[0],
        "parts": any(is_part(s, excerpt.meter) for s in printed),
        **_symbol_scene("shown", excerpt.measures[0][0], words),
        **(_symbol_scene("marked", excerpt.measures[mark[0]][mark[1]], words) if mark else NO_MARK),
        "blank": excerpt.blank is not None,
        "reads": "row-shown" in ask.cues,
        "orders": ask.interaction == "order",
        "single": ask.picture == "symbols",
        "asks_meter": ask.answer == "meter",
        "asks_top": item.target == "top",
        "target": words.text("asks", f"target.{item.target}") if item.target else "",
    }
