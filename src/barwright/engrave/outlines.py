"""Outlines of glyphs, for print: the bundled fonts' lie beside their metrics in the data folder of the verovio package.

A font that is given as a file has no outlines here: its figures are printed from pixels.
"""

import re
from functools import cache

from barwright.engrave.font import BUNDLED, load_font, package_file
from barwright.engrave.smufl import CODE_POINTS, MusicFont
from barwright.errors import FontError

UNITS_PER_SP = 250  # units of the outlines in a staff space: a thousand units are an em, an em four staff spaces
_PATH = re.compile(r'<path transform="scale\(1,-1\)" d="([^"]*)"')


def has_outlines(font: MusicFont) -> bool:
    """Whether every glyph that this font has can be drawn as an outline."""
    return font.name in BUNDLED and font is load_font(font.name)


@cache
def outline(font: MusicFont, glyph: str) -> str:
    """A glyph as SVG path data, y upwards, `UNITS_PER_SP` units to a staff space; FontError if there is none."""
    name = f"{font.name}/{CODE_POINTS[glyph]:04X}.xml"
    match = _PATH.search(package_file(name).decode("utf-8"))
    if match is None:
        raise FontError(f"the verovio package has no outline in {name}: reinstall verovio")
    return match[1]
