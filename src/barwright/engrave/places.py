"""Where the measures and symbols of a figure stand, system by system."""

from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

from barwright.engrave.columns import Planned, SymbolColumn
from barwright.engrave.look import Look
from barwright.engrave.placed import Owner
from barwright.engrave.smufl import MusicFont
from barwright.engrave.spacing import snapped
from barwright.engrave.symbols import signature

# Choices of our own, in staff spaces.
MARGIN = 0.5  # round the canvas
SIGNATURE_LEAD = 0.8  # from the start of the line to the signature
LEAD = 1.5  # from a barline, the signature or the start of the line to the first symbol
TAIL = 0.4  # more room before a barline than the last symbol has of its own
AFTER_BARLINE = 0.15  # a thin barline, in whole quanta
SYSTEM_WIDTH = 60.0  # a measure that would pass this goes to a new system
FRAGMENT_WIDTH = 12.0  # canvas of a fragment, unless it needs more
FRAGMENT_MARGIN = 1.3  # least distance of a fragment from the edges of its canvas


class SymbolSpot(NamedTuple):
    """One symbol in its place: the column, its left edge, its system, and which symbol it is, as (measure, index)."""

    column: SymbolColumn
    left: float
    system: int
    owner: Owner

    @property
    def middle(self) -> float:
        """Middle of its head or sign."""
        return self.left + self.column.ink.middle

    @property
    def right(self) -> float:
        """Right edge of its ink."""
        return self.left + self.column.ink.right

    @property
    def stem(self) -> float:
        """Right edge of its stem."""
        return self.left + self.column.ink.stem


class Standing(NamedTuple):
    """One measure in its place: its system, where it begins and where its barline stands, its symbols' spots."""

    planned: Planned
    system: int
    left: float
    right: float
    spots: tuple[SymbolSpot, ...]


def standing(
    seen: Look, measures: Sequence[Planned], *, font: MusicFont, widest: float = SYSTEM_WIDTH
) -> tuple[Standing, ...]:
    """The measures from left to right; one that would pass the widest that a system may be begins a new one."""
    x, system = MARGIN, 0
    if seen.signature:
        x = snapped(MARGIN + SIGNATURE_LEAD + signature(seen.signature, font)[1])
    elif seen.frame == "fragment":
        extent = ink_extent(measures)
        x = snapped((fragment_width(extent) - extent) / 2) - LEAD
    placed: list[Standing] = []
    for number, measure in enumerate(measures):
        centred = measure.empty and seen.frame != "fragment"
        width = sum(measure.widths) + (0.0 if centred else LEAD + TAIL)
        full = seen.frame == "measures" and x + width > widest
        if full and placed and placed[-1].system == system:
            x, system = MARGIN, system + 1
        first = x + (width / 2 - measure.columns[0].ink.middle if centred else LEAD)
        lefts = accumulate(measure.widths[:-1], initial=snapped(first))
        spots = tuple(
            [
                SymbolSpot(column, left, system, (number, index))
                for index, (column, left) in enumerate(zip(measure.columns, lefts, strict=True))
            ]
        )
        placed.append(Standing(measure, system, x, x + width, spots))
        x += width + AFTER_BARLINE
    return tuple(placed)


def ink_extent(measures: Sequence[Planned]) -> float:
    """From the first symbol's left edge to the right edge of the last one's ink, in staff spaces."""
    last = measures[-1]
    return sum(w for m in measures for w in m.widths) - last.widths[-1] + last.columns[-1].ink.right


def fragment_width(extent: float) -> float:
    """Canvas width for a fragment whose ink is that wide: one for all short ones."""
    return max(FRAGMENT_WIDTH, snapped(extent + 2 * FRAGMENT_MARGIN))
