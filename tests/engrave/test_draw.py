"""Pictures: ink where the layout says and nowhere else, small files, the same bytes every time."""

import os
import struct
import subprocess
import sys
from contextlib import suppress
from io import BytesIO
from pathlib import Path
from random import Random

import pytest
from PIL import Image
from rhythms import FONTS, RICH, USUAL, chance_counts, chance_excerpts, full_measures, laid_out, of_role

from barwright.counting.counts import count_labels
from barwright.engrave.draw import (
    PALETTE,
    drawn,
    encoded,
    picture,
)
from barwright.engrave.font import load_font
from barwright.engrave.layout import layout
from barwright.engrave.smufl import Box
from barwright.errors import RhythmError
from barwright.rhythm.excerpt import Figure, fragment
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_excerpt, parse_symbols

BRAVURA = load_font("Bravura")
SCALE = 20  # pixels a staff space in the picture
MOST_BYTES = 6 * 1024
SHOWN = "2/4 q. e"


def png_of(text: str, font: str = "Bravura", **shown: object) -> tuple[Image.Image, int, int]:
    """The picture of a rhythm text in greys, read back from its bytes, and the size to show it at."""
    png, width, height = drawn(Figure(parse_excerpt(text, full=False), **shown), load_font(font), USUAL)
    return Image.open(BytesIO(png)).convert("L"), width, height


def chunks(png: bytes) -> list[str]:
    """Types of the chunks of a PNG file, by its specification (W3C 2003, 5.3)."""
    found, at = [], 8
    while at < len(png):
        length, kind = struct.unpack(">I4s", png[at : at + 8])
        found.append(kind.decode())
        at += length + 12
    return found


def test_a_picture_holds_pixels_and_nothing_else() -> None:
    png, _, _ = drawn(Figure(parse_excerpt(SHOWN)), BRAVURA, USUAL)
    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    assert chunks(png) == ["IHDR", "IDAT", "IEND"]
    assert png[24:26] == b"\x02\x00"  # bits a pixel, greys (W3C 2003, 11.2.2)


def test_the_picture_is_twice_as_large_as_it_is_shown() -> None:
    for text in (SHOWN, "4/4 w", "3/4 rW", "12/8 q. q. q. q."):
        image, width, height = png_of(text)
        assert image.size == (2 * width, 2 * height)
        laid = laid_out(text)
        assert laid.width_sp * 10 <= width < laid.width_sp * 10 + 1
        assert height == pytest.approx(laid.height_sp * 10, abs=1)


@pytest.mark.parametrize("sp_px", [6, 8, 10, 15, 24])
def test_every_size_can_be_drawn(sp_px: int) -> None:
    figure = Figure(parse_excerpt("4/4 q. e s s e re e"), numbers=True)
    png, width, height = drawn(figure, BRAVURA, USUAL, sp_px=sp_px)
    laid = layout(figure, BRAVURA, USUAL)
    assert (width, height) == (-(-laid.width_sp * sp_px // 1), -(-laid.height_sp * sp_px // 1))
    assert Image.open(BytesIO(png)).size == (2 * width, 2 * height)


def ink_in(image: Image.Image, line: int, box: Box, *, grow: int = 0) -> Image.Image:
    """The part of a picture in a box of the layout, white outside the picture."""
    edges = (box.x0 * SCALE - grow, line - box.y1 * SCALE - grow, box.x1 * SCALE + grow, line - box.y0 * SCALE + grow)
    return image.crop((int(edges[0]), int(edges[1]), -int(-edges[2] // 1), -int(-edges[3] // 1)))


def test_there_is_ink_in_every_box_and_nowhere_else() -> None:
    rng = Random(5)
    excerpts = [*list(full_measures())[::3], *chance_excerpts(60, measures=2)]
    for excerpt in excerpts:
        figure = Figure(excerpt, counts=chance_counts(excerpt, rng), numbers=True)
        laid = layout(figure, BRAVURA, USUAL)
        image = picture(laid, BRAVURA).convert("L")
        line = round(laid.line_sp * SCALE)
        for placed in laid.placed:
            darkest, _ = ink_in(image, line, placed.box).getextrema()
            assert darkest < 64, (placed, excerpt)
        for placed in laid.placed:
            box = placed.box
            left, top = int(box.x0 * SCALE) - 2, int(line - box.y1 * SCALE) - 2
            image.paste(255, (left, top, int(box.x1 * SCALE) + 3, int(line - box.y0 * SCALE) + 3))
        assert image.getextrema() == (255, 255), excerpt


def rows(image: Image.Image, x_sp: float) -> list[int]:
    """Greys of one column of a picture, from the top."""
    column = image.crop((round(x_sp * SCALE), 0, round(x_sp * SCALE) + 1, image.height))
    return list(column.tobytes())


def test_the_line_is_crisp_and_one_whole_pixel_when_shown() -> None:
    image, _, _ = png_of(SHOWN)
    column = rows(image, 1.0)  # before the signature
    black = [y for y, grey in enumerate(column) if grey == 0]
    assert len(black) == 2
    assert black[0] % 2 == 0
    assert black[1] == black[0] + 1
    assert set(column) == {0, 255}


def test_stems_and_beams_are_crisp() -> None:
    laid = laid_out("2/4 e e q")
    image, line = picture(laid, BRAVURA).convert("L"), round(laid.line_sp * SCALE)
    (beam,) = of_role(laid, "beam")
    y = round(line - (beam.box.y0 + beam.box.y1) / 2 * SCALE)
    across = image.crop((0, y, image.width, y + 1)).tobytes()
    black = [x for x, grey in enumerate(across) if grey == 0]
    assert set(across) == {0, 255}
    stems = of_role(laid, "stem")
    third = of_role(laid, "stem")[2].box
    beam_pixels = [x for x in black if x < round(third.x0 * SCALE) - 2]
    assert beam_pixels == list(range(beam_pixels[0], beam_pixels[-1] + 1))
    low = image.crop((0, line - 42, image.width, line - 41)).tobytes()  # above the signature
    stem_pixels = [x for x, grey in enumerate(low) if grey == 0 and x < beam_pixels[-1] + 2]
    assert (stem_pixels[0], stem_pixels[-1]) == (beam_pixels[0], beam_pixels[-1])
    assert beam_pixels[-1] == round(stems[1].box.x1 * SCALE) - 1


def test_the_whole_rest_has_its_ink_below_the_line_and_the_half_rest_above() -> None:
    for token, above, below in (("rW", False, True), ("rh", True, False)):
        laid = layout(fragment(parse_symbols(token), Meter(4, 4)), BRAVURA, USUAL)
        image, line = picture(laid, BRAVURA).convert("L"), round(laid.line_sp * SCALE)
        (sign,) = of_role(laid, "rest")
        x = (sign.box.x0 + sign.box.x1) / 2
        column = rows(image, x)
        assert (min(column[line - 9 : line - 3]) == 0) == above
        assert (min(column[line + 3 : line + 9]) == 0) == below


def test_a_half_note_is_hollow_and_a_quarter_note_is_not() -> None:
    for token, grey in (("h", 255), ("q", 0)):
        laid = laid_out(f"4/4 {token}", full=False)
        (head,) = of_role(laid, "head")
        image, line = picture(laid, BRAVURA).convert("L"), round(laid.line_sp * SCALE)
        x = round((head.box.x0 + head.box.x1) / 2 * SCALE)
        middle = image.crop((x - 3, line - 5, x + 3, line + 5))
        assert (grey in middle.tobytes()[::1]) is True
        if token == "q":
            assert middle.getextrema() == (0, 0)


def test_the_blank_is_empty_but_for_the_line() -> None:
    laid = laid_out("4/4 h _ q")
    (blank,) = of_role(laid, "blank")
    image, line = picture(laid, BRAVURA).convert("L"), round(laid.line_sp * SCALE)
    column = rows(image, (blank.box.x0 + blank.box.x1) / 2)
    top, bottom = line - round(blank.box.y1 * SCALE), line - round(blank.box.y0 * SCALE)
    inside = column[top + 4 : bottom - 4]
    assert inside.count(0) == 2
    assert inside.count(255) == len(inside) - 2


def test_pictures_are_black_on_white_in_four_greys() -> None:
    for name in FONTS:
        image, _, _ = png_of("4/4 q. e rq e e", name, numbers=True)
        greys = set(image.tobytes())
        assert {0, 255} <= greys <= set(PALETTE)
        assert image.getpixel((0, 0)) == image.getpixel((image.width - 1, image.height - 1)) == 255


def test_the_same_figure_gives_the_same_bytes() -> None:
    figure = Figure(parse_excerpt("4/4 q. e~ e q re"), counts=(("1-2", "&-3", "&", "(&)"),), numbers=True)
    assert drawn(figure, BRAVURA, USUAL) == drawn(figure, BRAVURA, USUAL)


FRESH = """
import hashlib
from barwright.engrave.draw import drawn
from barwright.engrave.font import load_font
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.text import parse_excerpt
figure = Figure(parse_excerpt("4/4 q. e~ e *q re"), numbers=True)
print(hashlib.sha256(drawn(figure, load_font("Leland"), Conventions())[0]).hexdigest())
"""


def test_another_run_gives_the_same_bytes() -> None:
    source = str(Path(__file__).parents[2] / "src")
    found = set()
    for seed in ("1", "2"):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": source}
        command = [sys.executable, "-W", "error", "-c", FRESH]
        found.add(subprocess.run(command, env=environment, capture_output=True, text=True, check=True).stdout)
    assert len(found) == 1


DENSEST = [
    "4/4 s s s s s s s s s s s s s s s s",
    "12/8 e e e e e e e e e e e e",
    "4/4 e. s s e. e. s s e s",
    "4/4 et et et et et et et et et et et et",
    "4/4 s rs s rs s rs s rs s rs s rs s rs s rs",
    "4/4 rs s rs s rs s rs s re e re e",
    "9/8 e re e e re e e re e",
]


@pytest.mark.parametrize("name", ["Bravura", "Leland", "Leipzig", "Petaluma"])
def test_one_measure_takes_at_most_six_kilobytes(name: str) -> None:
    font = load_font(name)
    for excerpt in (*map(parse_excerpt, DENSEST), *chance_excerpts(240)):
        png, _, _ = drawn(Figure(excerpt, numbers=True), font, USUAL)
        assert len(png) <= MOST_BYTES, excerpt


def test_one_measure_with_counts_takes_at_most_six_kilobytes() -> None:
    """Up to sixteen symbols; a 12/8 measure of two dozen notes and rests with syllables may take 8 kB."""
    seen = 0
    for excerpt in (*list(full_measures("1/8"))[::10], *chance_excerpts(240)):
        with suppress(RhythmError):  # some rhythms have no counts
            counts = count_labels(excerpt, USUAL)
            png, _, _ = drawn(Figure(excerpt, counts=counts, numbers=True), BRAVURA, USUAL)
            assert len(png) <= MOST_BYTES or len(excerpt.symbols) > 16, excerpt
            seen += 1
    assert seen > 400


def test_every_beginners_measure_takes_at_most_six_kilobytes_bare() -> None:
    assert max(len(drawn(Figure(e), BRAVURA, USUAL)[0]) for e in full_measures()) <= MOST_BYTES / 3


def test_every_rich_symbol_can_be_a_choice() -> None:
    for name in FONTS:
        for symbol in RICH:
            png, width, height = drawn(fragment((symbol,), Meter(4, 4)), load_font(name), USUAL)
            assert (width, height) == (120, 83)
            assert len(png) < 1500


def test_encoding_keeps_every_pixel() -> None:
    image = picture(laid_out(SHOWN), BRAVURA)
    assert Image.open(BytesIO(encoded(image))).convert("L").tobytes() == image.convert("L").tobytes()
