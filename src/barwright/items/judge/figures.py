"""What every choice of whole measures must be, whether it is picked for counts or for a time signature."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations

from barwright.items.judge.notation import Sounds, heard, look, sounds, ties_lead_on
from barwright.items.judge.reasons import reason
from barwright.items.judge.texts import measures_of
from barwright.items.model import Choice, Item
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter

Measures = tuple[Symbols, ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A figure read: what it looks and sounds like measure by measure, and whether a tie goes over each barline."""

    measures: Measures
    look: tuple[str, ...]
    sounds: tuple[Sounds, ...]
    ties: tuple[bool, ...]
    led: bool


@cache
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
