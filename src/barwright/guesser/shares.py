"""What one item adds to every sum that guessers could live by: strategies at sight, and numbers that learners weigh.

Over many items each sum is to be zero: then the strategies are at chance, and who fits weights to the numbers finds
nothing at the first step. What is remembered of items before is left out, since it depends on their order.
"""

from barwright.guesser.moments import differences
from barwright.guesser.seen import SeenItem
from barwright.guesser.strategies import AT_SIGHT, Past
from barwright.guesser.winnings import chance, won

NAMES: tuple[tuple[str, str], ...] = tuple(("wins", name) for _, *names in AT_SIGHT for name in names)
# What a named strategy wins weighs so many times what a learner could learn, of which there are many more numbers.
NAMED = 2
_NO_PAST = Past()

Shares = dict[tuple[str, object], int]
"""By what it is named: how much an item adds, in parts (`winnings.ITEM`); what adds nothing is left out."""


def shares_of(item: SeenItem) -> Shares:
    """What the item adds to each sum, strategies NAMED times.

    >>> from barwright.guesser.seen import seen_choice
    >>> item = SeenItem("finish-measure", (seen_choice("symbols", "h"), seen_choice("symbols", "rq")), frozenset({0}))
    >>> shares_of(item)["wins", "longest"]
    60
    """
    base = chance(item)
    wins = zip(NAMES, won(item, _NO_PAST, AT_SIGHT), strict=True)
    shares: Shares = {name: NAMED * (parts - base) for name, parts in wins if parts != base}
    shares.update((name, parts) for name, parts in differences(item).items() if parts)
    return shares
