"""The judge: given only an item and what is taught, it recomputes which choices are right, and says what is against it.

It is written apart from everything that makes items and shares only `rhythm` and the shape of an item with it: it knows
no misreadings and no families. An item is accepted if the keyed choices are exactly those that are right under the
stated conventions and no other choice is right under any convention of the trade that a teacher could hold.
"""

from collections.abc import Callable, Iterator
from functools import partial
from itertools import chain

from barwright.items.item import Item
from barwright.items.taught import Taught
from barwright.judge.count_labeling import aligned_faults, figure_for_row_faults, mark_faults, row_faults
from barwright.judge.every_item import ItemShape, shape_faults, taught_faults
from barwright.judge.measure_completion import beats_left_faults, filling_faults, order_faults
from barwright.judge.meter_identification import (
    does_it_fit_faults,
    numbers_say_faults,
    rhythm_for_signature_faults,
    time_signature_faults,
)
from barwright.judge.reasons import REASONS, reason

__all__ = ["ASKS", "REASONS", "judged"]

Faults = Callable[[Item, Taught], Iterator[str]]

ONE, TWO = range(1, 2), range(2, 3)  # symbols that are wanted for a blank

# ask -> the shape of its items, and the judge of its music
ASKS: dict[str, tuple[ItemShape, Faults]] = {
    "finish-measure": (ItemShape("symbols", "blank"), partial(filling_faults, widths=ONE)),
    "finish-measure-with-two": (ItemShape("symbols", "blank"), partial(filling_faults, widths=TWO)),
    "all-that-fit": (
        ItemShape("symbols", "blank", "several"),
        partial(filling_faults, widths=range(1, 5), ticks_all=True),
    ),
    "beats-left": (ItemShape("number", "blank", "entry"), beats_left_faults),
    "drag-into-the-blank": (ItemShape("symbols", "blank"), partial(filling_faults, widths=ONE)),
    "shortest-first": (ItemShape("order", "full", "order"), order_faults),
    "counts-for-rhythm": (ItemShape("row", "full"), row_faults),
    "write-counts": (ItemShape("row", "full", "entry"), row_faults),
    "count-under-mark": (ItemShape("row", "mark", "entry"), mark_faults),
    "count-under-each": (ItemShape("row", "full"), aligned_faults),
    "rhythm-for-counts": (ItemShape("measures", "full"), figure_for_row_faults),
    "time-signature-for-rhythm": (ItemShape("meter", "full"), time_signature_faults),
    "rhythm-for-time-signature": (ItemShape("measures", "full"), rhythm_for_signature_faults),
    "does-it-fit": (ItemShape("claim", "symbol"), does_it_fit_faults),
    "what-the-numbers-say": (ItemShape("claim", "full", targets=("top", "bottom")), numbers_say_faults),
}


def judged(item: Item, taught: Taught) -> tuple[str, ...]:
    """Every reason to refuse the item, each an id of REASONS with details; empty if it is accepted.

    A malformed item gets only the reasons of its form: its music cannot be judged.
    """
    if item.ask not in ASKS:
        return (reason("unknown-ask", item.ask),)
    shape, faults = ASKS[item.ask]
    malformed = tuple(shape_faults(item, shape))
    return malformed or tuple(dict.fromkeys(chain(taught_faults(item, taught), faults(item, taught))))
