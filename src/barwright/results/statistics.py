"""Statistics of items and tests, each with its formula, its convention and its source.

A score is 1, 0 or None (the student did not have the item, or did not answer and `omit` is `exclude`). All variances
are those of the population (N, not N - 1), so that KR-20 and alpha agree; mixing the two is a common mistake. What is
not defined (a correlation where all are right) is None, never 0. The published figures that the tests reproduce: LSAT
sections 6 and 7 (Bock & Lieberman 1970, Psychometrika 35:179-197).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor, sqrt

Score = int | None
Scores = Sequence[Sequence[Score]]
"""A row a student, a column an item."""

NORMAL_95 = 1.959963984540054
UPPER_SHARE = 0.27
"""Share of students in the upper and in the lower group (Kelley 1939, Journal of Educational Psychology 30:17-24)."""


@dataclass(frozen=True, slots=True)
class ItemFigures:
    """One item: how many had it and were right, its difficulty with the Wilson interval, and how it goes with the rest.

    `item_rest`: correlation with the score on the other items (Henrysson 1963). `point_biserial`: with the whole score.
    `upper_lower`: D = share right in the upper minus in the lower group. `alpha_without`: alpha of the other items.
    """

    asked: int
    right: int
    difficulty: float | None
    low: float | None
    high: float | None
    point_biserial: float | None
    item_rest: float | None
    upper_lower: float | None
    alpha_without: float | None


@dataclass(frozen=True, slots=True)
class QuizFigures:
    """A whole test: students and items, mean and standard deviation (population) of the scores, reliability, error.

    `alpha` is KR-20 for scores of 0 and 1; `low` and `high` its 95 % interval (Feldt 1965, Psychometrika 30:357-370).
    `complete`: the students who had every item, on whom alpha rests.
    """

    students: int
    items: int
    complete: int
    mean: float | None
    deviation: float | None
    alpha: float | None
    low: float | None
    high: float | None
    kr21: float | None
    error: float | None


def wilson(right: int, asked: int, z: float = NORMAL_95) -> tuple[float, float] | None:
    """The 95 % interval of a share (Wilson 1927, JASA 22:209-212); None of nobody.

    >>> [round(each, 3) for each in wilson(15, 25)]
    [0.407, 0.766]
    """
    return interval_of_share(right / asked, asked, z) if asked else None


def interval_of_share(share: float, number: int, z: float = NORMAL_95) -> tuple[float, float]:
    """The 95 % interval of a share among so many, as `wilson` gives it."""
    square = z * z
    middle = share + square / (2 * number)
    half = z * sqrt(share * (1 - share) / number + square / (4 * number * number))
    return (middle - half) / (1 + square / number), (middle + half) / (1 + square / number)


def variance(values: Sequence[float]) -> float:
    """The population variance; 0 of nothing."""
    if not values:
        return 0.0
    mean = sum(values) / len(values)
    return sum((value - mean) ** 2 for value in values) / len(values)


def correlation(one: Sequence[float], other: Sequence[float]) -> float | None:
    """Pearson's correlation; None where one of the two does not vary.

    >>> correlation([0, 1, 1], [1, 2, 2]), correlation([1, 1], [0, 1])
    (1.0, None)
    """
    spread = variance(one) * variance(other)
    if len(one) < 2 or spread <= 1e-15:
        return None
    mean_one, mean_other = sum(one) / len(one), sum(other) / len(other)
    together = sum((a - mean_one) * (b - mean_other) for a, b in zip(one, other, strict=True)) / len(one)
    return round(together / sqrt(spread), 12)


def group_size(students: int) -> int:
    """How many students stand in the upper group, and in the lower: 27 %, rounded, half up; at most half of them.

    >>> [group_size(n) for n in (11, 20, 24, 25, 28, 30, 100)]
    [3, 5, 6, 7, 8, 8, 27]
    """
    return min(floor(UPPER_SHARE * students + 0.5), students // 2)


def upper_lower(scores: Sequence[int], totals: Sequence[float], size: int | None = None) -> float | None:
    """D, the share right in the upper group minus that in the lower; None where there is no group.

    Students who tie at the cut count in part: each the share of the tied that still fits, so that D does not depend on
    the order of the list.

    >>> upper_lower([1, 1, 0, 0], [3, 2, 1, 0], 1)
    1.0
    """
    size = group_size(len(totals)) if size is None else size
    if not size:
        return None
    return _share_right(scores, totals, size, best=True) - _share_right(scores, totals, size, best=False)


def _share_right(scores: Sequence[int], totals: Sequence[float], size: int, *, best: bool) -> float:
    cut = sorted(totals, reverse=best)[size - 1]
    inside = [score for score, t in zip(scores, totals, strict=True) if (t > cut if best else t < cut)]
    tied = [score for score, t in zip(scores, totals, strict=True) if t == cut]
    return (sum(inside) + sum(tied) / len(tied) * (size - len(inside))) / size


def alpha(rows: Sequence[Sequence[float]]) -> float | None:
    """Cronbach's alpha (1951, Psychometrika 16:297-334) of complete rows; for scores of 0 and 1 it is KR-20.

    None for fewer than two items or students, or where all have the same score.
    """
    items = len(rows[0]) if rows else 0
    whole = variance([sum(row) for row in rows])
    if items < 2 or len(rows) < 2 or whole <= 1e-15:
        return None
    parts = sum(variance([row[item] for row in rows]) for item in range(items))
    return items / (items - 1) * (1 - parts / whole)


def alpha_interval(value: float, students: int, items: int, level: float = 0.95) -> tuple[float, float]:
    """The interval of alpha by the F distribution (Feldt 1965).

    >>> [round(each, 3) for each in alpha_interval(0.70, 25, 10)]
    [0.488, 0.848]
    """
    from scipy.special import fdtri  # takes long to load

    free, rest = students - 1, (students - 1) * (items - 1)
    outside = (1 - level) / 2
    return 1 - (1 - value) * float(fdtri(free, rest, 1 - outside)), 1 - (1 - value) * float(fdtri(free, rest, outside))


def kr21(rows: Sequence[Sequence[float]]) -> float | None:
    """KR-21 (Kuder & Richardson 1937), as if all items were equally hard; never above KR-20. None as `alpha`."""
    items = len(rows[0]) if rows else 0
    totals = [sum(row) for row in rows]
    spread = variance(totals)
    if items < 2 or len(rows) < 2 or spread <= 1e-15:
        return None
    mean = sum(totals) / len(totals)
    return items / (items - 1) * (1 - mean * (items - mean) / (items * spread))


def quiz_figures(scores: Scores) -> QuizFigures:
    """The figures of a whole test. Mean and deviation are of all students; alpha of those who had every item."""
    items = len(scores[0]) if scores else 0
    rows = complete_rows(scores)
    totals = [float(sum(each for each in row if each is not None)) for row in scores]
    value = alpha(rows)
    low, high = alpha_interval(value, len(rows), items) if value is not None else (None, None)
    deviation = sqrt(variance(totals)) if totals else None
    error = None
    if value is not None:
        error = sqrt(variance([sum(row) for row in rows])) * sqrt(max(0.0, 1 - value))
    mean = sum(totals) / len(totals) if totals else None
    return QuizFigures(len(scores), items, len(rows), mean, deviation, value, low, high, kr21(rows), error)


def complete_rows(scores: Scores) -> list[list[int]]:
    """The rows of students who had every item."""
    return [[each for each in row if each is not None] for row in scores if None not in row]


def item_figures(scores: Scores, item: int) -> ItemFigures:
    """The figures of one item (a column, from 0), of the students who had it."""
    rows = [row for row in scores if row[item] is not None]
    own = [int(row[item] or 0) for row in rows]
    totals = [float(sum(each for each in row if each is not None)) for row in rows]
    rest = [total - score for total, score in zip(totals, own, strict=True)]
    right = sum(own)
    bounds = wilson(right, len(own))
    low, high = bounds if bounds is not None else (None, None)
    others = [[each for n, each in enumerate(row) if n != item] for row in complete_rows(scores)]
    return ItemFigures(
        asked=len(own),
        right=right,
        difficulty=right / len(own) if own else None,
        low=low,
        high=high,
        point_biserial=correlation(own, totals),
        item_rest=correlation(own, rest),
        upper_lower=upper_lower(own, totals),
        alpha_without=alpha(others),
    )


def chance_score(chances: Iterable[float]) -> float:
    """How many items a student gets right on average who only guesses; one chance an item, 1/k of k choices.

    >>> chance_score([0.25, 0.25, 0.5, 0.0])
    1.0
    """
    return sum(chances)
