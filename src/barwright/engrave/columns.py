"""The symbols of a figure before they have a place, and the width each of them gets."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from barwright.engrave.beams import Group, groups
from barwright.engrave.smufl import MusicFont
from barwright.engrave.spacing import INK_GAP_SP, LABEL_GAP_SP, Need, widths
from barwright.engrave.symbols import BLANK_BOX, Ink, ink
from barwright.engrave.texts import count_extent, labelled
from barwright.errors import RhythmError
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.measure import Event, events, total

EMPTY_MEASURE = 7.0  # least width of a measure that holds the full-measure rest alone
BLANK_SPACE = BLANK_BOX.x1 + 1.6  # a blank and the room after it, whatever is missing

OVER_BARLINE = 0.8  # how far beyond a barline the next count may be thought to begin


@dataclass(frozen=True, slots=True)
class Column:
    """One symbol: its ink, whether it hangs on a beam, its count, and how far that reaches from the left edge."""

    event: Event
    ink: Ink
    beamed: bool
    label: str = ""
    label_left: float = 0.0
    label_right: float = 0.0

    @property
    def least_sp(self) -> float:
        """Width before anything widens it."""
        if self.ink.ideal:
            return self.ink.ideal
        if self.event.symbol.kind == "blank":
            return BLANK_SPACE
        return max(EMPTY_MEASURE, self.label_right - self.label_left + LABEL_GAP_SP)


@dataclass(frozen=True, slots=True)
class Planned:
    """One measure's columns, the indices that share beams, and each column's width in staff spaces."""

    columns: tuple[Column, ...]
    groups: tuple[Group, ...]
    widths: tuple[float, ...]

    @property
    def empty(self) -> bool:
        """Whether it holds the full-measure rest alone, which stands in the middle."""
        return len(self.columns) == 1 and self.columns[0].event.symbol.kind == "measure-rest"


def planned(figure: Figure, font: MusicFont, conventions: Conventions) -> tuple[Planned, ...]:
    """Every measure of a figure with the widths that its symbols get, equal ones for equal lengths.

    Raises FontError for a missing glyph and RhythmError for counts that do not fit the symbols.
    """
    if figure.counts and len(figure.counts) != len(figure.excerpt.measures):
        rows, there = len(figure.counts), len(figure.excerpt.measures)
        raise RhythmError(f"a figure of {there} measures has counts for {rows}: give a row for each measure")
    beams = [_groups(figure, n, conventions) for n in range(len(figure.excerpt.measures))]
    measures = [_columns(figure, n, beams[n], font=font) for n in range(len(beams))]
    table = widths(need for columns in measures for need in _needs(columns))
    return tuple(
        Planned(columns, groups, tuple(table[c.ink.ideal] if c.ink.ideal else c.least_sp for c in columns))
        for columns, groups in zip(measures, beams, strict=True)
    )


def _start(figure: Figure, number: int) -> Fraction:
    return figure.start if figure.frame == "fragment" else figure.excerpt.start_of(number)


def _groups(figure: Figure, number: int, conventions: Conventions) -> tuple[Group, ...]:
    excerpt = figure.excerpt
    symbols, end = excerpt.measures[number], excerpt.meter.capacity
    if excerpt.pickup and number == len(excerpt.measures) - 1:  # the last measure may be shortened by the pickup
        short = end - total(excerpt.measures[0], excerpt.meter)
        end = short if total(symbols, excerpt.meter) < short else end
    return groups(symbols, excerpt.meter, conventions, start=_start(figure, number), end=end)


def _columns(figure: Figure, number: int, beams: tuple[Group, ...], *, font: MusicFont) -> tuple[Column, ...]:
    symbols = figure.excerpt.measures[number]
    beamed = {n for group in beams for n in group}
    labels = labelled(symbols, figure.counts[number], measure=number) if figure.counts else [""] * len(symbols)
    found = []
    for event in events(symbols, figure.excerpt.meter, start=_start(figure, number), measure=number):
        drawn = ink(event.symbol, font, flagged=event.index not in beamed)
        label = labels[event.index]
        if not label:
            found.append(Column(event, drawn, event.index in beamed))
            continue
        whole = event.symbol.kind == "measure-rest"
        left, right = count_extent(label, font.text, whole=whole)
        found.append(Column(event, drawn, event.index in beamed, label, drawn.middle - left, drawn.middle + right))
    return tuple(found)


def _needs(columns: Sequence[Column]) -> Iterator[Need]:
    """What ink and counts need: each count ends before the next one, the last one near the barline."""
    room, after = 0.0, OVER_BARLINE  # from the next column to the next count, and that count's left edge
    for column in reversed(columns):
        ideal = column.ink.ideal
        if ideal:
            yield ideal, column.ink.right + INK_GAP_SP
            if column.label:
                yield ideal, column.label_right + LABEL_GAP_SP - room - after
        room += column.least_sp
        if column.label:
            room, after = 0.0, column.label_left
