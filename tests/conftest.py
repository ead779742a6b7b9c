"""What all tests share: where the published standards' checker lies, and golden files with one switch to renew them."""

import gc
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as `cli.run` does: with a test on every core threads only wait
settings.register_profile("any-machine", deadline=None)  # a busy machine is no fault of the code
settings.load_profile("any-machine")
pytest_plugins = [
    "command_line",
    "made_once",
    "bank.commands",
    "edits.made_quizzes",
    "results.quizzes",
    "accommodations.made_versions",
]

# What lasts long. Each process of a run begins with its share of these, so that none is left with one at the end.
LONG = {
    "desk",
    "e2e",
    "paper",
    "results",
    "schools",
    "tasks",
    "test_class_design.py",
    "test_commands.py",
    "test_recipes.py",
}

CHECKOUT = Path(__file__).parents[1]
STANDARDS = Path(os.environ.get("BARWRIGHT_STANDARDS") or CHECKOUT.parent / "shared" / "standards")
ABSENT = f"no standards checker at {STANDARDS}: set BARWRIGHT_STANDARDS to the folder that holds validate.py"

Golden = Callable[[Path, bytes], None]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="write golden files anew instead of comparing")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    processes = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))  # xdist begins by giving each an equal stretch
    short, long = [], []
    for item in items:
        (short if LONG.isdisjoint(item.nodeid.partition("::")[0].split("/")) else long).append(item)
    items[:] = [
        item
        for process in range(processes)
        for some in (long, short)
        for item in some[len(some) * process // processes : len(some) * (process + 1) // processes]
    ]


def pytest_collection_finish() -> None:
    """What stands by now stays: looking through it for garbage again and again took a twelfth of all time."""
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if not (STANDARDS / "validate.py").is_file():
        terminalreporter.write_line(f"skipped the checks against the standards: {ABSENT}")


@pytest.fixture(scope="session")
def standards() -> Path:
    """The folder with validate.py and the schemas; skips where it is absent."""
    if not (STANDARDS / "validate.py").is_file():
        pytest.skip(ABSENT)
    return STANDARDS


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Golden:
    """`golden(path, data)` compares data with the file, or writes the file when pytest runs with --update-golden."""

    def compare(path: Path, data: bytes) -> None:
        if request.config.getoption("--update-golden"):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        assert path.is_file(), f"{path} is missing: run pytest --update-golden and review the new file"
        assert data.decode() == path.read_bytes().decode(), f"{path} differs: review, then run pytest --update-golden"

    return compare
