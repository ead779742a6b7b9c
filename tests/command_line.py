"""Commands as a teacher types them: run in this process, where the test stands."""

import sys
from collections.abc import Callable

import pytest

from barwright.cli import run

Command = Callable[..., tuple[int, str, str]]


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """Runs `barwright ARGUMENTS` in the folder where the test is; gives exit code, output and error output."""

    def call(*arguments: object) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["barwright", *map(str, arguments)])
        monkeypatch.setattr(sys.modules["__main__"], "__package__", None)  # else help would name `python -m pytest`
        with pytest.raises(SystemExit) as ended:
            run()
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    return call
