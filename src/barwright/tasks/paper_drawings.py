"""Drawings of forms for print: every figure of every item, cut for its place on the page."""

from dataclasses import dataclass

from barwright.engrave.places import SYSTEM_WIDTH
from barwright.engrave.smufl import MusicFont
from barwright.engrave.vectors import Vector, barlines_left_out, heavy, vectors, with_places
from barwright.paper.drawing import CountLine, Drawing, ItemDrawings
from barwright.paper.forms import answering
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.wording.worded import WordedForm, WordedItem


@dataclass(frozen=True, slots=True)
class DrawnAs:
    """How figures are drawn: the width of a line in staff spaces at most, and whether strokes are thicker."""

    widest: float = SYSTEM_WIDTH
    heavy: bool = False


USUALLY = DrawnAs()


def form_drawings(
    form: WordedForm, font: MusicFont, conventions: Conventions, drawn_as: DrawnAs = USUALLY
) -> dict[str, ItemDrawings]:
    """The drawings of each item, by its ident; FontError if the font lacks a glyph."""
    return {item.ident: _item_drawings(item, font, conventions, drawn_as) for item in form.items}


def counted_drawing(figure: Figure, font: MusicFont, conventions: Conventions) -> Drawing:
    """The figure with a line under each sound and rest."""
    return _drawing(with_places(figure, font, conventions))


def plain_drawing(figure: Figure, font: MusicFont, conventions: Conventions) -> Drawing:
    """The figure alone."""
    return _drawing(vectors([figure], font, conventions)[0])


def unparted_drawing(figure: Figure, font: MusicFont, conventions: Conventions) -> Drawing:
    """The figure without the barlines between its measures."""
    return _drawing(barlines_left_out(figure, font, conventions))


def _item_drawings(item: WordedItem, font: MusicFont, conventions: Conventions, drawn_as: DrawnAs) -> ItemDrawings:
    def drawn(vector: Vector) -> Drawing:
        return _drawing(heavy(vector) if drawn_as.heavy else vector)

    figure = None
    if item.figure is not None and answering(item) == "counts":
        figure = drawn(with_places(item.figure.figure, font, conventions, widest=drawn_as.widest))
    elif item.figure is not None:
        figure = drawn(vectors([item.figure.figure], font, conventions, widest=drawn_as.widest)[0])
    figures = [choice.figure.figure for choice in item.choices if choice.figure is not None]
    choices = tuple(map(drawn, vectors(figures, font, conventions, widest=drawn_as.widest))) if figures else ()
    return ItemDrawings(figure, choices)


def _drawing(vector: Vector) -> Drawing:
    lines = tuple(CountLine(p.left_sp, p.right_sp, p.middle_sp, p.y_sp) for p in vector.places)
    return Drawing(vector.svg, vector.width_sp, vector.height_sp, vector.line_sp, lines)
