"""What a family offers: its asks, the space they draw from, and the wrong answers that misreadings lead to."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from random import Random
from typing import Literal

from barwright.items.item import Answer, AnswerKind, Interaction
from barwright.items.taught import Taught
from barwright.notation.legal_measures import NO_LIMITS, Alphabet, Limits
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_excerpt


@dataclass(frozen=True, slots=True)
class Space:
    """What one part of a blueprint may draw from: `meters` are this part's, `taught.meters` all of the class's.

    `limits`: what its measures must be beside legal. `even`: all of them have the same chance to be drawn. `own`: with
    any, the only excerpts that are drawn and listed: a teacher's own, of the meters and the length of the space.
    `tied_over`: ties may lead over barlines, if ties were taught.
    """

    taught: Taught
    alphabet: Alphabet
    meters: tuple[Meter, ...]
    conventions: Conventions
    measures: int
    limits: Limits = NO_LIMITS
    even: bool = False
    tied_over: bool = True
    own: tuple[Excerpt, ...] = ()
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        parts = (self.taught, self.alphabet, self.meters, self.conventions, self.measures, self.limits, self.own)
        object.__setattr__(self, "_hash", hash(parts))

    def __hash__(self) -> int:
        """Kept, since whatever is remembered of a space asks for it."""
        return self._hash

    @property
    def anywhere(self) -> "Space":
        """The class's space, whatever the part: wrong answers do not depend on it, and are remembered for all parts."""
        return _anywhere(self)


@lru_cache(maxsize=256)
def evenly(space: Space) -> Space:
    """The same space, all of whose measures have the same chance to be drawn."""
    return replace(space, even=True)


@lru_cache(maxsize=256)
def _anywhere(space: Space) -> Space:
    limits = replace(space.limits, counted=False)
    return Space(space.taught, space.alphabet, space.taught.meters, space.conventions, 1, limits)


@dataclass(frozen=True, slots=True)
class Question:
    """An excerpt with its right answers, before any wrong ones; `target` as in Item."""

    excerpt: Excerpt
    keys: tuple[Answer, ...]
    target: str = ""

    @property
    def text(self) -> str:
        """What makes two questions the same: the excerpt and what is asked of it."""
        return f"{format_excerpt(self.excerpt)} {self.target}".rstrip()


Picture = Literal["excerpt", "signature-hidden", "symbols", "none"]
"""What the picture in the question shows: the excerpt, with its signature or without, its bare symbols, or nothing."""
ChoicePicture = Literal["symbols", "measures", "none"]
"""What the picture of a choice shows: a few symbols as they stand in the blank, whole measures, or no picture."""
Cue = Literal["blank", "rhythm", "row", "row-shown", "row-asked", "signature-shown", "signature-asked", "number"]
"""What a question tells about others of its form, or must not meet in them; `forms/cueing.py` says what each does."""


Offers = Mapping[Answer, tuple[str, ...]]
"""Wrong answers, each with the ids of every misreading that leads to it on this excerpt."""


def no_pairs(_question: Question, _space: Space) -> Offers:
    """No wrong answers: two misreadings held at once are not told here."""
    return {}


Sets = Callable[[Question, Offers, Space, int, Random], Iterator[tuple[Answer, ...]]]
"""(question, offers, space, how many, rng) -> sets of so many wrong answers that make a fair item together."""


Mix = tuple[int, ...]
"""How choices share lengths: how many are right, then how many wrong ones are of one length, largest group first."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One row of a family.

    `draw` gives a random question or None where this draw has none; `listed` gives every question once, in a fixed
    order, or only some of them where `lists_all` is False, since looking for all would take too long; `offers` the
    wrong answers; `clash` tells whether two answers may not stand in one item; `farness` how little an answer looks
    like the key (0: alike); `measures` is the usual length of an excerpt; `needs_meters` how many meters of different
    length must be taught; `pinned` keeps the choices in logical order.

    `picture` and `choice` say what is drawn; `cues` what its items may give away of others. `exercise`: what the
    student does, of `misreadings.belief.EXERCISES`; by it errors know where they show.

    `pairs` gives the wrong answers that two misreadings held at once lead to, and none alone, under joined ids.

    `sort`: what answers begin with that are told apart at a glance, such as Yes and No. Where choices of two sorts can
    stand in an item two sorts do.

    `slight`: questions that are hardly worth asking: they come in only where others would be worse.

    `right_somewhere`: whether a wrong answer is right for another question of the class, where that cannot be taken for
    granted. `if_right`: of the right answer and these wrong ones, which would be offered as wrong if each of them were
    the right one; for asks in which many questions have sets of which each answer leads to all others.

    `sets`: which wrong answers make a fair item together, where not any will do. Who chooses takes one of these sets,
    and may credit two answers of a set to one misreading where nothing else is left. `mixes`: where several answers may
    be right, how lengths are shared in turn, each mix with its share among those of as many choices.
    """

    id: str
    family: str
    interaction: Interaction
    answer: AnswerKind
    draw: Callable[[Space, Random], Question | None]
    listed: Callable[[Space], Iterator[Question]]
    offers: Callable[[Question, Space, Random], Offers]
    clash: Callable[[Question, Answer, Answer], bool]
    farness: Callable[[Question, Answer], int] = lambda _question, _answer: 0
    sort: Callable[[Answer], str] | None = None
    pairs: Callable[[Question, Space], Offers] = no_pairs
    sets: Sets | None = None
    slight: Callable[[Question], bool] | None = None
    right_somewhere: Callable[[Question, Answer, Space], bool] | None = None
    if_right: Callable[[Question, Sequence[Answer], Space], Mapping[Answer, frozenset[Answer]]] | None = None
    mixes: tuple[tuple[Mix, int], ...] = ()
    lists_all: Callable[[Space], bool] = lambda _space: True
    measures: int = 1
    needs_meters: int = 1
    pinned: bool = False
    picture: Picture = "excerpt"
    choice: ChoicePicture = "none"
    cues: frozenset[Cue] = frozenset()
    exercise: str = ""


def never(_question: Question, _one: Answer, _other: Answer) -> bool:
    """False: any two different answers may stand together."""
    return False
