"""Many teachers and one bank: nothing promised is lost, no line is torn, whoever is killed in the middle."""

import os
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from bank.demo_bank import bank_text, demo_entries, demo_items
from bank.shared_banks import SHARED
from bank.writers import broken_promises, started, write_record
from barwright.bank.merging import merged
from barwright.errors import BankError, BarwrightError, OutputError
from barwright.tasks.bank.add import add
from barwright.tasks.bank.files import (
    entries_of,
    held_bank,
    update,
    write_whole,
)
from barwright.tasks.bank.merge import merge


def test_many_processes_add_to_one_bank_and_nothing_is_lost(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    bank.write_text(bank_text(demo_entries()[:5]), "utf-8")
    writers = [started(bank, tmp_path, f"teacher-{n}", most=6) for n in range(6)]
    promises = [line for writer in writers for line in writer.communicate()[0].splitlines()]
    assert [writer.returncode for writer in writers] == [0] * 6
    assert len(promises) == 36
    assert broken_promises(bank, promises)[0] == []
    with entries_of(bank) as (entries, _):
        assert {e.id for e in entries} >= {e.id for e in demo_entries()[:5]}


def test_a_kill_in_the_middle_loses_nothing_that_was_promised(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    promises = []
    for number, adds in enumerate((1, 2, 5, 9)):
        writer = started(bank, tmp_path, f"teacher-{number}")
        assert writer.stdout is not None
        promises += [writer.stdout.readline().strip() for _ in range(adds)]
        os.kill(writer.pid, signal.SIGKILL)
        promises += writer.communicate()[0].splitlines()
        assert broken_promises(bank, [p for p in promises if p])[0] == []
    update(bank, lambda entries: entries)
    assert list(tmp_path.glob(".barwright-*")) == []
    assert broken_promises(bank, [p for p in promises if p])[0] == []


HALF_WAY = """
import sys
from pathlib import Path
from barwright.tasks.bank.files import update

def stops(entries):
    yield next(entries)
    print("half", flush=True)
    sys.stdin.read()

update(Path(sys.argv[1]), stops)
"""


def test_a_kill_half_way_through_a_file_leaves_the_old_one_and_frees_the_lock(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    bank.write_text(bank_text(demo_entries()), "utf-8")
    command = [sys.executable, "-c", HALF_WAY, str(bank)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        assert writer.stdout.readline() == "half\n"
        with pytest.raises(BankError), held_bank(bank, most_seconds=0.01):
            pass
        writer.kill()
    assert list(tmp_path.glob(".barwright-*"))
    assert bank.read_text("utf-8") == bank_text(demo_entries())
    update(bank, lambda entries: entries)
    assert bank.read_text("utf-8") == bank_text(demo_entries())
    assert not list(tmp_path.glob(".barwright-*"))


def test_a_lock_that_is_not_given_back_is_told(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    with held_bank(bank), pytest.raises(BankError) as error, held_bank(bank, most_seconds=0.05):
        pass
    assert str(error.value) == f"{bank}: another program has been writing it all the time: try again later"
    with held_bank(bank, most_seconds=0):
        pass


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    bank = tmp_path / "none" / "bank.jsonl"
    with pytest.raises(BankError) as error:
        update(bank, lambda entries: entries, create=True)
    assert str(error.value) == f"{bank}: cannot be written here (No such file or directory): check the folder"


def test_what_cannot_be_written_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    (bank / "in the way").mkdir(parents=True)
    with pytest.raises(BankError) as error:
        write_whole(bank, bank, [b"x\n"])
    told = "cannot be written (Is a directory): nothing was changed; make room, or give another name or folder"
    assert str(error.value) == f"{bank}: {told}"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bank.jsonl"]


def test_two_names_of_a_bank_are_one_bank_with_one_lock(tmp_path: Path) -> None:
    """A link in a teacher's folder to the department's bank on the shared drive."""
    shared, mine = tmp_path / "shared", tmp_path / "mine"
    shared.mkdir()
    mine.mkdir()
    (shared / "bank.jsonl").write_text(bank_text(demo_entries()[:3]), "utf-8")
    (mine / "ours.jsonl").symlink_to("../shared/bank.jsonl")
    (mine / "same.jsonl").symlink_to("ours.jsonl")
    record, _ = write_record(tmp_path, demo_items()[7], "me", 1)
    add(record, mine / "same.jsonl")
    merge([mine / "ours.jsonl"], mine / "same.jsonl", replace=True)
    with entries_of(shared / "bank.jsonl") as (entries, _):
        assert len(list(entries)) == 4
    assert all((mine / name).is_symlink() for name in ("ours.jsonl", "same.jsonl"))
    assert sorted(path.name for path in shared.iterdir()) == [".bank.jsonl.lock", "bank.jsonl"]
    assert sorted(path.name for path in mine.iterdir()) == ["ours.jsonl", "same.jsonl"]
    with held_bank(mine / "ours.jsonl"), pytest.raises(BankError), held_bank(shared / "bank.jsonl", most_seconds=0):
        pass


@pytest.mark.parametrize(
    ("target", "why"),
    [
        ("gone.jsonl", "is a link to 'gone.jsonl', and nothing is there"),
        ("bank.jsonl", "is a link that leads back to itself"),
    ],
)
def test_a_link_that_leads_nowhere_is_told(tmp_path: Path, target: str, why: str) -> None:
    bank = tmp_path / "bank.jsonl"
    bank.symlink_to(target)
    record, _ = write_record(tmp_path, demo_items()[0], "me", 1)
    for work in (lambda: add(record, bank), lambda: merge([SHARED / "banks" / "birch.jsonl"], bank, replace=True)):
        with pytest.raises(OutputError) as error:
            work()
        assert str(error.value) == f"{bank} {why}: mend or delete the link, or give another name"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bank.jsonl", "me.jsonl"]


def test_a_write_protected_bank_is_not_changed(tmp_path: Path) -> None:
    """Its mode says so even to an administrator, whom the system would let write."""
    bank = tmp_path / "bank.jsonl"
    bank.write_text(bank_text(demo_entries()[:3]), "utf-8")
    bank.chmod(0o444)
    before = bank.read_bytes()
    record, _ = write_record(tmp_path, demo_items()[7], "me", 1)
    for work in (
        lambda: add(record, bank),
        lambda: update(bank, lambda entries: entries),
        lambda: merge([SHARED / "banks" / "birch.jsonl"], bank, replace=True),
    ):
        with pytest.raises(OutputError) as error:
            work()
        assert str(error.value) == (
            f"{bank} is write-protected, so nothing was changed: take the protection off (in its properties, or with "
            "chmod u+w), or give another name or folder"
        )
    assert bank.read_bytes() == before


def test_whoever_may_write_a_bank_may_lock_it(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    bank.write_text(bank_text([]), "utf-8")
    bank.chmod(0o664)
    update(bank, lambda entries: entries)
    assert stat.S_IMODE((tmp_path / ".bank.jsonl.lock").stat().st_mode) == 0o664


def test_files_and_links_with_the_names_of_ours_stay_as_they_are(tmp_path: Path) -> None:
    bank, letter = tmp_path / "bank.jsonl", tmp_path / "letter.txt"
    bank.write_text(bank_text(demo_entries()[:3]), "utf-8")
    letter.write_text("dear parents")
    (tmp_path / ".bank.jsonl.mine.part").write_text("mine")
    (tmp_path / ".bank.jsonl.part").symlink_to(letter)
    update(bank, lambda entries: entries)
    assert (tmp_path / ".bank.jsonl.mine.part").read_text() == "mine"
    for way in (lambda lock: lock.write_text("mine"), lambda lock: lock.symlink_to(letter)):
        lock = tmp_path / ".bank.jsonl.lock"
        lock.unlink()
        way(lock)
        with pytest.raises(BarwrightError) as error:
            update(bank, lambda entries: entries)
        assert str(error.value) == (
            f"{lock} is in the way: Barwright needs this name for a moment; give it another name"
        )
    assert letter.read_text() == "dear parents"


def test_a_reader_is_not_disturbed_by_a_writer(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    entries = demo_entries()
    bank.write_text(bank_text(entries[:20]), "utf-8")
    with entries_of(bank) as (old, _):
        assert next(iter(old)) == entries[0]
        update(bank, lambda now: merged([now, entries[20:]]))
        assert list(old) == entries[1:20]
    with entries_of(bank) as (new, _):
        assert list(new) == entries


def test_colleagues_keep_their_rights_to_the_file(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    bank.write_text(bank_text([]), "utf-8")
    bank.chmod(0o664)
    update(bank, lambda entries: entries)
    assert stat.S_IMODE(bank.stat().st_mode) == 0o664


def test_unreadable_lines_are_kept_as_they_are(tmp_path: Path) -> None:
    bank = tmp_path / "bank.jsonl"
    entries = demo_entries()
    bank.write_text(bank_text(entries[:3]).replace("\n", '\n{"torn":\n', 2), "utf-8")
    faults = update(bank, lambda now: merged([now, entries[3:5]]))
    assert [text.split(": ", 1)[0] for text in faults.told] == [f"{bank}, line 2", f"{bank}, line 4"]
    assert bank.read_text("utf-8") == bank_text(entries[:5]) + '{"torn":\n'


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            bank_text([]).replace('"version":1', '"version":9'),
            "line 1: this bank has format version 9, and this Barwright knows 1: update Barwright; until then only "
            "lines as those of version 1 are read. Nothing was written",
        ),
        (
            f"{bank_text([])}{'x' * 500_001}\n",
            "line 2: over 500000 bytes: no item is so long; delete the line. Nothing was written",
        ),
    ],
)
def test_where_writing_would_lose_something_nothing_is_written(tmp_path: Path, text: str, message: str) -> None:
    bank = tmp_path / "bank.jsonl"
    bank.write_text(text, "utf-8")
    with pytest.raises(BankError) as error:
        update(bank, lambda entries: merged([entries, demo_entries()]))
    assert str(error.value) == f"{bank}, {message}"
    assert bank.read_text("utf-8") == text
    assert not list(tmp_path.glob(".barwright-*"))
