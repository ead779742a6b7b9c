"""Layouts as PNG pictures: black on white in four greys, at twice the size they are shown at.

Lines, stems and beams lie on whole pixels; glyphs, texts and curves are drawn once, four times as large, reduced, kept,
and pasted. The pixels depend on nothing but the layout, the font and the size: Pillow 11.0 (FreeType 2.13.2) and 13.0
(FreeType 2.14.3) drew the same ones.
"""

from collections.abc import Iterable, Mapping
from functools import cache
from io import BytesIO
from itertools import accumulate

from PIL import Image, ImageDraw, ImageFilter, ImageFont

from barwright.engrave.layout import laid_out
from barwright.engrave.look import Look, look
from barwright.engrave.placed import Layout, Placed, Sign
from barwright.engrave.places import SYSTEM_WIDTH
from barwright.engrave.png import BITS, GREYS, greys_png
from barwright.engrave.smufl import (
    CODE_POINTS,
    SP_PER_EM,
    Box,
    MusicFont,
    TextFace,
)
from barwright.engrave.symbols import STEM_WIDTH
from barwright.errors import FontError
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure

SP_PX = 10  # a staff space on screen at the size shown: 2.6 mm at 96 pixels an inch, as in large print
SHARPNESS = 2  # the picture's pixels per pixel shown
FINENESS = 4  # glyphs are drawn so much larger, then reduced
# Four greys, so two bits a pixel: files are a third smaller than with sixteen, and shown at half size the eye still
# gets thirteen steps from black to white.
WHITE = GREYS - 1
PALETTE = bytes(85 * grey for grey in range(GREYS) for _ in range(3))

HEAVIER = 0.1  # more of every line where contrast is to be high: stems and lines become nearly twice as thick
OF_FONT = ("glyph", "text")
TIE_THICKNESS = (0.1, 0.22)  # end and middle (Bravura's engravingDefaults)
DASH_WIDTH, DASH, DASH_GAP = 0.15, 0.6, 0.4
ARROW_SHAFT, ARROW_HEAD = 0.3, 1.0

UNREADABLE = "cannot be read: it is damaged, or no OpenType font (otf, ttf, woff, woff2)"

NO_PIXEL = 1e-6  # less than this part of a pixel does not count
# Left, top, right and bottom edge in pixels, y down, and ink of that size; None if it is filled.
Stroke = tuple[int, int, int, int, Image.Image | None]
Mask = tuple[Image.Image, int, int]  # ink, and its left and top edge from the origin in pixels


def drawn(figure: Figure, font: MusicFont, conventions: Conventions, *, sp_px: int = SP_PX) -> tuple[bytes, int, int]:
    """A figure's PNG bytes at twice the size, and the width and height in pixels to show it at.

    `sp_px` is the staff space at the size shown. Raises FontError and RhythmError as `layout` does.
    """
    return drawn_look(look(figure, conventions), font, sp_px=sp_px)


def drawn_look(
    seen: Look, font: MusicFont, *, sp_px: int = SP_PX, widest: float = SYSTEM_WIDTH, heavy: bool = False
) -> tuple[bytes, int, int]:
    """PNG bytes, width and height, as `drawn`, of all figures that look so; FontError if the font lacks a glyph.

    `widest` is the width of a line in staff spaces at most. `heavy`: lines, stems, beams and ties
    thicker by `HEAVIER`.
    """
    image = picture(laid_out(seen, font, widest=widest), font, sp_px=sp_px, heavy=heavy)
    return encoded(image), image.width // SHARPNESS, image.height // SHARPNESS


def encoded(image: Image.Image) -> bytes:
    """PNG bytes of a picture, without any metadata."""
    return greys_png(image.tobytes("raw", f"P;{BITS}"), width=image.width, height=image.height)


def picture(layout: Layout, font: MusicFont, *, sp_px: int = SP_PX, heavy: bool = False) -> Image.Image:
    """A layout in four greys (palette mode), twice as large as it is shown; `heavy` as in `drawn_look`."""
    scale = sp_px * SHARPNESS
    width = -(-layout.width_sp * sp_px // 1) * SHARPNESS
    height = -(-layout.height_sp * sp_px // 1) * SHARPNESS
    image = Image.new("P", (int(width), int(height)), WHITE)
    image.putpalette(PALETTE)
    line = round(layout.line_sp * scale)
    if heavy:
        return _heavy(image, layout, font, scale)
    pen = ImageDraw.Draw(image)
    for thing in layout.things:
        if isinstance(thing, Placed):
            _add(pen, (_stroke(thing, font, scale),), 0, line)
            continue
        strokes, steady = _sign(thing.sign, font, scale)
        left = round(thing.x * scale)
        if thing.y or not steady or abs(thing.x * scale - left) > NO_PIXEL:
            strokes, left = tuple(_stroke(part, font, scale) for part in thing.parts), 0
        _add(pen, strokes, left, line)
    return image


def _heavy(image: Image.Image, layout: Layout, font: MusicFont, scale: int) -> Image.Image:
    """The layout on an empty picture, its lines with a rim of one pixel, `HEAVIER` / 2.

    Glyphs and texts stay as they are: the hole of a half note and the counters of digits must not close.
    """
    line = round(layout.line_sp * scale)
    strokes = [(each.shape in OF_FONT, _stroke(each, font, scale)) for each in layout.placed]
    _add(ImageDraw.Draw(image), (stroke for of_font, stroke in strokes if not of_font), 0, line)
    greys = Image.frombytes("L", image.size, image.tobytes()).filter(ImageFilter.MinFilter(3))
    thick = Image.frombytes("P", image.size, greys.tobytes())
    thick.putpalette(PALETTE)
    _add(ImageDraw.Draw(thick), (stroke for of_font, stroke in strokes if of_font), 0, line)
    return thick


def _add(pen: ImageDraw.ImageDraw, strokes: Iterable[Stroke], x: int, y: int) -> None:
    """Draws strokes whose origin is here, in pixels."""
    for left, top, right, bottom, ink in strokes:
        if ink is None:
            pen.rectangle((x + left, y + top, x + right - 1, y + bottom - 1), fill=0)
        else:
            pen.bitmap((x + left, y + top), ink, fill=0)


@cache
def _sign(sign: Sign, font: MusicFont, scale: int) -> tuple[tuple[Stroke, ...], bool]:
    """The strokes of a sign from its origin, and whether they keep their distance wherever it stands on whole pixels.

    They do unless an edge lies half-way between two pixels, where its place decides to which side it is rounded.
    """
    edges = [x * scale for p in sign.parts for x in (p.box.x0, p.box.x1, p.x_sp)]
    steady = all(abs(x - x // 1 - 0.5) > NO_PIXEL for x in edges)
    return tuple(_stroke(part, font, scale) for part in sign.parts), steady


def _stroke(placed: Placed, font: MusicFont, scale: int) -> Stroke:
    """What is drawn for one thing, from the canvas's left edge and the first line."""
    if placed.shape == "bar":
        return (*_bar(placed, scale), None)
    ink, x, y = _mask(placed, font, scale)
    return x, y, x + ink.width, y + ink.height, ink


def _bar(placed: Placed, scale: int) -> tuple[int, int, int, int]:
    """A bar's pixels: its thin side even if it lies flat, so that it is centred on the line; right edges as stems'."""
    box = placed.box
    right, top = round(box.x1 * scale), -round(box.y1 * scale)
    if placed.role == "staff":
        half, middle = max(1, round(box.height * scale / 2)), -round((box.y0 + box.y1) * scale / 2)
        return round(box.x0 * scale), middle - half, right, middle + half
    if placed.role == "beam":  # begins where the stem begins
        left = round((box.x0 + STEM_WIDTH) * scale) - _thick(STEM_WIDTH, scale)
        return left, top, right, top + _thick(box.height, scale)
    if box.width < box.height:
        return right - _thick(box.width, scale), top, right, -round(box.y0 * scale)
    return round(box.x0 * scale), top, right, top + _thick(box.height, scale)


def _thick(width_sp: float, scale: int) -> int:
    return max(1, round(width_sp * scale))


def _mask(placed: Placed, font: MusicFont, scale: int) -> Mask:
    """Ink of a glyph, text, curve, dashed box or arrow, from the canvas's left edge and the first line."""
    box = placed.box
    if placed.shape == "glyph":
        ink, x, y = _glyph_mask(font, placed.name, SP_PER_EM * scale * placed.size)
    elif placed.shape == "text":
        ink, x, y = _text_mask(font.text, placed.name, placed.size * scale)
    else:
        ink = SHAPES[placed.shape](round(box.width * scale), round(box.height * scale), scale)
        return ink, round(box.x0 * scale), -round(box.y1 * scale)
    return ink, round(placed.x_sp * scale) + x, y - round(placed.y_sp * scale)


def _glyph_mask(font: MusicFont, glyph: str, em_px: float) -> Mask:
    return _reduced(font, ((chr(CODE_POINTS[glyph]), 0.0),), em_px=em_px)


def _text_mask(face: TextFace, text: str, em_px: float) -> Mask:
    """Characters at the advances that the layout reckons with."""
    starts = accumulate((face.advances[c] * em_px * FINENESS for c in text[:-1]), initial=0.0)
    return _reduced(face, tuple(zip(text, starts, strict=True)), em_px=em_px)


def _reduced(font: MusicFont | TextFace, characters: tuple[tuple[str, float], ...], *, em_px: float) -> Mask:
    """Characters at these places along a line, drawn large and reduced."""
    try:
        face = _face(font.file, em_px * FINENESS)
        boxes = [(face.getbbox(c, anchor="ls"), round(x)) for c, x in characters]
        left = int(min(x + b[0] for b, x in boxes) // FINENESS)
        top = int(min(b[1] for b, _ in boxes) // FINENESS)
        right = int(-(-max(x + b[2] for b, x in boxes) // FINENESS))
        bottom = int(-(-max(b[3] for b, _ in boxes) // FINENESS))
        large = Image.new("L", ((right - left) * FINENESS, (bottom - top) * FINENESS))
        pen = ImageDraw.Draw(large)
        for (character, _), (_, x) in zip(characters, boxes, strict=True):
            pen.text((x - left * FINENESS, -top * FINENESS), character, fill=255, font=face, anchor="ls")
    except OSError:
        raise FontError(f"font {font.name} {UNREADABLE}") from None
    return large.reduce(FINENESS), left, top


@cache
def _face(file: bytes, em_px: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(BytesIO(file), em_px, layout_engine=ImageFont.Layout.BASIC)


def _tie(width: int, height: int, scale: int) -> Image.Image:
    """A curve that hangs from both upper corners, thick in the middle."""
    end, middle = (t * scale * FINENESS for t in TIE_THICKNESS)
    w, h = width * FINENESS, height * FINENESS
    outer = _curve(w, end, h, steps=4 * width)
    inner = _curve(w, 0.0, h - middle, steps=4 * width)
    large = Image.new("L", (w, h))
    ImageDraw.Draw(large).polygon([*outer, *reversed(inner)], fill=255)
    return large.reduce(FINENESS)


def _curve(width: float, ends: float, depth: float, *, steps: int) -> list[tuple[float, float]]:
    """Points of a cubic curve from (0, ends) down to `depth` and up to (width, ends); handles a quarter in."""
    handle = ends + (depth - ends) * 4 / 3
    points = []
    for n in range(steps + 1):
        t = n / steps
        a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
        points.append(((b * 0.2 + c * 0.8 + d) * width, (a + d) * ends + (b + c) * handle))
    return points


def _dashes(width: int, height: int, scale: int) -> Image.Image:
    """A dashed outline with a dash at each corner."""
    image, line = Image.new("L", (width, height)), _thick(DASH_WIDTH, scale)
    for length, horizontal in ((width, True), (height, False)):
        count = round((length / scale + DASH_GAP) / (DASH + DASH_GAP))
        step = (length - DASH * scale) / (count - 1)
        for start in (round(n * step) for n in range(count)):
            end = start + round(DASH * scale)
            for near in (0, (height if horizontal else width) - line):
                box = (start, near, end, near + line) if horizontal else (near, start, near + line, end)
                image.paste(255, box)
    return image


def _arrow(width: int, height: int, scale: int) -> Image.Image:
    """An arrow that points down."""
    w, h, neck = width * FINENESS, height * FINENESS, (height - ARROW_HEAD * scale) * FINENESS
    shaft = ARROW_SHAFT * scale * FINENESS / 2
    large = Image.new("L", (w, h))
    outline = [(w / 2 - shaft, 0), (w / 2 + shaft, 0), (w / 2 + shaft, neck), (w, neck), (w / 2, h), (0, neck)]
    ImageDraw.Draw(large).polygon([*outline, (w / 2 - shaft, neck)], fill=255)
    return large.reduce(FINENESS)


SHAPES = {"tie": _tie, "dashes": _dashes, "arrow": _arrow}

MEASURE_PX = 1000  # em at which the boxes of a font file are measured
PROBE_PX = 40
LARGEST_SP = 8.0  # no sign of a music font reaches further from its origin
UNUSED = "\U0010ffff"  # a code point that is no character: a font draws it as a missing glyph


def measured_boxes(file: bytes, name: str) -> Mapping[str, Box]:
    """Ink boxes of the glyphs that a font file has, by SMuFL name, in staff spaces.

    Raises FontError if the bytes are no font, or no SMuFL font (no noteheads), or one with a glyph of absurd size.
    """
    try:
        face, small = (_face(file, px) for px in (MEASURE_PX, PROBE_PX))
        boxes = {}
        for glyph, code in CODE_POINTS.items():
            reach = max(map(abs, face.getbbox(chr(code), anchor="ls"))) * SP_PER_EM / MEASURE_PX
            if reach > LARGEST_SP:
                raise FontError(f"music font {name} is damaged: {glyph} is more than {LARGEST_SP:g} staff spaces large")
            box = _measured(face, chr(code))
            if box is not None and bytes(small.getmask(chr(code))) != bytes(small.getmask(UNUSED)):
                boxes[glyph] = box
    except OSError:
        raise FontError(f"music font {name} {UNREADABLE}") from None
    if "noteheadBlack" not in boxes:
        raise FontError(f"music font {name} is no SMuFL font: it has no noteheadBlack (U+E0A4)")
    return boxes


def _measured(face: ImageFont.FreeTypeFont, character: str) -> Box | None:
    """Ink box of a character in staff spaces, without its side bearings; None if it has no ink."""
    mask, (left, top) = face.getmask2(character, anchor="ls")
    ink = mask.getbbox()
    if ink is None:
        return None
    unit = SP_PER_EM / MEASURE_PX
    return Box((left + ink[0]) * unit, -(top + ink[3]) * unit, (left + ink[2]) * unit, -(top + ink[1]) * unit)
