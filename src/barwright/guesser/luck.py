"""What the best of all strategies wins of a form by luck alone: more than it seems, since there are so many of them."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random

from barwright.guesser.seen import SeenItem
from barwright.guesser.strategies import HABITS, STEADY, Past, option_scores
from barwright.guesser.winnings import ITEM, chance, won

# How often right answers are drawn anew for a form: seldom for a large one, of which every draw tells nearly the same.
FEWEST, MOST, IN_ALL = 4, 40, 1_200
_KEPT = HABITS[len(STEADY) :]


def luck(items: Sequence[SeenItem], rng: Random) -> Fraction:
    """What the best strategy wins over chance, as a share of the items, if choices have nothing to do with being right.

    The mean over some draws: choices and their order stay, and of each item any answer that could be right is so as
    likely as any other (a permutation test; Fisher 1935, The design of experiments). 0 without items.

    >>> from barwright.guesser.seen import seen_choice
    >>> choices = tuple(seen_choice("symbols", text) for text in ("q", "h", "h."))
    >>> items = [SeenItem("finish-measure", choices, frozenset({0}), one_length=True)] * 4
    >>> luck(items, Random(1)) > Fraction(1, 4)
    True
    """
    if not items:
        return Fraction(0)
    steady, base = list(_wins(items)), sum(map(chance, items))
    draws = max(FEWEST, min(MOST, IN_ALL // len(items)))
    best = sum(_best(items, steady, rng) - base for _ in range(draws))
    return Fraction(best, draws * len(items) * ITEM)


def _wins(items: Sequence[SeenItem]) -> Iterator[list[tuple[int, ...]]]:
    """For each item and each of its answers what the steady strategies win if it is right, in parts."""
    pasts: dict[str, Past] = {}
    for item in items:
        past = pasts.setdefault(item.ask, Past())
        by_strategy = []
        for habit, _, _ in STEADY:
            scores = list(option_scores(item, habit(item, past)))
            for end in (max(scores), min(scores)):
                by_strategy.append([ITEM // scores.count(end) * (score == end) for score in scores])
        past.add(item)
        yield list(zip(*by_strategy, strict=True))


def _best(items: Sequence[SeenItem], steady: Sequence[Sequence[tuple[int, ...]]], rng: Random) -> int:
    """What the strategy wins that wins most if right answers are drawn, in parts."""
    pasts: dict[str, Past] = {}
    rows: list[tuple[int, ...]] = []
    kept: list[tuple[int, ...]] = []
    for item, wins in zip(items, steady, strict=True):
        right = rng.randrange(len(item.options))
        drawn = replace(item, keys=frozenset(item.options[right]))
        past = pasts.setdefault(item.ask, Past())
        rows.append(wins[right])
        kept.append(won(drawn, past, _KEPT))
        past.add(drawn)
    best: int = max([sum(column) for each in (rows, kept) for column in zip(*each, strict=True)])
    return best
