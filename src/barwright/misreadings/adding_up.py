"""Errors of adding up a measure: printed symbols are tallied in place of their lengths, or a beat slips in or out.

These change only what is printed; the symbol that is chosen for a blank keeps its true value (engine rule).

Beginners' errors at the last step: the measure is read rightly, the blank is answered wrongly (common practice)."""

from fractions import Fraction
from itertools import pairwise

from barwright.misreadings.belief import (
    COMPLETION,
    FILLING,
    FITTING,
    HYPOTHESIS,
    ORDERING,
    SAYING,
    SIGNATURES,
    Lengths,
    Misreading,
    Reading,
    how_many,
    true_room,
    true_totals,
    with_lengths,
    with_values,
)
from barwright.notation.beaming import beam_groups
from barwright.rhythm.measure import Symbol, Symbols, with_tie
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import ticks

QUARTER, EIGHTH = Fraction(1, 4), Fraction(1, 8)
NOTHING, EIGHTH_TICKS = 0, ticks(EIGHTH)


def _one_beat(symbol: Symbol, meter: Meter) -> Fraction | None:
    return None if symbol.kind == "blank" else meter.unit


def every_symbol_is_one_beat(reading: Reading) -> Reading | None:
    """What a student reads who counts the symbols and takes each for one beat.

    Asked what a number of the time signature tells, this student says how many there are.
    """
    counted = with_values(reading, _one_beat)
    numbers = {len(measure) for measure in reading.excerpt.measures}
    if counted is None or numbers == {1} or len(numbers) > 1 or reading.excerpt.blank is not None:
        return counted
    claim = how_many(reading, numbers.pop())
    return counted._replace(top="" if claim == how_many(reading, reading.meter.top) else claim, bottom=claim)


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
        if len(group) == 2 and all(lengths[i] == EIGHTH_TICKS for i in group):
            believed[group[1]] = NOTHING
    return tuple(believed)


def beamed_pair_is_one_eighth(reading: Reading) -> Reading | None:
    """What a student reads who takes two eighth notes under a beam for one eighth note."""
    excerpt = reading.excerpt
    pairs = (pair for measure in reading.lengths for pair in pairwise(measure))
    if (EIGHTH_TICKS, EIGHTH_TICKS) not in pairs:
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
    slipped = _slipped(reading, reading.unit)
    return None if slipped is None else slipped._replace(top=how_many(reading, reading.meter.top + 1))


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
        every_symbol_is_one_beat,
        COMPLETION | ORDERING | FITTING | SAYING,
        "value",
        bears_on="printed",
        confused_with=("eighth-gets-a-full-beat", "top-number-counts-the-notes"),
        source=HYPOTHESIS,
    ),
    Misreading(
        top_number_counts_the_notes,
        SIGNATURES | SAYING,
        "value",
        bears_on="printed",
        confused_with=("every-symbol-is-one-beat",),
        source=HYPOTHESIS,
    ),
    Misreading(
        eighth_gets_a_full_beat,
        COMPLETION | ORDERING | SIGNATURES | FITTING,
        "value",
        bears_on="printed",
        needs=frozenset({"e"}),
        confused_with=("every-symbol-is-one-beat",),
        source=HYPOTHESIS,
    ),
    Misreading(
        beamed_pair_is_one_eighth,
        COMPLETION | ORDERING | SIGNATURES,
        "value",
        bears_on="printed",
        needs=frozenset({"e"}),
        source=HYPOTHESIS,
    ),
    Misreading(
        tied_note_takes_no_time,
        COMPLETION | SIGNATURES,
        "value",
        bears_on="printed",
        needs=frozenset({"~"}),
        source=HYPOTHESIS,
    ),
    Misreading(
        four_beats_counted_in_twos,
        SIGNATURES,
        "grouping",
        confused_with=("count-restarts-at-the-half-measure",),
        source=HYPOTHESIS,
    ),
    Misreading(
        one_beat_too_many_counted, COMPLETION | SIGNATURES | SAYING, "value", bears_on="printed", source=HYPOTHESIS
    ),
    Misreading(one_beat_too_few_counted, COMPLETION | SIGNATURES, "value", bears_on="printed", source=HYPOTHESIS),
)

_NUMBER = frozenset({"beats-left"})
_GROUPS = frozenset({"all-that-fit"})  # where choices have one symbol and two: else it tells none from another


def _blank_measure(reading: Reading) -> tuple[Symbols, tuple[int, ...], int] | None:
    """Symbols and lengths of the measure with the blank, and the blank's index; None without a blank or other sign."""
    blank = reading.excerpt.blank
    if blank is None or len(reading.excerpt.measures[blank[0]]) == 1:
        return None
    number, index = blank
    return reading.excerpt.measures[number], reading.lengths[number], index


def _with_room(reading: Reading, room: int) -> Reading | None:
    """The reading with another room for the blank, in ticks; None if it is the true one."""
    return None if room == true_room(reading.excerpt) else reading._replace(room=room)


def measure_taken_as_empty(reading: Reading) -> Reading | None:
    """What a student fills in who looks at the time signature only and fills a whole measure, not the rest of it."""
    return None if _blank_measure(reading) is None else _with_room(reading, reading.capacity)


def beats_that_are_there_answered(reading: Reading) -> Reading | None:
    """What a student answers who adds up what is printed and stops there: the sum is taken for what is missing."""
    blank = _blank_measure(reading)
    return None if blank is None else _with_room(reading, sum(blank[1]))


def only_the_neighbor_counted(reading: Reading) -> Reading | None:
    """What a student fills in who takes only the symbol next to the blank off the measure, and forgets the others."""
    blank = _blank_measure(reading)
    if blank is None:
        return None
    _, lengths, index = blank
    return _with_room(reading, reading.capacity - lengths[index - 1 if index else 1])


def neighbor_copied(reading: Reading) -> Reading | None:
    """What a student fills in who goes on with the symbol beside the blank, as a pattern goes on."""
    blank = _blank_measure(reading)
    if blank is None:
        return None
    symbols, _, index = blank
    neighbor = symbols[index - 1 if index else 1]
    return reading._replace(wants=(with_tie(neighbor, False),))


def blank_taken_for_one_beat(reading: Reading) -> Reading | None:
    """What a student answers who takes one blank for one beat, since it stands in one place."""
    return None if _blank_measure(reading) is None else _with_room(reading, reading.unit)


def filled_to_the_half_measure(reading: Reading) -> Reading | None:
    """What a student fills in who completes only the half of the measure that the blank begins in, and stops too early.

    In 4/4 the middle is felt like a barline, so the job looks done there. A blank that ends in that half is filled
    rightly.
    """
    blank = _blank_measure(reading)
    if blank is None or (reading.meter.top, reading.meter.bottom) != (4, 4):
        return None
    _, lengths, index = blank
    half = reading.capacity // 2
    room = half - sum(lengths[:index]) % half
    return _with_room(reading, room) if room < true_room(reading.excerpt) else None


def beat_of_the_blank_answered(reading: Reading) -> Reading | None:
    """What a student answers who tells on which beat the blank begins, not how many beats it needs."""
    blank = _blank_measure(reading)
    if blank is None:
        return None
    _, lengths, index = blank
    before = sum(lengths[:index])
    return None if before % reading.unit else _with_room(reading, before + reading.unit)


def as_many_symbols_as_beats(reading: Reading) -> Reading | None:
    """What a student fills in who puts as many symbols as beats are missing, whatever they last.

    Two beats ask for two notes, so one half note does not seem to fill them; but what is longer than the whole measure
    is noticed.
    """
    lengths = reading.lengths
    if sum(lengths[0]) > reading.capacity:
        return None
    believed = tuple((reading.unit,) * len(measure) for measure in lengths)
    return with_lengths(reading, believed)


BEGINNERS = (
    Misreading(measure_taken_as_empty, COMPLETION, "answer", source=HYPOTHESIS),
    Misreading(beats_that_are_there_answered, COMPLETION, "answer", source=HYPOTHESIS),
    Misreading(only_the_neighbor_counted, COMPLETION, "answer", source=HYPOTHESIS),
    Misreading(neighbor_copied, FILLING, "answer", source=HYPOTHESIS),
    Misreading(blank_taken_for_one_beat, COMPLETION, "answer", source=HYPOTHESIS),
    Misreading(filled_to_the_half_measure, COMPLETION, "answer", source=HYPOTHESIS),
    Misreading(beat_of_the_blank_answered, _NUMBER, "answer", source=HYPOTHESIS),
    Misreading(as_many_symbols_as_beats, _GROUPS, "answer", bears_on="filler", source=HYPOTHESIS),
)
