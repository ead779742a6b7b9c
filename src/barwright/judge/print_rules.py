"""How symbols look, sound and may be printed, as far as the judge must know it."""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import groupby

from barwright.items.taught import Taught
from barwright.judge.reasons import reason
from barwright.notation.legality import is_legal, notation_faults
from barwright.notation.reading_ease import syncopated
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import (
    Symbol,
    Symbols,
    ended,
    length_of,
    note,
    total,
)
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_rhythm, format_symbol, format_symbols
from barwright.rhythm.values import NoteValue

# One sound or silence after another: (whether it sounds, its length in whole notes).
Sounds = tuple[tuple[bool, Fraction], ...]
_WHOLE = NoteValue(Fraction(1))
_FINEST_LENGTH = Fraction(1, 16)
_FINEST = note(_FINEST_LENGTH)


def length_of_all(symbols: Symbols, meter: Meter) -> Fraction:
    """Sum of the lengths in whole notes, a blank being nothing: remembered, since a measure is measured often."""
    return total(symbols, meter)


def whole_rest_sign(symbol: Symbol) -> bool:
    """Whether the sign is the whole rest, which means four quarters or a whole measure of silence (common practice)."""
    return symbol.kind == "measure-rest" or (symbol.kind == "rest" and symbol.value == _WHOLE)


def lone_whole_rest(symbols: Symbols) -> bool:
    """Whether a measure holds nothing but a whole-rest sign: full in any meter (Open University 4.4)."""
    return len(symbols) == 1 and whole_rest_sign(symbols[0])


def look(symbols: Symbols) -> str:
    """What the eye sees, as rhythm text: the full-measure rest has the sign of the whole rest."""
    return " ".join("rW" if whole_rest_sign(s) else format_symbol(s) for s in symbols)


def sounds(symbols: Symbols, meter: Meter) -> Sounds:
    """What the ear hears: tied notes are one sound, rests in a row one silence.

    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.text import parse_symbols
    >>> sounds(parse_symbols("q~ q"), parse_meter("4/4")) == sounds(parse_symbols("h"), parse_meter("4/4"))
    True
    """
    pieces: list[tuple[bool, Fraction]] = []
    joined = False
    for symbol in symbols:
        length = length_of(symbol, meter)
        silence = bool(pieces) and symbol.silent and not pieces[-1][0]
        if joined or silence:
            pieces[-1] = (pieces[-1][0], pieces[-1][1] + length)
        else:
            pieces.append((not symbol.silent, length))
        joined = symbol.tied
    return tuple(pieces)


def heard(sounding: Sounds, conventions: Conventions) -> Sounds:
    """The sounds as they are heard; where only onsets count (percussion, clapping), a silence joins the sound before.

    >>> from dataclasses import replace
    >>> half, rested = ((True, Fraction(1, 2)),), ((True, Fraction(1, 4)), (False, Fraction(1, 4)))
    >>> clapped = replace(Conventions(), equivalence="onsets")
    >>> [heard(half, each) == heard(rested, each) for each in (Conventions(), clapped)]
    [False, True]
    """
    if conventions.equivalence == "sounding":
        return sounding
    joined: list[tuple[bool, Fraction]] = []
    for loud, length in sounding:
        if joined and not loud:
            joined[-1] = (joined[-1][0], joined[-1][1] + length)
        else:
            joined.append((loud, length))
    return tuple(joined)


def kind_of(symbols: Symbols) -> str:
    """`notes`, `rests` or `mixed`."""
    silent = {s.silent for s in symbols}
    return "mixed" if len(silent) == 2 else "rests" if silent == {True} else "notes"


def whole_groups(symbols: Symbols) -> bool:
    """Whether triplet members stand in whole groups: a run of them lasts a length that can be written without."""
    runs = (
        tuple(run) for triplet, run in groupby(symbols, lambda s: s.value is not None and s.value.triplet) if triplet
    )
    return all(sum(s.value.length for s in run if s.value is not None).denominator % 3 for run in runs)


def ties_lead_on(symbols: Symbols, after: Symbol | None) -> bool:
    """Whether every tie leads to a note; `after` is the symbol behind the last one, a blank counts as a note."""
    pairs = zip(symbols, (*symbols[1:], after), strict=True)
    return all(b is not None and not b.silent for a, b in pairs if a.tied)


def filler(gap: Fraction) -> Symbols | None:
    """Sixteenth notes for a gap: they never change how the rest of a measure is to be printed; None if they cannot."""
    count = gap / _FINEST_LENGTH
    return (_FINEST,) * int(count) if count.denominator == 1 else None


def printable_rests(taught: Taught, conventions: Conventions) -> bool:
    """Whether dotted rests are printed in some taught meter."""
    compound = any(m.kind == "compound" for m in taught.meters)
    return conventions.dotted_rests == "all" or (conventions.dotted_rests == "compound_only" and compound)


def print_faults(symbols: Symbols, meter: Meter, conventions: Conventions) -> tuple[str, ...]:
    """The faults of one full measure as printed; a tie from its last note over the barline is none."""
    symbols = ended(symbols)
    return () if is_legal(symbols, meter, conventions) else notation_faults(symbols, meter, conventions)


def measure_faults(
    measures: tuple[Symbols, ...], meter: Meter, conventions: Conventions, *, pickup: bool = False
) -> Iterator[str]:
    """Reasons against printing these measures so: not full, or illegal notation. Measures with a blank are left out.

    A pickup is judged with notes before it, a last measure that a pickup shortens with notes behind it.
    """
    last = len(measures) - 1
    for number, symbols in enumerate(measures):
        if any(s.kind == "blank" for s in symbols):
            continue
        notes: Symbols | None = ()
        lacking = meter.capacity - length_of_all(symbols, meter)
        if lacking and pickup and (number == 0 or (number == last and lacking == length_of_all(measures[0], meter))):
            notes = filler(lacking)
        elif lacking:
            notes = None
        if notes is None:
            yield reason("not-full", format_rhythm(meter, symbols))
        elif faults := print_faults((*notes, *symbols) if number == 0 else (*symbols, *notes), meter, conventions):
            yield reason("illegal-notation", f"{format_rhythm(meter, symbols)} ({', '.join(faults)})")


def syncopation_faults(measures: Iterable[Symbols], meter: Meter, taught: Taught) -> Iterator[str]:
    """Reasons against full measures that hold a sound from off the beat over a beat where that was not taught."""
    if not taught.syncopation:
        for symbols in measures:
            if all(s.kind != "blank" for s in symbols) and syncopated(symbols, meter):
                yield reason("untaught", f"syncopation in {format_rhythm(meter, symbols)}")


def fragment_faults(symbols: Symbols, taught: Taught, conventions: Conventions) -> Iterator[str]:
    """Reasons against offering these symbols on their own."""
    text = format_symbols(symbols)
    if not ties_lead_on(symbols, None):
        yield reason("dangling-tie", text)
    if not whole_groups(symbols):
        yield reason("broken-triplet", text)
    dotted = any(s.silent and s.value is not None and s.value.dots for s in symbols)
    if dotted and not printable_rests(taught, conventions):
        yield reason("unprintable-choice", text)
