"""shared/banks: what the program builds, sound by its own check, valid by the schema in the eyes of another library."""

import json
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest

from bank.shared_banks import SHARED, alder, birch, shared_files
from barwright.bank.views import View
from barwright.tasks.bank.check import check
from barwright.tasks.bank.merge import merge

Golden = Callable[[Path, bytes], None]
BANKS = ("alder.jsonl", "birch.jsonl", "maple-hollow.jsonl")


@pytest.mark.parametrize("name", [*BANKS, "bank.schema.json"])
def test_shared_files_are_what_the_program_builds(name: str, golden: Golden) -> None:
    golden(SHARED / "banks" / name, shared_files()[name])


@pytest.mark.parametrize("name", BANKS)
def test_shared_banks_are_sound(name: str) -> None:
    checked = check(SHARED / "banks" / name)
    assert checked.faults == ()
    assert checked.sound == len((SHARED / "banks" / name).read_text("utf-8").splitlines()) - 1


def test_every_line_is_valid_by_the_schema() -> None:
    checker = jsonschema.Draft202012Validator(json.loads((SHARED / "banks" / "bank.schema.json").read_text("utf-8")))
    for name in BANKS:
        for line in (SHARED / "banks" / name).read_text("utf-8").splitlines():
            checker.validate(json.loads(line))


def test_the_department_has_everything_of_both_and_what_both_have_once(tmp_path: Path) -> None:
    both = {e.id for e in alder()} & {e.id for e in birch()}
    assert len(both) >= 10
    for output, banks in (("ab", BANKS[:2]), ("ba", BANKS[1::-1]), ("aba", (*BANKS[:2], BANKS[0]))):
        made = merge([SHARED / "banks" / name for name in banks], tmp_path / output, replace=False)
        assert (tmp_path / output).read_bytes() == (SHARED / "banks" / BANKS[2]).read_bytes()
        assert made.items == len({e.id for e in alder()} | {e.id for e in birch()})
    states = {View(entry).state for entry in (*alder(), *birch())}
    assert states == {"new", "approved", "retired"}
