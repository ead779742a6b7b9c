"""What a teacher reads and a script gets, and the exit code."""

import json
from pathlib import Path

import pytest
from broken_packages import QUIZ, edit
from package_bases import our_files, packed
from typer.testing import CliRunner

from barwright.check.rules import (
    Finding,
    Place,
    Report,
    checked,
    failed,
    report_lines,
    reports_json,
    summary_line,
)
from barwright.cli import app
from barwright.wording.worded import Pictures, WordedForm

MIXED = Report(
    "quiz.imscc",
    "Common Cartridge 1.3",
    2,
    1,
    (
        *(
            Finding("alt-missing", Place("quiz/quiz.xml", n, f"q{n}"), f"the picture 'f{n}.png' has none")
            for n in range(1, 7)
        ),
        Finding("no-title", Place("imsmanifest.xml", 3), "the metadata of the cartridge has no title"),
        Finding("system-file", Place(), "'x' is there"),
    ),
)
MIXED_LINES = """\
quiz.imscc: 7 errors, 1 caution. Common Cartridge 1.3, 2 items, 1 picture.

  ERRORS: mend these before you import

  * quiz/quiz.xml, line 1, item q1
      The picture 'f1.png' has none.
  * quiz/quiz.xml, line 2, item q2
      The picture 'f2.png' has none.
  * quiz/quiz.xml, line 3, item q3
      The picture 'f3.png' has none.
  * quiz/quiz.xml, line 4, item q4
      The picture 'f4.png' has none.
  * and in 2 more places: q5, q6
    why   A student who cannot see the picture is told nothing, and checking importers refuse it.
    mend  Add alt with what is to be seen, not the answer.

  * imsmanifest.xml, line 3
      The metadata of the cartridge has no title.
    why   A cartridge must say its title; importers refuse it or call it 'untitled'.
    mend  Add a title to the metadata.

  CAUTIONS: it depends on your platform

  * the package
      'x' is there.
    why   Your computer put it in; some importers take it for a part of the quiz and stop.
    mend  Zip the folder's contents without hidden files.
"""


def test_findings_to_read() -> None:
    assert report_lines(MIXED) == tuple(MIXED_LINES.split("\n"))


def test_nothing_found_and_not_read_are_one_line_each() -> None:
    assert report_lines(Report("a.zip", "QTI 2.2", 1)) == ("a.zip: nothing found. QTI 2.2, 1 item, no picture.",)
    assert report_lines(Report("a.zip", refused="it is empty")) == ("a.zip: not read: it is empty.",)


def test_many_more_places_are_counted() -> None:
    findings = tuple(Finding("file-unlisted", Place(f"f{n:02}"), "x") for n in range(30))
    lines = report_lines(Report("a", findings=findings))
    assert "  * and in 26 more places: f04, f05, f06, f07, f08, f09, f10, f11, f12, f13, f14, f15 ..." in lines


def test_sum_and_failure() -> None:
    clean, caution = Report("a"), Report("b", findings=(Finding("system-file", Place(), "x"),))
    assert summary_line((clean, caution, MIXED, Report("d", refused="x"))) == "4 packages: 8 errors, 2 cautions."
    assert [failed([r]) for r in (clean, caution, MIXED, Report("d", refused="x"))] == [False, False, True, True]


def test_json_for_scripts() -> None:
    told = json.loads(reports_json((MIXED, Report("é", refused="it is empty"))))
    assert (told["errors"], told["cautions"]) == (8, 1)
    assert told["packages"][1] == {
        "package": "é",
        "standard": "",
        "items": 0,
        "pictures": 0,
        "links": "",
        "refused": "it is empty",
        "findings": [],
    }
    assert told["packages"][0]["findings"][6] == {
        "rule": "no-title",
        "severity": "error",
        "file": "imsmanifest.xml",
        "line": 3,
        "item": "",
        "what": "the metadata of the cartridge has no title",
        "why": "A cartridge must say its title; importers refuse it or call it 'untitled'.",
        "mend": "Add a title to the metadata.",
    }


@pytest.fixture
def two_packages(form: WordedForm, pictures: Pictures, tmp_path: Path) -> tuple[Path, Path]:
    """A good package and one with an error."""
    files = our_files(form, pictures, "cc13")
    good, bad = tmp_path / "good.imscc", tmp_path / "bad.imscc"
    good.write_bytes(packed(files))
    edit(QUIZ, 'alt="Half note."', 'alt="The correct one."')(files)
    bad.write_bytes(packed(files))
    return good, bad


def test_command_on_a_good_package(two_packages: tuple[Path, Path]) -> None:
    good, _ = two_packages
    done = CliRunner().invoke(app, ["check", str(good)])
    assert done.output == f"{good}: nothing found. Common Cartridge 1.3, 4 items, 6 pictures.\n"
    assert done.exit_code == 0


def test_command_on_a_bad_package(two_packages: tuple[Path, Path]) -> None:
    good, bad = two_packages
    done = CliRunner().invoke(app, ["check", str(good), str(bad)])
    assert done.exit_code == 1
    assert f"{bad}: 1 error, no caution. Common Cartridge 1.3, 4 items, 6 pictures." in done.output
    assert done.output.endswith("\n2 packages: 1 error, no caution.\n")


def test_command_for_scripts(two_packages: tuple[Path, Path]) -> None:
    _, bad = two_packages
    done = CliRunner().invoke(app, ["check", "--json", str(bad)])
    assert done.exit_code == 1
    (package,) = json.loads(done.output)["packages"]
    assert [f["rule"] for f in package["findings"]] == ["alt-gives-away"]


OLD, UP = b"$IMS-CC-FILEBASE$/images", b"$IMS-CC-FILEBASE$/../images"


@pytest.mark.parametrize(
    ("copies", "up", "links"),
    [
        (True, 0, ""),
        (False, 0, "the top"),
        (False, -1, "the file that holds them"),
        (False, 1, "the file that holds them and the top"),
    ],
    ids=["same either way", "top", "file", "both"],
)
def test_line_and_json_say_from_where_links_are_read(
    form: WordedForm, pictures: Pictures, copies: bool, up: int, links: str
) -> None:
    files = our_files(form, pictures, "cc13")
    files[QUIZ] = files[QUIZ].replace(OLD, UP, up)
    if not copies:
        files = {path: data for path, data in files.items() if not path.startswith("quiz/images/")}
    report = checked(packed(files), name="cartridge")
    line = report_lines(report)[0]
    assert line.endswith(f", 6 pictures, links read from {links}." if links else ", 6 pictures.")
    assert json.loads(reports_json([report]))["packages"][0]["links"] == links


def test_command_without_a_package_is_wrong_usage() -> None:
    assert CliRunner().invoke(app, ["check"]).exit_code == 2
