"""Errors of adding up a measure: printed symbols are tallied in place of their lengths, or a beat slips in or out.

These change only what is printed; the symbol that is chosen for a blank keeps its true value (engine rule).
"""

from fractions import Fraction
from itertools import pairwise

from barwright.misreadings.reading import (
    COMPLETION,
    ORDERING,
    SIGNATURES,
    Lengths,
    Misreading,
    Reading,
    parts,
    true_totals,
    with_lengths,
    with_values,
)
from barwright.rhythm.beaming import beam_groups
from barwright.rhythm.measure import Symbol, Symbols
from barwright.rhythm.meter import Meter

QUARTER, EIGHTH = Fraction(1, 4), Fraction(1, 8)
NOTHING, EIGHTH_PARTS = 0, parts(EIGHTH)


def _one_beat(symbol: Symbol, meter: Meter) -> Fraction | None:
    return None if symbol.kind == "blank" else meter.unit


def every_symbol_is_one_beat(reading: Reading) -> Reading | None:
    """What a student reads who counts the symbols and takes each for one beat."""
    return with_values(reading, _one_beat)


def notes_claim(reading: Reading, number: int) -> str:
    """The claim that a measure has so many notes; empty where that is true in some way of counting notes."""
    for measure in reading.excerpt.measures:
        notes = [s for s in measure if not s.silent]
        if number not in (len(measure), len(notes), sum(not s.tied for s in notes)):
            return f"notes {number}"
    return ""


def top_number_counts_the_notes(reading: Reading) -> Reading | None:
    """What a student reads who thinks that the top number tells how many notes and rests stand in a measure."""
    counted = with_values(reading, _one_beat)
    return (counted or reading)._replace(top=notes_claim(reading, reading.meter.top))


def _full_beat(symbol: Symbol, meter: Meter) -> Fraction | None:
    value = symbol.value
    short = symbol.kind == "note" and value is not None and value.length == EIGHTH
    return QUARTER if short and meter.bottom == 4 else None


def eighth_gets_a_full_beat(reading: Reading) -> Reading | None:
    """What a student reads who gives every eighth note one beat."""
    return with_values(reading, _full_beat)


def _halved_pairs(symbols: Symbols, lengths: tuple[int, ...], reading: Reading, start: Fraction) -> tuple[int, ...]:
    believed = list(lengths)
    for group in beam_groups(symbols, reading.meter, reading.conventions, start=start):
        if len(group) == 2 and all(lengths[i] == EIGHTH_PARTS for i in group):
            believed[group[1]] = NOTHING
    return tuple(believed)


def beamed_pair_is_one_eighth(reading: Reading) -> Reading | None:
    """What a student reads who takes two eighth notes under a beam for one eighth note."""
    excerpt = reading.excerpt
    pairs = (pair for measure in reading.lengths for pair in pairwise(measure))
    if (EIGHTH_PARTS, EIGHTH_PARTS) not in pairs:
        return None
    believed: Lengths = tuple(
        _halved_pairs(symbols, reading.lengths[n], reading, excerpt.start_of(n))
        for n, symbols in enumerate(excerpt.measures)
    )
    return with_lengths(reading, believed)


def _without_tied(symbols: Symbols, lengths: tuple[int, ...], held: bool) -> tuple[int, ...]:
    before = (held, *(s.tied for s in symbols[:-1]))
    return tuple(NOTHING if tied else length for tied, length in zip(before, lengths, strict=True))


def tied_note_takes_no_time(reading: Reading) -> Reading | None:
    """What a student reads who gives the second note of a tie no time, since it is not played again."""
    measures = reading.excerpt.measures
    if not any(s.tied for s in reading.excerpt.symbols):
        return None
    held = (False, *(m[-1].tied for m in measures[:-1]))
    believed = map(_without_tied, measures, reading.lengths, held)
    return with_lengths(reading, tuple(believed))


def _slipped(reading: Reading, over: int) -> Reading | None:
    """A slip in every measure that has more than one beat to count; None if none has."""
    return reading._replace(over=over) if max(true_totals(reading.excerpt)) > reading.unit else None


def one_beat_too_many_counted(reading: Reading) -> Reading | None:
    """What a student reads who slips while adding up and gets one beat too many.

    Counting along with a finger, the last beat of one note is counted again on the next (common practice).
    """
    return _slipped(reading, reading.unit)


def one_beat_too_few_counted(reading: Reading) -> Reading | None:
    """What a student reads who slips while adding up and gets one beat too few.

    The first beat is often not counted, since counting starts after it (common practice).
    """
    return _slipped(reading, -reading.unit)


def four_beats_counted_in_twos(reading: Reading) -> Reading | None:
    """What a student reads who counts 1 2 1 2 through four beats, and so takes the measure for one of two beats.

    Marching, and songs in 2/4, give two beats at a time (common practice).
    """
    if reading.meter.top != 2 or any(held != 2 * reading.capacity for held in true_totals(reading.excerpt)):
        return None
    return reading._replace(over=-reading.capacity)


# Slips of one beat: in a meter with another bottom number it would be another note than the measure is counted in.
SLIPS = frozenset({"one-beat-too-many-counted", "one-beat-too-few-counted"})

ADDING = (
    Misreading(
        "every-symbol-is-one-beat",
        every_symbol_is_one_beat,
        COMPLETION | ORDERING | {"does-it-fit"},
        "value",
        bears_on="printed",
        confused_with=("eighth-gets-a-full-beat", "top-number-counts-the-notes"),
    ),
    Misreading(
        "top-number-counts-the-notes",
        top_number_counts_the_notes,
        SIGNATURES | {"what-the-numbers-say"},
        "value",
        bears_on="printed",
        confused_with=("every-symbol-is-one-beat",),
    ),
    Misreading(
        "eighth-gets-a-full-beat",
        eighth_gets_a_full_beat,
        COMPLETION | ORDERING | SIGNATURES | {"does-it-fit"},
        "value",
        bears_on="printed",
        needs=frozenset({"e"}),
        confused_with=("every-symbol-is-one-beat",),
    ),
    Misreading(
        "beamed-pair-is-one-eighth",
        beamed_pair_is_one_eighth,
        COMPLETION | ORDERING | SIGNATURES,
        "value",
        bears_on="printed",
        needs=frozenset({"e"}),
    ),
    Misreading(
        "tied-note-takes-no-time",
        tied_note_takes_no_time,
        COMPLETION | SIGNATURES,
        "value",
        bears_on="printed",
        needs=frozenset({"~"}),
    ),
    Misreading(
        "four-beats-counted-in-twos",
        four_beats_counted_in_twos,
        SIGNATURES,
        "grouping",
        confused_with=("count-restarts-at-the-half-measure",),
    ),
    Misreading(
        "one-beat-too-many-counted", one_beat_too_many_counted, COMPLETION | SIGNATURES, "value", bears_on="printed"
    ),
    Misreading(
        "one-beat-too-few-counted", one_beat_too_few_counted, COMPLETION | SIGNATURES, "value", bears_on="printed"
    ),
)
