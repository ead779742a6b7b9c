"""What the tables of the file of changes hold, checked at the door."""

from typing import Annotated, Any

from pydantic import Field

from barwright.bank.model import Ident, Kebab, Named, Short, Way
from barwright.bank.text_patterns import MOST_CHOICES, MOST_MISREADINGS
from barwright.blueprint.blueprint import Door
from barwright.blueprint.names import MOST_LETTERS
from barwright.items.item import AnswerKind

FIRST_RETAKE, MOST_RETAKES = 0, 10**18
MOST_PLACES = 8_000  # as many questions as a blueprint can ask for
MOST_TABLES = 2_000
MOST_CONVENTIONS = 60

Section = Annotated[str, Field(max_length=MOST_LETTERS)]
Rhythm = Annotated[str, Field(max_length=600)]
Retake = Annotated[int, Field(ge=FIRST_RETAKE, le=MOST_RETAKES)]
Number = Annotated[int, Field(ge=1, le=MOST_PLACES)]


class OfForm(Door):
    """A form: `section`, and `retake` unless it is the quiz itself."""

    section: Section
    retake: Retake = 0


class OfPlace(OfForm):
    """A question of a form, by the number that `make` gave it."""

    place: Number


class Kept(OfPlace):
    """`[[keep]]`: this question stands there whatever the seed, with `draw` in this variant; its content."""

    variant: Annotated[int, Field(ge=1, le=10)] = 1
    item: Ident
    ask: Kebab
    excerpt: Rhythm
    target: Short = ""
    conventions: Annotated[dict[str, Named | bool], Field(max_length=MOST_CONVENTIONS, default_factory=dict)]
    choices: Annotated[
        list[tuple[AnswerKind, Named, Annotated[list[Way], Field(max_length=MOST_MISREADINGS)]]],
        Field(min_length=1, max_length=MOST_CHOICES),
    ]

    @property
    def content(self) -> dict[str, Any]:
        """The content of the question, as `item_content` gives it."""
        names = ("ask", "target", "excerpt", "conventions", "choices")
        return {name: value for name, value in self.model_dump().items() if name in names}


class Exchange(Kept):
    """`[[exchange]]`: this question stands where `make` put the one with the id `made`."""

    made: Ident


class Points(OfPlace):
    """`[[points]]`: what the question there is worth."""

    points: Annotated[int, Field(ge=1, le=100)]


class OrderTable(OfForm):
    """`[[order]]`: the places of all questions in the order in which they are to stand."""

    places: Annotated[list[Number], Field(min_length=1, max_length=MOST_PLACES)]


class Wording(Door):
    """`[[wording]]`: a teacher's own words for a question, wherever it stands."""

    item: Ident
    stem: str = ""
    hint: str = ""
    hints: Annotated[dict[str, str], Field(max_length=40, default_factory=dict)]


class Never(Door):
    """`[[never]]`: a question that is not asked; `item` is the one that was refused."""

    item: Ident
    ask: Kebab
    excerpt: Rhythm
    target: Short = ""


class File(Door):
    """The whole file."""

    exchange: Annotated[list[Exchange], Field(max_length=MOST_TABLES, default_factory=list)]
    keep: Annotated[list[Kept], Field(max_length=MOST_TABLES, default_factory=list)]
    points: Annotated[list[Points], Field(max_length=MOST_TABLES, default_factory=list)]
    order: Annotated[list[OrderTable], Field(max_length=MOST_TABLES, default_factory=list)]
    wording: Annotated[list[Wording], Field(max_length=MOST_TABLES, default_factory=list)]
    never: Annotated[list[Never], Field(max_length=MOST_TABLES, default_factory=list)]


TABLES: dict[str, type[Door]] = {
    "exchange": Exchange,
    "keep": Kept,
    "points": Points,
    "order": OrderTable,
    "wording": Wording,
    "never": Never,
}
