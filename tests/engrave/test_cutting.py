"""The two parts of a measure beside its blank: together they are the whole figure without the box, place for place."""

from collections import Counter
from collections.abc import Iterator
from typing import Literal

import pytest
from rhythms import FONTS, USUAL, chance_excerpts, full_measures, of_role

from barwright.engrave.draw import picture
from barwright.engrave.font import load_font
from barwright.engrave.layout import PAST_EDGE, layout
from barwright.engrave.placed import Layout
from barwright.engrave.symbols import BLANK_BOX
from barwright.errors import RhythmError
from barwright.rhythm.excerpt import Excerpt, Figure, beside_blank
from barwright.rhythm.measure import BLANK
from barwright.rhythm.text import parse_excerpt

BRAVURA = load_font("Bravura")
BLACK = 0


def blanked(excerpt: Excerpt) -> Iterator[Excerpt]:
    """The excerpt with each symbol of its first measure left out in turn."""
    first = excerpt.measures[0]
    for index in range(len(first)):
        left = (*first[:index], BLANK, *first[index + 1 :])
        yield Excerpt(excerpt.meter, (left, *excerpt.measures[1:]), excerpt.pickup)


def inks(laid: Layout, right: float = 0.0) -> Counter[tuple[object, ...]]:
    """Everything but the line and the box, with its place to a thousandth of a staff space."""
    things = (p for p in laid.placed if p.role not in ("staff", "blank"))
    return Counter((p.role, p.name, *(round(x, 3) for x in (p.box.x0 + right, p.box.x1 + right))) for p in things)


def outside(laid: Layout) -> list[object]:
    """What crosses the edge of the picture, the line apart, which is to reach it."""
    things = (p for p in laid.placed if p.role != "staff")
    return [p for p in things if p.box.x0 < 0 or p.box.x1 > laid.width_sp]


def assert_is_whole(excerpt: Excerpt, font: str = "Bravura") -> None:
    whole = layout(Figure(excerpt), load_font(font), USUAL)
    before, after = (layout(part, load_font(font), USUAL) for part in beside_blank(excerpt))
    (box,) = of_role(whole, "blank")
    assert not outside(before)
    assert not outside(after)
    assert inks(before) + inks(after, box.box.x1) == inks(whole), excerpt
    assert before.width_sp + BLANK_BOX.width + after.width_sp == pytest.approx(whole.width_sp)
    assert (before.height_sp, before.line_sp) == (after.height_sp, after.line_sp) == (whole.height_sp, whole.line_sp)


def test_the_parts_of_every_beginners_measure_are_the_whole_without_the_box() -> None:
    seen = 0
    for full in full_measures():
        for excerpt in blanked(full):
            assert_is_whole(excerpt)
            seen += 1
    assert seen > 150


@pytest.mark.parametrize("font", FONTS[:4])  # the last one lacks the triplet sign
def test_the_parts_of_rich_measures_in_every_font(font: str) -> None:
    for full in chance_excerpts(40):
        for excerpt in blanked(full):
            assert_is_whole(excerpt, font)


@pytest.mark.parametrize("text", ["3/4 q q q | _ h", "3/4 q _ q | rW", "2/4 q | _ q | q", "4/4 h q q | h _ | w"])
def test_the_parts_of_several_measures(text: str) -> None:
    assert_is_whole(parse_excerpt(text))


def test_the_parts_never_go_on_in_a_second_line() -> None:
    """A gap stands in one line of text, so the pictures beside it do."""
    long = parse_excerpt("4/4 e e e e e e e e | e e e e _ e e | e e e e e e e e | w")
    heights = {layout(part, BRAVURA, USUAL).height_sp for part in beside_blank(long)}
    assert heights == {layout(Figure(parse_excerpt("4/4 _")), BRAVURA, USUAL).height_sp}


@pytest.mark.parametrize("text", ["3/4 _ h", "3/4 h _", "6/8 _", "4/4 et et et _ e e q", "3/4 q q q | _ h"])
def test_the_line_reaches_the_edges_that_meet_the_gap(text: str) -> None:
    for part, left in zip(beside_blank(parse_excerpt(text)), (False, True), strict=True):
        laid = layout(part, BRAVURA, USUAL)
        (line,) = of_role(laid, "staff")
        assert line.box.x0 == 0 if left else line.box.x1 == pytest.approx(laid.width_sp + PAST_EDGE)
        image = picture(laid, BRAVURA)
        edge = 0 if left else image.width - 1
        assert BLACK in {image.getpixel((edge, y)) for y in range(image.height)}


@pytest.mark.parametrize("frame", ["before", "after"])
def test_without_a_blank_there_are_no_parts(frame: Literal["before", "after"]) -> None:
    with pytest.raises(RhythmError) as raised:
        Figure(parse_excerpt("3/4 h q"), frame=frame)
    assert str(raised.value) == f"there is nothing {frame} a blank: the excerpt has none"
