"""What students type, worked by hand in textbook/typed_rows.txt: accepted where it says the right thing, else not."""

from dataclasses import replace
from fractions import Fraction

import pytest

from barwright.counting.counts import spellings
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from barwright.wording.language import language
from barwright.wording.numbers_in_words import number_spellings
from worked import BOOK

USUAL = Conventions()
LINES = [
    tuple(line.split(" ~ "))
    for line in (BOOK / "typed_rows.txt").read_text("utf-8").splitlines()
    if line and not line.startswith("#")
]


def listed(under: str, right: str) -> tuple[str, ...]:
    """Everything that packages accept for a right answer, under these conventions or in this meter."""
    if "/" in under:
        return number_spellings(Fraction(right), parse_meter(under), USUAL, language("en-US"))
    changes = dict(each.split("=") for each in under.split()) if under != "-" else {}
    return spellings(right, replace(USUAL, **changes))


@pytest.mark.parametrize(("under", "right", "typed", "accepted"), LINES, ids=lambda cell: cell)
def test_typed_answers_are_accepted_where_they_say_the_right_thing(
    under: str, right: str, typed: str, accepted: str
) -> None:
    # Platforms compare typed answers sign by sign, but for capitals: `case="No"`, `caseSensitive="false"`.
    found = {spelling.casefold() for spelling in listed(under, right)}
    assert (typed.casefold() in found) == {"yes": True, "no": False}[accepted]
