"""What goes in and out of the reading of answers: the quiz as it was given, what was answered, what that shows.

Plain frozen values. Files of results are read elsewhere; here an answer is already the canonical text of `Answer`.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from barwright.items.accommodations import version_ident
from barwright.items.form import Form
from barwright.items.item import Answer, Choice, Item
from barwright.misreadings import JOINT

Word = Literal["shows", "may show"]
Held = tuple[str, ...]
"""Ids of misreadings that are held together, sorted; mostly one."""


@dataclass(frozen=True, slots=True)
class Offered:
    """A choice of an item, or an answer that is foreseen where one types.

    `alternatives`: each is a set of misreadings that, held together, leads to it; none for a right answer. A pick
    cannot tell one alternative from another.
    """

    answer: Answer
    alternatives: tuple[Held, ...] = ()

    @property
    def key(self) -> bool:
        """Whether this is a right answer."""
        return not self.alternatives


@dataclass(frozen=True, slots=True)
class Asked:
    """An item in its place in a form; items of one `number` are variants, of which each student gets one."""

    item: Item
    number: int
    points: int
    offered: tuple[Offered, ...]
    whole: str = ""

    @property
    def id(self) -> str:
        """The id of the item; of the whole item, where this one has fewer choices."""
        return self.whole or self.item.id


@dataclass(frozen=True, slots=True)
class Administered:
    """One form as it was given to one section; `ident` is the form's, `retake` is 0 for the quiz itself.

    `left`: by item the texts of the answers on offer in the version with fewer choices, where that has fewer.
    """

    ident: str
    section: str
    retake: int
    items: tuple[Asked, ...]
    left: Mapping[str, frozenset[str]] = field(default_factory=dict)

    @property
    def with_fewer(self) -> "Administered":
        """The version with fewer choices, which asks the same items; its ident is its own."""
        ident = version_ident(self.ident, "fewer_choices")
        return replace(self, ident=ident, items=tuple(map(self._lessened, self.items)))

    def _lessened(self, asked: Asked) -> Asked:
        kept = self.left.get(asked.id)
        if kept is None:
            return asked
        item = replace(asked.item, choices=tuple(c for c in asked.item.choices if c.answer.text in kept))
        return replace(asked, item=item, offered=tuple(map(offered, item.choices)), whole=asked.id)


@dataclass(frozen=True, slots=True)
class Response:
    """What one student answered to one item of a form.

    `form` is the ident of the form, `item` the id of the item. `answer`: the texts of the choices picked (one, or for
    `several` all that were ticked), or the one text that was typed or put together (a row of counts, an order); empty
    where nothing was answered. What is empty counts as not seen: it tells of no misreading.
    `fewer`: the form was the version with fewer choices.
    """

    student: str
    section: str
    form: str
    item: str
    answer: tuple[str, ...]
    fewer: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """What one student shows: one of these misreadings is held ("A or B" where the form cannot tell them apart).

    `probability` that at least one of them is held; `chances`: items of the form in which an answer of theirs was on
    offer; `seen`: the ids of the items that the student answered so.
    """

    misreadings: tuple[str, ...]
    probability: float
    word: Word
    chances: int
    seen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StudentFindings:
    """One student on one form.

    `findings`: likeliest first. `probabilities`: of every misreading that can show in the form, above 0.001.
    `unlisted`: probability that many answers are wrong for other reasons: "wrong, but none of these". `weakness`: the
    expected share of items that the student does not know, besides misreadings.
    """

    student: str
    section: str
    form: str
    answered: int
    findings: tuple[Finding, ...]
    probabilities: Mapping[str, float]
    unlisted: float
    weakness: float


@dataclass(frozen=True, slots=True)
class Shared:
    """How many students of a section show one of these misreadings: expected number, and its 90 % interval.

    More than one misreading: the forms of the section cannot tell them apart. `chances`: items a student had.
    """

    misreadings: tuple[str, ...]
    students: float
    low: float
    high: float
    chances: int


@dataclass(frozen=True, slots=True)
class SectionFindings:
    """One section: its students, and what they share, most students first."""

    section: str
    students: int
    shared: tuple[Shared, ...]


@dataclass(frozen=True, slots=True)
class Findings:
    """All that the answers tell; `untold`: for each form the misreadings that no item of it tells apart, in groups."""

    students: tuple[StudentFindings, ...]
    sections: tuple[SectionFindings, ...]
    untold: Mapping[str, tuple[tuple[str, ...], ...]]


def offered(choice: Choice) -> Offered:
    """A choice of an item as it is read here."""
    return Offered(choice.answer, tuple(tuple(way.split(JOINT)) for way in choice.misreadings))


Kept = Mapping[tuple[str, str], frozenset[str]]
"""By form and item the texts of the answers on offer in the version with fewer choices, where that has fewer."""
ALL_CHOICES: Kept = {}


def administered(forms: Sequence[Form], left: Kept = ALL_CHOICES) -> tuple[Administered, ...]:
    """The forms of a record as they were given."""
    return tuple(
        Administered(
            form.ident,
            form.section,
            form.retake,
            tuple(Asked(p.item, p.number, p.points, tuple(map(offered, p.item.choices))) for p in form.items),
            {p.item.id: left[form.ident, p.item.id] for p in form.items if (form.ident, p.item.id) in left},
        )
        for form in forms
    )
