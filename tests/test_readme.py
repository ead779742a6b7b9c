"""The README says what is there: every misreading, convention, ask and command, and the two commands at the top."""

import re
from pathlib import Path

from typer.main import get_command

from barwright.cli import app
from barwright.items.blueprint import Elements, Part, Quiz
from barwright.items.families import ASKS
from barwright.misreadings import MISREADINGS
from barwright.rhythm.conventions import convention_values

README = (Path(__file__).parents[1] / "README.md").read_text("utf-8")


def named(text: str) -> bool:
    return f"`{text}`" in README


def test_every_misreading_is_listed() -> None:
    assert [m for m in MISREADINGS if not named(m)] == []
    listed = re.findall(r"^\| `([a-z-]+)` \| [A-Z]", README, re.MULTILINE)
    assert [m for m in listed if m not in MISREADINGS] == []


def test_every_key_convention_and_ask_is_explained() -> None:
    keys = {*Elements.model_fields, *Quiz.model_fields, *Part.model_fields, *convention_values(), *ASKS}
    assert sorted(k for k in keys if not named(k)) == []


def list_of_commands() -> list[str]:
    command = get_command(app)
    return sorted(getattr(command, "commands", {}))


def test_every_command_is_explained() -> None:
    commands = list_of_commands()
    assert sorted(c for c in commands if f"`barwright {c}" not in README) == []


def test_two_commands_stand_before_the_first_heading() -> None:
    top = README.split("\n## ")[0]
    blocks = re.findall(r"```sh\n(.*?)\n```", top, re.DOTALL)
    assert len(blocks) == 2
    assert "barwright make shared/blueprints/" in blocks[0]
    assert blocks[1].endswith("-m pytest")
