"""One set of wrong choices by itself, as the cases that are worked by hand look at it; forms take all sets together."""

from collections.abc import Sequence
from random import Random

from barwright.forms.choosing import NO_QUOTA, Candidate, Clash, Quota, Strictness, Weighed, cheapest, fitting_sets
from barwright.guesser import Ledger, Moments
from barwright.guesser.winnings import NOTHING, Winnings
from barwright.items.item import Answer


def weighed_set(
    ask: str,
    keys: Sequence[Answer],
    candidates: Sequence[Candidate],
    count: int,
    *,
    ledger: Ledger,
    moments: Moments,
    rng: Random,
    before: Winnings = NOTHING,
    clash: Clash = lambda _one, _other: False,
    quota: Quota = NO_QUOTA,
    strict: bool = False,
) -> Weighed | None:
    """The best of the sets of `count` wrong choices that may stand together; None where there is none."""
    level = Strictness.USUAL if strict else Strictness.ANY
    sets = fitting_sets(ask, keys, candidates, count, rng=rng, clash=clash, quota=quota, strictness=level)
    return cheapest(ask, keys, sets, ledger=ledger, moments=moments, before=before, quota=quota)
