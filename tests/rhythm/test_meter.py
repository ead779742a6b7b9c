"""Meters as written: kinds and felt beats as the books have them, text both ways, and what is refused."""

from fractions import Fraction

import pytest

from barwright.errors import RhythmError
from barwright.rhythm.meter import (
    ADDITIVE_GROUPS,
    BOTTOMS,
    Meter,
    parse_meter,
)

# Open University, An introduction to music theory, 3.6 and 3.9; G. Read 1979 (additive meters).
# meter, kind, felt beats in eighths
BOOK = [
    ("2/4", "simple", "2 2"),
    ("3/4", "simple", "2 2 2"),
    ("4/4", "simple", "2 2 2 2"),
    ("2/2", "simple", "4 4"),
    ("3/8", "simple", "1 1 1"),
    ("6/8", "compound", "3 3"),
    ("9/8", "compound", "3 3 3"),
    ("12/8", "compound", "3 3 3 3"),
    ("5/8", "additive", "3 2"),
    ("7/8", "additive", "2 2 3"),
    ("2+3/8", "additive", "2 3"),
    ("3+2+2/8", "additive", "3 2 2"),
    ("3+2/4", "additive", "6 4"),
]


@pytest.mark.parametrize(("text", "kind", "felt"), BOOK)
def test_meters_as_the_books_have_them(text: str, kind: str, felt: str) -> None:
    meter = parse_meter(text)
    beats = [int(each) for each in felt.split()]
    assert meter.kind == kind
    assert [beat * 8 for beat in meter.felt_beats] == beats
    assert meter.capacity * 8 == sum(beats)


def test_every_meter_there_and_back() -> None:
    """Every top and bottom, and every way to write an additive meter as a sum."""
    meters = [Meter(top, bottom) for top in range(1, 13) for bottom in BOTTOMS]
    meters += [Meter(top, 8, groups) for top, ways in ADDITIVE_GROUPS.items() for groups in ways]
    for meter in meters:
        assert parse_meter(str(meter)) == meter
        assert sum(meter.felt_beats) == meter.capacity == Fraction(meter.top, meter.bottom)
        assert meter.unit == Fraction(1, meter.bottom)


def test_equal_capacity_is_not_the_same_meter() -> None:
    for one, other in (("3/4", "6/8"), ("4/4", "2/2"), ("5/8", "2+3/8")):
        assert parse_meter(one).capacity == parse_meter(other).capacity
        assert parse_meter(one) != parse_meter(other)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("4/3", "time signature 4/3: the bottom number must be 2, 4 or 8"),
        ("0/4", "time signature 0/4: the top number must be 1 to 12"),
        ("13/8", "time signature 13/8: the top number must be 1 to 12"),
        ("1+4/8", "time signature 1+4/8: groups of 2, 3 or 4 that add up to 5 are needed"),
        ("C", "time signature 'C' cannot be read: write it as 3/4, 6/8 or 2+3/8"),
        ("3/4 q", "time signature '3/4 q' cannot be read: write it as 3/4, 6/8 or 2+3/8"),
    ],
)
def test_what_is_no_meter_says_why(text: str, message: str) -> None:
    with pytest.raises(RhythmError) as error:
        parse_meter(text)
    assert str(error.value) == message


def test_groups_that_do_not_add_up() -> None:
    with pytest.raises(RhythmError) as error:
        Meter(5, 8, (2, 2))
    assert str(error.value) == "time signature 2+2/8: groups of 2, 3 or 4 that add up to 5 are needed"
