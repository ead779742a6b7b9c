"""Note values: every length recounted in whole numbers, and what is refused."""

from fractions import Fraction

import pytest

from barwright.errors import RhythmError
from barwright.rhythm.values import (
    MOST_DOTS,
    NAMES,
    PLAIN,
    NoteValue,
)

# Open University, An introduction to music theory, 3.6: lengths in sixteenths, plain, dotted and double dotted.
BOOK = {"whole": (16, 24, 28), "half": (8, 12, 14), "quarter": (4, 6, 7), "eighth": (2, 3, Fraction(7, 2))}


@pytest.mark.parametrize("name", BOOK)
def test_lengths_as_the_book_has_them(name: str) -> None:
    assert [NoteValue(PLAIN[name], dots).length * 16 for dots in range(3)] == list(BOOK[name])


def test_every_length_recounted_in_whole_numbers() -> None:
    """In 192nds of a whole note: a dot adds half of what it follows, three triplet members last as long as two."""
    for halvings, name in enumerate(("whole", "half", "quarter", "eighth", "sixteenth")):
        for dots in range(MOST_DOTS + 1):
            ticks = sum(192 >> halvings + n for n in range(dots + 1))
            plain, triplet = (NoteValue(PLAIN[name], dots, triplet) for triplet in (False, True))
            assert plain.length == Fraction(ticks, 192)
            assert triplet.length * 3 == plain.length * 2
            assert plain.name == triplet.name == name


def test_flags() -> None:
    assert [NoteValue(plain).flags for plain in NAMES] == [0, 0, 0, 1, 2]


def test_the_length_is_no_part_of_what_makes_two_values_equal() -> None:
    """A dotted eighth triplet member lasts as long as an eighth, but is written otherwise."""
    dotted, plain = NoteValue(PLAIN["eighth"], 1, triplet=True), NoteValue(PLAIN["eighth"])
    assert dotted.length == plain.length
    assert dotted != plain


def test_an_unknown_value_is_named() -> None:
    with pytest.raises(RhythmError) as error:
        NoteValue(Fraction(1, 3))
    assert (
        str(error.value) == "note value 1/3 of a whole note is not known: use whole, half, quarter, eighth, sixteenth"
    )


@pytest.mark.parametrize("dots", [-1, 3])
def test_too_many_dots_are_named(dots: int) -> None:
    with pytest.raises(RhythmError) as error:
        NoteValue(PLAIN["quarter"], dots)
    assert str(error.value) == f"{dots} dots on a quarter note: use 0 to 2"
