"""Meter identification, judged: which time signature belongs to printed measures, and which measures to a signature.

Statements about a meter, judged as sentences: each is true or false of the excerpt, whoever says it."""

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import chain, combinations

from barwright.items.item import Item
from barwright.items.taught import Taught
from barwright.judge.answer_texts import NOTE_KINDS, Claim, claim_of, meter_of
from barwright.judge.beats import beat_notes, beats_in
from barwright.judge.every_item import (
    Measures,
    drawn_of,
    figure_faults,
    figure_pairs,
)
from barwright.judge.print_rules import (
    length_of_all,
    lone_whole_rest,
    measure_faults,
    sounds,
    syncopation_faults,
)
from barwright.judge.reasons import reason
from barwright.notation.beaming import beams_decide
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import length_of, total
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_excerpt

_THREE_EIGHTHS = Fraction(3, 8)


def full_in(measures: Measures, meter: Meter) -> bool:
    """Whether every printed measure is full in this meter; a lone whole-rest sign is full in any."""
    return all(lone_whole_rest(m) or length_of_all(m, meter) == meter.capacity for m in measures)


def _twice_three_eighths(measures: Measures, meter: Meter) -> bool:
    """3/4 or 6/8 in all, which is also two measures of 3/8 (common practice)."""
    return meter.capacity == _THREE_EIGHTHS and sum(length_of_all(m, meter) for m in measures) == 2 * _THREE_EIGHTHS


def _beams_can_decide(own: Meter, other: Meter) -> bool:
    """Only where the felt beats differ and one meter is not simple: 4/4 and 2/2 are both beamed either way."""
    return own.felt_beats != other.felt_beats and {own.kind, other.kind} != {"simple"}


def _against(measures: Measures, meter: Meter) -> str:
    """Why these measures are right, or not clearly wrong, in this meter, as a reason id; empty if they are wrong.

    The stem says that each measure is full: else two halves of one would do, a pickup and a last measure without it.
    """
    if all(map(lone_whole_rest, measures)):
        return "any-meter"
    if full_in(measures, meter) or _twice_three_eighths(measures, meter):
        return "same-total"
    return ""


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


def _fit(length: Fraction, meter: Meter, note: Fraction) -> Claim:
    kind = "fits" if length <= meter.capacity else "fits-not"
    return Claim(kind, (length / note, meter.capacity / note))


def does_it_fit_faults(item: Item, _taught: Taught) -> Iterator[str]:
    """Reasons against the choice of verdicts on one symbol: the key is true in bottom-number notes, no other in any."""
    meter, measure = item.excerpt.meter, item.excerpt.measures[0]
    lengths = {total(measure, meter)}
    if lone_whole_rest(measure):
        # The sign fills any measure; where the measure is longer than four quarters it may also mean just these.
        lengths = {meter.capacity} | ({Fraction(1)} if meter.capacity > 1 else set())
    stated = {_fit(length, meter, meter.unit) for length in lengths}
    anywhere = {_fit(length, meter, note) for length in lengths for note in beat_notes(meter)}
    # Who takes "fits" for "fills" says that a short symbol does not fit.
    anywhere |= {Claim("fits-not", c.numbers) for c in anywhere if c.numbers[0] < c.numbers[1]}
    own = meter.capacity if lone_whole_rest(measure) else total(measure, meter)
    for choice in item.choices:
        claim = claim_of(choice.answer.text)
        assert claim is not None  # read before
        if claim.kind not in ("fits", "fits-not"):
            yield reason("wrong-kind", str(claim))
        elif choice.key:
            if claim != _fit(own, meter, meter.unit):
                yield reason("key-not-right", f"{claim} for {format_excerpt(item.excerpt)}")
        elif claim in stated:
            yield reason("second-right-answer", str(claim))
        elif claim in anywhere:
            yield reason("right-elsewhere", str(claim))
        elif (claim.kind == "fits") != (claim.numbers[0] <= claim.numbers[1]):
            yield reason("contradiction", str(claim))


def _adds_up(claim: Claim, excerpt: Excerpt, target: str) -> bool:
    return target == "top" and claim.numbers[0] / claim.numbers[1] == excerpt.meter.capacity


def _stands_for(claim: Claim, excerpt: Excerpt, target: str) -> bool:
    """Of the bottom number; of the top number too where both are the same figure, as in 4/4: there a 4 is a 4."""
    meter = excerpt.meter
    return claim.numbers[0] == meter.bottom and (target == "bottom" or meter.top == meter.bottom)


def _said(meter: Meter, conventions: Conventions) -> dict[str, tuple[Claim, ...]]:
    """What each number tells: how many of the bottom number's notes, and which note that is.

    Or in beats, where that note is called one: not over 8, nor where half notes are counted as two quarters.
    """
    top, bottom = Fraction(meter.top), Fraction(meter.bottom)
    many, note = Claim("adds-up", (top, bottom)), Claim("stands-for", (bottom,))
    if meter.bottom == 4 or (meter.bottom == 2 and conventions.cut_time == "in_two"):
        return {"top": (many, Claim("how-many", (top,))), "bottom": (note, Claim("gets-beat", (bottom,)))}
    return {"top": (many,), "bottom": (note,)}


def _how_many(claim: Claim, excerpt: Excerpt, target: str) -> bool:
    """Of the top number, in any sort of beat; the bottom one never tells how many."""
    return target == "top" and claim.numbers[0] in beats_in(excerpt.meter.capacity, excerpt.meter)


def _gets_beat(claim: Claim, excerpt: Excerpt, target: str) -> bool:
    """Of the bottom number; the top one never tells which note gets the beat."""
    return target == "bottom" and claim.numbers[0] == excerpt.meter.bottom


def _big_beats(claim: Claim, excerpt: Excerpt, _target: str) -> bool:
    """Big beats are groups of three of the bottom number's notes, however a class counts them."""
    return claim.numbers[0] * 3 * excerpt.meter.unit == excerpt.meter.capacity


def _kind_of_note(_claim: Claim, _excerpt: Excerpt, target: str) -> bool:
    return target == "bottom"


def _notes(claim: Claim, excerpt: Excerpt, _target: str) -> bool:
    """Counting symbols, notes, or sounds (tied notes as one)."""
    counts = (
        {len(m) for m in excerpt.measures},
        {sum(not s.silent for s in m) for m in excerpt.measures},
        {sum(loud for loud, _ in sounds(m, excerpt.meter)) for m in excerpt.measures},
    )
    return {claim.numbers[0]} in counts


def _measures(claim: Claim, excerpt: Excerpt, _target: str) -> bool:
    """A pickup may be counted as a measure or not."""
    return claim.numbers[0] in {len(excerpt.measures), len(excerpt.measures) - excerpt.pickup}


def _lasts(claim: Claim, excerpt: Excerpt, _target: str) -> bool:
    """Of all notes, all symbols or all sounds, in any beat."""
    meter = excerpt.meter
    written = {length_of(s, meter) for s in excerpt.symbols if not s.silent}
    heard = {length for m in excerpt.measures for loud, length in sounds(m, meter) if loud}
    return any(lengths == {claim.numbers[0] * note} for note in beat_notes(meter) for lengths in (written, heard))


# Whether a statement is true of the excerpt when it is said of the target number.
_TRUE: dict[str, Callable[[Claim, Excerpt, str], bool]] = {
    "adds-up": _adds_up,
    "stands-for": _stands_for,
    "how-many": _how_many,
    "big-beats": _big_beats,
    "gets-beat": _gets_beat,
    "kind-of-note": _kind_of_note,
    "notes": _notes,
    "measures": _measures,
    "lasts": _lasts,
}


def numbers_say_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against the choice of statements about one number: the key defines it, no other is even true."""
    excerpt, meter = item.excerpt, item.excerpt.meter
    yield from measure_faults(excerpt.measures, meter, item.conventions, pickup=excerpt.pickup)
    keys = _said(meter, item.conventions)
    yield from _same_claims(item)
    for choice in item.choices:
        claim = claim_of(choice.answer.text)
        assert claim is not None  # read before
        yield from _unnamed_notes(claim, taught)
        if claim.kind not in _TRUE:
            yield reason("wrong-kind", str(claim))
        elif choice.key:
            if claim not in keys[item.target]:
                yield reason("key-not-right", f"{claim} for the {item.target} of {meter}")
        elif _TRUE[claim.kind](claim, excerpt, item.target):
            yield reason("second-right-answer", f"{claim} is true of {format_excerpt(excerpt)}")
        elif claim.kind == "lasts" and all(s.silent for s in excerpt.symbols):
            yield reason("no-notes", str(claim))


def _same_claims(item: Item) -> Iterator[str]:
    """Pairs of wrong choices that say the same: so many of the bottom number's notes are so many beats."""
    read = [(c.answer.text, claim_of(c.answer.text)) for c in item.wrong]
    for (one, first), (other, second) in combinations(read, 2):
        lengths = {_measure_said(claim, item.excerpt.meter) for claim in (first, second)}
        if len(lengths) == 1 and None not in lengths:
            yield reason("same-meaning", f"{one}, {other}")


def _measure_said(claim: Claim | None, meter: Meter) -> Fraction | None:
    """The length of a measure in whole notes that a statement gives; None if it gives none."""
    if claim is None or claim.kind not in ("adds-up", "how-many"):
        return None
    return claim.numbers[0] / (claim.numbers[1] if claim.kind == "adds-up" else meter.bottom)


def _unnamed_notes(claim: Claim, taught: Taught) -> Iterator[str]:
    """A statement may name only notes that were taught, by themselves or in a time signature."""
    named = {"adds-up": claim.numbers[1:], "stands-for": claim.numbers, "gets-beat": claim.numbers}
    numbers = named.get(claim.kind, ())
    for number in numbers:
        if NOTE_KINDS[int(number)] not in taught.tokens and all(m.bottom != number for m in taught.meters):
            yield reason("untaught", f"{claim} names {NOTE_KINDS[int(number)]}")
