"""No student fills a blank with what the own belief makes another length of."""

import pytest

from barwright.misreadings import MISREADINGS
from barwright.misreadings.answers import candidates_of, fillings_among, fills
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt, parse_symbols
from misreadings.wrong_answers import fillings

USUAL = Conventions()


@pytest.mark.parametrize(
    ("ident", "excerpt", "symbols", "taken"),
    [
        # who gives rests no time fills nothing with a rest
        ("rests-take-no-time", "4/4 h rq _", "h", True),
        ("rests-take-no-time", "4/4 h rq _", "rh", False),
        ("rests-take-no-time", "4/4 h rq _", "q rq", False),
        # who takes every symbol for one beat fills two beats with two symbols, not with one of two beats
        ("every-symbol-is-one-beat", "4/4 h q _", "q q", True),
        ("every-symbol-is-one-beat", "4/4 h q _", "h", False),
        ("every-symbol-is-one-beat", "4/4 e e q _", "q", True),
        ("every-symbol-is-one-beat", "4/4 e e q _", "e e", False),
        # who gives an eighth a full beat fills one beat with no pair of them, nor two beats
        ("eighth-gets-a-full-beat", "4/4 e e q _", "q", True),
        ("eighth-gets-a-full-beat", "4/4 e e q _", "e e", False),
        ("eighth-gets-a-full-beat", "4/4 e e _", "h", True),
        # who takes a beamed pair for one eighth
        ("beamed-pair-is-one-eighth", "2/4 e e _", "q.", True),
        ("beamed-pair-is-one-eighth", "3/4 e e q _", "q e e", False),
        # an error about the filler itself is believed of it
        ("every-rest-is-one-beat", "4/4 h q _", "rh", True),
    ],
)
def test_a_filler_agrees_with_the_belief(ident: str, excerpt: str, symbols: str, taken: bool) -> None:
    shown, filler = parse_excerpt(excerpt), parse_symbols(symbols)
    assert fills(MISREADINGS[ident], filler, shown, USUAL) == taken
    assert (filler in fillings((MISREADINGS[ident],), (filler,), shown, USUAL)) == taken


def test_where_one_of_two_keys_would_not_be_ticked_a_wrong_one_beside_the_other_tells_why() -> None:
    misreading, excerpt = MISREADINGS["as-many-symbols-as-beats"], parse_excerpt("4/4 h _")
    groups = tuple(map(parse_symbols, ("h", "q q", "e e", "rq q")))
    asked = candidates_of((misreading,), groups, excerpt.meter, USUAL)
    wrong = {parse_symbols("e e"): (misreading.id,)}
    assert fillings_among(asked, excerpt, USUAL, map(parse_symbols, ("h", "q q"))) == wrong
    assert fillings_among(asked, excerpt, USUAL, map(parse_symbols, ("rq q", "q q"))) == {}
