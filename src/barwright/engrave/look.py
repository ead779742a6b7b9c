"""What is seen of a figure, before any font: all that its picture depends on, so that figures alike share a picture."""

from collections.abc import Sequence
from typing import NamedTuple

from barwright.engrave.beams import Bar, beamed
from barwright.engrave.figure_texts import labelled
from barwright.engrave.placed import Owner
from barwright.errors import RhythmError
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.measure import Symbols, total
from barwright.rhythm.meter import Meter


class MeasureLook(NamedTuple):
    """One measure: its symbols, the bars that join their stems, and each symbol's count (no `labels`: none has one).

    What is not seen, such as where in the meter it begins, is not here.
    """

    symbols: Symbols
    bars: tuple[Bar, ...]
    labels: tuple[str, ...] = ()


class Look(NamedTuple):
    """A whole figure: `signature` is the meter if it is printed, `number` that of the first measure if they have one.

    `frame` and `final` as in `Figure`; `mark` is the marked symbol as (measure, index).
    """

    measures: tuple[MeasureLook, ...]
    signature: Meter | None
    frame: str
    mark: Owner | None
    number: int | None
    final: bool


def look(figure: Figure, conventions: Conventions) -> Look:
    """What is seen of a figure; RhythmError if the counts do not fit the symbols."""
    excerpt, counts = figure.excerpt, figure.counts
    if counts and len(counts) != len(excerpt.measures):
        rows, there = len(counts), len(excerpt.measures)
        raise RhythmError(f"a figure of {there} measures has counts for {rows}: give a row for each measure")
    measures = [
        MeasureLook(symbols, _bars(figure, number, conventions), _labels(symbols, counts, number))
        for number, symbols in enumerate(excerpt.measures)
    ]
    return Look(
        tuple(measures),
        excerpt.meter if figure.signature else None,
        figure.frame,
        excerpt.mark,
        (0 if excerpt.pickup else 1) if figure.numbers else None,
        figure.final,
    )


def _labels(symbols: Symbols, counts: Sequence[Sequence[str]], number: int) -> tuple[str, ...]:
    return tuple(labelled(symbols, counts[number], measure=number)) if counts else ()


def _bars(figure: Figure, number: int, conventions: Conventions) -> tuple[Bar, ...]:
    excerpt = figure.excerpt
    symbols, end = excerpt.measures[number], excerpt.meter.capacity
    start = figure.start if figure.frame == "fragment" else excerpt.start_of(number)
    if excerpt.pickup and number == len(excerpt.measures) - 1:  # the last measure may be shortened by the pickup
        short = end - total(excerpt.measures[0], excerpt.meter)
        end = short if total(symbols, excerpt.meter) < short else end
    if figure.frame == "after" and figure.start:  # what stands after the blank begins there
        end = figure.start + total(symbols, excerpt.meter)
    return beamed(symbols, excerpt.meter, conventions, start=start, end=end)
