"""One desk for the tests that do not change how it runs."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from desk.opened_desk import Desk, opened_desk

SHARED = Path(__file__).parents[2] / "shared"
PLAN = "unit-1-half-notes-and-rests"


def demo_folder(place: Path) -> Path:
    """A folder with a demo plan and two banks."""
    folder = place / "quizzes"
    folder.mkdir()
    shutil.copy(SHARED / "blueprints" / f"{PLAN}.toml", folder)
    for bank in ("alder.jsonl", "birch.jsonl"):
        shutil.copy(SHARED / "banks" / bank, folder)
    return folder


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """The desk of a demo folder, which the tests of a module share: each with names of its own."""
    place = tmp_path_factory.mktemp("desk")
    with opened_desk(demo_folder(place), place / "state") as found:
        yield found


@pytest.fixture
def own_desk(tmp_path: Path) -> Iterator[Desk]:
    """A desk that a test may end, or whose folder it may spoil."""
    with opened_desk(demo_folder(tmp_path), tmp_path / "state") as found:
        yield found
