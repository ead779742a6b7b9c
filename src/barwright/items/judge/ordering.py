"""Groups put in order of length, judged: the key rises in true length, every other order is of the same groups."""

from collections.abc import Iterator
from itertools import pairwise

from barwright.items.judge.notation import (
    filler,
    fragment_faults,
    kind_of,
    length_of_all,
    print_faults,
    syncopation_faults,
    whole_rest_sign,
)
from barwright.items.judge.reasons import reason
from barwright.items.judge.texts import groups_of
from barwright.items.model import Item
from barwright.items.taught import Taught
from barwright.rhythm.measure import Symbols
from barwright.rhythm.text import format_excerpt, format_symbols

SIZES = range(3, 5)


def order_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against orders of groups.

    Lengths are the same under all conventions, but for that of the whole-rest sign: so the right order is right for
    everybody, and any other wrong.
    """
    groups, meter = item.excerpt.measures, item.excerpt.meter
    yield from _excerpt_faults(item)
    for group in dict.fromkeys(groups):
        yield from _group_faults(item, group, taught)
    for choice in item.choices:
        order = groups_of(choice.answer.text)
        assert order is not None  # read before
        lengths = [length_of_all(group, meter) for group in order]
        rising = all(shorter < longer for shorter, longer in pairwise(lengths))
        if sorted(map(format_symbols, order)) != sorted(map(format_symbols, groups)):
            yield reason("other-groups", choice.answer.text)
        elif choice.key and not rising:
            yield reason("key-not-right", f"{choice.answer.text} lasts {', '.join(map(str, lengths))}")
        elif not choice.key and all(shorter <= longer for shorter, longer in pairwise(lengths)):
            yield reason("second-right-answer", choice.answer.text)


def _excerpt_faults(item: Item) -> Iterator[str]:
    """The groups stand in the excerpt by their text, so that they have no order of their own."""
    texts = list(map(format_symbols, item.excerpt.measures))
    if len(texts) not in SIZES or texts != sorted(set(texts)):
        yield reason("wrong-excerpt", f"{format_excerpt(item.excerpt)}, but three or four groups, sorted, are wanted")


def _group_faults(item: Item, group: Symbols, taught: Taught) -> Iterator[str]:
    """Reasons against one group: it is of one sort, of one sure length, and can begin a measure as it is printed."""
    text, meter = format_symbols(group), item.excerpt.meter
    if any(map(whole_rest_sign, group)):
        yield reason("unsure-length", text)
        return
    if kind_of(group) == "mixed":
        yield reason("mixed-group", text)
    yield from fragment_faults(group, taught, item.conventions)
    others = filler(meter.capacity - length_of_all(group, meter))
    if others is None or length_of_all(group, meter) > meter.capacity:
        yield reason("unprintable-choice", f"{text} in {meter}")
        return
    full = (*group, *others)
    if faults := print_faults(full, meter, item.conventions):
        yield reason("illegal-notation", f"{text} in {meter} ({', '.join(faults)})")
    if any(syncopation_faults((full,), meter, taught)):
        yield reason("untaught", f"syncopation in {text}")
