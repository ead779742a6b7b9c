"""The part of a laid-out figure on one side of its blank.

The cut runs along the edge of the blank, so that symbols stand as far from it as in the whole figure, and the line goes
on to the edge of the picture: whatever is put between the two parts, they read as one measure.
"""

from collections.abc import Sequence
from dataclasses import replace

from barwright.engrave.placed import Layout, Placed
from barwright.engrave.places import Spot
from barwright.engrave.smufl import Box

PAST_EDGE = 0.1  # the line goes on so far past the edge: a picture's width is rounded up to pixels


def beside(laid_out: Layout, spots: Sequence[Spot], *, after: bool) -> Layout:
    """What stands before the blank, from the left edge to it, or after it, to the right edge."""
    blank = next(spot for spot in spots if spot.column.symbol.kind == "blank")
    if not after:
        return replace(laid_out, width_sp=blank.left, things=_kept(laid_out, 0.0, blank.left))
    kept = _kept(laid_out, blank.right, laid_out.width_sp)
    placed = tuple(each.moved(-blank.right, 0.0) for each in kept)
    return replace(laid_out, width_sp=laid_out.width_sp - blank.right, things=placed)


def _kept(laid_out: Layout, left: float, right: float) -> tuple[Placed, ...]:
    """All that stands between two edges in staff spaces; the line goes on to the last pixel."""
    found = []
    for each in laid_out.placed:
        box = each.box
        if each.role == "staff":
            cut = Box(max(box.x0, left), box.y0, min(box.x1, right + PAST_EDGE), box.y1)
            found.append(each._replace(box=cut))
        elif left <= (box.x0 + box.x1) / 2 <= right and each.role != "blank":
            found.append(each)
    return tuple(found)
