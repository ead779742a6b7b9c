"""What a line of a bank file holds, checked at the door; the JSON Schema is made from these models."""

from typing import Annotated, Any, Literal

from pydantic import Field, StringConstraints, TypeAdapter

from barwright.bank.text_patterns import (
    CONVENTION,
    DATE,
    FORM,
    IDENT,
    KEBAB,
    LEAST_COUNTED,
    MOST_CHOICES,
    MOST_COUNTED,
    MOST_LONG,
    MOST_MISREADINGS,
    MOST_RECORDS,
    MOST_RETURNED,
    MOST_SHORT,
    PRINTED,
    RHYTHM,
    WAY,
)
from barwright.blueprint.blueprint import Door
from barwright.items.item import AnswerKind


def _text(pattern: str) -> Any:
    return StringConstraints(pattern=f"^{pattern}$")


Ident = Annotated[str, _text(IDENT)]
Kebab = Annotated[str, _text(KEBAB)]
Way = Annotated[str, _text(WAY)]
Date = Annotated[str, _text(DATE)]
Short = Annotated[str, _text(f"{PRINTED}{{0,{MOST_SHORT}}}")]
Named = Annotated[str, _text(f"{PRINTED}{{1,{MOST_SHORT}}}")]
Long = Annotated[str, _text(f"{PRINTED}{{0,{MOST_LONG}}}")]


class Content(Door):
    """The question itself, as `item_content` gives it. Its hash is the id of the item.

    `choices`: kind of answer, answer as canonical text, and the ids of the misreadings that lead to it, of two that
    are held at once joined by a plus; none for a key.
    `conventions`: conventions only where they differ from the usual. `excerpt`: rhythm text. `target`: what is asked
    about where the excerpt leaves it open.
    """

    ask: Kebab
    choices: Annotated[
        list[tuple[AnswerKind, Named, Annotated[list[Way], Field(max_length=MOST_MISREADINGS)]]],
        Field(min_length=1, max_length=MOST_CHOICES),
    ]
    conventions: Annotated[dict[Annotated[str, _text(CONVENTION)], Named | bool], Field(max_length=60)]
    excerpt: Annotated[str, _text(RHYTHM)]
    target: Short


class Source(Door):
    """Where an item comes from: the quiz it was made for, the program, and who added it."""

    by: Short
    date: Date
    kind: Literal["source"]
    made_by: Short
    title: Short


class Usage(Door):
    """One section that got the item, in which form of which quiz; `date` is what the teacher gives, or empty."""

    by: Short
    date: Date
    form: Annotated[str, _text(FORM)]
    kind: Literal["usage"]
    section: Named
    title: Short


Count = Annotated[int, Field(ge=0, le=MOST_COUNTED)]


class Counts(Door):
    """How an item went in one section: how many were asked and right, and how many picked each choice of the content.

    Never a student: no answer stands here beside another of the same person, and no class of under LEAST_COUNTED.
    `picks` are in the order of the content's choices; `others` gave an answer that is not foreseen, `omitted` none.
    """

    asked: Annotated[int, Field(ge=LEAST_COUNTED, le=MOST_COUNTED)]
    by: Short
    date: Date
    form: Annotated[str, _text(FORM)]
    kind: Literal["counts"]
    omitted: Count
    others: Count
    picks: Annotated[list[Count], Field(min_length=1, max_length=MOST_CHOICES)]
    right: Count
    section: Named
    title: Short


class Review(Door):
    """A colleague's verdict or remark. One approval makes an item approved; one that retires it, retired."""

    by: Short
    date: Date
    kind: Literal["review"]
    text: Long
    verdict: Literal["approve", "retire", "comment"]


class Return(Door):
    """Retirements taken back: `of` names their records, which stay, so that banks can be merged in any order."""

    by: Short
    date: Date
    kind: Literal["return"]
    of: Annotated[list[Ident], Field(min_length=1, max_length=MOST_RETURNED)]
    text: Long


class Tag(Door):
    """A word to find the item by, such as a curriculum code."""

    kind: Literal["tag"]
    tag: Named


Record = Annotated[Source | Usage | Counts | Review | Return | Tag, Field(discriminator="kind")]


class Line(Door):
    """One item: what it asks, its id, and all that was ever recorded about it, each record under its own id.

    `id` and the keys of `records` are the first 16 hex digits of the SHA-256 of the canonical JSON of what they name.
    """

    content: Content
    id: Ident
    records: Annotated[dict[Ident, Record], Field(max_length=MOST_RECORDS)]


class Header(Door):
    """The first line of a bank."""

    format: Literal["barwright-bank"]
    version: Literal[1]


RECORD: TypeAdapter[Source | Usage | Counts | Review | Return | Tag] = TypeAdapter(Record)


def bank_schema() -> dict[str, Any]:
    """The JSON Schema of one line of a bank: the first is a header, all others are items."""
    made = TypeAdapter(Header | Line).json_schema()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A line of a Barwright bank, version 1",
        "description": "The first line is a Header, every other line a Line; sorted by id, canonical JSON.",
        **made,
    }
