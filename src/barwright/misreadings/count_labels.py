"""Errors of counting: a label goes to the wrong position, or to the wrong sound."""

from collections.abc import Callable, Sequence

from barwright.counting.counts import count_labels
from barwright.counting.labels import Spans, spans
from barwright.counting.systems import counted_beats
from barwright.errors import RhythmError
from barwright.misreadings.belief import (
    HYPOTHESIS,
    LABELING,
    Misreading,
    Reading,
    Spot,
    Usage,
)
from barwright.misreadings.believed_rows import (
    Labels,
    counts_of,
    labels_at,
    with_changes,
    with_labels,
    with_names,
    with_spots,
    without_ties,
)
from barwright.rhythm.values import TICKS

DOTTED_QUARTER = 3 * TICKS // 8
PLACES = 4  # of a beat: 1 e & a (US method books, common practice)
WAITING = {"parentheses": "()", "R": "R", "strike": ""}


def count_waits_during_rests(reading: Reading) -> Reading | None:
    """What a student writes who stops counting in a rest and goes on with the next number at the next note."""
    if not counts_of(reading).usage.numbered or not any(s.silent for s in reading.excerpt.symbols):
        return None
    return with_names(reading, _waiting)


def _waiting(measure: Spans, usage: Usage) -> list[str | None] | None:
    if all(sound.silent for sound in measure):
        return None
    labels: list[str | None] = []
    waited = 0
    for sound in measure:
        if sound.silent:
            waited += sound.length
            labels.append(WAITING[usage.conventions.rest_counts])
        else:
            labels.append(usage.spoken(sound.onset - waited, sound.length, False, sound.held, sound.triplet))
    return labels


def notes_numbered_in_order(reading: Reading) -> Reading | None:
    """What a student writes who numbers the notes and rests one after another instead of counting beats."""
    return with_names(reading, _one_by_one) if counts_of(reading).usage.numbered else None


def _one_by_one(measure: Spans, usage: Usage) -> list[str]:
    return [usage.written(str(number), sound) for number, sound in enumerate(measure, start=1)]


def held_beats_struck_again(reading: Reading) -> Reading | None:
    """What a student writes who plays a note again on each beat that it is held: two beats mean two notes.

    Source: teacher essay 2015 (Mr A Music Place): a half note "gets two beats" understood as play two notes.
    """
    conventions = reading.conventions
    return (
        with_changes(reading, _struck_again)
        if conventions.counting == "numbers" and conventions.held == "beats"
        else None
    )


def _struck_again(measure: Spans, labels: Labels) -> list[str]:
    pairs = zip(measure, labels, strict=True)
    return [label if s.silent else label.lstrip("-").replace("-", " ") for s, label in pairs]


def numbers_and_ands_alternate(reading: Reading) -> Reading | None:
    """What a student writes who puts number, &, number, & under any notes, however long they are."""
    if reading.conventions.counting != "numbers" or not _halved(reading):
        return None
    return with_names(reading, _alternating)


def _halved(reading: Reading) -> bool:
    """Whether the class splits each beat of the meter in two: there is no & in 1 la li."""
    return all(beat.parts == 2 for beat in counted_beats(reading.meter, reading.conventions))


def _alternating(measure: Spans, usage: Usage) -> list[str]:
    return [usage.written("&" if n % 2 else str(n // 2 + 1), sound) for n, sound in enumerate(measure)]


def counting_goes_on_over_the_barline(reading: Reading) -> Reading | None:
    """What a student writes who does not start again at 1 after a barline but counts on."""
    counts = counts_of(reading)
    if not counts.usage.numbered or len(reading.excerpt.measures) == 1:
        return None
    rows = []
    for number, measure in enumerate(counts.measures):
        before = number * reading.meter.ticks
        labels = labels_at(measure, [(s.onset + before, s.length) for s in measure.spans], counts.usage)
        if labels is None:
            return None
        rows.append(labels)
    return with_labels(reading, tuple(rows))


def sixteenth_labels_never_skip(reading: Reading) -> Reading | None:
    """What a student writes who says 1 e & a in order under the notes of a beat, whatever their lengths."""
    counts = counts_of(reading)
    beat = counts.usage.beat
    if reading.conventions.counting != "numbers" or beat is None or not _halved(reading):
        return None
    if not any(2 * s.length < beat for m in counts.measures for s in m.spans):
        return None
    return with_spots(reading, _in_order)


def _in_order(measure: Spans, usage: Usage) -> list[Spot] | None:
    """In each beat that begins with a sound and has a sixteenth, the sounds stand on its quarters in order."""
    beat = usage.beat
    if beat is None:
        return None
    spots: list[Spot] = []
    quarter = beat // 4
    for index, sound in enumerate(measure):
        number = sound.onset // beat
        same = [s for s in measure[:index] if s.onset // beat == number]
        peers = [s for s in measure if s.onset // beat == number]
        starts = any(s.onset == number * beat for s in peers)
        small = any(s.length in (quarter, 3 * quarter) for s in peers)
        if starts and small and len(peers) <= PLACES and not any(s.triplet for s in peers):
            onset = number * beat + len(same) * quarter
            spots.append((onset, max(sound.onset + sound.length - onset, quarter)))
        else:
            spots.append((sound.onset, sound.length))
    return spots


def note_after_a_dot_waits_for_the_beat(reading: Reading) -> Reading | None:
    """What a student writes who lets every note begin on a beat: the eighth after a dotted quarter waits."""
    if reading.meter.kind != "simple" or not _has_dotted_quarter(reading):
        return None
    return with_spots(reading, _on_beats)


def _has_dotted_quarter(reading: Reading) -> bool:
    values = (s.value for s in reading.excerpt.symbols if s.kind == "note")
    return any(v is not None and v.ticks == DOTTED_QUARTER and v.dots == 1 for v in values)


def _on_beats(measure: Spans, usage: Usage) -> list[Spot] | None:
    """Each sound from the first whole beat at or after the end of the one before.

    What begins in the measure is cut at the barline; what no longer does is counted on: 1-2 3 4 5.
    """
    beat, capacity = usage.beat, usage.meter.ticks
    if beat is None:
        return None
    spots: list[Spot] = []
    end = measure[0].onset
    for sound in measure:
        onset = -(-end // beat) * beat
        length = min(sound.length, capacity - onset) if onset < capacity else sound.length
        spots.append((onset, length))
        end = onset + length
    return spots


def syncopation_straightened(reading: Reading) -> Reading | None:
    """What a student writes who evens out short, long, short to short, short, long, so that notes start on beats."""
    return with_spots(reading, _straightened) if reading.meter.kind == "simple" else None


def _straightened(measure: Spans, _usage: Usage) -> list[Spot]:
    spots: list[Spot] = [(s.onset, s.length) for s in measure]
    for at in range(len(measure) - 2):
        three = measure[at : at + 3]
        short = three[0].length
        notes = not any(s.silent or s.triplet or s.held for s in three)
        if notes and [s.length for s in three] == [short, 2 * short, short] and three[0].onset % (2 * short) == 0:
            start = three[0].onset
            spots[at + 1 : at + 3] = [(start + short, short), (start + 2 * short, 2 * short)]
    return spots


def tied_note_struck_again(reading: Reading) -> Reading | None:
    """What a student writes who passes over ties and gives every note head a count of its own."""
    return with_grouped_counts(reading, _each_struck)


def _each_struck(group: Sequence[str], _held: bool) -> str:
    return " ".join(group)


def with_grouped_counts(reading: Reading, joined: Callable[[Sequence[str], bool], str]) -> Reading | None:
    """The reading with the counts of all note heads of a tied sound put together by `joined`.

    It is given the counts that the heads would have untied, and whether a tie leads into the sound from the measure
    before. None where there is no tie, or the counting system has no count.
    """
    excerpt = reading.excerpt
    if excerpt.blank is not None or not any(s.tied for s in excerpt.symbols):
        return None
    untied = without_ties(excerpt)
    try:
        labels = count_labels(untied, reading.conventions)
    except RhythmError:
        return None
    rows = []
    for measure, loose, row in zip(counts_of(reading).measures, spans(untied), labels, strict=True):
        firsts = [s.at for s in measure.spans]
        groups: list[list[str]] = [[] for _ in firsts]
        for sound, label in zip(loose, row, strict=True):
            groups[_last_at_or_before(firsts, sound.at)].append(label)
        rows.append(tuple([joined(group, s.held) for group, s in zip(groups, measure.spans, strict=True)]))
    return with_labels(reading, tuple(rows))


def _last_at_or_before(firsts: Sequence[int], index: int) -> int:
    return sum(first <= index for first in firsts) - 1


COUNTING = (
    Misreading(
        count_waits_during_rests,
        LABELING,
        "label",
        needs=frozenset({"r"}),
        confused_with=("rests-take-no-time",),
        source=HYPOTHESIS,
    ),
    Misreading(notes_numbered_in_order, LABELING, "label", source=HYPOTHESIS),
    Misreading(
        held_beats_struck_again,
        LABELING,
        "label",
        source="teacher essay 2015 (Mr A Music Place)",  # a half note "gets two beats": "play two notes"
    ),
    Misreading(numbers_and_ands_alternate, LABELING, "label", needs=frozenset({"e"}), source=HYPOTHESIS),
    Misreading(counting_goes_on_over_the_barline, LABELING, "label", source=HYPOTHESIS),
    Misreading(sixteenth_labels_never_skip, LABELING, "label", needs=frozenset({"s"}), source=HYPOTHESIS),
    Misreading(note_after_a_dot_waits_for_the_beat, LABELING, "label", needs=frozenset({"q.", "e"}), source=HYPOTHESIS),
    Misreading(syncopation_straightened, LABELING, "grouping", source=HYPOTHESIS),
    Misreading(tied_note_struck_again, LABELING, "label", needs=frozenset({"~"}), source=HYPOTHESIS),
)
