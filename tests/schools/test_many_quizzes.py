"""`make` for several plans and many schools: the same bytes as one by one, on any engine; nothing is done twice."""

import json
import os
import shutil
import signal
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from barwright.tasks.record import read_record, read_record_text
from barwright.tasks.schools.reading import School
from command_line import Command
from same_entries import entries
from schools.many import CLASSES, LIST, ORGS, PLAN, REFUSED

TOLD = "list.csv: 3 schools, 5 sections.\n2 of 3 quizzes are made: 3 forms; 1 refused.\n"
TOLD += "Next: open {0}/index.html, which has all schools.\n"


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, typed: Command, tmp_path: Path) -> Command:
    """Runs `barwright ARGUMENTS` in a folder with a plan and lists; gives exit code, output and error output."""
    monkeypatch.chdir(tmp_path)
    Path("quiz.toml").write_text(PLAN, "utf-8")
    Path("list.csv").write_text(LIST, "utf-8")
    return typed


def many(command: Command, *arguments: object) -> tuple[int, str, str]:
    return command("make", "quiz.toml", "--schools", "list.csv", "--standard", "qti12", *arguments)


def entries_but_state(folder: Path) -> dict[str, str]:
    """All that lies there but what tells `--resume` of it."""
    return {name: digest for name, digest in entries(folder).items() if not name.endswith("made.json")}


def test_every_school_has_what_its_own_plan_makes_alone(command: Command, tmp_path: Path) -> None:
    assert many(command) == (1, TOLD.format("out"), REFUSED)
    assert sorted(path.name for path in Path("out").iterdir()) == ["alder-creek", "cedar-flat", "index.html"]
    for school, sections in (("alder-creek", ["Band 6", "Band 7"]), ("cedar-flat", ["Orchestra"])):
        plan = Path("out", school, "quiz.toml")
        expected = PLAN.replace('["A", "B"]', json.dumps(sections)).splitlines()
        assert [line for line in plan.read_text("utf-8").splitlines() if "seed" not in line] == [
            line for line in expected if "seed" not in line
        ]
        command("make", plan, "--out", tmp_path / "alone" / school, "--standard", "qti12")
        alone = entries(Path("alone", school, "quiz"))
        assert entries_but_state(Path("out", school, "quiz")) == alone
    forms = [form for school in ("alder-creek", "cedar-flat") for form in forms_of(Path("out", school, "quiz"))]
    assert len({item.item.id for form in forms for item in form.items}) > 4, "schools have questions of their own"


def forms_of(quiz: Path):
    return read_record(read_record_text(quiz / "record.jsonl"), "record")


def test_processes_give_the_same_bytes(command: Command) -> None:
    many(command, "--out", "one")
    assert many(command, "--out", "two", "--workers", "2") == (1, TOLD.format("two"), REFUSED)
    assert entries(Path("one")) == entries(Path("two"))
    assert len(entries(Path("one"))) > 10


def test_one_quiz_is_parted_among_processes_and_is_the_same(command: Command) -> None:
    code, out, err = command("make", "quiz.toml", "--out", "one", "--paper")
    assert (code, err) == (0, "")
    told = command("make", "quiz.toml", "--out", "two", "--paper", "--workers", "2")
    assert told == (0, out.replace("one/", "two/"), "")
    assert entries(Path("one")) == entries(Path("two"))


def test_what_is_made_is_not_made_again(command: Command) -> None:
    many(command)
    before = {path: path.stat().st_mtime_ns for path in Path("out").rglob("*/record.jsonl")}
    whole = entries(Path("out"))
    shutil.rmtree("out/cedar-flat/quiz")
    Path("out/alder-creek/quiz/notes.txt").write_text("mine", "utf-8")
    code, out, err = many(command, "--resume")
    assert (code, err) == (1, REFUSED)
    assert "2 of 3 quizzes are made, 1 of them before: 3 forms; 1 refused.\n" in out
    record = Path("out/alder-creek/quiz/record.jsonl")
    assert record.stat().st_mtime_ns == before[record]
    assert {**whole, "alder-creek/quiz/notes.txt": entries(Path("out"))["alder-creek/quiz/notes.txt"]} == entries(
        Path("out")
    )


@pytest.mark.parametrize("what", ["plan", "sections", "seed", "option", "half", "state"])
def test_what_was_made_of_something_else_is_told_and_made_anew_with_replace(command: Command, what: str) -> None:
    many(command)
    more = ()
    if what == "plan":
        Path("quiz.toml").write_text(PLAN.replace("items = 2", "items = 3"), "utf-8")
    elif what == "sections":
        Path("list.csv").write_text(LIST.replace("Alder Creek,Band 7", "Alder Creek,Band 8"), "utf-8")
    elif what == "seed":
        more = ("--seed", "9")
    elif what == "option":
        more = ("--allow-repeats",)
    elif what == "half":
        Path("out/alder-creek/quiz/record.jsonl").unlink()
    else:
        Path("out/alder-creek/quiz/made.json").write_text("{}", "utf-8")
    code, _, err = many(command, "--resume", *more)
    assert code == 1
    assert (
        "Alder Creek, quiz: refused: out/alder-creek/quiz is not what this plan, its sections, the options and this "
        "version would make: give --replace as well to make it anew, or another folder with --out\n"
    ) in err
    assert many(command, "--resume", "--replace", "--forget-retakes", *more)[2] == REFUSED
    many(command, "--out", "fresh", *more)
    gone = {"alder-creek/quiz/band-7"} if what == "sections" else set()
    assert {n: d for n, d in entries(Path("out")).items() if not n.startswith(tuple(gone))} == entries(Path("fresh"))


def test_questions_that_a_teacher_changed_stay(command: Command) -> None:
    many(command)
    assert command("question", "another", "out/alder-creek/quiz", "1", "--section", "Band 6")[0] == 0
    changed = entries(Path("out"))
    assert many(command, "--resume")[0] == 1
    assert entries(Path("out")) == changed


def test_what_is_there_is_not_written_over_unasked(command: Command) -> None:
    many(command)
    before = entries(Path("out"))
    message = (
        "out/index.html exists: give --resume to make what is missing, --replace to make all of it anew, or another "
        "folder with --out\n"
    )
    assert many(command) == (1, "", message)
    Path("out/index.html").unlink()
    code, _, err = many(command)
    assert code == 1
    exists = "exists: give --replace to write it anew, or another folder with --out"
    assert f"Alder Creek, quiz: refused: out/alder-creek/quiz {exists}\n" in err
    many(command, "--resume")
    assert entries(Path("out")) == before


def test_several_plans_are_told_one_after_another_and_one_that_is_refused_stops_none(command: Command) -> None:
    Path("two.toml").write_text(PLAN.replace("items = 2", "items = 150"), "utf-8")
    code, out, err = command("make", "two.toml", "quiz.toml", "--standard", "qti12")
    assert code == 1
    assert out.splitlines()[0] == "quiz.toml:"
    assert out.splitlines()[-1] == "1 of 2 quizzes are made: 2 forms; 1 refused."
    assert err.startswith("two.toml, line ")
    command("make", "quiz.toml", "--out", "alone", "--standard", "qti12")
    assert entries_but_state(Path("out/quiz")) == entries(Path("alone/quiz"))
    assert "1 of 1" not in command("make", "quiz.toml", "--out", "alone", "--replace")[1]


TIGHT = PLAN.replace("items = 2", "items = 4")
"""For five sections about half of the seeds give forms that are not parallel."""


def test_a_seed_that_gives_no_fair_forms_is_passed_over(command: Command) -> None:
    """The school's plan holds the seed that gave them, and makes the same alone; the next run knows it."""
    Path("tight.toml").write_text(TIGHT, "utf-8")
    rows = [f"School {n},Band {k}" for n in range(3) for k in range(5)]
    Path("many.csv").write_text("\n".join(["school,section", *rows]), "utf-8")
    arguments = ("make", "tight.toml", "--schools", "many.csv", "--standard", "qti12", "--resume")
    code, _, err = command(*arguments)
    assert (code, err) == (0, "")
    used = {school: tomllib.loads(Path("out", school, "tight.toml").read_text("utf-8"))["seed"] for school in SCHOOLS}
    first = {school: School(name, name, school, ()).seeds(3)[0] for school, name in SCHOOLS.items()}
    others = [school for school in SCHOOLS if used[school] != first[school]]
    assert others
    school = others[0]
    assert command("make", f"out/{school}/tight.toml", "--out", "alone", "--standard", "qti12")[0] == 0
    assert entries_but_state(Path("out", school, "tight")) == entries(Path("alone/tight"))
    again = command("make", f"out/{school}/tight.toml", "--out", "no", "--seed", str(first[school]))
    assert again[0] == 1
    assert "try another --seed" in again[2]
    before = entries(Path("out"))
    assert "3 of 3 quizzes are made, 3 of them before" in command(*arguments)[1]
    assert entries(Path("out")) == before


SCHOOLS = {f"school-{n}": f"School {n}" for n in range(3)}


def test_the_page_of_all_schools(command: Command) -> None:
    Path("list.csv").write_text(LIST.replace("Alder", "<Alder>"), "utf-8")
    many(command)
    page = Path("out/index.html").read_text("utf-8")
    assert "&lt;Alder&gt; Creek" in page
    assert 'href="alder-creek/quiz/proof.html"' in page
    assert "2 quizzes for 3 schools, 3 forms in all." in page
    assert "has no letter a-z or digit" in page
    assert "<script" not in page
    assert "http" not in page


def test_classes_of_a_district_by_their_subject_and_the_files_beside_a_plan(command: Command) -> None:
    Path("orgs.csv").write_text(ORGS, "utf-8")
    Path("classes.csv").write_text(CLASSES, "utf-8")
    plan = PLAN.replace(
        'sections = ["A", "B"]  # of whoever makes it alone',
        'sections_file = "classes.csv"\nsections_where = { subjects = "Music" }\nexcerpts_file = "own.txt"\n'
        'avoid = "old/quiz/record.jsonl"',
    )
    Path("own.txt").write_text("4/4 h q q\n", "utf-8")
    command("make", "quiz.toml", "--out", "old")
    Path("unit.toml").write_text(plan, "utf-8")
    code, out, err = command("make", "unit.toml", "--schools", "orgs.csv", "--out", "deep/out")
    assert (code, err) == (0, "")
    assert out.splitlines()[0] == "orgs.csv: 2 schools, 3 sections."
    assert Path("deep/out/alder-creek/own.txt").read_text("utf-8") == "4/4 h q q\n"
    assert 'avoid = "../../../old/quiz/record.jsonl"' in Path("deep/out/alder-creek/unit.toml").read_text("utf-8")
    assert command("make", "deep/out/alder-creek/unit.toml", "--out", "deep/out/alder-creek", "--retake", "1")[0] == 0
    assert command("make", "unit.toml", "--schools", "orgs.csv", "--where", "subjects=Math", "--out", "m")[
        1
    ].startswith("orgs.csv: 2 schools, 2 sections.\n")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--resume"], "--resume does nothing here: give it with --schools, or with several blueprints\n"),
        (["--where", "a=b"], "--where does nothing here: give it with --schools\n"),
        (
            ["--schools", "list.csv", "--verbose"],
            "--verbose is for one quiz: leave it out, and look at single quizzes by their proofs\n",
        ),
        (
            ["--schools", "list.csv", "--retake", "1"],
            "--section and --retake are for one quiz: each school's folder holds its own plan, so give that with --out"
            ", e.g.  barwright make out/alder-creek/unit-3.toml --out out/alder-creek --retake 1\n",
        ),
        (["--workers", "0"], "--workers 0: give a number from 1 to 256, about one for each core\n"),
        (
            ["--workers", "2", "--dask", "tcp://127.0.0.1:1"],
            "--workers and --dask: give one of them, since a cluster knows how many workers it has\n",
        ),
        (["other/quiz.toml"], "quiz.toml and other/quiz.toml would be quizzes of one name 'quiz': rename one\n"),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else "",
)  # fmt: skip
def test_options_without_effect_are_refused(command: Command, arguments: list[str], message: str) -> None:
    assert command("make", "quiz.toml", *arguments) == (1, "", message)
    assert not Path("out").exists()


def test_a_plan_that_is_called_as_a_school_is(command: Command) -> None:
    Path("quiz.toml").rename("cedar flat.toml")
    assert command("make", "cedar flat.toml", "--schools", "list.csv") == (
        1,
        "list.csv: 3 schools, 5 sections.\n",
        "cedar flat.toml is called as the folder of the school 'Cedar Flat': give it another name\n",
    )


def until(terminal: int, text: bytes) -> bytes:
    """What a terminal shows until it shows this, or until nobody writes to it any more."""
    seen = b""
    while text not in seen:
        try:
            seen += os.read(terminal, 1000)
        except OSError:  # how Linux tells that the other end is closed
            break
    return seen


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGKILL])
def test_a_stop_loses_nothing_and_leaves_no_worker(command: Command, how: signal.Signals) -> None:
    """The end of the output is waited for: it comes when the last process ends that has it, so no worker is left."""
    pty = pytest.importorskip("pty")
    schools = "".join(f"School {n},Band\n" for n in range(40))
    Path("list.csv").write_text(f"school,section\n{schools}", "utf-8")
    # Where tests run in the background, children are born deaf to Ctrl-C.
    hears = "import signal; signal.signal(signal.SIGINT, signal.default_int_handler)"
    program = [sys.executable, "-c", f"{hears}; from barwright.cli import run; run()", "make", "quiz.toml"]
    options = ["--schools", "list.csv", "--workers", "2", "--standard", "qti12"]
    terminal, other = pty.openpty()
    with subprocess.Popen(
        [*program, *options], start_new_session=True, stdout=subprocess.PIPE, stderr=other
    ) as process:
        os.close(other)
        assert b"quizzes: 3 of 40" in until(terminal, b"quizzes: 3 of 40")
        process.send_signal(how)
        assert process.stdout is not None
        process.stdout.read()
    told = until(terminal, b"never told").decode().splitlines()
    os.close(terminal)
    made = len(list(Path("out").glob("*/quiz/made.json")))
    assert 3 <= made < 40
    if how == signal.SIGINT:
        assert (process.returncode, told[-1]) == (
            1,
            f"stopped: {made} of 40 quizzes are made or refused, and nothing of them is lost; the same command with "
            "--resume makes the others",
        )
    names = [f"school-{n}" for n in range(40)]
    whole = [name for name in names if Path("out", name, "quiz").exists()]
    few = [*whole[:2], *[name for name in names if name not in whole][:2]]  # two that are made, and two that are not
    lines = "".join(f"{name.replace('s', 'S', 1).replace('-', ' ')},Band\n" for name in few)
    Path("list.csv").write_text(f"school,section\n{lines}", "utf-8")
    resumed = many(command, "--resume")
    assert resumed[0] == 0
    assert resumed[1].splitlines()[1] == "4 of 4 quizzes are made, 2 of them before: 4 forms; 0 refused."
    assert many(command, "--out", "fresh")[0] == 0
    for name in few:
        assert entries(Path("out", name)) == entries(Path("fresh", name))
        assert not list(Path("out", name).glob(".*"))
