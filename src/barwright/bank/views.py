"""What filters and tables ask of an entry; each is worked out when it is asked for, and only then."""

import json
import re
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

from barwright.asks import ASKS
from barwright.asks.item_content import parsed_item
from barwright.bank.answer_counts import Went, went
from barwright.bank.entries import KEPT, Entry
from barwright.bank.grammar import Pairs
from barwright.bank.states import State, state_of
from barwright.errors import RhythmError
from barwright.items.difficulty import WEIGHTS, features, weighed
from barwright.items.item import Item
from barwright.misreadings import JOINT
from barwright.rhythm.measure import total
from barwright.rhythm.text import parse_excerpt

# Answers in the canonical content that are shown as figures.
_SHOWN = re.compile(r'\["(?:symbols|measures)","([^"]*)"')
_NO_ELEMENTS = frozenset({"_", "|"})


# Opened records take ten times the memory of their text, and a bank of more quizzes than this meets few of them again.
OPENED = 1 << 12


@lru_cache(maxsize=OPENED)
def _opened(pairs: Pairs) -> tuple[dict[str, Any], ...]:
    return tuple(json.loads(text) for _, text in pairs)


@lru_cache(maxsize=OPENED)
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


def excerpt_in(content: str) -> str:
    """The rhythm text in a canonical content, where no text before it can hold a bare quotation mark.

    >>> excerpt_in('{"excerpt":"3/4 h _","target":""}')
    '3/4 h _'
    """
    begin = content.rindex('"excerpt":"') + 11
    return content[begin : content.index('"', begin)]


def counts_of(excerpt: str) -> list[dict[str, int]]:
    """What to add up for the features and the difficulty (by the usual weights) of a rhythm text.

    The counts of each measure, since a bank has few different measures and many excerpts; or those of the whole where
    its measures are not alone. An empty one if it cannot be read.
    """
    meter, _, body = excerpt.partition(" ")
    texts = body.split(" | ")
    if len(texts) == 1 or "~ |" in body:  # a tie joins measures
        return [_counted(excerpt)[0]]
    by_measure = []
    for text in texts:
        counts, full = _counted(f"{meter} {text}")
        if not full:  # the first may be a pickup
            return [_counted(excerpt)[0]]
        by_measure.append(counts)
    return by_measure


@dataclass(frozen=True)
class View:
    """An entry opened: what it asks and shows, and what is recorded about it."""

    entry: Entry

    @cached_property
    def content(self) -> dict[str, Any]:
        """The content as plain data."""
        content: dict[str, Any] = json.loads(self.entry.content)
        return content

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
        """The rhythm text."""
        return excerpt_in(self.entry.content)

    @property
    def meter(self) -> str:
        """The time signature of the excerpt."""
        return self.excerpt.split(" ", 1)[0]

    @property
    def elements(self) -> frozenset[str]:
        """Tokens of every symbol that is shown, in the excerpt or in a choice, without tie and mark; `~` for a tie."""
        shown = [self.excerpt.partition(" ")[2], *_SHOWN.findall(self.entry.content)]
        tokens = set(" ".join(shown).split()) - _NO_ELEMENTS
        elements = {token.strip("*~") for token in tokens}
        return frozenset(elements | {"~"} if any(token.endswith("~") for token in tokens) else elements)

    @property
    def misreadings(self) -> frozenset[str]:
        """Ids of all misreadings on offer, alone or held with another."""
        ways = (way for _, _, ids in self.content["choices"] for way in ids)
        return frozenset(ident for way in ways for ident in way.split(JOINT))

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

    @property
    def went(self) -> Went | None:
        """How it has gone in classes whose answers were counted; None if it never was."""
        if not any('"kind":"counts"' in text for _, text in self.entry.records):
            return None
        return went(self.records, [not ids for _, _, ids in self.content["choices"]])

    def feature(self, name: str) -> int | None:
        """A feature of the excerpt, or its difficulty by the usual weights; None if it cannot be read."""
        counts = counts_of(self.excerpt)
        return sum(each[name] for each in counts) if counts[0] else None

    @property
    def measures(self) -> int:
        """How many measures the excerpt has."""
        return self.excerpt.count("|") + 1

    @property
    def choices(self) -> int:
        """How many choices there are, or answers foreseen."""
        return len(self.content["choices"])

    @property
    def usages(self) -> tuple[dict[str, Any], ...]:
        """The records of its uses; one without a date only if the form and section have none with a date."""
        usages = [record for record in self.records if record["kind"] == "usage"]
        dated = {(record["form"], record["section"]) for record in usages if record["date"]}
        return tuple(r for r in usages if r["date"] or (r["form"], r["section"]) not in dated)

    @property
    def uses(self) -> int:
        """In how many forms of sections it stood."""
        return len({(record["form"], record["section"]) for record in self.records if record["kind"] == "usage"})
