"""What a student with two misreadings puts in a blank: lengths of symbols and fillers misread, room, last step."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from barwright.misreadings.answers import Candidates, aim_of, fillings_among
from barwright.misreadings.belief import (
    Lengths,
    Misreading,
    Reading,
    true_reading,
    true_room,
)
from barwright.misreadings.pairs import (
    Alone,
    Pair,
    acted,
    merged_lengths,
    pairs_of,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import format_symbol

ByLength = Mapping[int, tuple[Symbols, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class PairCandidates:
    """Groups of symbols that may fill a blank in one meter, by the length in ticks that each pair gives them.

    `seen`: the misreadings that a hint can show in each group.
    """

    misreadings: tuple[Misreading, ...]
    believed: tuple[tuple[Pair, ByLength], ...]
    seen: Mapping[Symbols, frozenset[Misreading]]


@lru_cache(maxsize=64)
def pair_candidates_of(
    misreadings: tuple[Misreading, ...], groups: tuple[Symbols, ...], meter: Meter, conventions: Conventions
) -> PairCandidates:
    """The groups sorted by what each pair makes of them; worked out once for all excerpts of a meter."""
    readings = [true_reading(Excerpt(meter, (group,)), conventions) for group in groups]
    right = [_Taken(each.lengths, sum(each.lengths[0])) for each in readings]
    taken = {m: [_of_filler(m, each) for each in readings] for m in misreadings}
    believed = []
    for pair in pairs_of(misreadings):
        by_length: dict[int, list[Symbols]] = {}
        for group, true, one, other in zip(groups, right, taken[pair.first], taken[pair.second], strict=True):
            total = _of_both(one, other, true) if one and other else (one or other or true).total
            if total > 0:
                by_length.setdefault(total, []).append(group)
        believed.append((pair, {length: tuple(each) for length, each in by_length.items()}))
    seen = {group: _seen_among(misreadings, group) for group in groups}
    return PairCandidates(misreadings, tuple(believed), seen)


def _seen_among(misreadings: Iterable[Misreading], symbols: Symbols) -> frozenset[Misreading]:
    """Those of the misreadings that a hint can show in these symbols."""
    tokens = frozenset(map(format_symbol, symbols))
    return frozenset(m for m in misreadings if m.is_seen_among(tokens))


class _Taken(NamedTuple):
    """What the symbols of a group are believed to last, in ticks, and all of them together."""

    lengths: Lengths
    total: int


def _of_filler(m: Misreading, right: Reading) -> _Taken | None:
    """What one error makes of a group to fill in; None if that is what is true."""
    reading = None if m.bears_on == "printed" else m.act(right)
    if reading is None or reading.lengths == right.lengths:
        return None
    return _Taken(reading.lengths, sum(reading.lengths[0]))


def _of_both(one: _Taken, other: _Taken, true: _Taken) -> int:
    """How long a group lasts, in ticks, for who misreads it in both ways; 0 where they contradict each other."""
    lengths = merged_lengths(one.lengths, other.lengths, true.lengths)
    return 0 if lengths is None else sum(lengths[0])


def pair_fillings(
    pairs: PairCandidates,
    single: Candidates,
    excerpt: Excerpt,
    conventions: Conventions,
    keys: Iterable[Symbols] = (),
) -> dict[Symbols, tuple[Pair, ...]]:
    """Every wrong group that some pairs put in the blank, where no misreading alone does.

    Pairs by which one of `keys` seems to fill the blank are left out: a student may be right by them. So are those of
    which one is about signs that stand neither in the excerpt nor in the group: no hint could show them.
    """
    right, right_keys = true_reading(excerpt, conventions), tuple(keys)
    alone = fillings_among(single, excerpt, conventions)
    room = true_room(excerpt)
    true = frozenset(single.true.get(room, ()))
    printed = Alone(right, {m: None if m.bears_on == "filler" else m.act(right) for m in pairs.misreadings})
    aims = {m: aim_of(reading) for m, reading in printed.taken.items() if reading is not None}
    shown = _seen_among(pairs.misreadings, excerpt.symbols)
    fillings: dict[Symbols, list[Pair]] = {}
    for pair, by_length in pairs.believed:
        one, other = aims.get(pair.first), aims.get(pair.second)
        aim = _aim_of_both(pair, printed) if one and other else one or other or (room, ())
        groups = single.alike.get(aim[1][0], ()) if aim[1] else by_length.get(aim[0], ())
        if groups and not any(key in groups for key in right_keys):
            for group in groups:
                seen = pairs.seen[group]
                if (pair.first in shown or pair.first in seen) and (pair.second in shown or pair.second in seen):
                    fillings.setdefault(group, []).append(pair)
    return {group: tuple(held) for group, held in fillings.items() if group not in true and group not in alone}


def _aim_of_both(pair: Pair, printed: Alone) -> tuple[int, Symbols]:
    """What a pair puts in the blank, both of which show in what is printed: what fills so many ticks, or the symbols.

    Nothing lasts 0, which is what comes back where they contradict each other.
    """
    reading = acted(pair, printed)
    return (0, ()) if reading is None else aim_of(reading)
