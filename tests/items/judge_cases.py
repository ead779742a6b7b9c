"""Hand-built items for the tests of the judge, and the reader of tests/textbook/single_answer_traps.txt."""

from dataclasses import dataclass
from pathlib import Path

from barwright.items.item import (
    Answer,
    AnswerKind,
    Choice,
    Item,
)
from barwright.items.taught import Taught
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt

TRAPS = Path(__file__).parents[1] / "textbook" / "single_answer_traps.txt"

KINDS: dict[str, AnswerKind] = {
    "finish-measure": "symbols",
    "finish-measure-with-two": "symbols",
    "all-that-fit": "symbols",
    "beats-left": "number",
    "drag-into-the-blank": "symbols",
    "shortest-first": "order",
    "counts-for-rhythm": "row",
    "write-counts": "row",
    "count-under-mark": "row",
    "count-under-each": "row",
    "rhythm-for-counts": "measures",
    "time-signature-for-rhythm": "meter",
    "rhythm-for-time-signature": "measures",
    "does-it-fit": "claim",
    "what-the-numbers-say": "claim",
}


def taught(symbols: str, meters: str, *, ties: bool = True, syncopation: bool = True) -> Taught:
    """What is taught, from tokens and meters with spaces between."""
    return Taught(frozenset(symbols.split()), ties, tuple(map(parse_meter, meters.split())), syncopation)


BEGINNERS = taught("w h q rh rq rW", "2/4 3/4 4/4", ties=False)
EVERYTHING = taught(
    "w h h. q q. e e. s et qt rw rh rq re rs rW rh. rq. re.", "2/4 3/4 4/4 2/2 3/8 6/8 9/8 12/8 5/8 7/8 5/4 3/2"
)


def made(
    ask: str, excerpt: str, right: str, wrong: str, *, target: str = "", conventions: Conventions | None = None
) -> Item:
    """An item with these answers, by commas; every wrong one names a misreading of its own."""
    kind = KINDS.get(ask, "symbols")
    keys = [Choice(Answer(kind, t.strip())) for t in right.split(",") if t.strip()]
    others = [t.strip() for t in wrong.split(",") if t.strip()]
    choices = keys + [Choice(Answer(kind, t), (f"error-{n}",)) for n, t in enumerate(others)]
    ordered = tuple(sorted(choices, key=lambda c: c.answer))
    return Item(ask, parse_excerpt(excerpt, full=False), conventions or Conventions(), ordered, target)


@dataclass(frozen=True)
class Case:
    """One row of the file: an item, what is taught, and every reason against it."""

    line: str
    item: Item
    taught: Taught
    reasons: tuple[str, ...]


def read_case(line: str, known: Taught) -> Case:
    """The case of one line: `sign ask[:target] [convention=value] ; excerpt ; right ; wrong ; reasons`."""
    head, excerpt, right, wrong, *reasons = (part.strip() for part in line[1:].split(" ; "))
    ask, *changes = head.split()
    ask, _, target = ask.partition(":")
    values = convention_values()
    conventions = {}
    for change in changes:
        name, _, value = change.partition("=")
        conventions[name] = next(v for v in values[name] if str(v) == value)
    item = made(ask, excerpt, right, wrong, target=target, conventions=Conventions(**conventions))
    case = Case(line, item, known, tuple(r.strip() for each in reasons for r in each.split("//")))
    assert bool(case.reasons) == line.startswith("-"), line
    return case


def textbook_cases() -> list[Case]:
    """All cases of the file; a line `@` says what is taught below it (ties: syncopation too)."""
    known, cases = EVERYTHING, []
    for line in TRAPS.read_text(encoding="utf-8").splitlines():
        if line.startswith("@"):
            symbols, meters, more = line[1:].split(" ; ") if line != "@" else ("", "", "")
            ties, syncopation = "ties" in more, "syncopation" in more or "ties" in more
            known = taught(symbols, meters, ties=ties, syncopation=syncopation) if symbols else EVERYTHING
        elif line and not line.startswith("#"):
            cases.append(read_case(line, known))
    return cases
