"""Packages made to do harm: one clear line, at most 400 MB and 10 seconds; and no trace of what they wanted."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hostile_packages import HEAVY, HOSTILE, Heavy, Hostile, manifest, package, quiz, zipped

from barwright.check.reading import read_package
from barwright.check.reading.opening import folder_files, opened
from barwright.check.rules import checked, report_lines
from barwright.errors import PackageError

MOST_MB, MOST_SECONDS = 400, 10
# A process of its own for each package, born of one that has read our modules already. Its peak, as the system tells it
# in its status, begins with what it has at birth: that of the `resource` module would include its parent's.
CHECK = """
import json, os, signal, sys, time
from pathlib import Path
from barwright.check.rules import checked, report_lines

for line in sys.stdin:
    if not (child := os.fork()):
        signal.alarm(int(sys.argv[1]))
        report = checked(Path(json.loads(line)), name="package")
        peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
        told = [int(peak.split()[1]) // 1024, time.process_time(), *report_lines(report)]
        print(json.dumps(told), flush=True)
        os._exit(0)
    if os.waitpid(child, 0)[1]:
        print(json.dumps([0, 1e9, "it fell, or never ended"]), flush=True)
"""
Ask = Callable[[Path], list[str]]


@pytest.fixture(scope="module")
def lines_in_bounds() -> Iterator[Ask]:
    """What the check prints of a package, made sure that it took no more memory and processor time than allowed."""
    command = [sys.executable, "-c", CHECK, str(6 * MOST_SECONDS)]
    with (
        tempfile.TemporaryFile("w+") as said,
        subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=said, text=True) as checking,
    ):
        stdin, stdout = checking.stdin, checking.stdout
        assert stdin is not None
        assert stdout is not None

        def lines(path: Path) -> list[str]:
            stdin.write(json.dumps(str(path)) + "\n")
            stdin.flush()
            megabytes, seconds, *told = json.loads(stdout.readline())
            said.seek(0)
            assert said.read() == ""
            assert megabytes <= MOST_MB
            assert seconds <= MOST_SECONDS, told
            return list(told)

        yield lines
        stdin.close()


@pytest.mark.parametrize("hostile", HOSTILE, ids=lambda h: h.name)
def test_hostile_package_gets_one_line(lines_in_bounds: Ask, tmp_path: Path, hostile: Hostile) -> None:
    path = tmp_path / "hostile.bin"
    path.write_bytes(hostile.make())
    assert lines_in_bounds(path) == [f"package: not read: {hostile.says}"]


@pytest.mark.parametrize("heavy", HEAVY, ids=lambda h: h.name)
def test_heavy_package_is_checked_in_bounds(lines_in_bounds: Ask, tmp_path: Path, heavy: Heavy) -> None:
    path = tmp_path / "heavy.bin"
    path.write_bytes(heavy.make())
    assert lines_in_bounds(path)


@pytest.mark.parametrize("hostile", [h for h in HOSTILE if not h.slow], ids=lambda h: h.name)
def test_reader_refuses_in_the_same_words(hostile: Hostile) -> None:
    with pytest.raises(PackageError) as caught:
        read_package(hostile.make(), name="p.zip")
    said = f"p.zip: {hostile.says}".removesuffix(".")
    assert str(caught.value) == said.replace("package: it is not well", "p.zip: it is not well")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (
            zipped(("imsmanifest.xml", b"<manifest/>")),
            "p: imsmanifest.xml: it is of no standard that is known here: Common Cartridge 1.1 to 1.3 or QTI",
        ),
        (
            zipped(("imsmanifest.xml", b"<manifest>")),
            "p: imsmanifest.xml: it is not well-formed XML in line 1: Premature end of data in tag manifest line 1",
        ),
        (
            package(b"<questestinterop>"),
            "p: quiz.xml: it is not well-formed XML in line 1: Premature end of data in tag questestinterop line 1",
        ),
        (
            package(b"\xff\xfe<"),
            "p: quiz.xml: it is not well-formed XML in line 1: it says that it is utf-16 text, but it is not",
        ),
        (package(b"text"), "p: quiz.xml: it is not well-formed XML in line 1: it does not begin with <"),
    ],
)
def test_what_the_reader_cannot_read(data: bytes, says: str) -> None:
    with pytest.raises(PackageError) as caught:
        read_package(data, name="p")
    assert str(caught.value) == says


def test_no_such_package(tmp_path: Path) -> None:
    path = tmp_path / "none.zip"
    (line,) = report_lines(checked(path))
    assert line == f"{path}: not read: it cannot be opened (No such file or directory): check the name and the folder."
    with pytest.raises(PackageError, match="no such name can be"), opened(Path("a\0b")):
        pass


def test_pipe_is_not_waited_for(tmp_path: Path) -> None:
    path = tmp_path / "pipe"
    os.mkfifo(path)
    report = checked(path, name="pipe")
    assert report.refused == "it is neither a file nor a folder: give the package itself"


def test_links_and_pipes_in_a_folder(tmp_path: Path) -> None:
    (tmp_path / "imsmanifest.xml").symlink_to("/etc/passwd")
    refused = checked(tmp_path, name="folder").refused
    assert refused == "file 'imsmanifest.xml' is a link to somewhere else, not a file: put the file itself there"
    (tmp_path / "imsmanifest.xml").unlink()
    os.mkfifo(tmp_path / "imsmanifest.xml")
    refused = checked(tmp_path, name="folder").refused
    assert refused == "file 'imsmanifest.xml' is a device or pipe, not a file: put the file itself there"


def test_folder_that_leads_back_to_itself_or_deep_down(tmp_path: Path) -> None:
    folder = tmp_path
    for _ in range(30):
        folder = folder / "f"
        folder.mkdir()
    refused = checked(tmp_path, name="folder").refused
    assert refused == f"folder {'f/' * 21!r}... lies over 20 folders deep: give the package itself"


def test_folder_with_too_many_files(tmp_path: Path) -> None:
    for number in range(14_001):
        (tmp_path / f"{number}").touch()
    refused = checked(tmp_path, name="folder").refused
    assert refused == "it holds over 14000 files, which no quiz needs: take the quiz out of it"


def test_files_that_are_gone_when_they_are_read(tmp_path: Path) -> None:
    (tmp_path / "a.xml").touch()
    with opened(tmp_path) as files:
        (tmp_path / "a.xml").unlink()
        with pytest.raises(PackageError) as caught:
            files.read("a.xml")
    assert str(caught.value) == "file 'a.xml' cannot be read (No such file or directory): check who may"
    gone = tmp_path / "gone"
    with pytest.raises(PackageError) as caught:
        folder_files(gone, "gone")
    assert str(caught.value) == f"folder {str(gone)[-60:]!r} cannot be read (No such file or directory): check who may"


def test_names_cannot_move_the_cursor(tmp_path: Path) -> None:
    path = tmp_path / "a\x1b[2Jb.zip"
    path.write_bytes(zipped(("imsmanifest.xml", manifest()), ("quiz.xml", quiz("")), ("\x1b[31m.txt", b"")))
    lines = report_lines(checked(path))
    assert all(line.isprintable() for line in lines)
    assert any("?[31m.txt" in line for line in lines)


def test_name_of_no_text_can_be_printed(tmp_path: Path) -> None:
    (tmp_path / "imsmanifest.xml").write_bytes(manifest())
    (tmp_path / "quiz.xml").write_bytes(quiz(""))
    Path(os.fsdecode(os.fsencode(tmp_path) + b"/\xff.txt")).touch()
    for line in report_lines(checked(tmp_path)):
        line.encode()
