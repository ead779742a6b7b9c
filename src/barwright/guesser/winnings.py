"""What each strategy wins over chance, by ask and over a form: exact shares, ties split evenly."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from barwright.guesser.seen import SeenItem
from barwright.guesser.strategies import STRATEGIES, Past, picked

Shares = Mapping[str, Fraction]
"""By strategy, how much of an item (or of several) is won: 0 to 1 for each item."""


def chance(item: SeenItem) -> Fraction:
    """What a toss-up wins: one over the answers that could be right."""
    return Fraction(1, len(item.options))


def won(item: SeenItem, past: Past, names: Iterable[str] = STRATEGIES) -> dict[str, Fraction]:
    """What each strategy wins of an item: 1 if it picks the right answer, a part where the best are a toss-up."""
    right, found = item.right, {}
    for name in names:
        options = picked(item, STRATEGIES[name](item, past))
        found[name] = Fraction(right in options, len(options))
    return found


@dataclass(frozen=True, slots=True)
class Winnings:
    """What strategies win of the items of one ask, or of a form: `items` of them, `chance` and `won` in items."""

    items: int
    chance: Fraction
    won: Shares

    def over(self, strategy: str) -> Fraction:
        """What a strategy wins over chance, as a share of the items."""
        return (self.won[strategy] - self.chance) / self.items

    @property
    def best(self) -> str:
        """The strategy that wins most; of equals the first of the table."""
        return max(self.won, key=self.won.__getitem__)

    def __add__(self, other: "Winnings") -> "Winnings":
        together = {name: self.won[name] + other.won[name] for name in self.won}
        return Winnings(self.items + other.items, self.chance + other.chance, together)


@dataclass(slots=True)
class Ledger:
    """Strategies at work on a form in the making: what they remember and have won so far, ask by ask.

    `names`: the strategies that are watched; while places are still open those of places are not.
    """

    names: tuple[str, ...] = tuple(STRATEGIES)
    asks: dict[str, Winnings] = field(default_factory=dict)
    _past: dict[str, Past] = field(default_factory=dict)

    def would_win(self, item: SeenItem) -> dict[str, Fraction]:
        """What each strategy would win of this item if it came next."""
        return won(item, self._past.get(item.ask, Past()), self.names)

    def add(self, item: SeenItem) -> None:
        """Takes the item as the next of the form."""
        found = Winnings(1, chance(item), self.would_win(item))
        self.asks[item.ask] = self.asks[item.ask] + found if item.ask in self.asks else found
        self._past.setdefault(item.ask, Past()).add(item)

    @property
    def whole(self) -> Winnings | None:
        """All asks together; None before the first item."""
        found = list(self.asks.values())
        return sum(found[1:], found[0]) if found else None


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
