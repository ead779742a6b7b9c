"""Answer texts, read: one reader for each kind of answer, which gives None for a text that it cannot read."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from barwright.counting.counts import format_row, parse_row
from barwright.errors import RhythmError
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter, parse_meter
from barwright.rhythm.text import (
    format_groups,
    format_measures,
    format_symbols,
    parse_groups,
    parse_measures,
    parse_symbols,
)

NOTE_KINDS = {1: "w", 2: "h", 4: "q", 8: "e", 16: "s"}  # the n-th part of a whole note -> its letter
# kind of claim -> how many numbers it has
CLAIM_NUMBERS = {
    "fits": 2,
    "fits-not": 2,
    "adds-up": 2,
    "stands-for": 1,
    "how-many": 1,
    "big-beats": 1,
    "gets-beat": 1,
    "kind-of-note": 0,
    "notes": 1,
    "measures": 1,
    "lasts": 1,
}
_NUMBER = re.compile(r"\d{1,3}(?:/\d{1,2})?")


@dataclass(frozen=True, slots=True)
class Claim:
    """A statement: its kind and its numbers."""

    kind: str
    numbers: tuple[Fraction, ...]

    def __str__(self) -> str:
        return " ".join((self.kind, *map(str, self.numbers)))


def symbols_of(text: str) -> Symbols | None:
    """The symbols of a filling; a blank cannot fill a blank."""
    try:
        symbols = parse_symbols(text)
    except RhythmError:
        return None
    return None if any(s.kind == "blank" for s in symbols) else symbols


def measures_of(text: str) -> tuple[Symbols, ...] | None:
    """The measures of a figure; none may hold a blank."""
    try:
        measures = parse_measures(text)
    except RhythmError:
        return None
    return None if any(s.kind == "blank" for m in measures for s in m) else measures


def groups_of(text: str) -> tuple[Symbols, ...] | None:
    """The groups of an order, the one called shortest first; none may hold a blank."""
    try:
        groups = parse_groups(text)
    except RhythmError:
        return None
    return None if any(s.kind == "blank" for g in groups for s in g) else groups


def meter_of(text: str) -> Meter | None:
    """The meter of a time signature."""
    try:
        return parse_meter(text)
    except RhythmError:
        return None


def number_of(text: str) -> Fraction | None:
    """A number of units, 0 or more, whole or broken.

    >>> number_of("3/2"), number_of("-1")
    (Fraction(3, 2), None)
    """
    if _NUMBER.fullmatch(text) is None or text.endswith(("/0", "/00")):
        return None
    return Fraction(text)


def claim_of(text: str) -> Claim | None:
    """The claim of `fits 2 3`: a known kind with as many numbers as it has; note kinds are those of NOTE_KINDS.

    >>> str(claim_of("fits 2 3")), claim_of("fits 2"), claim_of("stands-for 3")
    ('fits 2 3', None, None)
    """
    kind, *rest = text.split() or [""]
    numbers = tuple(n for n in map(number_of, rest) if n is not None)
    if not CLAIM_NUMBERS.get(kind) == len(rest) == len(numbers):
        return None
    named = {"adds-up": numbers[1:], "stands-for": numbers, "gets-beat": numbers}.get(kind, ())
    return Claim(kind, numbers) if all(n in NOTE_KINDS for n in named) else None


def _symbols_text(text: str) -> str | None:
    symbols = symbols_of(text)
    return None if symbols is None else format_symbols(symbols)


def _measures_text(text: str) -> str | None:
    measures = measures_of(text)
    return None if measures is None else format_measures(measures)


def _groups_text(text: str) -> str | None:
    groups = groups_of(text)
    return None if groups is None else format_groups(groups)


def _row_text(text: str) -> str | None:
    return format_row(parse_row(text)) or None


def _text_of(read: Callable[[str], object]) -> Callable[[str], str | None]:
    def text_of(text: str) -> str | None:
        answer = read(text)
        return None if answer is None else str(answer)

    return text_of


_CANONICAL: dict[str, Callable[[str], str | None]] = {
    "symbols": _symbols_text,
    "measures": _measures_text,
    "row": _row_text,
    "meter": _text_of(meter_of),
    "number": _text_of(number_of),
    "claim": _text_of(claim_of),
    "order": _groups_text,
}


def canonical(kind: str, text: str) -> str | None:
    """The canonical text of an answer of this kind; None if it cannot be read."""
    return _CANONICAL[kind](text)
