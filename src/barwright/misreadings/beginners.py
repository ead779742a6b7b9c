"""Beginners' errors at the last step: the measure is read rightly, the blank is answered wrongly (common practice)."""

from barwright.misreadings.reading import COMPLETION, FILLING, Misreading, Reading, true_room, with_lengths
from barwright.rhythm.measure import Symbols, with_tie

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
    """The reading with another room for the blank, in parts; None if it is the true one."""
    return None if room == true_room(reading.excerpt) else reading._replace(room=room)


def measure_taken_as_empty(reading: Reading) -> Reading | None:
    """What a student fills in who looks at the time signature only and fills a whole measure, not the rest of it."""
    return None if _blank_measure(reading) is None else _with_room(reading, reading.capacity)


def beats_that_are_there_answered(reading: Reading) -> Reading | None:
    """What a student answers who adds up what is printed and stops there: the sum is taken for what is missing."""
    if _blank_measure(reading) is None:
        return None
    return _with_room(reading, reading.capacity - true_room(reading.excerpt))


def only_the_neighbor_counted(reading: Reading) -> Reading | None:
    """What a student fills in who takes only the symbol next to the blank off the measure, and forgets the others."""
    found = _blank_measure(reading)
    if found is None:
        return None
    _, lengths, index = found
    return _with_room(reading, reading.capacity - lengths[index - 1 if index else 1])


def neighbor_copied(reading: Reading) -> Reading | None:
    """What a student fills in who goes on with the symbol beside the blank, as a pattern goes on."""
    found = _blank_measure(reading)
    if found is None:
        return None
    symbols, _, index = found
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
    found = _blank_measure(reading)
    if found is None or (reading.meter.top, reading.meter.bottom) != (4, 4):
        return None
    _, lengths, index = found
    half = reading.capacity // 2
    room = half - sum(lengths[:index]) % half
    return _with_room(reading, room) if room < true_room(reading.excerpt) else None


def beat_of_the_blank_answered(reading: Reading) -> Reading | None:
    """What a student answers who tells on which beat the blank begins, not how many beats it needs."""
    found = _blank_measure(reading)
    if found is None:
        return None
    _, lengths, index = found
    before = sum(lengths[:index])
    return None if before % reading.unit else _with_room(reading, before + reading.unit)


def as_many_symbols_as_beats(reading: Reading) -> Reading | None:
    """What a student fills in who puts as many symbols as beats are missing, whatever they last.

    Two beats ask for two notes; but a group that is longer than the whole measure is noticed.
    """
    lengths = reading.lengths
    if len(lengths[0]) < 2 or sum(lengths[0]) > reading.capacity:
        return None
    believed = tuple((reading.unit,) * len(measure) for measure in lengths)
    return with_lengths(reading, believed)


BEGINNERS = (
    Misreading("measure-taken-as-empty", measure_taken_as_empty, COMPLETION, "answer"),
    Misreading("beats-that-are-there-answered", beats_that_are_there_answered, COMPLETION, "answer"),
    Misreading("only-the-neighbor-counted", only_the_neighbor_counted, COMPLETION, "answer"),
    Misreading("neighbor-copied", neighbor_copied, FILLING, "answer"),
    Misreading("blank-taken-for-one-beat", blank_taken_for_one_beat, COMPLETION, "answer"),
    Misreading("filled-to-the-half-measure", filled_to_the_half_measure, COMPLETION, "answer"),
    Misreading("beat-of-the-blank-answered", beat_of_the_blank_answered, _NUMBER, "answer"),
    Misreading("as-many-symbols-as-beats", as_many_symbols_as_beats, _GROUPS, "answer", bears_on="filler"),
)
