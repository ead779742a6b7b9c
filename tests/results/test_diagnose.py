"""`barwright diagnose` as a teacher runs it: what it writes, what it says, what it refuses, and what it forgets."""

import csv
import io
import json
import re
import shutil
from pathlib import Path

import jsonschema
import pytest

from barwright.blueprint.parsing import read_blueprint
from barwright.rhythm.text import format_excerpt
from barwright.tasks.diagnose.asked import AskedQuiz, asked_quiz
from barwright.tasks.diagnose.document import schema
from barwright.tasks.record import read_record, read_record_text
from command_line import Command
from results.shapes import by_ident, by_label, csv_bytes, title, wide
from results.simulated_classes import RR30, alike_in_all_forms, report, sittings, zipped

SCHEMA = Path(__file__).parents[2] / "shared" / "results" / "diagnosis.schema.json"


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, typed: Command, tmp_path: Path) -> Command:
    """Runs `barwright ARGUMENTS` in a folder of its own; exit code, output, error output."""
    monkeypatch.chdir(tmp_path)
    return typed


@pytest.fixture
def quiz(unit_1: AskedQuiz, tmp_path: Path) -> AskedQuiz:
    """A copy of unit 1 in `quiz`, with the answers of three classes of twelve beside it, one of them as a zip."""
    shutil.copytree(unit_1.folder, tmp_path / "quiz")
    copied = asked_quiz(tmp_path / "quiz")
    sat = sittings(copied, 12)
    for place, form in enumerate(copied.forms[:2]):
        mine = [each for each in sat if each.form is form]
        (tmp_path / f"period-{place}.csv").write_bytes(csv_bytes(wide(copied, place, mine, by_label, title)))
    last = [each for each in sat if each.form is copied.forms[2]]
    (tmp_path / "last.zip").write_bytes(zipped({f"{each.student}.xml": report(copied, each, RR30) for each in last}))
    return copied


ANSWERS = ("period-0.csv", "period-1.csv", "last.zip")


@pytest.mark.usefixtures("quiz")
def test_all_that_is_written(command: Command) -> None:
    code, out, err = command("diagnose", "quiz", *ANSWERS, "--feedback")
    assert (code, err) == (0, "")
    assert out.splitlines()[:2] == [
        "last.zip: QTI results, questions and answers by identifier; Period 6: 12 student(s)",
        "period-0.csv: Period 1: 12 student(s); 15 of 15 questions (15 by title)",
    ]
    files = "report.html, students.csv, items.csv, diagnosis.json, reteach.toml, feedback"
    assert out.splitlines()[-2:] == [
        f"Wrote quiz/results: 36 students; {files}.",
        "Next: open quiz/results/report.html",
    ]
    written = sorted(path.name for path in Path("quiz/results").iterdir())
    assert written == [
        "README.txt", "diagnosis.json", "feedback", "items.csv", "report.html", "reteach.toml", "students.csv"
    ]  # fmt: skip
    assert len(list(Path("quiz/results/feedback").iterdir())) == 36
    assert Path("quiz/results/README.txt").read_text("utf-8") == (
        "Written by barwright diagnose from students' answers, with codes for students: diagnosis.json, items.csv, "
        "report.html, reteach.toml, students.csv, and a page for each student in feedback/. Nothing of it has left "
        "this computer. Delete this folder, or run  barwright diagnose quiz --forget  to take it away.\n"
    )


@pytest.mark.usefixtures("quiz")
def test_the_same_answers_give_the_same_bytes(command: Command) -> None:
    command("diagnose", "quiz", *ANSWERS)
    before = {path.name: path.read_bytes() for path in Path("quiz/results").iterdir()}
    command("diagnose", "quiz", *reversed(ANSWERS))
    assert {path.name: path.read_bytes() for path in Path("quiz/results").iterdir()} == before


def test_no_name_is_written_unless_it_is_wanted(quiz: AskedQuiz, command: Command) -> None:
    names = [each.name for each in sittings(quiz, 12)] + [each.student for each in sittings(quiz, 12)]
    command("diagnose", "quiz", *ANSWERS, "--feedback")
    written = "".join(p.read_text("utf-8") for p in Path("quiz/results").rglob("*") if p.is_file())
    written += "".join(p.name for p in Path("quiz/results").rglob("*"))
    assert not [name for name in names if name in written]
    command("diagnose", "quiz", *ANSWERS, "--names")
    page = Path("quiz/results/report.html").read_text("utf-8")
    assert "Zoë 0 Nr3" in page
    assert "Zoë 0 Nr3" in Path("quiz/results/students.csv").read_text("utf-8-sig")
    assert "with the names of your files" in Path("quiz/results/README.txt").read_text("utf-8")
    assert not Path("quiz/results/feedback").exists(), "pages that are not wanted any more stay behind"


@pytest.mark.usefixtures("quiz")
def test_a_page_for_a_student_tells_of_nobody_else(command: Command) -> None:
    command("diagnose", "quiz", *ANSWERS, "--feedback")
    codes = {path.stem for path in Path("quiz/results/feedback").iterdir()}
    for path in Path("quiz/results/feedback").iterdir():
        text = re.sub(r'src="data:[^"]*"', "", path.read_text("utf-8"))
        words = set(re.findall(r"\b[2-9B-Z]{4}\b", re.sub(r"<style>.*?</style>", "", text, flags=re.DOTALL)))
        assert codes & words == {path.stem}
        assert not re.search(r"\d+\s*/\s*15|\d+ of 15|%", re.sub(r"<style>.*?</style>", "", text, flags=re.DOTALL))


@pytest.mark.usefixtures("quiz")
def test_the_document_keeps_its_schema(command: Command) -> None:
    assert json.loads(SCHEMA.read_text("utf-8")) == schema()
    jsonschema.Draft202012Validator.check_schema(schema())
    for more in ([], ["--names", "--omit", "exclude"]):
        command("diagnose", "quiz", *ANSWERS, *more)
        jsonschema.validate(json.loads(Path("quiz/results/diagnosis.json").read_text("utf-8")), schema())


@pytest.mark.usefixtures("quiz")
def test_tables_hold_what_the_document_holds(command: Command) -> None:
    command("diagnose", "quiz", *ANSWERS)
    document = json.loads(Path("quiz/results/diagnosis.json").read_text("utf-8"))
    students = list(csv.DictReader(io.StringIO(Path("quiz/results/students.csv").read_text("utf-8-sig"))))
    assert [(s["student"], int(s["right"])) for s in students] == [
        (s["student"], s["right"]) for s in document["students"]
    ]
    items = list(csv.DictReader(io.StringIO(Path("quiz/results/items.csv").read_text("utf-8-sig"))))
    assert len(items) == 45
    for row, item in zip(items, (i for form in document["forms"] for i in form["items"]), strict=True):
        assert (row["item"], int(row["asked"]), int(row["right"])) == (item["item"], item["asked"], item["right"])
        picks = sum(pick["picks"] for pick in item["picks"])
        assert picks + item["others"] + item["omitted"] == item["asked"]


def test_the_blueprint_to_teach_again_makes_a_quiz_of_new_excerpts(quiz: AskedQuiz, command: Command) -> None:
    command("diagnose", "quiz", *ANSWERS)
    text = Path("quiz/results/reteach.toml").read_text("utf-8")
    blueprint, _ = read_blueprint(text, "reteach.toml")
    wanted = {m for part in blueprint.part for m in part.misreadings}
    document = json.loads(Path("quiz/results/diagnosis.json").read_text("utf-8"))
    found = {
        m for section in document["sections"] for shared in section["misreadings"][:3] for m in shared["misreadings"]
    }
    assert wanted
    assert wanted <= found
    assert command("make", "quiz/results/reteach.toml", "--standard", "qti22", "--allow-repeats")[0] == 0
    had = {format_excerpt(placed.item.excerpt) for form in quiz.forms for placed in form.items}
    record = Path("out/reteach/record.jsonl")
    made = read_record(read_record_text(record), "record")
    assert not had & {format_excerpt(placed.item.excerpt) for form in made for placed in form.items}
    offered = {m for form in made for placed in form.items for c in placed.item.choices for m in c.misreadings}
    assert wanted <= offered


@pytest.mark.usefixtures("quiz")
def test_a_record_to_avoid_that_is_not_there(command: Command) -> None:
    command("diagnose", "quiz", *ANSWERS)
    Path("quiz/results/reteach.toml").rename("again.toml")
    assert command("make", "again.toml")[0::2] == (
        1,
        "again.toml: avoid = '../record.jsonl': there is no such record (from the blueprint's folder)\n",
    )


@pytest.mark.usefixtures("quiz")
def test_forgetting_takes_our_files_and_no_others(command: Command) -> None:
    command("diagnose", "quiz", *ANSWERS, "--feedback")
    Path("quiz/results/my notes.txt").write_text("mine", "utf-8")
    Path("quiz/columns.toml").write_text("", "utf-8")
    assert command("diagnose", "quiz", "--forget") == (0, "Took 43 files away from quiz/results.\n", "")
    assert [path.name for path in Path("quiz/results").iterdir()] == ["my notes.txt"]
    Path("quiz/results/my notes.txt").unlink()
    assert command("diagnose", "quiz", "--forget")[0::2] == (
        1,
        "quiz/results: no results lie there, so there is nothing to forget\n",
    )


def test_doubts_stop_everything_until_they_are_answered(quiz: AskedQuiz, command: Command) -> None:
    sat = alike_in_all_forms(each for each in sittings(quiz, 12) if each.form is quiz.forms[0])
    Path("answers.csv").write_bytes(csv_bytes(wide(quiz, 0, sat, by_ident, title)))
    code, out, err = command("diagnose", "quiz", "answers.csv", "--columns", "my.toml")
    assert (code, err) == (1, "")
    assert out.splitlines()[-1] == (
        'Wrote my.toml: it asks what could not be told. Answer each "?" in it, and run this again.'
    )
    assert not Path("quiz/results").exists()
    text = Path("my.toml").read_text("utf-8")
    Path("my.toml").write_text(text.replace('form = "?"', 'form = "Period 1"'), "utf-8")
    assert command("diagnose", "quiz", "answers.csv", "--columns", "my.toml")[0] == 0
    assert json.loads(Path("quiz/results/diagnosis.json").read_text("utf-8"))["sections"][0]["section"] == "Period 1"


@pytest.mark.usefixtures("quiz")
def test_what_is_refused(command: Command) -> None:
    Path("empty.csv").write_bytes(b"")
    Path("other.csv").write_bytes(b"Student,Q1\ns1,Paris\ns2,Rome\n")
    Path("nothing").mkdir()
    for arguments, line in {
        ("quiz", "none.csv"): "none.csv: cannot be read (No such file or directory): check the name and the folder",
        ("quiz", "empty.csv"): "empty.csv: it is empty: export the answers again",
        ("quiz", "nothing"): "there is no file of answers in what you named: give files, folders, or a zip",
        (
            "nothing",
            "other.csv",
        ): "nothing/record.jsonl is missing: give the quiz folder that make wrote, e.g. out/unit-3, "
        "and then the answers",
        (
            "other.csv",
            "other.csv",
        ): "other.csv is a file: give the quiz folder that make wrote, e.g. out/unit-3, and then the answers",
        (
            "quiz",
            "other.csv",
        ): "other.csv: none of its columns (headings 'Student', 'Q1' and others) can be read as answers "
        "to this quiz: is it of another quiz?",
        ("quiz", "other.csv", "--attempt", "best"): "--attempt 'best' is not known: use last or first",
        ("quiz", "other.csv", "--slips", "0.15"): (
            "--slips '0.15': give a number of students or answers in a hundred, from 1 to 40"
        ),
        ("quiz", "other.csv", "--prior", "many"): (
            "--prior 'many': give a number of students or answers in a hundred, from 0.1 to 30"
        ),
        ("quiz", "other.csv", "--omit", "skip"): "--omit 'skip' is not known: use wrong or exclude",
    }.items():
        assert command("diagnose", *arguments)[0::2] == (1, f"{line}\n")
    assert command("diagnose", "quiz")[0] == 2


def test_left_out_counts_as_wrong_or_not_at_all(quiz: AskedQuiz, command: Command) -> None:
    sat = [each for each in sittings(quiz, 12) if each.form is quiz.forms[0]]
    rows = wide(quiz, 0, sat, by_label, title)
    for row in rows[1:7]:
        row[2] = ""
    Path("period-1.csv").write_bytes(csv_bytes(rows))
    asked = {}
    for omit in ("wrong", "exclude"):
        command("diagnose", "quiz", "period-1.csv", "--omit", omit)
        item = json.loads(Path("quiz/results/diagnosis.json").read_text("utf-8"))["forms"][0]["items"][0]
        asked[omit] = item["asked"], item["omitted"]
    assert asked["wrong"][0] == asked["exclude"][0] + asked["wrong"][1] == 12
    assert asked["exclude"][1] == 0
    assert asked["wrong"][1] >= 6


@pytest.mark.usefixtures("quiz")
def test_how_much_hangs_on_what_is_assumed_is_told_if_wanted(command: Command) -> None:
    command("diagnose", "quiz", *ANSWERS)
    told = re.compile(r"With (.*) assumed instead, (\d+) of the (\d+) findings about single students would go")
    assert told.findall(Path("quiz/results/report.html").read_text("utf-8")) == []
    command("diagnose", "quiz", *ANSWERS, "--sensitivity")
    lines = told.findall(Path("quiz/results/report.html").read_text("utf-8"))
    document = json.loads(Path("quiz/results/diagnosis.json").read_text("utf-8"))
    findings = sum(len(student["findings"]) for student in document["students"])
    assert [line[0] for line in lines] == [
        "misreadings half as frequent",
        "misreadings twice as frequent",
        "half as many slips",
        "half as many slips again",
    ]
    for _, lost, of in lines:
        assert int(of) == findings > 5
        assert int(lost) * 4 <= findings, "little hangs on what is assumed"


@pytest.mark.usefixtures("quiz")
def test_what_is_assumed_can_be_changed_and_is_stated(command: Command) -> None:
    told = re.compile(r"<p>(Assumed beforehand.*?)</p>")
    found, weights = {}, {}
    for more in ((), ("--slips", "30", "--prior", "0,5"), ("--prior", "0,5")):
        command("diagnose", "quiz", *ANSWERS, *more)
        (found[more],) = told.findall(Path("quiz/results/report.html").read_text("utf-8"))
        document = json.loads(Path("quiz/results/diagnosis.json").read_text("utf-8"))
        found[more] = found[more], document["assumed"]
        weights[more] = sum(sum(student["probabilities"].values()) for student in document["students"])
    end = "if unsteady. --prior and --slips change that."
    assert list(found.values())[:2] == [
        (
            "Assumed beforehand: 2 of 100 students hold a given misreading, and who holds one does not act on it in 15 "
            f"answers of 100, or in 40 {end}",
            {"slips": [0.15, 0.4], "prior": 0.02},
        ),
        (
            "Assumed beforehand, as you told it: 0.5 of 100 students hold a given misreading, and who holds one does "
            f"not act on it in 30 answers of 100, or in 55 {end}",
            {"slips": [0.3, 0.55], "prior": 0.005},
        ),
    ]
    usual, _, doubting = weights.values()
    assert doubting < usual
