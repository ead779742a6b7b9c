"""`diagnose` over all schools that a plan was made for."""

import csv
import io
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from barwright.tasks.bank.show import matching
from barwright.tasks.diagnose.asked import asked_quiz
from command_line import Command
from results.shapes import by_label, csv_bytes, title, wide
from results.simulated_classes import sittings
from same_entries import entries
from schools.many import PLAN

SCHOOLS = ("Alder Creek", "Birch Hill", "Cedar Flat")


@pytest.fixture(scope="module")
def district(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three schools of two sections, and answers of two: students of one name in both; one section of five."""
    folder = tmp_path_factory.mktemp("district")
    (folder / "quiz.toml").write_text(PLAN, "utf-8")
    lines = "".join(f"{school},{section}\n" for school in SCHOOLS for section in ("Band 6", "Band 7"))
    (folder / "list.csv").write_text(f"school,section\n{lines}", "utf-8")
    arguments = ["make", "quiz.toml", "--schools", "list.csv", "--standard", "qti12"]
    program = [sys.executable, "-c", "from barwright.cli import run; run()", *arguments]
    subprocess.run(program, cwd=folder, check=True, stdout=subprocess.DEVNULL)
    for school, students in (("alder-creek", 12), ("birch-hill", 25)):
        quiz = asked_quiz(folder / "out" / school / "quiz")
        sat = sittings(quiz, students)
        (folder / "answers" / school).mkdir(parents=True)
        for place, form in enumerate(quiz.forms):
            mine = [each for each in sat if each.form is form]
            few = mine[:5] if (school, place) == ("alder-creek", 1) else mine
            table = csv_bytes(wide(quiz, place, few, by_label, title))
            (folder / "answers" / school / f"{place}.csv").write_bytes(table)
    return folder


@pytest.fixture
def command(district: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, typed: Command) -> Command:
    """Runs `barwright ARGUMENTS` in a copy of the district; gives exit code, output and error output."""
    shutil.copytree(district, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    return typed


def rows() -> list[dict[str, str]]:
    text = Path("out/district-results/quiz.csv").read_text("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def test_each_school_gets_its_report_and_all_stand_side_by_side(command: Command) -> None:
    assert command("diagnose", "out", "answers") == (
        0,
        "Read 67 answer sheets of 2 schools.\n"
        "No answers could be read of 1 school: cedar-flat.\n"
        "Each school's own report lies in the results of its quiz folder.\n"
        "Next: open out/district-results/quiz.html\n",
        "",
    )
    assert sorted(path.parts[1] for path in Path("out").glob("*/quiz/results/report.html")) == [
        "alder-creek",
        "birch-hill",
    ]
    told = {(row["question"], row["school"], row["section"]): row for row in rows()}
    models = {question for question, _, _ in told}
    for model in models:
        for section in ("Band 6", "Band 7"):
            few = told.get((model, "Alder Creek", section))
            assert few is None or set(few.values()) == {model, "Alder Creek", section, ""}
    birch = [row for key, row in told.items() if key[1:] == ("Birch Hill", "")]
    assert all(int(row["students"]) in (25, 50) for row in birch)
    page = Path("out/district-results/quiz.html").read_text("utf-8")
    assert "Of a group of fewer than 10 students nothing is shown" in page
    assert "not shown: fewer than 10 students, or they could be told from others" in page
    assert "http" not in page
    for name in (path for path in Path("out/district-results").iterdir() if path.is_file()):
        assert "Zoë" not in name.read_text("utf-8-sig")
        assert not re.search(r"s\d{4}", name.read_text("utf-8-sig"))


def test_a_student_of_two_schools_has_a_code_in_each(command: Command) -> None:
    command("diagnose", "out", "answers")
    codes = [
        {row["student"] for row in csv.DictReader(io.StringIO(path.read_text("utf-8-sig")))}
        for path in sorted(Path("out").glob("*/quiz/results/students.csv"))
    ]
    assert [len(each) for each in codes] == [17, 50]
    assert not codes[0] & codes[1]


def test_the_same_answers_give_the_same_bytes_and_all_of_it_goes_away(command: Command) -> None:
    before = entries(Path("out"))
    command("diagnose", "out", "answers")
    once = entries(Path("out"))
    command("diagnose", "out", "answers/birch-hill", "answers/alder-creek")
    assert entries(Path("out")) == once
    assert command("diagnose", "out", "--forget") == (
        0,
        "Took the results of 2 quiz folders away, and 3 files from out/district-results.\n",
        "",
    )
    assert entries(Path("out")) == before
    assert command("diagnose", "out", "--forget") == (
        1,
        "",
        "out: no results lie there, so there is nothing to forget\n",
    )


def test_a_fault_of_one_school_is_told_and_stops_no_other(command: Command) -> None:
    Path("answers/alder-creek/0.csv").write_text("a;b\n1;2\n", "utf-8")
    Path("answers/elm.csv").write_text("a\n", "utf-8")
    code, out, err = command("diagnose", "out", "answers", "gone.csv")
    assert code == 1
    assert out.startswith("Read 50 answer sheets of 1 school.\n")
    lines = err.splitlines()
    named = "give folders or files that are called as the schools' folders, e.g. answers/alder-creek or alder-creek.csv"
    assert lines[:2] == [
        f"answers/elm.csv: no school's folder is called elm: {named}",
        "gone.csv: there is no such file or folder: check the name",
    ]
    assert lines[2].startswith("alder-creek, quiz: 0.csv: ")


def test_no_answers_at_all(command: Command) -> None:
    named = "give folders or files that are called as the schools' folders, e.g. answers/alder-creek or alder-creek.csv"
    Path("empty").mkdir()
    assert command("diagnose", "out", "empty") == (
        1,
        "",
        f"no school of out has answers in what you named: {named}\n",
    )
    assert command("diagnose", "out", "answers", "--columns", "c.toml") == (
        1,
        "",
        "--columns is for one quiz: each school has a columns.toml of its own in its quiz folder\n",
    )


def test_banks_of_schools_are_merged_as_any_others(command: Command) -> None:
    """Counts of two schools stand beside each other, though their sections are called alike."""
    command("diagnose", "out", "answers")
    for school in ("alder-creek", "birch-hill"):
        added = command("bank", "add", f"out/{school}/quiz/record.jsonl", f"{school}.jsonl", "--results")
        assert added[0] == 0
    assert command("bank", "merge", "alder-creek.jsonl", "birch-hill.jsonl", "-o", "both.jsonl")[0] == 0
    asked = {}
    for name in ("alder-creek", "birch-hill", "both"):
        with matching(Path(f"{name}.jsonl"), ()) as (views, _):
            asked[name] = sum(view.went.asked for view in views if view.went is not None)
    assert asked["both"] == asked["alder-creek"] + asked["birch-hill"]
    assert asked == {"alder-creek": 2 * 17, "birch-hill": 2 * 50, "both": 2 * 67}
