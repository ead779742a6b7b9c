"""The Kodaly-style rhythm words: tied to the note value, not to the beat.

Source: the duration names in common use in US classrooms; local variation is large (common practice).
"""

from collections.abc import Mapping
from fractions import Fraction

from barwright.rhythm.labels import Sound
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.pulse import TICKS, ticks
from barwright.rhythm.triplets import triplet_groups

SIXTEENTH = TICKS // 16
# Length in sixteenths -> word. A single sixteenth is ti or ka by its place, four and more are ta with -a for every
# further quarter and -i for a further eighth.
BY_LENGTH = {2: "ti", 3: "tim", 6: "tam"}
PAIR = ("ti", "ka")
SYNCOPATION = ("syn", "co", "pa")
SYNCOPATED = [2 * SIXTEENTH, 4 * SIXTEENTH, 2 * SIXTEENTH]
TRIPLET = ("tri", "o", "la")
REST = "sh"


def kodaly_labels(measure: tuple[Sound, ...], symbols: Symbols, meter: Meter) -> tuple[str | None, ...]:
    """The bare word of each sound or rest of a measure; None for a length that has no word."""
    thirds = _thirds(measure, symbols) if any(s.triplet for s in measure) else {}
    words: list[str | None] = []
    for sound in measure:
        if sound.silent:
            words.append(REST)
        else:
            words.append(_triplet_word(sound, thirds) if sound.triplet else _word(sound))
    for at in range(len(measure) - 2):
        if _syncopated(measure[at : at + 3], meter):
            words[at : at + 3] = SYNCOPATION
    return tuple(words)


def _word(sound: Sound) -> str | None:
    onset, length = ticks(sound.onset), ticks(sound.length)
    if onset is None or length is None or length % SIXTEENTH:
        return None
    sixteenths = length // SIXTEENTH
    if sixteenths == 1:
        return None if onset % SIXTEENTH else PAIR[onset // SIXTEENTH % 2]
    quarters, rest = divmod(sixteenths, 4)
    long = "ta" + "-a" * (quarters - 1) + ("-i" if rest else "") if rest in (0, 2) else None
    return BY_LENGTH.get(sixteenths, long)


def _thirds(measure: tuple[Sound, ...], symbols: Symbols) -> Mapping[int, tuple[Fraction, Fraction]]:
    """Index of each triplet member -> onset of its triplet and a third of it, in whole notes."""
    onsets = {s.first.index: s.onset for s in measure}
    found: dict[int, tuple[Fraction, Fraction]] = {}
    for group in triplet_groups(symbols):
        lasts = sum((v.length for i in group if (v := symbols[i].value) is not None), Fraction(0))
        found |= {index: (onsets[group[0]], lasts / 3) for index in group if group[0] in onsets}
    return found


def _triplet_word(sound: Sound, thirds: Mapping[int, tuple[Fraction, Fraction]]) -> str | None:
    """tri, o or la by the third that it begins on."""
    if sound.first.index not in thirds:
        return None
    start, third = thirds[sound.first.index]
    place = (sound.onset - start) / third
    return TRIPLET[place.numerator] if place.denominator == 1 and place < 3 else None


def _syncopated(three: tuple[Sound, ...], meter: Meter) -> bool:
    """Whether they are eighth, quarter, eighth from a quarter beat on: syn co pa."""
    notes = not any(s.silent or s.triplet or s.held for s in three)
    on_beat = (ticks(three[0].onset) or 0) % (4 * SIXTEENTH) == 0
    return meter.bottom < 8 and on_beat and notes and [ticks(s.length) for s in three] == SYNCOPATED
