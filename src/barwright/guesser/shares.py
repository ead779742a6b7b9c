"""What one item adds to every sum that guessers could live by: strategies at sight, and numbers that learners weigh.

Over many items each sum is to be zero: then the strategies are at chance, and who fits weights to the numbers finds
nothing at the first step. What is remembered of items before is left out, since it depends on their order.
"""

from collections.abc import Iterator

from barwright.guesser.moments import differences
from barwright.guesser.seen import SeenItem
from barwright.guesser.strategies import AT_SIGHT, Past, Scores, option_scores
from barwright.guesser.winnings import ITEM, chance

NAMES: tuple[tuple[str, str], ...] = tuple(("wins", name) for _, *names in AT_SIGHT for name in names)
# What a named strategy wins weighs so many times what a learner could learn, of which there are many more numbers.
NAMED = 3
_NO_PAST = Past()

Shares = dict[tuple[str, object], int]
"""By what it is named: how much an item adds, in parts (`winnings.ITEM`); what adds nothing is left out."""


def shares_of(item: SeenItem) -> Shares:
    """What the item adds to each sum, strategies NAMED times.

    >>> from barwright.guesser.seen import seen_choice
    >>> item = SeenItem("finish-measure", (seen_choice("symbols", "h"), seen_choice("symbols", "rq")), frozenset({0}))
    >>> shares_of(item)["wins", "longest"], shares_of(item)["above", "longest"]
    (90, 15)
    """
    shares: Shares = {name: parts for name, parts in differences(item).items() if parts}
    right = item.right
    if right is not None:
        base = chance(item)
        for habit, highest, lowest in AT_SIGHT:
            scores = option_scores(item, habit(item, _NO_PAST))
            shares.update(each for each in _of_scores(scores, right, base, (highest, lowest)) if each[1])
    return shares


def _of_scores(scores: Scores, right: int, base: int, names: tuple[str, str]) -> Iterator[tuple[tuple[str, str], int]]:
    """What the highest and the lowest score win, and how the right answer stands among the scores: how many are less,
    how many the same, whether it is at an end, each minus the mean of all."""
    scores, count = list(scores), len(scores)
    own = scores[right]
    for name, end in zip(names, (max(scores), min(scores)), strict=True):
        ends = scores.count(end)
        yield ("wins", name), NAMED * ((ITEM // ends if own == end else 0) - base)
        yield ("at the end", name), (ITEM if own == end else 0) - ITEM * ends // count
    same = [scores.count(each) for each in scores]
    less = [sum([other < each for other in scores]) for each in scores]
    yield ("above", names[0]), (ITEM * less[right] - ITEM * sum(less) // count) // count
    yield ("beside", names[0]), (ITEM * same[right] - ITEM * sum(same) // count) // count
