"""What cannot be had of positions: how much of right answers is foreseen at least."""

from fractions import Fraction

from barwright.forms.key_places import LAST, PARTS, _Column, _foreseen


def least_foreseen(items: int, choices: int) -> Fraction:
    """The share of right answers that is foreseen of a part at least, however positions are drawn within one.

    Chance is one over the choices. Of more items than are worked out (`LAST`) it is that of so many.

    >>> least_foreseen(4, 4) - Fraction(1, 4)  # each position once: the last item is certain
    Fraction(13, 48)
    >>> round(100 * least_foreseen(10, 4))
    36
    """
    count = min(items, LAST)
    table = tuple(_Column((1 << count) - 1, True, 0, 0) for _ in range(choices))
    return Fraction(_foreseen(table, count)[0], PARTS * count)
