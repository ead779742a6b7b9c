"""Where right answers stand in a part: each position as often as any other, and as hard to foresee as that allows.

Who counts where right answers stood knows more and more: if each position of a part is to be right equally often, the
last is certain. How much that wins at least can be worked out from the end: with few items left every way to go on is
known, and a position is drawn evenly among the few that leave least to be foreseen later (a minimax; von Neumann 1928,
Zur Theorie der Gesellschaftsspiele, Math. Annalen 100:295-320). Nobody who remembers positions, in whatever manner,
wins more than that (`tests/validity/least_foreseen.py` says how much), and no manner of drawing leaves less.
"""

from collections.abc import Sequence
from functools import lru_cache
from random import Random
from typing import NamedTuple

# No more right answers in a row stand in one position.
LONGEST_RUN = 2
# So many items at the end of a part are worked out. Before them no position may be right so much oftener than another.
LAST, APART = 10, 3
# What is foreseen is counted in such parts of an item, which is divisible by how many positions there can be.
PARTS = 720_720_000
# What it costs that a position is right oftener than within one of others, or three times in a row: more than all.
UNEVEN, RUN = 1_000 * PARTS, 100_000 * PARTS


class _Column(NamedTuple):
    """A position: in which of the items to come it can be right (bits, the next first), whether it is to be even with
    others, how often it was right so far, and for how many items in a row until now."""

    able: int
    even: bool
    right: int
    run: int


_Table = tuple[_Column, ...]


def drawn_places(
    able: Sequence[frozenset[int] | None], rng: Random, *, before: Sequence[int | None] = ()
) -> list[int | None]:
    """For each item the position of its right answer, one of those that it is able to have; None for an item without.

    `before`: the positions of the items in front. Positions that are open to an item with a choice of them are right
    within one as often as each other, and none three times in a row, as far as can be.
    """
    free = frozenset().union(*(each for each in able if each is not None and len(each) > 1))
    columns = sorted(frozenset().union(*(each or () for each in able), (p for p in before if p is not None)))
    table = [
        _Column(sum(1 << n for n, each in enumerate(able) if each and p in each), p in free, 0, _run_of(p, before))
        for p in columns
    ]
    drawn: list[int | None] = []
    for number, each in enumerate(able):
        left = len(able) - number
        if each is None:
            drawn.append(None)
            table = [c._replace(able=c.able >> 1, run=0) for c in table]
            continue
        best = _worked_out(tuple(table), left) if left <= LAST else _loosely(table)
        column = best[rng.randrange(len(best))]
        drawn.append(columns[column])
        table = list(_after(tuple(table), column))
    return drawn


def _run_of(place: int, before: Sequence[int | None]) -> int:
    run = 0
    for each in reversed(before):
        if each != place:
            break
        run += 1
    return run


def _loosely(table: Sequence[_Column]) -> list[int]:
    """The columns that may come next long before the end: not a third time in a row, not far ahead of others."""
    able = [n for n, c in enumerate(table) if c.able & 1]
    calm = [n for n in able if table[n].run < LONGEST_RUN] or able
    least = min((c.right for c in table if c.even), default=0)
    return [n for n in calm if table[n].right < least + APART] or calm


def _after(table: _Table, column: int) -> _Table:
    return tuple(
        [
            _Column(c.able >> 1, c.even, c.right + (n == column), c.run + 1 if n == column else 0)
            for n, c in enumerate(table)
        ]
    )


def _worked_out(table: _Table, left: int) -> tuple[int, ...]:
    """The columns of which one is drawn next, so that least is foreseen of all items left."""
    order = sorted(range(len(table)), key=lambda n: table[n])
    _, best = _foreseen(_leveled([table[n] for n in order]), left)
    return tuple(order[n] for n in best)


def _leveled(table: Sequence[_Column]) -> _Table:
    """The table in one order, without what all positions were right for: other tables then come to the same."""
    least = min((c.right for c in table if c.even), default=0)
    return tuple([_Column(c.able, c.even, c.right - least if c.even else 0, c.run) for c in table])


@lru_cache(maxsize=1 << 16)
def _foreseen(table: _Table, left: int) -> tuple[int, tuple[int, ...]]:
    """What is foreseen of the items left at least, in parts, and of which columns the next is drawn for that.

    Whoever knows that one of so many is drawn evenly foresees one over so many.
    """
    if not left:
        right = [c.right for c in table if c.even]
        return UNEVEN * max(max(right, default=0) - min(right, default=0) - 1, 0), ()
    able = [n for n, c in enumerate(table) if c.able & 1]
    if not able:
        return _foreseen(_leveled(sorted(c._replace(able=c.able >> 1, run=0) for c in table)), left - 1)[0], ()
    later = sorted(
        (_foreseen(_leveled(sorted(_after(table, n))), left - 1)[0] + RUN * (table[n].run >= LONGEST_RUN), n)
        for n in able
    )
    ways = [(PARTS + sum(cost for cost, _ in later[:k])) // k for k in range(1, len(later) + 1)]
    fewest = ways.index(min(ways)) + 1
    return ways[fewest - 1], tuple(n for _, n in later[:fewest])
