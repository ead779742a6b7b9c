"""Orders of length that errors lead to, worked by hand: each group's believed length, then the order."""

import pytest

from barwright.misreadings import MISREADINGS
from barwright.misreadings.answers import seeming_length, seeming_order
from barwright.misreadings.belief import ORDERING
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_groups, parse_groups

USUAL = Conventions()

# misreading, meter, right order, order that the student gives; believed quarters in the remark
WORKED = [
    ("filled-head-lasts-longer", "4/4", "q < h < w", "h < q < w"),  # 2 1 4
    ("whole-and-half-note-swapped", "4/4", "q < h < w", "q < w < h"),  # 1 4 2
    ("quarter-means-four-beats", "4/4", "q < h < w", "w < h < q"),  # 4 2 1
    ("dots-passed-over", "4/4", "q < q. < h", ""),  # 1 1 2: a guess
    ("dots-passed-over", "4/4", "e e < q q < h.", ""),  # 1 2 2: a guess
    ("dots-passed-over", "4/4", "q < h q < h. e", "q < h. e < h q"),  # 1 3 2.5
    ("dot-adds-one-beat", "4/4", "q < q. < h e", "q < q. < h e"),  # 1 2 2.5: right
    ("dot-doubles", "4/4", "q < h. < w", ""),  # 1 4 4: a guess
    ("dot-doubles", "4/4", "q < q. q. e < w", "q < w < q. q. e"),  # 1 4.5 4
    ("dot-shortens", "4/4", "e e < q. < h", "q. < e e < h"),  # 1 0.5 2
    ("rests-take-no-time", "4/4", "q < rh < h.", "rh < q < h."),  # 1 0 3
    ("rests-take-no-time", "4/4", "q < rh < rh rq", ""),  # 1 0 0: a guess
    ("every-rest-is-one-beat", "4/4", "h < rh rq < w", ""),  # 2 2 4: a guess
    ("every-rest-is-one-beat", "4/4", "e < q q q < rw", "e < rw < q q q"),  # 0.5 3 1
    ("half-and-quarter-rest-swapped", "4/4", "rq < rh < h.", "rh < rq < h."),  # 2 1 3
    ("eighth-and-quarter-rest-swapped", "4/4", "re < rq < h", "rq < re < h"),  # 1 0.5 2
    ("more-flags-last-longer", "4/4", "s < e < q", "e < s < q"),  # 0.5 0.25 1
    ("every-symbol-is-one-beat", "4/4", "e e e < h < q q q q", "h < e e e < q q q q"),  # 3 1 4
    ("eighth-gets-a-full-beat", "4/4", "e e e < h < w", "h < e e e < w"),  # 3 2 4
    ("beamed-pair-is-one-eighth", "4/4", "s s s < e e < h", "e e < s s s < h"),  # 0.75 0.5 2
]  # fmt: skip


@pytest.mark.parametrize(("ident", "meter", "right", "wrong"), WORKED)
def test_the_order_of_believed_lengths(ident: str, meter: str, right: str, wrong: str) -> None:
    groups = parse_groups(right)
    found = seeming_order(MISREADINGS[ident], groups, parse_meter(meter), USUAL)
    assert (format_groups(found) if found else "") == (wrong if wrong != right else "")
    turned = seeming_order(MISREADINGS[ident], groups[::-1], parse_meter(meter), USUAL)
    assert turned == found, "the order does not depend on how the groups are given"


def test_every_error_that_may_show_in_an_order_has_a_case() -> None:
    able = {ident for ident, m in MISREADINGS.items() if m.exercises & ORDERING}
    assert {ident for ident, *_ in WORKED} <= able
    assert able - {ident for ident, *_ in WORKED} <= {"dot-adds-half-a-beat", "whole-and-half-rest-swapped"}


def test_a_group_without_the_error_keeps_its_length() -> None:
    m = MISREADINGS["dot-doubles"]
    (plain, dotted) = parse_groups("q q < h.")
    assert str(seeming_length(m, plain, parse_meter("3/4"), USUAL)) == "1/2"
    assert str(seeming_length(m, dotted, parse_meter("3/4"), USUAL)) == "1"
