"""Music fonts: the bundled ones, font files, and what is refused."""

import os
import subprocess
import sys
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib.tables._g_l_y_f import Glyph
from PIL import ImageFont
from rhythms import FONTS

from barwright.engrave.draw import drawn, measured_boxes
from barwright.engrave.font import (
    BUNDLED,
    DEFAULT,
    MOST_BYTES,
    load_font,
    text_face,
)
from barwright.engrave.smufl import CODE_POINTS, Box
from barwright.errors import FontError
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.text import parse_excerpt

# SMuFL 1.4 and Bravura 1.392 metadata: width, or bottom and top, in staff spaces.
BRAVURA_WIDTHS = {
    "noteheadWhole": 1.688,
    "noteheadHalf": 1.18,
    "noteheadBlack": 1.18,
    "augmentationDot": 0.4,
    "restQuarter": 1.08,
    "rest8th": 1.0,
    "rest16th": 1.28,
}
BRAVURA_HEIGHTS = {"restWhole": (-0.54, 0.036), "restHalf": (-0.008, 0.568)}


@pytest.mark.parametrize("glyph", BRAVURA_WIDTHS)
def test_widths_are_those_of_bravuras_metadata(glyph: str) -> None:
    assert load_font("Bravura").box(glyph).x1 == pytest.approx(BRAVURA_WIDTHS[glyph], abs=0.015)


@pytest.mark.parametrize("glyph", BRAVURA_HEIGHTS)
def test_the_whole_rest_hangs_and_the_half_rest_sits_in_bravuras_metadata(glyph: str) -> None:
    box = load_font("Bravura").box(glyph)
    assert (box.y0, box.y1) == pytest.approx(BRAVURA_HEIGHTS[glyph], abs=0.005)


def test_stems_stand_at_the_anchors_of_bravuras_metadata() -> None:
    for head in ("noteheadBlack", "noteheadHalf"):
        assert load_font("Bravura").stem_foot(head) == pytest.approx((1.18, 0.168), abs=0.003)


def test_a_font_without_anchors_gets_the_edge_of_the_head() -> None:
    font = load_font("Gootville")
    assert "noteheadWhole" not in font.anchors
    assert font.stem_foot("noteheadWhole") == (font.box("noteheadWhole").x1, 0.168)


@pytest.mark.parametrize("name", FONTS)
def test_the_boxes_given_are_the_boxes_drawn(name: str) -> None:
    font = load_font(name)
    measured = measured_boxes(font.file, name)
    assert measured.keys() == font.boxes.keys()
    for glyph, box in measured.items():
        given = font.box(glyph)
        drawn = (box.x0, box.y0, box.x1, box.y1)
        assert drawn == pytest.approx((given.x0, given.y0, given.x1, given.y1), abs=0.02), glyph


def test_text_is_as_wide_as_the_layout_reckons() -> None:
    face = text_face()
    font = ImageFont.truetype(BytesIO(face.file), 1000, layout_engine=ImageFont.Layout.BASIC)
    for character in map(chr, range(0x20, 0x7E)):
        assert face.width(character) == pytest.approx(font.getlength(character) / 1000, abs=0.05), character
    for character in "0123456789()-& aeilotRkmdnsu":
        assert face.width(character) == pytest.approx(font.getlength(character) / 1000, abs=0.002), character


def test_every_bundled_font_has_all_glyphs_but_one() -> None:
    lacking = {(name, glyph) for name in BUNDLED for glyph in CODE_POINTS if glyph not in load_font(name).boxes}
    assert lacking == {("Gootville", "tuplet3")}
    assert DEFAULT in BUNDLED


def test_a_missing_glyph_is_named() -> None:
    with pytest.raises(FontError) as caught:
        load_font("Gootville").box("tuplet3")
    assert str(caught.value) == "music font Gootville has no glyph tuplet3 (U+E883): take another font"


def test_a_missing_character_is_named() -> None:
    with pytest.raises(FontError) as caught:
        text_face().width("1 ☃")
    assert str(caught.value) == "the text font Liberation Serif has no character '☃' for '1 ☃'"


def test_a_bundled_font_is_read_once() -> None:
    assert load_font("Leland") is load_font("Leland")


def test_a_font_file_serves_as_well(tmp_path: Path) -> None:
    path = tmp_path / "any name.woff2"
    path.write_bytes(load_font("Leland").file)
    font = load_font(str(path))
    assert font.name == "any name.woff2"
    assert font.box("noteheadBlack").width == pytest.approx(1.3, abs=0.02)
    assert font.stem_foot("noteheadBlack") == (font.box("noteheadBlack").x1, 0.168)


UNREADABLE = "cannot be read: it is damaged, or no OpenType font (otf, ttf, woff, woff2)"
NAMES = "Bravura, Leland, Leipzig, Petaluma, Gootville"


@pytest.mark.parametrize("name", ["bravura", "no-such.otf", ""])
def test_an_unknown_name_is_told_what_there_is(name: str) -> None:
    with pytest.raises(FontError) as caught:
        load_font(name)
    assert str(caught.value) == (f"music font {name!r} is not there: name one of {NAMES}, or the file of a SMuFL font")


def test_a_folder_is_no_font(tmp_path: Path) -> None:
    with pytest.raises(FontError) as caught:
        load_font(str(tmp_path))
    assert str(caught.value).startswith(f"music font {str(tmp_path)!r} is not there: name one of ")


def test_a_file_that_is_no_font_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "song.otf"
    path.write_bytes(b"not a font at all")
    with pytest.raises(FontError) as caught:
        load_font(str(path))
    assert str(caught.value) == "music font song.otf " + UNREADABLE


def test_a_text_font_is_no_music_font(tmp_path: Path) -> None:
    path = tmp_path / "text.woff2"
    path.write_bytes(text_face().file)
    with pytest.raises(FontError) as caught:
        load_font(str(path))
    assert str(caught.value) == "music font text.woff2 is no SMuFL font: it has no noteheadBlack (U+E0A4)"


def test_a_huge_file_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "huge.otf"
    path.write_bytes(bytes(MOST_BYTES + 1))
    with pytest.raises(FontError) as caught:
        load_font(str(path))
    assert str(caught.value) == f"music font {str(path)!r} is larger than 4194304 bytes: that is no music font"


def test_a_file_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    path, why = Path("/proc/self/mem"), "Input/output error"
    if not path.is_file():  # no Linux: a file without permission, which only root could read
        path, why = tmp_path / "locked.otf", "Permission denied"
        path.touch(0)
    with pytest.raises(FontError) as caught:
        load_font(str(path))
    assert str(caught.value) == f"music font {str(path)!r} cannot be read: {why}"


@pytest.mark.parametrize("step", range(8))
def test_damaged_fonts_are_refused_in_one_line(step: int) -> None:
    file = bytearray(load_font("Bravura").file)
    for place in range(step * 40, len(file), 97 + step):
        file[place] ^= 0x5A
    for damaged in (bytes(file), load_font("Bravura").file[: step * 7000]):
        with pytest.raises(FontError) as caught:
            measured_boxes(damaged, "bent.otf")
        assert str(caught.value) == "music font bent.otf " + UNREADABLE


def square(side: int) -> Glyph:
    pen = TTGlyphPen(None)
    pen.moveTo((0, -side // 2))
    for corner in ((0, side // 2), (side, side // 2), (side, -side // 2)):
        pen.lineTo(corner)
    pen.closePath()
    return pen.glyph()


def made_font(path: Path, *, side: int) -> str:
    """A font file whose only sign is a square notehead of so many units, a thousand to the em."""
    builder = FontBuilder(1000)
    builder.setupGlyphOrder([".notdef", "square"])
    builder.setupCharacterMap({0xE0A4: "square"})
    builder.setupGlyf({".notdef": square(500), "square": square(side)})
    builder.setupHorizontalMetrics({".notdef": (500, 0), "square": (side, 0)})
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Square", "styleName": "Regular"})
    builder.setupPost()
    builder.save(path)
    return str(path)


def test_a_font_file_has_what_it_has_and_no_more(tmp_path: Path) -> None:
    font = load_font(made_font(tmp_path / "square.ttf", side=300))
    assert font.boxes == {"noteheadBlack": Box(0.0, -0.6, 1.2, 0.6)}


def test_a_glyph_of_absurd_size_is_refused_before_it_is_drawn(tmp_path: Path) -> None:
    with pytest.raises(FontError) as caught:
        load_font(made_font(tmp_path / "giant.ttf", side=16000))
    assert str(caught.value) == ("music font giant.ttf is damaged: noteheadBlack is more than 8 staff spaces large")


def test_a_font_that_breaks_later_is_told() -> None:
    broken = replace(load_font("Bravura"), name="bent.otf", file=b"")
    with pytest.raises(FontError) as caught:
        drawn(Figure(parse_excerpt("4/4 w")), broken, Conventions())
    assert str(caught.value) == "font bent.otf " + UNREADABLE


FAKE_PACKAGE = "raise SystemExit('the package was run')"


def refusal(path: Path) -> str:
    """What loading Bravura says when Python finds packages in this folder first."""
    code = (
        "from barwright.engrave.font import load_font\nfrom barwright.errors import FontError\n"
        "try: load_font('Bravura')\nexcept FontError as error: print(error, end='')"
    )
    source = str(Path(__file__).parents[2] / "src")
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(path), source])}
    done = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
    return done.stdout


def test_the_verovio_package_is_found_and_never_run(tmp_path: Path) -> None:
    package = tmp_path / "verovio"
    (package / "data" / "text").mkdir(parents=True)
    (package / "__init__.py").write_text(FAKE_PACKAGE, "utf-8")
    assert refusal(tmp_path) == (
        "the verovio package has no Bravura.xml in its data folder: install verovio 5.5 or later"
    )
    (package / "data" / "Bravura.xml").write_text('<bounding-boxes units-per-em="1000"/>', "utf-8")
    (package / "data" / "Bravura.css").write_text("@font-face { src: none; }", "utf-8")
    assert refusal(tmp_path) == "no font in Bravura.css of the verovio package: reinstall verovio"


def test_without_the_verovio_package_there_are_no_fonts(tmp_path: Path) -> None:
    (tmp_path / "verovio.py").write_text(FAKE_PACKAGE, "utf-8")
    assert refusal(tmp_path) == "the music fonts of the verovio package are missing: install verovio"
