"""Rhythms to lay out and draw: by text, exhaustively, and drawn by chance from rich meters."""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from random import Random
from typing import Any

from barwright.engrave.font import load_font
from barwright.engrave.layout import layout
from barwright.engrave.placed import Layout, Placed
from barwright.notation.beaming import beam_groups
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt, Figure
from barwright.rhythm.measure import (
    FULL_MEASURE_REST,
    Symbol,
    Symbols,
    note,
    rest,
    total,
)
from barwright.rhythm.meter import Meter, parse_meter
from barwright.rhythm.text import parse_excerpt

USUAL = Conventions()
FONTS = ("Bravura", "Leland", "Leipzig", "Petaluma", "Gootville")
BEGINNERS = ("2/4", "3/4", "4/4")
LENGTHS = [Fraction(1), Fraction(1, 2), Fraction(1, 4), Fraction(1, 8)]


def laid_out(text: str, font: str = "Bravura", *, full: bool = True, **shown: Any) -> Layout:
    """The layout of a rhythm text; `shown` goes to Figure."""
    figure = Figure(parse_excerpt(text, full=full), **shown)
    return layout(figure, load_font(font), USUAL)


def of_role(laid: Layout, role: str) -> list[Placed]:
    """What has this role, from left to right."""
    return sorted((p for p in laid.placed if p.role == role), key=lambda p: p.box.x0)


@cache
def all_fillings(room: Fraction, shortest: Fraction) -> tuple[Symbols, ...]:
    """Every succession of plain notes and rests, none shorter than that, that fills the room: good style or not."""
    if not room:
        return ((),)
    return tuple(
        (first, *others)
        for plain in LENGTHS
        if shortest <= plain <= room
        for first in (note(plain), rest(plain))
        for others in all_fillings(room - plain, shortest)
    )


def full_measures(shortest: str = "1/4") -> Iterator[Excerpt]:
    """Every measure of 2/4, 3/4, 4/4 in notes and rests down to this value, and the full-measure rest."""
    for meter in map(parse_meter, BEGINNERS):
        yield Excerpt(meter, ((FULL_MEASURE_REST,),))
        for symbols in all_fillings(meter.capacity, Fraction(shortest)):
            yield Excerpt(meter, (symbols,))


RICH = [
    *(note(p, dots) for p in (Fraction(1, 2), Fraction(1, 4), Fraction(1, 8)) for dots in (0, 1, 2)),
    *(rest(p, dots) for p in (Fraction(1, 2), Fraction(1, 4), Fraction(1, 8)) for dots in (0, 1)),
    *(note("1/16"), rest("1/16"), note("1/16")),
]
METERS = ("2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "9/8", "12/8", "5/8", "7/8", "2+3/8", "3+2+2/8")
TRIPLET = (note("1/8", triplet=True),) * 3


def chance_measure(meter: Meter, rng: Random) -> Symbols:
    """A measure in any values, ties and eighth triplets among them."""
    symbols: list[Symbol] = []
    while (room := meter.capacity - total(symbols, meter)) > 0:
        if room >= Fraction(1, 4) and rng.random() < 0.15:
            symbols += TRIPLET
            continue
        fitting = [s for s in RICH if s.value is not None and s.value.length <= room]
        symbols.append(rng.choice(fitting) if fitting else note("1/16"))
        if total(symbols, meter) > meter.capacity:  # a rest of less than a sixteenth cannot be filled: begin anew
            symbols.clear()
    return tuple(_tied(symbols, rng))


def _tied(symbols: list[Symbol], rng: Random) -> Iterator[Symbol]:
    for first, second in zip(symbols, [*symbols[1:], None], strict=True):
        both = first.kind == "note" and second is not None and second.kind == "note"
        yield Symbol(first.kind, first.value, tied=both and rng.random() < 0.3)


def chance_excerpts(count: int, *, measures: int = 1, seed: int = 1) -> Iterator[Excerpt]:
    """So many excerpts over all meters, always the same ones."""
    rng = Random(seed)
    for n in range(count):
        meter = parse_meter(METERS[n % len(METERS)])
        yield Excerpt(meter, tuple(chance_measure(meter, rng) for _ in range(measures)))


LABELS = (
    "1",
    "&",
    "(2)",
    "2-3",
    "(3-4)",
    "4-&",
    "1-&-2-&",
    "(1-&-2-&)",
    "la",
    "-1",
    "ta-a",
    "ka",
    "(sh)",
    "",
    "12",
    "W",
)


def chance_counts(excerpt: Excerpt, rng: Random) -> tuple[tuple[str, ...], ...]:
    """Labels of all shapes for the sounds and rests of an excerpt."""
    return tuple(
        tuple(rng.choice(LABELS) for n, s in enumerate(m) if s.kind != "blank" and not (n and m[n - 1].tied))
        for m in excerpt.measures
    )


def beamed(symbols: Symbols, meter: Meter) -> set[int]:
    """Indices of the notes that hang on beams."""
    return {n for group in beam_groups(symbols, meter, USUAL) for n in group}
