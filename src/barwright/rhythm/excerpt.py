"""An excerpt: the rhythm that an item is about; and a figure: what one picture shows of it."""

from dataclasses import dataclass, field
from fractions import Fraction
from itertools import chain
from typing import Literal

from barwright.errors import RhythmError
from barwright.rhythm.measure import (
    BLANK,
    Event,
    Symbol,
    Symbols,
    events,
    total,
)
from barwright.rhythm.meter import Meter
from barwright.rhythm.values import as_made


@dataclass(frozen=True, slots=True)
class Excerpt:
    """Meter and measures as printed; a `blank` symbol stands where something is left out.

    `mark` points at one symbol as (measure, index), both from 0. With `pickup` the first measure is incomplete and
    takes the last beats of a measure. Measures need not be full: a wrong measure can be an excerpt too. `blank` tells
    where the (first) blank stands as (measure, index) from 0, or is None.
    """

    meter: Meter
    measures: tuple[Symbols, ...]
    pickup: bool = False
    mark: tuple[int, int] | None = None
    blank: tuple[int, int] | None = field(init=False, repr=False, compare=False)
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if not self.measures or not all(self.measures):
            raise RhythmError("an excerpt needs at least one symbol in every measure")
        if self.mark is not None:
            measure, index = self.mark
            if not (0 <= measure < len(self.measures) and 0 <= index < len(self.measures[measure])):
                raise RhythmError(f"mark {self.mark} points outside the excerpt")
        object.__setattr__(self, "blank", _blank(self.measures))
        object.__setattr__(self, "_hash", hash((self.meter, self.measures, self.pickup, self.mark)))

    def __hash__(self) -> int:
        return self._hash

    __reduce__ = as_made

    @property
    def symbols(self) -> Symbols:
        """All symbols in order, barlines dropped."""
        return tuple(chain.from_iterable(self.measures))

    def start_of(self, measure: int) -> Fraction:
        """Onset of the first symbol of a measure (from 0), in whole notes: 0, or later in a pickup."""
        if self.pickup and measure == 0:
            return self.meter.capacity - total(self.measures[0], self.meter)
        return Fraction(0)

    def events(self) -> tuple[tuple[Event, ...], ...]:
        """The events of each measure; onsets in whole notes from the start of their own measure."""
        return tuple(
            events(symbols, self.meter, start=self.start_of(number), measure=number)
            for number, symbols in enumerate(self.measures)
        )

    def filled(self, answer: Symbols) -> "Excerpt":
        """The excerpt with the blank replaced by the answer's symbols; RhythmError if there is no blank."""
        if self.blank is None:
            raise RhythmError("the excerpt has no blank to fill")
        number, index = self.blank
        measure = self.measures[number]
        full = (*measure[:index], *answer, *measure[index + 1 :])
        measures = (*self.measures[:number], full, *self.measures[number + 1 :])
        return Excerpt(self.meter, measures, self.pickup)


def _blank(measures: tuple[Symbols, ...]) -> tuple[int, int] | None:
    for number, measure in enumerate(measures):
        if BLANK in measure:
            return number, measure.index(BLANK)
    return None


@dataclass(frozen=True, slots=True)
class Figure:
    """What one picture shows.

    `signature`: whether the time signature is printed. `frame`: `measures` has barlines, `fragment` is a few symbols on
    their own (a choice); `before` and `after` are the two parts of `measures` beside its blank, which read as one
    whatever stands between. `start`: where a `fragment`, or what comes `after` a blank, begins for its beams, in whole
    notes into the measure; other frames have no use for it. `counts`: labels printed
    under the symbols, one tuple a measure, one label a sound or rest (see `counting.count_labels`). `numbers`: measure
    numbers above. `final`: the last barline is a final one.
    """

    excerpt: Excerpt
    signature: bool = True
    frame: Literal["measures", "fragment", "before", "after"] = "measures"
    start: Fraction = Fraction(0)
    counts: tuple[tuple[str, ...], ...] = ()
    numbers: bool = False
    final: bool = True

    def __post_init__(self) -> None:
        if self.frame in ("before", "after") and self.excerpt.blank is None:
            raise RhythmError(f"there is nothing {self.frame} a blank: the excerpt has none")


def fragment(symbols: tuple[Symbol, ...], meter: Meter, *, start: Fraction = Fraction(0)) -> Figure:
    """A picture of a few symbols without signature and barlines: a choice of measure completion."""
    return Figure(Excerpt(meter, (symbols,)), signature=False, frame="fragment", start=start, final=False)


def beside_blank(excerpt: Excerpt) -> tuple[Figure, Figure]:
    """Pictures of what stands before the blank, signature included, and after it, to the last barline."""
    return Figure(excerpt, frame="before"), Figure(excerpt, signature=False, frame="after")
