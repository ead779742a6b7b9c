"""How many wrong answers the catalogue gives to every question about beginners' elements; -s prints the table."""

from fractions import Fraction

import pytest

from barwright.notation.legal_measures import Alphabet
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from misreadings.wrong_answers import QUESTIONS, Corpus, Coverage, coverage

METERS = tuple(map(parse_meter, ("2/4", "3/4", "4/4")))
CORPORA = {
    "whole, half, quarter notes; half, quarter rests": Corpus(
        Alphabet(("w", "h", "q", "rh", "rq")), METERS, Conventions()
    ),
    "the same with the whole rest": Corpus(Alphabet(("w", "h", "q", "rW", "rh", "rq")), METERS, Conventions()),
    "the same, half rests allowed in 3/4": Corpus(
        Alphabet(("w", "h", "q", "rW", "rh", "rq")), METERS, Conventions(half_rest_in_3_4="allow")
    ),
}
# Share of excerpts that must have enough wrong answers at their best place, and of all questions with choices to pick
# from. What is short of it is known: an empty measure, and rows like 1 2 3, which hardly allow a wrong rhythm.
EXCERPTS = QUESTIONS_OF_PICKED = Fraction(87, 100)
TYPED = ("beats-left", "count-under-mark", "write-counts")


def printed(name: str, found: list[Coverage]) -> None:
    print(f"\n{name}\n{'ask':28}{'goal':>20}{'questions':>12}{'enough':>9}{'excerpts':>10}{'enough':>9}")
    for c in found:
        shares = f"{c.questions:>12}{float(c.share):>9.1%}{c.excerpts:>10}{float(c.excerpt_share):>9.1%}"
        print(f"{c.ask:28}{c.goal_text:>20}{shares}")


@pytest.mark.parametrize("name", CORPORA)
def test_nearly_every_excerpt_has_enough_wrong_answers(name: str) -> None:
    found = [coverage(ask, CORPORA[name]) for ask in QUESTIONS]
    printed(name, found)
    for c in found:
        assert c.excerpt_share >= EXCERPTS, (c.ask, c.short)
        assert c.ask in TYPED or c.share >= QUESTIONS_OF_PICKED, (c.ask, c.short)
