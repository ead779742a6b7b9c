"""How a class counts in one meter: what every error with counts goes by."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, lru_cache

from barwright.rhythm.conventions import Conventions
from barwright.rhythm.labels import Labeller, Span, dressed, labeller
from barwright.rhythm.meter import Meter
from barwright.rhythm.pulse import counted_beats

# Systems that name the number of a beat.
NUMBERED = ("numbers", "eastman")

# (onset in ticks, length in ticks, silent, held over a barline, triplet member) -> label; None: there is no count.
Speaker = Callable[[int, int, bool, bool, bool], str | None]


@dataclass(frozen=True, slots=True, eq=False)
class Usage:
    """One meter as a class counts it; each is itself, since what is remembered of measures asks for it.

    - `beat`: length in ticks of the beat that is counted; None where beats differ (additive meters by groups)
    - `numbered`: whether counts are beat numbers
    - `bare`: the count at any spot, without the sign of a rest; past the end of the measure counting goes on
    - `spoken`: the same as the class writes it. Neither is for kodaly, whose words do not go by spots.
    """

    meter: Meter
    conventions: Conventions
    beat: int | None
    numbered: bool
    bare: Labeller
    spoken: Speaker

    def written(self, bare: str, sound: Span) -> str:
        """A bare count as the class writes it: a rest marked as a rest, a part held over a barline after a hyphen."""
        return dressed(bare, self.conventions.rest_counts, silent=sound.silent, held=sound.held)


@lru_cache(maxsize=256)
def usage_of(meter: Meter, conventions: Conventions) -> Usage:
    """How a class with these conventions counts in this meter."""
    label, style = labeller(meter, conventions), conventions.rest_counts
    lengths = {beat.length for beat in counted_beats(meter, conventions)}

    @cache
    def spoken(onset: int, length: int, silent: bool, held: bool, triplet: bool) -> str | None:
        bare = label(onset, length, triplet)
        return None if bare is None else dressed(bare, style, silent=silent, held=held)

    beat = lengths.pop() if len(lengths) == 1 else None
    return Usage(meter, conventions, beat, conventions.counting in NUMBERED, label, spoken)
