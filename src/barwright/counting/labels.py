"""The count of one sound or rest, from where it begins and how long it lasts."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache, lru_cache
from itertools import cycle
from typing import NamedTuple

from barwright.counting.systems import (
    EIGHTH,
    TRIPLETS,
    Beat,
    Places,
    by_groups,
    counted_beats,
    ticks_if_whole,
    words_of,
)
from barwright.errors import RhythmError
from barwright.rhythm.conventions import Conventions, Held
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.grouping import shown_groups
from barwright.rhythm.measure import Event, Symbols, ticks_in
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import whole_notes

BLANK_LEFT = "a rhythm with a blank has no counts: fill the blank first"
STROKE = "\u0336"  # Unicode combining long stroke overlay: plain text that is crossed out wherever it is shown
EXCERPTS_KEPT = 1 << 12

# (onset in ticks, length in ticks, whether it is a triplet member) -> the bare count; None: no count falls there.
Labeller = Callable[[int, int, bool], str | None]
# For each beat the words of its places, and the word of every other place (None: no count falls there).
Tables = tuple[Places, ...]


@dataclass(frozen=True, slots=True)
class Sound:
    """One sound or one rest within one measure; tied notes of the measure are one sound.

    `onset` and `length` are in whole notes, the onset from the start of the measure; `first` is its first event. `held`
    means tied over from the measure before. `triplet` tells that its first symbol is a triplet member.
    """

    first: Event
    onset: Fraction
    length: Fraction
    held: bool = False

    @property
    def silent(self) -> bool:
        """Whether it is a rest."""
        return self.first.symbol.silent

    @property
    def triplet(self) -> bool:
        """Whether its first symbol is a triplet member."""
        value = self.first.symbol.value
        return value is not None and value.triplet


class Span(NamedTuple):
    """One sound or one rest of a measure as it is counted; onset and length in ticks (`values.TICKS`).

    `held` and `triplet` as in `Sound`; `at` is the index of its first symbol in the measure.
    """

    onset: int
    length: int
    silent: bool
    held: bool
    triplet: bool
    at: int


Spans = tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class CountedMeasure:
    """The symbols of a measure and its sounds; mostly one object for equal measures, so that it is a quick key."""

    symbols: Symbols
    spans: Spans
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_hash", hash((self.symbols, self.spans)))

    def __hash__(self) -> int:
        return self._hash

    def __reduce__(self) -> tuple[object, ...]:
        return _one_measure, (self.symbols, self.spans)


def _one_measure(symbols: Symbols, spans: Spans) -> CountedMeasure:
    """The one object for these."""
    return CountedMeasure(symbols, spans)


def counted_measures(excerpt: Excerpt) -> tuple[CountedMeasure, ...]:
    """The measures of an excerpt as they are counted; raises RhythmError if something is left blank."""
    if excerpt.blank is not None:
        raise RhythmError(BLANK_LEFT)
    meter, tied, measures = excerpt.meter, False, []
    for number, symbols in enumerate(excerpt.measures):
        late = excerpt.pickup and not number
        measures.append(_counted(symbols, meter, meter.ticks - ticks_in(symbols, meter) if late else 0, tied))
        tied = symbols[-1].tied
    return tuple(measures)


@lru_cache(EXCERPTS_KEPT)
def _counted(symbols: Symbols, meter: Meter, onset: int, tied: bool) -> CountedMeasure:
    """The measure from this onset; `tied`: whether a tie leads into it."""
    sounds: list[Span] = []
    for at, symbol in enumerate(symbols):
        value = symbol.value
        length = meter.ticks if value is None else value.ticks
        goes_on = tied and symbol.kind == "note"
        if goes_on and sounds:
            sounds[-1] = sounds[-1]._replace(length=sounds[-1].length + length)
        else:
            sounds.append(Span(onset, length, symbol.silent, goes_on, value is not None and value.triplet, at))
        onset += length
        tied = symbol.tied
    return _one_measure(symbols, tuple(sounds))


def spans(excerpt: Excerpt) -> tuple[Spans, ...]:
    """Every sound and rest of each measure in ticks, for counting; raises RhythmError as `sounds` does.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> [[s.length for s in m] for m in spans(parse_excerpt("3/4 q~ e e q~ | h."))]
    [[576, 192, 384], [1152]]
    """
    return tuple([measure.spans for measure in counted_measures(excerpt)])


def sounds(excerpt: Excerpt) -> tuple[tuple[Sound, ...], ...]:
    """The sounds and rests of each measure; raises RhythmError if something is left blank.

    >>> from barwright.rhythm.text import parse_excerpt
    >>> [[str(s.length) for s in m] for m in sounds(parse_excerpt("3/4 q~ e e q~ | h."))]
    [['3/8', '1/8', '1/4'], ['3/4']]
    """
    return tuple(
        tuple(Sound(events[s.at], whole_notes(s.onset), whole_notes(s.length), s.held) for s in measure)
        for measure, events in zip(spans(excerpt), excerpt.events(), strict=True)
    )


def meter_shown(excerpt: Excerpt, number: int) -> Meter:
    """The meter with the groups that a measure shows, where only the rhythm tells them (5/8, 7/8)."""
    meter = excerpt.meter
    if not by_groups(meter) or meter.groups:
        return meter
    groups = shown_groups(excerpt.measures[number], meter, start=excerpt.start_of(number))
    return Meter(meter.top, meter.bottom, groups)


@cache
def labeller(meter: Meter, conventions: Conventions) -> Labeller:
    """The count of a sound, bare of rest signs, in every system but kodaly, whose words go by length (kodaly.py).

    `held` holds for numbers only: `beats` joins every beat number strictly inside the sound; `subdivisions` every first
    part of the counted beat too (1-&-2-&; 1-la-li in compound meters), though never a part shorter than an eighth, so
    that counting by eighths looks like `beats`; it has no count for triplets. `onset_only` joins nothing. The other
    systems name the onset only. What begins where the class writes no count (`compound_16ths` = none) shows the beats
    that it is held over: -2.
    Source: US method books (common practice).
    """
    beats = counted_beats(meter, conventions)
    tables = tuple(words_of(beat, meter, conventions) for beat in beats)
    numbers = conventions.counting == "numbers"
    on_beat = TRIPLETS[conventions.triplet][0] if numbers else "#"
    return labeller_of(beats, tables, held=conventions.held if numbers else "onset_only", on_beat=on_beat)


def labeller_by_place(meter: Meter, conventions: Conventions) -> Labeller | None:
    """The labeller of a measure whatever stands in it; None where counts follow from the rest of the measure too.

    That is so in kodaly, whose words go by length, and in additive meters whose groups only the rhythm shows.
    """
    if conventions.counting == "kodaly" or (by_groups(meter) and not meter.groups):
        return None
    return labeller(meter, conventions)


def labeller_of(beats: tuple[Beat, ...], tables: Tables, *, held: Held, on_beat: str = "#") -> Labeller:
    """The labeller of these beats, each with its table; `on_beat` is the word for a triplet member on a beat."""

    @cache
    def label(onset: int, length: int, triplet: bool) -> str | None:
        if triplet and held == "subdivisions":
            return None
        word = _word(onset, beats, tables, on_beat if triplet else "#")
        inside = () if word is None else _inside(onset, onset + length, beats, held)
        return None if word is None else "-".join([word, *(_word(t, beats, tables) or "" for t in inside)])

    return label


def _starts(beats: tuple[Beat, ...]) -> Iterator[tuple[int, int, int]]:
    """Number, start in ticks and index of each beat, on without end as if the measure had more of the same."""
    start = 0
    for number, index in enumerate(cycle(range(len(beats))), start=1):
        yield number, start, index
        start += beats[index].length


def _word(onset: int, beats: tuple[Beat, ...], tables: Tables, on_beat: str = "#") -> str | None:
    number, start, index = next(s for s in _starts(beats) if s[1] + beats[s[2]].length > onset)
    words, other = tables[index]
    twelfth, between = divmod((onset - start) * 12, beats[index].length)
    word = other if between else words.get(twelfth, other)
    if onset == start and beats[index].parts == 2:
        word = on_beat if on_beat != "#" else word
    return word and word.replace("#", str(number))


def _inside(onset: int, end: int, beats: tuple[Beat, ...], held: Held) -> Iterator[int]:
    """The ticks strictly inside a sound that are joined to its count."""
    if held == "onset_only":
        return
    for _, start, index in _starts(beats):
        if start >= end:
            return
        length, parts = beats[index].length, beats[index].parts
        step = max(length // parts, min(length, EIGHTH)) if held == "subdivisions" else length
        yield from (t for t in range(start, start + length, step) if onset < t < end)


def struck(text: str) -> str:
    """The text crossed out.

    >>> struck("1-2").replace("\\u0336", "/")
    '1/-/2/'
    """
    return "".join(c + STROKE for c in text)


def rest_style(conventions: Conventions) -> str:
    """How the class marks the count of a rest: a value of `rest_counts`, or `plain` where the word itself says rest.

    >>> rest_style(Conventions()), rest_style(Conventions(counting="kodaly"))
    ('parentheses', 'plain')
    """
    says_rest = conventions.counting == "kodaly" and conventions.kodaly_rests == "plain"
    return "plain" if says_rest and conventions.rest_counts == "parentheses" else conventions.rest_counts


def dressed(label: str, rest_counts: str, *, silent: bool, held: bool = False) -> str:
    """A bare count as it is written: a rest by the class's `rest_style`, a part held over a barline after a hyphen.

    With `R` every count of the rest becomes an R. An empty count (`compound_16ths` = none) stays empty.

    >>> dressed("1-2", "parentheses", silent=True), dressed("1-2", "R", silent=True)
    ('(1-2)', 'R-R')
    >>> dressed("1", "R", silent=False, held=True)
    '-1'
    """
    if not label or not silent:
        return f"-{label}" if label and held else label
    if rest_counts == "R":
        return "-".join("R" for _ in label.split("-"))
    if rest_counts == "plain":
        return label
    return struck(label) if rest_counts == "strike" else f"({label})"


def first_count(label: str) -> str:
    """The label with its first count alone, the rest of the held counts left off.

    >>> first_count("2-3"), first_count("(3-4)"), first_count("2"), first_count("-1")
    ('2', '(3)', '2', '-1')
    """
    first, hyphen, _ = label.partition("-")
    if not hyphen or not first.strip("("):
        return label
    return f"{first})" if label.startswith("(") else first


def sound_label(
    onset: Fraction,
    length: Fraction,
    *,
    meter: Meter,
    conventions: Conventions,
    silent: bool = False,
    held: bool = False,
    triplet: bool = False,
) -> str:
    """The count of one sound or rest on its own, as written; onset (in its measure) and length in whole notes.

    Both may lie beyond the measure: counting goes on as if it had more of the same beats. Kodaly, whose words depend on
    neighbours, has none here. Raises RhythmError where the counting system has no count.

    >>> sound_label(Fraction(1, 4), Fraction(1, 2), meter=Meter(4, 4), conventions=Conventions())
    '2-3'
    """
    label = None
    start, span = ticks_if_whole(onset), ticks_if_whole(length)
    if conventions.counting != "kodaly" and start is not None and span is not None:
        label = labeller(meter, conventions)(start, span, triplet)
    if label is None:
        raise RhythmError(no_count(onset, triplet=triplet, meter=meter, conventions=conventions))
    return dressed(label, rest_style(conventions), silent=silent, held=held)


def no_count(onset: Fraction, *, triplet: bool, meter: Meter, conventions: Conventions) -> str:
    """Why there is no count, as a message."""
    if triplet and conventions.counting == "numbers" and conventions.held == "subdivisions":
        return "held = subdivisions has no counts for triplets: use held = beats or held = onset_only"
    where = f"what begins {onset} of a whole note after the start of a {meter} measure"
    return f"counting = {conventions.counting} has no count for {where}: use another rhythm or counting system"
