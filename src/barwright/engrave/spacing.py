"""Ideal widths by length, and what widens them."""

from collections.abc import Iterable
from fractions import Fraction

from barwright.rhythm.values import MOST_DOTS, PLAIN, NoteValue

# Ideal widths in staff spaces from one symbol's left edge to the next one's: the plain values are our own choice after
# T. Ross 1970 and E. Gould 2011 (each doubling takes about 1.35 times the width, and a flag fits into an eighth's); the
# others lie between them by the logarithm of their length. Columns: plain, dotted, double dotted; triplet member, the
# same with two dots.
_WIDTHS = {
    "whole": (7.4, 8.9, 9.5, 6.2, 8.0),
    "half": (5.4, 6.55, 7.0, 4.5, 5.85),
    "quarter": (3.9, 4.75, 5.1, 3.3, 4.25),
    "eighth": (2.9, 3.5, 3.7, 2.5, 3.1),
    "sixteenth": (2.2, 2.6, 2.75, 1.95, 2.35),
}
QUANTUM_SP = 0.05  # places are whole multiples of this: one pixel of the sharp picture at ten pixels a staff space
# Least distances between the ink of two symbols, side by side as if they were of one height: more beside a flag,
# which leans towards the next sign, and most beside a rest, which belongs to neither neighbour (choices of our own).
INK_GAP_SP = 0.6
FLAG_GAP_SP = 0.75
REST_GAP_SP = 1.1
LABEL_GAP_SP = 1.2  # least distance between two counts: 0.6 em, over twice a word space
GROWTH = 0.5  # however much a short value is widened: a longer one gets at least this part of its own room more


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

    So equal values are spaced equally in one figure, and longer ones always wider than shorter ones.
    """
    by_ideal: dict[float, float] = {}
    for ideal, least in needs:
        by_ideal[ideal] = max(by_ideal.get(ideal, ideal), least)
    before = widest = 0.0
    for ideal in sorted(by_ideal):
        least = max(by_ideal[ideal], widest + GROWTH * (ideal - before))
        by_ideal[ideal] = widest = ideal if least == ideal else -(-least // QUANTUM_SP) * QUANTUM_SP
        before = ideal
    return by_ideal
