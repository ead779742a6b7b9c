"""The README and the starter blueprint say what is there: every misreading, convention, ask, command and option."""

import re
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command

from barwright.bank.where import KEYS
from barwright.blueprint.parsing import examined
from barwright.cli import app
from barwright.engrave.font import BUNDLED
from barwright.qti import WRITERS
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.tasks.capacity import capacity_faults
from barwright.tasks.counts import counts
from barwright.templates_folder import templates_folder
from readme_tables import BLOCK, filled, tables

STARTER = (templates_folder() / "start" / "blueprint.toml").read_text("utf-8").splitlines()
SETTING = re.compile(r"(# )?(\w+) += ")
NEEDED = ("title", "meters", "notes", "family", "ask", "items")
ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")


def named(text: str) -> bool:
    return f"`{text}`" in README


def test_its_tables_are_those_that_the_code_makes() -> None:
    """`python tests/readme_tables.py` writes them anew."""
    assert {name for _, name, _ in BLOCK.findall(README)} == set(tables())
    assert filled(README) == README


def list_of_commands() -> list[str]:
    command = get_command(app)
    return sorted(getattr(command, "commands", {}))


def test_every_command_is_explained() -> None:
    commands = list_of_commands()
    assert sorted(c for c in commands if f"`barwright {c}" not in README) == []


def rows_of(name: str) -> list[list[str]]:
    """The cells of the table whose first row begins so, without that row."""
    table = README[README.index(f"| {name} ") :].split("\n\n")[0]
    return [[cell.strip() for cell in row.strip("|").split(" | ")] for row in table.splitlines()[2:]]


def options_of(command: Any) -> set[str]:
    return {name for parameter in command.params for name in parameter.opts if name.startswith("--")}


def test_every_option_is_named() -> None:
    commands = [get_command(app), *get_command(app).commands.values()]
    groups = [get_command(app).commands[name] for name in ("bank", "question")]
    inside = [command for group in groups for command in group.commands.values()]
    found = set().union(*map(options_of, [*commands, *inside]))
    shorter = {"--output", "--convention"}  # -o and -c
    assert sorted(name for name in found - shorter if name not in README) == []


def test_every_key_of_a_condition_is_told() -> None:
    told = {key for row in rows_of("key | compares") for key in re.findall(r"`(\w+)`", row[0])}
    assert told == set(KEYS)


def counted_row(rhythm: str, **conventions: str) -> str:
    return " ".join(counts(rhythm, conventions=replace(Conventions(), **conventions))[1].split())


@pytest.mark.parametrize("system", convention_values()["counting"])
def test_counting_systems_give_the_rows_that_are_printed(system: str) -> None:
    printed = {row[0].strip("`"): row[1:3] for row in rows_of("`counting` | `4/4")}
    assert printed[system] == [counted_row(r, counting=system) for r in ("4/4 q. e e e rq", "6/8 q e e e re")]


@pytest.mark.parametrize("name", ["held", "triplet", "compound", "compound_16ths", "cut_time", "three_eight"])
def test_examples_of_conventions_are_what_counts_prints(name: str) -> None:
    told = next(row[2] for row in rows_of("key | values | what it") if row[0] == f"`{name}`")
    rhythm, *printed = re.findall(r"`(.+?)`", told)
    for value, row in zip(convention_values()[name], printed, strict=False):
        assert counted_row(rhythm, **{name: str(value)}).startswith(row)


def test_example_of_counts_is_what_it_prints() -> None:
    (rhythm, printed) = re.findall(r'^\$ barwright counts "(.+)"\n((?:.+\n)+)```', README, re.MULTILINE)[0]
    assert printed.splitlines() == list(counts(rhythm, conventions=Conventions()))


def test_packages_have_the_names_that_are_listed() -> None:
    listed = {row[1].strip("`"): [cell.strip("`") for cell in row[2:]] for row in rows_of("standard | `--standard`")}
    assert listed == {name: [writer.files["quiz"], writer.files["bank"]] for name, writer in WRITERS.items()}
    assert all(named(font) for font in BUNDLED)


def test_every_dependency_is_explained_to_developers() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    wanted = [*project["build-system"]["requires"], *project["project"]["dependencies"]]
    wanted += project["project"]["optional-dependencies"]["dev"]
    table = (ROOT / "DEVELOPERS.md").read_text("utf-8").split("## Dependencies")[1].split("\n## ")[0]
    names = re.findall(r"[\w-]+", " ".join(re.findall(r"^\| (.+?) \|", table, re.MULTILINE)))
    assert sorted({re.split("[><=]", each)[0] for each in wanted} - set(names)) == []


def test_two_commands_stand_before_the_first_heading() -> None:
    top = README.split("\n## ")[0]
    blocks = re.findall(r"```sh\n(.*?)\n```", top, re.DOTALL)
    assert len(blocks) == 2
    assert "barwright make shared/blueprints/" in blocks[0]
    assert blocks[1].endswith("-m pytest")


def settings(*, used: bool) -> list[int]:
    """The places of the lines of the starter blueprint that set a key, or would without their #."""
    return [n for n, line in enumerate(STARTER) if (found := SETTING.match(line)) and (found[1] is None) == used]


def faults_of(lines: list[str]) -> list[object]:
    found = examined("\n".join(lines), "starter.toml")
    more = [] if found.blueprint is None else capacity_faults(found.blueprint, found.numbers)
    return [*found.faults, *more]


@pytest.mark.parametrize("place", settings(used=False), ids=lambda n: STARTER[n][2:].split()[0])
def test_a_line_of_the_starter_blueprint_may_be_used(place: int) -> None:
    assert faults_of([line.removeprefix("# ") if n == place else line for n, line in enumerate(STARTER)]) == []


@pytest.mark.parametrize("place", settings(used=True), ids=lambda n: f"{n}-{STARTER[n].split()[0]}")
def test_a_line_of_the_starter_blueprint_may_go_unless_the_file_says_that_it_is_needed(place: int) -> None:
    key = STARTER[place].split()[0]
    assert bool(faults_of([*STARTER[:place], *STARTER[place + 1 :]])) == (key in NEEDED)
