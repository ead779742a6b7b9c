"""Errors of order: what stands in a measure or a beat is seen, but not which comes first.

The row has the same signs as the right one, so that no look at the choices alone tells them apart (all common practice;
hypotheses to be tested on class data).
"""

from collections.abc import Callable, Iterator
from functools import lru_cache

from barwright.counting.labels import CountedMeasure, Span, Spans
from barwright.misreadings.belief import HYPOTHESIS, LABELING, Counts, Misreading, Reading, Usage
from barwright.misreadings.believed_rows import KEPT, Labels, complete, counts_of, labels_at

# The spans of a measure in the order in which they are taken; where it is kept, the same.
Order = Callable[[Spans, Usage], list[Span]]


def notes_of_a_measure_turned_around(reading: Reading) -> Reading | None:
    """What a student writes who sees which notes and rests a measure has, but not their order: it is turned around.

    The same total is taken for the same rhythm, as in reading a row (trade's catalogue, EQTOTAL; common practice).
    """
    return _with_order(reading, _backward)


def _backward(measure: Spans, _usage: Usage) -> list[Span]:
    return list(measure[::-1])


def notes_of_a_beat_turned_around(reading: Reading) -> Reading | None:
    """What a student writes who knows what a beat is made of, and mixes up which comes first: 1 & a becomes 1 e &.

    An eighth with two sixteenths looks much like two sixteenths with an eighth, a note after an eighth rest like one
    before it (common practice).
    """
    return _with_order(reading, _beats_backward)


def _beats_backward(measure: Spans, usage: Usage) -> list[Span]:
    return [span for group in _by_beats(measure, usage.beat or usage.meter.ticks) for span in group[::-1]]


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


def _with_order(reading: Reading, order: Order) -> Reading | None:
    """The reading with the sounds of each measure in another order; None if it is the right one, or has no counts.

    What comes later in reading, such as signs, goes by the sounds in their new order.
    """
    counts = counts_of(reading)
    if counts.row is None or reading.conventions.counting == "kodaly":  # its words go by figures, not by places
        return None
    measures = tuple([_moved(order, measure, counts.usage) for measure in counts.measures])
    labels = [_counted(measure, counts.usage) for measure in measures]
    row = complete(labels)
    if row is None or row == counts.row:
        return None
    return reading._replace(counts=Counts(measures, row, counts.usage), labels=row)


@lru_cache(maxsize=KEPT)
def _moved(order: Order, measure: CountedMeasure, usage: Usage) -> CountedMeasure:
    """The measure with its sounds moved; where a tie leads in or out, or triplets stand, it stays as it is."""
    if measure.symbols[-1].tied or any(span.held or span.triplet for span in measure.spans):
        return measure
    onset, moved = measure.spans[0].onset, list[Span]()
    for span in order(measure.spans, usage):
        moved.append(span._replace(onset=onset))
        onset += span.length
    return CountedMeasure(measure.symbols, tuple(moved))


@lru_cache(maxsize=KEPT)
def _counted(measure: CountedMeasure, usage: Usage) -> Labels | None:
    return labels_at(measure, [(span.onset, span.length) for span in measure.spans], usage)


ORDERS = (
    Misreading(notes_of_a_measure_turned_around, frozenset({"counts-for-rhythm"}), "grouping", source=HYPOTHESIS),
    Misreading(notes_of_a_beat_turned_around, LABELING, "grouping", needs=frozenset({"e"}), source=HYPOTHESIS),
)
