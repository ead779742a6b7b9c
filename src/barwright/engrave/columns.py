"""The symbols of a figure before they have a place, and the width each of them gets."""

from collections.abc import Iterator, Sequence
from functools import cache
from typing import NamedTuple

from barwright.engrave.figure_texts import count_extent
from barwright.engrave.look import Look, MeasureLook
from barwright.engrave.smufl import MusicFont
from barwright.engrave.spacing import (
    FLAG_GAP_SP,
    INK_GAP_SP,
    LABEL_GAP_SP,
    REST_GAP_SP,
    Need,
    widths,
)
from barwright.engrave.symbols import BLANK_BOX, Ink, ink
from barwright.rhythm.measure import Symbol

EMPTY_MEASURE = 7.0  # least width of a measure that holds the full-measure rest alone
BLANK_SPACE = BLANK_BOX.x1 + 1.6  # a blank and the room after it, whatever is missing

OVER_BARLINE = 0.8  # how far beyond a barline the next count may be thought to begin


class SymbolColumn(NamedTuple):
    """One symbol: its ink, whether it hangs on a beam, and its width before anything widens it, in staff spaces.

    Its count, if it has one, and how far that reaches from the left edge.
    """

    symbol: Symbol
    ink: Ink
    beamed: bool
    least_sp: float
    label: str = ""
    label_left: float = 0.0
    label_right: float = 0.0


class Planned(NamedTuple):
    """One measure as it is seen, its columns, and each column's width in staff spaces."""

    look: MeasureLook
    columns: tuple[SymbolColumn, ...]
    widths: tuple[float, ...]

    @property
    def empty(self) -> bool:
        """Whether it holds the full-measure rest alone, which stands in the middle."""
        return len(self.columns) == 1 and self.columns[0].symbol.kind == "measure-rest"


def planned(seen: Look, font: MusicFont) -> tuple[Planned, ...]:
    """Every measure of a figure with the widths that its symbols get, equal ones for equal lengths.

    Raises FontError for a missing glyph.
    """
    measures = [_columns(each, font) for each in seen.measures]
    table = widths(need for _, needs in measures for need in needs)
    return tuple(
        Planned(each, columns, tuple([table[c.ink.ideal] if c.ink.ideal else c.least_sp for c in columns]))
        for each, (columns, _) in zip(seen.measures, measures, strict=True)
    )


def _columns(seen: MeasureLook, font: MusicFont) -> tuple[tuple[SymbolColumn, ...], tuple[Need, ...]]:
    """The columns of a measure, and what they need."""
    beamed = {n for bar in seen.bars if not bar.level for n in range(bar.first, bar.last + 1)}
    columns = [_bare(symbol, index in beamed, font) for index, symbol in enumerate(seen.symbols)]
    if seen.labels:
        columns = [_labelled(column, label, font) for column, label in zip(columns, seen.labels, strict=True)]
    return tuple(columns), tuple(_needs(columns))


@cache
def _bare(symbol: Symbol, beamed: bool, font: MusicFont) -> SymbolColumn:
    """A column without a count."""
    drawn = ink(symbol, font, flagged=not beamed)
    return SymbolColumn(symbol, drawn, beamed, _least(symbol, drawn, 0.0))


def _labelled(column: SymbolColumn, label: str, font: MusicFont) -> SymbolColumn:
    if not label:
        return column
    symbol, drawn = column.symbol, column.ink
    left, right = count_extent(label, font.text, whole=symbol.kind == "measure-rest")
    left, right = drawn.middle - left, drawn.middle + right
    return SymbolColumn(symbol, drawn, column.beamed, _least(symbol, drawn, right - left), label, left, right)


def _least(symbol: Symbol, drawn: Ink, label_width: float) -> float:
    if drawn.ideal:
        return drawn.ideal
    return BLANK_SPACE if symbol.kind == "blank" else max(EMPTY_MEASURE, label_width + LABEL_GAP_SP)


def _needs(columns: Sequence[SymbolColumn]) -> Iterator[Need]:
    """What ink and counts need: each count ends before the next one, the last one near the barline."""
    room, after = 0.0, OVER_BARLINE  # from the next column to the next count, and that count's left edge
    following: SymbolColumn | None = None
    for column in reversed(columns):
        ideal = column.ink.ideal
        if ideal:
            yield ideal, _ink_need(column, following)
            if column.label:
                yield ideal, column.label_right + LABEL_GAP_SP - room - after
        room += column.least_sp
        following = column
        if column.label:
            room, after = 0.0, column.label_left


def _ink_need(column: SymbolColumn, following: SymbolColumn | None) -> float:
    """The width that leaves a symbol's ink and what stands behind it (None: the barline) as far apart as they should.

    Whatever a blank stands for, it is no rest here and has no count.
    """
    gap = FLAG_GAP_SP if column.ink.flagged else INK_GAP_SP
    if following is None:
        return column.ink.right + INK_GAP_SP
    if "rest" in (column.symbol.kind, following.symbol.kind):
        gap = REST_GAP_SP
    return column.ink.right + gap - following.ink.left
