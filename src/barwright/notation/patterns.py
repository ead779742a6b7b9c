"""Beat patterns: what of a measure is read at a glance, and when method books teach it.

A figure is what fills one beat, or one group, or several of them that no symbol parts. Notes and rests that fill whole
beats by themselves, such as a half note, are plain: they belong to no figure.

Source of the order: district scope-and-sequence documents; where these differ, common practice of band method books.
"""

from collections.abc import Iterable
from functools import cache
from itertools import pairwise

from barwright.notation.metrical_frame import QUARTER, Frame
from barwright.rhythm.measure import Symbol, Symbols, with_tie
from barwright.rhythm.text import format_symbols, parse_symbols

# Figures that come new at each level; a level has those of the levels before it, too. Those of three eighths are for
# 6/8 and its kin, where they come in grade 7; before that they stand in 3/8 alone.
NEW_AT_LEVEL: dict[str, tuple[str, ...]] = {
    "grade 3": ("e e",),
    "grade 4": (),
    "grade 5": ("q. e", "e re", "re e", "s s s s", "e s s", "s s e", "s s"),
    "grade 6": ("e q e", "e. s", "et et et", "e q.", "e e e", "q e"),
    "grade 7": ("q re", "e e re", "rq re", "s e s", "re s s", "s s re"),
    "grade 8": (
        *("e q", "e. s e", "s s s s s s", "e s s e", "e e s s", "s s e e", "q s s", "re e e", "rq e", "e re re"),
        *("s e.", "qt qt qt"),
    ),
    "grade 9": ("e re e", "q.. s", "h.. e"),
}
LEVELS = tuple(NEW_AT_LEVEL)
# Figures that a reader of any level takes in at once: equal notes, and the long and short of three (common practice).
EASY = frozenset({"e e", "s s", "s s s s", "e e e", "q e", "s s s s s s", "rq re"})
# What a measure of running sixteenths is made of.
SIXTEENTHS = frozenset({"s s s s", "s s s s s s"})
RUNNING = SIXTEENTHS | {"e e", "e e e"}


def figures_up_to(level: str) -> tuple[str, ...]:
    """The figures of a level and of all before it.

    >>> figures_up_to("grade 4")
    ('e e',)
    """
    return tuple(figure for each in LEVELS[: LEVELS.index(level) + 1] for figure in NEW_AT_LEVEL[each])


@cache
def pulses(frame: Frame) -> tuple[int, ...]:
    """Where figures begin and end, in ticks, the end of the measure last: the felt beats, but quarters in 2/2."""
    onsets = [0]
    for (start, end), division in zip(pairwise(frame.beats), frame.division, strict=True):
        step = QUARTER if division == 2 and end - start > QUARTER else end - start
        onsets += range(start + step, end + 1, step)
    return tuple(onsets)


def untied(symbols: Symbols) -> Symbols:
    """Symbols without their ties: a tie leads from one figure to the next and is no part of it."""
    return tuple(with_tie(s, False) if s.tied else s for s in symbols)


def figure_name(symbols: Symbols) -> str:
    """What a figure is called: its rhythm text without ties; empty for what is plain.

    >>> figure_name(parse_symbols("e e~")), figure_name(parse_symbols("h"))
    ('e e', '')
    """
    return format_symbols(untied(symbols)) if len(symbols) > 1 else ""


def figures_in(symbols: Symbols, frame: Frame) -> tuple[Symbols, ...]:
    """The groups of symbols of a full measure, each from a beat to the next one on which a symbol begins.

    >>> from barwright.rhythm.conventions import Conventions
    >>> from barwright.notation.metrical_frame import frames, print_rules
    >>> from barwright.rhythm.meter import parse_meter
    >>> (frame,) = frames(parse_meter("4/4"), print_rules(Conventions()))
    >>> [format_symbols(each) for each in figures_in(parse_symbols("q. e e s s q"), frame)]
    ['q. e', 'e s s', 'q']
    """
    figures: list[Symbols] = []
    last = onset = 0
    for index, symbol in enumerate(symbols, start=1):
        onset += frame.capacity if symbol.value is None else symbol.value.ticks
        if onset in pulses(frame):
            figures.append(symbols[last:index])
            last = index
    return (*figures, symbols[last:]) if last < len(symbols) else tuple(figures)


def beginnings(figures: Iterable[str]) -> frozenset[Symbols]:
    """All that these figures may begin with, and the whole figures."""
    every = [parse_symbols(figure) for figure in figures]
    return frozenset(symbols[: n + 1] for symbols in every for n in range(len(symbols)))


def is_short_rest(symbol: Symbol, pulse: int) -> bool:
    """Whether it is a rest shorter than a beat of so many ticks."""
    return symbol.silent and symbol.value is not None and symbol.value.ticks < pulse
