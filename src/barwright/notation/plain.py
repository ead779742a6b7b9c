"""Which legal measures are worth reading: few figures at once, and one thing to notice.

Method books print far less than what is legal. The bounds are common practice: rarely more than two different figures
beside plain notes in a measure, one of them hard; about two sounds a beat in the second year and three later, four
only in running sixteenths; rests shorter than a beat once; more sound than silence; ties where no single symbol can be
written (over a barline, over a beat that must stay visible, for a length without a symbol), and between easy figures.
Each bound can be lifted by name.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import accumulate
from typing import Generic, Literal, NamedTuple, TypeVar, get_args

from barwright.notation.legality import place_fault
from barwright.notation.metrical_frame import (
    EIGHTH,
    QUARTER,
    SIXTEENTH,
    Frame,
    FrameSign,
)
from barwright.notation.patterns import (
    EASY,
    RUNNING,
    SIXTEENTHS,
    beginnings,
    figure_name,
    figures_in,
    is_short_rest,
    pulses,
    untied,
)
from barwright.notation.walks import Walks, walks
from barwright.rhythm.measure import (
    Symbol,
    Symbols,
    ticks_in,
    ticks_of,
)
from barwright.rhythm.meter import Meter, felt_ticks
from barwright.rhythm.values import PLAIN, TICKS, NoteValue

Law = Literal[
    "any-pattern",
    "many-patterns",
    "many-hard-patterns",
    "many-sounds",
    "many-short-rests",
    "short-rest-first",
    "much-silence",
    "needless-ties",
    "hard-ties",
]
LAWS: tuple[Law, ...] = get_args(Law)
MOST_FIGURES, MOST_HARD, MOST_SHORT = 2, 1, 1
MOST_SILENCE = (2, 3)  # of a measure
# A measure has so many things to notice, or more: hard figures, and a tie.
THINGS = (0, 1, 2)


@dataclass(frozen=True, slots=True)
class Style:
    """What is printed for a class.

    `figures`: beat patterns that may stand in a measure; `lifted`: the bounds that do not hold; `first`: figures that
    begin with a short rest and may begin a measure. `most_sounds`: the most in any measure, or 0 for the usual: `rate`,
    as (sounds, beats), for beats of two parts, and as `rate_in_three` for beats of three. `hardest`: the most that the
    features of a measure may weigh by `weights` (sounds, rests, onsets off the beat, dots, ties, unequal meter), or 0.
    `simple_ties`: over a barline only on to a plain note; `inner_ties`: also inside a measure.
    """

    figures: frozenset[str]
    lifted: frozenset[Law] = frozenset()
    first: frozenset[str] = frozenset()
    most_sounds: int = 0
    rate: tuple[int, int] = (3, 1)
    rate_in_three: tuple[int, int] = (4, 1)
    hardest: int = 0
    weights: tuple[int, ...] = (0,) * 6
    simple_ties: bool = False
    inner_ties: bool = True

    def holds(self, law: Law) -> bool:
        """Whether a bound is in force."""
        return law not in self.lifted


class Burden(NamedTuple):
    """What a measure so far asks of a reader.

    `figures`: those met, sorted; `hard`: how many of them are; `short`: groups with a rest shorter than a beat;
    `silence`: in ticks; `clean`: no rest, dot or tie yet. `tied`: the group that is tied on, or None.
    """

    figures: tuple[str, ...] = ()
    hard: int = 0
    sounds: int = 0
    short: int = 0
    silence: int = 0
    clean: bool = True
    ties: int = 0
    weight: int = 0
    tied: "Group | None" = None


class Group(NamedTuple):
    """Symbols from one beat to the next on which one begins, and what they add to the burden.

    `name`: that of the figure, empty for what is plain. `tie`: onset and length in ticks of its last note if that is
    tied on, else None, or OVER_THE_BARLINE for one of the measure before; `first`: the length of its first symbol.
    """

    name: str = ""
    hard: bool = False
    sounds: int = 0
    short: bool = False
    silence: int = 0
    clean: bool = True
    weight: int = 0
    tie: tuple[int, int] | None = None
    first: int = 0


OVER_THE_BARLINE = (-1, 0)
BEFORE = Group(tie=OVER_THE_BARLINE)
Place = TypeVar("Place")


@dataclass(frozen=True, slots=True)
class _Judge:
    """The style as it is applied to the measures of one meter in one grouping; `most` sounds as a rule."""

    style: Style
    meter: Meter
    frame: Frame
    most: int

    def begun(self, *, held: bool) -> Burden:
        """What a measure begins with."""
        unequal = self.meter.kind != "simple"
        return Burden(
            clean=not held, ties=int(held), weight=self._weight(unequal=unequal), tied=BEFORE if held else None
        )

    def group(self, symbols: Symbols, onset: int) -> Group | None:
        """These symbols as a group that starts `onset` ticks into the measure; None where they may not stand."""
        name, places, style = figure_name(symbols), pulses(self.frame), self.style
        pulse = places[places.index(onset) + 1] - onset
        if style.holds("any-pattern") and name and name not in style.figures:
            return None
        silent = all(s.silent for s in symbols)
        starts = not onset and not silent and is_short_rest(symbols[0], pulse)
        if starts and style.holds("short-rest-first") and name not in style.first:
            return None
        lengths = [ticks_of(s, self.meter) for s in symbols]
        places = tuple(accumulate(lengths, initial=onset))
        sounding = [place for place, s in zip(places, symbols, strict=False) if not s.silent]
        rests, dots = len(symbols) - len(sounding), sum(s.value.dots for s in symbols if s.value is not None)
        tied = symbols[-1].tied
        offbeats = sum(place not in felt_ticks(self.meter) for place in sounding)
        return Group(
            name,
            hard=bool(name) and name not in EASY,
            sounds=len(sounding),
            short=any(is_short_rest(s, pulse) for s in symbols),
            silence=sum(length for length, s in zip(lengths, symbols, strict=True) if s.silent),
            clean=not (rests or dots or tied),
            weight=self._weight(len(sounding), rests, offbeats, dots, int(tied)),
            tie=(places[-2], lengths[-1]) if tied else None,
            first=lengths[0],
        )

    def _weight(self, *counts: int, unequal: bool = False) -> int:
        style = self.style
        if not style.hardest:
            return 0
        return sum(w * n for w, n in zip(style.weights, counts, strict=False)) + style.weights[-1] * unequal

    def after(self, burden: Burden, group: Group) -> Burden | None:
        """The burden after one more group; None beyond the bounds."""
        held = burden.tied is not None
        if held and not self._may_follow(burden.tied, group):
            return None
        new = bool(group.name) and group.name not in burden.figures
        sounds = burden.sounds + group.sounds - held
        weight = burden.weight + group.weight - held * self._weight(1)
        heavier = Burden(
            tuple(sorted((*burden.figures, group.name))) if new else burden.figures,
            burden.hard + (new and group.hard),
            sounds,
            burden.short + group.short,
            burden.silence + group.silence,
            burden.clean and group.clean,
            burden.ties + (group.tie is not None),
            weight,
            group if group.tie is not None else None,
        )
        return None if self._too_much(heavier) else heavier

    def _too_much(self, burden: Burden) -> bool:
        style, full, (part, whole) = self.style, self.frame.capacity, MOST_SILENCE
        running = burden.clean and RUNNING.issuperset(burden.figures) and not SIXTEENTHS.isdisjoint(burden.figures)
        usual = self.most if style.holds("many-sounds") and not running else burden.sounds
        return (
            (style.holds("many-patterns") and len(burden.figures) > MOST_FIGURES)
            or (style.holds("many-hard-patterns") and burden.hard > MOST_HARD)
            or (style.holds("many-short-rests") and burden.short > MOST_SHORT)
            or (style.holds("much-silence") and part * full < whole * burden.silence < whole * full)
            or burden.sounds > (style.most_sounds or usual)
            or 0 < style.hardest < burden.weight
        )

    def _may_follow(self, tied: Group | None, group: Group) -> bool:
        assert tied is not None
        assert tied.tie is not None
        style, (onset, length) = self.style, tied.tie
        if style.holds("hard-ties") and (tied.hard or group.hard or group.first < EIGHTH or 0 < length < EIGHTH):
            return False
        if onset < 0:
            return not (group.name and style.simple_ties)
        end = onset + length
        hides = self._hides_middle(onset, end) or self._hides_middle(end, end + group.first)
        needless = style.holds("needless-ties") and _one_symbol_does(onset, length + group.first, self.frame)
        return style.inner_ties and not (hides and style.holds("hard-ties")) and not needless

    def _hides_middle(self, onset: int, end: int) -> bool:
        """Whether a note from inside the measure hides its middle, which a tie is there to show (Gould)."""
        return 0 < onset < self.frame.middle < end

    def may_end(self, burden: Burden) -> bool:
        """Whether a full measure may end with this burden: what is tied on over the barline must be easy, too."""
        tied = burden.tied
        return tied is None or not self.style.holds("hard-ties") or not (tied.hard or _length(tied) < EIGHTH)


def _length(tied: Group) -> int:
    return tied.tie[1] if tied.tie is not None else 0


def things(burden: Burden) -> int:
    """How many things there are to notice, 2 for more."""
    return min(THINGS[-1], burden.hard + min(burden.ties, 1))


# Lengths in ticks that one note can have, with one dot at most, and its plain length.
_VALUES = {NoteValue(plain, dots).ticks: (plain, dots) for plain in PLAIN.values() for dots in (0, 1)}


def _one_symbol_does(onset: int, length: int, frame: Frame) -> bool:
    """Whether a single note of this length may be printed there, so that a tie is an exercise of its own."""
    if length not in _VALUES or onset % SIXTEENTH:
        return False
    plain, dots = _VALUES[length]
    sign = FrameSign(silent=False, length=length, plain=int(plain * TICKS), dots=dots)
    return place_fault(sign, onset, frame) is None


def keeps_style(symbols: Symbols, meter: Meter, frame: Frame, style: Style, *, held: bool = False) -> bool:
    """Whether a legal measure, whose groups are those of this frame, is in the style; `held`: a tie leads into it."""
    judge, onset = _judge(style, meter, frame), 0
    burden: Burden | None = judge.begun(held=held)
    for each in figures_in(symbols, frame):
        group = judge.group(each, onset)
        burden = None if burden is None or group is None else judge.after(burden, group)
        onset += ticks_in(each, meter)
    return burden is not None and judge.may_end(burden)


def _judge(style: Style, meter: Meter, frame: Frame) -> _Judge:
    beats = frame.capacity // QUARTER
    (sounds, parts), threes = style.rate, frame.division.count(3)
    if threes:
        (sounds, parts), beats = style.rate_in_three, len(frame.division)
    return _Judge(style, meter, frame, -(-sounds * beats // parts))


@dataclass(frozen=True, slots=True)
class Steps(Generic[Place]):
    """How the rules of print lead through a measure: `on` to the place after a symbol, or None where it may not stand.

    `onset` tells how far a place is, in ticks; `ends` whether a measure may end there.
    """

    start: Place
    symbols: Symbols
    on: Callable[[Place, Symbol], Place | None]
    onset: Callable[[Place], int]
    ends: Callable[[Place], bool]


def style_walks(steps: Steps[Place], meter: Meter, frame: Frame, style: Style, *, held: bool) -> list[Walks[Symbols]]:
    """The measures in the style, group by group: one lot for each number of things to notice (`THINGS`)."""
    judge = _judge(style, meter, frame)
    starts = beginnings(style.figures) if style.holds("any-pattern") else None
    places, numbers = [steps.start], {steps.start: 0}  # a number is looked up more quickly than a place
    known: dict[int, tuple[tuple[Symbols, Group, int], ...]] = {}

    def groups(number: int) -> tuple[tuple[Symbols, Group, int], ...]:
        if number not in known:
            ways, place = [], places[number]
            for symbols, then in _groups(place, (), steps, frame, starts):
                group = judge.group(symbols, steps.onset(place))
                if group is not None:
                    if numbers.setdefault(then, len(places)) == len(places):
                        places.append(then)
                    ways.append((symbols, group, numbers[then]))
            known[number] = tuple(ways)
        return known[number]

    def lot(wanted: int) -> Walks[Symbols]:
        def ways(state: tuple[int, Burden]) -> Iterable[tuple[Symbols, tuple[int, Burden]]] | None:
            number, burden = state
            if steps.onset(places[number]) == frame.capacity:
                ended = steps.ends(places[number]) and judge.may_end(burden) and things(burden) == wanted
                return None if ended else ()
            return _borne(judge, burden, groups(number), wanted)

        return walks((0, judge.begun(held=held)), ways)

    return [lot(wanted) for wanted in THINGS]


def _borne(
    judge: _Judge, burden: Burden, groups: Iterable[tuple[Symbols, Group, int]], wanted: int
) -> Iterator[tuple[Symbols, tuple[int, Burden]]]:
    for symbols, group, then in groups:
        after = judge.after(burden, group)
        if after is not None and things(after) <= wanted:
            yield symbols, (then, after)


def _groups(
    place: Place, before: Symbols, steps: Steps[Place], frame: Frame, starts: frozenset[Symbols] | None
) -> Iterator[tuple[Symbols, Place]]:
    """The groups that may stand at a place, each with the place after it."""
    for symbol in steps.symbols:
        then = steps.on(place, symbol)
        if then is None:
            continue
        group = (*before, symbol)
        ended = steps.onset(then) in pulses(frame)
        plain = ended and not figure_name(group)
        if starts is None or plain or untied(group) in starts:
            if ended:
                yield group, then
            else:
                yield from _groups(then, group, steps, frame, starts)


def numbered(lots: Iterable[Walks[Symbols]]) -> tuple[int, ...]:
    """Below which number the measures of each lot are numbered."""
    return tuple(accumulate(lot.count for lot in lots))
