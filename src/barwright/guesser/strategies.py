"""How a student picks who reads neither stem nor figure: one function a habit, one table of them all.

A habit gives each choice a score. Every habit makes two strategies: to pick the option with the highest score, or with
the lowest (of an option of several choices the mean counts). Equal scores are a toss-up. Scores are whole numbers.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import combinations

from barwright.guesser.seen import COUNTED, SeenChoice, SeenItem

Scores = Sequence[int]
Trait = tuple[str, object]
# Divisible by every number of tokens that a choice can have, so that means stay whole.
WHOLE = 720720
# What a choice has that may be kept from item to item, see `traits_of`.
TRAITS = ("text", "first word", "place", "rank", "shared", "length", "likeness")


@dataclass(slots=True)
class Past:
    """What a student remembers of the items of one ask that came before in the form, each with its right answer.

    Counters of choices by trait: how often it was `met`, and how often it was `right`.
    """

    met: Counter[Trait] = field(default_factory=Counter)
    right: Counter[Trait] = field(default_factory=Counter)

    def add(self, item: SeenItem) -> None:
        """Remembers an item and its right answer."""
        for number, traits in enumerate(traits_of(item)):
            self.met.update(traits)
            if number in item.keys:
                self.right.update(traits)

    def take_back(self, item: SeenItem) -> None:
        """Forgets an item that was remembered."""
        for number, traits in enumerate(traits_of(item)):
            self.met.subtract(traits)
            if number in item.keys:
                self.right.subtract(traits)


Habit = Callable[[SeenItem, Past], Scores]


def traits_of(item: SeenItem) -> tuple[tuple[Trait, ...], ...]:
    """What each choice has that may be kept from item to item, each trait with its name, in the order of TRAITS."""
    return _traits(item.choices)


@lru_cache(maxsize=1 << 8)
def _traits(choices: tuple[SeenChoice, ...]) -> tuple[tuple[Trait, ...], ...]:
    lengths = [c.size for c in choices]
    alike = _alike(choices)
    ranks, shared, likeness = sorted(set(lengths)), Counter(lengths), sorted(set(alike), reverse=True)
    return tuple(
        (
            ("text", choice.text),
            ("first word", choice.tokens[:1]),
            ("place", place),
            ("rank", (len(ranks), ranks.index(lengths[place]))),
            ("shared", shared[lengths[place]]),
            ("length", lengths[place]),
            ("likeness", likeness.index(alike[place])),
        )
        for place, choice in enumerate(choices)
    )


def length(item: SeenItem, _past: Past) -> Scores:
    """How long each lasts in ticks; of what is no rhythm the number of symbols."""
    return [c.size for c in item.choices]


def middle_length(item: SeenItem, _past: Past) -> Scores:
    """How near each is to the median of the lengths (folk rule: neither the shortest nor the longest)."""
    sizes = [c.size for c in item.choices]
    lengths = sorted(sizes)
    twice = lengths[(len(lengths) - 1) // 2] + lengths[len(lengths) // 2]
    return [-abs(2 * size - twice) for size in sizes]


def shared_length(item: SeenItem, _past: Past) -> Scores:
    """How many choices have the same length: the lowest has a length of its own."""
    lengths = [c.size for c in item.choices]
    return [lengths.count(each) for each in lengths]


@lru_cache(maxsize=1 << 8)
def _alike(choices: tuple[SeenChoice, ...]) -> tuple[int, ...]:
    return tuple(_closeness([c.tokens for c in choices]))


def likeness(item: SeenItem, _past: Past) -> Scores:
    """How like each is to the others: minus the sum of its edit distances in tokens (Smith 1982: convergence)."""
    return _alike(item.choices)


def likeness_by_letters(item: SeenItem, _past: Past) -> Scores:
    """How like each is to the others: minus the sum of its edit distances in letters and marks."""
    return _closeness([c.letters for c in item.choices])


def _closeness(texts: Sequence[tuple[str, ...]]) -> list[int]:
    """For each of these minus the sum of its edit distances to the others."""
    sums = [0] * len(texts)
    for one, other in combinations(range(len(texts)), 2):
        away = distance(texts[one], texts[other])
        sums[one] -= away
        sums[other] -= away
    return sums


@lru_cache(maxsize=1 << 17)
def distance(one: tuple[str, ...], other: tuple[str, ...]) -> int:
    """Edit distance in tokens put in, left out or changed (Levenshtein 1966), a whole row of the table at a time.

    Method: Myers 1999, A fast bit-vector algorithm, J. ACM 46:395-415; for whole texts Hyyro 2003.

    >>> distance(("q", "rq", "h"), ("q", "h"))
    1
    """
    if one == other or not one or not other:
        return abs(len(one) - len(other))
    if one > other:
        return distance(other, one)
    places: dict[str, int] = {}
    for n, token in enumerate(one):
        places[token] = places.get(token, 0) | 1 << n
    full, last = (1 << len(one)) - 1, 1 << (len(one) - 1)
    more, less, edits = full, 0, len(one)  # where the table rises, and falls, from a row to the next
    for token in other:
        same = places.get(token, 0)
        same, level = same | less, (((same & more) + more) ^ more) | same
        up, down = less | ~(level | more) & full, more & level
        edits += bool(up & last) - bool(down & last)
        up = (up << 1 | 1) & full
        more, less = (down << 1) & full | ~(same | up) & full, up & same
    return edits


def words_in_place(item: SeenItem, _past: Past) -> Scores:
    """In how many choices the tokens of each stand in the same place, on average."""
    return _frequency([tuple(enumerate(c.tokens)) for c in item.choices])


def words_named(item: SeenItem, _past: Past) -> Scores:
    """In how many choices the tokens of each are named, wherever they stand, on average."""
    return _frequency([c.tokens for c in item.choices])


def _frequency(words: Sequence[Sequence[object]]) -> list[int]:
    counts: dict[object, int] = {}
    for each in words:
        for word in set(each):
            counts[word] = counts.get(word, 0) + 1
    return [sum([counts[word] for word in each]) * WHOLE // max(len(each), 1) for each in words]


def place(item: SeenItem, _past: Past) -> Scores:
    """Where each stands."""
    return range(len(item.choices))


def met_before(item: SeenItem, past: Past) -> Scores:
    """How often the text of each was met before."""
    return [past.met["text", c.text] for c in item.choices]


def _kept(trait: str, *, rate: bool = False) -> Habit:
    """How often what a choice has was right before; with `rate`, of as often as it was met."""
    column = TRAITS.index(trait)

    def scored(item: SeenItem, past: Past) -> Scores:
        shown = [traits[column] for traits in traits_of(item)]
        if rate:
            return [WHOLE * past.right[t] // (past.met[t] + 1) for t in shown]
        return [past.right[t] for t in shown]

    return scored


def _common(what: str) -> Habit:
    """How many choices have as many of something as each."""
    column = COUNTED.index(what)

    def scored(item: SeenItem, _past: Past) -> Scores:
        counts = item.columns[column]
        return [counts.count(each) for each in counts]

    return scored


def _counted(what: str) -> Habit:
    """How many of something each has."""
    column = COUNTED.index(what)
    return lambda item, _past: item.columns[column]


# Habit -> names of its two strategies: the highest score, the lowest. By these nothing is remembered, and no position
# matters: what they win of an item is the same wherever it stands in the form, and its choices in it.
AT_SIGHT: tuple[tuple[Habit, str, str], ...] = (
    (length, "longest", "shortest"),
    (middle_length, "middle length", "no middle length"),
    (shared_length, "shares a length", "length of its own"),
    (likeness, "most like the others", "least like the others"),
    (likeness_by_letters, "most like the others by letters", "least like the others by letters"),
    (words_in_place, "shares most words", "shares fewest words"),
    (words_named, "number named most", "number named least"),
    *((_counted(what), f"most {what}", f"fewest {what}") for what in COUNTED),
    *((_common(what), f"common number of {what}", f"rare number of {what}") for what in COUNTED),
)
# Those that win the same whatever was right before.
STEADY: tuple[tuple[Habit, str, str], ...] = (
    *AT_SIGHT,
    (place, "last", "first"),
    (met_before, "met most before", "met least before"),
)
HABITS: tuple[tuple[Habit, str, str], ...] = (
    *STEADY,
    *((_kept(trait), f"{trait} right before", f"{trait} never right before") for trait in TRAITS),
    *((_kept(t, rate=True), f"{t} right at the best rate", f"{t} right at the worst rate") for t in TRAITS),
)
STRATEGIES: tuple[str, ...] = tuple(name for _, *names in HABITS for name in names)
# Strategies by the place of a choice, which is drawn only when the form is put in order.
OF_PLACE = frozenset(name for name in STRATEGIES if name in ("first", "last") or name.startswith("place "))


def option_scores(item: SeenItem, scores: Scores) -> Scores:
    """The score of each option that could be right; of one of several choices the mean, as a whole multiple."""
    options = item.options
    if item.several:
        return [sum([scores[n] for n in option]) * WHOLE // len(option) for option in options]
    return scores if len(options) == len(scores) else [scores[option[0]] for option in options]
