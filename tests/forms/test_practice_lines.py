"""Exercises for the lesson before a quiz, of classes that were taught so little that all are told. Common practice."""

import pytest

from barwright.blueprint.blueprint import Blueprint
from barwright.errors import CapacityError
from barwright.forms.practice import Practice, is_asked, practice
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import format_excerpt, parse_excerpt
from forms.made_blueprints import blueprint


def excerpts(text: str) -> list[Excerpt]:
    return [parse_excerpt(each, full=False) for each in text.split(", ")] if text else []


def drawn(a_plan: Blueprint, quiz: str = "", seed: int = 1) -> Practice:
    return practice(a_plan, excerpts(quiz), seed=seed)


def texts(found: Practice) -> tuple[set[str], set[str], set[str]]:
    """Measures to complete, lines to count, lines without barlines."""
    return (
        {format_excerpt(each.excerpt) for each in found.complete},
        {format_excerpt(each.excerpt) for each in found.counts},
        {format_excerpt(each) for each in found.barlines},
    )


# In 2/4 two quarters or a half: two blanks, four lines of two measures, eight of three.
BEGINNERS = blueprint("2/4", "half quarter")
MORE = blueprint("4/4 3/4", "whole half quarter eighth", "quarter")


def test_six_measures_to_complete_four_lines_to_count_of_two_measures_and_four_of_three() -> None:
    for seed in range(3):
        found = drawn(MORE, seed=seed)
        assert (len(found.complete), len(found.counts), len(found.barlines)) == (6, 4, 4)
        assert tuple(map(len, texts(found))) == (6, 4, 4)
        assert {len(each.excerpt.measures) for each in found.complete} == {1}
        assert {len(each.excerpt.measures) for each in found.counts} == {2}
        assert {len(each.measures) for each in found.barlines} == {3}
        assert {(each.ask, len(each.keys), each.wrong) for each in found.counts} == {("write-counts", 1, ())}
    assert drawn(MORE) == drawn(MORE) != drawn(MORE, seed=2)


def test_all_that_there_is_where_there_is_little() -> None:
    complete, counts, lines = texts(drawn(BEGINNERS))
    assert complete == {"2/4 _ q", "2/4 q _"}
    assert counts == {"2/4 h | h", "2/4 h | q q", "2/4 q q | h", "2/4 q q | q q"}
    assert len(lines) == 4


@pytest.mark.parametrize(
    ("quiz", "left"),
    [
        # A mark makes no other excerpt of it.
        ("2/4 *h, 2/4 _ q", ({"2/4 q _"}, {"2/4 q q | q q"}, {"2/4 q q | q q | q q"})),
        ("2/4 h, 2/4 q q", ({"2/4 _ q", "2/4 q _"}, set(), set())),
    ],
)
def test_what_the_quiz_asks_about_is_spared(quiz: str, left: tuple[set[str], set[str], set[str]]) -> None:
    assert texts(drawn(BEGINNERS, quiz)) == left


def test_where_all_is_asked_about_there_is_no_practice() -> None:
    with pytest.raises(CapacityError) as raised:
        drawn(BEGINNERS, "2/4 h, 2/4 q q, 2/4 q _, 2/4 _ q")
    assert str(raised.value) == "no measure is left for practice that the quiz does not ask about"


def test_what_is_taught_may_make_no_line_at_all() -> None:
    """A whole note fits no measure of three quarters, of which a rest alone is left."""
    with pytest.raises(CapacityError) as raised:
        drawn(blueprint("3/4", "whole", "whole"))
    assert str(raised.value) == "no measure is left for practice that the quiz does not ask about"


def test_a_silent_measure_is_counted_but_stands_in_no_line_whose_barlines_are_left_out() -> None:
    """Its rest stands in the middle of the measure, which would tell where barlines are."""
    both = blueprint("4/4", "whole", "whole")
    assert texts(drawn(both, "4/4 w | w")) == (set(), {"4/4 w | rW", "4/4 rW | w"}, set())


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ("4/4 w | h h | q q h", True),
        ("4/4 w | h h", True),
        ("4/4 h h | q q h", True),
        ("4/4 w", True),
        ("4/4 h h", True),
        ("4/4 q q h", True),
        ("4/4 w | q q h", False),
        ("4/4 h h | w", False),
        ("2/2 h h", False),
        ("4/4 h", False),
    ],
)
def test_any_run_of_measures_of_a_line_may_be_asked_about(asked: str, found: bool) -> None:
    assert is_asked(parse_excerpt("4/4 w | h h | q q h"), frozenset(excerpts(asked))) is found
    assert is_asked(parse_excerpt("4/4 w | h h | q q h"), frozenset(excerpts(f"{asked}, 4/4 q _"))) is found
