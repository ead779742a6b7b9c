"""Which wrong answers make a fair item together, for the asks in which not any will do (`Ask.sets`).

Where everything of one length is right, a length that stands alone or twice would tell the key: so lengths are shared
in many ways. Where each choice is a statement or a measure, each is as often right as any other on offer.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations
from math import comb
from random import Random

from barwright.asks.ask import Mix, Offers, Question, Space
from barwright.items.item import Answer
from barwright.rhythm.measure import ticks_in
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_measures, parse_symbols

MOST_SETS = 40
# How choices share lengths where one or several may be right: however they do, each of the groups of one length is the
# right one equally often, so that neither a length of its own nor a shared one tells anything (a trial confirms it).
# With four choices two of right and two of wrong (2), one, two and one (6), two, one and one (3), and so on.
MIXES: tuple[tuple[Mix, int], ...] = (
    *(((1, 2), 1), ((2, 1), 1)),
    *(((2, 2), 2), ((1, 2, 1), 6), ((2, 1, 1), 3), ((3, 1), 2), ((1, 3), 2)),
    *(((1, 2, 2), 3), ((2, 2, 1), 6), ((1, 3, 1), 4), ((3, 1, 1), 2), ((2, 3), 2), ((3, 2), 2)),
)
# Sets that are drawn of each way to share lengths.
EACH_WAY = 24
TRIES = 2

Drawn = tuple[Answer, ...]


@lru_cache(maxsize=1 << 12)
def filling_length(text: str, meter: Meter) -> int:
    """Length of the symbols of an answer in ticks."""
    return ticks_in(parse_symbols(text), meter)


@lru_cache(maxsize=1 << 12)
def first_length(text: str, meter: Meter) -> int:
    """Length of the first measure of an answer in ticks."""
    return ticks_in(parse_measures(text)[0], meter)


@lru_cache(maxsize=16)
def ways_to_share(count: int) -> tuple[tuple[int, ...], ...]:
    """How so many choices can share lengths: the sizes of the groups of one length, largest first.

    >>> ways_to_share(3)
    ((3,), (2, 1), (1, 1, 1))
    """

    def parts(left: int, most: int) -> Iterator[tuple[int, ...]]:
        if not left:
            yield ()
        for first in range(min(left, most), 0, -1):
            for others in parts(left - first, first):
                yield (first, *others)

    return tuple(parts(count, count))


def sharing_sets(question: Question, offers: Offers, _space: Space, count: int, rng: Random) -> Iterator[Drawn]:
    """Fillings that share their lengths in every way that there is.

    Those shorter than the measure come first: a student sees at once that a longer one cannot fit. Two orders of the
    same symbols, and two rows of rests, are one filling twice.
    """
    meter = question.excerpt.meter
    groups: dict[int, list[Answer]] = {}
    for answer in offers:
        groups.setdefault(filling_length(answer.text, meter), []).append(answer)
    short = {length: group for length, group in groups.items() if length < meter.ticks}
    for able in (short, groups):
        sets = [drawn for way in ways_to_share(count) for drawn in _of_one_way(way, able, rng)]
        if sets:
            yield from sets
            return


def _of_one_way(way: Sequence[int], groups: dict[int, list[Answer]], rng: Random) -> list[Drawn]:
    sets: dict[frozenset[Answer], Drawn] = {}
    for _ in range(TRIES * EACH_WAY):
        drawn = _drawn_way(way, groups, rng)
        if drawn:
            sets.setdefault(frozenset(drawn), drawn)
        if len(sets) == EACH_WAY:
            break
    return list(sets.values())


def _drawn_way(way: Sequence[int], groups: dict[int, list[Answer]], rng: Random) -> Drawn:
    """One answer set whose lengths are shared so; empty where this draw has none."""
    left, answers = dict(groups), list[Answer]()
    for size in way:
        able = [length for length, group in left.items() if len(group) >= size]
        if not able:
            return ()
        for answer in _told_apart(left.pop(able[rng.randrange(len(able))]), size, rng):
            answers.append(answer)
    return tuple(answers) if len(answers) == sum(way) else ()


def _told_apart(group: list[Answer], size: int, rng: Random) -> list[Answer]:
    """So many of a group of equal length that look and sound different; fewer where there are no more."""
    answers: list[Answer] = []
    for answer in rng.sample(group, len(group)):
        if len(answers) < size and not any(same_filling(answer, other) for other in answers):
            answers.append(answer)
    return answers


def same_filling(one: Answer, other: Answer) -> bool:
    """Whether two fillings of one length are one filling twice: the same symbols in another order, or only rests."""
    return _filling(one.text) == _filling(other.text)


@lru_cache(maxsize=1 << 12)
def _filling(text: str) -> tuple[str, ...]:
    symbols = parse_symbols(text)
    return ("rests",) if all(s.silent for s in symbols) else tuple(sorted(text.split()))


def sets_of_each_length(question: Question, offers: Offers, _space: Space, count: int, rng: Random) -> Iterator[Drawn]:
    """Measures that all last differently, drawn length by length."""
    meter = question.excerpt.meter
    groups: dict[int, list[Answer]] = {}
    for answer in offers:
        groups.setdefault(first_length(answer.text, meter), []).append(answer)
    if len(groups) < count:
        return
    given: set[frozenset[Answer]] = set()
    for _ in range(MOST_SETS):
        lengths = rng.sample(sorted(groups), count)
        drawn = tuple(groups[length][rng.randrange(len(groups[length]))] for length in lengths)
        if frozenset(drawn) not in given:
            given.add(frozenset(drawn))
            yield drawn


def some_sets(answers: Sequence[Answer], count: int, rng: Random) -> list[Drawn]:
    """All sets of so many answers, or so many drawn ones of very many."""
    if comb(len(answers), count) <= MOST_SETS:
        return list(combinations(answers, count))
    sets = {frozenset(drawn): drawn for drawn in (tuple(rng.sample(answers, count)) for _ in range(MOST_SETS))}
    return list(sets.values())
