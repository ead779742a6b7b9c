"""Wrong choices without a giveaway: of all sets that errors lead to, the one that keeps guessers at chance.

Each set is weighed by what every named strategy would have won of the form by then (see `guesser`): far above chance
and far below it are giveaways alike, so the squares of the distances are summed. Sets of one error, another, and both
held at once (a square with the key) are tried first, for they have no middle; then others, drawn.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, islice
from math import comb
from random import Random

from barwright.counting.rows import Row, parse_row
from barwright.forms.seeing import seen_item
from barwright.guesser import Ledger, Moments, Winnings
from barwright.guesser.strategies import OF_PLACE, STRATEGIES
from barwright.items.item import Answer
from barwright.misreadings.pairs import JOINT

# Sets that are weighed for one question: more lower the figure little and cost as much each.
TRIED = 40
SQUARES = 12
# A pair of errors weighs as much as the square of so many parts (`winnings.ITEM`), for single ones tell more.
PAIR = 15 * 15
# What named strategies win weighs so many times what learners could learn, of which there are many more numbers.
NAMED = 4
# A choice that cannot be right, since it shares its length with another, weighs as much as the square of so many parts.
IDLE = 60 * 60
_WATCHED = tuple(number for number, name in enumerate(STRATEGIES) if name not in OF_PLACE)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A wrong answer with all ways to come to it: ids of misreadings, of two held at once joined (`pairs.JOINT`).

    `held`: the misreadings of the first way, which a pick is credited to.
    """

    answer: Answer
    ways: tuple[str, ...]

    @property
    def held(self) -> frozenset[str]:
        """The misreadings of the first way."""
        return frozenset(self.ways[0].split(JOINT))


@dataclass(frozen=True, slots=True)
class Weighed:
    """A set of wrong choices and what it costs; the less the better."""

    wrong: tuple[Candidate, ...]
    cost: int


Able = Callable[[tuple[Candidate, ...]], bool]
Clash = Callable[[Answer, Answer], bool]


def candidates_from(
    single: Mapping[Answer, Sequence[str]], double: Mapping[Answer, Sequence[str]] | None = None
) -> tuple[Candidate, ...]:
    """Wrong answers as candidates; one that a misreading alone leads to is credited to it, never to a pair.

    >>> one = candidates_from({Answer("symbols", "h"): ("dots-passed-over",)}, {Answer("symbols", "h"): ("a-b+c-d",)})
    >>> [c.ways for c in one]
    [('dots-passed-over',)]
    """
    found = {answer: Candidate(answer, tuple(ways)) for answer, ways in single.items()}
    for answer, ways in (double or {}).items():
        found.setdefault(answer, Candidate(answer, tuple(ways)))
    return tuple(found.values())


def weighed_set(
    ask: str,
    keys: Sequence[Answer],
    candidates: Sequence[Candidate],
    count: int,
    *,
    ledger: Ledger,
    moments: Moments,
    rng: Random,
    clash: Clash = lambda _one, _other: False,
    able: Able = lambda _wrong: True,
) -> Weighed | None:
    """The best of the sets of `count` wrong choices that may stand together; None where there is none.

    `clash`: two answers that may not. `able`: what else a set must be, such as looking like counts. The ledger holds
    what guessers have won of the form so far, `moments` what learners could of all forms; neither is changed.
    """
    free = [c for c in candidates if not any(clash(c.answer, key) for key in keys)]
    best: Weighed | None = None
    for wrong in _sets(free, count, rng):
        if not _apart(wrong, clash) or not able(wrong):
            continue
        item = seen_item(ask, keys, (c.answer for c in wrong))
        if item.right is None:
            continue
        idle = 0 if item.several else len(item.choices) - len(item.options)
        cost = (
            NAMED * giveaway(ledger.with_next(item))
            + moments.would_add(item)
            + PAIR * sum(len(c.held) - 1 for c in wrong)
            + IDLE * idle
        )
        if best is None or cost < best.cost:
            best = Weighed(wrong, cost)
    return best


def giveaway(found: Winnings) -> int:
    """How far strategies stand from chance: the sum of the squares of the distances, in parts."""
    return sum([(found.won[n] - found.chance) ** 2 for n in _WATCHED])


def _sets(free: Sequence[Candidate], count: int, rng: Random) -> Sequence[tuple[Candidate, ...]]:
    if comb(len(free), count) <= TRIED:
        return list(combinations(free, count))
    found = {frozenset(s): s for s in islice(_squares(free, rng), SQUARES)} if count == len("ABC") else {}
    for _ in range(2 * TRIED):
        if len(found) >= TRIED:
            break
        drawn = tuple(rng.sample(free, count))
        found.setdefault(frozenset(drawn), drawn)
    return list(found.values())


def _squares(free: Sequence[Candidate], rng: Random) -> list[tuple[Candidate, ...]]:
    """A, B and A with B, in a random order: with the key they are the corners of a square."""
    single = {c.ways[0]: c for c in free if len(c.held) == 1}
    double = [c for c in free if len(c.held) == 2]
    found: list[tuple[Candidate, ...]] = [
        (single[one], single[other], both)
        for both in double
        for one, other in [both.ways[0].split(JOINT)]
        if one in single and other in single
    ]
    rng.shuffle(found)
    return found


def _apart(wrong: Sequence[Candidate], clash: Clash) -> bool:
    """Whether a pick tells which error it was: no two by the same errors, and none that cannot stand together.

    A single error may stand beside a pair with it: the square tells all three apart.
    """
    return all(
        one.held != other.held
        and not (len(one.held) == len(other.held) and one.held & other.held)
        and not clash(one.answer, other.answer)
        for one, other in combinations(wrong, 2)
    )


@dataclass(slots=True)
class Looks:
    """How many items of counts have wrong choices that look like counts: parentheses at the rests, each measure from 1.

    Two at least must in three items of four, and one in every item, so that knowing how counts look is not enough.
    """

    items: int = 0
    enough: int = 0

    def wanted(self) -> int:
        """How many of the next item's wrong choices must look like the key."""
        return 1 if 4 * self.enough >= 3 * (self.items + 1) else 2

    def add(self, key: Answer, wrong: Sequence[Answer]) -> None:
        """Takes the item as the next of the form."""
        self.items += 1
        self.enough += alike_rows(key, wrong) >= 2


def alike_rows(key: Answer, wrong: Sequence[Answer]) -> int:
    """How many wrong rows have parentheses exactly where the key has, and begin every measure with the same number.

    >>> alike_rows(Answer("row", "1 (2) 3"), [Answer("row", "1 (2) 3-4"), Answer("row", "1 2 3")])
    1
    """
    shape = _shape(parse_row(key.text))
    return sum(_shape(parse_row(answer.text)) == shape for answer in wrong)


_Shape = tuple[tuple[tuple[bool, ...], str], ...]


def _shape(row: Row) -> _Shape:
    """Of each measure which labels are of rests, and where it begins to count."""
    return tuple((tuple(label.startswith("(") for label in labels), _start(labels)) for labels in row)


def _start(labels: Sequence[str]) -> str:
    return (labels[0] if labels else "").strip("(-)").split("-")[0].rstrip(")")
