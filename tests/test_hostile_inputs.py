"""Commands as a shell runs them, on inputs that are no files, outputs that cannot be written, and names that act."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import NoReturn

import pytest

from command_line import Command
from fuzz.banks import record

ROOT = Path(__file__).parents[1]
UNIT_1 = ROOT / "shared" / "blueprints" / "unit-1-half-notes-and-rests.toml"
BIRCH = ROOT / "shared" / "banks" / "birch.jsonl"
PROGRAM = [sys.executable, "-c", "from barwright.cli import run; run()"]
SOON = 60  # seconds, for a machine that is busy: a pipe would never end
SMALL = """
title = "T"
[elements]
meters = ["2/4"]
notes = ["half", "quarter"]
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 1
"""


def ran(*arguments: object, cwd: Path, env: dict[str, str] | None = None) -> tuple[int, str, str]:
    """Exit code, output and error output of one command."""
    done = subprocess.run(
        [*PROGRAM, *map(str, arguments)], cwd=cwd, capture_output=True, check=False, timeout=SOON,
        stdin=subprocess.DEVNULL, env={**os.environ, **(env or {})},
    )  # fmt: skip
    return done.returncode, done.stdout.decode("latin-1"), done.stderr.decode("latin-1")


@pytest.fixture
def typed_soon(monkeypatch: pytest.MonkeyPatch, typed: Command, tmp_path: Path) -> Iterator[Command]:
    """Runs `barwright ARGUMENTS` in an empty folder, and fails if that takes longer than SOON."""

    def late(_signal: int, _frame: FrameType | None) -> NoReturn:
        pytest.fail(f"not done in {SOON} s")

    monkeypatch.chdir(tmp_path)
    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(SOON)
    yield typed
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


INPUTS = [
    ("make", "X"),
    ("capacity", "X"),
    ("check", "X"),
    ("draw", "3/4 h.", "-o", "r.png", "--music-font", "X"),
    ("bank", "add", "X", "bank.jsonl"),
    ("bank", "add", "record.jsonl", "X"),
    ("bank", "merge", "X", "-o", "all.jsonl"),
    ("bank", "show", "X"),
    ("bank", "check", "X"),
    ("bank", "review", "X", "--item", "0000", "--approve"),
    ("bank", "export", "X"),
    ("bank", "take", "X", "--blueprint", str(UNIT_1)),
    ("bank", "take", str(BIRCH), "--blueprint", "X"),
]


@pytest.mark.parametrize("arguments", INPUTS, ids=" ".join)
def test_a_pipe_for_a_file_is_one_line_and_nobody_waits(
    tmp_path: Path, typed_soon: Command, arguments: tuple[str, ...]
) -> None:
    os.mkfifo(tmp_path / "X")
    (tmp_path / "record.jsonl").write_text(record())
    code, out, err = typed_soon(*arguments)
    what = (
        "it is neither a file nor a folder" if arguments[0] == "check"
        else "music font 'X' is not there" if "--music-font" in arguments
        else "it is a pipe or a device, not a file"
    )  # fmt: skip
    assert (code, len((out + err).splitlines())) == (1, 1), out + err
    assert what in out + err


@pytest.mark.parametrize("arguments", INPUTS, ids=" ".join)
def test_a_device_for_a_file_is_one_line(tmp_path: Path, typed_soon: Command, arguments: tuple[str, ...]) -> None:
    (tmp_path / "record.jsonl").write_text(record())
    lock = Path("/dev/.zero.lock")  # a run of older code may have left one
    before = lock.stat().st_ctime_ns if lock.exists() else None
    code, out, err = typed_soon(*["/dev/zero" if each == "X" else each for each in arguments])
    assert (code, len((out + err).splitlines())) == (1, 1), out + err
    assert (lock.stat().st_ctime_ns if lock.exists() else None) == before


def test_a_record_that_is_a_pipe_does_not_hold_up_a_quiz_made_anew(tmp_path: Path, typed_soon: Command) -> None:
    (tmp_path / "q.toml").write_text(SMALL)
    (tmp_path / "out" / "q").mkdir(parents=True)
    os.mkfifo(tmp_path / "out" / "q" / "record.jsonl")
    code, out, err = typed_soon("make", "q.toml", "--standard", "qti12", "--replace")
    assert (code, err) == (0, "")
    assert (
        "Made anew without the old record, which could not be read: out/q/record.jsonl: cannot be read (it is a "
        "pipe or a "
        "device, not a file): check the name and the folder"
    ) in out.splitlines()


def test_nobody_may_read_the_folder(tmp_path: Path) -> None:
    closed = tmp_path / "closed"
    closed.mkdir()
    (closed / "q.toml").write_text(SMALL)
    closed.chmod(0)
    below = next(n for n, parent in enumerate(tmp_path.parents) if parent.name.startswith("pytest-of-"))
    for parent in (tmp_path, *tmp_path.parents[: below + 1]):
        parent.chmod(0o755)
    tmp_path.chmod(0o777)  # else `make` says first that it may not write
    program = (
        "import os, barwright.cli, barwright.tasks.make, barwright.tasks.bank.show; os.getuid() or os.setuid(65534)\n"
        "from barwright.cli import run; run()"
    )  # root may read everything, and becomes somebody else as soon as all is imported
    for arguments in (("make", "closed/q.toml"), ("bank", "show", "closed/b.jsonl")):
        done = subprocess.run(
            [sys.executable, "-c", program, *arguments],
            cwd=tmp_path, capture_output=True, text=True, check=False, timeout=SOON,
        )  # fmt: skip
        assert (done.returncode, done.stdout) == (1, "")
        assert done.stderr == f"{arguments[-1]}: cannot be read (Permission denied): check the name and the folder\n"


@pytest.mark.parametrize("coding", ["latin-1", "ascii"])
def test_counts_that_the_terminal_cannot_show_are_one_line(tmp_path: Path, coding: str) -> None:
    code, out, err = ran(
        "counts", "4/4 h rq q", "-c", "rest_counts=strike", cwd=tmp_path, env={"PYTHONIOENCODING": coding}
    )
    name = {"latin-1": "iso8859-1", "ascii": "ascii"}[coding]
    assert (code, out, err) == (
        1,
        "",
        f"this terminal writes {name} and has no letter U+0336, which the answer needs: set it to UTF-8 "
        "(PYTHONIOENCODING=utf-8), or choose other conventions\n",
    )


@pytest.mark.parametrize(
    "arguments",
    [("bank", "schema"), ("counts", "4/4 h h"), ("--help",), ("--version",), ("capacity", "q.toml"), ("start", "new")],
    ids=" ".join,
)
def test_a_full_output_is_one_line(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    (tmp_path / "q.toml").write_text(SMALL)
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [*PROGRAM, *arguments], cwd=tmp_path, stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert (done.returncode, done.stderr) == (
        1, "the output cannot be written (No space left on device): make room, or send it elsewhere\n",
    )  # fmt: skip


def test_an_output_that_is_closed_early_is_no_fault(tmp_path: Path) -> None:
    done = subprocess.Popen([*PROGRAM, "bank", "schema"], cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert done.stdout is not None
    assert done.stderr is not None
    done.stdout.close()
    assert (done.stderr.read(), done.wait()) == (b"", 1)
    done.stderr.close()


def test_a_name_that_acts_is_shown_as_marks(tmp_path: Path) -> None:
    name = "a\x1b[31m\u202e\n\x07.toml"
    assert ran("make", name, cwd=tmp_path) == (
        1,
        "",
        "a<U+001B>[31m<U+202E><U+000A><U+0007>.toml: cannot be read (No such file or directory): check the name "
        "and the "
        "folder\n",
    )
    (tmp_path / name).write_text(SMALL.replace('"T"', "T"))
    code, out, err = ran("make", name, cwd=tmp_path)
    assert (code, out, len(err.splitlines())) == (1, "", 1)
    assert err.startswith("a<U+001B>[31m<U+202E><U+000A><U+0007>.toml, line 2: 'title = T' cannot be read: ")


def test_a_class_list_elsewhere_is_refused_and_nothing_of_it_is_told(tmp_path: Path, typed_soon: Command) -> None:
    secret = tmp_path / "secret"
    secret.write_text("root:$y$secret:19000\n")
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "list.csv").symlink_to(secret)
    (tmp_path / "mine" / "folder").symlink_to(tmp_path)
    (tmp_path / "mine" / "plain").write_text(secret.read_text())
    for file, message in (
        (str(secret), f"line 1: sections_file = '{str(secret)[:60]}"),
        ("../secret", "line 1: sections_file = '../secret' is not beside the blueprint"),
        ("list.csv", "this is a link to another folder: copy the list beside the blueprint, and give its name"),
        ("folder/secret", "this is a link to another folder: copy the list beside the blueprint, and give its name"),
        ("plain", "there is no column 'title': is this the list of classes?"),
        ("a\\u0000b", "cannot be read"),
    ):
        (tmp_path / "mine" / "q.toml").write_text(f'sections_file = "{file}"\n{SMALL}')
        for command in ("make", "capacity"):
            code, out, err = typed_soon(command, "mine/q.toml")
            assert (code, out, len(err.splitlines())) == (1, "", 1), err
            assert message in err
            assert "root:" not in err
            assert "$y$" not in err


OTHERS = {
    "utf-16.toml": (SMALL.encode("utf-16"), "the file is saved as UTF-16"),
    "utf-16-le.toml": (SMALL.encode("utf-16-le"), "the file is saved as UTF-16"),
    "utf-16-be.toml": (SMALL.encode("utf-16-be"), "the file is saved as UTF-16"),
    "utf-32.toml": (SMALL.encode("utf-32"), "the file is saved as UTF-32"),
    "utf-32-le.toml": (SMALL.encode("utf-32-le"), "the file is saved as UTF-32"),
    "plan.docx": (b"PK\x03\x04\x14\0\6\0", "this is a zip, such as a document of a word processor or a package"),
    "plan.pdf": (b"%PDF-1.7\n%\xe2\xe3", "this is a PDF"),
    "plan.png": (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "this is a picture"),
    "plan.rtf": (b"{\\rtf1\\ansi title}", "this is a document of a word processor"),
    "plan": (b"\x01\x02\x00\x00secret", "this is no text"),
}


@pytest.mark.parametrize("name", OTHERS)
def test_what_is_no_text_is_named_as_what_it_is(tmp_path: Path, typed_soon: Command, name: str) -> None:
    content, what = OTHERS[name]
    (tmp_path / name).write_bytes(content)
    code, out, err = typed_soon("make", name)
    mend = "so it is no blueprint: check the name" if "saved" not in what else ""
    assert (code, out) == (1, "")
    assert err == (
        f"{name}: {what}, {mend}\n" if mend
        else f"{name}: {what}: save it as UTF-8 (in a text editor: Save as, Encoding: UTF-8)\n"
    )  # fmt: skip
