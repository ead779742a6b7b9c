"""Running `barwright bank ...` in a folder that holds the shared banks."""

import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from bank.shared_banks import SHARED
from barwright.cli import run

Command = Callable[..., tuple[int, str, str]]


@pytest.fixture
def bank_command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Command:
    """Runs `barwright bank ARGUMENTS` in a folder with copies of the shared banks; exit code, output, error output."""
    for path in (SHARED / "banks").glob("*.jsonl"):
        shutil.copy(path, tmp_path)
    monkeypatch.chdir(tmp_path)

    def call(*arguments: object) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["barwright", "bank", *map(str, arguments)])
        with pytest.raises(SystemExit) as ended:
            run()
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    return call
