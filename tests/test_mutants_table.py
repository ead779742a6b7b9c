"""The table of mutants in DEVELOPERS.md: every module of rules stands in it, and no mutant lives by the last run."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
LINES = re.findall(
    r"^\| `([\w/]+\.py)` \| (\d+) \| (\d+) \| (\d+) \|$", (ROOT / "DEVELOPERS.md").read_text("utf-8"), re.MULTILINE
)
ROWS = {name: tuple(map(int, numbers)) for name, *numbers in LINES}


def test_every_module_of_rules_has_a_row_and_tests_that_concern_it() -> None:
    listed = tomllib.loads((ROOT / "tests" / "mutants.toml").read_text("utf-8"))
    folders = ("asks", "forms", "guesser", "judge")
    modules = {
        f"{folder}/{path.name}"
        for folder in folders
        for path in (ROOT / "src" / "barwright" / folder).glob("*.py")
        if path.name != "__init__.py"
    }
    assert modules - set(ROWS) == set()
    assert modules - set(listed) == set()


def test_every_mutant_is_killed_or_listed_as_the_same() -> None:
    assert {name: row for name, row in ROWS.items() if row[0] != row[1] + row[2]} == {}


def test_a_module_has_one_row_which_counts_those_that_are_listed_as_the_same() -> None:
    listed = tomllib.loads((ROOT / "tests" / "mutants.toml").read_text("utf-8"))
    assert [name for name, *_ in LINES] == list(ROWS)
    assert {name: row[2] for name, row in ROWS.items()} == {name: len(listed[name].get("same", {})) for name in ROWS}
