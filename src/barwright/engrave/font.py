"""Music fonts by name or file, and the text font for counts and numbers.

The bundled fonts lie in the data folder of the verovio package, which is found without running the package: NAME.css
holds the font as base64 WOFF2, NAME.xml its glyph boxes and stem anchors, Liberation.css the text faces and
text/Times.xml their metrics (Liberation Serif has the widths of Times).
"""

import re
from base64 import b64decode
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from xml.etree import ElementTree

from barwright.engrave.smufl import (
    CODE_POINTS,
    SP_PER_EM,
    Box,
    MusicFont,
    TextFace,
)
from barwright.errors import FontError
from barwright.inputs import content_of
from barwright.showing import MOST_OF_A_PATH, cut

BUNDLED = ("Bravura", "Leland", "Leipzig", "Petaluma", "Gootville")
DEFAULT = "Bravura"
MOST_BYTES = 4 * 1024 * 1024  # the largest of the bundled fonts has 0.2 MB; a file larger than this is no music font

_FACE = re.compile(r"@font-face\s*\{.*?base64,([A-Za-z0-9+/=]+)\s*\)", re.DOTALL)


def load_font(name_or_path: str) -> MusicFont:
    """The bundled music font of this name (see BUNDLED), or that of a SMuFL font file (otf, ttf, woff, woff2).

    >>> load_font("Leland").box("noteheadBlack").width
    1.3

    Raises FontError for an unknown name, and for a file that is too large, no font, or without noteheads.
    """
    if name_or_path in BUNDLED:
        return _bundled(name_or_path)
    path = Path(name_or_path)
    if not path.is_file():
        named = cut(name_or_path, MOST_OF_A_PATH)
        raise FontError(
            f"music font '{named}' is not there: name one of {', '.join(BUNDLED)}, or the file of a SMuFL font"
        )
    file = _bounded(path)
    from barwright.engrave.draw import measured_boxes

    return MusicFont(path.name, file, measured_boxes(file, path.name), {}, text_face())


@cache
def text_face() -> TextFace:
    """Liberation Serif, upright and regular, with metrics in ems."""
    root = ElementTree.fromstring(package_file("text/Times.xml"))
    per_em = float(root.attrib["units-per-em"])
    advances, boxes = {}, {}
    for glyph in root.iter("g"):
        character = bytes.fromhex(glyph.attrib["c"]).decode("utf-8")
        boxes[character] = _box(glyph.attrib, per_em)
        advance = glyph.attrib.get("h-a-x")  # left out where the ink is about as wide
        advances[character] = float(advance) / per_em if advance else boxes[character].x1
    return TextFace("Liberation Serif", _font_bytes("Liberation.css"), advances, boxes)


@cache
def _bundled(name: str) -> MusicFont:
    root = ElementTree.fromstring(package_file(f"{name}.xml"))
    per_sp = float(root.attrib["units-per-em"]) / SP_PER_EM
    boxes, anchors = {}, {}
    for glyph in root.iter("g"):
        called = glyph.attrib["n"]
        if called in CODE_POINTS:
            boxes[called] = _box(glyph.attrib, per_sp)
            for anchor in glyph.iter("a"):
                if anchor.attrib["n"] in ("stemUpSE", "stemUpNW"):  # of noteheads and of flags
                    anchors[called] = (float(anchor.attrib["x"]), float(anchor.attrib["y"]))
    return MusicFont(name, _font_bytes(f"{name}.css"), boxes, anchors, text_face())


def _box(attributes: dict[str, str], unit: float) -> Box:
    x, y, width, height = (float(attributes[key]) for key in ("x", "y", "w", "h"))
    return Box(x / unit, y / unit, (x + width) / unit, (y + height) / unit)


def _font_bytes(css: str) -> bytes:
    """The first face of a style sheet: the upright, regular one."""
    match = _FACE.search(package_file(css).decode("ascii"))
    if match is None:
        raise FontError(f"no font in {css} of the verovio package: reinstall verovio")
    return b64decode(match[1])


def package_file(name: str) -> bytes:
    """A file of the verovio package's data folder; FontError if the package or the file is missing."""
    spec = find_spec("verovio")
    if spec is None or not spec.submodule_search_locations:
        raise FontError("the music fonts of the verovio package are missing: install verovio")
    path = Path(spec.submodule_search_locations[0]) / "data" / name
    if not path.is_file():
        raise FontError(f"the verovio package has no {name} in its data folder: install verovio 5.5 or later")
    return path.read_bytes()


def _bounded(path: Path) -> bytes:
    try:
        content = content_of(path, MOST_BYTES + 1)
    except OSError as error:
        raise FontError(f"music font '{cut(str(path), MOST_OF_A_PATH)}' cannot be read: {error.strerror}") from None
    if len(content) > MOST_BYTES:
        raise FontError(
            f"music font '{cut(str(path), MOST_OF_A_PATH)}' is larger than {MOST_BYTES} bytes: that is no music font"
        )
    return content
