"""Which beats are counted, and the word for every place in a beat: one row of `SYSTEMS` per counting system.

Places are twelfths of the beat, so that halves, quarters, thirds and sixths are whole numbers. `#` stands for the
number of the beat. A place that a table lacks has no count.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from barwright.rhythm.conventions import Conventions, Counting
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import TICKS

EIGHTH = TICKS // 8

Words = Mapping[int, str]
Places = tuple[Words, str | None]  # the words for places of a beat, and the word for any other (None: no count)

# Numbers in a beat of two parts: 1 e & a (US method books, common practice).
QUARTERS = {0: "#", 3: "e", 6: "&", 9: "a"}
# A triplet in such a beat, per value of the convention `triplet`: the word on the beat, and those of the other thirds.
TRIPLETS = {
    "la_li": ("#", "la", "li"),
    "trip_let": ("#", "trip", "let"),
    "and_a": ("#", "&", "a"),
    "three_e": ("tri", "ple", "t"),
}
# Numbers in a beat of three parts, per value of the convention `compound` (McHose & Tibbs 1945; US band usage).
# Counting by the bottom number is no table of its own: each eighth is then a beat of two parts.
THIRDS = {"beat": {0: "#", 4: "la", 8: "li"}, "beat_and_a": {0: "#", 4: "&", 8: "a"}}
SIXTHS = (2, 6, 10)

# E. Gordon, Learning Sequences in Music: two parts du de, three parts du da di, the next division always ta;
# in additive meters du be for a group of two and du ba bi for a group of three.
GORDON = {
    2: {0: "du", 2: "ta", 3: "ta", 4: "da", 6: "de", 8: "di", 9: "ta", 10: "ta"},
    3: {0: "du", 2: "ta", 4: "da", 6: "ta", 8: "di", 10: "ta"},
}
GORDON_ADDITIVE = {
    2: {0: "du", 3: "ta", 6: "be", 9: "ta"},
    3: {0: "du", 2: "ta", 4: "ba", 6: "ta", 8: "bi", 10: "ta"},
    4: {0: "du", 3: "ta", 6: "be", 9: "ta"},
}
# Hoffman, Pelto & White 1996, Journal of Music Theory Pedagogy 10: the place in the beat alone decides.
TAKADIMI = {0: "ta", 2: "va", 3: "ka", 4: "ki", 6: "di", 8: "da", 9: "mi", 10: "ma"}
# A. McHose & R. Tibbs, Sight-Singing Manual (2nd ed. 1945); everything else is ta. For additive meters, where the
# manual has no rule: eighths off the beat are te (common practice).
EASTMAN = {2: {0: "#", 4: "la", 6: "te", 8: "li"}, 3: {0: "#", 4: "la", 8: "li"}}
EASTMAN_ADDITIVE = {2: {0: "#", 6: "te"}, 3: {0: "#", 4: "te", 8: "te"}, 4: {0: "#", 3: "te", 6: "te", 9: "te"}}


@dataclass(frozen=True, slots=True)
class Beat:
    """A counted beat: its length in ticks, and into how many equal parts it divides first."""

    length: int
    parts: int


def ticks_if_whole(length: Fraction) -> int | None:
    """A length or onset in ticks; None if it is no whole number of them (then no count falls there)."""
    number, rest = divmod(length.numerator * TICKS, length.denominator)
    return None if rest else number


def by_groups(meter: Meter) -> bool:
    """Whether the felt beats are groups of unequal length: additive meters of eighths."""
    return meter.kind == "additive" and meter.bottom == 8


def group_beats(meter: Meter) -> tuple[Beat, ...]:
    """The groups of an additive meter as beats, each of as many parts as it has bottom-number notes."""
    unit = TICKS // meter.bottom
    return tuple(Beat(length, length // unit) for felt in meter.felt_beats if (length := ticks_if_whole(felt)))


def counted_beats(meter: Meter, conventions: Conventions) -> tuple[Beat, ...]:
    """The beats of one measure that the class counts.

    Numbers count additive meters by the bottom number, and compound ones as `compound` says; the other systems go by
    the felt beats. `cut_time` and `three_eight` hold for every system. (Common practice; meters: Open University 3.6.)
    """
    numbers = conventions.counting == "numbers"
    signature = (meter.top, meter.bottom) if not meter.groups else ()
    if signature == (2, 2) and conventions.cut_time == "in_four":
        return (Beat(TICKS // 4, 2),) * 4
    if signature == (3, 8) and conventions.three_eight == "in_one":
        return (Beat(3 * EIGHTH, 3),)
    if meter.kind == "compound" and not (numbers and conventions.compound == "bottom"):
        return (Beat(3 * EIGHTH, 3),) * (meter.top // 3)
    if by_groups(meter) and not numbers:
        return group_beats(meter)
    return (Beat(TICKS // meter.bottom, 2),) * meter.top


def number_words(beat: Beat, conventions: Conventions) -> Words:
    """The number system's word for each place of a beat; empty where the class writes none (`compound_16ths`)."""
    if beat.parts == 3:
        table = THIRDS.get(conventions.compound, THIRDS["beat"])
        return table | dict.fromkeys(SIXTHS, "ta" if conventions.compound_16ths == "ta" else "")
    _, second, third = TRIPLETS[conventions.triplet]
    return QUARTERS | {4: second, 8: third}


def _number_places(beat: Beat, _meter: Meter, conventions: Conventions) -> Places:
    return number_words(beat, conventions), None


def _gordon_words(beat: Beat, meter: Meter, _conventions: Conventions) -> Places:
    return (GORDON_ADDITIVE if by_groups(meter) else GORDON)[beat.parts], None


def _takadimi_words(_beat: Beat, _meter: Meter, _conventions: Conventions) -> Places:
    return TAKADIMI, None


def _eastman_words(beat: Beat, meter: Meter, conventions: Conventions) -> Places:
    second = {3: "ti"} if conventions.eastman_second16 == "ti" and beat.parts == 2 else {}
    return (EASTMAN_ADDITIVE if by_groups(meter) else EASTMAN)[beat.parts] | second, "ta"


@dataclass(frozen=True, slots=True)
class System:
    """One counting system: all that is different about it but the rules that students read (`counting.toml`).

    `places` gives the words for the places of a beat. `words` are all of them, as they follow each other in a beat or
    as they grow longer: labels to pick from stand in this order, and typed rows are read by it. `on_beat` is the word
    that a beat begins with, `#` for its number. `typed`: what is read beside these words, R and "rest".
    """

    places: Callable[[Beat, Meter, Conventions], Places]
    words: tuple[str, ...]
    on_beat: str
    typed: tuple[str, ...] = ()

    @property
    def numbered(self) -> bool:
        """Whether labels hold the number of the beat, so that counts start again after a barline."""
        return self.on_beat == "#"


SYSTEMS: Mapping[Counting, System] = MappingProxyType(
    {
        "numbers": System(
            _number_places,
            ("tri", "ple", "t", "trip", "let", "e", "&", "a", "la", "li", "ta"),
            "#",
            ("and",),
        ),
        # Its words are in kodaly.py. The places are asked for, since beats are, but no word of them is ever shown.
        "kodaly": System(
            _number_places,
            ("ti", "ka", "tim", "ta", "tam", "tri", "o", "la", "syn", "co", "pa", "sh"),
            "ta",
            ("shh", "a", "i"),
        ),
        "gordon": System(_gordon_words, ("du", "ta", "da", "ba", "de", "be", "di", "bi"), "du"),
        "takadimi": System(_takadimi_words, ("ta", "va", "ka", "ki", "di", "da", "mi", "ma"), "ta"),
        "eastman": System(_eastman_words, ("ti", "te", "la", "li", "ta"), "#"),
    }
)
"""Every counting system by its name in `Conventions.counting`; whatever goes by the system is derived from its row."""


def words_of(beat: Beat, meter: Meter, conventions: Conventions) -> Places:
    """The words for the places of a beat, and the word for any other place (None: no count falls there)."""
    return SYSTEMS[conventions.counting].places(beat, meter, conventions)
