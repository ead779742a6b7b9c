"""Note values and their exact lengths, in whole notes and in ticks.

There are two units of length. Fractions of a whole note are what is written and told: values, onsets, capacities.
Ticks, 1,536 to the whole note, are what is reckoned with: every length that can be written or believed is a whole
number of them, and whole numbers are added and compared far more quickly. `ticks` and `whole_notes` lead from one to
the other.

Source of the binary tree, the dots and the triplet: Open University, An introduction to music theory, 3.6;
G. Read, Music Notation (2nd ed. 1979), chapters on notes and irregular groups.
"""

from dataclasses import dataclass, field, fields
from fractions import Fraction
from typing import Any

from barwright.errors import RhythmError

# Name -> length in whole notes (Read 1979: each value is half of the one before).
PLAIN = {
    "whole": Fraction(1),
    "half": Fraction(1, 2),
    "quarter": Fraction(1, 4),
    "eighth": Fraction(1, 8),
    "sixteenth": Fraction(1, 16),
}
NAMES = {plain: name for name, plain in PLAIN.items()}
FLAGS = {"eighth": 1, "sixteenth": 2}
MOST_DOTS = 2
# A written length is a whole number of 192nds of a whole note (64 for the double-dotted sixteenth, 3 for triplets). It
# may be believed to be a part of a measure or of a beat, which are halves, quarters or eighths: every believed length
# is a whole number of eighths of these (a test tries them all).
WRITTEN = 8  # ticks
TICKS = 192 * WRITTEN  # in a whole note


def whole_notes(count: int) -> Fraction:
    """A length or onset of so many ticks in whole notes.

    >>> whole_notes(576)
    Fraction(3, 8)
    """
    return Fraction(count, TICKS)


def ticks(length: Fraction) -> int:
    """A length or onset in whole notes as a number of ticks.

    >>> ticks(Fraction(1, 12)), ticks(Fraction(7, 64))
    (128, 168)
    """
    count = length * TICKS
    assert count.denominator == 1, f"{length} is not a whole number of ticks"
    return count.numerator


def as_made(value: Any) -> tuple[type, tuple[object, ...]]:
    """How to make a value again from what it was made of: what `__reduce__` returns, for copies and pickles.

    Without it a pickle would hold what is derived as well, such as a hash, which another process works out otherwise.
    """
    return type(value), tuple(getattr(value, part.name) for part in fields(value) if part.init)


@dataclass(frozen=True, slots=True)
class NoteValue:
    """One written note value; `plain` is the undotted length in whole notes, `length` the exact one, `ticks` in ticks.

    `name` is the US name of the undotted value, e.g. `quarter`; `flags` the number of flags or beams: 0 down to the
    quarter, 1 for eighths, 2 for sixteenths.

    A dot adds half of what it follows; a triplet member lasts two thirds (three in the time of two).

    >>> NoteValue(Fraction(1, 4), dots=1).length
    Fraction(3, 8)
    >>> NoteValue(Fraction(1, 8), triplet=True).length
    Fraction(1, 12)

    Raises RhythmError for a plain length outside whole to sixteenth, or more than two dots.
    """

    plain: Fraction
    dots: int = 0
    triplet: bool = False
    length: Fraction = field(init=False, repr=False, compare=False)
    ticks: int = field(init=False, repr=False, compare=False)
    name: str = field(init=False, repr=False, compare=False)
    flags: int = field(init=False, repr=False, compare=False)
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if self.plain not in NAMES:
            raise RhythmError(f"note value {self.plain} of a whole note is not known: use {', '.join(PLAIN)}")
        object.__setattr__(self, "name", NAMES[self.plain])
        object.__setattr__(self, "flags", FLAGS.get(self.name, 0))
        if not 0 <= self.dots <= MOST_DOTS:
            raise RhythmError(f"{self.dots} dots on a {self.name} note: use 0 to {MOST_DOTS}")
        dotted = self.plain * (2 - Fraction(1, 2**self.dots))
        length = dotted * Fraction(2, 3) if self.triplet else dotted
        object.__setattr__(self, "length", length)
        object.__setattr__(self, "ticks", int(length * TICKS))
        object.__setattr__(self, "_hash", hash((self.plain, self.dots, self.triplet)))

    def __hash__(self) -> int:
        """Kept, since the caches of all layers ask for it again and again."""
        return self._hash

    __reduce__ = as_made
