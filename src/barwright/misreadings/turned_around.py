"""Errors of order: what stands in a beat is seen, but not which comes first.

The row has the same signs as the right one, so that no look at the choices alone tells them apart (common practice; a
hypothesis to be tested on class data).
"""

from collections.abc import Iterator
from functools import lru_cache

from barwright.counting.labels import CountedMeasure, Span, Spans
from barwright.misreadings.belief import HYPOTHESIS, LABELING, Counts, Misreading, Reading, Usage
from barwright.misreadings.believed_rows import KEPT, Labels, complete, counts_of, labels_at


def notes_of_a_beat_turned_around(reading: Reading) -> Reading | None:
    """What a student writes who knows what a beat is made of, and mixes up which comes first: 1 & a becomes 1 e &.

    An eighth with two sixteenths looks much like two sixteenths with an eighth, a note after an eighth rest like one
    before it (common practice). What comes later in reading, such as signs, goes by the sounds in their new order. None
    if that is the right one, or there are no counts.
    """
    counts = counts_of(reading)
    if counts.row is None or reading.conventions.counting == "kodaly":  # its words go by figures, not by places
        return None
    measures = tuple([_moved(measure, counts.usage) for measure in counts.measures])
    labels = [_counted(measure, counts.usage) for measure in measures]
    row = complete(labels)
    if row is None or row == counts.row:
        return None
    return reading._replace(counts=Counts(measures, row, counts.usage), labels=row)


@lru_cache(maxsize=KEPT)
def _moved(measure: CountedMeasure, usage: Usage) -> CountedMeasure:
    """The measure with its sounds moved; where a tie leads in or out, or triplets stand, it stays as it is."""
    if measure.symbols[-1].tied or any(span.held or span.triplet for span in measure.spans):
        return measure
    onset, moved = measure.spans[0].onset, list[Span]()
    for group in _by_beats(measure.spans, usage.beat or usage.meter.ticks):
        for span in group[::-1]:
            moved.append(span._replace(onset=onset))
            onset += span.length
    return CountedMeasure(measure.symbols, tuple(moved))


def _by_beats(measure: Spans, beat: int) -> Iterator[Spans]:
    """The sounds that fill a beat exactly, together; every other one by itself."""
    at = 0
    while at < len(measure):
        start, end, stop = measure[at].onset, measure[at].onset, at
        while stop < len(measure) and end < start + beat:
            end += measure[stop].length
            stop += 1
        if start % beat or end != start + beat:
            stop = at + 1
        yield measure[at:stop]
        at = stop


@lru_cache(maxsize=KEPT)
def _counted(measure: CountedMeasure, usage: Usage) -> Labels | None:
    return labels_at(measure, [(span.onset, span.length) for span in measure.spans], usage)


ORDERS = (Misreading(notes_of_a_beat_turned_around, LABELING, "grouping", needs=frozenset({"e"}), source=HYPOTHESIS),)
