"""The time signature: two rows of digits, centred on each other, one above and one below the line."""

from functools import cache

from barwright.engrave.placed import Placed, Sign
from barwright.engrave.smufl import MusicFont
from barwright.engrave.symbols import glyph
from barwright.rhythm.meter import Meter

ROW_Y = 1.0  # middle of a row above or below the line: digits are two staff spaces high (common practice)
TALLEST = 2.1  # digits of a font that draws them taller are made smaller
PLUS_HEIGHT = 1.0
PLUS_GAP = 0.15


@cache
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


@cache
def digit_size(font: MusicFont) -> float:
    """Size of all digits of a font: 1, or less if its tallest digit would not fit beside the line."""
    return min(1.0, TALLEST / max(font.box(f"timeSig{n}").height for n in range(10)))
