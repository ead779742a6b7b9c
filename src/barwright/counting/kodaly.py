"""The Kodaly-style rhythm words: tied to the note value, not to the beat.

Source: the duration names in common use in US classrooms; local variation is large (common practice).
"""

from collections.abc import Mapping

from barwright.counting.labels import Span, Spans
from barwright.rhythm.measure import Symbols, ticks_in, triplet_groups
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import TICKS

SIXTEENTH = TICKS // 16
# Length in sixteenths -> word. A single sixteenth is ti or ka by its place, four and more are ta with -a for every
# further quarter and -i for a further eighth.
BY_LENGTH = {2: "ti", 3: "tim", 6: "tam"}
PAIR = ("ti", "ka")
SYNCOPATION = ("syn", "co", "pa")
SYNCOPATED = [2 * SIXTEENTH, 4 * SIXTEENTH, 2 * SIXTEENTH]
TRIPLET = ("tri", "o", "la")
REST = "sh"


def kodaly_labels(measure: Spans, symbols: Symbols, meter: Meter) -> tuple[str | None, ...]:
    """The bare word of each sound or rest of a measure; None for a length that has no word."""
    triplets = _triplets(measure, symbols, meter) if any(s.triplet for s in measure) else {}
    words: list[str | None] = []
    for sound in measure:
        if sound.silent:
            words.append(REST)
        else:
            words.append(_triplet_word(sound, triplets) if sound.triplet else _word(sound))
    for at in range(len(measure) - 2):
        if _syncopated(measure[at : at + 3], meter):
            words[at : at + 3] = SYNCOPATION
    return tuple(words)


def _word(sound: Span) -> str | None:
    sixteenths, between = divmod(sound.length, SIXTEENTH)
    if between:
        return None
    if sixteenths == 1:
        return None if sound.onset % SIXTEENTH else PAIR[sound.onset // SIXTEENTH % 2]
    quarters, rest = divmod(sixteenths, 4)
    long = "ta" + "-a" * (quarters - 1) + ("-i" if rest else "") if rest in (0, 2) else None
    return BY_LENGTH.get(sixteenths, long)


def _triplets(measure: Spans, symbols: Symbols, meter: Meter) -> Mapping[int, tuple[int, int]]:
    """Index of each triplet member -> onset of its triplet and its length, in ticks."""
    onsets = {s.at: s.onset for s in measure}
    members: dict[int, tuple[int, int]] = {}
    for group in triplet_groups(symbols):
        lasts = ticks_in((symbols[i] for i in group), meter)
        members |= {index: (onsets[group[0]], lasts) for index in group if group[0] in onsets}
    return members


def _triplet_word(sound: Span, triplets: Mapping[int, tuple[int, int]]) -> str | None:
    """tri, o or la by the third that it begins on."""
    if sound.at not in triplets:
        return None
    start, lasts = triplets[sound.at]
    place, between = divmod(3 * (sound.onset - start), lasts)
    return None if between or place >= 3 else TRIPLET[place]


def _syncopated(three: Spans, meter: Meter) -> bool:
    """Whether they are eighth, quarter, eighth from a quarter beat on: syn co pa."""
    notes = not any(s.silent or s.triplet or s.held for s in three)
    on_beat = three[0].onset % (4 * SIXTEENTH) == 0
    return meter.bottom < 8 and on_beat and notes and [s.length for s in three] == SYNCOPATED
