"""Errors about how long a symbol lasts: the value function is wrong, meter and positions are right."""

from fractions import Fraction

from barwright.misreadings.belief import (
    COMPLETION,
    FILLING,
    FITTING,
    HYPOTHESIS,
    LABELING,
    ORDERING,
    SIGNATURES,
    Misreading,
    Reading,
    with_plain,
    with_values,
)
from barwright.rhythm.measure import Symbol
from barwright.rhythm.meter import Meter

NOTHING, FULL = Fraction(0), Fraction(1)
HALF, QUARTER, EIGHTH, SIXTEENTH = (Fraction(1, n) for n in (2, 4, 8, 16))

_ALL = COMPLETION | LABELING | SIGNATURES | FITTING | ORDERING
# Where a name is looked for: one beat is missing, and "whole" is one. Of what is printed the names are not thought of.
_ONE_SYMBOL = frozenset({"finish-measure", "drag-into-the-blank"})
# Nobody orders the whole-rest sign, which has two lengths, or parts of a triplet.
_UNORDERED = _ALL - ORDERING


def _swapped(symbol: Symbol, one: Fraction, other: Fraction) -> Fraction | None:
    value = symbol.value
    if value is None or value.plain not in (one, other):
        return None
    return with_plain(value, other if value.plain == one else one)


def _four_quarters(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return FULL if symbol.kind == "measure-rest" else None


def whole_rest_always_lasts_four_beats(reading: Reading) -> Reading | None:
    """What a student reads who gives the whole rest four beats in every meter, as if it were a whole note."""
    return with_values(reading, _four_quarters)


def _rest_signs_swapped(symbol: Symbol, _meter: Meter) -> Fraction | None:
    if symbol.kind == "measure-rest":
        return HALF
    return _swapped(symbol, FULL, HALF) if symbol.kind == "rest" else None


def whole_and_half_rest_swapped(reading: Reading) -> Reading | None:
    """What a student reads who mixes up hat and hole: the rest that sits on the line, the one that hangs from it."""
    return with_values(reading, _rest_signs_swapped)


def _filled_longer(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return _swapped(symbol, HALF, QUARTER) if symbol.kind == "note" else None


def filled_head_lasts_longer(reading: Reading) -> Reading | None:
    """What a student reads who thinks that a filled note head means more: two beats a quarter, one a half note."""
    return with_values(reading, _filled_longer)


def _open_swapped(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return _swapped(symbol, FULL, HALF) if symbol.kind == "note" else None


def whole_and_half_note_swapped(reading: Reading) -> Reading | None:
    """What a student reads who mixes up the two open notes: the stem is not looked at, or thought to add time."""
    return with_values(reading, _open_swapped)


def _rest_shapes_swapped(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return _swapped(symbol, HALF, QUARTER) if symbol.kind == "rest" else None


def half_and_quarter_rest_swapped(reading: Reading) -> Reading | None:
    """What a student reads who mixes up the half rest and the quarter rest: the tall zigzag seems to last longer.

    Rests look like nothing else, so beginners learn their values by heart, and swap neighbours (common practice).
    """
    return with_values(reading, _rest_shapes_swapped)


def _small_rests_swapped(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return _swapped(symbol, QUARTER, EIGHTH) if symbol.kind == "rest" else None


def eighth_and_quarter_rest_swapped(reading: Reading) -> Reading | None:
    """What a student reads who mixes up the eighth rest and the quarter rest."""
    return with_values(reading, _small_rests_swapped)


def _silent_beat(symbol: Symbol, meter: Meter) -> Fraction | None:
    return meter.unit if symbol.silent else None


def every_rest_is_one_beat(reading: Reading) -> Reading | None:
    """What a student reads who thinks that "rest" means one silent beat, whatever sign it is.

    The quarter rest is mostly taught first and called "the rest"; its length is then carried over (common practice).
    """
    return with_values(reading, _silent_beat)


def _no_time(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return NOTHING if symbol.silent else None


def rests_take_no_time(reading: Reading) -> Reading | None:
    """What a student reads who counts only what sounds: a rest is a gap that takes no time and gets no count."""
    return with_values(reading, _no_time)


def _by_dot(symbol: Symbol, factor: Fraction, added: Fraction) -> Fraction | None:
    value = symbol.value
    if value is None or not value.dots:
        return None
    return value.plain * factor * (Fraction(2, 3) if value.triplet else 1) + added * value.dots


def _beat_for_dot(symbol: Symbol, meter: Meter) -> Fraction | None:
    return _by_dot(symbol, FULL, meter.unit)


def dot_adds_one_beat(reading: Reading) -> Reading | None:
    """What a student reads who adds one whole beat for every dot, whatever note it stands beside."""
    return with_values(reading, _beat_for_dot)


def _half_beat_for_dot(symbol: Symbol, meter: Meter) -> Fraction | None:
    return _by_dot(symbol, FULL, meter.unit / 2)


def dot_adds_half_a_beat(reading: Reading) -> Reading | None:
    """What a student reads who adds half a beat for every dot, whatever note it stands beside."""
    return with_values(reading, _half_beat_for_dot)


def _twice(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return _by_dot(symbol, Fraction(2), NOTHING)


def dot_doubles(reading: Reading) -> Reading | None:
    """What a student reads who thinks that a dot makes the note twice as long."""
    return with_values(reading, _twice)


def _no_dots(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return _by_dot(symbol, FULL, NOTHING)


def dots_passed_over(reading: Reading) -> Reading | None:
    """What a student reads who does not look at dots."""
    return with_values(reading, _no_dots)


def _half_as_long(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return _by_dot(symbol, HALF, NOTHING)


def dot_shortens(reading: Reading) -> Reading | None:
    """What a student reads who takes the dot beside a note for the one above it, which means short."""
    return with_values(reading, _half_as_long)


def _more_flags(symbol: Symbol, _meter: Meter) -> Fraction | None:
    return _swapped(symbol, EIGHTH, SIXTEENTH) if symbol.kind == "note" else None


def more_flags_last_longer(reading: Reading) -> Reading | None:
    """What a student reads who thinks that more flags or beams mean more time: sixteenths and eighths swap."""
    return with_values(reading, _more_flags)


def _as_plain(symbol: Symbol, _meter: Meter) -> Fraction | None:
    value = symbol.value
    return value.length * Fraction(3, 2) if value is not None and value.triplet else None


def triplet_notes_last_as_written(reading: Reading) -> Reading | None:
    """What a student reads who passes over the 3 of a triplet and gives its notes their plain length."""
    return with_values(reading, _as_plain)


def _part_of_measure(symbol: Symbol, meter: Meter) -> Fraction | None:
    return None if symbol.value is None else symbol.value.length * meter.capacity


def names_are_parts_of_the_measure(reading: Reading) -> Reading | None:
    """What a student reads who takes whole, half, quarter as parts of the measure: a whole note fills any measure."""
    return with_values(reading, _part_of_measure)


def _part_of_beat(symbol: Symbol, meter: Meter) -> Fraction | None:
    if symbol.kind == "measure-rest":
        return meter.unit
    return None if symbol.value is None else symbol.value.length * meter.unit


def names_are_parts_of_a_beat(reading: Reading) -> Reading | None:
    """What a student reads who takes the names as numbers of beats: whole is one, half is one half, quarter one fourth.

    In arithmetic class one whole is 1; a child who needs one beat then picks the whole note (common practice).
    """
    return with_values(reading, _part_of_beat)


def _name_number(symbol: Symbol, meter: Meter) -> Fraction | None:
    if symbol.kind == "measure-rest":
        return meter.unit
    return None if symbol.value is None else meter.unit * symbol.value.length / symbol.value.plain**2


def quarter_means_four_beats(reading: Reading) -> Reading | None:
    """What a student reads who takes the bottom-number code for beats: whole is 1, half is 2, quarter is 4.

    Quarter sounds like four, and 4 on the bottom stands for it: the code is right, its use is not (common practice).
    """
    return with_values(reading, _name_number)


DURATIONS = (
    Misreading(whole_rest_always_lasts_four_beats, _UNORDERED, "value", needs=frozenset({"rW"}), source=HYPOTHESIS),
    Misreading(whole_and_half_rest_swapped, _ALL, "value", needs=frozenset({"rW", "rh"}), source=HYPOTHESIS),
    Misreading(filled_head_lasts_longer, _ALL, "value", needs=frozenset({"h", "q"}), source=HYPOTHESIS),
    Misreading(whole_and_half_note_swapped, _ALL, "value", needs=frozenset({"w", "h"}), source=HYPOTHESIS),
    Misreading(half_and_quarter_rest_swapped, _ALL, "value", needs=frozenset({"rh", "rq"}), source=HYPOTHESIS),
    Misreading(eighth_and_quarter_rest_swapped, _ALL, "value", needs=frozenset({"re", "rq"}), source=HYPOTHESIS),
    Misreading(every_rest_is_one_beat, _ALL, "value", needs=frozenset({"r"}), source=HYPOTHESIS),
    Misreading(
        rests_take_no_time,
        _ALL,
        "value",
        bears_on="printed",
        needs=frozenset({"r"}),
        confused_with=("count-waits-during-rests",),
        source=HYPOTHESIS,
    ),
    Misreading(
        dot_adds_one_beat, _ALL, "value", needs=frozenset({"."}), confused_with=("dot-doubles",), source=HYPOTHESIS
    ),
    Misreading(dot_adds_half_a_beat, _ALL, "value", needs=frozenset({"."}), source=HYPOTHESIS),
    Misreading(
        dot_doubles, _ALL, "value", needs=frozenset({"."}), confused_with=("dot-adds-one-beat",), source=HYPOTHESIS
    ),
    Misreading(dots_passed_over, _ALL, "value", needs=frozenset({"."}), source=HYPOTHESIS),
    Misreading(dot_shortens, _ALL, "value", needs=frozenset({"."}), source=HYPOTHESIS),
    Misreading(more_flags_last_longer, _ALL, "value", needs=frozenset({"e", "s"}), source=HYPOTHESIS),
    Misreading(triplet_notes_last_as_written, _UNORDERED, "value", needs=frozenset({"t"}), source=HYPOTHESIS),
    Misreading(
        names_are_parts_of_the_measure, FILLING | FITTING | {"rhythm-for-time-signature"}, "value", source=HYPOTHESIS
    ),
    Misreading(
        names_are_parts_of_a_beat,
        _ONE_SYMBOL | FITTING,
        "value",
        bears_on="filler",
        confused_with=("quarter-means-four-beats",),
        source=HYPOTHESIS,
    ),
    Misreading(
        quarter_means_four_beats,
        FITTING | ORDERING,
        "value",
        needs=frozenset({"q"}),
        confused_with=("names-are-parts-of-a-beat",),
        source=HYPOTHESIS,
    ),
)
