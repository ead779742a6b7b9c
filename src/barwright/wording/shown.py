"""What each ask shows: the picture in the question, and what a choice of it looks like.

What stands in a row of gaps or lists, or is put in order, is the matter of wording/placing.py.
"""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from barwright.errors import TemplateError
from barwright.items.item import Answer, Item
from barwright.rhythm.excerpt import Excerpt, Figure, fragment
from barwright.rhythm.measure import total
from barwright.rhythm.text import parse_measures, parse_symbols

QuestionFigure = Callable[[Item], Figure | None]
ChoiceFigure = Callable[[Answer, Item], Figure | None]


def whole_excerpt(item: Item) -> Figure:
    """The excerpt with its signature, blank and mark."""
    return Figure(item.excerpt)


def signature_hidden(item: Item) -> Figure:
    """The excerpt without its signature: that is what is asked."""
    return Figure(item.excerpt, signature=False)


def bare_symbols(item: Item) -> Figure:
    """The symbols of an excerpt that need not fill a measure, on the line, without signature and barlines."""
    return fragment(item.excerpt.symbols, item.excerpt.meter)


def no_figure(_item: Item) -> None:
    """None: the question is words only."""


@lru_cache(1 << 10)
def onset_of_blank(excerpt: Excerpt) -> Fraction:
    """Where the blank begins, in whole notes from the start of its measure; 0 without a blank."""
    if excerpt.blank is None:
        return Fraction(0)
    measure, index = excerpt.blank
    return excerpt.start_of(measure) + total(excerpt.measures[measure][:index], excerpt.meter)


def filling(answer: Answer, item: Item) -> Figure:
    """A few symbols as a picture, beamed as they would be in the blank."""
    return fragment(parse_symbols(answer.text), item.excerpt.meter, start=onset_of_blank(item.excerpt))


def bare_measures(answer: Answer, item: Item) -> Figure:
    """Whole measures as a picture; the signature stands in the question, or is what the rhythm is picked for."""
    excerpt = Excerpt(item.excerpt.meter, parse_measures(answer.text), item.excerpt.pickup)
    return Figure(excerpt, signature=False)


def no_choice_figure(_answer: Answer, _item: Item) -> None:
    """None: the choices are text."""


@dataclass(frozen=True, slots=True)
class Shown:
    """How an ask is shown; both functions give None where there is no picture."""

    figure: QuestionFigure
    choice: ChoiceFigure


SHOWN = {
    "finish-measure": Shown(whole_excerpt, filling),
    "finish-measure-with-two": Shown(whole_excerpt, filling),
    "beats-left": Shown(whole_excerpt, no_choice_figure),
    "all-that-fit": Shown(whole_excerpt, filling),
    "drag-into-the-blank": Shown(no_figure, filling),
    "shortest-first": Shown(no_figure, no_choice_figure),
    "counts-for-rhythm": Shown(whole_excerpt, no_choice_figure),
    "rhythm-for-counts": Shown(no_figure, bare_measures),
    "count-under-mark": Shown(whole_excerpt, no_choice_figure),
    "write-counts": Shown(whole_excerpt, no_choice_figure),
    "count-under-each": Shown(whole_excerpt, no_choice_figure),
    "time-signature-for-rhythm": Shown(signature_hidden, no_choice_figure),
    "rhythm-for-time-signature": Shown(no_figure, bare_measures),
    "does-it-fit": Shown(bare_symbols, no_choice_figure),
    "what-the-numbers-say": Shown(whole_excerpt, no_choice_figure),
}


def shown(ask: str) -> Shown:
    """How an ask is shown; raises TemplateError for one that is not in the table."""
    if ask not in SHOWN:
        raise TemplateError(f"ask {ask!r} has no row in wording/shown.py: use one of {', '.join(SHOWN)}")
    return SHOWN[ask]
