"""What one symbol looks like on the line: head, stem, flag, dots, or the rest's sign, or the blank.

All stems point up and are 3.5 staff spaces long (one octave; E. Gould 2011, p. 14). Places are relative to the symbol's
left edge and the staff line.

The time signature: two rows of digits, centred on each other, one above and one below the line."""

from dataclasses import dataclass

from barwright.engrave.placed import Placed, Role, Sign
from barwright.engrave.smufl import Box, MusicFont
from barwright.engrave.spacing import IDEAL_SP
from barwright.rhythm.measure import Symbol
from barwright.rhythm.meter import Meter

# Bravura's engravingDefaults (SMuFL 1.4), in staff spaces.
STEM_WIDTH = 0.12
STEM_TOP = 3.5

HEADS = {"whole": "noteheadWhole", "half": "noteheadHalf"}
RESTS = {
    "whole": "restWhole",
    "half": "restHalf",
    "quarter": "restQuarter",
    "eighth": "rest8th",
    "sixteenth": "rest16th",
}
FLAGS = {"eighth": "flag8thUp", "sixteenth": "flag16thUp"}

# Dots (G. Read 1979): half a space after the head, in the space above the line; after a rest a little closer. The dot
# of a whole rest stands in the space that the rest hangs in.
DOT_Y = 0.5
DOT_GAP = {"head": 0.5, "rest": 0.35}
DOT_STEP = 0.2  # between two dots
FLAG_GAP = 0.15  # between a flag that comes down to the dots, and the first dot

# One size whatever is missing: as high as a note with its stem, as wide as a beginner's usual symbol.
BLANK_BOX = Box(0.0, -1.5, 3.6, 4.0)


@dataclass(frozen=True, slots=True, eq=False)
class Ink:
    """The sign of one symbol, its right edge and top, the middle of its head or sign, and its stem's right edge.

    `ideal` is the ideal width of its length; 0 for what has a width of its own (blank, full-measure rest). `left` is
    its left edge, which in some fonts is not quite 0; `flagged` tells whether it has a flag.
    """

    sign: Sign
    right: float
    top: float
    middle: float
    stem: float = 0.0
    ideal: float = 0.0
    left: float = 0.0
    flagged: bool = False


def ink(symbol: Symbol, font: MusicFont, *, flagged: bool = True) -> Ink:
    """The ink of a symbol; without its flag if it hangs on a beam. FontError if the font lacks a glyph."""
    if symbol.kind == "blank":
        return Ink(Sign((Placed("blank", "dashes", BLANK_BOX),)), BLANK_BOX.x1, BLANK_BOX.y1, BLANK_BOX.x1 / 2)
    if symbol.value is None or symbol.kind == "rest":
        return _rest_ink(symbol, font)
    return _note_ink(symbol, font, flagged=flagged)


def glyph(role: Role, name: str, *, x: float, y: float, font: MusicFont, size: float = 1.0) -> Placed:
    """A glyph with its origin at this place; FontError if the font lacks it."""
    return Placed(role, "glyph", font.box(name).scaled(size).moved(x, y), name, x, y, size)


def _rest_ink(symbol: Symbol, font: MusicFont) -> Ink:
    name = "whole" if symbol.value is None else symbol.value.name
    sign = glyph("rest", RESTS[name], x=0.0, y=0.0, font=font)
    dots = 0 if symbol.value is None else symbol.value.dots
    y = -DOT_Y if name == "whole" else DOT_Y
    return _finished([sign, *_dots(dots, font, x=sign.box.x1 + DOT_GAP["rest"], y=y)], symbol)


def _note_ink(symbol: Symbol, font: MusicFont, *, flagged: bool) -> Ink:
    assert symbol.value is not None
    name = symbol.value.name
    head = glyph("head", HEADS.get(name, "noteheadBlack"), x=0.0, y=0.0, font=font)
    parts, dot_x, stem = [head], head.box.x1 + DOT_GAP["head"], 0.0
    if name != "whole":
        stem, foot = font.stem_foot(head.name)
        parts.append(Placed("stem", "bar", Box(stem - STEM_WIDTH, foot, stem, STEM_TOP)))
    if flagged and name in FLAGS:
        raised = STEM_TOP - font.stem_tip(FLAGS[name])
        flag = glyph("flag", FLAGS[name], x=stem - STEM_WIDTH, y=raised, font=font)
        parts.append(flag)
        if symbol.value.dots and flag.box.y0 < DOT_Y + font.box("augmentationDot").y1:
            dot_x = max(dot_x, flag.box.x1 + FLAG_GAP)
    return _finished([*parts, *_dots(symbol.value.dots, font, x=dot_x, y=DOT_Y)], symbol, stem=stem)


def _dots(count: int, font: MusicFont, *, x: float, y: float) -> list[Placed]:
    if not count:
        return []
    box = font.box("augmentationDot")
    step = box.width + DOT_STEP
    return [glyph("dot", "augmentationDot", x=x - box.x0 + n * step, y=y, font=font) for n in range(count)]


def _finished(parts: list[Placed], symbol: Symbol, *, stem: float = 0.0) -> Ink:
    boxes = [p.box for p in parts]
    left, right, top = min(b.x0 for b in boxes), max(b.x1 for b in boxes), max(b.y1 for b in boxes)
    ideal = 0.0 if symbol.value is None else IDEAL_SP[symbol.value.length]
    flagged = any(p.role == "flag" for p in parts)
    return Ink(Sign(tuple(parts)), right, top, (boxes[0].x0 + boxes[0].x1) / 2, stem, ideal, left, flagged)


ROW_Y = 1.0  # middle of a row above or below the line: digits are two staff spaces high (common practice)
TALLEST = 2.1  # digits of a font that draws them taller are made smaller
PLUS_HEIGHT = 1.0
PLUS_GAP = 0.15


def signature(meter: Meter, font: MusicFont) -> tuple[Sign, float]:
    """Digits (and plus signs of an additive meter) from x = 0, and their width; FontError if the font lacks one."""
    top = "+".join(map(str, meter.groups)) if meter.groups else str(meter.top)
    rows = [(_row(top, font), ROW_Y), (_row(str(meter.bottom), font), -ROW_Y)]
    width = max(right for (_, right), _ in rows)
    placed = [p.moved((width - right) / 2, y) for (row, right), y in rows for p in row]
    return Sign(tuple(placed)), width


def _row(text: str, font: MusicFont) -> tuple[list[Placed], float]:
    placed, x = [], 0.0
    for character in text:
        name = "timeSigPlus" if character == "+" else f"timeSig{character}"
        box = font.box(name)
        size = PLUS_HEIGHT / box.height if character == "+" else digit_size(font)
        gap = PLUS_GAP if character == "+" else 0.0
        x += gap
        placed.append(glyph("digit", name, x=x - box.x0 * size, y=0.0, font=font, size=size))
        x += box.width * size + gap
    return placed, x


def digit_size(font: MusicFont) -> float:
    """Size of all digits of a font: 1, or less if its tallest digit would not fit beside the line."""
    return min(1.0, TALLEST / max(font.box(f"timeSig{n}").height for n in range(10)))
