"""The counts under a rhythm, in every counting system: one label for each sound and each rest symbol.

Sources: numbers and their variants, US method books (common practice); the syllable systems are cited in pulse.py and
syllables.py. A label of a part that is held over a barline begins with a hyphen in every system (common practice).
"""

from functools import lru_cache

from barwright.errors import RhythmError
from barwright.rhythm.alternatives import all_conventions_rows
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.labels import EXCERPTS_KEPT, Sound, dressed, labeller, meter_shown, no_count, sound_label, sounds
from barwright.rhythm.measure import Event
from barwright.rhythm.meter import Meter
from barwright.rhythm.pulse import ticks
from barwright.rhythm.rows import Row, format_row, normal_row, parse_row
from barwright.rhythm.spellings import spellings
from barwright.rhythm.syllables import kodaly_labels

__all__ = [
    "Row",
    "Sound",
    "all_conventions_rows",
    "count_labels",
    "format_row",
    "labelled_events",
    "normal_row",
    "parse_row",
    "sound_label",
    "sounds",
    "spellings",
]


@lru_cache(EXCERPTS_KEPT)
def count_labels(excerpt: Excerpt, conventions: Conventions) -> Row:
    """The labels of each measure, one for each sound or rest symbol, as the class writes them.

    A note tied from the one before in the same measure has no label of its own; a part held over a barline starts again
    with a hyphen; a pickup takes the last beats. An additive meter written with one top number is counted in the groups
    that the measure shows, where the system goes by groups. A label is empty only where the class writes none
    (`compound_16ths` = none).

    >>> from barwright.rhythm.text import parse_excerpt
    >>> format_row(count_labels(parse_excerpt("3/4 q q q~ | q rh"), Conventions()))
    '1 2 3 | -1 (2-3)'

    Raises RhythmError for a blank, and where the counting system has no count (e.g. thirds of an eighth in numbers, or
    triplets with `held` = subdivisions).
    """
    style = conventions.rest_counts
    rows = []
    for number, measure in enumerate(sounds(excerpt)):
        meter = meter_shown(excerpt, number)
        bare = _kodaly(excerpt, number) if conventions.counting == "kodaly" else _placed(measure, meter, conventions)
        for label, sound in zip(bare, measure, strict=True):
            if label is None:
                raise RhythmError(no_count(sound.onset, triplet=sound.triplet, meter=meter, conventions=conventions))
        rows.append(
            tuple(
                dressed(label or "", style, silent=sound.silent, held=sound.held)
                for label, sound in zip(bare, measure, strict=True)
            )
        )
    return tuple(rows)


def _kodaly(excerpt: Excerpt, number: int) -> tuple[str | None, ...]:
    return kodaly_labels(sounds(excerpt)[number], excerpt.measures[number], excerpt.meter)


def _placed(measure: tuple[Sound, ...], meter: Meter, conventions: Conventions) -> tuple[str | None, ...]:
    label, found = labeller(meter, conventions), []
    for sound in measure:
        onset, length = ticks(sound.onset), ticks(sound.length)
        found.append(None if onset is None or length is None else label(onset, length, sound.triplet))
    return tuple(found)


def labelled_events(excerpt: Excerpt, conventions: Conventions) -> tuple[tuple[tuple[Event, str], ...], ...]:
    """For each measure the first event of every sound or rest with its label; raises as `count_labels` does."""
    rows = count_labels(excerpt, conventions)
    return tuple(
        tuple((sound.first, label) for sound, label in zip(measure, row, strict=True))
        for measure, row in zip(sounds(excerpt), rows, strict=True)
    )
