"""What one item adds to every sum that guessers could live by: strategies at sight, and numbers that learners weigh.

Over many items each sum is to be zero: then the strategies are at chance, and who fits weights to the numbers finds
nothing at the first step. What is remembered of items before is left out, since it depends on their order.
"""

from functools import lru_cache

from barwright.guesser.moments import differences
from barwright.guesser.seen import SeenItem
from barwright.guesser.strategies import AT_SIGHT, Past, option_scores
from barwright.guesser.winnings import ITEM, chance

NAMES: tuple[tuple[str, str], ...] = tuple(("wins", name) for _, *names in AT_SIGHT for name in names)
# What a named strategy wins weighs so many times what a learner could learn, of which there are many more numbers.
NAMED = 3
_NO_PAST = Past()
_SUMS = ("wins", "at the end", "wins", "at the end", "above", "beside")
# Each habit with the names of its sums, in the order of `_of_scores`.
_HABITS = tuple(
    (
        habit,
        tuple(zip(_SUMS, (highest, highest, lowest, lowest, highest, highest), strict=True)),
    )
    for habit, highest, lowest in AT_SIGHT
)

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
        for habit, names in _HABITS:
            of_choices = habit(item, _NO_PAST)
            if of_choices.count(of_choices[0]) == len(of_choices):
                continue  # a toss-up among all adds nothing
            scores = tuple(option_scores(item, of_choices))
            if scores.count(scores[0]) == len(scores):
                continue
            for name, parts in zip(names, _of_scores(scores, right, base), strict=True):
                if parts:
                    shares[name] = parts
    return shares


@lru_cache(maxsize=1 << 12)
def _of_scores(scores: tuple[int, ...], right: int, base: int) -> tuple[int, ...]:
    """What the highest and the lowest score win, each with whether the right answer is at that end; then how many
    scores are less than its, and how many the same. Each minus the mean of all.

    Remembered, since scores are small numbers: it saves a third of `shares_of`.
    """
    count, own = len(scores), scores[right]
    found: list[int] = []
    for end in (max(scores), min(scores)):
        ends = scores.count(end)
        found.append(NAMED * ((ITEM // ends if own == end else 0) - base))
        found.append((ITEM if own == end else 0) - ITEM * ends // count)
    same = [scores.count(each) for each in scores]
    less = [sum([other < each for other in scores]) for each in scores]
    found.append((ITEM * less[right] - ITEM * sum(less) // count) // count)
    found.append((ITEM * same[right] - ITEM * sum(same) // count) // count)
    return tuple(found)
