"""An item back from its content: the exact inverse of `model.item_content`, strict, since files are hostile."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any, get_args

from barwright.asks import ASKS
from barwright.errors import ItemError, RhythmError
from barwright.items.item import (
    Answer,
    AnswerKind,
    Choice,
    Item,
    item_content,
)
from barwright.misreadings import JOINT, MISREADINGS
from barwright.misreadings.pairs import pair_named
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import format_excerpt, parse_excerpt
from barwright.showing import close_to, shown

_KINDS = get_args(AnswerKind)
_ALLOWED = convention_values()
MOST_SHOWN_CHOICES = 12
"""Far more than the judge accepts, and as many as can have a label beside them (wording/choice_labels.py)."""
_NOT_SHOWN = ("entry", "inline", "order")
"""Interactions whose choices are foreseen answers, not shown."""


def parsed_item(content: Mapping[str, Any]) -> Item:
    """The item whose content this is; ItemError, with the mend, for anything that `item_content` would not write.

    The shape of the data (which keys, texts and lists) has been checked at the door. Whether the item is right is not
    asked here: that is the judge's.
    """
    ask = content["ask"]
    if ask not in ASKS:
        raise ItemError(f"ask {shown(ask)} is not known{_meant(ask, ASKS)}")
    excerpt = _excerpt(content["excerpt"])
    conventions = _conventions(content["conventions"])
    choices = tuple(_choice(kind, text, ids) for kind, text, ids in content["choices"])
    if len(choices) > MOST_SHOWN_CHOICES and ASKS[ask].interaction not in _NOT_SHOWN:
        raise ItemError(f"{len(choices)} choices stand beside each other: a question has {MOST_SHOWN_CHOICES} at most")
    item = Item(ask, excerpt, conventions, choices, content["target"])
    if item_content(item) != _plain(content):
        raise ItemError("content holds more or other than an item: take the keys of other lines")
    return item


def _plain(content: Mapping[str, Any]) -> dict[str, Any]:
    return {**content, "choices": [[kind, text, list(ids)] for kind, text, ids in content["choices"]]}


def _excerpt(text: str) -> Excerpt:
    try:
        excerpt = parse_excerpt(text, full=False)
    except RhythmError as error:
        raise ItemError(f"excerpt {shown(text)} cannot be read: {error}") from error
    if format_excerpt(excerpt) != text:
        raise ItemError(f"excerpt {shown(text)} is not as it is always written: write {shown(format_excerpt(excerpt))}")
    return excerpt


def _conventions(given: Mapping[str, Any]) -> Conventions:
    usual = Conventions()
    for key, value in given.items():
        if key not in _ALLOWED:
            raise ItemError(f"convention {shown(key)} is not known{_meant(key, _ALLOWED)}")
        allowed = _ALLOWED[key]
        if not any(value is each or (isinstance(value, str) and value == each) for each in allowed):
            use = ", ".join(map(shown, allowed))
            raise ItemError(f"convention {key} = {shown(value)} is not allowed: use {use}")
        if value == getattr(usual, key):
            raise ItemError(f"convention {key} = {shown(value)} is the usual one: leave it out")
    return replace(usual, **given)


def _choice(kind: AnswerKind, text: str, ids: Iterable[str]) -> Choice:
    if kind not in _KINDS:
        raise ItemError(f"answer kind {shown(kind)} is not known{_meant(kind, _KINDS)}")
    ways = tuple(ids)
    for way in ways:
        for ident in way.split(JOINT):
            if ident not in MISREADINGS:
                raise ItemError(
                    f"misreading {shown(ident)} of answer {shown(text)} is not known{_meant(ident, MISREADINGS)}"
                )
        if JOINT in way and pair_named(way) is None:
            raise ItemError(
                f"misreadings {shown(way)} of answer {shown(text)} are no two that a student can hold at once: "
                "take the line from a bank that is as it was written"
            )
    return Choice(Answer(kind, text), ways)


def _meant(word: str, known: Iterable[str]) -> str:
    close = close_to(word, known)
    return f": did you mean {shown(close)}?" if close else ": it is of a newer version, or misspelt"
