"""Layouts as SVG for print: outlines, not pixels, cut close to what is drawn; and where counts are written under them.

Figures that are choices of one question are cut alike, so that neither size nor height tells one from another.
"""

from base64 import b64encode
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import inf
from xml.sax.saxutils import escape

from barwright.engrave.columns import planned
from barwright.engrave.draw import (
    ARROW_HEAD,
    ARROW_SHAFT,
    DASH,
    DASH_GAP,
    DASH_WIDTH,
    HEAVIER,
    TIE_THICKNESS,
    encoded,
    picture,
)
from barwright.engrave.layout import laid_out
from barwright.engrave.look import look
from barwright.engrave.outlines import UNITS_PER_SP, has_outlines, outline
from barwright.engrave.placed import Layout, Placed
from barwright.engrave.places import SYSTEM_WIDTH, Standing, standing
from barwright.engrave.smufl import Box, MusicFont
from barwright.engrave.spacing import QUANTUM_SP
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure

UNITS = 100  # of the SVG in a staff space
ROOM = 0.25  # beyond the ink, above and below, in staff spaces
LEAST_FRAGMENT = 7.0  # so wide is the line of a single symbol on offer
FRAGMENT_ROOM = 1.3  # of the line beyond the ink of a fragment, on both sides
PIXELS_PER_SP = 18  # twice as many are drawn: 600 an inch where a staff space is 1.5 mm
BEFORE_COUNT = 0.5  # the place of a count begins so far before its note
BETWEEN_COUNTS = 0.5  # and ends so far before the next one
COUNTS_BELOW = 5.2  # the line to write on below the line of the rhythm: barlines end at 2, ties at 1.6
ROOM_TO_WRITE = 3.5  # more between two lines of a rhythm
TEXT_FAMILY = "Libertinus Serif"


@dataclass(frozen=True, slots=True)
class CountPlace:
    """The line for the count of one sound or rest: its ends, the middle of the note or rest, and how far it lies below
    the top of the figure; in staff spaces."""

    left_sp: float
    right_sp: float
    middle_sp: float
    y_sp: float


@dataclass(frozen=True, slots=True)
class Vector:
    """A figure as SVG text, its size and how far its (first) line lies below its top, in staff spaces.

    `places`: where counts are written, measure by measure.
    """

    svg: str
    width_sp: float
    height_sp: float
    line_sp: float
    places: tuple[CountPlace, ...] = ()


def heavy(vector: Vector) -> Vector:
    """The figure with thicker lines, stems, beams and ties, as `draw` has it where contrast is to be high."""
    svg = vector.svg.replace("<svg ", f'<svg stroke="#000" stroke-width="{_n(HEAVIER)}" ', 1)
    for of_font in ("<path transform=", "<text "):
        first, _, rest = of_font.partition(" ")
        svg = svg.replace(of_font, f'{first} stroke="none" {rest}')
    return replace(vector, svg=svg)


def vectors(
    figures: Sequence[Figure], font: MusicFont, conventions: Conventions, *, widest: float = SYSTEM_WIDTH
) -> tuple[Vector, ...]:
    """The figures cut alike: of one height, with their lines at one height; fragments of one width, too.

    `widest` is the width of a line in staff spaces at most.

    Raises FontError and RhythmError as `layout` does.
    """
    layouts = [laid_out(look(figure, conventions), font, widest=widest) for figure in figures]
    if all(figure.frame == "fragment" for figure in figures):
        layouts = _narrowed(layouts)
    above = max(_top(layout) for layout in layouts) + ROOM
    below = max(_bottom(layout) for layout in layouts) + ROOM
    return tuple(_vector(layout, font, above, below) for layout in layouts)


def with_places(figure: Figure, font: MusicFont, conventions: Conventions, *, widest: float = SYSTEM_WIDTH) -> Vector:
    """The figure alone, with room below each line of it and the places of its counts.

    There is one for each sound and rest, none for a note that is tied to in its measure.
    """
    seen = look(figure, conventions)
    measures = standing(seen, planned(seen, font), font=font, widest=widest)
    whole = laid_out(seen, font, widest=widest)
    systems = 1 + measures[-1].system
    height = whole.height_sp / systems
    things = tuple(p.moved(0.0, -((whole.line_sp - p.box.y1) // height) * ROOM_TO_WRITE) for p in whole.placed)
    wide = replace(whole, things=things)
    above, line = _top(wide) + ROOM, height + ROOM_TO_WRITE
    vector = _vector(wide, font, above, (systems - 1) * line + COUNTS_BELOW + ROOM)
    return replace(vector, places=tuple(p for each in measures for p in _places(each, above + COUNTS_BELOW, line)))


def barlines_left_out(figure: Figure, font: MusicFont, conventions: Conventions) -> Vector:
    """The figure, in one line, without the barlines between its measures and without the room that they take."""
    seen = look(figure, conventions)
    whole = laid_out(seen, font, widest=inf)
    measures = standing(seen, planned(seen, font), font=font, widest=inf)
    gaps = [
        (one.right, other.spots[0].left - one.spots[-1].left - one.planned.widths[-1])
        for one, other in pairwise(measures)
    ]
    things = tuple(_closed_up(each, gaps) for each in whole.placed if not _parts(each, gaps))
    narrow = replace(whole, width_sp=whole.width_sp - sum(gap for _, gap in gaps), things=things)
    return _vector(narrow, font, _top(narrow) + ROOM, _bottom(narrow) + ROOM)


def _parts(each: Placed, gaps: Sequence[tuple[float, float]]) -> bool:
    """Whether it is a barline between two measures; gaps as the left edge of their barlines, and what they take."""
    return each.role == "barline" and any(abs(each.box.x0 - edge) < QUANTUM_SP for edge, _ in gaps)


def _closed_up(each: Placed, gaps: Sequence[tuple[float, float]]) -> Placed:
    """The thing moved left by the gaps before it; a line or a tie over a gap is shorter by it."""
    before = sum(gap for edge, gap in gaps if edge < each.box.x0)
    over = sum(gap for edge, gap in gaps if each.box.x0 <= edge < each.box.x1 and each.role in ("staff", "tie"))
    moved = each.moved(-before, 0.0)
    return moved._replace(box=moved.box._replace(x1=moved.box.x1 - over))


def _places(measure: Standing, first: float, line: float) -> Iterator[CountPlace]:
    """The places of a measure: `first` below the top in the first system, a `line` more in each further one."""
    spots = [
        spot
        for n, spot in enumerate(measure.spots)
        if spot.column.symbol.kind != "blank" and not (n and measure.spots[n - 1].column.symbol.tied)
    ]
    ends = [following.left - BEFORE_COUNT - BETWEEN_COUNTS for following in spots[1:]]
    for spot, right in zip(spots, [*ends, measure.right - BETWEEN_COUNTS], strict=True):
        left = measure.left + BETWEEN_COUNTS if measure.planned.empty else spot.left - BEFORE_COUNT
        yield CountPlace(left, right, spot.middle, first + line * spot.system)


def _top(layout: Layout) -> float:
    return max(p.box.y1 for p in layout.placed)


def _bottom(layout: Layout) -> float:
    return -min(p.box.y0 for p in layout.placed)


def _narrowed(layouts: Sequence[Layout]) -> list[Layout]:
    """Fragments with as much line as the widest of them needs."""
    ink = [_ink(layout) for layout in layouts]
    width = max(LEAST_FRAGMENT, *(right - left + 2 * FRAGMENT_ROOM for left, right in ink))
    narrowed = []
    for layout, (left, right) in zip(layouts, ink, strict=True):
        start = (left + right - width) / 2
        parts = tuple(
            p._replace(box=p.box._replace(x0=0.0, x1=width)) if p.role == "staff" else p.moved(-start, 0.0)
            for p in layout.placed
        )
        narrowed.append(replace(layout, width_sp=width, things=parts))
    return narrowed


def _ink(layout: Layout) -> tuple[float, float]:
    boxes = [p.box for p in layout.placed if p.role != "staff"]
    return min(b.x0 for b in boxes), max(b.x1 for b in boxes)


def _vector(layout: Layout, font: MusicFont, above: float, below: float) -> Vector:
    height = above + below
    body = "".join(_drawn(layout, font, above)) if has_outlines(font) else _pixels(layout, font, above)
    size = f"{_n(layout.width_sp)} {_n(height)}"
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}">{body}</svg>'
    return Vector(svg, layout.width_sp, height, above)


def _pixels(layout: Layout, font: MusicFont, above: float) -> str:
    """The layout as a picture of pixels inside the SVG, for a font that has no outlines here."""
    png = b64encode(encoded(picture(layout, font, sp_px=PIXELS_PER_SP))).decode("ascii")
    width, height = (-(-size * PIXELS_PER_SP // 1) / PIXELS_PER_SP for size in (layout.width_sp, layout.height_sp))
    place = f'x="0" y="{_n(above - layout.line_sp)}" width="{_n(width)}" height="{_n(height)}"'
    return f'<image {place} href="data:image/png;base64,{png}"/>'


def _drawn(layout: Layout, font: MusicFont, above: float) -> Iterator[str]:
    for placed in layout.placed:
        x, y = placed.box.x0, above - placed.box.y1
        width, height = placed.box.width, placed.box.height
        if placed.shape == "glyph":
            scale = f"{placed.size * UNITS / UNITS_PER_SP:g}"
            move = f"translate({_n(placed.x_sp)} {_n(above - placed.y_sp)}) scale({scale} -{scale})"
            yield f'<path transform="{move}" d="{outline(font, placed.name)}"/>'
        elif placed.shape == "text":
            yield (
                f'<text x="{_n(placed.x_sp)}" y="{_n(above - placed.y_sp)}" font-family="{TEXT_FAMILY}" '
                f'font-size="{_n(placed.size)}">{escape(placed.name)}</text>'
            )
        elif placed.shape == "bar":
            yield _rectangle(x, y, width, height)
        elif placed.shape == "tie":
            yield _tie(x, y, width, height)
        elif placed.shape == "arrow":
            yield _arrow(x, y, width, height)
        else:
            yield from _dashes(placed, x, y)


def _rectangle(x: float, y: float, width: float, height: float) -> str:
    return f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" height="{_n(height)}"/>'


def _tie(x: float, y: float, width: float, height: float) -> str:
    """A curve that hangs from both upper corners, thick in the middle, as `draw` has it."""
    end, middle = TIE_THICKNESS
    outer, inner = end + (height - end) * 4 / 3, (height - middle) * 4 / 3
    near, far = _n(x + 0.2 * width), _n(x + 0.8 * width)
    left, right = _n(x), _n(x + width)
    return (
        f'<path d="M{left} {_n(y + end)}C{near} {_n(y + outer)} {far} {_n(y + outer)} {right} {_n(y + end)}'
        f'L{right} {_n(y)}C{far} {_n(y + inner)} {near} {_n(y + inner)} {left} {_n(y)}Z"/>'
    )


def _arrow(x: float, y: float, width: float, height: float) -> str:
    middle, neck, shaft = x + width / 2, y + height - ARROW_HEAD, ARROW_SHAFT / 2
    corners = (
        (middle - shaft, y), (middle + shaft, y), (middle + shaft, neck), (x + width, neck), (middle, y + height),
        (x, neck), (middle - shaft, neck),
    )  # fmt: skip
    return f'<polygon points="{" ".join(f"{_n(a)},{_n(b)}" for a, b in corners)}"/>'


def _dashes(placed: Placed, x: float, y: float) -> Iterator[str]:
    """A dashed outline with a dash at each corner."""
    box: Box = placed.box
    for length, flat in ((box.width, True), (box.height, False)):
        count = round((length + DASH_GAP) / (DASH + DASH_GAP))
        step = (length - DASH) / (count - 1)
        for start in (n * step for n in range(count)):
            for near in (0.0, (box.height if flat else box.width) - DASH_WIDTH):
                if flat:
                    yield _rectangle(x + start, y + near, DASH, DASH_WIDTH)
                else:
                    yield _rectangle(x + near, y + start, DASH_WIDTH, DASH)


def _n(size_sp: float) -> str:
    """A length of the SVG, to a hundredth of its units."""
    return f"{round(size_sp * UNITS, 2):g}"
