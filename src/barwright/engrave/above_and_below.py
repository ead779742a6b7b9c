"""What stands above and below the symbols: triplets, ties, the mark."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import zip_longest

from barwright.engrave.placed import Placed
from barwright.engrave.places import SymbolSpot
from barwright.engrave.smufl import Box, MusicFont
from barwright.engrave.symbols import STEM_TOP, glyph
from barwright.rhythm.measure import Symbols, triplet_groups

# Bravura's engravingDefaults (SMuFL 1.4), in staff spaces.
BRACKET_WIDTH = 0.16

# Above: the triplet's number stands on its beam, or in the gap of its bracket; a mark above all of it (our own choice).
NUMBER_FOOT = STEM_TOP + 0.45
NUMBER_HEIGHT = 1.35  # a taller 3 is made smaller
NUMBER_TOP = NUMBER_FOOT + NUMBER_HEIGHT
BRACKET_HOOK = 0.6
NUMBER_GAP = 0.4
ARROW = Box(-0.6, 0.0, 0.6, 2.0)
ARROW_GAP = 0.45

# Below: a tie hangs from below the heads, opposite the stems, from one head's middle to the next one's.
TIE_TOP = -0.7
TIE_INSET = 0.15
TIE_DEPTH = (0.55, 0.9)  # of a short and of a long tie
OPEN_TIE = 1.5  # reach of a tie that comes from or goes to another system, or to nothing


def triplets(symbols: Symbols, spots: Sequence[SymbolSpot], font: MusicFont) -> Iterator[Placed]:
    """Number, and bracket unless one beam joins the group, of every triplet of a measure."""
    for members in triplet_groups(symbols):
        group = [spots[n] for n in members]
        size = min(1.0, NUMBER_HEIGHT / font.box("tuplet3").height)
        three = font.box("tuplet3").scaled(size)
        beamed = len(group) > 1 and all(s.column.beamed for s in group)
        left, right = (group[0].stem, group[-1].stem) if beamed else (group[0].left, group[-1].right)
        x = (left + right - three.width) / 2 - three.x0
        yield glyph("tuplet-number", "tuplet3", x=x, y=NUMBER_FOOT - three.y0, font=font, size=size)
        if not beamed:
            yield from _bracket(left, right, height=three.height, gap=three.width / 2 + NUMBER_GAP)


def _bracket(left: float, right: float, *, height: float, gap: float) -> Iterator[Placed]:
    y, middle = NUMBER_FOOT + height / 2, (left + right) / 2
    top = y + BRACKET_WIDTH
    for x0, x1, hook in ((left, middle - gap, left), (middle + gap, right, right - BRACKET_WIDTH)):
        if x1 > x0:
            yield Placed("bracket", "bar", Box(x0, y, x1, top))
            yield Placed("bracket", "bar", Box(hook, top - BRACKET_HOOK, hook + BRACKET_WIDTH, top))


def ties(spots: Sequence[SymbolSpot], *, ends: Mapping[int, float]) -> Iterator[tuple[int, Placed]]:
    """Ties between all symbols of a figure, each with its system; `ends` holds the right end of each system's line.

    A tie to a blank ends before it; one to another system is drawn in two halves.
    """
    for spot, following in zip_longest(spots, spots[1:]):
        if not spot.column.symbol.tied:
            continue
        x0 = spot.middle + TIE_INSET
        if following is None or following.column.symbol.silent:
            yield spot.system, _tie(spot, x0, min(ends[spot.system], x0 + OPEN_TIE))
        elif following.system != spot.system:
            yield spot.system, _tie(spot, x0, ends[spot.system])
            x1 = following.middle - TIE_INSET
            yield following.system, _tie(spot, x1 - OPEN_TIE, x1)
        elif following.column.symbol.kind == "blank":
            yield spot.system, _tie(spot, x0, following.left - TIE_INSET)
        else:
            yield spot.system, _tie(spot, x0, following.middle - TIE_INSET)


def _tie(spot: SymbolSpot, x0: float, x1: float) -> Placed:
    """A tie from x0 to x1 below the heads; a longer one hangs a little deeper."""
    shallow, deep = TIE_DEPTH
    depth = min(deep, shallow + max(0.0, x1 - x0 - 2.0) * 0.08)
    return Placed("tie", "tie", Box(x0, TIE_TOP - depth, x1, TIE_TOP), owner=spot.owner)


def arrow(spot: SymbolSpot, *, above: float) -> Placed:
    """The mark: an arrow that points down at a symbol, close above it, or above the triplet's number at `above`."""
    y = max(spot.column.ink.top, above) + ARROW_GAP
    return Placed("mark", "arrow", ARROW.moved(spot.middle, y), owner=spot.owner)
