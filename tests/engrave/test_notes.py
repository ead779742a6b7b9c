"""Notes, rests and signs one by one, by the engraving rules of Gould 2011, Ross 1970, Read 1979 and SMuFL."""

from fractions import Fraction
from itertools import pairwise

import pytest
from rhythms import FONTS, USUAL, laid_out, of_role

from barwright.engrave.font import load_font
from barwright.engrave.layout import layout
from barwright.engrave.placed import Layout, Placed
from barwright.errors import RhythmError
from barwright.rhythm.excerpt import Excerpt, Figure
from barwright.rhythm.measure import note, rest
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_excerpt


def one(laid: Layout, role: str) -> Placed:
    (found,) = of_role(laid, role)
    return found


HEADS = {"w": "noteheadWhole", "h": "noteheadHalf", "q": "noteheadBlack", "e": "noteheadBlack", "s": "noteheadBlack"}
RESTS = {"rw": "restWhole", "rW": "restWhole", "rh": "restHalf", "rq": "restQuarter", "re": "rest8th", "rs": "rest16th"}


@pytest.mark.parametrize("token", HEADS)
def test_each_note_has_its_head_and_but_for_the_whole_note_a_stem(token: str) -> None:
    laid = laid_out(f"4/4 {token}", full=False)
    assert one(laid, "head").name == HEADS[token]
    assert len(of_role(laid, "stem")) == (token != "w")
    assert [p.name for p in of_role(laid, "flag")] == {"e": ["flag8thUp"], "s": ["flag16thUp"]}.get(token, [])


@pytest.mark.parametrize("token", RESTS)
def test_each_rest_has_its_sign_with_its_origin_on_the_line(token: str) -> None:
    sign = one(laid_out(f"4/4 {token}", full=False), "rest")
    assert (sign.name, sign.y_sp) == (RESTS[token], 0.0)


# Gould 2011: on a one-line staff the whole rest hangs from the line and the half rest sits on it.
@pytest.mark.parametrize("font", FONTS)
def test_the_whole_rest_hangs_from_the_line_and_the_half_rest_sits_on_it(font: str) -> None:
    hanging = one(laid_out("4/4 rW", font), "rest").box
    sitting = one(laid_out("2/4 rh", font), "rest").box
    assert hanging.y0 < -0.4
    assert abs(hanging.y1) < 0.07
    assert sitting.y1 > 0.4
    assert abs(sitting.y0) < 0.07


def test_rests_of_bravura_stand_at_the_heights_of_its_metadata() -> None:
    hanging, sitting = one(laid_out("3/4 rW"), "rest").box, one(laid_out("2/4 rh"), "rest").box
    assert (hanging.y0, hanging.y1, sitting.y0, sitting.y1) == pytest.approx((-0.54, 0.036, -0.008, 0.568), abs=0.005)


@pytest.mark.parametrize("font", FONTS)
@pytest.mark.parametrize("token", ["h", "q", "e", "s"])
def test_stems_go_up_one_octave_on_the_right_side_of_the_head(font: str, token: str) -> None:
    laid = laid_out(f"4/4 {token}", font, full=False)
    head, stem = one(laid, "head"), one(laid, "stem")
    assert stem.box.y1 - head.y_sp == 3.5
    assert stem.box.width == pytest.approx(0.12)
    assert stem.box.x1 == pytest.approx(head.box.x1, abs=0.15)
    assert head.box.y0 < stem.box.y0 < head.box.y1
    assert stem.box.x0 > (head.box.x0 + head.box.x1) / 2


def test_beams_take_the_place_of_flags() -> None:
    assert not of_role(laid_out("4/4 e e s s s s h"), "flag")
    assert len(of_role(laid_out("4/4 e re re e h"), "flag")) == 2


def test_beams_are_half_a_space_thick_and_a_quarter_space_apart_and_end_at_the_stems() -> None:
    laid = laid_out("2/4 s s s s q")
    first, second = sorted(of_role(laid, "beam"), key=lambda p: -p.box.y1)
    stems = of_role(laid, "stem")[:4]
    assert (first.box.y1, first.box.y0, second.box.y1, second.box.y0) == pytest.approx((3.5, 3.0, 2.75, 2.25))
    for beam in (first, second):
        assert (beam.box.x0, beam.box.x1) == pytest.approx((stems[0].box.x0, stems[-1].box.x1))


# Per note of a beam: `>` or `<` a partial beam to the right or left of its stem, `=` a full second beam, `-` none.
@pytest.mark.parametrize(
    ("text", "second"),
    [
        ("2/4 e e q", "--"),
        ("2/4 e. s q", "-<"),
        ("2/4 s e. q", ">-"),
        ("2/4 s e s q", ">-<"),
        ("2/4 e s s q", "-=="),
        ("2/4 s s e q", "==-"),
        ("2/4 s s s s q", "===="),
        ("6/8 e. s e q.", "-<-"),
        ("6/8 e s e. q.", "->-"),
        ("6/8 e s s e q.", "-==-"),
        ("6/8 s s s s s s q.", "======"),
        ("3/8 s e e s", ">--<"),
        ("2/4 rs s e q", ">-"),
    ],
)
def test_partial_beams_point_to_the_notes_that_fill_the_eighth(text: str, second: str) -> None:
    laid = laid_out(text)
    low = [p for p in of_role(laid, "beam") if p.box.y1 < 3.0]
    found = ""
    for stem in of_role(laid, "stem")[: len(second)]:
        touching = [b.box for b in low if b.box.x0 - 0.01 <= stem.box.x0 and stem.box.x1 <= b.box.x1 + 0.01]
        assert len(touching) <= 1
        short = touching and touching[0].width < 1.2
        found += "-" if not touching else "=" if not short else ">" if touching[0].x1 > stem.box.x1 + 0.5 else "<"
    assert found == second


def test_partial_beams_are_about_as_long_as_a_head_and_do_not_reach_the_next_stem() -> None:
    laid = laid_out("2/4 s e. q")
    stub = min(of_role(laid, "beam"), key=lambda p: p.box.width)
    assert stub.box.width == pytest.approx(1.1)
    assert stub.box.x1 < of_role(laid, "stem")[1].box.x0 - 0.5


# Read 1979: a note on a line has its dot in the space above, about half a space after the head.
@pytest.mark.parametrize("font", FONTS)
@pytest.mark.parametrize("token", ["h.", "q.", "h..", "q.."])
def test_dots_stand_above_the_line_half_a_space_after_the_head(font: str, token: str) -> None:
    laid = laid_out(f"4/4 {token}", font, full=False)
    dots = of_role(laid, "dot")
    assert len(dots) == token.count(".")
    assert dots[0].box.x0 - one(laid, "head").box.x1 == pytest.approx(0.5)
    for dot in dots:
        assert dot.y_sp == 0.5
        assert dot.box.y0 > 0.13 / 2


@pytest.mark.parametrize("font", FONTS)
@pytest.mark.parametrize("token", ["e.", "s.", "e.."])
def test_the_dot_of_a_flagged_note_stands_clear_of_the_flag(font: str, token: str) -> None:
    laid = laid_out(f"4/4 {token}", font, full=False)
    flag, dot = one(laid, "flag").box, of_role(laid, "dot")[0].box
    assert not flag.meets(dot)
    assert dot.y0 > 0.13 / 2


@pytest.mark.parametrize(("token", "height"), [("rh.", 0.5), ("rq.", 0.5), ("re.", 0.5), ("rw.", -0.5)])
def test_rest_dots_stand_in_the_space_above_the_line_or_where_the_rest_hangs(token: str, height: float) -> None:
    laid = laid_out(f"12/8 {token}", full=False)
    assert one(laid, "dot").y_sp == height
    assert one(laid, "dot").box.x0 > one(laid, "rest").box.x1


def test_the_full_measure_rest_stands_in_the_middle_and_a_whole_rest_where_it_begins() -> None:
    laid = laid_out("3/4 h. | rW | h.")
    rest_box, bars = one(laid, "rest").box, [p.box for p in of_role(laid, "barline")]
    assert (rest_box.x0 + rest_box.x1) / 2 == pytest.approx((bars[0].x1 + bars[1].x0) / 2, abs=0.05)
    whole, half = laid_out("4/4 rw"), laid_out("4/4 w")
    assert one(whole, "rest").x_sp == one(half, "head").x_sp


def test_ties_hang_below_from_head_to_head() -> None:
    laid = laid_out("4/4 q~ q h")
    tie, (first, second, _) = one(laid, "tie").box, (p.box for p in of_role(laid, "head"))
    assert tie.y1 < first.y0
    assert (first.x0 + first.x1) / 2 < tie.x0 < first.x1
    assert second.x0 < tie.x1 < (second.x0 + second.x1) / 2


def test_a_tie_goes_over_the_barline() -> None:
    laid = laid_out("3/4 q q q~ | q h")
    tie, bar = one(laid, "tie").box, of_role(laid, "barline")[0].box
    assert tie.x0 < bar.x0 < bar.x1 < tie.x1


def test_a_tie_to_a_blank_ends_before_it() -> None:
    laid = laid_out("4/4 h q~ _")
    assert one(laid, "blank").box.x0 - 0.3 < one(laid, "tie").box.x1 < one(laid, "blank").box.x0


def test_a_tie_over_the_end_of_a_system_comes_in_two_halves() -> None:
    laid = laid_out("4/4 q q q q | q q q q | q q q q~ | q q q q")
    upper, lower = sorted(of_role(laid, "tie"), key=lambda p: -p.box.y0)
    heads = {p.owner: p for p in of_role(laid, "head")}
    lines = sorted(of_role(laid, "staff"), key=lambda p: -p.box.y0)
    assert upper.box.x0 > heads[2, 3].box.x0
    assert upper.box.x1 == pytest.approx(lines[0].box.x1)
    assert lower.box.x1 < heads[3, 0].box.x1
    assert lower.box.y1 < heads[3, 0].box.y0


@pytest.mark.parametrize("after", [(), (rest("1/4"),)])
def test_a_tie_to_nothing_ends_in_the_open(after: tuple[()]) -> None:
    figure = Figure(Excerpt(Meter(4, 4), ((note("1/4", tied=True), *after),)), signature=False, frame="fragment")
    tie = one(layout(figure, load_font("Bravura"), USUAL), "tie")
    assert tie.box.width == pytest.approx(1.5)


def test_a_beamed_triplet_has_a_number_alone_in_the_middle_of_its_beam() -> None:
    laid = laid_out("2/4 et et et q")
    number, beam = one(laid, "tuplet-number").box, one(laid, "beam").box
    assert not of_role(laid, "bracket")
    assert (number.x0 + number.x1) / 2 == pytest.approx((beam.x0 + beam.x1) / 2, abs=0.07)
    assert 0.3 < number.y0 - beam.y1 < 0.6


@pytest.mark.parametrize("text", ["4/4 qt qt qt h", "2/4 et ret et q", "2/4 qt et q"])
def test_any_other_triplet_has_a_bracket_with_the_number_in_its_gap(text: str) -> None:
    laid = laid_out(text)
    number, hooks = one(laid, "tuplet-number").box, [p.box for p in of_role(laid, "bracket")]
    assert len(hooks) == 4
    assert all(not number.meets(b) and b.y0 > 3.5 for b in hooks)
    members = [p.box for p in laid.placed if p.role in ("head", "rest") and p.owner is not None and p.owner[1] < 3]
    assert min(b.x0 for b in hooks) == pytest.approx(members[0].x0, abs=0.1)
    assert max(b.x1 for b in hooks) >= members[1].x1


def test_every_triplet_has_its_own_number() -> None:
    assert len(of_role(laid_out("4/4 et et et et et et h"), "tuplet-number")) == 2
    assert len(of_role(laid_out("2/4 qt et qt et"), "tuplet-number")) == 2


@pytest.mark.parametrize("font", FONTS)
@pytest.mark.parametrize("meter", ["2/4", "3/4", "4/4", "2/2", "6/8", "9/8", "12/8", "5/8", "7/8"])
def test_time_signature_digits_stand_centred_on_each_other_and_on_the_line(font: str, meter: str) -> None:
    digits = of_role(laid_out(f"{meter} q", font, full=False), "digit")
    top, bottom = ([p for p in digits if p.y_sp == y] for y in (1.0, -1.0))
    assert "".join(p.name[-1] for p in top) + "/" + "".join(p.name[-1] for p in bottom) == meter
    middle = [(row[0].box.x0 + row[-1].box.x1) / 2 for row in (top, bottom)]
    assert middle[0] == pytest.approx(middle[1])
    assert all(p.box.height < 2.2 for p in digits)


def test_digits_of_bravura_are_two_spaces_high() -> None:
    for digit in of_role(laid_out("4/4 w"), "digit"):
        assert digit.box.height == pytest.approx(2.0, abs=0.02)


def test_an_additive_signature_is_written_as_a_sum() -> None:
    digits = [p for p in of_role(laid_out("2+2+3/8 q q q."), "digit") if p.y_sp > 0]
    assert [p.name for p in digits] == ["timeSig2", "timeSigPlus", "timeSig2", "timeSigPlus", "timeSig3"]
    assert all(a.box.x1 < b.box.x0 for a, b in pairwise(digits))


def test_barlines_reach_two_spaces_up_and_down_and_the_last_is_a_final_one() -> None:
    laid = laid_out("3/4 h. | q h")
    bars = [p.box for p in of_role(laid, "barline")]
    assert [round(b.width, 2) for b in bars] == [0.16, 0.16, 0.5]
    assert bars[2].x0 - bars[1].x1 == pytest.approx(0.4)
    assert {(b.y0, b.y1) for b in bars} == {(-2.0, 2.0)}
    assert bars[-1].x1 == pytest.approx(one(laid, "staff").box.x1)
    open_end = laid_out("3/4 h. | q h", final=False)
    assert [round(p.box.width, 2) for p in of_role(open_end, "barline")] == [0.16, 0.16]


def test_the_line_runs_on_under_everything() -> None:
    for laid in (laid_out("3/4 rW"), laid_out("4/4 rh h", frame="fragment", signature=False)):
        line = one(laid, "staff").box
        assert (line.y0, line.y1) == pytest.approx((-0.065, 0.065))
        assert all(line.x0 <= p.box.x0 and p.box.x1 <= line.x1 + 0.01 for p in laid.placed)


def test_a_hidden_signature_leaves_no_gap() -> None:
    laid = laid_out("3/4 q q q", signature=False)
    assert not of_role(laid, "digit")
    assert of_role(laid, "head")[0].x_sp == pytest.approx(2.0)


def test_measure_numbers_stand_above_the_start_of_their_measures() -> None:
    laid = laid_out("4/4 w | h h | w", numbers=True)
    numbers, bars = of_role(laid, "measure-number"), of_role(laid, "barline")
    assert [p.name for p in numbers] == ["1", "2", "3"]
    assert [p.x_sp for p in numbers[1:]] == pytest.approx([b.box.x1 for b in bars[:2]], abs=0.03)
    assert all(p.box.y0 > 2.0 for p in numbers)


def test_a_pickup_has_no_number() -> None:
    numbers = of_role(laid_out("3/4 q | h q | h", numbers=True), "measure-number")
    assert [p.name for p in numbers] == ["1", "2"]


def middle_of(laid: Layout, index: int) -> float:
    box = next(p.box for p in laid.placed if p.role in ("head", "rest") and p.owner == (0, index))
    return (box.x0 + box.x1) / 2


@pytest.mark.parametrize("label", ["1", "&", "la", "ta"])
def test_counts_stand_centred_under_the_heads(label: str) -> None:
    laid = laid_out("2/4 q q", counts=((label, "2"),))
    count = of_role(laid, "count")[0].box
    assert (count.x0 + count.x1) / 2 == pytest.approx(middle_of(laid, 0))
    assert count.y1 < -2.0


def test_the_count_of_the_onset_stands_under_the_head_and_the_held_part_after_it() -> None:
    single = of_role(laid_out("3/4 h q", counts=(("1", "3"),)), "count")[0]
    held = of_role(laid_out("3/4 h q", counts=(("1-2", "3"),)), "count")[0]
    assert held.x_sp == single.x_sp
    silent = of_role(laid_out("3/4 rh q", counts=(("(1-2)", "3"),)), "count")[0]
    assert silent.x_sp < single.x_sp


def test_the_count_of_a_full_measure_rest_stands_centred() -> None:
    laid = laid_out("3/4 rW", counts=(("(1-2-3)",),))
    count = one(laid, "count").box
    assert (count.x0 + count.x1) / 2 == pytest.approx(middle_of(laid, 0), abs=0.05)


def test_a_tied_note_has_no_count_of_its_own() -> None:
    laid = laid_out("3/4 q~ q q | q q q", counts=(("1-2", "3"), ("1", "2", "3")))
    assert [p.owner for p in of_role(laid, "count")] == [(0, 0), (0, 2), (1, 0), (1, 1), (1, 2)]


def test_a_crossed_out_count_has_a_line_through_it() -> None:
    laid = laid_out("2/4 q rq", counts=(("1", "2\u0336"),))
    count, line = of_role(laid, "count")[1], one(laid, "strike")
    assert count.name == "2"
    assert line.box.x0 < count.box.x0 < count.box.x1 < line.box.x1
    assert count.box.y0 < line.box.y0 < line.box.y1 < count.box.y1


def test_long_counts_make_room_for_themselves() -> None:
    laid = laid_out("4/4 h. q", counts=(("1-&-2-&-3-&", "4-&"),))
    first, second = (p.box for p in of_role(laid, "count"))
    assert second.x0 - first.x1 > 0.5


def test_counts_that_do_not_fit_the_symbols_are_told() -> None:
    with pytest.raises(RhythmError) as caught:
        laid_out("4/4 h q~ q", counts=(("1", "3", "4"),))
    assert str(caught.value) == "measure 1 has 2 sounds and rests but 3 counts: '1 3 4'"
    with pytest.raises(RhythmError) as caught:
        laid_out("3/4 h. | h.", counts=(("1",),))
    assert str(caught.value) == "a figure of 2 measures has counts for 1: give a row for each measure"


@pytest.mark.parametrize("text", ["4/4 q *rq h", "4/4 q *q h", "2/4 e *e q", "4/4 *w", "4/4 h *rh", "2/4 e e *q"])
def test_the_mark_points_at_its_symbol_from_close_above(text: str) -> None:
    laid = laid_out(text)
    arrow, owner = one(laid, "mark"), parse_excerpt(text).mark
    assert arrow.owner == owner
    assert owner is not None
    assert (arrow.box.x0 + arrow.box.x1) / 2 == pytest.approx(middle_of(laid, owner[1]))
    ink = max(p.box.y1 for p in laid.placed if p.owner == owner and p.role != "mark")
    assert 0.3 < arrow.box.y0 - ink < 0.6


def test_the_mark_of_a_triplet_member_stands_above_the_number() -> None:
    laid = laid_out("2/4 et *et et q")
    assert one(laid, "mark").box.y0 > one(laid, "tuplet-number").box.y1


def test_a_fragment_is_beamed_as_if_it_began_where_it_stands() -> None:
    symbols = (note("1/8"),) * 2
    for start, beams in ((Fraction(0), 1), (Fraction(1, 8), 0)):
        figure = Figure(Excerpt(Meter(2, 4), (symbols,)), signature=False, frame="fragment", start=start)
        assert len(of_role(layout(figure, load_font("Bravura"), USUAL), "beam")) == beams
