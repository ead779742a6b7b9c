"""The part of a laid-out figure on one side of its blank.

The cut runs along the edge of the blank, so that symbols stand as far from it as in the whole figure, and the line goes
on to the edge of the picture: whatever is put between the two parts, they read as one measure.

The layout of a figure: every line, glyph and text with its place, in staff spaces; pure.

One-line rhythm staff, stems up, glyphs and thicknesses by SMuFL, places after E. Gould 2011, T. Ross 1970 and
G. Read 1979. Neither the canvas nor the spacing depends on what a blank stands for: the height follows from what kind
of things the figure shows, and short fragments share one width."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from barwright.engrave.above_and_below import (
    NUMBER_TOP,
    arrow,
    ties,
    triplets,
)
from barwright.engrave.beams import beam
from barwright.engrave.columns import planned
from barwright.engrave.figure_texts import count, measure_number
from barwright.engrave.look import Look, look
from barwright.engrave.placed import (
    Layout,
    Placed,
    PlacedSign,
    Thing,
)
from barwright.engrave.places import (
    MARGIN,
    SIGNATURE_LEAD,
    SYSTEM_WIDTH,
    Standing,
    SymbolSpot,
    fragment_width,
    ink_extent,
    standing,
)
from barwright.engrave.smufl import Box, MusicFont
from barwright.engrave.symbols import signature
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure

PAST_EDGE = 0.1  # the line goes on so far past the edge: a picture's width is rounded up to pixels


def beside(laid_out: Layout, spots: Sequence[SymbolSpot], *, after: bool) -> Layout:
    """What stands before the blank, from the left edge to it, or after it, to the right edge."""
    blank = next(spot for spot in spots if spot.column.symbol.kind == "blank")
    if not after:
        return replace(laid_out, width_sp=blank.left, things=_kept(laid_out, 0.0, blank.left))
    kept = _kept(laid_out, blank.right, laid_out.width_sp)
    placed = tuple(each.moved(-blank.right, 0.0) for each in kept)
    return replace(laid_out, width_sp=laid_out.width_sp - blank.right, things=placed)


def _kept(laid_out: Layout, left: float, right: float) -> tuple[Placed, ...]:
    """All that stands between two edges in staff spaces; the line goes on to the last pixel."""
    kept = []
    for each in laid_out.placed:
        box = each.box
        if each.role == "staff":
            cut = Box(max(box.x0, left), box.y0, min(box.x1, right + PAST_EDGE), box.y1)
            kept.append(each._replace(box=cut))
        elif left <= (box.x0 + box.x1) / 2 <= right and each.role != "blank":
            kept.append(each)
    return tuple(kept)


# Bravura's engravingDefaults (SMuFL 1.4), in staff spaces.
STAFF_LINE = 0.13
THIN_BARLINE = 0.16
THICK_BARLINE = 0.5
BARLINE_GAP = 0.4

# Choices of our own, in staff spaces.
BARLINE_REACH = 2.0  # above and below the line (common practice)
ROOM_ABOVE = 5.75
ROOM_BELOW = 2.55
ROOM_FOR_MARK = 2.3
ROOM_FOR_COUNTS = 2.3


def layout(figure: Figure, font: MusicFont, conventions: Conventions) -> Layout:
    """Every thing that a figure shows, placed; the same for the same figure, font and conventions.

    Raises FontError if the font lacks a glyph, and RhythmError if the counts do not fit the symbols.
    """
    return laid_out(look(figure, conventions), font)


def laid_out(seen: Look, font: MusicFont, *, widest: float = SYSTEM_WIDTH) -> Layout:
    """Every thing of a figure that looks so, placed, in systems of this width at most (in staff spaces).

    FontError if the font lacks a glyph.
    """
    measures = standing(seen, planned(seen, font), font=font, widest=widest)
    above = ROOM_ABOVE + ROOM_FOR_MARK * (seen.mark is not None)
    height = above + ROOM_BELOW + ROOM_FOR_COUNTS * any(measure.labels for measure in seen.measures)
    ends = _ends(seen, measures)
    lines = list(_lines(seen, measures, ends))
    things: list[tuple[int, Thing]] = [(0, p) for p in _signature(seen, font)]
    things += lines
    for measure in measures:
        things += [(measure.system, p) for p in _music(seen, measure, font)]
    spots = [spot for measure in measures for spot in measure.spots]
    things += ties(spots, ends=ends)
    placed = tuple([p.moved(0.0, -system * height) if system else p for system, p in things])
    width = max([line.box.x1 for _, line in lines]) + MARGIN
    whole = Layout(width, height * (1 + measures[-1].system), above, placed)
    return beside(whole, spots, after=seen.frame == "after") if seen.frame in ("before", "after") else whole


def _signature(seen: Look, font: MusicFont) -> Iterator[PlacedSign]:
    if seen.signature:
        yield PlacedSign(signature(seen.signature, font)[0], MARGIN + SIGNATURE_LEAD)


def _ends(seen: Look, measures: Sequence[Standing]) -> dict[int, float]:
    """Right end of the line of each system."""
    if seen.frame == "fragment":
        return {0: fragment_width(ink_extent([m.planned for m in measures])) - MARGIN}
    ends = {m.system: m.right + THIN_BARLINE for m in measures}
    if seen.final:
        ends[measures[-1].system] += BARLINE_GAP + THICK_BARLINE
    return ends


def _lines(seen: Look, measures: Sequence[Standing], ends: Mapping[int, float]) -> Iterator[tuple[int, Placed]]:
    """Staff lines, and barlines unless it is a fragment; with the number of their system."""
    for system, right in ends.items():
        yield system, Placed("staff", "bar", Box(MARGIN, -STAFF_LINE / 2, right, STAFF_LINE / 2))
    if seen.frame == "fragment":
        return
    for measure in measures:
        yield measure.system, _barline(measure.right, THIN_BARLINE)
    if seen.final:
        yield measures[-1].system, _barline(measures[-1].right + THIN_BARLINE + BARLINE_GAP, THICK_BARLINE)


def _barline(x: float, width: float) -> Placed:
    return Placed("barline", "bar", Box(x, -BARLINE_REACH, x + width, BARLINE_REACH))


def _music(seen: Look, measure: Standing, font: MusicFont) -> Iterator[Thing]:
    """The symbols of one measure and all that belongs to them, ties apart."""
    spots = measure.spots
    for spot in spots:
        column, left, owner = spot.column, spot.left, spot.owner
        yield PlacedSign(column.ink.sign, left, 0.0, owner)
        if column.label:
            yield from count(column.label, left + column.label_left, face=font.text, owner=owner)
        if owner == seen.mark:
            value = column.symbol.value
            yield arrow(spot, above=NUMBER_TOP if value is not None and value.triplet else 0.0)
    shown = measure.planned.look
    if shown.bars:
        stems = [spot.stem for spot in spots]
        yield from [beam(bar, stems) for bar in shown.bars]
    yield from triplets(shown.symbols, spots, font)
    number = spots[0].owner[0] + (seen.number or 0)
    if seen.number is not None and number:
        yield measure_number(number, measure.left if spots[0].owner[0] else MARGIN, face=font.text)
