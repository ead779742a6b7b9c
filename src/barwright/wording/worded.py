"""A form in words: what the writers of packages and pages get. Pictures are named here and drawn elsewhere."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from string import ascii_lowercase, ascii_uppercase
from typing import Literal

from barwright.items.item import Interaction
from barwright.rhythm.excerpt import Figure


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawn figure: neutral file name, PNG bytes at twice the size, and the size to show it at in pixels."""

    name: str
    png: bytes = field(repr=False)
    width_px: int
    height_px: int


Pictures = Mapping[Figure, Picture]


@dataclass(frozen=True, slots=True)
class WordedFigure:
    """A figure and what a blind student is told of it: what a sighted one sees, never the answer."""

    figure: Figure
    alt: str


@dataclass(frozen=True, slots=True)
class WordedChoice:
    """One choice as shown: text or figure. For entry items: one foreseen answer with all its accepted spellings.

    `ident` is neutral (c1, c2 ... in shown order). `misreading` and `why` (the misreading in plain words for the
    teacher) are for the proof and the record only: no package may hold them. `label` stands beside its figure.
    """

    ident: str
    text: str
    figure: WordedFigure | None
    key: bool
    feedback: str
    misreading: str = ""
    why: str = ""
    spellings: tuple[str, ...] = ()
    label: str = ""

    @property
    def letter(self) -> str:
        """Its letter on paper, by its place in the form: it keeps it where another choice is left out."""
        return ascii_uppercase[int(self.ident[1:]) - 1]


@dataclass(frozen=True, slots=True)
class WordedSlot:
    """A place to fill in an item of the interaction `gaps` or `inline`: neutral ident, and idents of choices.

    `keys` are those that are right here; `options` those on offer here (none named: all).
    """

    ident: str
    keys: tuple[str, ...]
    options: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WordedAnswer:
    """A whole answer of an `inline` or `order` item: `filled` holds the idents of the choices, place by place.

    `text` is a row of counts as a whole; empty for an order. A wrong one is foreseen: `feedback` is for a student who
    gives just this answer, unless the choice `told_by`, which no other foreseen answer has, tells it already.
    `misreading` and `why` are for the proof and the record only.
    """

    filled: tuple[str, ...]
    key: bool
    feedback: str
    misreading: str = ""
    why: str = ""
    text: str = ""
    told_by: str = ""


@dataclass(frozen=True, slots=True)
class WordedItem:
    """One question as shown. `stem` holds paragraphs of plain text; the figure, if any, stands after them.

    `note` says how to type an entry or that several answers may be right. `general_feedback` serves an answer that is
    not foreseen. `pinned` is True if the order of the choices must stay (logical order of numbers or signatures),
    whatever the form says about shuffling. `category` is the ask, for banks. `pieces` is what stands in a row in `gaps`
    and `inline` items: figures and the slots between or under them. `sequence` holds the idents of the choices in right
    order for `order` items. `foreseen` are the whole answers where choices are only what they are made of. Items in a
    row with the same `pool` are variants of which each student gets one. `keywords` (curriculum tags, what makes the
    item hard) stand in the list of contents of a package, where no student looks. `also`: the same item in the further
    languages that it is shown in, each with its code. `number`: its number where others before it are left out; 0 if
    none is.
    """

    ident: str
    item_id: str
    title: str
    interaction: Interaction
    stem: tuple[str, ...]
    figure: WordedFigure | None
    choices: tuple[WordedChoice, ...]
    points: int
    note: str = ""
    general_feedback: str = ""
    pinned: bool = False
    category: str = ""
    pieces: tuple[WordedFigure | WordedSlot, ...] = ()
    sequence: tuple[str, ...] = ()
    foreseen: tuple[WordedAnswer, ...] = ()
    pool: str = ""
    keywords: tuple[str, ...] = ()
    also: "tuple[tuple[str, WordedItem], ...]" = ()
    number: int = 0


@dataclass(frozen=True, slots=True)
class WordedForm:
    """One section's quiz in words; `ident` is neutral and the same for the same content.

    `name` is what it is called beside the other forms of the quiz; the title alone where it is empty. `also`: the
    intro in the further languages that the form is shown in, each with its code. `one_a_page`: each question stands
    alone, where a standard can say so.
    """

    ident: str
    title: str
    section: str
    language: str
    intro: tuple[str, ...]
    items: tuple[WordedItem, ...]
    shuffle: bool = True
    feedback: bool = True
    credit: Literal["all-or-nothing", "per-choice"] = "all-or-nothing"
    name: str = ""
    also: tuple[tuple[str, tuple[str, ...]], ...] = ()
    one_a_page: bool = False

    @property
    def called(self) -> str:
        """What a learning platform shows as the title of the quiz."""
        return self.name or self.title


def numbered(form: WordedForm) -> tuple[tuple[str, str, WordedItem], ...]:
    """Number, variant letter and item of each item of a form: 1, 2, and 3a, 3b for the variants of a pool."""
    items: list[tuple[str, str, WordedItem]] = []
    number = variant = 0
    pool = ""
    for item in form.items:
        again = bool(item.pool) and item.pool == pool
        number, variant, pool = item.number or number + (not again), variant + 1 if again else 0, item.pool
        items.append((str(number), ascii_lowercase[variant] if item.pool else "", item))
    return tuple(items)


def worth(form: WordedForm) -> tuple[int, int]:
    """How many questions a student gets, and how many points they are worth: one of each pool."""
    first = {number: item.points for number, _, item in reversed(numbered(form))}
    return len(first), sum(first.values())


def figures_of(form: WordedForm) -> tuple[Figure, ...]:
    """Every different figure of a form, in the order of first use."""
    seen: dict[Figure, None] = {}
    for item in form.items:
        for worded in (item.figure, *item.pieces, *(c.figure for c in item.choices)):
            if isinstance(worded, WordedFigure):
                seen.setdefault(worded.figure)
    return tuple(seen)
