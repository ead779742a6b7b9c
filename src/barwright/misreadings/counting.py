"""Errors of counting: a label goes to the wrong position, or to the wrong sound.

Source of those without another: the trade's catalogue of student errors (common practice; hypotheses to be tested on
class data).
"""

from collections.abc import Sequence

from barwright.errors import RhythmError
from barwright.misreadings.reading import LABELING, Misreading, Reading, Spot
from barwright.misreadings.rows import (
    beat_of,
    is_numbered,
    measures_of,
    right_row,
    speaker,
    with_each,
    with_labels,
    with_spots,
    without_ties,
    written,
)
from barwright.rhythm.counting import count_labels
from barwright.rhythm.labels import Spans, spans
from barwright.rhythm.values import TICKS

DOTTED_QUARTER = 3 * TICKS // 8
PLACES = 4  # of a beat: 1 e & a (US method books, common practice)
WAITING = {"parentheses": "()", "R": "R", "strike": ""}


def count_waits_during_rests(reading: Reading) -> Reading | None:
    """What a student writes who stops counting in a rest and goes on with the next number at the next note."""
    measures = measures_of(reading)
    if not is_numbered(reading) or not any(s.silent for m in measures for s in m):
        return None
    empty, found = WAITING[reading.conventions.rest_counts], []
    spoken = speaker(reading.meter, reading.conventions)
    for measure in measures:
        if all(sound.silent for sound in measure):
            return None
        row, waited = [], 0
        for sound in measure:
            if sound.silent:
                waited += sound.length
                row.append(empty)
            else:
                label = spoken(sound.onset - waited, sound.length, False, sound.held, sound.triplet)
                if label is None:
                    return None
                row.append(label)
        found.append(row)
    return with_labels(reading, found)


def notes_numbered_in_order(reading: Reading) -> Reading | None:
    """What a student writes who numbers the notes and rests one after another instead of counting beats."""
    if not is_numbered(reading):
        return None
    return with_each(reading, lambda index, sound: written(reading, str(index + 1), sound))


def held_beats_struck_again(reading: Reading) -> Reading | None:
    """What a student writes who plays a note again on each beat that it is held: two beats mean two notes.

    Source: teacher essay 2015 (Mr A Music Place): a half note "gets two beats" understood as play two notes.
    """
    house = reading.conventions
    row = right_row(reading)
    if house.counting != "numbers" or house.held != "beats" or row is None:
        return None
    found = []
    for measure, labels in zip(measures_of(reading), row, strict=True):
        pairs = zip(measure, labels, strict=True)
        found.append([label if s.silent else label.lstrip("-").replace("-", " ") for s, label in pairs])
    return with_labels(reading, found)


def numbers_and_ands_alternate(reading: Reading) -> Reading | None:
    """What a student writes who puts number, &, number, & under any notes, however long they are."""
    if reading.conventions.counting != "numbers" or reading.meter.kind != "simple":
        return None
    return with_each(reading, lambda index, sound: written(reading, "&" if index % 2 else str(index // 2 + 1), sound))


def counting_goes_on_over_the_barline(reading: Reading) -> Reading | None:
    """What a student writes who does not start again at 1 after a barline but counts on."""
    if not is_numbered(reading) or len(reading.excerpt.measures) == 1:
        return None
    passed = reading.meter.ticks

    def moved(measure: Spans) -> list[Spot]:
        before = passed * measure[0].measure
        return [(sound.onset + before, sound.length) for sound in measure]

    return with_spots(reading, moved)


def sixteenth_labels_never_skip(reading: Reading) -> Reading | None:
    """What a student writes who says 1 e & a in order under the notes of a beat, whatever their lengths."""
    beat = beat_of(reading)
    if reading.conventions.counting != "numbers" or beat is None or reading.meter.kind != "simple":
        return None
    if not any(2 * s.length < beat for m in measures_of(reading) for s in m):
        return None
    return with_spots(reading, lambda measure: _in_order(measure, beat))


def _in_order(measure: Spans, beat: int) -> list[Spot]:
    """In each beat that begins with a sound and has a sixteenth, the sounds stand on its quarters in order."""
    found: list[Spot] = []
    quarter = beat // 4
    for index, sound in enumerate(measure):
        number = sound.onset // beat
        same = [s for s in measure[:index] if s.onset // beat == number]
        peers = [s for s in measure if s.onset // beat == number]
        starts = any(s.onset == number * beat for s in peers)
        small = any(s.length in (quarter, 3 * quarter) for s in peers)
        if starts and small and len(peers) <= PLACES and not any(s.triplet for s in peers):
            onset = number * beat + len(same) * quarter
            found.append((onset, max(sound.onset + sound.length - onset, quarter)))
        else:
            found.append((sound.onset, sound.length))
    return found


def note_after_a_dot_waits_for_the_beat(reading: Reading) -> Reading | None:
    """What a student writes who lets every note begin on a beat: the eighth after a dotted quarter waits."""
    if reading.meter.kind != "simple" or not _has_dotted_quarter(reading):
        return None
    beat, capacity = beat_of(reading), reading.meter.ticks
    return None if beat is None else with_spots(reading, lambda measure: _on_beats(measure, beat, capacity))


def _has_dotted_quarter(reading: Reading) -> bool:
    values = (s.value for s in reading.excerpt.symbols if s.kind == "note")
    return any(v is not None and v.ticks == DOTTED_QUARTER and v.dots == 1 for v in values)


def _on_beats(measure: Spans, beat: int, capacity: int) -> list[Spot] | None:
    """Each sound from the first whole beat at or after the end of the one before; cut at the barline."""
    found: list[Spot] = []
    end = measure[0].onset
    for sound in measure:
        onset = -(-end // beat) * beat
        if onset >= capacity:
            return None
        length = min(sound.length, capacity - onset)
        found.append((onset, length))
        end = onset + length
    return found


def syncopation_straightened(reading: Reading) -> Reading | None:
    """What a student writes who evens out short, long, short to short, short, long, so that notes start on beats."""
    return with_spots(reading, _straightened) if reading.meter.kind == "simple" else None


def _straightened(measure: Spans) -> list[Spot]:
    found: list[Spot] = [(s.onset, s.length) for s in measure]
    for at in range(len(measure) - 2):
        three = measure[at : at + 3]
        short = three[0].length
        notes = not any(s.silent or s.triplet or s.held for s in three)
        if notes and [s.length for s in three] == [short, 2 * short, short] and three[0].onset % (2 * short) == 0:
            start = three[0].onset
            found[at + 1 : at + 3] = [(start + short, short), (start + 2 * short, 2 * short)]
    return found


def tied_note_struck_again(reading: Reading) -> Reading | None:
    """What a student writes who passes over ties and gives every note head a count of its own."""
    excerpt = reading.excerpt
    if excerpt.blank is not None or not any(s.tied for s in excerpt.symbols):
        return None
    untied = without_ties(excerpt)
    try:
        labels = count_labels(untied, reading.conventions)
    except RhythmError:
        return None
    found = []
    for measure, loose, row in zip(measures_of(reading), spans(untied), labels, strict=True):
        firsts = [s.at for s in measure]
        groups: list[list[str]] = [[] for _ in measure]
        for sound, label in zip(loose, row, strict=True):
            groups[_last_at_or_before(firsts, sound.at)].append(label)
        found.append([" ".join(group) for group in groups])
    return with_labels(reading, found)


def _last_at_or_before(firsts: Sequence[int], index: int) -> int:
    return sum(first <= index for first in firsts) - 1


COUNTING = (
    Misreading(
        "count-waits-during-rests",
        count_waits_during_rests,
        LABELING,
        "label",
        needs=frozenset({"r"}),
        confused_with=("rests-take-no-time",),
    ),
    Misreading("notes-numbered-in-order", notes_numbered_in_order, LABELING, "label"),
    Misreading(
        "held-beats-struck-again",
        held_beats_struck_again,
        LABELING,
        "label",
        source='teacher essay 2015 (Mr A Music Place): a half note "gets two beats" understood as play two notes',
    ),
    Misreading("numbers-and-ands-alternate", numbers_and_ands_alternate, LABELING, "label", needs=frozenset({"e"})),
    Misreading("counting-goes-on-over-the-barline", counting_goes_on_over_the_barline, LABELING, "label"),
    Misreading("sixteenth-labels-never-skip", sixteenth_labels_never_skip, LABELING, "label", needs=frozenset({"s"})),
    Misreading(
        "note-after-a-dot-waits-for-the-beat",
        note_after_a_dot_waits_for_the_beat,
        LABELING,
        "label",
        needs=frozenset({"q.", "e"}),
    ),
    Misreading("syncopation-straightened", syncopation_straightened, LABELING, "grouping"),
    Misreading("tied-note-struck-again", tied_note_struck_again, LABELING, "label", needs=frozenset({"~"})),
)
