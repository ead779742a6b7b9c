"""What every item must be, whatever it asks: well formed, taught, legally printed, without a choice twice.

What every choice of whole measures must be, whether it is picked for counts or for a time signature."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from barwright.items.item import AnswerKind, Choice, Item
from barwright.items.taught import Taught, untaught
from barwright.judge.answer_texts import (
    canonical,
    measures_of,
    meter_of,
    symbols_of,
)
from barwright.judge.print_rules import (
    Sounds,
    heard,
    look,
    sounds,
    syncopation_faults,
    ties_lead_on,
)
from barwright.judge.reasons import reason
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_excerpt

LEAST_CHOICES, MOST_CHOICES = 3, 5
LEAST_OF_SEVERAL = 1
LEAST_ORDERS = 2  # the right one and one that an error leads to; the student sees neither
WANTED = {"full": "full measures are", "blank": "one blank is", "mark": "one mark is", "symbol": "one symbol is"}


@dataclass(frozen=True, slots=True)
class ItemShape:
    """What an ask wants of an item: answer kind, what the excerpt holds, and how it is answered."""

    answer: AnswerKind
    excerpt: Literal["full", "blank", "mark", "symbol"]
    interaction: Literal["choice", "several", "entry", "order"] = "choice"
    targets: tuple[str, ...] = ("",)


def shape_faults(item: Item, shape: ItemShape) -> Iterator[str]:
    """Reasons that make it useless to look at the music."""
    yield from _answer_faults(item, shape)
    yield from _number_faults(item, shape)
    if item.target not in shape.targets:
        yield reason("wrong-target", f"'{item.target}'")
    if not _excerpt_is(item.excerpt, shape):
        yield reason("wrong-excerpt", f"{format_excerpt(item.excerpt)}, but {WANTED[shape.excerpt]} wanted")


def _answer_faults(item: Item, shape: ItemShape) -> Iterator[str]:
    texts = [c.answer.text for c in item.choices]
    for choice in item.choices:
        kind, text = choice.answer.kind, choice.answer.text
        spelt = canonical(shape.answer, text)
        if kind != shape.answer:
            yield reason("wrong-kind", f"{kind} '{text}'")
        elif spelt is None:
            yield reason("unreadable-answer", f"'{text}'")
        elif spelt != text:
            yield reason("not-canonical", f"'{text}', not '{spelt}'")
        named = choice.misreadings
        if not all(named) or len(set(named)) < len(named):
            yield reason("unnamed-misreading", f"'{text}': {', '.join(named) or 'none'}")
    if len(set(texts)) < len(texts):
        for text in sorted({t for t in texts if texts.count(t) > 1}):
            yield reason("repeated-answer", f"'{text}'")
    answers = [(c.answer.kind, c.answer.text) for c in item.choices]
    if answers != sorted(answers):
        yield reason("unsorted-choices", ", ".join(texts))


def _number_faults(item: Item, shape: ItemShape) -> Iterator[str]:
    keys, wrong, several = len(item.keys), len(item.wrong), shape.interaction == "several"
    if not keys:
        yield reason("too-few-keys", str(keys))
    if keys > 1 and not several:
        yield reason("too-many-keys", ", ".join(c.answer.text for c in item.keys))
    if shape.interaction == "entry":
        return
    least = LEAST_ORDERS if shape.interaction == "order" else LEAST_CHOICES
    if keys + wrong < least or (several and wrong < LEAST_OF_SEVERAL):
        yield reason("too-few-choices", f"{keys} right, {wrong} wrong")
    if keys + wrong > MOST_CHOICES:
        yield reason("too-many-choices", str(keys + wrong))


def _excerpt_is(excerpt: Excerpt, shape: ItemShape) -> bool:
    blanks = sum(s.kind == "blank" for s in excerpt.symbols)
    marked = excerpt.mark is not None
    if shape.excerpt == "symbol":
        return len(excerpt.symbols) == 1 and not blanks and not marked and not excerpt.pickup
    return blanks == (shape.excerpt == "blank") and marked == (shape.excerpt == "mark")


def taught_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons for everything shown that the class was not taught, and for ties that lead nowhere in the excerpt."""
    excerpt = item.excerpt
    yield from _untaught(excerpt.symbols, taught, format_excerpt(excerpt))
    if excerpt.meter not in taught.meters:
        yield reason("untaught-meter", str(excerpt.meter))
    yield from syncopation_faults(excerpt.measures[excerpt.pickup :], excerpt.meter, taught)
    if not ties_lead_on(excerpt.symbols, None):
        yield reason("dangling-tie", format_excerpt(excerpt))
    for choice in item.choices:
        text = choice.answer.text
        yield from _untaught(_shown(choice.answer.kind, text), taught, text)
        if choice.answer.kind == "meter" and meter_of(text) not in taught.meters:
            yield reason("untaught-meter", text)


def _untaught(symbols: Symbols, taught: Taught, where: str) -> Iterator[str]:
    tokens = untaught(symbols, taught)
    if tokens:
        yield reason("untaught", f"{' '.join(tokens)} in {where}")


def _shown(kind: AnswerKind, text: str) -> Symbols:
    if kind == "symbols":
        return symbols_of(text) or ()
    return tuple(s for m in measures_of(text) or () for s in m) if kind == "measures" else ()


Measures = tuple[Symbols, ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A figure read: what it looks and sounds like measure by measure, and whether a tie goes over each barline."""

    measures: Measures
    look: tuple[str, ...]
    sounds: tuple[Sounds, ...]
    ties: tuple[bool, ...]
    led: bool


def drawn_of(text: str, meter: Meter) -> Drawn:
    """The figure of an answer text that can be read; `led`: whether every tie in it leads to a note."""
    measures = measures_of(text)
    assert measures is not None  # read before
    return Drawn(
        measures,
        tuple(map(look, measures)),
        tuple(sounds(m, meter) for m in measures),
        tuple(m[-1].tied for m in measures),
        ties_lead_on(tuple(s for m in measures for s in m), None),
    )


def figure_faults(item: Item, choice: Choice, drawn: Drawn) -> Iterator[str]:
    """Reasons against one figure: the key is the excerpt itself, all have as many measures, every tie leads on."""
    text, same = choice.answer.text, drawn.measures == item.excerpt.measures
    if choice.key and not same:
        yield reason("key-not-right", f"{text} is not the excerpt")
    if not choice.key and same:
        yield reason("second-right-answer", f"{text} is the excerpt")
    if len(drawn.measures) != len(item.excerpt.measures):
        yield reason("wrong-size", text)
    if not drawn.led:
        yield reason("dangling-tie", text)


def _heard(drawn: Drawn, item: Item) -> tuple[Sounds, ...]:
    return tuple(heard(each, item.conventions) for each in drawn.sounds)


def figure_pairs(item: Item) -> Iterator[str]:
    """Reasons against two figures that look or sound alike."""
    read = [(c.answer.text, drawn_of(c.answer.text, item.excerpt.meter)) for c in item.choices]
    for (one, first), (other, second) in combinations(read, 2):
        if first.look == second.look:
            yield reason("same-print", f"{one}, {other}")
        elif (_heard(first, item), first.ties) == (_heard(second, item), second.ties):
            yield reason("same-meaning", f"{one}, {other}")
