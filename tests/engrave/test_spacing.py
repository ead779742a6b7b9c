"""Room between signs: flags and rests stand clear of what is beside them, counts apart, and longer values get more."""

import math
from itertools import pairwise
from random import Random

import pytest
from rhythms import FONTS, USUAL, chance_counts, chance_excerpts

from barwright.counting.counts import count_labels
from barwright.engrave.font import load_font
from barwright.engrave.layout import layout
from barwright.engrave.placed import Placed
from barwright.engrave.spacing import IDEAL_SP, widths
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.text import parse_excerpt


def beside(a: Placed, b: Placed) -> float:
    """How far apart two things stand, side by side; without end where they do not overlap in height."""
    if min(a.box.y1, b.box.y1) <= max(a.box.y0, b.box.y0):
        return math.inf
    return max(a.box.x0 - b.box.x1, b.box.x0 - a.box.x1)


NOTE_PARTS = ("head", "stem", "flag", "dot", "rest", "blank", "barline")
CLEAR = {"flag": 0.4, "rest": 0.9}  # least distance in staff spaces from what belongs to another symbol
CROWDED = (
    "4/4 w | q. e~ h | e q e q. e | h. rq", "4/4 s s s s rq e e re e", "6/8 e q e re _", "4/4 e. rs e. rs s rs re q",
    "2/4 s re s e re", "9/8 q e s s s s s s rq.", "12/8 e. s e q e rq. q.~ | w.", "2/4 et et et re. s",
    "4/4 e rs s s e. qt qt qt", "3/4 e q re e re", "4/4 q. e rh",
)  # fmt: skip


@pytest.mark.parametrize("name", [f for f in FONTS if f != "Gootville"])
def test_flags_and_rests_stand_clear_of_their_neighbours(name: str) -> None:
    for excerpt in (*map(parse_excerpt, CROWDED), *chance_excerpts(120, measures=2)):
        parts = [p for p in layout(Figure(excerpt), load_font(name), USUAL).placed if p.role in NOTE_PARTS]
        for one in (p for p in parts if p.role in CLEAR):
            near = min(beside(one, other) for other in parts if other.owner != one.owner)
            assert near >= CLEAR[one.role] - 1e-6, (excerpt, one)


@pytest.mark.parametrize("name", ["Bravura", "Petaluma"])
def test_counts_stand_apart(name: str) -> None:
    counted = [(e, count_labels(e, USUAL)) for e in map(parse_excerpt, CROWDED) if e.blank is None]
    counted += [(e, chance_counts(e, Random(5))) for e in chance_excerpts(120, measures=2)]
    for excerpt, labels in counted:
        laid = layout(Figure(excerpt, counts=labels), load_font(name), USUAL)
        for a, b in pairwise(p for p in laid.placed if p.role == "count"):
            assert b.y_sp < a.y_sp or b.box.x0 - a.box.x1 >= 0.6 * a.size - 1e-6, (excerpt, a.name, b.name)


def test_longer_values_stay_wider_when_a_short_one_needs_room() -> None:
    ideals = sorted(IDEAL_SP.values())
    for needy in ideals:
        found = widths([*((ideal, 0.0) for ideal in ideals), (needy, needy + 3.0)])
        assert found[needy] >= needy + 3.0
        for (short, narrower), (long, wider) in pairwise(sorted(found.items())):
            assert wider - narrower >= (long - short) / 2 - 1e-9
        assert all(found[ideal] == ideal for ideal in ideals if ideal < needy)
