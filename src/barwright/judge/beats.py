"""Which notes a teacher could mean by "a beat" in a meter."""

from fractions import Fraction

from barwright.rhythm.grouping import group_onsets, groupings
from barwright.rhythm.meter import Meter


def beat_notes(meter: Meter) -> frozenset[Fraction]:
    """Lengths in whole notes that are called a beat in this meter under some convention of the trade.

    The bottom number's note always; the dotted quarter in 6/8, 9/8, 12/8 (felt beats), and in 3/8 felt in one; the
    quarter in 2/2 and other half-note meters taught in quarters (2/2 in four).
    """
    notes = {meter.unit}
    if meter.kind == "compound" or (meter.top, meter.bottom) == (3, 8):
        notes.add(Fraction(3, 8))
    if meter.bottom == 2:
        notes.add(Fraction(1, 4))
    return frozenset(notes)


def beats_in(length: Fraction, meter: Meter, *, at: Fraction = Fraction(0)) -> frozenset[Fraction]:
    """Every number of beats that a teacher could say this length has, when it begins `at` whole notes into the measure.

    In additive meters the felt beats are the groups, in any grouping: they count where the length fills whole ones.

    >>> from barwright.rhythm.meter import parse_meter
    >>> sorted(map(str, beats_in(Fraction(3, 4), parse_meter("6/8"))))
    ['2', '6']
    """
    numbers = {length / note for note in beat_notes(meter)}
    if meter.kind == "additive":
        for edges in (group_onsets(groups, meter) for groups in groupings(meter)):
            if at in edges and at + length in edges:
                numbers.add(Fraction(edges.index(at + length) - edges.index(at)))
    return frozenset(numbers)
