"""The demo units as quiz folders, made once for all tests of reading."""

from collections.abc import Callable

import pytest

from barwright.tasks.diagnose.asked import AskedQuiz
from results.simulated_classes import made_quiz

UNITS = (
    "unit-1-half-notes-and-rests",
    "unit-2-eighths-and-dotted-quarters",
    "unit-3-first-six-eight",
    "unit-4-drag-and-order",
)


@pytest.fixture(scope="session")
def quiz_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], AskedQuiz]:
    """A demo unit by its name, made when it is first asked for."""
    made: dict[str, AskedQuiz] = {}

    def quiz(unit: str) -> AskedQuiz:
        if unit not in made:
            made[unit] = made_quiz(f"{unit}.toml", tmp_path_factory.mktemp("out"))
        return made[unit]

    return quiz


@pytest.fixture
def unit_1(quiz_of: Callable[[str], AskedQuiz]) -> AskedQuiz:
    return quiz_of(UNITS[0])
