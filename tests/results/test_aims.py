"""The aims of the diagnosis on the demo units, by a smaller seeded run than tests/benchmarks/bench_diagnosis.py prints.

Shares of so small a run vary by a few hundredths (CHANCE is about two standard errors of a share of 300): what meets an
aim in the large run may miss it here by that much.
"""

from collections.abc import Sequence

import pytest

from barwright.results.statistics import wilson
from results.trial import (
    UNITS,
    Case,
    Condition,
    against_the_count,
    calibration_error,
    false_findings,
    held_singly,
    precision,
    share,
    trial,
    unit_forms,
)
from whole import whole_or_part

CHANCE = 0.03


# In the suite one unit, and every fourth condition of the first.
EVERY = whole_or_part(1, 4)


@pytest.fixture(scope="module", params=UNITS[EVERY - 1 :: EVERY])
def cases(request: pytest.FixtureRequest) -> dict[float, list[Case]]:
    given = unit_forms(request.param)
    return {slips: trial(given, Condition(slips=slips), 12) for slips in (0.1, 0.2)}


def at_best(found: Sequence[bool]) -> float:
    """The share that so few cases still allow: the upper end of its 95 % interval by Wilson (1927)."""
    interval = wilson(sum(found), len(found))
    assert interval is not None
    return interval[1]


def test_one_misreading_is_found(cases: dict[float, list[Case]]) -> None:
    assert at_best(held_singly(cases[0.1], chances=3, told=3)) >= 0.9
    assert at_best(held_singly(cases[0.2], chances=3, told=3)) >= 0.83


@pytest.mark.parametrize("slips", [0.1, 0.2])
def test_findings_are_few_and_true(cases: dict[float, list[Case]], slips: float) -> None:
    found = cases[slips]
    assert sum(map(false_findings, found)) / len(found) <= 0.1 + CHANCE
    assert precision(found) >= 0.85 - CHANCE
    assert precision(found, 0.8) >= 0.95 - CHANCE
    assert share([bool(case.found) for case in found if not case.held]) <= 0.1 + CHANCE


@pytest.mark.parametrize("slips", [0.1, 0.2])
def test_probabilities_are_better_than_a_plain_count(cases: dict[float, list[Case]], slips: float) -> None:
    for least in (2, 3):
        _, by_count, by_probability = against_the_count(cases[slips], least)
        assert by_probability > by_count + 0.03


CONDITIONS = {
    "careful": Condition(slips=0.05),
    "careless": Condition(slips=0.3),
    "test-wise": Condition(unknown=0.3, testwise=True),
    "weak": Condition(unknown=0.5),
    "three-held": Condition(held=(3,)),
    "unsteady": Condition(steadiness=0.7),
}


@pytest.mark.parametrize("condition", list(CONDITIONS)[::EVERY])
def test_probabilities_hold_where_students_are_not_as_assumed(condition: str) -> None:
    """A twentieth is the aim, of 1,500 students; of 350 tenths are off by chance: five seeds had 0.07 to 0.11."""
    assert calibration_error(trial(unit_forms(UNITS[0]), CONDITIONS[condition], 14)) <= 0.05 + 2 * CHANCE
