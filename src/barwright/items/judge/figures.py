"""What every choice of whole measures must be, whether it is picked for counts or for a time signature."""

from collections.abc import Iterator
from itertools import combinations

from barwright.items.judge.notation import look, sounds, ties_lead_on
from barwright.items.judge.reasons import reason
from barwright.items.judge.texts import measures_of
from barwright.items.model import Choice, Item
from barwright.rhythm.measure import Symbols

Measures = tuple[Symbols, ...]


def figure_faults(item: Item, choice: Choice, measures: Measures) -> Iterator[str]:
    """Reasons against one figure: the key is the excerpt itself, all have as many measures, every tie leads on."""
    text = choice.answer.text
    if choice.key and measures != item.excerpt.measures:
        yield reason("key-not-right", f"{text} is not the excerpt")
    if not choice.key and measures == item.excerpt.measures:
        yield reason("second-right-answer", f"{text} is the excerpt")
    if len(measures) != len(item.excerpt.measures):
        yield reason("wrong-size", text)
    if not ties_lead_on(tuple(s for m in measures for s in m), None):
        yield reason("dangling-tie", text)


def figure_pairs(item: Item) -> Iterator[str]:
    """Reasons against two figures that look or sound alike."""
    meter = item.excerpt.meter
    read = [(c.answer.text, measures_of(c.answer.text) or ()) for c in item.choices]
    for (one, first), (other, second) in combinations(read, 2):
        if [look(m) for m in first] == [look(m) for m in second]:
            yield reason("same-print", f"{one}, {other}")
        elif [(sounds(m, meter), m[-1].tied) for m in first] == [(sounds(m, meter), m[-1].tied) for m in second]:
            yield reason("same-meaning", f"{one}, {other}")
