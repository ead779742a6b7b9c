"""What a part takes of the teacher's own rhythms, and what may be wrong with them, by hand."""

import pytest

from asks.spaces import space
from barwright.asks.own_rhythms import NOTHING_OWN, own_excerpts, own_of, rhythm_fault
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import format_excerpt


def runs(rhythms: list[str], measures: int, meters: str = "4/4") -> list[str]:
    a_space = space("w h q", meters, ties=True, measures=measures)
    return [format_excerpt(each) for each in own_excerpts(tuple(rhythms), a_space)]


def test_every_run_of_the_wanted_length_is_taken_once() -> None:
    assert runs(["4/4 w | h h | q q h", "4/4 w | h h"], 2) == ["4/4 w | h h", "4/4 h h | q q h"]
    assert runs(["4/4 w | h h"], 1) == ["4/4 w", "4/4 h h"]
    assert runs(["4/4 w"], 2) == []


def test_a_tie_never_leads_in_or_out_but_may_lead_over_a_barline_inside() -> None:
    rhythm = "4/4 w | h h~ | h h | w"
    assert runs([rhythm], 1) == ["4/4 w"]
    assert runs([rhythm], 2) == ["4/4 h h~ | h h"]
    assert runs([rhythm], 3) == ["4/4 w | h h~ | h h", "4/4 h h~ | h h | w"]
    assert runs(["4/4 w~ | w | h h"], 1) == ["4/4 h h"]


def test_a_silent_run_is_left_out_and_a_silent_measure_in_a_run_kept() -> None:
    assert runs(["4/4 rW | w | rW"], 1) == ["4/4 w"]
    assert runs(["4/4 rW | w | rW"], 2) == ["4/4 rW | w", "4/4 w | rW"]


def test_only_rhythms_of_the_parts_meters_are_taken() -> None:
    assert runs(["3/4 h q", "4/4 w"], 1) == ["4/4 w"]


@pytest.mark.parametrize(("sections", "share"), [(1, 3), (2, 2), (3, 1), (4, 1)])
def test_each_section_has_its_share_rounded_up(sections: int, share: int) -> None:
    own = own_of(["4/4 w", "4/4 h h", "4/4 q q h"], space("w h q"), sections=sections)
    assert own.share == share
    assert own.space is not None
    assert list(map(format_excerpt, own.space.own)) == ["4/4 w", "4/4 h h", "4/4 q q h"]
    assert own_of(["3/4 h."], space("w h q"), sections=sections) == NOTHING_OWN
    assert (NOTHING_OWN.space, NOTHING_OWN.share) == (None, 0)


FAULTS = [
    ("4/4 q q q", "'4/4 q q q': measure 1 holds 3/4 but 4/4 needs 4/4: add 1/4"),
    ("4/4 h *h", "'4/4 h *h' has a blank or a mark: write the whole rhythm, the quiz asks about it"),
    ("4/4 h _", "'4/4 h _' has a blank or a mark: write the whole rhythm, the quiz asks about it"),
    ("4/4 h | w | h", "'4/4 h | w | h' begins with a pickup: write full measures only"),
    ("2/4 h", "'2/4 h': meter 2/4 is not taught: add it to [elements] meters, or take the rhythm out"),
    (
        "4/4 h q q~ | w",
        "'4/4 h q q~ | w' shows what is not taught (ties): add it to [elements], or take the rhythm out",
    ),
    ("4/4 h. q", "'4/4 h. q' shows what is not taught (h.): add it to [elements], or take the rhythm out"),
    (
        "4/4 w | e q e h",
        "'4/4 w | e q e h': 4/4 e q e h is syncopated: add syncopation = true to [elements], or take the rhythm out",
    ),
    ("4/4 w | e re q h", "'4/4 w | e re q h': pattern 'e re' is not among those taught: add it to [elements] patterns"),
    ("4/4 w | q e e h", None),
]


@pytest.mark.parametrize(("text", "told"), FAULTS)
def test_what_is_wrong_with_a_rhythm_is_told_with_the_mend(text: str, told: str | None) -> None:
    taught = space("w h q e re rh rq").taught
    assert rhythm_fault(text, taught, frozenset({"e e"}), Conventions()) == told


def test_a_rhythm_that_is_not_printed_so_is_told() -> None:
    taught = space("w h q e re rh rq", syncopation=True).taught
    told = rhythm_fault("4/4 w | q rh q", taught, None, Conventions())
    assert told is not None
    assert told.startswith("'4/4 w | q rh q': 4/4 q rh q is not printed so: ")


def test_with_syncopation_taught_and_no_patterns_named_any_figure_will_do() -> None:
    taught = space("w h q e re rh rq", ties=True, syncopation=True).taught
    for text in ("4/4 e q e h", "4/4 e re q h", "4/4 h q q~ | w"):
        assert rhythm_fault(text, taught, None, Conventions()) is None
