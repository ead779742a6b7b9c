"""Meter identification, judged: which time signature belongs to printed measures, and which measures to a signature."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import chain

from barwright.items.judge.figures import Measures, drawn_of, figure_faults, figure_pairs
from barwright.items.judge.notation import length_of_all, lone_whole_rest, measure_faults, syncopation_faults
from barwright.items.judge.reasons import reason
from barwright.items.judge.texts import meter_of
from barwright.items.model import Item
from barwright.items.taught import Taught
from barwright.rhythm.beaming import beams_decide
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_excerpt

_THREE_EIGHTHS = Fraction(3, 8)


def full_in(measures: Measures, meter: Meter) -> bool:
    """Whether every printed measure is full in this meter; a lone whole-rest sign is full in any."""
    return all(lone_whole_rest(m) or length_of_all(m, meter) == meter.capacity for m in measures)


def full_with_pickup(measures: Measures, meter: Meter) -> bool:
    """Whether the first measure could be a pickup in this meter, the last one full or shortened by it (Read 1979)."""
    if len(measures) < 2 or lone_whole_rest(measures[0]):
        return False
    first, last = length_of_all(measures[0], meter), length_of_all(measures[-1], meter)
    ending = full_in(measures[-1:], meter) or first + last == meter.capacity
    return first < meter.capacity and full_in(measures[1:-1], meter) and ending


def _twice_three_eighths(measures: Measures, meter: Meter) -> bool:
    """3/4 or 6/8 in all, which is also two measures of 3/8 (common practice)."""
    return meter.capacity == _THREE_EIGHTHS and sum(length_of_all(m, meter) for m in measures) == 2 * _THREE_EIGHTHS


def _beams_can_decide(own: Meter, other: Meter) -> bool:
    """Only where the felt beats differ and one meter is not simple: 4/4 and 2/2 are both beamed either way."""
    return own.felt_beats != other.felt_beats and {own.kind, other.kind} != {"simple"}


def _against(measures: Measures, meter: Meter) -> str:
    """Why these measures are right, or not clearly wrong, in this meter, as a reason id; empty if they are wrong."""
    if all(map(lone_whole_rest, measures)):
        return "any-meter"
    if full_in(measures, meter) or _twice_three_eighths(measures, meter):
        return "same-total"
    return "right-as-pickup" if full_with_pickup(measures, meter) else ""


def time_signature_faults(item: Item, _taught: Taught) -> Iterator[str]:
    """Reasons against a choice of signatures: the own meter is keyed, each other is wrong by total, or beams decide."""
    excerpt = item.excerpt
    yield from measure_faults(excerpt.measures, excerpt.meter, item.conventions)
    if all(map(lone_whole_rest, excerpt.measures)):
        yield reason("any-meter", format_excerpt(excerpt))
        return
    for choice in item.choices:
        meter = meter_of(choice.answer.text)
        assert meter is not None  # read before
        if choice.key:
            if meter != excerpt.meter:
                yield reason("key-not-right", f"{meter} for {format_excerpt(excerpt)}")
            continue
        if meter == excerpt.meter:
            yield reason("second-right-answer", str(meter))
            continue
        against = _against(excerpt.measures, meter)
        if against and not (against == "same-total" and _decided(excerpt, meter)):
            yield reason(against, f"{meter} for {format_excerpt(excerpt)}")


def _decided(excerpt: Excerpt, other: Meter) -> bool:
    same = excerpt.meter.capacity == other.capacity
    return same and _beams_can_decide(excerpt.meter, other) and beams_decide(excerpt, other)


def rhythm_for_signature_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against a choice of figures for a signature: the excerpt is keyed, each other is wrong by total."""
    excerpt = item.excerpt
    yield from measure_faults(excerpt.measures, excerpt.meter, item.conventions)
    yield from figure_pairs(item)
    for choice in item.choices:
        text = choice.answer.text
        drawn = drawn_of(text, excerpt.meter)
        yield from figure_faults(item, choice, drawn)
        if choice.key:
            continue
        against = _against(drawn.measures, excerpt.meter)
        if against:
            yield reason(against, f"{text} in {excerpt.meter}")
        if not _printed_somewhere(drawn.measures, taught, item.conventions):
            yield reason("unprintable-choice", text)


def _printed_somewhere(measures: Measures, taught: Taught, conventions: Conventions) -> bool:
    """Whether some taught meter prints these measures so, without syncopation unless taught."""
    for meter in (m for m in taught.meters if full_in(measures, m)):
        faults = chain(measure_faults(measures, meter, conventions), syncopation_faults(measures, meter, taught))
        if next(faults, None) is None:
            return True
    return False
