"""The demo units as quiz folders, made once for all tests of reading."""

from collections.abc import Callable
from pathlib import Path

import pytest

from barwright.tasks.diagnose.asked import AskedQuiz, asked_quiz
from made_once import Once
from results.simulated_classes import BLUEPRINTS

UNITS = (
    "unit-1-half-notes-and-rests",
    "unit-2-eighths-and-dotted-quarters",
    "unit-3-first-six-eight",
    "unit-4-drag-and-order",
)


def unit_in(folder: Path, unit: str, made_once: Once) -> AskedQuiz:
    """A demo unit as it was asked, in a folder of the caller's own."""
    return asked_quiz(made_once(folder, (BLUEPRINTS / f"{unit}.toml").read_text("utf-8"), unit, standards=("qti22",)))


@pytest.fixture(scope="session")
def quiz_of(tmp_path_factory: pytest.TempPathFactory, made_once: Once) -> Callable[[str], AskedQuiz]:
    """A demo unit by its name, made when it is first asked for."""
    made: dict[str, AskedQuiz] = {}

    def quiz(unit: str) -> AskedQuiz:
        if unit not in made:
            made[unit] = unit_in(tmp_path_factory.mktemp("out"), unit, made_once)
        return made[unit]

    return quiz


@pytest.fixture
def unit_1(quiz_of: Callable[[str], AskedQuiz]) -> AskedQuiz:
    return quiz_of(UNITS[0])
