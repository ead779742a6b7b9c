"""Figures of items and tests against published data, and against scipy, pingouin and girth."""

from math import log

import numpy as np
import pytest

from barwright.results.statistics import (
    alpha,
    alpha_interval,
    complete_rows,
    correlation,
    item_figures,
    kr21,
    quiz_figures,
    upper_lower,
    variance,
    wilson,
)

# Bock & Lieberman 1970, Psychometrika 35:179-197: 1000 examinees, how many had each pattern of five answers, from 00000
# to 11111 (item 1 leftmost), as the R packages ltm and mirt carry them.
PATTERNS = {
    "LSAT6": "3 6 2 11 1 1 3 4 1 8 0 16 0 3 2 15 10 29 14 81 3 28 15 80 16 56 21 173 11 61 28 298",
    "LSAT7": "12 19 1 7 3 19 3 17 10 5 3 7 7 23 8 28 7 39 11 34 14 51 15 90 6 25 7 35 18 136 32 308",
}
PUBLISHED = {
    "LSAT6": {
        "p": [0.924, 0.709, 0.553, 0.763, 0.870],
        "mean": 3.819,
        "deviation": 1.034524,
        "kr20": 0.294997,
        "kr21": 0.196441,
        "error": 0.868632,
        "point": [0.3620, 0.5668, 0.6184, 0.5344, 0.4354],
        "rest": [0.1128, 0.1532, 0.1728, 0.1444, 0.1216],
        "without": [0.2754, 0.2376, 0.2168, 0.2459, 0.2663],
        "d": [0.1966, 0.6315, 0.8109, 0.5370, 0.3203],
        "rasch": [-2.893, -1.070, -0.257, -1.398, -2.235],
    },
    "LSAT7": {
        "p": [0.828, 0.658, 0.772, 0.606, 0.843],
        "mean": 3.707,
        "deviation": 1.197978,
        "kr20": 0.453409,
        "kr21": 0.415044,
        "error": 0.885687,
        "point": [0.5300, 0.5997, 0.6112, 0.5920, 0.4612],
        "rest": [0.2457, 0.2467, 0.3132, 0.2228, 0.1748],
        "without": [0.3960, 0.3938, 0.3454, 0.4146, 0.4385],
        "d": [0.4330, 0.7198, 0.5816, 0.7421, 0.3754],
        "rasch": [-1.862, -0.789, -1.456, -0.520, -1.987],
    },
}
# An invented class of eleven, key BCADB, worked by hand.
ANSWERS = ["BCADB", "BCADB", "BCADC", "BCABB", "BCCDA", "BAADA", "BCCBB", "ACADA", "BBCBA", "CCCAA", "AACBB"]
CLASS = [[int(answer == key) for answer, key in zip(row, "BCADB", strict=True)] for row in ANSWERS]


def lsat(name: str) -> list[list[int]]:
    counts = map(int, PATTERNS[name].split())
    rows = [[int(bit) for bit in f"{pattern:05b}"] for pattern in range(32)]
    return [row for row, count in zip(rows, counts, strict=True) for _ in range(count)]


@pytest.mark.parametrize("name", PATTERNS)
def test_published_figures_of_whole_tests(name: str) -> None:
    found, published = quiz_figures(lsat(name)), PUBLISHED[name]
    assert (found.students, found.items, found.complete) == (1000, 5, 1000)
    assert found.mean == pytest.approx(published["mean"], abs=1e-9)
    assert found.deviation == pytest.approx(published["deviation"], abs=1e-6)
    assert found.alpha == pytest.approx(published["kr20"], abs=1e-6)
    assert found.kr21 == pytest.approx(published["kr21"], abs=1e-6)
    assert found.error == pytest.approx(published["error"], abs=1e-6)


@pytest.mark.parametrize("name", PATTERNS)
def test_published_figures_of_items(name: str) -> None:
    scores, published = lsat(name), PUBLISHED[name]
    found = [item_figures(scores, item) for item in range(5)]
    assert [each.difficulty for each in found] == pytest.approx(published["p"], abs=1e-9)
    assert [each.point_biserial for each in found] == pytest.approx(published["point"], abs=5e-5)
    assert [each.item_rest for each in found] == pytest.approx(published["rest"], abs=5e-5)
    assert [each.alpha_without for each in found] == pytest.approx(published["without"], abs=5e-5)
    assert [each.upper_lower for each in found] == pytest.approx(published["d"], abs=5e-5)


@pytest.mark.parametrize(("name", "interval"), [("LSAT6", (0.223, 0.362)), ("LSAT7", (0.398, 0.505))])
def test_alpha_and_its_interval_are_those_of_pingouin(name: str, interval: tuple[float, float]) -> None:
    import pandas as pd  # both take long to load
    import pingouin

    scores = lsat(name)
    theirs, bounds = pingouin.cronbach_alpha(data=pd.DataFrame(scores))
    ours = alpha(scores)
    assert ours == pytest.approx(theirs, abs=1e-9)
    assert alpha_interval(ours, 1000, 5) == pytest.approx(tuple(bounds), abs=6e-4)
    assert alpha_interval(ours, 1000, 5) == pytest.approx(interval, abs=6e-4)


@pytest.mark.parametrize("name", PATTERNS)
def test_correlations_are_those_of_scipy(name: str) -> None:
    from scipy import stats  # takes long to load

    scores = np.array(lsat(name))
    for item in range(5):
        found = item_figures(scores.tolist(), item)
        totals = scores.sum(axis=1)
        assert found.point_biserial == pytest.approx(stats.pointbiserialr(scores[:, item], totals).statistic, abs=1e-9)
        assert found.item_rest == pytest.approx(stats.pearsonr(scores[:, item], totals - scores[:, item]).statistic)


def test_wilson_is_that_of_scipy() -> None:
    from scipy import stats  # takes long to load

    for right, asked in ((15, 25), (20, 25), (0, 7), (7, 7), (1, 1)):
        theirs = stats.binomtest(right, asked).proportion_ci(method="wilson")
        assert wilson(right, asked) == pytest.approx((theirs.low, theirs.high), abs=1e-12)
    assert wilson(0, 0) is None


@pytest.mark.parametrize("name", PATTERNS)
def test_the_published_rasch_difficulties_rise_as_ours_fall(name: str) -> None:
    """Girth fits the one-parameter model; the start values ln(q/p) and the shares right put the items in one order."""
    from girth import rasch_mml  # takes long to load

    scores = np.array(lsat(name))
    theirs = rasch_mml(scores.T)["Difficulty"]
    assert list(theirs) == pytest.approx(PUBLISHED[name]["rasch"], abs=5e-3)
    ours = [item_figures(scores.tolist(), item).difficulty for item in range(5)]
    assert list(np.argsort(theirs)) == list(np.argsort([log((1 - p) / p) for p in ours if p]))


def test_the_invented_class() -> None:
    whole = quiz_figures(CLASS)
    found = [item_figures(CLASS, item) for item in range(5)]
    assert (whole.mean, whole.kr21) == pytest.approx((3.0, 0.5))
    assert (whole.alpha, whole.deviation, whole.error) == pytest.approx((0.537190, 1.414214, 0.962091), abs=1e-6)
    assert [each.difficulty for each in found] == pytest.approx([0.7273, 0.7273, 0.5455, 0.5455, 0.4545], abs=5e-5)
    assert [each.point_biserial for each in found] == pytest.approx([0.5774, 0.5774, 0.7746, 0.6455, 0.3873], abs=5e-5)
    assert [each.item_rest for each in found] == pytest.approx([0.3060, 0.3060, 0.5555, 0.3586, 0.0382], abs=5e-5)
    assert [each.alpha_without for each in found] == pytest.approx([0.4794, 0.4794, 0.3048, 0.4444, 0.6343], abs=5e-5)
    assert [each.upper_lower for each in found] == pytest.approx([0.6667, 0.6667, 1, 0.8333, 0.5], abs=5e-5)


def test_d_does_not_depend_on_the_order_of_students() -> None:
    totals = [float(sum(row)) for row in CLASS]
    own = [row[3] for row in CLASS]
    assert upper_lower(own[::-1], totals[::-1]) == pytest.approx(upper_lower(own, totals))


def test_what_is_not_defined_stays_undefined() -> None:
    same = [[1, 1], [1, 0], [1, 1]]
    assert item_figures(same, 0).item_rest is None
    assert item_figures(same, 0).point_biserial is None
    assert item_figures(same, 0).difficulty == 1
    assert alpha([[1, 1], [1, 1]]) is None
    assert alpha([[1], [0]]) is None
    assert kr21([[1, 1], [1, 1]]) is None
    assert quiz_figures([]).alpha is None
    assert quiz_figures([]).mean is None
    assert correlation([1], [1]) is None
    assert upper_lower([1], [1.0]) is None
    none_had = item_figures([[None, 1], [None, 0]], 0)
    assert (none_had.asked, none_had.difficulty, none_had.low, none_had.item_rest) == (0, None, None, None)


def test_who_did_not_have_an_item_does_not_count_for_it() -> None:
    scores = [[1, None], [0, 1], [1, 0], [0, 0]]
    assert item_figures(scores, 1).asked == 3
    assert item_figures(scores, 1).difficulty == pytest.approx(1 / 3)
    assert complete_rows(scores) == [[0, 1], [1, 0], [0, 0]]
    assert quiz_figures(scores).complete == 3


def test_alpha_mixes_no_conventions() -> None:
    """With p q for the items and N - 1 for the totals the class would have .602."""
    items = sum(variance([row[n] for row in CLASS]) for n in range(5))
    mixed = 5 / 4 * (1 - items / (variance([sum(row) for row in CLASS]) * 11 / 10))
    assert mixed == pytest.approx(0.601991, abs=1e-6)
    assert alpha(CLASS) == pytest.approx(0.537190, abs=1e-6)


def lengthened(reliability: float, times: float) -> float:
    """Reliability of a test so many times as long (Spearman 1910, Brown 1910)."""
    return times * reliability / (1 + (times - 1) * reliability)


def test_lengthening_to_a_wanted_reliability() -> None:
    assert lengthened(0.295, 5.576) == pytest.approx(0.70, abs=5e-4)
