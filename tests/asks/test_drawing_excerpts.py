"""Which lines of measures are drawn and listed, in spaces so small that all of them were written down by hand."""

from collections import Counter
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest

from asks.spaces import space
from barwright.asks.ask import Space
from barwright.asks.drawn_excerpts import (
    can_sound,
    drawn_excerpt,
    each_once,
    excerpt_count,
    fillable_meters,
    fillers,
    has_few_excerpts,
    in_meter,
    listed_excerpts,
    listed_measures,
    readable,
    readable_count,
    readable_measure,
    well_written,
)
from barwright.errors import CapacityError
from barwright.notation.plain import LAWS, Style
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_excerpt, format_symbols, parse_excerpt, parse_symbols

TWO, THREE, FIVE = map(parse_meter, ("2/4", "3/4", "5/4"))


def listed(a_space: Space) -> list[str]:
    return [format_excerpt(each) for each in listed_excerpts(a_space)]


def test_all_measures_but_the_silent_one_are_listed() -> None:
    assert set(listed(space("h q rh rq", "2/4"))) == {"2/4 h", "2/4 q q", "2/4 q rq", "2/4 rq q"}


def test_lines_of_two_are_all_pairs_of_measures_that_are_not_both_silent() -> None:
    a_space = space("q rq rW", "2/4", measures=2)
    # q q, q rq, rq q, rW in both places: sixteen, one of them silent.
    assert readable_count(a_space, TWO) == 4
    assert excerpt_count(a_space, TWO) == 16
    assert len(set(listed(a_space))) == len(listed(a_space)) == 15
    assert "2/4 rW | rq q" in listed(a_space)


def test_ties_lead_over_one_barline_at_most() -> None:
    a_space = space("h", "2/4", ties=True, measures=3)
    lines = ["2/4 h | h | h", "2/4 h~ | h | h", "2/4 h | h~ | h"]
    assert sorted(listed(a_space)) == sorted(lines)
    assert excerpt_count(a_space, TWO) == 3
    assert listed(space("h", "2/4", ties=True, measures=1)) == ["2/4 h"]
    assert excerpt_count(space("h", "2/4", ties=True, measures=1), TWO) == 1


def test_no_tie_where_none_was_taught_or_none_may_lead_over() -> None:
    for a_space in (space("h", "2/4", measures=2), space("h", "2/4", ties=True, measures=2, tied_over=False)):
        assert listed(a_space) == ["2/4 h | h"]
        assert excerpt_count(a_space, TWO) == 1


def test_lines_with_ties_are_counted_as_they_are_listed() -> None:
    for measures, expected in ((2, 8), (3, 32)):
        a_space = space("h q", "2/4", ties=True, measures=measures)
        # Three measures alone: h, q q, q~ q; with a tie out h~, q q~; with a tie in h, q q.
        assert len(listed(a_space)) == excerpt_count(a_space, TWO) == {2: 13, 3: 51}[measures], expected


def test_meters_follow_each_other() -> None:
    assert listed(space("h. h", "3/4 2/4")) == ["3/4 h.", "2/4 h"]


def test_a_teachers_own_take_the_place_of_all_others() -> None:
    a_space = space("h q", "2/4", own="2/4 q q, 2/4 h")
    assert listed(a_space) == ["2/4 q q", "2/4 h"]
    assert has_few_excerpts(a_space)
    drawn = {format_excerpt(drawn_excerpt(a_space, Random(n))) for n in range(20)}
    assert drawn == {"2/4 q q", "2/4 h"}


def test_no_more_than_eight_thousand_are_listed() -> None:
    few, many = space("q rq rW", "2/4", measures=6), space("q rq rW", "2/4", measures=7)
    assert (has_few_excerpts(few), has_few_excerpts(many)) == (True, False)  # 4 ** 6 = 4096, 4 ** 7 = 16384
    assert len(listed(few)) == 4095
    assert len(listed(many)) == 8000
    # 4 ** 6 in each of two meters: more together, and each alone less.
    assert not has_few_excerpts(space("q rq rW", "2/4 2+2/8", measures=6))


def test_only_a_meter_with_a_sounding_measure_is_drawn_from() -> None:
    a_space = space("rq h.", "2/4 3/4")
    assert [can_sound(a_space, meter) for meter in (TWO, THREE)] == [False, True]
    assert fillable_meters(a_space) == (THREE,)
    assert {format_excerpt(drawn_excerpt(a_space, Random(n))) for n in range(9)} == {"3/4 h."}


def test_where_nothing_sounds_it_is_told() -> None:
    with pytest.raises(CapacityError) as told:
        fillable_meters(space("w", "2/4 3/4"))
    assert str(told.value) == (
        "no measure of 2/4, 3/4 can be made of w: "
        "teach other values or syncopation, or allow more patterns and sounds in a measure"
    )


def test_each_meter_is_drawn_and_no_silent_line() -> None:
    a_space = space("q rq", "2/4 3/4")
    drawn = Counter(format_excerpt(drawn_excerpt(a_space, Random(n))) for n in range(400))
    assert len(drawn) == 3 + 7
    by_meter = Counter(text.split(" ")[0] for text in drawn.elements())
    assert abs(by_meter["2/4"] - by_meter["3/4"]) < 80


def test_a_third_of_the_lines_is_tied_over_a_barline_now_one_now_the_other() -> None:
    a_space = space("h q", "2/4", ties=True, measures=3)
    drawn = [drawn_excerpt(a_space, Random(n)) for n in range(600)]
    over = Counter(tuple(m[-1].tied for m in each.measures) for each in drawn)
    assert set(over) == {(False, False, False), (True, False, False), (False, True, False)}
    tied = over[True, False, False] + over[False, True, False]
    assert 160 <= tied <= 240
    assert min(over.values()) >= 70


def style(*figures: str) -> Style:
    return Style(frozenset(figures))


@pytest.mark.parametrize(
    ("symbols", "figures", "read"),
    [
        ("q q", (), True),
        ("e e q", ("e e",), True),
        ("e e q", ("q. e",), False),
        ("e e e e", ("e e",), True),
        ("e q e", ("e e", "e q e"), False),  # syncopation was not taught
        ("re e re e", ("re e",), False),  # two short rests are too much at once
    ],
)
def test_what_this_class_reads(symbols: str, figures: tuple[str, ...], read: bool) -> None:
    a_space = space("h q e re", "2/4", style=style(*figures))
    assert readable(parse_symbols(symbols), TWO, a_space) is read


def test_who_was_taught_syncopation_reads_it_and_without_a_style_any_figure() -> None:
    symbols = parse_symbols("e q e")
    assert readable(symbols, TWO, space("q e", "2/4", syncopation=True))
    assert not readable(symbols, TWO, space("q e", "2/4"))
    assert not readable(symbols, TWO, space("q e", "2/4", syncopation=True, style=style("e e")))
    lifted = Style(frozenset(), lifted=frozenset(LAWS))
    assert readable(symbols, TWO, space("q e", "2/4", syncopation=True, style=lifted))


def test_a_tie_that_leads_in_or_out_counts_as_the_one_that_a_measure_may_have() -> None:
    a_space = space("h q", "2/4", ties=True)
    out, whole, tied = (parse_symbols(text) for text in ("q q~", "h", "q~ q"))
    for held in (False, True):
        assert well_written(whole, TWO, a_space, held=held)
        assert well_written(tied, TWO, a_space, held=held) is not held
        assert well_written(out, TWO, a_space, held=held) is not held


def test_a_measure_may_be_wanted_with_a_tie_in_or_out() -> None:
    a_space = space("h q rq", "2/4", ties=True)
    out = {format_symbols(readable_measure(a_space, TWO, Random(n), onward=True)) for n in range(40)}
    held = {format_symbols(readable_measure(a_space, TWO, Random(n), held=True)) for n in range(40)}
    assert out == {"h~", "q q~", "rq q~"}
    assert held == {"h", "q q", "q rq"}
    assert readable_count(a_space, TWO, onward=True) == readable_count(a_space, TWO, held=True) == 3


def test_what_can_be_offered_for_a_blank() -> None:
    tokens = frozenset({"q", "et", "rW", "h"})
    assert [format_symbols(each) for each in fillers(tokens, 1)] == ["h", "q", "rW"]
    assert [format_symbols(each) for each in fillers(tokens, 2)] == ["h h", "h q", "q h", "q q"]


def test_the_printed_measures_stand_under_another_signature() -> None:
    pickup = parse_excerpt("3/4 q | h q | h")
    assert in_meter(pickup, TWO) == Excerpt(TWO, pickup.measures, pickup=True)


def lines_of(a_space: Space, least: int = 0) -> set[tuple[str, str]]:
    """The lines of two measures that are drawn more than so often in 900 draws."""
    drawn = Counter(tuple(map(format_symbols, drawn_excerpt(a_space, Random(n)).measures)) for n in range(900))
    return {(first, second) for (first, second), often in drawn.items() if often > least}


def plain(*figures: str) -> Style:
    """A style of these figures, without any other bound."""
    return Style(frozenset(figures), lifted=frozenset(LAWS) - {"any-pattern"})


def test_a_figure_goes_on_after_none_and_a_measure_of_it_ends_on_a_long_note_or_is_shorter() -> None:
    a_space = space("h q e", "2/4", measures=2, style=plain("e e"))
    every = {"h", "q q", "e e q", "q e e", "e e e e"}
    able = {(first, second) for first in every for second in ("h", "q q", "e e q")}
    assert lines_of(a_space) == able | {("e e e e", "q e e")}


def test_another_figure_does_not_go_on() -> None:
    a_space = space("q e s", "2/4", measures=2, style=plain("e e", "s s e"))
    usual = lines_of(a_space, least=9)
    assert {("e e q", "e e q"), ("q s s e", "s s e q"), ("q q", "s s e q"), ("e e s s e", "q s s e")} <= usual
    assert usual.isdisjoint({("e e q", "s s e q"), ("q s s e", "e e q"), ("s s e s s e", "e e q"), ("q q", "q e e")})


def test_no_more_silence_than_sound_in_two_measures() -> None:
    a_space = space("h q rq rW", "2/4", measures=2, style=plain())
    every = {"h", "q q", "q rq", "rq q", "rW"}
    beats = {"h": 0, "q q": 0, "q rq": 1, "rq q": 1, "rW": 2}
    able = {(first, second) for first in every for second in every if beats[first] + beats[second] <= 2}
    assert lines_of(a_space) == able


def test_no_two_measures_with_a_tie() -> None:
    a_space = space("h q", "2/4", ties=True, tied_over=False, measures=2, style=plain())
    every = {"h", "q q", "q~ q"}
    assert lines_of(a_space) == {(one, two) for one in every for two in every} - {("q~ q", "q~ q")}


def test_where_all_have_equal_chances_any_measure_follows_any_other() -> None:
    a_space = space("h q e", "2/4", measures=2)
    assert len(lines_of(a_space)) == 25


def test_without_a_word_no_tie_leads_in_or_out() -> None:
    a_space = space("h q", "2/4", ties=True)
    assert well_written(parse_symbols("q~ q"), TWO, a_space)
    assert {format_symbols(each) for each in listed_measures(a_space, TWO)} == {"h", "q q", "q~ q"}


@pytest.mark.parametrize(
    ("styled", "even", "alike"),
    [(False, True, True), (False, False, True), (True, True, True), (True, False, False)],
)
def test_all_measures_come_as_often_unless_a_style_has_plainer_ones(styled: bool, even: bool, alike: bool) -> None:
    """Ten measures: of a style without equal chances those with one figure come oftener than those with none."""
    styles = plain("e s s", "s s s s") if styled else None
    a_space = replace(space("h q e s", "2/4", style=styles), even=even)
    found = Counter(format_symbols(readable_measure(a_space, TWO, Random(n))) for n in range(1200))
    often = [found[text] for text in ("h", "q q", "e s s q", "q e s s", "s s s s q", "q s s s s")]
    assert min(often) > 0
    assert (max(often) < 2 * min(often)) is alike


def test_no_tie_leads_over_where_no_measure_can_end_with_a_tie() -> None:
    # A dotted quarter note comes before the eighth rest: behind it it would be syncopated.
    a_space = space("q. re", "2/4", ties=True, measures=2)
    assert excerpt_count(a_space, TWO) == 1
    assert {format_excerpt(drawn_excerpt(a_space, Random(n))) for n in range(20)} == {"2/4 q. re | q. re"}
    # The half rest shows the two beats, the dotted half note the three behind it: a tie leads out, and none in.
    begun = space("h. rh", "5/4", ties=True, measures=2)
    assert (readable_count(begun, FIVE, onward=True), readable_count(begun, FIVE, held=True)) == (1, 0)
    assert {format_excerpt(drawn_excerpt(begun, Random(n))) for n in range(20)} == {"5/4 rh h. | rh h."}


def test_a_whole_measure_of_rest_is_neither_drawn_nor_does_it_sound() -> None:
    a_space = space("rW h.", "2/4 3/4")
    assert [can_sound(a_space, meter) for meter in (TWO, THREE)] == [False, True]
    assert {format_excerpt(drawn_excerpt(a_space, Random(n))) for n in range(30)} == {"3/4 h."}


def test_a_teachers_own_few_are_drawn_and_no_others() -> None:
    many = space("q rq rW", "2/4", measures=7, own="2/4 q q")
    assert {format_excerpt(drawn_excerpt(many, Random(n))) for n in range(20)} == {"2/4 q q"}
    assert has_few_excerpts(many)


def test_a_tie_leads_to_a_note_and_over_the_barline_of_two_measures_too() -> None:
    for measures in (1, 2, 3):
        a_space = space("h q rq", "2/4", ties=True, measures=measures)
        found = [drawn_excerpt(a_space, Random(n)).measures for n in range(200)]
        assert {any(each[-1].tied for each in line) for line in found} == ({False} if measures == 1 else {False, True})
        assert not any(one[-1].tied and two[0].silent for line in found for one, two in pairwise(line))


def test_each_of_three_measures_goes_on_from_the_one_before() -> None:
    two, three = (space("h q e", "2/4", measures=measures, style=plain("e e")) for measures in (2, 3))
    found = [tuple(map(format_symbols, drawn_excerpt(three, Random(n)).measures)) for n in range(300)]
    assert {pair for line in found for pair in pairwise(line)} == lines_of(two)


def test_a_figure_does_not_end_on_a_long_rest_unless_it_is_shorter_than_the_one_before() -> None:
    found = lines_of(space("q e rq", "2/4", measures=2, style=plain("e e")))
    assert ("e e q", "e e q") in found
    assert ("e e q", "e e rq") not in found
    assert ("e e e e", "e e rq") in found


def test_excerpts_that_came_before_are_left_out() -> None:
    one, other = parse_excerpt("4/4 h h"), parse_excerpt("4/4 q q h")
    assert list(each_once([one, other, one, other])) == [one, other]
