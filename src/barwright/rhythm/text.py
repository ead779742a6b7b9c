"""One-line rhythm text, both ways: `parse_excerpt` and `format_excerpt` are each other's inverse.

    3/4 q. e q | h.        meter, then symbols; | is a barline
    w h q e s              whole, half, quarter, eighth, sixteenth note; r before it makes a rest (rq)
    . t ~                  after it: dot, triplet member, tie to the next note, in this order
    rW                     full-measure rest; rw is a whole rest that means four quarters
    _                      blank;   * before a symbol marks it (*q)

A first measure that is too short, with another after it, is a pickup; the last measure is then full, or shorter by as
much. A single measure that is too short is none: it is a fault.
"""

import re
from collections.abc import Sequence
from fractions import Fraction
from functools import cache, lru_cache
from math import lcm

from barwright.errors import RhythmError
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import (
    BLANK,
    FULL_MEASURE_REST,
    Symbol,
    Symbols,
    rest,
    total,
)
from barwright.rhythm.meter import Meter, parse_meter
from barwright.rhythm.values import PLAIN, NoteValue
from barwright.showing import shown

LETTERS = {"w": "whole", "h": "half", "q": "quarter", "e": "eighth", "s": "sixteenth"}
_LETTER_OF = {PLAIN[name]: letter for letter, name in LETTERS.items()}
_TOKEN = re.compile(r"(r?)([whqes])(\.{0,2})(t?)(~?)")
HOW = "write symbols as w h q e s, rests as rw rh rq re rs or rW, then . for a dot, t for a triplet, ~ for a tie"


@cache
def parse_symbol(token: str) -> Symbol:
    """The symbol of one token; RhythmError for an unknown one.

    >>> parse_symbol("rq").kind, parse_symbol("q.").value.dots
    ('rest', 1)
    """
    if token == "_":
        return BLANK
    if token == "rW":
        return FULL_MEASURE_REST
    match = _TOKEN.fullmatch(token)
    if match is None:
        raise RhythmError(f"symbol {shown(token)} cannot be read: {HOW}")
    silent, letter, dots, triplet, tie = match.groups()
    value = NoteValue(PLAIN[LETTERS[letter]], len(dots), bool(triplet))
    return Symbol("rest" if silent else "note", value, bool(tie))


@cache
def format_symbol(symbol: Symbol) -> str:
    """The token of one symbol; the inverse of `parse_symbol`."""
    if symbol.value is None:
        return "_" if symbol.kind == "blank" else "rW"
    value = symbol.value
    dots, triplet, tie = "." * value.dots, "t" * value.triplet, "~" * symbol.tied
    return f"{'r' * symbol.silent}{_LETTER_OF[value.plain]}{dots}{triplet}{tie}"


def parse_symbols(text: str) -> Symbols:
    """Symbols of one measure, e.g. `q. e`; RhythmError if empty or unknown."""
    symbols = tuple(parse_symbol(token) for token in text.split())
    if not symbols:
        raise RhythmError(f"no symbols in {shown(text)}: {HOW}")
    return symbols


def format_symbols(symbols: Symbols) -> str:
    """`q. e`; the inverse of `parse_symbols`."""
    return " ".join(map(format_symbol, symbols))


def parse_measures(text: str) -> tuple[Symbols, ...]:
    """Measures of `q q | h`."""
    return tuple(parse_symbols(measure) for measure in text.split("|"))


def format_measures(measures: tuple[Symbols, ...]) -> str:
    """`q q | h`; the inverse of `parse_measures`."""
    return " | ".join(map(format_symbols, measures))


def parse_groups(text: str) -> tuple[Symbols, ...]:
    """Groups of symbols in order of length, of `e e < q < h`."""
    return tuple(parse_symbols(group) for group in text.split("<"))


def format_groups(groups: tuple[Symbols, ...]) -> str:
    """`e e < q < h`; the inverse of `parse_groups`."""
    return " < ".join(format_symbols(g) for g in groups)


def parse_excerpt(text: str, *, full: bool = True) -> Excerpt:
    """The excerpt of `3/4 q. e q | h.`; with `full` every measure without a blank must be exactly full.

    >>> format_excerpt(parse_excerpt("3/4 q | h q | q _"))
    '3/4 q | h q | q _'

    Raises RhythmError for an unknown symbol or meter, a second mark, or a measure that is not full.
    """
    signature, _, body = text.strip().partition(" ")
    meter, mark, measures = parse_meter(signature), None, list[Symbols]()
    parts = body.strip().removesuffix("|").split("|")
    for number, part in enumerate(parts):
        tokens = part.split()
        if not tokens and len(parts) > 1:
            empty = number + (not _short(measures[:1], meter))  # the measure after a pickup is the first
            raise RhythmError(f"measure {empty} is empty: write rW for a measure of rest, or take one | away")
        if not tokens:
            raise RhythmError(f"no symbols in {shown(text)}: {HOW}")
        for index, token in enumerate(tokens):
            if token.startswith("*"):
                if mark is not None:
                    raise RhythmError(f"{shown(text)} marks two symbols: mark one")
                mark, tokens[index] = (number, index), token[1:]
        measures.append(parse_symbols(" ".join(tokens)))
    pickup = len(measures) > 1 and _short(measures[:1], meter)
    excerpt = Excerpt(meter, tuple(measures), pickup, mark)
    if full:
        _check(excerpt)
    return excerpt


def _short(measures: Sequence[Symbols], meter: Meter) -> bool:
    """Whether the first measure, if there is one, is whole and yet too short, as a pickup is."""
    return any(total(m, meter) < meter.capacity and all(s.kind != "blank" for s in m) for m in measures)


def _check(excerpt: Excerpt) -> None:
    last = len(excerpt.measures) - 1
    for number, symbols in enumerate(excerpt.measures):
        if any(s.kind == "blank" for s in symbols) or (excerpt.pickup and number == 0):
            continue
        short = excerpt.meter.capacity - total(excerpt.measures[0], excerpt.meter)
        completes = short if excerpt.pickup and number == last else None
        if total(symbols, excerpt.meter) not in (excerpt.meter.capacity, completes):
            fault = _not_full(symbols, excerpt.meter, completes)
            raise RhythmError(f"measure {number + (not excerpt.pickup)} {fault}")
    ends = excerpt.symbols
    for symbol, after in zip(ends, (*ends[1:], None), strict=True):
        if symbol.tied and (after is None or after.kind not in ("note", "blank")):
            raise RhythmError(f"{shown(format_symbol(symbol))} is tied to nothing: a note must follow a tie")


def _not_full(symbols: Symbols, meter: Meter, completes: Fraction | None) -> str:
    """What a measure holds that is not full, and the mend; `completes`: what it may hold after a pickup."""
    have, need = total(symbols, meter), meter.capacity
    held, needed, apart = in_parts(meter, have, need, abs(need - have))
    mend = f"{'add' if have < need else 'take away'} {apart}"
    if symbols == (rest(PLAIN["whole"]),):
        mend = f"write rW for the rest of a whole measure, or {mend}"
    if completes is not None:
        mend += f"; the last measure may also hold {in_parts(meter, completes)[0]}, and complete the pickup"
    return f"holds {held} but {meter} needs {needed}: {mend}"


def in_parts(meter: Meter, *lengths: Fraction) -> tuple[str, ...]:
    """Lengths as parts of a whole note on one denominator, which is the meter's if it will do.

    >>> in_parts(parse_meter("3/4"), Fraction(1, 2), Fraction(3, 4)), in_parts(parse_meter("3/4"), Fraction(5, 8))
    (('2/4', '3/4'), ('5/8',))
    """
    base = lcm(meter.bottom, *(length.denominator for length in lengths))
    return tuple(f"{length * base}/{base}" for length in lengths)


@lru_cache(1 << 12)
def format_excerpt(excerpt: Excerpt) -> str:
    """`3/4 q *e | h`; the inverse of `parse_excerpt`."""
    measures = [list(map(format_symbol, m)) for m in excerpt.measures]
    if excerpt.mark is not None:
        number, index = excerpt.mark
        measures[number][index] = "*" + measures[number][index]
    return f"{excerpt.meter} {' | '.join(map(' '.join, measures))}"


def format_rhythm(meter: Meter, *measures: Symbols) -> str:
    """Rhythm text of bare measures, for messages."""
    return f"{meter} {format_measures(measures)}"
