"""Drawings as the printed page gets them: finished SVG, sizes in staff spaces, and where counts are written."""

from collections.abc import Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class CountLine:
    """The line that one count is written on: its ends, the middle of its note or rest, and how far it lies below the
    top of the drawing; in staff spaces."""

    left_sp: float
    right_sp: float
    middle_sp: float
    y_sp: float


@dataclass(frozen=True, slots=True)
class Drawing:
    """A figure as SVG, with its size and the distance from its top to its line in staff spaces."""

    svg: str = field(repr=False)
    width_sp: float
    height_sp: float
    line_sp: float
    lines: tuple[CountLine, ...] = ()


@dataclass(frozen=True, slots=True)
class ItemDrawings:
    """The drawings of one item: its figure, and a drawing for each of its choices (none: they are text)."""

    figure: Drawing | None
    choices: Sequence[Drawing] = ()
