"""Every length that can be written or believed is a whole number of ticks."""

from fractions import Fraction
from itertools import product

from barwright.misreadings import MISREADINGS
from barwright.misreadings.belief import true_reading
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import FULL_MEASURE_REST, Symbol, length_of
from barwright.rhythm.meter import BOTTOMS, Meter
from barwright.rhythm.values import MOST_DOTS, NAMES, TICKS, WRITTEN, NoteValue, whole_notes
from whole import WHOLE

VALUES = [NoteValue(*each) for each in product(NAMES, range(MOST_DOTS + 1), (False, True))]
SYMBOLS = [FULL_MEASURE_REST, *(Symbol(kind, value) for kind in ("note", "rest") for value in VALUES)]
TOPS = range(1, 13) if WHOLE else (3, 4, 6, 7)  # compound and not, even and odd
METERS = [Meter(top, bottom) for top in TOPS for bottom in BOTTOMS]


def test_every_written_length_is_a_whole_number_of_ticks() -> None:
    for meter, symbol in product(METERS, SYMBOLS):
        reading = true_reading(Excerpt(meter, ((symbol,),)), Conventions())
        assert whole_notes(reading.lengths[0][0]) == length_of(symbol, meter)
        assert reading.lengths[0][0] % WRITTEN == 0
        assert whole_notes(reading.capacity) == meter.capacity
        assert Fraction(reading.unit, TICKS) == meter.unit


def test_every_believed_length_of_every_symbol_is_a_whole_number_of_ticks() -> None:
    """The conversion of a believed length refuses any other number, so acting out is enough."""
    shown = {
        m.id
        for m in MISREADINGS.values()
        for meter, symbol in product(METERS, SYMBOLS)
        if m.act(true_reading(Excerpt(meter, ((symbol,),)), Conventions())) is not None
    }
    of_several_symbols = {"tied-note-takes-no-time", "beamed-pair-is-one-eighth"}
    assert {m.id for m in MISREADINGS.values() if m.replaces == "value"} - shown <= of_several_symbols
