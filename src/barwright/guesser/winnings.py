"""What each strategy wins over chance, by ask and over a form: exact shares, ties split evenly."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from barwright.guesser.seen import SeenItem
from barwright.guesser.strategies import (
    HABITS,
    STRATEGIES,
    Habit,
    Past,
    option_scores,
)

# A whole item in the parts that winnings are counted in: any toss-up among up to six is a whole number of them.
ITEM = 60
_NUMBER = {name: number for number, name in enumerate(STRATEGIES)}
Won = tuple[int, ...]
"""What each strategy wins, in the order of STRATEGIES, in parts (ITEM to an item)."""


def chance(item: SeenItem) -> int:
    """What a toss-up wins, in parts: one over the answers that could be right."""
    return ITEM // len(item.options)


def won(item: SeenItem, past: Past, habits: Sequence[tuple[Habit, str, str]] = HABITS) -> Won:
    """What the strategies of these habits win of an item: all if they pick the right answer, a part in a toss-up."""
    right, wins = item.right, []
    for habit, _, _ in habits:
        scores = option_scores(item, habit(item, past))
        for end in (max(scores), min(scores)):
            wins.append(ITEM // scores.count(end) if right is not None and scores[right] == end else 0)
    return tuple(wins)


@dataclass(frozen=True, slots=True)
class Winnings:
    """What strategies win of the items of one ask, or of a form: `items` of them; `chance` and `won` in parts."""

    items: int
    chance: int
    won: Won

    def of(self, strategy: str) -> int:
        """What a strategy wins, in parts."""
        return self.won[_NUMBER[strategy]]

    def over(self, strategy: str) -> Fraction:
        """What a strategy wins over chance, as a share of the items."""
        return Fraction(self.of(strategy) - self.chance, self.items * ITEM)

    @property
    def best(self) -> str:
        """The strategy that wins most; of equals the first of the table."""
        return STRATEGIES[self.won.index(max(self.won))]

    def __add__(self, other: "Winnings") -> "Winnings":
        together = tuple([mine + yours for mine, yours in zip(self.won, other.won, strict=True)])
        return Winnings(self.items + other.items, self.chance + other.chance, together)


NOTHING = Winnings(0, 0, (0,) * len(STRATEGIES))


@dataclass(slots=True)
class Ledger:
    """Strategies at work on a form in the making: what they remember and have won so far, ask by ask."""

    asks: dict[str, Winnings] = field(default_factory=dict)
    _past: dict[str, Past] = field(default_factory=dict)

    def with_next(self, item: SeenItem) -> Winnings:
        """The winnings of the item's ask if it came next."""
        return self.asks.get(item.ask, NOTHING) + self.brought_by(item)

    def add(self, item: SeenItem) -> Winnings:
        """Takes the item as the next of the form, and gives what it brings."""
        brought = self.brought_by(item)
        self.asks[item.ask] = self.asks.get(item.ask, NOTHING) + brought
        self._past.setdefault(item.ask, Past()).add(item)
        return brought

    def take_back(self, item: SeenItem, brought: Winnings) -> None:
        """Takes an item out again, which brought so much (see `brought_by`) when it was added."""
        before = self.asks[item.ask]
        left = tuple([mine - yours for mine, yours in zip(before.won, brought.won, strict=True)])
        self.asks[item.ask] = Winnings(before.items - 1, before.chance - brought.chance, left)
        self._past[item.ask].take_back(item)

    def brought_by(self, item: SeenItem) -> Winnings:
        """What the item alone would bring if it came next."""
        return Winnings(1, chance(item), won(item, self._past.get(item.ask, Past())))

    @property
    def whole(self) -> Winnings:
        """All asks together."""
        return sum(self.asks.values(), NOTHING)


def winnings(items: Iterable[SeenItem]) -> Ledger:
    """What every strategy wins of the items of a form in their order.

    >>> from barwright.guesser.seen import seen_choice
    >>> choices = tuple(seen_choice("symbols", text) for text in ("q", "h", "h."))
    >>> ledger = winnings([SeenItem("finish-measure", choices, frozenset({0}), one_length=True)])
    >>> ledger.asks["finish-measure"].over("shortest")
    Fraction(2, 3)
    """
    ledger = Ledger()
    for item in items:
        ledger.add(item)
    return ledger
