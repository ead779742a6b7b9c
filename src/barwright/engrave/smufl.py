"""Glyph names and code points of SMuFL, and what is known of a font's glyphs, in staff spaces.

Source: W3C Standard Music Font Layout 1.4, sections named above each row; one em is four staff spaces.
All boxes and anchors have their origin at the glyph's own, x to the right, y up.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from barwright.errors import FontError

SP_PER_EM = 4
CODE_POINTS = {
    # Time signatures (U+E080)
    **{f"timeSig{digit}": 0xE080 + digit for digit in range(10)},
    "timeSigPlus": 0xE08C,
    # Noteheads (U+E0A0)
    "noteheadWhole": 0xE0A2,
    "noteheadHalf": 0xE0A3,
    "noteheadBlack": 0xE0A4,
    # Individual notes (U+E1D0): the dot
    "augmentationDot": 0xE1E7,
    # Flags (U+E240)
    "flag8thUp": 0xE240,
    "flag16thUp": 0xE242,
    # Rests (U+E4E0)
    "restWhole": 0xE4E3,
    "restHalf": 0xE4E4,
    "restQuarter": 0xE4E5,
    "rest8th": 0xE4E6,
    "rest16th": 0xE4E7,
    # Tuplets (U+E880)
    "tuplet3": 0xE883,
}


class Box(NamedTuple):
    """A rectangle in staff spaces, y up: left, bottom, right, top."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """From bottom to top."""
        return self.y1 - self.y0

    def moved(self, x: float, y: float) -> "Box":
        """This box, moved."""
        return Box(self.x0 + x, self.y0 + y, self.x1 + x, self.y1 + y)

    def scaled(self, factor: float) -> "Box":
        """This box, larger or smaller about its origin."""
        return Box(self.x0 * factor, self.y0 * factor, self.x1 * factor, self.y1 * factor)

    def meets(self, other: "Box") -> bool:
        """Whether the two share more than an edge."""
        return self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1


@dataclass(frozen=True, slots=True, eq=False)
class TextFace:
    """A text font: its file's bytes, and per character the advance and the ink box, in ems."""

    name: str
    file: bytes = field(repr=False)
    advances: Mapping[str, float] = field(repr=False)
    boxes: Mapping[str, Box] = field(repr=False)

    def width(self, text: str) -> float:
        """Sum of the advances in ems; FontError for a character that the font lacks."""
        try:
            return sum(self.advances[character] for character in text)
        except KeyError as missing:
            raise FontError(f"the text font {self.name} has no character {missing.args[0]!r} for {text!r}") from None


@dataclass(frozen=True, slots=True, eq=False)
class MusicFont:
    """A SMuFL font: its file's bytes, per glyph name the ink box and the stem's anchor; in staff spaces.

    Two fonts are equal only if they are the same object, so that drawn glyphs can be kept per font.
    """

    name: str
    file: bytes = field(repr=False)
    boxes: Mapping[str, Box] = field(repr=False)
    anchors: Mapping[str, tuple[float, float]] = field(repr=False)
    text: TextFace = field(repr=False)

    def box(self, glyph: str) -> Box:
        """Ink box of a glyph; FontError if the font lacks it."""
        try:
            return self.boxes[glyph]
        except KeyError:
            code = f"U+{CODE_POINTS[glyph]:04X}"
            raise FontError(f"music font {self.name} has no glyph {glyph} ({code}): take another font") from None

    def stem_foot(self, head: str) -> tuple[float, float]:
        """Where the right edge of an upward stem meets this notehead (SMuFL stemUpSE).

        A font that does not say gets the right edge of the head, 0.168 above its middle (Bravura's value).
        """
        return self.anchors.get(head) or (self.box(head).x1, 0.168)

    def stem_tip(self, flag: str) -> float:
        """How high above the flag's origin the stem ends (SMuFL stemUpNW; mostly a little below 0)."""
        return self.anchors.get(flag, (0.0, 0.0))[1]
