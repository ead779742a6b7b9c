"""Numbers of packages as exact fractions, bounded, since "1e999999999" is a number too.

Source: XML Schema part 2, 3.2.3 (decimal) and 3.2.5 (double).
"""

import re
from fractions import Fraction
from functools import lru_cache

from barwright.check.reading.package_bounds import MOST_KEPT

_NUMBER = re.compile(r"[+-]?(?:\d{1,15}(?:\.\d{0,15})?|\.\d{1,15})(?:[eE][+-]?\d{1,2})?")
LARGEST = 10**40


def number(text: str | None) -> Fraction | None:
    """The number that a text holds, None for no number or one of absurd length.

    >>> number(" 0.5 "), number("five")
    (Fraction(1, 2), None)
    """
    if text is None:
        return None
    if len(text) > MOST_KEPT:
        text = text.strip()
    return _number(text) if len(text) <= MOST_KEPT else None


@lru_cache(maxsize=2048)
def _number(text: str) -> Fraction | None:
    plain = text.strip()
    return Fraction(plain) if _NUMBER.fullmatch(plain) else None


def bounded(value: Fraction) -> Fraction:
    """The same number; OverflowError if it has grown so long that reckoning with it would take for ever."""
    if not -LARGEST <= value.numerator <= LARGEST or value.denominator > LARGEST:
        raise OverflowError("number of absurd size")
    return value


def said(value: Fraction) -> str:
    """A number as people write it.

    >>> said(Fraction(1, 2)), said(Fraction(100)), said(Fraction(1, 3))
    ('0.5', '100', '1/3')
    """
    if value.denominator == 1:
        return str(value.numerator)
    ten = value.denominator
    for prime in (2, 5):
        while ten % prime == 0:
            ten //= prime
    return str(value) if ten > 1 or value.denominator > 10**6 else f"{float(value):.6f}".rstrip("0")
