"""The counts under a rhythm, in every counting system: one label for each sound and each rest symbol.

Sources: numbers and their variants, US method books (common practice); the syllable systems are cited in pulse.py and
syllables.py. A label of a part that is held over a barline begins with a hyphen in every system (common practice).
"""

from functools import lru_cache

from barwright.counting.kodaly import kodaly_labels
from barwright.counting.labels import (
    EXCERPTS_KEPT,
    CountedMeasure,
    Sound,
    Span,
    counted_measures,
    dressed,
    labeller,
    meter_shown,
    no_count,
    rest_style,
    sound_label,
    sounds,
    spans,
)
from barwright.counting.other_conventions import all_conventions_rows, arguable_rows
from barwright.counting.rows import (
    Row,
    format_row,
    normal_row,
    parse_row,
)
from barwright.counting.spellings import spellings
from barwright.errors import RhythmError
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Event
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import whole_notes

__all__ = [
    "Row",
    "Sound",
    "Span",
    "all_conventions_rows",
    "arguable_rows",
    "count_labels",
    "format_row",
    "labelled_events",
    "labels_if_counted",
    "normal_row",
    "parse_row",
    "sound_label",
    "sounds",
    "spans",
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
    measures = enumerate(counted_measures(excerpt))
    return tuple([_labels(measure, meter_shown(excerpt, n), conventions) for n, measure in measures])


def labels_if_counted(excerpt: Excerpt, conventions: Conventions) -> Row | None:
    """The row of labels as `count_labels` gives it; None for a blank, and where the counting system has no count.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> labels_if_counted(parse_excerpt("2/2 s s e q h"), Conventions()) is None
    True
    """
    try:
        return count_labels(excerpt, conventions)
    except RhythmError:
        return None


@lru_cache(EXCERPTS_KEPT)
def _labels(measure: CountedMeasure, meter: Meter, conventions: Conventions) -> tuple[str, ...]:
    if conventions.counting == "kodaly":
        bare = kodaly_labels(measure.spans, measure.symbols, meter)
    else:
        label = labeller(meter, conventions)
        bare = tuple(label(span.onset, span.length, span.triplet) for span in measure.spans)
    labels = []
    for word, span in zip(bare, measure.spans, strict=True):
        if word is None:
            onset = whole_notes(span.onset)
            raise RhythmError(no_count(onset, triplet=span.triplet, meter=meter, conventions=conventions))
        labels.append(dressed(word, rest_style(conventions), silent=span.silent, held=span.held))
    return tuple(labels)


def labelled_events(excerpt: Excerpt, conventions: Conventions) -> tuple[tuple[tuple[Event, str], ...], ...]:
    """For each measure the first event of every sound or rest with its label; raises as `count_labels` does."""
    rows = count_labels(excerpt, conventions)
    return tuple(
        tuple((sound.first, label) for sound, label in zip(measure, row, strict=True))
        for measure, row in zip(sounds(excerpt), rows, strict=True)
    )
