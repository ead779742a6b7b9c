"""Which notes share a beam, and whether the beams of a rhythm show its meter.

Source: Open University, An introduction to music theory, 3.6, 3.9 (what handbooks allow and forbid); E. Gould,
Behind Bars (2011) on beams in 4/4 (from memory); sixteenths break at each quarter beat (common practice).
"""

from fractions import Fraction
from itertools import groupby, pairwise
from typing import NamedTuple

from barwright.notation.metrical_frame import (
    DOTTED_QUARTER,
    HALF,
    QUARTER,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.grouping import group_onsets, shown_groups
from barwright.rhythm.measure import Symbols, ticks_of
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import ticks

Groups = tuple[tuple[int, ...], ...]

BEAM_4_4 = ("quarter", "half")


class _Place(NamedTuple):
    """A symbol in its measure: where, flags (0 for all but short notes), triplet member; onset and end in ticks."""

    at: int
    flags: int
    triplet: bool
    onset: int
    end: int


def beam_groups(symbols: Symbols, meter: Meter, conventions: Conventions, *, start: Fraction = Fraction(0)) -> Groups:
    """Indices of the notes that share a beam, group by group; a note with a flag of its own is in none.

    `start` is the onset of the first symbol in whole notes from the start of the measure. Rests, longer notes, barlines
    and the ends of beats break a beam; triplet members beam only with their own triplet.

    >>> from barwright.rhythm.text import parse_symbols
    >>> beam_groups(parse_symbols("e e e e q"), Meter(3, 4), Conventions())
    ((0, 1), (2, 3))
    >>> beam_groups(parse_symbols("e e e e e e"), Meter(6, 8), Conventions())
    ((0, 1, 2), (3, 4, 5))
    """
    return _beam_groups(symbols, meter, conventions.beam_4_4, start)


def _beam_groups(symbols: Symbols, meter: Meter, beam_4_4: str, start: Fraction) -> Groups:
    cells = _cells(symbols, meter, beam_4_4, start)
    groups: list[tuple[int, ...]] = []
    for run in _runs(_places(symbols, meter, start)):
        parts = _triplets(run) if run[0].triplet else _parted(run, cells, meter.ticks)
        groups += [tuple(place.at for place in part) for part in parts if len(part) > 1]
    return tuple(groups)


def _places(symbols: Symbols, meter: Meter, start: Fraction) -> list[_Place]:
    places, onset = [], ticks(start)
    for index, symbol in enumerate(symbols):
        value, end = symbol.value, onset + ticks_of(symbol, meter)
        flags = value.flags if value is not None and symbol.kind == "note" else 0
        places.append(_Place(index, flags, value is not None and value.triplet, onset, end))
        onset = end
    return places


def _cells(symbols: Symbols, meter: Meter, beam_4_4: str, start: Fraction) -> tuple[int, ...]:
    """Where beams of plain eighths must begin anew, in ticks, the end of the measure last."""
    if meter.kind == "additive" and meter.bottom == 8:
        return tuple(map(ticks, group_onsets(shown_groups(symbols, meter, start=start), meter)))
    step = QUARTER
    if meter.kind == "compound" or (meter.top, meter.bottom) == (3, 8):
        step = DOTTED_QUARTER
    elif meter.bottom == 2 or ((meter.top, meter.bottom) == (4, 4) and beam_4_4 == "half"):
        step = HALF
    return (*range(0, meter.ticks, step), meter.ticks)


def _runs(measure: list[_Place]) -> list[list[_Place]]:
    """Neighbours that could share a beam: notes with flags, triplet members apart from the others."""
    runs = groupby(measure, lambda place: (place.flags > 0, place.triplet))
    return [list(run) for (flagged, _), run in runs if flagged]


def _triplets(run: list[_Place]) -> list[list[_Place]]:
    """A run of triplet members cut at every full quarter, counted from its first note."""
    first = run[0].onset
    return [list(part) for _, part in groupby(run, lambda place: (place.onset - first) // QUARTER)]


def _parted(run: list[_Place], cells: tuple[int, ...], capacity: int) -> list[list[_Place]]:
    """The run cut at the cells; where a half-note cell holds sixteenths, at each quarter too."""

    def cell(place: _Place) -> tuple[int, int]:
        turn, within = divmod(place.onset, capacity)
        return turn, sum(c <= within for c in cells)

    def quarter(place: _Place) -> int:
        within = place.onset % capacity
        return (within - max(c for c in cells if c <= within)) // QUARTER

    parts = []
    for (_, number), group in groupby(run, cell):
        part = list(group)
        wide = cells[number] - cells[number - 1] == HALF
        mixed = any(place.flags > 1 for place in part)
        parts += [list(each) for _, each in groupby(part, quarter)] if wide and mixed else [part]
    return parts


def beams_decide(excerpt: Excerpt, other: Meter) -> bool:
    """Whether the printed beams show the excerpt's own meter and rule out `other`, a meter of equal capacity.

    They do if one beam joins notes that no handbook joins in `other`: three eighths in 3/4, or two eighths over the
    middle of 6/8. Quarter notes never decide, and neither do beams between 4/4 and 2/2, where both groupings are in
    use. The answer holds for every value of the convention `beam_4_4`.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> beams_decide(parse_excerpt("3/4 e e e e e e"), Meter(6, 8))
    True
    >>> beams_decide(parse_excerpt("3/4 q q q"), Meter(6, 8))
    False
    """
    return all(_foreign(excerpt, other, beam_4_4) for beam_4_4 in BEAM_4_4)


def _foreign(excerpt: Excerpt, other: Meter, beam_4_4: str) -> bool:
    for number, symbols in enumerate(excerpt.measures):
        start = excerpt.start_of(number)
        places = _places(symbols, excerpt.meter, start)
        for group in _beam_groups(symbols, excerpt.meter, beam_4_4, start):
            if not _in_use(places[group[0]].onset, places[group[-1]].end, other):
                return True
    return False


def _in_use(onset: int, end: int, meter: Meter) -> bool:
    """Whether handbooks print one beam from `onset` to `end`, in ticks, in this meter."""
    if (meter.top, meter.bottom) in ((2, 4), (3, 8)) or (meter.kind == "additive" and not meter.groups):
        return True
    if meter.kind == "additive":
        return any(a <= onset and end <= b for a, b in pairwise(map(ticks, group_onsets(meter.groups, meter))))
    step = {"compound": DOTTED_QUARTER}.get(meter.kind, QUARTER)
    if meter.bottom == 2 or (meter.top, meter.bottom) == (4, 4):
        step = HALF
    if end <= (onset // step + 1) * step:
        return True
    # 3/4: four eighths that stand for a half note (Open University 3.6); no other meter prints all six
    return meter.kind == "simple" and onset % QUARTER == 0 and end - onset == HALF
