"""Figures as outlines for print: cut alike, with places for counts, or without barlines."""

import re
from itertools import pairwise

import pytest

from barwright.counting.counts import count_labels
from barwright.engrave.font import BUNDLED, load_font
from barwright.engrave.outlines import has_outlines, outline
from barwright.engrave.smufl import CODE_POINTS
from barwright.engrave.vectors import barlines_left_out, vectors, with_places
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure, fragment
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt, parse_symbols

FONT, USUAL = load_font("Bravura"), Conventions()
BARLINE = re.compile(r'<rect x="[\d.]+" y="[\d.]+" width="16" height="400"/>')  # thin, four spaces high


@pytest.mark.parametrize("name", BUNDLED)
def test_every_glyph_of_a_bundled_font_has_an_outline(name: str) -> None:
    font = load_font(name)
    assert has_outlines(font)
    assert all(outline(font, glyph).startswith("M") for glyph in CODE_POINTS if glyph in font.boxes)


def test_choices_of_one_question_are_as_wide_and_as_high_as_each_other() -> None:
    symbols = ("rw", "h", "e", "q. e", "rq")
    found = vectors([fragment(parse_symbols(s), parse_meter("4/4")) for s in symbols], FONT, USUAL)
    assert len({(each.width_sp, each.height_sp, each.line_sp) for each in found}) == 1
    assert len({each.svg for each in found}) == len(symbols)


@pytest.mark.parametrize(
    "rhythm", ["4/4 q. e h", "3/4 q q q~ | q h", "4/4 rW | w", "3/4 q~ e e q", "4/4 s s s s e e q rq | q e e q. e"]
)
def test_each_count_has_a_place_under_its_note_and_apart_from_the_next(rhythm: str) -> None:
    excerpt = parse_excerpt(rhythm)
    found = with_places(Figure(excerpt), FONT, USUAL)
    assert len(found.places) == sum(map(len, count_labels(excerpt, USUAL)))
    for place in found.places:
        assert place.left_sp < place.middle_sp < place.right_sp
        assert place.y_sp - found.line_sp > 4  # below barlines and ties, and room to write
    for place, after in pairwise(found.places):
        assert place.right_sp < after.left_sp


def test_a_rhythm_of_several_lines_has_room_to_write_below_each() -> None:
    excerpt = parse_excerpt("4/4 e e e e e e e e | e e e e e e e e | e e e e e e e e | w")
    found = with_places(Figure(excerpt), FONT, USUAL)
    heights = sorted({place.y_sp for place in found.places})
    assert len(heights) == 2
    assert heights[1] - heights[0] > 10
    assert heights[1] < found.height_sp


def test_without_barlines_nothing_shows_where_they_were() -> None:
    """Equal notes are equally far from each other, over the places of barlines, too."""
    figure = Figure(parse_excerpt("3/4 q q q | q q q | q q q"))
    (whole,) = vectors([figure], FONT, USUAL)
    bare = barlines_left_out(figure, FONT, USUAL)
    assert len(BARLINE.findall(whole.svg)) == 3
    assert len(BARLINE.findall(bare.svg)) == 1  # of the final barline
    black = outline(FONT, "noteheadBlack")
    heads = [float(x) for x, path in re.findall(r'translate\(([\d.]+) [^"]*" d="([^"]*)"', bare.svg) if path == black]
    gaps = {round(b - a) for a, b in pairwise(heads)}
    assert (len(heads), len(gaps)) == (9, 1)


def test_a_long_rhythm_without_barlines_is_one_line() -> None:
    figure = Figure(parse_excerpt("4/4 e e e e e e e e | e e e e e e e e | e e e e e e e e"))
    assert barlines_left_out(figure, FONT, USUAL).height_sp < 8
