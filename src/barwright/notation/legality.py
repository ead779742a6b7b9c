"""Whether a full measure can be printed: notes, rests, ties and triplets where handbooks put them.

The rules look at one symbol in its place (`place_fault`), at two neighbours (`neighbour_fault`) and at the measure as a
whole, and at nothing else; `capacity` counts legal measures by the same functions.

Sources: Open University, An introduction to music theory, 4.2-4.4 (rests); G. Read, Music Notation (2nd ed. 1979)
(dots, ties); E. Gould, Behind Bars (2011) (middle of the measure). Rules without a source there: common practice.
"""

from collections.abc import Iterator
from functools import lru_cache

from barwright.notation.metrical_frame import (
    EIGHTH,
    QUARTER,
    SIXTEENTH,
    Frame,
    FrameSign,
    PrintRules,
    frames,
    print_rules,
    sign_of,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import Symbol, Symbols
from barwright.rhythm.meter import Meter

# Every fault id with its rule and where the rule comes from.
FAULTS = {
    "blank-left": "a blank is neither note nor rest",
    "measure-not-full": "a measure holds what its time signature says, no less (Open University 3.6)",
    "measure-too-full": "a measure holds what its time signature says, no more (Open University 3.6)",
    "full-measure-rest-not-alone": "the full-measure rest fills its measure by itself (Open University 4.4)",
    "silent-measure-in-pieces": "an empty measure takes one full-measure rest in any meter (Open University 4.4)",
    "off-the-grid": "outside triplets every symbol starts on a sixteenth (common practice)",
    "note-hides-beat": "a note from off the beat hides one beat at most, from half beat to half beat (common practice)",
    "note-hides-middle": "a sound from off the beat is split and tied at beat 3 of 4/4 (Gould)",
    "note-hides-group": "in an additive meter a note starts a group or stays inside it (common practice)",
    "note-hides-eighth": "in compound time a dotted eighth starts on an eighth (common practice)",
    "rest-hides-beat": "each beat start stays visible in rests (Open University 4.2)",
    "rest-hides-middle": "a half rest stands on beats 1-2 or 3-4 of 4/4, never 2-3 (Open University 4.2)",
    "rest-off-half-beat": "rests inside a beat are grouped by half beats (Open University 4.2)",
    "half-rest-in-three": "3/4 takes two quarter rests (Open University 4.2), by convention half_rest_in_3_4",
    "dotted-rest": "dotted rests belong to beats of three (Open University 4.2, 4.3), by convention dotted_rests",
    "compound-tail-rest": "silence on the last two eighths of a beat, by convention compound_tail_rest",
    "rests-not-joined": "as few rests as possible inside a beat (Open University 4.2)",
    "tie-to-nothing": "a tie joins two notes; rests are never tied (Read)",
    "tie-off-the-beat": "a tie shows a beat: its second note starts on one (common practice)",
    "tie-chain": "no note is tied on both sides inside a measure (common practice)",
    "triplet-value": "triplets are of plain eighth or quarter notes, without rests (common practice)",
    "triplet-place": "a triplet fills one quarter beat, or beats 1-2 or 3-4, of a simple meter (common practice)",
    "triplet-in-pieces": "a triplet is three equal members (Read)",
}


def notation_faults(symbols: Symbols, meter: Meter, conventions: Conventions) -> tuple[str, ...]:
    """The ids (see `FAULTS`) of all that is wrong in one full measure as printed, each once; empty if it is legal.

    An additive meter without written groups is judged by the grouping that the rhythm shows.

    >>> from barwright.rhythm.text import parse_symbols
    >>> notation_faults(parse_symbols("q rh q"), Meter(4, 4), Conventions())
    ('rest-hides-middle',)
    """
    return tuple(dict.fromkeys(_all_faults(symbols, meter, print_rules(conventions))))


@lru_cache(maxsize=1 << 13)
def is_legal(symbols: Symbols, meter: Meter, conventions: Conventions) -> bool:
    """Whether one full measure is printed by the rules: it has no notation faults."""
    return next(_all_faults(symbols, meter, print_rules(conventions)), None) is None


def may_begin(symbol: Symbol, meter: Meter, conventions: Conventions) -> bool:
    """Whether a measure may begin with this note or rest, whatever follows: a half note, say, begins no 6/8.

    >>> from barwright.rhythm.measure import note, rest
    >>> from barwright.rhythm.meter import parse_meter
    >>> from barwright.rhythm.values import PLAIN
    >>> half = PLAIN["half"]
    >>> [may_begin(s, parse_meter("3/4"), Conventions()) for s in (note(half), rest(half))]
    [True, False]
    """
    choices = frames(meter, print_rules(conventions))
    return any(place_fault(sign_of(symbol), 0, frame) is None for frame in choices)


def _all_faults(symbols: Symbols, meter: Meter, rules: PrintRules) -> Iterator[str]:
    if any(s.kind == "blank" for s in symbols):
        yield "blank-left"
        return
    signs = [sign_of(s) for s in symbols]
    yield from _faults(signs, _shown(signs, frames(meter, rules)))


def shown_frame(symbols: Symbols, choices: tuple[Frame, ...]) -> Frame:
    """The first frame whose groups no symbol of a full measure hides, else the usual one."""
    return _shown([sign_of(s) for s in symbols], choices)


def _shown(signs: list[FrameSign], choices: tuple[Frame, ...]) -> Frame:
    """The first frame whose groups no symbol hides, else the usual one."""
    if len(choices) == 1:
        return choices[0]
    return next((f for f in choices if not any(hides_group(*each, f) for each in _placed(signs, f))), choices[0])


def _placed(signs: list[FrameSign], frame: Frame) -> Iterator[tuple[FrameSign, int]]:
    """The symbols that start inside the measure, with their onsets."""
    onset = 0
    for sign in signs:
        if onset >= frame.capacity:
            return
        yield sign, onset
        onset += sign.length or frame.capacity


def _faults(signs: list[FrameSign], frame: Frame) -> Iterator[str]:
    full = sum(s.length or frame.capacity for s in signs)
    if full != frame.capacity:
        yield "measure-not-full" if full < frame.capacity else "measure-too-full"
    before: FrameSign | None = None
    for sign, onset in _placed(signs, frame):
        beside = neighbour_fault(before, sign, onset, frame) if before else None
        yield from filter(None, (beside, place_fault(sign, onset, frame)))
        before = sign
    if signs[-1].tied:
        yield "tie-to-nothing"
    if any(s.full_measure for s in signs):
        if len(signs) > 1:
            yield "full-measure-rest-not-alone"
    elif all(s.silent for s in signs):
        yield "silent-measure-in-pieces"


def hides_group(sign: FrameSign, onset: int, frame: Frame) -> bool:
    """Whether a symbol covers the start of a group of an additive meter without filling whole groups."""
    if not frame.closed or sign.full_measure:
        return False
    end = onset + sign.length
    return any(onset < s < end for s in frame.segments) and not (onset in frame.segments and end in frame.segments)


def place_fault(sign: FrameSign, onset: int, frame: Frame) -> str | None:
    """What is wrong with one symbol starting `onset` ticks into the measure, whatever stands beside it, or None."""
    if sign.full_measure:
        return None  # it fills the measure, so whatever stands beside it is too much
    if sign.triplet:
        return _triplet_fault(sign, onset, frame)
    if onset % SIXTEENTH:
        return "off-the-grid"
    if sign.silent:
        return _rest_fault(sign, onset, frame)
    return "note-hides-group" if hides_group(sign, onset, frame) else _note_fault(onset, onset + sign.length, frame)


def neighbour_fault(before: FrameSign, sign: FrameSign, onset: int, frame: Frame) -> str | None:
    """What is wrong with a symbol starting `onset` ticks into the measure just after `before`, or None."""
    if before.tied:
        if sign.silent:
            return "tie-to-nothing"
        if sign.tied:
            return "tie-chain"
        if onset not in frame.beats:
            return "tie-off-the-beat"
    same = before.triplet and sign.triplet and before.plain == sign.plain
    if not same and any(s.triplet and onset % (2 * s.plain) for s in (before, sign)):
        return "triplet-in-pieces"
    if before.silent and sign.silent and onset not in frame.beats and _joinable(before, sign, onset, frame):
        return "rests-not-joined"
    return None


def trace(sign: FrameSign) -> FrameSign:
    """What `neighbour_fault` needs of the symbol before: two symbols with one trace have the same followers."""
    return sign if sign.silent or sign.triplet else FrameSign(silent=False, tied=sign.tied)


def _note_fault(onset: int, end: int, frame: Frame) -> str | None:
    start, length, division = frame.beat(onset)
    inside = onset - start
    if onset < frame.middle < end:
        # q. on beat 2 of 4/4: strict writers split it at beat 3
        dotted = frame.rules.strict_middle and onset and end not in frame.beats
        if inside or dotted:
            return "note-hides-middle"
    if division == 3:
        return _note_in_three(inside, end - onset, length, frame, end=end)
    # in 2/2 the half-note beats first, then the quarters inside them
    pulses = (length, QUARTER) if length > QUARTER else (length,)
    return "note-hides-beat" if any(_hides_pulse(inside, end - start, p) for p in pulses) else None


def _hides_pulse(start: int, end: int, pulse: int) -> bool:
    """Whether a note from off the pulse hides more than one of its points, or one otherwise than by half pulses."""
    hidden = (end - 1) // pulse - start // pulse
    return bool(start % pulse and hidden) and (hidden > 1 or bool(start % (pulse // 2) or end % (pulse // 2)))


def _note_in_three(inside: int, length: int, beat: int, frame: Frame, *, end: int) -> str | None:
    """In a beat of three eighths: only what starts on the beat and fills whole beats may hide one."""
    if inside + length > beat and (inside or end not in frame.beats):
        return "note-hides-beat"
    return "note-hides-eighth" if inside % EIGHTH and length > EIGHTH else None


def _rest_fault(sign: FrameSign, onset: int, frame: Frame) -> str | None:
    start, length, division = frame.beat(onset)
    inside = onset - start
    if sign.dots:
        return None if _dotted_rest_fits(sign, onset, frame) else "dotted-rest"
    if sign.plain > length:
        if sign.plain == frame.capacity:
            return None  # the silent measure is judged as a whole
        wide = division == 2 and not inside and sign.plain % length == 0
        return _wide_rest_fault(sign.plain // length, onset, length, frame) if wide else "rest-hides-beat"
    if inside + sign.plain > length:
        return "rest-hides-beat"
    if division == 3 and sign.plain == QUARTER:
        if inside == EIGHTH:
            return None if frame.rules.compound_tail_rest == "quarter" else "compound-tail-rest"
        return "rest-off-half-beat" if inside else None
    return "rest-off-half-beat" if inside % sign.plain else None


# Beats (from 0) on which a rest of two beats may start in a group of three beats, by convention half_rest_in_3_4.
TWO_IN_THREE: dict[str, tuple[int, ...]] = {"forbid": (), "allow_1-2": (0,), "allow": (0, 1)}


def _wide_rest_fault(beats: int, onset: int, beat: int, frame: Frame) -> str | None:
    """A rest of several whole beats must stand for a visible part of its segment: 1-2 or 3-4, or 1-2-3-4 of more."""
    start, end = frame.segment(onset)
    index, room = (onset - start) // beat, (end - start) // beat
    if room == 3 and beats == 2:
        return None if index in TWO_IN_THREE[frame.rules.half_rest_in_3_4] else "half-rest-in-three"
    return "rest-hides-middle" if index % beats or index + beats > room else None


def _dotted_rest_fits(sign: FrameSign, onset: int, frame: Frame) -> bool:
    start, length, division = frame.beat(onset)
    inside, anywhere = onset - start, frame.rules.dotted_rests == "all"
    if sign.dots > 1 or frame.rules.dotted_rests == "none":
        return False
    if division == 3 and sign.plain >= QUARTER:
        # one silent beat of three, or the silent half of a measure in four (Open University 4.3)
        return (onset, onset + sign.length) == frame.segment(onset) or (not inside and sign.length == length)
    if division == 3:
        return anywhere and inside % EIGHTH == 0 and inside + sign.length <= length
    if sign.plain == length:
        return anywhere and not inside and onset + sign.length <= frame.segment(onset)[1]
    return anywhere and sign.plain < length and inside % (2 * sign.plain) == 0


def _joinable(before: FrameSign, sign: FrameSign, onset: int, frame: Frame) -> bool:
    """Whether two rests that meet inside a beat must be printed otherwise."""
    if before.dots or sign.dots:
        return True
    if before.plain != sign.plain:
        # eighth, then quarter for a silent beat of three: the longer comes first (Open University 4.3)
        return frame.beat(onset)[2] == 3 and sign.plain == QUARTER
    joined = FrameSign(silent=True, length=2 * sign.length, plain=2 * sign.plain)
    return _rest_fault(joined, onset - before.length, frame) is None


def _triplet_fault(sign: FrameSign, onset: int, frame: Frame) -> str | None:
    if sign.silent or sign.dots or sign.plain not in (QUARTER, EIGHTH):
        return "triplet-value"
    span = 2 * sign.plain
    first = onset - onset % span
    hides = any(first < s < first + span for s in frame.segments)
    return "triplet-place" if not frame.triplets or hides or (onset - first) % (span // 3) else None
