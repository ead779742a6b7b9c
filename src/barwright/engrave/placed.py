"""A finished layout: everything that is drawn, each with its place in staff spaces."""

from dataclasses import dataclass
from typing import Literal, NamedTuple

from barwright.engrave.smufl import Box

Role = Literal[
    "staff", "barline", "digit", "head", "stem", "flag", "beam", "dot", "rest", "tie", "bracket", "tuplet-number",
    "blank", "mark", "count", "strike", "measure-number",
]  # fmt: skip
PlacedKind = Literal["glyph", "text", "bar", "dashes", "tie", "arrow"]
Owner = tuple[int, int]


class Placed(NamedTuple):
    """One thing drawn: what it is (`role`), how it is drawn (`shape`), and its ink `box` in staff spaces.

    x from the left edge of the canvas, y upwards from the line of the first system. A `bar` fills its box, `dashes` go
    round it, a `tie` hangs in it, an `arrow` in it points down. Glyphs and texts have a `name` (glyph name, or the
    text), an origin and a `size` (of a glyph: 1 for one em to four staff spaces; of a text: the em in staff spaces).
    `owner` is the symbol it belongs to, as (measure, index) from 0.
    """

    role: Role
    shape: PlacedKind
    box: Box
    name: str = ""
    x_sp: float = 0.0
    y_sp: float = 0.0
    size: float = 1.0
    owner: Owner | None = None

    def moved(self, x: float, y: float, *, owner: Owner | None = None) -> "Placed":
        """This thing, moved, perhaps with an owner."""
        box = self.box.moved(x, y)
        return Placed(
            self.role, self.shape, box, self.name, self.x_sp + x, self.y_sp + y, self.size, owner or self.owner
        )


@dataclass(frozen=True, slots=True, eq=False)
class Sign:
    """Things that always stand together, such as head, stem and flag, as they are placed from the sign's own origin.

    Two signs are equal only if they are the same object, so that what is drawn for one can be kept.
    """

    parts: tuple[Placed, ...]


class PlacedSign(NamedTuple):
    """A sign with its origin at this place, and the symbol that it belongs to."""

    sign: Sign
    x: float
    y: float = 0.0
    owner: Owner | None = None

    @property
    def parts(self) -> list[Placed]:
        """Each thing on its own."""
        return [p.moved(self.x, self.y, owner=self.owner) for p in self.sign.parts]

    def moved(self, x: float, y: float) -> "PlacedSign":
        """This sign, moved."""
        return PlacedSign(self.sign, self.x + x, self.y + y, self.owner)


Thing = Placed | PlacedSign


@dataclass(frozen=True, slots=True)
class Layout:
    """A figure ready to draw: canvas size and the distance from its top to the (first) line, in staff spaces."""

    width_sp: float
    height_sp: float
    line_sp: float
    things: tuple[Thing, ...]

    @property
    def placed(self) -> tuple[Placed, ...]:
        """Everything drawn, signs taken apart."""
        return tuple(p for thing in self.things for p in (thing.parts if isinstance(thing, PlacedSign) else (thing,)))
