"""Numbers as shown and as typed; every accepted spelling is read back by an independent reader."""

import re
from fractions import Fraction

import pytest

from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import Meter, parse_meter
from barwright.wording.language import language
from barwright.wording.numbers_in_words import (
    MOST_SPELLINGS,
    amount,
    counts_in_beats,
    number_spellings,
    number_text,
    unit_names,
)

ENGLISH = language("en-US")
USUAL = Conventions()
METERS = tuple(map(parse_meter, ("2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "9/8", "12/8", "5/8")))
NUMBERS = tuple(Fraction(n, 12) for n in range(1, 145)) + tuple(Fraction(n, 16) for n in range(1, 64, 2))
SIGNS = {
    "½": (1, 2),
    "¼": (1, 4),
    "¾": (3, 4),
    "⅛": (1, 8),
    "⅜": (3, 8),
    "⅝": (5, 8),
    "⅞": (7, 8),
    "⅓": (1, 3),
    "⅔": (2, 3),
}
WORDS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
UNITS = re.compile(r" ?(beats?|counts?|(half|quarter|eighth) notes?|eighths?)$")
FULL_WIDTH = str.maketrans("０１２３４５６７８９", "0123456789")


def read_back(text: str) -> Fraction:
    """The number that a person reads in a spelling."""
    text = UNITS.sub("", text.translate(FULL_WIDTH).removesuffix("."))
    text = text.removesuffix(" of a").removesuffix(" of an").removesuffix(" a").removesuffix(" an").replace("-", " ")
    if text in ("half", "a half", "one half"):
        return Fraction(1, 2)
    if text.endswith((" fourth", " fourths")):
        return Fraction(3 if text.startswith("three") else 1, 4)
    found = Fraction(0)
    text = text.replace("and half", "1/2")
    text = re.sub(" ?(and|&|[+]) ?", " ", text).replace("a half", "1/2").replace("one half", "1/2")
    for part in text.replace(" / ", "/").split():
        if part in WORDS:
            found += WORDS.index(part)
        elif part[-1] in SIGNS:
            found += int(part[:-1] or 0) + Fraction(*SIGNS[part[-1]])
        else:
            found += Fraction(part.replace(",", "."))
    return found


@pytest.mark.parametrize("meter", METERS, ids=str)
def test_every_spelling_reads_back_as_the_number(meter: Meter) -> None:
    for number in NUMBERS:
        spellings = number_spellings(number, meter, USUAL, ENGLISH)
        assert 1 <= len(spellings) <= MOST_SPELLINGS
        assert len(set(spellings)) == len(spellings)
        for text in spellings:
            assert read_back(text) == number, text


def test_what_students_type_is_accepted() -> None:
    in_three_four = number_spellings(Fraction(3, 2), parse_meter("3/4"), USUAL, ENGLISH)
    for typed in ("1 1/2", "1.5", "1½", "3/2", "one and a half", "1 and a half", "1,5", "1.5 beats", "1 1/2 beats"):
        assert typed in in_three_four
    assert in_three_four[0] == "1 1/2"
    half = number_spellings(Fraction(1, 2), parse_meter("4/4"), USUAL, ENGLISH)
    for typed in ("1/2", "0.5", ".5", "½", "half", "a half", "1/2 beat", "1/2 of a beat", "half a beat", "0.5 beats"):
        assert typed in half
    for typed in ("2", "two", "2.0", "2 beats", "two beats", "2 quarter notes"):
        assert typed in number_spellings(Fraction(2), parse_meter("3/4"), USUAL, ENGLISH)
    assert "1 beat" in number_spellings(Fraction(1), parse_meter("3/4"), USUAL, ENGLISH)
    assert "1 beats" not in number_spellings(Fraction(1), parse_meter("3/4"), USUAL, ENGLISH)


def test_over_eight_nothing_is_called_a_beat() -> None:
    for meter in METERS:
        typed = number_spellings(Fraction(2), meter, USUAL, ENGLISH)
        assert ("2 beats" in typed) == counts_in_beats(meter, USUAL) == (meter.bottom != 8)
    assert "2 eighths" in number_spellings(Fraction(2), parse_meter("6/8"), USUAL, ENGLISH)


def test_cut_time_in_four_is_counted_in_half_notes() -> None:
    in_four = Conventions(cut_time="in_four")
    cut = parse_meter("2/2")
    assert unit_names(cut, USUAL, ENGLISH) == ("beat", "beats")
    assert unit_names(cut, in_four, ENGLISH) == ("half note", "half notes")
    assert not counts_in_beats(cut, in_four)


@pytest.mark.parametrize(
    ("number", "shown"),
    [(Fraction(4), "4"), (Fraction(1, 2), "½"), (Fraction(7, 4), "1¾"), (Fraction(4, 3), "1⅓"),
     (Fraction(5, 16), "5/16"), (Fraction(21, 16), "1 5/16")],
)  # fmt: skip
def test_number_as_shown(number: Fraction, shown: str) -> None:
    assert number_text(number) == shown


def test_amount_takes_one_or_several() -> None:
    names = ("beat", "beats")
    amounts = [amount(Fraction(n, 2), names, ENGLISH) for n in (0, 2, 3, 4)]
    assert amounts == ["0 beats", "1 beat", "1½ beats", "2 beats"]


def test_less_than_one_is_a_part_of_one() -> None:
    assert amount(Fraction(1, 2), ("beat", "beats"), ENGLISH) == "½ of a beat"
    assert amount(Fraction(1, 8), ("eighth note", "eighth notes"), ENGLISH) == "⅛ of an eighth note"
