"""How a student picks who reads neither stem nor figure: one function a habit, one table of them all.

Every strategy gives each choice a score; the student picks the option with the highest (of several choices the mean).
Equal scores are a toss-up. Scores are exact.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from barwright.guesser.seen import COUNTED, SeenChoice, SeenItem

Scores = Sequence[int | Fraction]


@dataclass(slots=True)
class Past:
    """What a student remembers of the items of one ask that came before in the form, each with its right answer.

    Counters of choices by what they have in common: text, first word, place, rank of length, how many lengths they
    share: how often it was `met`, and how often it was `right`.
    """

    met: Counter[tuple[str, object]] = field(default_factory=Counter)
    right: Counter[tuple[str, object]] = field(default_factory=Counter)

    def add(self, item: SeenItem) -> None:
        """Remembers an item and its right answer."""
        for number, traits in enumerate(traits_of(item)):
            self.met.update(traits)
            if number in item.keys:
                self.right.update(traits)


Strategy = Callable[[SeenItem, Past], Scores]
Trait = tuple[str, object]


def traits_of(item: SeenItem) -> tuple[tuple[Trait, ...], ...]:
    """What each choice has that may be kept from item to item, each trait with its name, in the order of TRAITS."""
    return _traits(item.choices)


@lru_cache(maxsize=1 << 10)
def _traits(choices: tuple[SeenChoice, ...]) -> tuple[tuple[Trait, ...], ...]:
    lengths = [_length(c) for c in choices]
    ranks, shared = sorted(set(lengths)), Counter(lengths)
    alike = _alike(choices)
    likeness = sorted(set(alike))
    return tuple(
        (
            ("text", choice.text),
            ("first word", choice.tokens[:1]),
            ("place", place),
            ("rank", (len(ranks), ranks.index(lengths[place]))),
            ("shared", shared[lengths[place]]),
            ("length", lengths[place]),
            ("likeness", len(likeness) - likeness.index(alike[place])),
        )
        for place, choice in enumerate(choices)
    )


def _length(choice: SeenChoice) -> int:
    """Length in ticks; of what is no rhythm the number of symbols."""
    return choice.counts[0] if choice.length is None else choice.length


def _lengths(item: SeenItem) -> list[int]:
    return [_length(choice) for choice in item.choices]


def shortest(item: SeenItem, _past: Past) -> Scores:
    """The choice that lasts the least, or has the fewest labels."""
    return [-length for length in _lengths(item)]


def longest(item: SeenItem, _past: Past) -> Scores:
    """The choice that lasts longest, or has the most labels."""
    return _lengths(item)


def middle_length(item: SeenItem, _past: Past) -> Scores:
    """Neither the shortest nor the longest: nearest to the median of the lengths (folk rule)."""
    found = sorted(_lengths(item))
    twice = found[(len(found) - 1) // 2] + found[len(found) // 2]
    return [-abs(2 * length - twice) for length in _lengths(item)]


def no_middle_length(item: SeenItem, _past: Past) -> Scores:
    """The shortest or the longest."""
    return [-score for score in middle_length(item, _past)]


def length_of_its_own(item: SeenItem, _past: Past) -> Scores:
    """A length that no other choice has."""
    return [-score for score in shares_a_length(item, _past)]


def shares_a_length(item: SeenItem, _past: Past) -> Scores:
    """A length that most others have."""
    found = Counter(_lengths(item))
    return [found[length] for length in _lengths(item)]


@lru_cache(maxsize=1 << 10)
def _alike(choices: tuple[SeenChoice, ...]) -> tuple[int, ...]:
    """How like each choice is to the others: minus the sum of its distances."""
    return tuple(-sum(distance(one.tokens, other.tokens) for other in choices) for one in choices)


def _most_alike(item: SeenItem, _past: Past) -> Scores:
    return _alike(item.choices)


def _least_alike(item: SeenItem, _past: Past) -> Scores:
    return [-score for score in _alike(item.choices)]


def _alike_by_letters(item: SeenItem, _past: Past) -> list[int]:
    """The same by letters and marks."""
    choices = item.choices
    return [-sum(distance(tuple(one.text), tuple(other.text)) for other in choices) for one in choices]


def _unlike_by_letters(item: SeenItem, past: Past) -> list[int]:
    return [-score for score in _alike_by_letters(item, past)]


@lru_cache(maxsize=1 << 16)
def distance(one: tuple[str, ...], other: tuple[str, ...]) -> int:
    """Edit distance in tokens put in, left out or changed (Levenshtein 1966).

    >>> distance(("q", "rq", "h"), ("q", "h"))
    1
    """
    if one == other:
        return 0
    before = list(range(len(other) + 1))
    for i, mine in enumerate(one, start=1):
        now = [i]
        for j, yours in enumerate(other, start=1):
            now.append(min(before[j] + 1, now[-1] + 1, before[j - 1] + (mine != yours)))
        before = now
    return before[-1]


def shares_most_words(item: SeenItem, _past: Past) -> Scores:
    """The choice whose tokens, where they stand, are those of most other choices."""
    found = Counter(pair for c in item.choices for pair in set(enumerate(c.tokens)))
    return [Fraction(sum(found[pair] for pair in enumerate(c.tokens)), max(len(c.tokens), 1)) for c in item.choices]


def shares_fewest_words(item: SeenItem, past: Past) -> Scores:
    """The choice whose tokens are those of fewest other choices."""
    return [-score for score in shares_most_words(item, past)]


def number_named_most(item: SeenItem, _past: Past) -> Scores:
    """The choice whose tokens are named in most choices of the item, wherever they stand."""
    found = Counter(token for c in item.choices for token in set(c.tokens))
    return [Fraction(sum(found[t] for t in c.tokens), max(len(c.tokens), 1)) for c in item.choices]


def number_named_least(item: SeenItem, past: Past) -> Scores:
    """The choice whose tokens are named in fewest choices of the item."""
    return [-score for score in number_named_most(item, past)]


def first(item: SeenItem, _past: Past) -> Scores:
    """The first choice."""
    return [-place for place in range(len(item.choices))]


def last(item: SeenItem, _past: Past) -> Scores:
    """The last choice."""
    return range(len(item.choices))


def _kept(trait: str, sign: int, *, rate: bool = False) -> Strategy:
    """What was right most often before (`sign` 1), or never yet (-1); with `rate` of as often as it was met."""
    column = TRAITS.index(trait)

    def scored(item: SeenItem, past: Past) -> Scores:
        found = [traits[column] for traits in traits_of(item)]
        if rate:
            return [sign * Fraction(past.right[t], past.met[t] + 1) for t in found]
        return [sign * past.right[t] for t in found]

    return scored


def _met(sign: int) -> Strategy:
    """The text met most often before (`sign` 1), or least often (-1)."""

    def scored(item: SeenItem, past: Past) -> Scores:
        return [sign * past.met["text", c.text] for c in item.choices]

    return scored


def _counted(what: str, sign: int) -> Strategy:
    """Most (`sign` 1) or fewest (-1) of something."""
    column = COUNTED.index(what)

    def scored(item: SeenItem, _past: Past) -> Scores:
        return [sign * c.counts[column] for c in item.choices]

    return scored


# What a choice has that may be kept from item to item, see `traits_of`.
TRAITS = ("text", "first word", "place", "rank", "shared", "length", "likeness")
# Strategies by which place a choice stands in: its place is drawn when the form is put in order.
OF_PLACE = frozenset({"first", "last", "place right before", "place not right before", "place right at the best rate"})

STRATEGIES: dict[str, Strategy] = {
    "shortest": shortest,
    "longest": longest,
    "middle length": middle_length,
    "no middle length": no_middle_length,
    "length of its own": length_of_its_own,
    "shares a length": shares_a_length,
    "most like the others": _most_alike,
    "least like the others": _least_alike,
    "most like the others by letters": _alike_by_letters,
    "least like the others by letters": _unlike_by_letters,
    "shares most words": shares_most_words,
    "shares fewest words": shares_fewest_words,
    "number named most": number_named_most,
    "number named least": number_named_least,
    "first": first,
    "last": last,
    "met most before": _met(1),
    "met least before": _met(-1),
    **{f"most {what}": _counted(what, 1) for what in COUNTED},
    **{f"fewest {what}": _counted(what, -1) for what in COUNTED},
    **{f"{trait} right before": _kept(trait, 1) for trait in TRAITS},
    **{f"{trait} not right before": _kept(trait, -1) for trait in TRAITS},
    **{f"{trait} right at the best rate": _kept(trait, 1, rate=True) for trait in TRAITS},
}


def picked(item: SeenItem, scores: Scores) -> tuple[int, ...]:
    """The options with the highest score, as indices; of an option of several choices the mean counts."""
    found = [sum(Fraction(scores[n]) for n in option) / len(option) for option in item.options]
    best = max(found)
    return tuple(n for n, score in enumerate(found) if score == best)
