"""What filters and tables ask of an entry; each is worked out when it is asked for, and only then."""

import re
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

from pydantic_core import from_json

from barwright.bank.entries import KEPT, Entry
from barwright.bank.grammar import Pairs
from barwright.bank.records import State, state_of
from barwright.errors import RhythmError
from barwright.items.content import parsed_item
from barwright.items.difficulty import WEIGHTS, features, weighed
from barwright.items.families import ASKS
from barwright.items.model import Item
from barwright.rhythm.measure import total
from barwright.rhythm.text import parse_excerpt

# Answers in the canonical content that are shown as figures.
_SHOWN = re.compile(r'\["(?:symbols|measures)","([^"]*)"')
_NO_ELEMENTS = frozenset({"_", "|"})


@lru_cache(maxsize=KEPT)
def _opened(pairs: Pairs) -> tuple[dict[str, Any], ...]:
    return tuple(from_json(text) for _, text in pairs)


@lru_cache(maxsize=KEPT)
def _named(pairs: Pairs, kind: str, field: str) -> frozenset[str]:
    return frozenset(record[field] for record in _opened(pairs) if record["kind"] == kind and record[field])


@lru_cache(maxsize=KEPT)
def _counted(excerpt: str) -> tuple[dict[str, int], bool]:
    """The features and difficulty of a rhythm text, and whether its measures are full; none if it cannot be read."""
    try:
        read = parse_excerpt(excerpt, full=False)
    except RhythmError:
        return {}, False
    counts = features(read)
    full = all(total(measure, read.meter) == read.meter.capacity for measure in read.measures)
    return {**counts, "difficulty": weighed(counts, WEIGHTS)}, full


def number_of(excerpt: str, name: str) -> int | None:
    """A feature of a rhythm text, its difficulty by the usual weights, or its length; None if it cannot be read.

    Measures are counted one by one, since a bank has few different ones and many excerpts.
    """
    meter, _, body = excerpt.partition(" ")
    texts = body.split(" | ")
    if name == "measures":
        return len(texts)
    if len(texts) > 1 and "~ |" not in body:  # a tie would join measures
        number = 0
        for text in texts:
            counts, full = _counted(f"{meter} {text}")
            if not full:  # the first may be a pickup
                break
            number += counts[name]
        else:
            return number
    return _counted(excerpt)[0].get(name)


@dataclass(frozen=True)
class View:
    """An entry opened: what it asks and shows, and what is recorded about it."""

    entry: Entry

    @cached_property
    def content(self) -> dict[str, Any]:
        """The content as plain data."""
        found: dict[str, Any] = from_json(self.entry.content)
        return found

    @cached_property
    def records(self) -> tuple[dict[str, Any], ...]:
        """The records as plain data, in the order of their ids."""
        return _opened(self.entry.records)

    @cached_property
    def item(self) -> Item:
        """The item; ItemError if this version cannot read it."""
        return parsed_item(self.content)

    @property
    def ask(self) -> str:
        """The ask's id, read off the start of the canonical content."""
        return self.entry.content.split('"', 4)[3]

    @property
    def family(self) -> str:
        """The family of the ask; empty for an ask that this version does not know."""
        return ASKS[self.ask].family if self.ask in ASKS else ""

    @property
    def excerpt(self) -> str:
        """The rhythm text, read off the canonical content: no text before it can hold a bare quotation mark."""
        return self.entry.content.rpartition('"excerpt":"')[2].split('"', 1)[0]

    @property
    def meter(self) -> str:
        """The time signature of the excerpt."""
        return self.excerpt.split(" ", 1)[0]

    @property
    def elements(self) -> frozenset[str]:
        """Tokens of every symbol that is shown, in the excerpt or in a choice, without tie and mark; `~` for a tie."""
        shown = [self.excerpt.partition(" ")[2], *_SHOWN.findall(self.entry.content)]
        tokens = set(" ".join(shown).split()) - _NO_ELEMENTS
        found = {token.strip("*~") for token in tokens}
        return frozenset(found | {"~"} if any(token.endswith("~") for token in tokens) else found)

    @property
    def misreadings(self) -> frozenset[str]:
        """Ids of all misreadings on offer."""
        return frozenset(ident for _, _, ids in self.content["choices"] for ident in ids)

    @property
    def keys(self) -> tuple[str, ...]:
        """The right answers as texts."""
        return tuple(text for _, text, ids in self.content["choices"] if not ids)

    @property
    def state(self) -> State:
        """New, approved or retired."""
        return state_of(self.entry.records)

    def named(self, kind: str, field: str) -> frozenset[str]:
        """Every text that this field has in the records of one kind."""
        return _named(self.entry.records, kind, field)

    def number(self, name: str) -> int | None:
        """A feature of the excerpt, its difficulty or length, or the number of choices or uses; None if not known."""
        if name == "choices":
            return len(self.content["choices"])
        if name == "uses":
            return len({(r["form"], r["section"]) for r in self.records if r["kind"] == "usage"})
        return number_of(self.excerpt, name)
