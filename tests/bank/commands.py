"""Running `barwright bank ...` in a folder that holds the shared banks."""

import shutil
from functools import partial
from pathlib import Path

import pytest

from bank.shared_banks import SHARED
from command_line import Command


@pytest.fixture
def bank_command(monkeypatch: pytest.MonkeyPatch, typed: Command, tmp_path: Path) -> Command:
    """Runs `barwright bank ARGUMENTS` in a folder with copies of the shared banks; exit code, output, error output."""
    for path in (SHARED / "banks").glob("*.jsonl"):
        shutil.copy(path, tmp_path)
    monkeypatch.chdir(tmp_path)
    return partial(typed, "bank")
