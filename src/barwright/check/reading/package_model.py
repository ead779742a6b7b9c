"""What a package says, whatever standard it is written in: one frozen model, so that two packages can be compared.

Identifiers of responses and of feedback differ between standards and are not part of it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple

PackageShape = Literal["quiz", "bank", "item"]
# How a student answers, in Barwright's words; from `match` on they are told apart only to say what importers do.
#   choice   one of several choices           keys: the right choice
#   several  any number of them               keys: all that belong to the right answer
#   entry    a short typed text               keys: every spelling that scores in full
#   essay    a text that a person scores      keys: none
#   inline   a drop-down in a line of text    keys: the right choice, then others that score in full as well
#   gaps     choices put into slots           keys: "choice slot" for each slot, then others that do as well there
#   order    choices put in order             keys: the choices in the right order
Kind = Literal["choice", "several", "entry", "essay", "inline", "gaps", "order", "match", "hotspot", "slider", "other"]


class CannotCarryOut(Exception):
    """Processing that holds what is not carried out here; its text names it."""


@dataclass(frozen=True, slots=True)
class ReadPicture:
    """A picture in a text: path from the top of the package, alternative text (None: not given), hash of its bytes.

    `digest` is the SHA-256 in hex, empty if the package does not hold the file. `link` is the link as written.
    """

    path: str
    alt: str | None
    digest: str
    link: str = ""
    sized: bool = True


@dataclass(frozen=True, slots=True)
class Shown:
    """Texts as a student sees them: one string a paragraph, blanks made single; and the pictures among them."""

    paragraphs: tuple[str, ...] = ()
    pictures: tuple[ReadPicture, ...] = ()

    @property
    def text(self) -> str:
        """The paragraphs in one line."""
        return " ".join(self.paragraphs)


@dataclass(frozen=True, slots=True)
class ReadChoice:
    """One choice: identifier and what is shown; `fixed` if shuffling leaves it in its place."""

    ident: str
    shown: Shown
    fixed: bool = False


@dataclass(frozen=True, slots=True)
class ReadResponse:
    """One place to answer in an item; what `keys` holds depends on `kind` (table above)."""

    ident: str
    kind: Kind
    choices: tuple[ReadChoice, ...]
    keys: tuple[str, ...]
    slots: tuple[str, ...] = ()
    shuffled: bool = False


Given = tuple[tuple[str, ...], ...]  # one answer: for each response what was picked or typed, () for nothing


class Answered(NamedTuple):
    """What the item makes of one answer, by carrying out its response processing."""

    given: Given
    score: Fraction
    feedback: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadItem:
    """One item. `full` is the score of a right answer as declared, None if it is not; `points` what it counts for.

    `answers` holds every answer that was tried. It is empty, and `untried` says why, if the processing holds what is
    not carried out here, or too much of it. `file` and `line` (from 1) are where the item stands.
    """

    ident: str
    title: str
    file: str
    line: int
    stem: Shown
    responses: tuple[ReadResponse, ...]
    answers: tuple[Answered, ...]
    full: Fraction | None
    points: Fraction | None
    untried: str = ""

    @property
    def best(self) -> Fraction:
        """The score of a right answer: as declared, else the highest that was reached."""
        return self.full if self.full is not None else max((a.score for a in self.answers), default=Fraction(0))

    @property
    def scored(self) -> Mapping[Given, Answered]:
        """The answers that were tried, by what was given."""
        return {a.given: a for a in self.answers}

    @property
    def pictures(self) -> tuple[ReadPicture, ...]:
        """All pictures of stem and choices."""
        return (*self.stem.pictures, *(p for r in self.responses for c in r.choices for p in c.shown.pictures))


@dataclass(frozen=True, slots=True)
class ReadPool:
    """Items of which each student gets `draws`, by identifier."""

    ident: str
    draws: int
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadPackage:
    """A whole package; items in the order of the test, or of the manifest where there is no test."""

    standard: str
    title: str
    shape: PackageShape
    items: tuple[ReadItem, ...]
    pools: tuple[ReadPool, ...] = ()
