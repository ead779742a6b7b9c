"""A finished layout: everything that is drawn, each with its place in staff spaces."""

from dataclasses import dataclass
from typing import Literal

from barwright.engrave.smufl import Box

Role = Literal[
    "staff", "barline", "digit", "head", "stem", "flag", "beam", "dot", "rest", "tie", "bracket", "tuplet-number",
    "blank", "mark", "count", "strike", "measure-number",
]  # fmt: skip
Shape = Literal["glyph", "text", "bar", "dashes", "tie", "arrow"]
Owner = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Placed:
    """One thing drawn: what it is (`role`), how it is drawn (`shape`), and its ink `box` in staff spaces.

    x from the left edge of the canvas, y upwards from the line of the first system. A `bar` fills its box, `dashes` go
    round it, a `tie` hangs in it, an `arrow` in it points down. Glyphs and texts have a `name` (glyph name, or the
    text), an origin and a `size` (of a glyph: 1 for one em to four staff spaces; of a text: the em in staff spaces).
    `owner` is the symbol it belongs to, as (measure, index) from 0.
    """

    role: Role
    shape: Shape
    box: Box
    name: str = ""
    x_sp: float = 0.0
    y_sp: float = 0.0
    size: float = 1.0
    owner: Owner | None = None

    def moved(self, x: float, y: float, *, owner: Owner | None = None) -> "Placed":
        """The same thing elsewhere, perhaps with an owner."""
        box = self.box.moved(x, y)
        return Placed(
            self.role, self.shape, box, self.name, self.x_sp + x, self.y_sp + y, self.size, owner or self.owner
        )


@dataclass(frozen=True, slots=True)
class Layout:
    """A figure ready to draw: canvas size and the distance from its top to the (first) line, in staff spaces."""

    width_sp: float
    height_sp: float
    line_sp: float
    placed: tuple[Placed, ...]
