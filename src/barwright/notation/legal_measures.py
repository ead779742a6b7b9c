"""How many different legal measures the taught symbols can make, exactly; all of them; or one of them, drawn fairly.

The measures are the walks through the places of a measure, step by legal step (dynamic programming). The rules are
those of `legality`, which look at a symbol in its place and at its neighbour, so nothing is listed to be counted.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from random import Random

from barwright.counting.labels import Labeller, labeller_by_place
from barwright.errors import RhythmError
from barwright.notation.legality import (
    hides_group,
    neighbour_fault,
    place_fault,
    trace,
)
from barwright.notation.metrical_frame import (
    FULL_MEASURE,
    Frame,
    PrintRules,
    Sign,
    frames,
    print_rules,
    sign_of,
)
from barwright.notation.reading_ease import (
    NOTHING,
    Ease,
    Load,
    ease,
)
from barwright.notation.walks import (
    Walks,
    listed_walks,
    walk,
    walks,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import (
    FULL_MEASURE_REST,
    Symbol,
    Symbols,
    note,
    rest,
    ticks_of,
)
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_symbol, parse_symbol
from barwright.showing import shown

WHOLE, QUARTER, EIGHTH = Fraction(1), Fraction(1, 4), Fraction(1, 8)


@dataclass(frozen=True, slots=True)
class Alphabet:
    """The symbols that a class has been taught, as rhythm-text tokens in a fixed order; make one with `alphabet`."""

    tokens: tuple[str, ...]

    @property
    def symbols(self) -> Symbols:
        """The same as symbols."""
        return tuple(map(parse_symbol, self.tokens))


def alphabet(
    notes: Iterable[Fraction],
    rests: Iterable[Fraction] = (),
    *,
    dotted_notes: Iterable[Fraction] = (),
    double_dotted_notes: Iterable[Fraction] = (),
    dotted_rests: Iterable[Fraction] = (),
    triplets: Iterable[Fraction] = (),
    ties: bool = False,
) -> Alphabet:
    """The symbols of these elements, all given as plain lengths in whole notes.

    A whole rest stands for the full-measure rest in every meter; `ties` adds every note tied to the next.

    >>> alphabet([Fraction(1, 2), Fraction(1, 4)], [Fraction(1)], ties=True).tokens
    ('h', 'h~', 'q', 'q~', 'rW')

    Raises RhythmError for a length that is no note value, and for triplets of other than eighth or quarter notes.
    """
    for plain in (triplets := _falling(triplets)):
        if plain not in (QUARTER, EIGHTH):
            raise RhythmError(f"triplets of 1/{1 / plain} notes cannot be printed by the rules: use 1/8 or 1/4")
    sounds = [note(p) for p in _falling(notes)] + [note(p, 1) for p in _falling(dotted_notes)]
    sounds += [note(p, 2) for p in _falling(double_dotted_notes)] + [note(p, triplet=True) for p in triplets]
    silences = [FULL_MEASURE_REST if p == WHOLE else rest(p) for p in _falling(rests)]
    silences += [rest(p, 1) for p in _falling(dotted_rests)]
    tokens = []
    for token in map(format_symbol, sounds):
        tokens += [token, token + "~"] if ties else [token]
    return Alphabet((*tokens, *map(format_symbol, silences)))


@dataclass(frozen=True, slots=True)
class Limits:
    """What a measure must be beside legal.

    - `counted`: every sound and rest starts where the class's counting system has a count (as far as that follows from
      the place alone: see `labeller_by_place`)
    - `readable`: not crowded, no rest in two halves where the whole one is taught, and no syncopation unless there may
      be `syncopation` (see `reading_ease`)
    - `sounding`: at least one note
    """

    counted: bool = False
    readable: bool = False
    syncopation: bool = True
    sounding: bool = False


NO_LIMITS = Limits()


def _falling(lengths: Iterable[Fraction]) -> list[Fraction]:
    return sorted(set(lengths), reverse=True)


def measure_count(
    alphabet: Alphabet, meter: Meter, conventions: Conventions, *, measures: int = 1, limits: Limits = NO_LIMITS
) -> int:
    """How many different legal measures there are, or successions of so many; 0 if the symbols cannot fill one.

    >>> from barwright.rhythm.meter import parse_meter
    >>> measure_count(Alphabet(("h", "q")), parse_meter("4/4"), Conventions())
    5
    """
    return int(_measures(alphabet, meter, conventions, limits).count ** measures)


def all_measures(
    alphabet: Alphabet, meter: Meter, conventions: Conventions, *, limits: Limits = NO_LIMITS
) -> Iterator[Symbols]:
    """Every legal measure once, made one by one, in the order of `nth_measure`."""
    return listed_walks(_measures(alphabet, meter, conventions, limits))


def all_successions(
    alphabet: Alphabet, meter: Meter, conventions: Conventions, *, measures: int
) -> Iterator[tuple[Symbols, ...]]:
    """Every succession of so many legal measures once, the last measure changing first; only one measure is held."""
    if not measures:
        yield ()
        return
    for first in all_measures(alphabet, meter, conventions):
        for others in all_successions(alphabet, meter, conventions, measures=measures - 1):
            yield (first, *others)


def nth_measure(alphabet: Alphabet, meter: Meter, conventions: Conventions, *, number: int) -> Symbols:
    """The legal measure of this number, from 0; RhythmError if there are not so many."""
    found = _measures(alphabet, meter, conventions, NO_LIMITS)
    if not 0 <= number < found.count:
        raise RhythmError(
            f"measure number {number} of {meter} does not exist: there are {found.count}, numbered from 0"
        )
    return walk(found, number=number)


def drawn_measure(
    alphabet: Alphabet, meter: Meter, conventions: Conventions, *, rng: Random, limits: Limits = NO_LIMITS
) -> Symbols:
    """One legal measure; each has exactly the same chance. RhythmError if there is none."""
    found = _measures(alphabet, meter, conventions, limits)
    if not found.count:
        raise RhythmError(
            f"no measure of {meter} can be made of {shown(' '.join(alphabet.tokens))}: more symbols are needed"
        )
    return walk(found, number=rng.randrange(found.count))


def compositions(lengths: Iterable[Fraction], capacity: Fraction) -> int:
    """In how many ways these lengths, in whole notes, fill a capacity in some order, whatever the rules of notation.

    >>> compositions([Fraction(1, 2), Fraction(1, 4)], Fraction(5, 4))
    8
    """
    parts = _falling(lengths)

    def ways(left: Fraction) -> Iterable[tuple[Fraction, Fraction]] | None:
        return [(p, left - p) for p in parts if p <= left] if left else None

    return walks(capacity, ways).count


# How a grouping of the meter stands with a measure so far: every rule kept, some rule broken, or a group hidden, which
# means that the rhythm does not show this grouping.
CLEAN, BROKEN, HIDDEN = "clean", "broken", "hidden"


@dataclass(frozen=True, slots=True)
class _Place:
    """How far a measure has come (ticks), and all that the rules need to know of what stands before."""

    onset: int
    before: Sign | None
    sounded: bool
    verdicts: tuple[str, ...]
    load: Load = NOTHING


@lru_cache(maxsize=1 << 10)
def _measures(alphabet: Alphabet, meter: Meter, conventions: Conventions, limits: Limits) -> Walks[Symbol]:
    label = labeller_by_place(meter, conventions) if limits.counted else None
    bounds = _bounds(alphabet, meter, conventions, limits)
    return _legal_walks(alphabet, meter, print_rules(conventions), label, bounds, limits.sounding)


def _bounds(alphabet: Alphabet, meter: Meter, conventions: Conventions, limits: Limits) -> Ease | None:
    if not limits.readable:
        return None
    rests = [sign_of(s) for s in alphabet.symbols if s.kind == "rest" and s.value is not None and not s.value.dots]
    places = [(onset, sign) for sign in rests for onset in range(0, meter.ticks, sign.length // 2)]
    choices = frames(meter, print_rules(conventions))
    joined = ((o, s.length) for o, s in places if not any(place_fault(s, o, frame) for frame in choices))
    return ease(meter, syncopation=limits.syncopation, joined=frozenset(joined))


def is_within(symbols: Symbols, alphabet: Alphabet, meter: Meter, conventions: Conventions, limits: Limits) -> bool:
    """Whether a legal measure keeps the limits on reading; counts are not looked at."""
    if limits.sounding and all(s.silent for s in symbols):
        return False
    bounds, load, onset, held = _bounds(alphabet, meter, conventions, limits), NOTHING, 0, False
    for symbol in symbols if bounds is not None else ():
        length = ticks_of(symbol, meter)
        then = bounds.after(load, symbol, onset, held=held, length=length) if bounds is not None else None
        if then is None:
            return False
        load, onset, held = then, onset + length, symbol.tied
    return True


@cache
def _legal_walks(
    alphabet: Alphabet, meter: Meter, rules: PrintRules, label: Labeller | None, bounds: Ease | None, sounding: bool
) -> Walks[Symbol]:
    choices = frames(meter, rules)
    signs = [(symbol, sign_of(symbol)) for symbol in alphabet.symbols]
    start = _Place(0, None, sounded=False, verdicts=(CLEAN,) * len(choices))

    def ways(place: _Place) -> Iterable[tuple[Symbol, _Place]] | None:
        if place.onset == choices[0].capacity:
            return None if _closed(place) and (place.sounded or not sounding) else ()
        able = signs if label is None else [each for each in signs if _has_count(each[0], place, label)]
        found = ((symbol, _borne(place, symbol, _after(place, sign, choices), bounds)) for symbol, sign in able)
        return ((symbol, then) for symbol, then in found if then is not None)

    return walks(start, ways)


def _borne(place: _Place, symbol: Symbol, then: _Place | None, bounds: Ease | None) -> _Place | None:
    """The place after the symbol, with what the reader has to bear so far; None where that is beyond the bounds."""
    if then is None or bounds is None:
        return then
    held = place.before is not None and place.before.tied
    load = bounds.after(place.load, symbol, place.onset, held=held, length=then.onset - place.onset)
    return None if load is None else replace(then, load=load)


def _has_count(symbol: Symbol, place: _Place, label: Labeller) -> bool:
    """Whether the symbol goes on with a tied note, or there is a count where it starts."""
    if symbol.value is None or (place.before is not None and place.before.tied):
        return True
    return label(place.onset, symbol.value.ticks, symbol.value.triplet) is not None


def _after(place: _Place, sign: Sign, choices: tuple[Frame, ...]) -> _Place | None:
    """The place after one more symbol, or None if no grouping can become clean any more."""
    end = place.onset + (sign.length or choices[0].capacity)
    if end > choices[0].capacity:
        return None
    verdicts = tuple(_verdict(old, sign, place, frame) for old, frame in zip(place.verdicts, choices, strict=True))
    return _Place(end, trace(sign), place.sounded or not sign.silent, verdicts) if CLEAN in verdicts else None


def _verdict(old: str, sign: Sign, place: _Place, frame: Frame) -> str:
    if old == HIDDEN or hides_group(sign, place.onset, frame):
        return HIDDEN
    if old == BROKEN or place_fault(sign, place.onset, frame):
        return BROKEN
    return BROKEN if place.before and neighbour_fault(place.before, sign, place.onset, frame) else CLEAN


def _closed(place: _Place) -> bool:
    """Whether a full measure may end here: nothing tied onward, not silent in pieces, legal in the grouping shown."""
    assert place.before is not None
    shown = next((v for v in place.verdicts if v != HIDDEN), BROKEN)
    return not place.before.tied and (place.sounded or place.before == FULL_MEASURE) and shown == CLEAN
