"""Looks: equal where the pictures are equal, and different where they are not."""

from fractions import Fraction
from random import Random

from rhythms import USUAL, chance_counts, chance_excerpts

from barwright.engrave.draw import drawn
from barwright.engrave.font import load_font
from barwright.engrave.look import Look, look
from barwright.rhythm.excerpt import Figure, fragment
from barwright.rhythm.measure import Symbols
from barwright.rhythm.text import parse_excerpt, parse_symbols


def hidden(text: str) -> Look:
    return look(Figure(parse_excerpt(text), signature=False), USUAL)


def started(symbols: Symbols, start: Fraction) -> Look:
    return look(fragment(symbols, parse_excerpt("4/4 w").meter, start=start), USUAL)


def test_what_is_not_seen_makes_no_difference() -> None:
    assert hidden("3/4 q q q") == hidden("6/8 q q q")
    assert hidden("3/4 e e e e e e") != hidden("6/8 e e e e e e")
    assert started(parse_symbols("q e e"), Fraction(0)) == started(parse_symbols("q e e"), Fraction(1, 4))
    assert started(parse_symbols("e e e"), Fraction(0)) != started(parse_symbols("e e e"), Fraction(1, 8))


def test_partial_beams_are_seen() -> None:
    assert hidden("2/4 e. s q") != hidden("2/4 s e. q")
    assert started(parse_symbols("s e s"), Fraction(0)) == started(parse_symbols("s e s"), Fraction(1, 4))


def test_each_look_has_a_picture_of_its_own() -> None:
    rng, font = Random(3), load_font("Bravura")
    pictures: dict[Look, bytes] = {}
    for excerpt in chance_excerpts(60):
        for figure in (
            Figure(excerpt),
            Figure(excerpt, signature=False),
            Figure(excerpt, numbers=True),
            Figure(excerpt, final=False),
            Figure(excerpt, counts=chance_counts(excerpt, rng)),
        ):
            pictures[look(figure, USUAL)] = drawn(figure, font, USUAL)[0]
    assert len(set(pictures.values())) == len(pictures) > 250
