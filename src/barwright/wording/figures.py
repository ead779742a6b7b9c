"""Figures of items: the picture in the question, and what a choice looks like, as the row of the ask says.

What stands in a row of gaps or lists, or is put in order, is the matter of `placed_items`.

Picture choices have short labels beside them, so that a report without pictures still says which was picked: letters
where the platform keeps the order of the choices. Where it mixes them a letter would stand for another place with every
student, so there each picture has a code of two consonants: no word, no count, no note, no syllable of a counting
system. A code is a hash of the item and of the place in the form, which tells nothing of the key.
"""

import hashlib
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from string import ascii_uppercase

from barwright.asks import ASKS
from barwright.asks.ask import ChoicePicture, Picture
from barwright.items.item import Answer, Item
from barwright.rhythm.excerpt import Excerpt, Figure, fragment
from barwright.rhythm.measure import total
from barwright.rhythm.text import parse_measures, parse_symbols
from barwright.wording.worded import WordedItem

# No vowels (words, syllables), nothing that looks like another sign, none of the letters that count choices (A to F).
CONSONANTS = "GHJKLMNPRTVX"


def choice_labels(item_id: str, choices: int, *, mixed: bool) -> tuple[str, ...]:
    """A label for each choice in shown order: A, B, C ..., or codes where the platform mixes the choices.

    No two codes of an item have the same first or the same second letter, so that one slip of the pen mixes up none.

    >>> choice_labels("9b6971f0d11fd7ec", 3, mixed=False)
    ('A', 'B', 'C')
    >>> choice_labels("9b6971f0d11fd7ec", 3, mixed=True)
    ('GM', 'XJ', 'NR')
    """
    if not mixed:
        return tuple(ascii_uppercase[:choices])
    letters = sorted(CONSONANTS, key=lambda letter: _hash(item_id, letter))
    shift = 1 + _hash(item_id, "shift")[0] % (len(letters) - 1)
    codes = [one + other for one, other in zip(letters, letters[shift:] + letters[:shift], strict=True)]
    return tuple(codes[:choices])


def labelled(item: WordedItem, *, mixed: bool) -> WordedItem:
    """The item with a label beside each of its choices that is a picture; `mixed`: the platform mixes the choices."""
    if not any(choice.figure for choice in item.choices):
        return item
    labels = choice_labels(item.item_id, len(item.choices), mixed=mixed)
    shown = zip(item.choices, labels, strict=True)
    return replace(item, choices=tuple(replace(c, label=label) if c.figure else c for c, label in shown))


def _hash(*parts: str) -> bytes:
    return hashlib.sha256("/".join(parts).encode()).digest()


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


# What the rows of asks name (`Ask.picture`, `Ask.choice`).
QUESTION_FIGURES: dict[Picture, QuestionFigure] = {
    "excerpt": whole_excerpt,
    "signature-hidden": signature_hidden,
    "symbols": bare_symbols,
    "none": no_figure,
}
CHOICE_FIGURES: dict[ChoicePicture, ChoiceFigure] = {
    "symbols": filling,
    "measures": bare_measures,
    "none": no_choice_figure,
}


def question_figure(item: Item) -> Figure | None:
    """The picture in the question; None where it is words only."""
    return QUESTION_FIGURES[ASKS[item.ask].picture](item)


def choice_figure(answer: Answer, item: Item) -> Figure | None:
    """The picture of an answer on offer; None where it is text."""
    return CHOICE_FIGURES[ASKS[item.ask].choice](answer, item)
