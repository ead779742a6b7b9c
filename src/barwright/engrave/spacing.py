"""Ideal widths by length, and what widens them."""

from collections.abc import Iterable
from fractions import Fraction

from barwright.rhythm.values import MOST_DOTS, PLAIN, NoteValue

# Ideal widths in staff spaces from one symbol's left edge to the next one's: the plain values are a house choice after
# T. Ross 1970 and E. Gould 2011 (each doubling takes about 1.4 times the width); the others lie between them by the
# logarithm of their length. Columns: plain, dotted, double dotted; triplet member, the same with two dots.
_WIDTHS = {
    "whole": (7.0, 8.45, 9.0, 5.85, 7.55),
    "half": (5.0, 6.15, 6.6, 4.1, 5.45),
    "quarter": (3.5, 4.4, 4.7, 2.9, 3.85),
    "eighth": (2.5, 3.1, 3.3, 2.2, 2.7),
    "sixteenth": (2.0, 2.3, 2.4, 1.75, 2.1),
}
QUANTUM_SP = 0.05  # places are whole multiples of this: one pixel of the sharp picture at ten pixels a staff space
INK_GAP_SP = 0.5  # least distance between the ink of two symbols
LABEL_GAP_SP = 0.55  # least distance between two counts: a word space


def _table() -> dict[Fraction, float]:
    """Ideal width per length in whole notes. A dotted triplet member is as long as the plain value."""
    table: dict[Fraction, float] = {}
    for name, (plain, dotted, double, triplet, triplet_double) in _WIDTHS.items():
        for dots, width in zip(range(MOST_DOTS + 1), (plain, dotted, double), strict=True):
            table[NoteValue(PLAIN[name], dots).length] = width
        table[NoteValue(PLAIN[name], triplet=True).length] = triplet
        table[NoteValue(PLAIN[name], 2, triplet=True).length] = triplet_double
    return table


IDEAL_SP = _table()


# The ideal width that stands for a length (longer lengths have wider ones), and the least width that a symbol of that
# length must get for what stands at it, in staff spaces.
Need = tuple[float, float]


def snapped(width_sp: float) -> float:
    """The nearest multiple of the quantum."""
    return round(width_sp / QUANTUM_SP) * QUANTUM_SP


def widths(needs: Iterable[Need]) -> dict[float, float]:
    """Width in staff spaces per ideal width: the ideal one, or what the neediest symbol of that length needs.

    So equal values are spaced equally in one figure, and longer ones never closer than shorter ones.
    """
    found: dict[float, float] = {}
    for ideal, least in needs:
        if least > found.setdefault(ideal, ideal):
            found[ideal] = -(-least // QUANTUM_SP) * QUANTUM_SP
    widest = 0.0
    for ideal in sorted(found):
        widest = found[ideal] = max(widest, found[ideal])
    return found
