"""The renderer; where items cannot be shown, tests that need it are skipped and say so, but never with CI=true."""

import os
from functools import partial
from pathlib import Path

import pytest
from browser import Renderer, installed, lacking, rendered


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if lacking():
        terminalreporter.write_line(f"skipped showing items in a browser: {lacking()}")


@pytest.fixture(scope="session")
def modules() -> Path:
    if lacking() and os.environ.get("CI") == "true":
        pytest.fail(f"{lacking()}: install it, CI must show items in a browser")
    if lacking():
        pytest.skip(lacking())
    return installed()


@pytest.fixture
def renderer(modules: Path, tmp_path: Path) -> Renderer:
    return partial(rendered, modules, tmp_path / "job.json")
