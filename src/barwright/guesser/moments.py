"""What a learner finds that no single strategy does: right answers that differ on average from what is offered.

For every number that can be read off a choice (how long, how many rests, how many quarter notes, ...) the right answer
is compared with the mean of its item, and the differences are added up. Who fits weights to such numbers (a logistic
regression) finds nothing at the first step where every sum is zero: the sums are its gradient.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import combinations

from barwright.guesser.seen import COUNTED, SeenChoice, SeenItem
from barwright.guesser.winnings import ITEM

Feature = tuple[str, object]
# Numbers in a row are large: their sum is taken in fours, so that it weighs no more than other numbers do.
_SUMMED = COUNTED.index("numbers")
_IN_FOURS = 4


@lru_cache(maxsize=1 << 12)
def features_of(choice: SeenChoice) -> tuple[tuple[Feature, int], ...]:
    """The numbers that can be read off a choice, those that are 0 left out."""
    return tuple(_features(choice))


def _features(choice: SeenChoice) -> Iterator[tuple[Feature, int]]:
    for column, (what, count) in enumerate(zip(COUNTED, choice.counts, strict=True)):
        number = count // _IN_FOURS if column == _SUMMED else count
        if number:
            yield ("count", what), number
    yield ("size", choice.size), 1
    yield ("text", choice.text), 1
    for token in sorted(set(choice.tokens)):
        yield ("token", token), choice.tokens.count(token)


@dataclass(slots=True)
class Moments:
    """For each feature the sum over items of right answer minus mean of the item, in parts (`winnings.ITEM`)."""

    sums: dict[Feature, int] = field(default_factory=dict)

    def would_add(self, item: SeenItem) -> int:
        """By how much the sum of the squares of all sums grows if this item comes next; less than 0 if it shrinks."""
        sums = self.sums
        return sum([d * (2 * sums.get(feature, 0) + d) for feature, d in differences(item).items()])

    def add(self, item: SeenItem) -> None:
        """Takes the item as the next."""
        for feature, difference in differences(item).items():
            self.sums[feature] = self.sums.get(feature, 0) + difference

    def take_back(self, item: SeenItem) -> None:
        """Takes an item out again."""
        for feature, difference in differences(item).items():
            self.sums[feature] -= difference


def differences(item: SeenItem) -> dict[Feature, int]:
    """The right answer minus the mean of all that could be right, feature by feature, in parts.

    >>> from barwright.guesser.seen import seen_choice
    >>> item = SeenItem("finish-measure", (seen_choice("symbols", "h"), seen_choice("symbols", "rq")), frozenset({0}))
    >>> differences(item)["count", "rests"]
    -30
    """
    right, options = item.right, item.options
    if right is None:
        return {}
    sums: dict[Feature, int] = {}
    each, crossed = ITEM // len(options), _crossed(item.choices)
    for number, option in enumerate(options):
        share = (ITEM if number == right else 0) - each
        for n in option:
            for feature, value in (*features_of(item.choices[n]), *crossed[n]):
                sums[feature] = sums.get(feature, 0) + share * value // len(option)
    return sums


def _crossed(choices: tuple[SeenChoice, ...]) -> list[tuple[tuple[Feature, int], ...]]:
    """For each choice and any two counts whether it has less or more of them than the middle: trees split so."""
    middles = []
    numbers = [(*c.counts, c.size) for c in choices]
    for column in zip(*numbers, strict=True):
        ordered = sorted(column)
        middles.append(ordered[(len(ordered) - 1) // 2] + ordered[len(ordered) // 2])
    return [
        _sides(tuple([(2 * c > m) - (2 * c < m) for c, m in zip(counts, middles, strict=True)])) for counts in numbers
    ]


@lru_cache(maxsize=1 << 12)
def _sides(signs: tuple[int, ...]) -> tuple[tuple[Feature, int], ...]:
    """What is seen of a choice that has of each count more (1), less (-1) or as many as the middle.

    Remembered, since few such rows make up nearly all: it saves half of `differences`.
    """
    shown = [sign for sign in enumerate(signs) if sign[1]]
    traits: list[Feature] = [("more or less", sign) for sign in shown]
    traits += [("both", two) for two in combinations(shown, 2)]
    return tuple([(trait, 1) for trait in traits])
