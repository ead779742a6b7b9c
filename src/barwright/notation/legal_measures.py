"""How many different legal measures the taught symbols can make, exactly; all of them; or one of them, drawn fairly.

The measures are the walks through the places of a measure, step by legal step (dynamic programming). The rules are
those of `legality`, which look at a symbol in its place and at its neighbour, so nothing is listed to be counted.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, partial
from itertools import accumulate, chain
from random import Random

from barwright.counting.labels import Labeller, labeller_by_place
from barwright.errors import RhythmError
from barwright.notation.legality import hides_group, neighbour_fault, place_fault, shown_frame, trace
from barwright.notation.metrical_frame import FULL_MEASURE, Frame, FrameSign, frames, print_rules, sign_of
from barwright.notation.plain import THINGS, Steps, Style, keeps_style, numbered, style_walks
from barwright.notation.reading_ease import NOTHING, Ease, Load, ease
from barwright.notation.walks import Walks, listed_walks, walk, walks
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import FULL_MEASURE_REST, Symbol, Symbols, note, rest, ticks_of
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
        """What the tokens stand for, in their order."""
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
    - `style`: of the figures that are printed for the class, and few at once (see `plain`)
    - `held`: begins with a note that is tied from the measure before; `onward`: ends with one that is tied to the next
    """

    counted: bool = False
    readable: bool = False
    syncopation: bool = True
    sounding: bool = False
    style: Style | None = None
    held: bool = False
    onward: bool = False


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
    """Every legal measure once, made one by one, in the order in which they are numbered for drawing."""
    return _measures(alphabet, meter, conventions, limits).listed()


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


# How often measures with none, one and more things to notice are drawn, of classes of at least so many measures: most
# measures of method books show one new thing, and many none (common practice).
CHANCES, FEW = (2, 4, 1), 12


def drawn_measure(
    alphabet: Alphabet,
    meter: Meter,
    conventions: Conventions,
    *,
    rng: Random,
    limits: Limits = NO_LIMITS,
    even: bool = True,
) -> Symbols:
    """One legal measure; each has exactly the same chance. RhythmError if there is none.

    Without `even`, in a style, plain measures with one thing to notice come more often than others; each has the same
    chance as all that have as many things.
    """
    measures = _measures(alphabet, meter, conventions, limits)
    if not measures.count:
        raise RhythmError(
            f"no measure of {meter} can be made of {shown(' '.join(alphabet.tokens))}: more symbols are needed"
        )
    return measures.nth(rng.randrange(measures.count)) if even else measures.drawn(rng)


HELD = FrameSign(silent=False, tied=True)  # what stands before a measure that a tie leads into

# How a grouping of the meter stands with a measure so far: every rule kept, some rule broken, or a group hidden, which
# means that the rhythm does not show this grouping.
CLEAN, BROKEN, HIDDEN = "clean", "broken", "hidden"


@dataclass(frozen=True, slots=True)
class _Place:
    """How far a measure has come (ticks), and all that the rules need to know of what stands before."""

    onset: int
    before: FrameSign | None
    sounded: bool
    verdicts: tuple[str, ...]
    load: Load = NOTHING


@dataclass(frozen=True, slots=True, eq=False)
class _Language:
    """The measures within some limits, in lots of different `plainness` if there is a style, numbered lot by lot.

    `kinds`: in a style those with none, one and more things to notice, of which `chances` says how often each is drawn,
    added up.
    """

    lots: tuple[Walks[Symbols], ...]
    count: int
    bounds: tuple[int, ...]
    kinds: tuple["_Language", ...] = ()
    chances: tuple[int, ...] = ()

    def nth(self, number: int) -> Symbols:
        """The measure of this number, from 0."""
        lot = bisect_right(self.bounds, number)
        below = self.bounds[lot - 1] if lot else 0
        return _joined(walk(self.lots[lot], number=number - below))

    def listed(self) -> Iterator[Symbols]:
        """Every measure once, in the order of `nth`."""
        return (_joined(groups) for lot in self.lots for groups in listed_walks(lot))

    def drawn(self, rng: Random) -> Symbols:
        """One of them: first the number of things to notice, by `CHANCES`, then each with the same chance."""
        kind = self.kinds[bisect_right(self.chances, rng.randrange(self.chances[-1]))]
        return kind.nth(rng.randrange(kind.count))


def _language(lots: Sequence[Walks[Symbols]], *, style: bool) -> _Language:
    """The measures of these lots."""
    bars = numbered(lots)
    if not style:
        return _Language(tuple(lots), bars[-1], bars)
    kinds = tuple(_language(lots[kind :: len(THINGS)], style=False) for kind in range(len(THINGS)))
    chances = (chance * min(kind.count, FEW) for chance, kind in zip(CHANCES, kinds, strict=True))
    return _Language(tuple(lots), bars[-1], bars, kinds, tuple(accumulate(chances)))


def _joined(groups: tuple[Symbols, ...]) -> Symbols:
    return tuple(chain.from_iterable(groups))


@lru_cache(maxsize=1 << 10)
def _measures(alphabet: Alphabet, meter: Meter, conventions: Conventions, limits: Limits) -> _Language:
    choices = frames(meter, print_rules(conventions))
    label = labeller_by_place(meter, conventions) if limits.counted else None
    bounds = _bounds(alphabet, meter, conventions, limits)
    before, load = (HELD, NOTHING._replace(ties=1)) if limits.held else (None, NOTHING)
    start = _Place(0, before, sounded=limits.held, verdicts=(CLEAN,) * len(choices), load=load)
    lots: list[Walks[Symbols]] = []
    for frame in choices if limits.style else choices[:1]:

        def ends(place: _Place, frame: Frame = frame) -> bool:
            shown = choices.index(frame) == _shown(place) or limits.style is None
            return shown and _closed(place, limits, bounds)

        on = partial(_on, choices=choices, label=label, bounds=bounds)
        steps = Steps(start, alphabet.symbols, on, _onset, ends)
        if limits.style is None:
            lots.append(_plain_walks(steps, frame))
        else:
            lots += style_walks(steps, meter, frame, limits.style, held=limits.held)
    return _language(lots, style=limits.style is not None)


@lru_cache(maxsize=1 << 8)
def _bounds(alphabet: Alphabet, meter: Meter, conventions: Conventions, limits: Limits) -> Ease | None:
    if not limits.readable:
        return None
    rests = [sign_of(s) for s in alphabet.symbols if s.kind == "rest" and s.value is not None and not s.value.dots]
    places = [(onset, sign) for sign in rests for onset in range(0, meter.ticks, sign.length // 2)]
    choices = frames(meter, print_rules(conventions))
    joined = ((o, s.length) for o, s in places if not any(place_fault(s, o, frame) for frame in choices))
    bounds = ease(meter, syncopation=limits.syncopation, joined=frozenset(joined))
    many = limits.style is not None and not limits.style.holds("many-short-rests")
    return replace(bounds, most_rests=meter.ticks) if many else bounds


def is_within(symbols: Symbols, alphabet: Alphabet, meter: Meter, conventions: Conventions, limits: Limits) -> bool:
    """Whether a legal measure keeps the limits on reading and style; counts are not looked at."""
    held, onward = limits.held, symbols[-1].tied
    if (limits.sounding and all(s.silent for s in symbols)) or onward != limits.onward:
        return False
    bounds, load, onset = _bounds(alphabet, meter, conventions, limits), NOTHING._replace(ties=int(held)), 0
    for symbol in symbols if bounds is not None else ():
        length = ticks_of(symbol, meter)
        then = bounds.after(load, symbol, onset, held=held, length=length) if bounds is not None else None
        if then is None:
            return False
        load, onset, held = then, onset + length, symbol.tied
    if onward and load.rank and not limits.syncopation:
        return False
    frame = shown_frame(symbols, frames(meter, print_rules(conventions)))
    return limits.style is None or keeps_style(symbols, meter, frame, limits.style, held=limits.held)


def _plain_walks(steps: Steps[_Place], frame: Frame) -> Walks[Symbols]:
    """All measures, symbol by symbol."""

    def ways(place: _Place) -> Iterable[tuple[Symbols, _Place]] | None:
        if place.onset == frame.capacity:
            return None if steps.ends(place) else ()
        onward = ((symbol, steps.on(place, symbol)) for symbol in steps.symbols)
        return (((symbol,), then) for symbol, then in onward if then is not None)

    return walks(steps.start, ways)


def _onset(place: _Place) -> int:
    return place.onset


def _on(
    place: _Place, symbol: Symbol, *, choices: tuple[Frame, ...], label: Labeller | None, bounds: Ease | None
) -> _Place | None:
    """The place after one more symbol; None where it may not stand."""
    if label is not None and not _has_count(symbol, place, label):
        return None
    return _borne(place, symbol, _after(place, sign_of(symbol), choices), bounds)


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


def _after(place: _Place, sign: FrameSign, choices: tuple[Frame, ...]) -> _Place | None:
    """The place after one more symbol, or None if no grouping can become clean any more."""
    end = place.onset + (sign.length or choices[0].capacity)
    if end > choices[0].capacity:
        return None
    verdicts = tuple(_verdict(old, sign, place, frame) for old, frame in zip(place.verdicts, choices, strict=True))
    return _Place(end, trace(sign), place.sounded or not sign.silent, verdicts) if CLEAN in verdicts else None


def _verdict(old: str, sign: FrameSign, place: _Place, frame: Frame) -> str:
    if old == HIDDEN or hides_group(sign, place.onset, frame):
        return HIDDEN
    if old == BROKEN or place_fault(sign, place.onset, frame):
        return BROKEN
    return BROKEN if place.before and neighbour_fault(place.before, sign, place.onset, frame) else CLEAN


def _shown(place: _Place) -> int:
    """The number of the grouping that a measure shows, from 0; -1 if it hides all."""
    return next((n for n, verdict in enumerate(place.verdicts) if verdict != HIDDEN), -1)


def _closed(place: _Place, limits: Limits, bounds: Ease | None) -> bool:
    """Whether a full measure may end here: tied onward or not, not silent in pieces, legal in the grouping shown."""
    assert place.before is not None
    shown, tied = _shown(place), place.before.tied
    if shown < 0 or place.verdicts[shown] != CLEAN or tied != limits.onward:
        return False
    if tied and bounds is not None and not (bounds.syncopation or not place.load.rank):
        return False  # a sound from off the beat would be held over the first beat
    return place.sounded or (place.before == FULL_MEASURE and not limits.sounding)
