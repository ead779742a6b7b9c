"""The changes to single questions of a quiz, as data; `reading` and `writing` know the file, `applying` acts."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from barwright.items.item import Item
from barwright.items.own_words import OwnWords

Whose = tuple[str, int]
"""A form of the quiz: its section, and which retake it is (0: the quiz itself)."""
Place = tuple[str, int, int]
"""A question of a form by the number that `make` gave it."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One item of a form: its section and retake, the number that `make` gave it, and which variant of it, from 1."""

    section: str
    retake: int
    place: int
    variant: int = 1

    @property
    def whose(self) -> Whose:
        """The form it is in."""
        return self.section, self.retake


@dataclass(frozen=True, slots=True)
class Put:
    """An item that is to stand in a spot; `line` is where the file says so.

    `made`: the id of the item in whose place it stands, wherever that is in the form; empty for a kept one, which
    stands in its spot whatever `make` puts there.
    """

    spot: Spot
    item: Item
    made: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class Changes:
    """All changes of a file, which is called `name`.

    `exchanges`: in the order in which they were made; of those with one spot and one `made` the last stands. `never`:
    the names of questions (see `question_name`) that are not asked, `refused` their ids. `lines`: where own words of
    an item stand.
    """

    name: str = ""
    exchanges: tuple[Put, ...] = ()
    keeps: Mapping[Spot, Put] = field(default_factory=dict)
    points: Mapping[Place, int] = field(default_factory=dict)
    orders: Mapping[Whose, tuple[int, ...]] = field(default_factory=dict)
    words: Mapping[str, OwnWords] = field(default_factory=dict)
    never: frozenset[str] = frozenset()
    refused: tuple[str, ...] = ()
    lines: Mapping[str, int] = field(default_factory=dict)

    def exchanged(self, whose: Whose, made: str) -> tuple[Put, ...]:
        """What was put in the place of an item of a form, one after another."""
        return tuple(put for put in self.exchanges if put.spot.whose == whose and put.made == made)


NOTHING = Changes()
