"""Rhythms one step from another: every step by hand, on small classes. Which measures are legal: common practice."""

from random import Random

import pytest

from asks.spaces import excerpt, space
from barwright.asks.ask import Space
from barwright.asks.wrong_rhythms import has_few_measures, near_rhythms
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_measures

CLASS = "w h q e rq re"  # 361 measures of 4/4, 90 of 3/4: more than are all near each other
NO_TIES, TIES = space(CLASS, "3/4"), space(CLASS, "3/4", ties=True)


def near(text: str, a_space: Space) -> list[str]:
    """What is near an excerpt, as text, in its random order."""
    return [format_measures(each.measures) for each in near_rhythms(excerpt(text), a_space, Random(1))]


def test_a_step_turns_joins_splits_or_exchanges() -> None:
    turned = {"q q h", "rq rq h"}
    joined = {"h h"}
    split = {
        *("e e rq h", "e re rq h", "re e rq h", "q e e h", "q e re h", "q re e h"),
        *("q rq q q", "q rq q rq", "q rq rq q", "q rq rq rq"),
    }
    exchanged = {"rq q h", "q h rq"}
    found = near("4/4 q rq h", space(CLASS, "4/4"))
    assert sorted(found) == sorted({*turned, *joined, *split, *exchanged})


def test_they_come_in_a_random_order_and_each_once() -> None:
    every = {tuple(near_rhythms(excerpt("4/4 q rq h"), space(CLASS, "4/4"), Random(seed))) for seed in range(40)}
    assert len(every) == 40
    assert {len(order) for order in every} == {len(set(order)) for order in every} == {15}
    assert len({order[0] for order in every}) > 8
    assert len({order[-1] for order in every}) > 8


def test_a_tie_is_set_or_taken_away_inside_the_measure() -> None:
    rests_and_eighths = {"rq q~ q", "e e q~ q", "e re q~ q", "re e q~ q", "q rq q", "q e e q", "q e re q", "q re e q",
                         "q q~ e e", "q q~ e re"}  # fmt: skip
    assert sorted(near("3/4 q q~ q", TIES)) == sorted({"q q q", "h q", "q h", *rests_and_eighths})
    assert "q~ h" in near("3/4 q h", TIES)
    assert "q~ h" not in near("3/4 q h", NO_TIES)
    assert "h q~ q" not in near("4/4 q~ h q", space(CLASS, "4/4", ties=True)), "nor is a tied note exchanged"
    assert "q~ rq q" not in near("3/4 q rq q", TIES), "nor tied to a rest"


SECOND = ["h q", "e e h", "e re h", "q q q", "q q rq", "q rq q", "q rq rq"]  # near `q h`, and begun by a note
SILENT = ["rq h", "re e h"]
FIRST = ["q h", "q q q", "q rq q", "rq q q", "rq rq q"]  # near `h q`, and ended by a note
SHORTER = ["h rq", "h e e", "h e re", "h re e"]


@pytest.mark.parametrize(
    ("text", "a_space", "wanted"),
    [
        (
            "3/4 h q | q h",
            NO_TIES,
            [*(f"{first} | q h" for first in FIRST + SHORTER), *(f"h q | {second}" for second in SECOND + SILENT)],
        ),
        # With ties two more, and one over the barline.
        (
            "3/4 h q | q h",
            TIES,
            [
                *(f"{first} | q h" for first in [*FIRST, *SHORTER, "h~ q"]),
                *(f"h q | {second}" for second in [*SECOND, *SILENT, "q~ h"]),
                "h q~ | q h",
            ],
        ),
        # A tie over the barline stays: no rest comes before it or after it, nor a note that is tied on. It can go.
        (
            "3/4 h q~ | q h",
            TIES,
            [
                *(f"{first}~ | q h" for first in FIRST if first != "q h"),
                *(f"h q~ | {each}" for each in SECOND),
                "h q | q h",
            ],
        ),
        # No tie over the barline where a rest stands on one side of it, or where it would go on.
        (
            "3/4 h rq | q h",
            TIES,
            [
                *("h q", "h e e", "h e re", "h re e", "rq h", "q q rq", "q rq rq", "rq q rq"),
                *(f"h rq | {second}" for second in [*SECOND, *SILENT, "q~ h"]),
            ],
        ),
    ],
)
def test_each_measure_of_a_line_makes_one_step(text: str, a_space: Space, wanted: list[str]) -> None:
    whole = [each if "|" in each else f"{each} | q h" for each in wanted]
    assert sorted(near(text, a_space)) == sorted(whole)


def test_no_tie_leads_over_a_barline_to_a_rest_or_to_a_note_that_is_tied_on() -> None:
    assert not [each for each in near("3/4 h q | rq h", TIES) if each.startswith("h q~")]
    assert not [each for each in near("3/4 h q | q~ h", TIES) if "q~ | q~" in each]
    assert not [each for each in near("3/4 q q q | q~ h", TIES) if "q~ | q~" in each]
    assert "h q~ | h rq" in near("3/4 h q | h rq", TIES)
    assert "h q | q~ h" in near("3/4 h q~ | q~ h", TIES), "that one goes"


def test_ties_over_two_barlines() -> None:
    a_space = space("h. h q e rq re rW", "3/4", ties=True)
    first = ["h. | h. | rW", "h q~ | h. | rW", "q h~ | h. | rW", "rq h~ | h. | rW"]
    assert sorted(near("3/4 h.~ | h. | rW", a_space)) == sorted(
        [*first, "h.~ | h q | rW", "h.~ | h rq | rW", "h.~ | q h | rW"]
    )
    # A pickup and the end that it shortens stay as they are.
    second = ["q | h. | h", "q | h q~ | h", "q | q h~ | h", "q | rq h~ | h"]
    assert sorted(near("3/4 q | h.~ | h", a_space)) == sorted(second)


def test_every_rest_of_a_line_becomes_a_note_if_all_such_notes_were_taught() -> None:
    assert "q q q | q q q" in near("3/4 q rq rq | q rq q", space("q rq", "3/4"))
    assert "q q q | q q q" not in near("3/4 q q q | q q q", space("q rq", "3/4"))
    assert not [each for each in near("3/4 q rq q | q rh", space("q rq rh", "3/4")) if "h" in each.replace("rh", "")]


def test_where_there_are_few_measures_all_of_them_are_near() -> None:
    small = space("h q rq", "2/4", ties=True)
    assert has_few_measures(small, parse_meter("2/4"))
    assert not has_few_measures(space(CLASS, "4/4"), parse_meter("4/4"))
    assert sorted(near("2/4 h", small)) == ["q q", "q rq", "q~ q", "rq q"]
    # With a tie that leads out, or in.
    assert sorted(near("2/4 q q~ | h", small)) == ["h~ | h", "q q | h", "q q~ | q q", "q q~ | q rq", "rq q~ | h"]


def test_triplets_are_neither_joined_nor_made() -> None:
    a_space = space("h q e qt et re rq rW", "3/4")
    assert not [each for each in near("3/4 q q q", a_space) if "t" in each]
    assert not [each for each in near("3/4 et et et h", a_space) if "qt" in each]
    assert near("3/4 rW", a_space) == [], "nothing is near a full-measure rest"
