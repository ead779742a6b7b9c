"""Statements about a meter, judged as sentences: each is true or false of the excerpt, whoever says it."""

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import combinations

from barwright.items.judge.beats import beat_notes, beats_in
from barwright.items.judge.notation import lone_whole_rest, measure_faults, sounds
from barwright.items.judge.reasons import reason
from barwright.items.judge.texts import NOTE_KINDS, Claim, claim_of
from barwright.items.model import Item
from barwright.items.taught import Taught
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import length_of, total
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_excerpt


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


def _adds_up(claim: Claim, excerpt: Excerpt, _target: str) -> bool:
    return claim.numbers[0] / claim.numbers[1] == excerpt.meter.capacity


def _stands_for(claim: Claim, excerpt: Excerpt, target: str) -> bool:
    """Of the bottom number; of the top number too where both are the same figure, as in 4/4."""
    meter = excerpt.meter
    return claim.numbers[0] == meter.bottom and (target == "bottom" or meter.top == meter.bottom)


def _how_many(claim: Claim, excerpt: Excerpt, _target: str) -> bool:
    return claim.numbers[0] in beats_in(excerpt.meter.capacity, excerpt.meter)


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
    "kind-of-note": _kind_of_note,
    "notes": _notes,
    "measures": _measures,
    "lasts": _lasts,
}


def numbers_say_faults(item: Item, taught: Taught) -> Iterator[str]:
    """Reasons against the choice of statements about one number: the key defines it, no other is even true."""
    excerpt, meter = item.excerpt, item.excerpt.meter
    yield from measure_faults(excerpt.measures, meter, item.conventions, pickup=excerpt.pickup)
    keys = {
        "top": Claim("adds-up", (Fraction(meter.top), Fraction(meter.bottom))),
        "bottom": Claim("stands-for", (Fraction(meter.bottom),)),
    }
    yield from _same_claims(item)
    for choice in item.choices:
        claim = claim_of(choice.answer.text)
        assert claim is not None  # read before
        yield from _unnamed_notes(claim, taught)
        if claim.kind not in _TRUE:
            yield reason("wrong-kind", str(claim))
        elif choice.key:
            if claim != keys[item.target]:
                yield reason("key-not-right", f"{claim} for the {item.target} of {meter}")
        elif claim == keys[item.target]:
            yield reason("second-right-answer", str(claim))
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
    named = {"adds-up": claim.numbers[1:], "stands-for": claim.numbers}.get(claim.kind, ())
    for number in named:
        if NOTE_KINDS[int(number)] not in taught.tokens and all(m.bottom != number for m in taught.meters):
            yield reason("untaught", f"{claim} names {NOTE_KINDS[int(number)]}")
