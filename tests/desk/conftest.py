"""One desk for the tests that do not change how it runs."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from desk.opened_desk import Desk, opened_desk
from edits.made_quizzes import BLUEPRINT
from made_once import Once

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


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory, made_once: Once) -> Path:
    """A folder with the quiz, its plan and a bank, which no test changes."""
    folder = tmp_path_factory.mktemp("made")
    made_once(folder, BLUEPRINT, standards=("cc13",))
    shutil.copy(SHARED / "banks" / "birch.jsonl", folder)
    return folder


@pytest.fixture(scope="module")
def shared_desk(made: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """One desk, whose folder each test finds as it was made."""
    place = tmp_path_factory.mktemp("questions")
    shutil.copytree(made, place / "quizzes")
    with opened_desk(place / "quizzes", place / "state") as found:
        yield found


@pytest.fixture
def questions(shared_desk: Desk, made: Path) -> Desk:
    """The desk of the quiz as it was made."""
    for path in shared_desk.folder.iterdir():
        (shutil.rmtree if path.is_dir() else Path.unlink)(path)
    shutil.copytree(made, shared_desk.folder, dirs_exist_ok=True)
    return shared_desk
