"""Exact counting, listing and fair drawing of walks: rows of steps from a start to an end, never to a place twice.

A walk is drawn by its number among all walks, so each has exactly the same chance and none has to be listed.
"""

from bisect import bisect_right
from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass
from itertools import accumulate
from typing import Generic, TypeVar

Step = TypeVar("Step")
State = TypeVar("State", bound=Hashable)


@dataclass(frozen=True, slots=True, eq=False)
class Walks(Generic[Step]):
    """All walks from one place to the end, `count` of them; those by the k-th way on are numbered below `bounds[k]`."""

    count: int
    bounds: tuple[int, ...] = ()
    ways: tuple[tuple[Step, "Walks[Step]"], ...] = ()


def walks(start: State, ways: Callable[[State], Iterable[tuple[Step, State]] | None]) -> Walks[Step]:
    """All walks from `start`; `ways` gives the steps on from a state and where they lead, or None at the end.

    Ways that lead nowhere are left out; states that are met again are counted once.

    >>> walks(3, lambda left: [(n, left - n) for n in (1, 2) if n <= left] if left else None).count
    3
    """
    end: Walks[Step] = Walks(1)
    known: dict[State, Walks[Step]] = {}

    def beyond(state: State) -> Walks[Step]:
        if state not in known:
            on = ways(state)
            known[state] = end if on is None else _joined((step, beyond(to)) for step, to in on)
        return known[state]

    return beyond(start)


def _joined(ways: Iterable[tuple[Step, Walks[Step]]]) -> Walks[Step]:
    leading = tuple((step, rest) for step, rest in ways if rest.count)
    bounds = tuple(accumulate(rest.count for _, rest in leading))
    return Walks(bounds[-1] if bounds else 0, bounds, leading)


def walk(all_walks: Walks[Step], *, number: int) -> tuple[Step, ...]:
    """The walk of this number (from 0, below the count), in the order of `listed_walks`."""
    steps = []
    while all_walks.ways:
        index = bisect_right(all_walks.bounds, number)
        if index:
            number -= all_walks.bounds[index - 1]
        step, all_walks = all_walks.ways[index]
        steps.append(step)
    return tuple(steps)


def listed_walks(all_walks: Walks[Step]) -> Iterator[tuple[Step, ...]]:
    """Every walk once, made one by one as they are asked for."""
    if all_walks.count and not all_walks.ways:
        yield ()
    for step, rest in all_walks.ways:
        for following in listed_walks(rest):
            yield (step, *following)
