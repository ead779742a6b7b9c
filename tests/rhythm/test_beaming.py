"""Beams by the table of Open University, An introduction to music theory, 3.6 and 3.9, and by common practice."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product

import pytest

from barwright.notation.beaming import beam_groups, beams_decide
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.grouping import groupings, shown_groups
from barwright.rhythm.measure import events, total
from barwright.rhythm.meter import Meter, parse_meter
from barwright.rhythm.text import parse_excerpt, parse_symbols

USUAL = Conventions()
BY_HALF = replace(USUAL, beam_4_4="half")


def drawn(text: str, conventions: Conventions = USUAL, start: Fraction = Fraction(0)) -> str:
    """`[e e] q`: the rhythm with every beam in brackets."""
    signature, _, body = text.partition(" ")
    tokens = body.split()
    for group in beam_groups(parse_symbols(body), parse_meter(signature), conventions, start=start):
        tokens[group[0]] = "[" + tokens[group[0]]
        tokens[group[-1]] += "]"
    return f"{signature} {' '.join(tokens)}"


# One row a meter of the table; all-eighth measures first, as a handbook prints them.
TABLE = """
2/4 [e e] [e e]
3/4 [e e] [e e] [e e]
4/4 [e e] [e e] [e e] [e e]
2/2 [e e e e] [e e e e]
3/2 [e e e e] [e e e e] [e e e e]
3/8 [e e e]
6/8 [e e e] [e e e]
9/8 [e e e] [e e e] [e e e]
12/8 [e e e] [e e e] [e e e] [e e e]
5/8 [e e e] [e e]
7/8 [e e] [e e] [e e e]
2+3/8 [e e] [e e e]
3+2+2/8 [e e e] [e e] [e e]
4+3/8 [e e e e] [e e e]
2+3/4 [e e] [e e] [e e] [e e] [e e]
4/8 [e e] [e e]"""
# Longer notes and rests break a beam; sixteenths break at each quarter beat; a triplet beams alone.
MIXED = """
4/4 q. e h
4/4 e q e h
4/4 [e. s] [e. s] rh
4/4 [s s s s] [e e] h
4/4 [e s s] [s s e] [e e] q
4/4 q [et et et] h
4/4 [et et et] [et et et] h
4/4 [et et et] [e e] h
2/4 re e e re
2/4 [s s] re [e e]
2/4 s rs re [e e]
2/4 [et et] ret [e e]
3/4 q. e [e e]
3/4 q e re [e e]
3/4 q~ [e e] q
2/2 [s s s s] [e e] h
2/2 [e. s] [e e] h
2/2 q [e e] h
3/8 [e s s e]
3/8 e re e
6/8 q. [e e e]
6/8 [e. s e] q.
6/8 [s s s s s s] q.
6/8 [e s s e] [e e] re
6/8 q e [e e] re
6/8 e q [e e e]
5/8 q e [e e]
5/8 [e e e] q
5/8 q. [e e]
7/8 q. [e e] q
7/8 [e e] q. [e e]
7/8 h [e e e]
7/8 [s s s s] [e e] [e e e]
4+3/8 [s s s s] [e e] [e e e]
"""
HALVES = """
4/4 [e e e e] [e e e e]
4/4 q [e e] [e e e e]
4/4 re [e e e] h
4/4 [e e] [s s s s] [e e e e]
4/4 [e. s] [e e] q [e e]
4/4 [e e] [et et et] h
4/4 [et et et] [et et et] h
3/4 [e e] [e e] [e e]
2/4 [e e] [e e]
"""


@pytest.mark.parametrize("row", (TABLE + MIXED).split("\n")[1:-1])
def test_beams_of_the_table(row):
    assert drawn(row.translate({91: None, 93: None})) == row


@pytest.mark.parametrize("row", HALVES.split("\n")[1:-1])
def test_beams_by_half_measure(row):
    assert drawn(row.translate({91: None, 93: None}), BY_HALF) == row


@pytest.mark.parametrize("meter", ["2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "5/8", "2+3/8"])
@pytest.mark.parametrize("conventions", [USUAL, BY_HALF])
def test_a_beam_joins_flagged_neighbours_in_one_cell_in_every_short_measure(meter, conventions):
    """Every row of up to four symbols, at every third sixteenth: the rules that hold whatever the meter."""
    meter = parse_meter(meter)
    names = ("q", "e", "s", "re")
    starts = [Fraction(n, 16) for n in range(0, int(meter.capacity * 16), 3)]
    for width in range(2, 5):
        for tokens in product(names, repeat=width):
            symbols = parse_symbols(" ".join(tokens))
            for start in starts:
                if start + total(symbols, meter) > meter.capacity:
                    continue
                groups = beam_groups(symbols, meter, conventions, start=start)
                at = [e.onset for e in events(symbols, meter, start=start)]
                flat = [index for group in groups for index in group]
                assert flat == sorted(set(flat))
                for group in groups:
                    assert len(group) > 1
                    assert all(b == a + 1 for a, b in pairwise(group))
                    assert all(tokens[index] in ("e", "s") for index in group)
                    if (meter.top, meter.bottom) == (4, 4):
                        assert at[group[0]] // Fraction(1, 2) == at[group[-1]] // Fraction(1, 2)
                    sixteenths = any(tokens[index] == "s" for index in group)
                    if sixteenths and meter.kind == "simple" and meter.top != 3:
                        assert at[group[0]] // Fraction(1, 4) == at[group[-1]] // Fraction(1, 4)


def test_beams_go_by_the_place_in_the_measure():
    """A pickup and a fragment begin late: trade practice is to beam them as they stand in the measure."""
    assert drawn("4/4 e e", start=Fraction(3, 4)) == "4/4 [e e]"
    assert drawn("4/4 e e e", start=Fraction(5, 8)) == "4/4 e [e e]"
    assert drawn("6/8 e e", start=Fraction(5, 8)) == "6/8 e e"
    assert drawn("6/8 e e", start=Fraction(4, 8)) == "6/8 [e e]"


def test_a_measure_that_is_too_long_is_beamed_as_if_it_went_on():
    assert drawn("2/4 e e e e e e") == "2/4 [e e] [e e] [e e]"
    assert drawn("6/8 e e e e e e e e") == "6/8 [e e e] [e e e] [e e]"


@pytest.mark.parametrize(
    ("text", "groups"),
    [
        ("5/8 e e e e e", (3, 2)),
        ("5/8 q. q", (3, 2)),
        ("5/8 q q.", (2, 3)),
        ("5/8 rW", (3, 2)),
        ("5/8 e h", (3, 2)),
        ("7/8 q q q.", (2, 2, 3)),
        ("7/8 q q. q", (2, 3, 2)),
        ("7/8 q. q q", (3, 2, 2)),
        ("7/8 q. h", (3, 2, 2)),
        ("7/8 h q.", (2, 2, 3)),
        ("7/8 q rq re rq", (2, 2, 3)),
        ("7/8 q rq. rq", (2, 3, 2)),
        ("2+3/8 q. q", (2, 3)),
        ("6/8 q. q.", (6,)),
    ],
)
def test_the_groups_that_a_rhythm_shows(text, groups):
    signature, _, body = text.partition(" ")
    assert shown_groups(parse_symbols(body), parse_meter(signature)) == groups


def test_the_usual_grouping_comes_first():
    assert groupings(Meter(5, 8)) == ((3, 2), (2, 3))
    assert groupings(Meter(7, 8)) == ((2, 2, 3), (2, 3, 2), (3, 2, 2))
    assert groupings(Meter(7, 8, (3, 2, 2))) == ((3, 2, 2),)


@pytest.mark.parametrize(
    ("text", "other", "decide"),
    [
        # three-eighth groups against pairs (Open University 3.6, 3.9: 3+3 never in 3/4, 2+2+2 never in 6/8)
        ("3/4 e e e e e e", "6/8", True),
        ("6/8 e e e e e e", "3/4", True),
        ("3/4 q e e q", "6/8", True),
        ("3/4 e e e e q", "6/8", True),
        ("6/8 q. e e e", "3/4", True),
        ("6/8 e e e q.", "3/4", True),
        ("6/8 e e e q. | h.", "3/4", True),
        ("6/8 h. | e e e q.", "3/4", True),
        # a beam that both meters print says nothing
        ("3/4 e e h", "6/8", False),
        ("3/4 h e e", "6/8", False),
        ("6/8 e e re q.", "3/4", False),
        ("6/8 q e q e", "3/4", False),
        # no beams, no evidence: q. q. is 6/8 by convention only; quarters leave 4/4 and 2/2 open
        ("6/8 q. q.", "3/4", False),
        ("3/4 q q q", "6/8", False),
        ("4/4 q q q q", "2/2", False),
        ("2/2 q q h", "4/4", False),
        # beams by quarter or by half are both in use in 4/4 and in 2/2
        ("4/4 e e e e h", "2/2", False),
        ("2/2 e e e e h", "4/4", False),
        ("4/4 e e e e e e e e", "2/2", False),
        # other pairs of equal capacity
        ("12/8 e e e q. q. q.", "3/2", False),
        ("12/8 e e e q. q. q.", "6/4", True),
        ("2/4 e e e e", "4/8", False),
        ("4/8 e e e e", "2/4", False),
        ("3+2/8 e e e q", "2+3/8", True),
        ("3+2/8 e e e q", "5/8", False),
        ("2+3/4 q q q q e e", "3+2/4", False),
        ("6/8 e e e q.", "3+3/8", False),
        # four eighths for a half note are one beam in some 3/4 prints, if they start on a beat
        ("2+4/8 q e e e e", "3/4", False),
        ("4+2/8 e e e e q", "3/4", False),
        ("4+2/8 e e e e q", "6/8", True),
        ("4+4+2/8 h e e e e q", "5/4", False),
        ("3+4+3/8 q. e e e e q.", "5/4", True),
    ],
)
def test_beams_decide_only_where_no_handbook_prints_them_in_the_other_meter(text, other, decide):
    assert beams_decide(parse_excerpt(text), parse_meter(other)) is decide


def test_beams_of_a_pickup_can_decide():
    assert beams_decide(parse_excerpt("3/4 e e e e | q q q"), Meter(6, 8))
