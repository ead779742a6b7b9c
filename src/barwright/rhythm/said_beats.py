"""Whether a class calls the note of the bottom number a beat."""

from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import Meter


def counts_in_beats(meter: Meter, conventions: Conventions) -> bool:
    """Whether the bottom number's note is what the class calls a beat: so in 2/4, 3/4, 4/4, and in 2/2 taught in two.

    Over 8 it is not said "beat", which could mean the dotted quarter as well (common practice).
    """
    return meter.bottom == 4 or (meter.bottom == 2 and conventions.cut_time == "in_two")
