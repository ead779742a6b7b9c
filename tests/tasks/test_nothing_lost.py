"""Whatever is killed, protected, linked or written by several at once: what was there before is there afterwards."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from barwright.errors import OutputError
from barwright.tasks.draw import draw_musicxml
from barwright.tasks.files import write_new
from barwright.tasks.folders import INSIDE, changing
from barwright.tasks.staging import JOURNAL, stage_in
from barwright.tasks.start import start
from fuzz.kills import FEW, SOME
from whole import whole_or_part

TESTS = Path(__file__).parents[1]
PROTECTED = (
    " is write-protected, so nothing was changed: take the protection off (in its properties, or with chmod u+w), or "
    "give another name or folder"
)


def test_a_kill_at_some_events_of_each_way_to_write_loses_nothing() -> None:
    """A process of its own: it forks, and nothing else may run in it. All events: `fuzz/kills.py`."""
    command = [sys.executable, TESTS / "fuzz" / "kills.py", "--some", *FEW]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    *each, last = done.stdout.splitlines()
    assert [line.split(":")[0] for line in each] == list(FEW)
    assert all(SOME // 2 < int(line.split()[1]) <= SOME + 1 for line in each)
    assert last == "nothing was lost"


AT_ONCE = """
import os, sys
from pathlib import Path
sys.path[:0] = [sys.argv[1], str(Path(sys.argv[1]).parent / 'src')]
from fuzz.kills import BLUEPRINT, run_here
here, at_a_time, given = Path.cwd(), int(sys.argv[2]), sys.argv[3:]
(here / "quiz.toml").write_text(BLUEPRINT, "utf-8")
run_here(here, ["make", "quiz.toml", "--out", "one", "--standard", "qti12"])
os.environ["KILLS_TELL"] = "1"
children = []
for number in range(at_a_time):
    children.append(os.fork())
    if not children[-1]:
        again = given if number else []
        os._exit(run_here(here, ["make", "quiz.toml", "--out", "many", "--standard", "qti12", *again]))
print(sorted(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children))
"""


AT_A_TIME = whole_or_part(24, 8)


def files_of(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.mark.parametrize("again", [[], ["--replace"]])
def test_of_many_makes_at_once_each_waits_for_its_turn(tmp_path: Path, again: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", AT_ONCE, TESTS, str(AT_A_TIME), *again],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    exists = "many/quiz exists: give --replace to write it anew, or another folder with --out"
    told = [line for line in done.stderr.splitlines() if "exists" in line or "cannot" in line]
    if again:  # the one without --replace may come first
        assert told in ([], [exists])
        assert done.stdout in (f"{[0] * AT_A_TIME}\n", f"{[0] * (AT_A_TIME - 1) + [1]}\n")
    else:
        assert told == [exists] * (AT_A_TIME - 1)
        assert done.stdout == f"{[0] + [1] * (AT_A_TIME - 1)}\n"
    assert files_of(tmp_path / "many") == files_of(tmp_path / "one")
    assert os.listdir(tmp_path / "many") == ["quiz"]


def written(folder: Path, files: dict[str, bytes], *gone: str) -> None:
    with changing(folder) as held:
        held.check_free(replace=True)
        held.write(files, gone=gone)


def test_a_folder_that_is_being_written_is_told(tmp_path: Path) -> None:
    with changing(tmp_path / "q"), pytest.raises(OutputError) as error, changing(tmp_path / "q", most_seconds=0):
        pass
    assert str(error.value) == f"{tmp_path / 'q'} is being written by another Barwright: try again when that is done"
    assert list(tmp_path.iterdir()) == []


def test_a_folder_behind_a_link_is_written_where_it_is(tmp_path: Path) -> None:
    (tmp_path / "real" / "sub").mkdir(parents=True)
    (tmp_path / "q").symlink_to("real")
    written(tmp_path / "q", {"sub/a": b"1"})
    assert (tmp_path / "q").is_symlink()
    assert files_of(tmp_path / "real") == {"sub/a": b"1"}
    with changing(tmp_path / "q"), pytest.raises(OutputError), changing(tmp_path / "real", most_seconds=0):
        pass


@pytest.mark.parametrize(("path", "link"), [("q", "q"), ("out/q", "out")])
@pytest.mark.parametrize(
    ("target", "why"),
    [("none", "is a link to 'none', and nothing is there"), (None, "is a link that leads back to itself")],
)
def test_a_link_that_leads_nowhere_is_one_line(
    tmp_path: Path, path: str, link: str, target: str | None, why: str
) -> None:
    (tmp_path / link).symlink_to(target or link)
    works: list[Callable[[], object]] = [
        lambda: written(tmp_path / path, {"a": b"1"}),
        lambda: write_new(tmp_path / path, b"1", replace=True),
    ]
    for work in works:
        with pytest.raises(OutputError) as error:
            work()
        assert str(error.value) == f"{tmp_path / link} {why}: mend or delete the link, or give another name"
    assert [p.name for p in tmp_path.iterdir()] == [link]


def test_a_single_file_behind_a_link_is_written_where_it_is(tmp_path: Path) -> None:
    (tmp_path / "shared").mkdir()
    (tmp_path / "shared" / "r.xml").write_text("old")
    (tmp_path / "r.xml").symlink_to("shared/r.xml")
    draw_musicxml("3/4 h.", tmp_path / "r.xml", replace=True)
    assert (tmp_path / "r.xml").is_symlink()
    assert b"<score-partwise" in (tmp_path / "shared" / "r.xml").read_bytes()
    assert [p.name for p in (tmp_path / "shared").iterdir()] == ["r.xml"]


@pytest.mark.parametrize("protected", ["q", "q/sub", "q/sub/a", "q/old"])
def test_what_is_write_protected_is_not_changed(tmp_path: Path, protected: str) -> None:
    folder = tmp_path / "q"
    written(folder, {"sub/a": b"1", "old": b"2"})
    path = tmp_path / protected
    path.chmod(path.stat().st_mode & ~0o222)
    with pytest.raises(OutputError) as error:
        written(folder, {"sub/a": b"new", "more/b": b"new"}, "old")
    assert str(error.value) == f"{path}{PROTECTED}"
    assert files_of(folder) == {"sub/a": b"1", "old": b"2"}
    path.chmod(path.stat().st_mode | 0o200)
    assert sorted(os.listdir(folder)) == ["old", "sub"]


def test_a_write_protected_file_is_not_replaced(tmp_path: Path) -> None:
    path = start("unit", folder=tmp_path, replace=False)
    path.write_text("mine")
    path.chmod(0o444)
    with pytest.raises(OutputError) as error:
        start("unit", folder=tmp_path, replace=True)
    assert str(error.value) == f"{path}{PROTECTED}"
    assert path.read_text() == "mine"


def test_what_is_no_file_is_not_replaced(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "r.xml")
    with pytest.raises(OutputError) as error:
        draw_musicxml("3/4 h.", tmp_path / "r.xml", replace=True)
    assert str(error.value) == f"{tmp_path / 'r.xml'} is no file: give another name"


@pytest.mark.parametrize("name", ["sub", "sub/a"])
def test_links_in_a_folder_are_neither_followed_nor_replaced(tmp_path: Path, name: str) -> None:
    folder, mine = tmp_path / "q", tmp_path / "mine"
    folder.mkdir()
    (mine / "a").mkdir(parents=True)
    (folder / name).parent.mkdir(exist_ok=True)
    (folder / name).symlink_to(mine)
    with pytest.raises(OutputError) as error:
        written(folder, {"sub/a": b"1", "b": b"2"})
    assert str(error.value) == (
        f"{folder / name} is a link, so nothing was changed: put what it leads to in its place, or give another folder "
        "with --out"
    )
    assert (files_of(folder), os.listdir(mine)) == ({}, ["a"])


@pytest.mark.parametrize(
    ("there", "told"), [("sub", "sub is a file"), ("sub/a/x", "sub/a is a folder")], ids=["file", "folder"]
)
def test_what_is_in_the_way_is_told(tmp_path: Path, there: str, told: str) -> None:
    folder = tmp_path / "q"
    written(folder, {there: b"mine"})
    with pytest.raises(OutputError) as error:
        written(folder, {"sub/a": b"1"})
    assert str(error.value) == f"{folder / told} and in the way, so nothing was changed: give it another name"
    assert files_of(folder) == {there: b"mine"}


def test_others_files_with_names_that_a_program_might_choose_stay(tmp_path: Path) -> None:
    letter = tmp_path / "letter"
    letter.write_text("dear parents")
    for name in (".q.old", ".q.part", ".barwright-mine"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "mine").write_text("mine")
    (tmp_path / ".q.xml.part").symlink_to(letter)
    for _ in range(2):
        written(tmp_path / "q", {"a": b"1"})
        draw_musicxml("3/4 h.", tmp_path / "q.xml", replace=True)
    assert letter.read_text() == "dear parents"
    assert (tmp_path / ".q.xml.part").is_symlink()
    assert [(tmp_path / n / "mine").read_text() for n in (".q.old", ".q.part", ".barwright-mine")] == ["mine"] * 3


def test_what_is_saved_while_a_quiz_is_written_stays(tmp_path: Path) -> None:
    folder = tmp_path / "q"
    written(folder, {"a": b"1"})
    with changing(folder) as held:
        (folder / "notes").write_text("saved by an editor")
        held.write({"a": b"2"})
    assert files_of(folder) == {"a": b"2", "notes": b"saved by an editor"}


def test_a_written_file_keeps_the_rights_of_the_old_one(tmp_path: Path) -> None:
    folder = tmp_path / "q"
    written(folder, {"a": b"1"})
    (folder / "a").chmod(0o640)
    written(folder, {"a": b"2"})
    assert (folder / "a").stat().st_mode & 0o777 == 0o640


@pytest.mark.parametrize(
    "journal", ["{", "[]", '{"fresh": ["../mine"], "replaced": [], "gone": [], "folders": []}', '{"fresh": ["/mine"]}']
)
def test_a_journal_that_is_none_of_ours_moves_nothing(tmp_path: Path, journal: str) -> None:
    folder = tmp_path / "q"
    written(folder, {"a": b"1"})
    (tmp_path / "mine").write_text("mine")
    stage = stage_in(folder, INSIDE)
    (stage / JOURNAL).write_text(journal)
    with pytest.raises(OutputError) as error:
        written(folder, {"a": b"2"})
    assert str(error.value) == (
        f"{stage} tells of a change that was cut short, and cannot be read: move it elsewhere, and look whether the "
        "folder is as it should be"
    )
    assert (folder / "a").read_bytes() == b"1"
    assert (tmp_path / "mine").read_text() == "mine"
