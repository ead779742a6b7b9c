"""Items as content: what is asked about which excerpt, and every choice with the misreading that leads to it.

An item holds no words of any language, no pictures and no order of choices: those are the form's and the wording's.
Its id is a hash of its content, so the same question made twice is one item.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

from barwright.misreadings import JOINT
from barwright.rhythm.conventions import CONVENTION_NAMES, Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import format_excerpt

# What the text of an answer is. Every answer is one canonical text, so equality, hashing and files are plain.
#   symbols   rhythm text of a few symbols that fill a blank            "q. e"
#   measures  rhythm text of whole measures                             "q q | h"
#   row       a row of counts, one label a sound or rest                "1 (2) 3 | 1-2 3"
#   meter     a time signature                                          "3/4"
#   number    a count of bottom-number units, whole or broken           "1", "3/2"
#   claim     a statement, its kind first, then its numbers             "fits 2 3" (see families)
#   order     groups of symbols, the one that is called shortest first  "e e < q. < h"
AnswerKind = Literal["symbols", "measures", "row", "meter", "number", "claim", "order"]
# How the student answers: one figure or text of several, several of them, a typed entry; and where the standard can say
# it, figures dragged into gaps, a drop-down at each symbol, or figures put in order.
Interaction = Literal["figures", "texts", "several", "entry", "gaps", "inline", "order"]


class Answer(NamedTuple):
    """One possible answer as canonical text; what `text` means depends on `kind` (table above).

    A named tuple, since answers are made, hashed and compared by the thousand: a frozen dataclass takes twice as long.
    """

    kind: AnswerKind
    text: str


@dataclass(frozen=True, slots=True)
class Choice:
    """An answer on offer, or for an entry item an answer that is foreseen.

    A key has no misreadings. A wrong choice names the misreading it stands for first, then any other that leads to the
    same answer here (then a pick cannot tell them apart). Two that are held at once, and lead there together, are named
    as one, joined (JOINT).
    """

    answer: Answer
    misreadings: tuple[str, ...] = ()

    @property
    def key(self) -> bool:
        """Whether this is a right answer."""
        return not self.misreadings

    @property
    def misreading(self) -> str:
        """The misreading the choice stands for; empty for a key."""
        return self.misreadings[0] if self.misreadings else ""

    @property
    def held(self) -> tuple[str, ...]:
        """The ids of that misreading, or of both that are held at once; none for a key.

        >>> Choice(Answer("row", "1 2"), ("dot-doubles+rests-take-no-time", "dot-shortens")).held
        ('dot-doubles', 'rests-take-no-time')
        """
        return tuple(self.misreading.split(JOINT)) if self.misreadings else ()


@dataclass(frozen=True)
class Item:
    """One question as content; `choices` are sorted by answer, so equal content is equal data.

    `target` narrows what is asked where the excerpt leaves it open: `top` or `bottom` for `what-the-numbers-say`.
    """

    ask: str
    excerpt: Excerpt
    conventions: Conventions
    choices: tuple[Choice, ...]
    target: str = ""

    @cached_property
    def keys(self) -> tuple[Choice, ...]:
        """The right choices."""
        return tuple(c for c in self.choices if c.key)

    @cached_property
    def wrong(self) -> tuple[Choice, ...]:
        """The distractors."""
        return tuple(c for c in self.choices if not c.key)

    @cached_property
    def offered(self) -> frozenset[str]:
        """The misreadings that its wrong choices stand for, alone or held with another."""
        return frozenset(misreading for choice in self.choices for misreading in choice.held)

    @cached_property
    def id(self) -> str:
        """16 hex digits of the SHA-256 of the canonical content."""
        text = json.dumps(item_content(self), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        return hashlib.sha256(text.encode()).hexdigest()[:16]


def item_content(item: Item) -> dict[str, object]:
    """The content of an item as plain data for canonical JSON; conventions only where they differ from the default."""
    return {
        "ask": item.ask,
        "target": item.target,
        "excerpt": format_excerpt(item.excerpt),
        "conventions": dict(_unusual(item.conventions)),
        "choices": [[c.answer.kind, c.answer.text, list(c.misreadings)] for c in item.choices],
    }


def _unusual(conventions: Conventions) -> Mapping[str, object]:
    usual = Conventions()
    chosen = {name: getattr(conventions, name) for name in CONVENTION_NAMES}
    return {name: value for name, value in chosen.items() if value != getattr(usual, name)}
