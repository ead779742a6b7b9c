"""Symbols as printed in a measure, and the events and sounds they make.

Which symbols of a measure make up a triplet together."""

from collections.abc import Iterable
from dataclasses import dataclass, field, fields
from fractions import Fraction
from typing import Literal, get_args

from barwright.errors import RhythmError
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import NAMES, NoteValue, as_made, whole_notes

Kind = Literal["note", "rest", "measure-rest", "blank"]


_KNOWN: dict[tuple[Kind, NoteValue | None, bool], "Symbol"] = {}  # there are few, and no refused ones


@dataclass(frozen=True, slots=True, eq=False, init=False)
class Symbol:
    """One printed note or rest, the full-measure rest, or a blank.

    The full-measure rest has the sign of the whole rest but lasts the measure, whatever the meter.

    `value` is None for the full-measure rest and the blank. `tied` means tied to the next note; `silent` that it is a
    rest of either sort. There are few different symbols, so equal ones are one object: they need not be compared, and
    measures, which are looked up in tables all the time, are hashed quickly.
    """

    kind: Kind
    value: NoteValue | None
    tied: bool
    silent: bool = field(init=False, repr=False, compare=False)

    def __new__(cls, kind: Kind, value: NoteValue | None = None, tied: bool = False) -> "Symbol":
        known = _KNOWN.get((kind, value, tied))
        if known is not None:
            return known
        if kind not in get_args(Kind):
            raise RhythmError(f"symbol {kind!r} is not known: use {', '.join(get_args(Kind))}")
        if (value is None) != (kind in ("measure-rest", "blank")):
            raise RhythmError(f"a {kind} {'needs' if value is None else 'has no'} note value")
        if tied and kind != "note":
            raise RhythmError(f"a {kind} cannot be tied: rests are never tied")
        made = object.__new__(cls)
        for part, each in zip(fields(cls), (kind, value, tied, kind in ("rest", "measure-rest")), strict=True):
            object.__setattr__(made, part.name, each)
        return _KNOWN.setdefault((kind, value, tied), made)

    __reduce__ = as_made


Symbols = tuple[Symbol, ...]
FULL_MEASURE_REST = Symbol("measure-rest")
BLANK = Symbol("blank")


def note(plain: Fraction | str, dots: int = 0, *, triplet: bool = False, tied: bool = False) -> Symbol:
    """A note of this plain length in whole notes."""
    return Symbol("note", NoteValue(Fraction(plain), dots, triplet), tied)


def rest(plain: Fraction | str, dots: int = 0, *, triplet: bool = False) -> Symbol:
    """A rest of this plain length in whole notes."""
    return Symbol("rest", NoteValue(Fraction(plain), dots, triplet))


def with_tie(symbol: Symbol, tied: bool) -> Symbol:
    """A note, tied to the next one or not."""
    return Symbol(symbol.kind, symbol.value, tied)


def ended(symbols: Symbols) -> Symbols:
    """The measure by itself: without a tie from its last note over the barline."""
    return (*symbols[:-1], with_tie(symbols[-1], False)) if symbols[-1].tied else symbols


def turned(symbol: Symbol) -> Symbol:
    """The rest of the same value for a note, not tied, and the note for a rest; any other symbol as it is."""
    if symbol.value is None:
        return symbol
    return Symbol("rest" if symbol.kind == "note" else "note", symbol.value)


def length_of(symbol: Symbol, meter: Meter) -> Fraction:
    """Length of a symbol in whole notes; the full-measure rest lasts the capacity; a blank lasts 0."""
    if symbol.value is not None:
        return symbol.value.length
    return meter.capacity if symbol.kind == "measure-rest" else Fraction(0)


def ticks_of(symbol: Symbol, meter: Meter) -> int:
    """How long a symbol lasts in ticks; a blank lasts nothing."""
    if symbol.value is not None:
        return symbol.value.ticks
    return meter.ticks if symbol.kind == "measure-rest" else 0


def ticks_in(symbols: Iterable[Symbol], meter: Meter) -> int:
    """Sum of the lengths in ticks; blanks count 0."""
    return sum([ticks_of(s, meter) for s in symbols])


def total(symbols: Iterable[Symbol], meter: Meter) -> Fraction:
    """Sum of the lengths in whole notes; blanks count 0."""
    return whole_notes(ticks_in(symbols, meter))


@dataclass(frozen=True, slots=True)
class Event:
    """A symbol and where it stands: `onset` and `length` in whole notes, the onset from the start of its measure."""

    symbol: Symbol
    onset: Fraction
    length: Fraction
    measure: int
    index: int


def events(symbols: Symbols, meter: Meter, *, start: Fraction = Fraction(0), measure: int = 0) -> tuple[Event, ...]:
    """The symbols of one measure with their onsets in whole notes; `start` is the first (a pickup starts late)."""
    timed, passed = [], 0
    for index, symbol in enumerate(symbols):
        onset = start + whole_notes(passed) if start else whole_notes(passed)
        timed.append(Event(symbol, onset, length_of(symbol, meter), measure, index))
        passed += ticks_of(symbol, meter)
    return tuple(timed)


def triplet_groups(symbols: Symbols) -> tuple[tuple[int, ...], ...]:
    """Indices of the members of each triplet: neighbours that together last a plain value, as few as do.

    What is left over at the end (a triplet that is not complete) is a group too. Source: three in the time of two,
    G. Read, Music Notation (2nd ed. 1979).

    >>> from barwright.rhythm.text import parse_symbols
    >>> triplet_groups(parse_symbols("et et et q qt et"))
    ((0, 1, 2), (4, 5))
    """
    groups: list[tuple[int, ...]] = []
    group: list[int] = []
    lasts = Fraction(0)
    for index, symbol in enumerate(symbols):
        member = symbol.value is not None and symbol.value.triplet
        if group and (not member or (len(group) > 1 and lasts in NAMES)):
            groups.append(tuple(group))
            group, lasts = [], Fraction(0)
        if symbol.value is not None and member:
            group.append(index)
            lasts += symbol.value.length
    return (*groups, tuple(group)) if group else tuple(groups)
