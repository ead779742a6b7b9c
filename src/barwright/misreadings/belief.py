"""How a class counts in one meter: what every error with counts goes by.

What a student believes is there, and the record of one misreading.

Engine rule (trade practice): an error replaces exactly one of: the value of a symbol, the capacity of a meter, the
label of a position, the grouping; or the last step, the answer. All else stays true, and the wrong answer follows."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache, lru_cache
from typing import Literal, NamedTuple

from barwright.counting.labels import (
    CountedMeasure,
    Labeller,
    Span,
    Spans,
    dressed,
    labeller,
    rest_style,
)
from barwright.counting.systems import SYSTEMS, counted_beats
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import (
    Symbol,
    Symbols,
    ticks_in,
    ticks_of,
)
from barwright.rhythm.meter import Meter
from barwright.rhythm.said_beats import counts_in_beats
from barwright.rhythm.values import TICKS, NoteValue, ticks

# (onset in ticks, length in ticks, silent, held over a barline, triplet member) -> label; None: there is no count.
Speaker = Callable[[int, int, bool, bool, bool], str | None]


@dataclass(frozen=True, slots=True, eq=False)
class Usage:
    """One meter as a class counts it; each is itself, since what is remembered of measures asks for it.

    - `beat`: length in ticks of the beat that is counted; None where beats differ (additive meters by groups)
    - `numbered`: whether counts are beat numbers
    - `bare`: the count at any spot, without the sign of a rest; past the end of the measure counting goes on
    - `spoken`: the same as the class writes it. Neither is for kodaly, whose words do not go by spots.
    """

    meter: Meter
    conventions: Conventions
    beat: int | None
    numbered: bool
    bare: Labeller
    spoken: Speaker

    def __reduce__(self) -> tuple[object, ...]:
        return usage_of, (self.meter, self.conventions)

    def written(self, bare: str, sound: Span) -> str:
        """A bare count as the class writes it: a rest marked as a rest, a part held over a barline after a hyphen."""
        return dressed(bare, rest_style(self.conventions), silent=sound.silent, held=sound.held)


@lru_cache(maxsize=256)
def usage_of(meter: Meter, conventions: Conventions) -> Usage:
    """How a class with these conventions counts in this meter."""
    label, style = labeller(meter, conventions), rest_style(conventions)
    lengths = {beat.length for beat in counted_beats(meter, conventions)}

    @cache
    def spoken(onset: int, length: int, silent: bool, held: bool, triplet: bool) -> str | None:
        bare = label(onset, length, triplet)
        return None if bare is None else dressed(bare, style, silent=silent, held=held)

    beat = lengths.pop() if len(lengths) == 1 else None
    return Usage(meter, conventions, beat, SYSTEMS[conventions.counting].numbered, label, spoken)


Lengths = tuple[tuple[int, ...], ...]
Row = tuple[tuple[str, ...], ...]

# What a student does with an excerpt, each named after the ask that does it first; errors bear on exercises, and every
# ask says which it is (`Ask.exercise`). In ORDERING nothing is blank: only errors about lengths show.
ORDERING = frozenset({"shortest-first"})
FILLING = frozenset({"finish-measure", "finish-measure-with-two", "all-that-fit", "drag-into-the-blank"})
COMPLETION = FILLING | {"beats-left"}
LABELING = frozenset({"counts-for-rhythm", "rhythm-for-counts", "count-under-mark", "write-counts", "count-under-each"})
SIGNATURES = frozenset({"time-signature-for-rhythm", "rhythm-for-time-signature"})
FITTING = frozenset({"does-it-fit"})
SAYING = frozenset({"what-the-numbers-say"})
EXERCISES = ORDERING | COMPLETION | LABELING | SIGNATURES | FITTING | SAYING


# Where a student places a sound: onset and length in ticks; None: it gets no label.
Spot = tuple[int, int] | None


Places = tuple[Callable[[Spans, Usage], Sequence[Spot] | None], Usage]


@dataclass(frozen=True, slots=True)
class Counts:
    """What there is to count in an excerpt, and how the class does it.

    `measures`: none at all with a blank. `row`: the right labels; None where the counting system has no count.
    """

    measures: tuple[CountedMeasure, ...]
    row: Row | None
    usage: Usage


class Reading(NamedTuple):
    """An excerpt as one student takes it; unlike a measure it need not be full.

    - `lengths`: what each symbol is believed to last, measure by measure (a blank lasts 0)
    - `capacity`: what a measure is believed to hold
    - `over`: what is counted on top of the lengths of a measure (a slip)
    - `room`: what is believed to be left for the blank, where that is not capacity minus lengths
    - `wants`: the very symbols the student puts in the blank, whatever they last
    - `counts`: what there is to count, with the right labels; None where that was not worked out yet
    - `labels`: the labels, where they do not follow from the lengths
    - `places`: where the sounds of a measure are counted, and in which usage, where the labels follow from that
    - `holds`: what a measure holds as told in words, where that is not the capacity
    - `beat`: the note that is believed to get the beat, where that is not the bottom number's
    - `top`, `bottom`: what the numbers of the time signature are said to tell, as claims

    All lengths of a reading are in ticks. A named tuple, since dozens are made of each excerpt,
    and a frozen dataclass of so many fields takes four times as long.
    """

    excerpt: Excerpt
    conventions: Conventions
    lengths: Lengths
    capacity: int
    over: int = 0
    room: int | None = None
    wants: Symbols = ()
    counts: Counts | None = None
    labels: Row | None = None
    holds: int | None = None
    beat: int | None = None
    top: str = ""
    bottom: str = ""
    places: Places | None = None

    @property
    def meter(self) -> Meter:
        """The time signature as printed."""
        return self.excerpt.meter

    @property
    def unit(self) -> int:
        """The bottom number's note value, in ticks."""
        return TICKS // self.excerpt.meter.bottom


# Of an error that teachers commonly tell of, but that no publication known to us describes. (Near the subject, but of
# none of the rules: S.-L. Tan 2002, non-readers' ideas of symbols; R. Upitis 1984, children's descriptions of rhythms.)
HYPOTHESIS = "hypothesis"

Act = Callable[[Reading], Reading | None]
Hearing = Callable[[Row, Conventions], Row | None]


@dataclass(frozen=True, slots=True, eq=False)
class Misreading:
    """One typical student error; each is itself and equals no other, so it is a quick key of caches.

    - `act` acts it out on a reading and gives None where it does not show
    - `id`: the name of this function, or of `hear` where there is one
    - `exercises`: where it may serve, of EXERCISES
    - `replaces`: the one function that is wrong (engine rule)
    - `bears_on`: all symbols, the printed ones only (the filler keeps its true value), or the filler only
    - `hear` does the same on a row of counts that is read, for errors of reading counts
    - `needs`: tokens that must be taught for the error to be nameable (`e`, `rh`; `.` stands for any dotted value, `t`
      for any triplet, `~` for ties, `r` for any rest)
    - `confused_with`: ids that lead to the same answers on many excerpts, so that a pick cannot tell them apart
    - `source`: the publication that describes this very error, with its year, or HYPOTHESIS
    """

    act: Act
    exercises: frozenset[str]
    replaces: Literal["value", "capacity", "label", "grouping", "answer"]
    bears_on: Literal["all", "printed", "filler"] = "all"
    hear: Hearing | None = None
    needs: frozenset[str] = frozenset()
    confused_with: tuple[str, ...] = ()
    source: str = field(kw_only=True)
    id: str = field(init=False)

    def __post_init__(self) -> None:
        name = getattr(self.hear or self.act, "__name__", "")
        object.__setattr__(self, "id", name.replace("_", "-"))

    def __reduce__(self) -> tuple[object, ...]:
        return _of_the_table, (self.id,)

    def nameable(self, tokens: frozenset[str], *, ties: bool) -> bool:
        """Whether all it needs is among the taught tokens.

        >>> dotted = Misreading(lambda r: r, frozenset(), "value", needs=frozenset({"."}), source=HYPOTHESIS)
        >>> dotted.nameable(frozenset({"q"}), ties=False), dotted.nameable(frozenset({"q", "h."}), ties=False)
        (False, True)
        """
        return all(need in tokens or _is_met(need, tokens, ties) for need in self.needs)

    def is_seen_among(self, tokens: frozenset[str]) -> bool:
        """Whether anything it needs stands among the tokens of an item, so that a hint can name it.

        >>> dotted = Misreading(lambda r: r, frozenset(), "value", needs=frozenset({"."}), source=HYPOTHESIS)
        >>> dotted.is_seen_among(frozenset({"q", "_"})), dotted.is_seen_among(frozenset({"q.", "_"}))
        (False, True)
        """
        if not self.needs:
            return True
        tied = any(token.endswith("~") for token in tokens)
        return any(need in tokens or _is_met(need, tokens, tied) for need in self.needs)


def _of_the_table(ident: str) -> Misreading:
    from barwright.misreadings import MISREADINGS

    return MISREADINGS[ident]


def _is_met(need: str, tokens: frozenset[str], ties: bool) -> bool:
    if need == "~":
        return ties
    if need == "r":
        return any(t.startswith("r") for t in tokens)
    if need == ".":
        return any("." in t for t in tokens)
    return need == "t" and any(t.endswith("t") for t in tokens)


@lru_cache(maxsize=4096)
def true_reading(excerpt: Excerpt, conventions: Conventions) -> Reading:
    """The excerpt read rightly."""
    meter = excerpt.meter
    true = _lengths(None, meter)
    lengths = tuple([tuple(map(true, measure)) for measure in excerpt.measures])
    return Reading(excerpt, conventions, lengths, meter.ticks)


def true_totals(excerpt: Excerpt) -> tuple[int, ...]:
    """What each measure holds in truth, in ticks; a blank holds nothing."""
    return tuple([ticks_in(measure, excerpt.meter) for measure in excerpt.measures])


def totals(reading: Reading) -> tuple[int, ...]:
    """What each measure is believed to hold, in ticks, a slip included."""
    return tuple([sum(lengths, reading.over) for lengths in reading.lengths])


def true_room(excerpt: Excerpt) -> int:
    """What is missing where the blank stands, in ticks."""
    assert excerpt.blank is not None
    return excerpt.meter.ticks - true_totals(excerpt)[excerpt.blank[0]]


def with_lengths(reading: Reading, lengths: Lengths) -> Reading | None:
    """A right reading but for other believed lengths; None if they are the same."""
    r = reading
    return None if lengths == r.lengths else Reading(r.excerpt, r.conventions, lengths, r.capacity, counts=r.counts)


def with_capacity(reading: Reading, capacity: int) -> Reading | None:
    """The reading with another believed capacity in ticks; None if it is the same."""
    return None if capacity == reading.capacity else reading._replace(capacity=capacity)


Value = Callable[[Symbol, Meter], Fraction | None]
"""A wrong value function: length in whole notes, None where it is the true one. Caches know it by identity."""


def with_values(reading: Reading, value: Value) -> Reading | None:
    """The reading with the lengths that another value function gives; None if none differs from the true one."""
    believed = _lengths(value, reading.meter)
    return with_lengths(reading, tuple([tuple(map(believed, measure)) for measure in reading.excerpt.measures]))


@cache
def _lengths(value: Value | None, meter: Meter) -> Callable[[Symbol], int]:
    """Length of a symbol in ticks under a value function, or the true one for None."""

    @cache
    def believed(symbol: Symbol) -> int:
        wrong = None if value is None else value(symbol, meter)
        return ticks_of(symbol, meter) if wrong is None else ticks(wrong)

    return believed


def how_many(reading: Reading, number: int) -> str:
    """The claim that a measure has so many of what the class counts: beats, or the bottom number's notes."""
    meter = reading.meter
    return f"how-many {number}" if counts_in_beats(meter, reading.conventions) else f"adds-up {number} {meter.bottom}"


def with_plain(value: NoteValue, plain: Fraction) -> Fraction:
    """Length in whole notes if the undotted value were `plain`; dots and triplet stay what they are.

    >>> str(with_plain(NoteValue(Fraction(1, 2), dots=1), Fraction(1, 4)))
    '3/8'
    """
    return plain * value.length / value.plain
