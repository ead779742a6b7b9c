"""The style of a class, from what it was taught and what its teacher wishes, case by case (common practice)."""

from dataclasses import dataclass, field

import pytest

from asks.spaces import space
from barwright.asks.class_style import Allowed, even_chances, style_of, taught_figures
from barwright.items.difficulty import WEIGHTS
from barwright.notation.plain import LAWS, Style


@dataclass
class Wished:
    """What a teacher wishes, the usual where nothing is said."""

    patterns: list[str] = field(default_factory=list)
    most_sounds: int | None = None
    plain: bool = True
    allow: list[Allowed] = field(default_factory=list)


def style(wished: Wished, symbols: str = "h q e", *, syncopation: bool = False, hardest: int = 0) -> Style:
    found = style_of(wished, space(symbols, syncopation=syncopation).taught, WEIGHTS, hardest=hardest)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("wished", "even"),
    [(Wished(), False), (Wished(plain=False), True), (Wished(allow=["equal-chances"]), True),
     (Wished(allow=["much-silence"]), False)],
)  # fmt: skip
def test_plain_measures_come_more_often_unless_the_teacher_lifts_it(wished: Wished, even: bool) -> None:
    assert even_chances(wished) is even


@pytest.mark.parametrize(
    ("wished", "hardest", "any_style"),
    [
        (Wished(plain=False), 0, False),
        (Wished(), 0, True),
        (Wished(plain=False, patterns=["e e"]), 0, True),
        (Wished(plain=False, most_sounds=4), 0, True),
        (Wished(plain=False), 9, True),
    ],
)
def test_there_is_a_style_where_anything_is_wished(wished: Wished, hardest: int, any_style: bool) -> None:
    assert (style_of(wished, space("h q e").taught, WEIGHTS, hardest=hardest) is not None) is any_style


def test_without_plain_all_bounds_are_lifted_but_for_patterns_that_are_named() -> None:
    assert style(Wished()).lifted == frozenset()
    assert style(Wished(allow=["much-silence"])).lifted == {"much-silence"}
    assert style(Wished(plain=False, most_sounds=3)).lifted == set(LAWS)
    assert style(Wished(plain=False, patterns=["e e"])).lifted == set(LAWS) - {"any-pattern"}
    assert style(Wished(plain=False, patterns=["e e"], allow=["any-pattern"])).lifted == set(LAWS)


def test_figures_are_those_of_the_levels_that_are_made_of_what_is_taught() -> None:
    taught = space("q e rq re q.").taught
    assert taught_figures(["grade 4"], taught) == {"e e"}
    assert taught_figures(["grade 5"], taught) == {"e e", "q. e", "e re", "re e"}
    assert taught_figures(["s e s"], taught) == frozenset()
    assert taught_figures(["q re", "grade 3"], taught) == {"q re", "e e"}
    assert style(Wished(), "q e").figures == {"e e", "e q e", "e e e", "q e", "e q"}, "all levels, where none is named"


def test_a_silent_beat_of_three_is_a_dotted_rest_where_that_is_taught() -> None:
    assert taught_figures(["grade 7"], space("q e rq re").taught) >= {"rq re", "q re"}
    with_dot = taught_figures(["grade 7"], space("q e rq re rq.").taught)
    assert "rq re" not in with_dot
    assert "q re" in with_dot


def test_a_figure_may_begin_with_a_short_rest_where_patterns_are_named() -> None:
    assert style(Wished(patterns=["re e", "e e"]), "q e re").first == {"re e"}
    assert style(Wished(), "q e re").first == frozenset()


@pytest.mark.parametrize(
    ("wished", "symbols", "rate"),
    [
        (Wished(patterns=["grade 3"]), "q e", (3, 2)),
        (Wished(patterns=["grade 4", "grade 3"]), "q e s", (3, 2)),
        (Wished(patterns=["grade 4", "grade 5"]), "q e", (2, 1)),
        (Wished(patterns=["grade 4", "e e"]), "q e", (2, 1)),
        (Wished(), "q e", (2, 1)),
        (Wished(), "q e s", (3, 1)),
        (Wished(), "q e et", (3, 1)),
        (Wished(), "q e qt", (3, 1)),
    ],
)
def test_how_many_sounds_come_on_so_many_beats(wished: Wished, symbols: str, rate: tuple[int, int]) -> None:
    assert style(wished, symbols).rate == rate


def test_beats_of_three_hold_three_sounds_and_four_where_there_are_sixteenths() -> None:
    assert style(Wished(), "q e et").rate_in_three == (3, 1)
    assert style(Wished(), "q e s").rate_in_three == (4, 1)


def test_the_most_sounds_and_the_hardest_are_as_the_teacher_says() -> None:
    assert style(Wished()).most_sounds == 0
    assert style(Wished(most_sounds=5)).most_sounds == 5
    assert (style(Wished()).hardest, style(Wished()).weights) == (0, (0,) * 6)
    hard = style(Wished(), hardest=12)
    assert (hard.hardest, hard.weights) == (12, (2, 2, 3, 3, 3, 4))


@pytest.mark.parametrize(
    ("patterns", "inside"),
    [([], True), (["grade 3"], False), (["grade 5", "grade 4"], False), (["grade 5", "grade 6"], True),
     (["e e"], True)],
)  # fmt: skip
def test_ties_come_over_barlines_before_they_come_inside(patterns: list[str], inside: bool) -> None:
    assert style(Wished(patterns=patterns)).inner_ties is inside


def test_who_has_no_syncopation_has_simple_ties() -> None:
    assert style(Wished()).simple_ties
    assert not style(Wished(), syncopation=True).simple_ties
