"""The spoken description of a figure as tokens of no language: what a sighted student sees, in order, and no more.

Totals, beats and places are never told, since they are what is asked. Source: text alternatives that do not give the
answer away, WCAG 2.2 success criterion 1.1.1 (the exception for tests); rules of wording, common practice.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal, NamedTuple

from barwright.counting.rows import format_row
from barwright.notation.beaming import Groups, beam_groups
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Figure
from barwright.rhythm.measure import Symbol, Symbols, triplet_groups

# What a word stands for, its `name` and its `numbers`:
#   measures     how many measures are shown                                                      (3,)
#   signature    the numbers of the time signature, the bottom one last; 2+3/8 has three          (3, 4)
#   measure      the next measure and its number, as printed or from 1                            (2,)
#   note, rest   name of the plain value: whole to sixteenth; how many alike, dots of each        (2, 1)
#   blank        a place to fill
#   marked       the next symbol is the marked one
#   tie          the note before is tied to the next one
#   beam         notes up to `beam-end` share a beam
#   triplet      symbols up to `triplet-end` are one triplet
#   counts       name: the counts printed under the measure, as text
#   barline      the end of a measure that began before a blank, and goes on after it
WordKind = Literal[
    "measures",
    "signature",
    "measure",
    "note",
    "rest",
    "blank",
    "marked",
    "tie",
    "beam",
    "beam-end",
    "triplet",
    "triplet-end",
    "counts",
    "barline",
]
_END: dict[WordKind, WordKind] = {"beam": "beam-end", "triplet": "triplet-end"}


class Word(NamedTuple):
    """One token of a description; the table above says what `name` and `numbers` hold for each kind."""

    kind: WordKind
    name: str = ""
    numbers: tuple[int, ...] = ()


def described(figure: Figure, conventions: Conventions) -> tuple[Word, ...]:
    """The words of a figure, measure by measure.

    Neighbours alike are one word with their number, except where the time signature is hidden: there each symbol is
    told alone, so that no number adds up to the answer, and beams are told, since they show the groups. The
    full-measure rest and the whole rest are both the whole rest sign, as they look alike. Symbols on their own have no
    measures; neither has what stands after a blank, which goes on with its measure.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> for word in described(Figure(parse_excerpt("3/4 q q _")), Conventions()):
    ...     print(word.kind, word.name or "-", *word.numbers)
    measures - 1
    signature - 3 4
    note quarter 2 0
    blank -
    """
    if figure.frame in ("before", "after"):
        return _beside_blank(figure, conventions)
    excerpt, told = figure.excerpt, []
    measures = figure.frame == "measures"
    if measures:
        told.append(Word("measures", numbers=(len(excerpt.measures),)))
    if figure.signature:
        meter = excerpt.meter
        told.append(Word("signature", numbers=(*(meter.groups or (meter.top,)), meter.bottom)))
    for number in range(len(excerpt.measures)):
        if len(excerpt.measures) > 1:
            shown = number + (0 if figure.numbers and excerpt.pickup else 1)
            told.append(Word("measure", numbers=(shown,)))
        told += _measure(figure, number, conventions)
        if figure.counts:
            told.append(Word("counts", format_row(figure.counts[number : number + 1])))
    return tuple(told)


def _beside_blank(figure: Figure, conventions: Conventions) -> tuple[Word, ...]:
    """The words of the whole figure that come before its blank, or those after it with the barline of its measure."""
    whole = described(replace(figure, frame="measures", signature=True), conventions)
    at = whole.index(Word("blank"))
    if figure.frame == "after":
        rest = whole[at + 1 :]
        end = next((n for n, word in enumerate(rest) if word.kind in ("counts", "measure")), len(rest))
        return (*rest[:end], Word("barline"), *rest[end:])
    return tuple(word for word in whole[:at] if figure.signature or word.kind != "signature")


def _measure(figure: Figure, number: int, conventions: Conventions) -> tuple[Word, ...]:
    excerpt = figure.excerpt
    symbols = excerpt.measures[number]
    mark = excerpt.mark[1] if excerpt.mark is not None and excerpt.mark[0] == number else None
    if figure.frame != "measures" or figure.signature:
        return _told(symbols, mark, None)
    beams = beam_groups(symbols, excerpt.meter, conventions, start=excerpt.start_of(number))
    return _told(symbols, mark, beams)


def _told(symbols: Symbols, mark: int | None, beams: Groups | None) -> tuple[Word, ...]:
    """The words of a measure; with `beams`, those are told, and each symbol alone."""
    groups: list[tuple[WordKind, tuple[int, ...]]] = [("triplet", group) for group in triplet_groups(symbols)]
    groups += [("beam", group) for group in beams or ()]
    # The wider group opens first and closes last; a beam holds the triplet that it is as wide as.
    groups.sort(key=lambda group: (group[1][0] - group[1][-1], group[0]))
    edges = {index for _, group in groups for index in (group[0], group[-1] + 1)}
    told: list[Word] = []
    for run in _runs(symbols, edges, mark, alone=beams is not None):
        first, last = run[0], run[-1]
        told += [Word(kind) for kind, group in groups if group[0] == first]
        if first == mark:
            told.append(Word("marked"))
        told.append(_word(symbols[first], len(run)))
        if symbols[last].tied:
            told.append(Word("tie"))
        told += [Word(_END[kind]) for kind, group in reversed(groups) if group[-1] == last]
    return tuple(told)


def _runs(symbols: Symbols, edges: set[int], mark: int | None, *, alone: bool) -> Iterator[list[int]]:
    """Indices of neighbours that are told as one: alike, not tied or marked, in the same groups."""
    run: list[int] = []
    before: Symbol | None = None  # the symbol that the run may go on with
    for index, symbol in enumerate(symbols):
        if run and (symbol is not before or index == mark or index in edges):
            yield run
            run = []
        run.append(index)
        by_itself = alone or symbol.tied or symbol.kind == "blank" or index == mark
        before = None if by_itself else symbol
    yield run


def _word(symbol: Symbol, number: int) -> Word:
    if symbol.kind == "blank":
        return Word("blank")
    if symbol.value is None:
        return Word("rest", "whole", (number, 0))
    return Word("note" if symbol.kind == "note" else "rest", symbol.value.name, (number, symbol.value.dots))
