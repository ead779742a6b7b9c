"""Wrong choices without a giveaway: of all sets that errors lead to, the one that keeps guessers at chance.

Each set is weighed by what every named strategy would have won of the form by then (see `guesser`): far above chance
and far below it are giveaways alike, so the squares of the distances are summed. Sets of one error, another, and both
held at once (a square with the key) are tried first, for they have no middle; then others, drawn.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from functools import lru_cache
from itertools import combinations
from math import comb
from random import Random

from barwright.forms.seeing import BY_LENGTH, seen_answer, seen_item
from barwright.guesser import Ledger, Moments, SeenItem, Winnings
from barwright.guesser.practised import standing_out
from barwright.guesser.strategies import OF_PLACE, STRATEGIES
from barwright.guesser.winnings import NOTHING
from barwright.items.item import Answer
from barwright.misreadings import JOINT

# Sets that are drawn for one question, and those of them that named strategies are tried on: more lower the figure
# little, and cost as much each. Where squares come before all others, so many times as many of them are looked at.
TRIED = 24
FINELY = 6
SQUARES = 8
SQUARES_SEEN = 4
# A pair of errors weighs as much as the square of so many parts (`winnings.ITEM`), for single ones tell more.
PAIR = 15 * 15
# What named strategies win weighs so many times what learners could learn, of which there are many more numbers.
NAMED = 4
# That the right answer stands out to a practised guesser by so much, squared, weighs so many times.
STANDS_OUT = 30
# A choice that cannot be right, since it shares its length with another, weighs as much as the square of so many parts.
IDLE = 60 * 60
# A wrong choice that a quota lacks weighs as much as so many of these.
SHORT = 100
# One that is out at sight, since it is right nowhere in the class, as much as so many that a quota lacks.
OUT = 4
# Candidates that are held against others in looking for a set where none was drawn: more than an item needs by far.
MOST_STEPS = 4_000
_WATCHED = tuple(number for number, name in enumerate(STRATEGIES) if name not in OF_PLACE)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A wrong answer with all ways to come to it: ids of misreadings, of two held at once joined (`pairs.JOINT`).

    `held`: the misreadings of the first way, which a pick is credited to. `bias`: what else weighs for it (above 0) or
    against it, as a cost. `seldom`: taken only where there are too few others.
    """

    answer: Answer
    ways: tuple[str, ...]
    bias: int = 0
    seldom: bool = False

    @property
    def held(self) -> frozenset[str]:
        """The misreadings of the first way."""
        return held_in(self.ways[0])


@lru_cache(maxsize=1 << 12)
def held_in(way: str) -> frozenset[str]:
    """The misreadings of a way to an answer: one, or two held at once.

    >>> sorted(held_in("rests-take-no-time+dots-passed-over"))
    ['dots-passed-over', 'rests-take-no-time']
    """
    return frozenset(way.split(JOINT))


@dataclass(frozen=True, slots=True)
class Weighed:
    """A set of wrong choices and what it costs; the less the better."""

    wrong: tuple[Candidate, ...]
    cost: int


Clash = Callable[[Answer, Answer], bool]


class Strictness(Enum):
    """Which wrong choices may stand together.

    USUAL: no two share a length where the right one cannot, nor a misreading that leads to both, and none is of those
    that are offered seldom. LENGTHS: no two share a length where the right one cannot. ANY: all that can be told apart.
    """

    USUAL = "usual"
    LENGTHS = "lengths"
    ANY = "any"


@dataclass(frozen=True, slots=True)
class Quota:
    """Answers of which some must be among the wrong choices, as far as they can, such as rows that look like counts.

    `right_somewhere`: those that are right for another question of the class; the others are struck out unread.
    `evenly`: all wrong choices look like the right one, or as many as do not, and squares come before all other sets:
    who sees three alike strikes out the fourth. Where a part is about named misreadings that would leave too little to
    choose from for forms to be alike.
    """

    answers: frozenset[Answer] = frozenset()
    least: int = 0
    right_somewhere: frozenset[Answer] | None = None
    evenly: bool = False

    def lack(self, wrong: Sequence[Candidate]) -> int:
        """How many are missing."""
        there = sum([c.answer in self.answers for c in wrong])
        if not self.evenly:
            return max(0, self.least - there) + self._never_right(wrong)
        even = not self.least or (there == self.least and 2 * (there + 1) == len(wrong) + 1)
        return (0 if even else len(wrong) - there) + OUT * self._never_right(wrong)

    def _never_right(self, wrong: Sequence[Candidate]) -> int:
        right = self.right_somewhere
        return 0 if right is None else sum([c.answer not in right for c in wrong])


NO_QUOTA = Quota()


def candidates_from(
    single: Mapping[Answer, Sequence[str]], double: Mapping[Answer, Sequence[str]] | None = None
) -> tuple[Candidate, ...]:
    """Wrong answers as candidates; one that a misreading alone leads to is credited to it, never to a pair.

    >>> one = candidates_from({Answer("symbols", "h"): ("dots-passed-over",)}, {Answer("symbols", "h"): ("a-b+c-d",)})
    >>> [c.ways for c in one]
    [('dots-passed-over',)]
    """
    candidates = {answer: Candidate(answer, tuple(ways)) for answer, ways in single.items()}
    for answer, ways in (double or {}).items():
        candidates.setdefault(answer, Candidate(answer, tuple(ways)))
    return tuple(candidates.values())


def fitting_sets(
    ask: str,
    keys: Sequence[Answer],
    candidates: Sequence[Candidate],
    count: int,
    *,
    rng: Random,
    clash: Clash = lambda _one, _other: False,
    quota: Quota = NO_QUOTA,
    strictness: Strictness = Strictness.ANY,
    tried: int = TRIED,
) -> Sequence[tuple[Candidate, ...]]:
    """Sets of `count` wrong choices that may stand together, at most about `tried` of them.

    `clash`: two answers that may not.
    """
    strict = strictness is Strictness.USUAL
    free = [c for c in candidates if not any(clash(c.answer, key) for key in keys) and not (strict and c.seldom)]
    by_length = strictness is not Strictness.ANY and ask in BY_LENGTH and len(keys) == 1
    if by_length and len({seen_answer(c.answer).size for c in free}) < count:
        return ()

    def apart(one: Candidate, other: Candidate) -> bool:
        if not told_apart(one, other, strict=strict) or clash(one.answer, other.answer):
            return False
        return not (by_length and seen_answer(one.answer).size == seen_answer(other.answer).size)

    return _sets(free, count, apart, quota, rng, tried)


def cheapest(
    ask: str,
    keys: Sequence[Answer],
    sets: Iterable[tuple[Candidate, ...]],
    *,
    ledger: Ledger,
    moments: Moments,
    before: Winnings = NOTHING,
    quota: Quota = NO_QUOTA,
    finely_tried: int = FINELY,
) -> Weighed | None:
    """The set by which guessers are nearest to chance; None of none.

    The ledger holds what guessers have won of the form so far, `before` what they won of all forms before, `moments`
    what learners could learn of all; none is changed. `finely_tried`: on how many of the best at the first look named
    strategies are tried.
    """
    seen = [(wrong, seen_item(ask, keys, [c.answer for c in wrong])) for wrong in sets]
    able = [(n, each) for n, each in enumerate(seen) if each[1].right is not None]
    rough = sorted((_rough(wrong, item, moments, quota), n) for n, (wrong, item) in able)
    best: Weighed | None = None
    for cost, number in rough[:finely_tried]:
        if best is not None and cost >= best.cost:
            break  # squares only add to it
        won = ledger.with_next(seen[number][1])
        weighed = Weighed(seen[number][0], cost + NAMED * (giveaway(won) + giveaway(before + won)))
        best = weighed if best is None or weighed.cost < best.cost else best
    return best


def _rough(wrong: Sequence[Candidate], item: SeenItem, moments: Moments, quota: Quota) -> int:
    """What a set costs but for named strategies."""
    idle = 0 if item.several else len(item.choices) - len(item.options)
    own = sum(c.bias + PAIR * (len(c.held) - 1) for c in wrong) + STANDS_OUT * standing_out(item) ** 2
    return moments.would_add(item) + own + IDLE * (idle + SHORT * quota.lack(wrong))


def giveaway(winnings: Winnings) -> int:
    """How far strategies stand from chance: the sum of the squares of the distances, in parts."""
    return sum([(winnings.won[n] - winnings.chance) ** 2 for n in _WATCHED])


Apart = Callable[[Candidate, Candidate], bool]


@dataclass(slots=True)
class _Field:
    """Candidates that sets are drawn from by their numbers; whether two may stand together is only asked once.

    `ranks`: of each whether the quota demands it, and 1 if it is right nowhere, else 0; `least`: as in the quota.
    """

    free: Sequence[Candidate]
    apart: Apart
    ranks: Sequence[tuple[bool, int]]
    least: int
    _known: dict[tuple[int, int], bool] = field(default_factory=dict)

    def are_apart(self, one: int, other: int) -> bool:
        """Whether two candidates may stand together."""
        both = (one, other) if one < other else (other, one)
        known = self._known.get(both)
        if known is None:
            known = self._known[both] = self.apart(self.free[one], self.free[other])
        return known

    def all_apart(self, numbers: Iterable[int]) -> bool:
        """Whether all of these may stand together."""
        return all(self.are_apart(*two) for two in combinations(numbers, 2))

    def of(self, numbers: Iterable[int]) -> tuple[Candidate, ...]:
        """The candidates of these numbers."""
        return tuple(self.free[number] for number in numbers)

    def in_order(self, left: Sequence[int]) -> list[int]:
        """These numbers, those in front by which the quota is met, then what is right somewhere."""
        ranks = self.ranks
        ordered = sorted(left, key=lambda n: ranks[n][1])
        front = [n for n in ordered if ranks[n][0]][: self.least]
        return [*front, *(n for n in ordered if n not in front)] if front else ordered


def _field(free: Sequence[Candidate], apart: Apart, quota: Quota) -> _Field:
    """The candidates with what the quota says of each."""
    right = quota.right_somewhere
    ranks = [(c.answer in quota.answers, int(right is not None and c.answer not in right)) for c in free]
    return _Field(free, apart, ranks, quota.least)


def _sets(
    free: Sequence[Candidate], count: int, apart: Apart, quota: Quota, rng: Random, tried: int = TRIED
) -> Sequence[tuple[Candidate, ...]]:
    """Sets whose members may all stand together: squares, then drawn ones; where none is drawn the first there is."""
    if len(free) < count:
        return []
    field_, numbers = _field(free, apart, quota), range(len(free))
    if comb(len(free), count) <= tried:
        return [field_.of(s) for s in combinations(numbers, count) if field_.all_apart(s)]
    most = SQUARES_SEEN * tried if quota.evenly else min(SQUARES, tried)
    squares = _squares(free, rng)[:most] if count == len("ABC") else []
    able = sorted(filter(field_.all_apart, squares), key=lambda square: quota.lack(field_.of(square)))
    sets: dict[frozenset[int], tuple[int, ...]] = {frozenset(s): s for s in able[:tried]}
    for number in range(tried):
        if len(sets) >= tried:
            break
        drawn = _drawn(field_, count, rng, wanted=bool(number % 2))
        if len(drawn) == count:
            sets.setdefault(frozenset(drawn), drawn)
    if not sets:
        first = _first(list(numbers), count, field_, [MOST_STEPS])
        return [] if first is None else [field_.of(first)]
    return list(map(field_.of, sets.values()))


def _drawn(field_: _Field, count: int, rng: Random, *, wanted: bool) -> tuple[int, ...]:
    """Candidates at random, each if it may stand beside those taken; those of the quota first, if `wanted` then those
    for which most weighs."""
    free = field_.free
    keys = [rng.getrandbits(32) for _ in free]  # a quarter of the time of `sample`
    left = sorted(range(len(free)), key=keys.__getitem__)
    if wanted:
        left.sort(key=lambda n: free[n].bias)
    taken: list[int] = []
    for each in field_.in_order(left):
        if all(field_.are_apart(each, other) for other in taken):
            taken.append(each)
            if len(taken) == count:
                break
    return tuple(taken)


def _first(left: list[int], count: int, field_: _Field, steps: list[int]) -> tuple[int, ...] | None:
    """The first set in the order of candidates; None where there is none, or it is not found in so many steps."""
    if not count:
        return ()
    for number, each in enumerate(left):
        steps[0] -= len(left) - number
        if steps[0] < 0 or len(left) - number < count:
            return None
        beside = [other for other in left[number + 1 :] if field_.are_apart(each, other)]
        others = _first(beside, count - 1, field_, steps)
        if others is not None:
            return (each, *others)
    return None


def _squares(free: Sequence[Candidate], rng: Random) -> list[tuple[int, int, int]]:
    """The numbers of A, B and A with B, those first for which most weighs: with the key the corners of a square."""
    single = {c.ways[0]: number for number, c in enumerate(free) if JOINT not in c.ways[0]}
    squares = [
        (single[held[0]], single[held[1]], number)
        for number, c in enumerate(free)
        for held in [c.ways[0].split(JOINT)]
        if len(held) == 2 and held[0] in single and held[1] in single
    ]
    rng.shuffle(squares)
    return sorted(squares, key=lambda square: sum(free[n].bias for n in square))


def told_apart(one: Candidate, other: Candidate, *, strict: bool = False) -> bool:
    """Whether a pick tells which error it was: not the same errors, nor two pairs with one error in common.

    A single error may stand beside a pair with it: the square tells all three apart. With `strict` nothing that leads
    to one leads to the other, too.
    """
    mine, yours = one.held, other.held
    if mine == yours or (len(mine) == len(yours) and mine & yours):
        return False
    return not (strict and set(one.ways).intersection(other.ways))
