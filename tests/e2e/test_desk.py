"""The desk in headless Chromium: a whole quiz by keyboard alone, and every page and state audited with axe-core."""

import json
import os
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import published
from barwright.tasks.check import check, failed
from barwright.tasks.diagnose.asked import asked_quiz
from desk.opened_desk import opened_desk
from e2e.browser import HERE, installed, lacking
from edits.made_quizzes import BLUEPRINT, ids
from made_once import Once
from results.shapes import by_label, csv_bytes, title, wide
from results.simulated_classes import sittings

SHARED = Path(__file__).parents[2] / "shared"
BROKEN = 'title = ""\n[elements]\nmeters = ["9/9"]\nnotes = ["half"]\n[[part]]\nfamily = "x"\nask = "y"\nitems = 0\n'

IDENT = re.compile(rb'"id":"([0-9a-f]{16})"')


@pytest.fixture(scope="module")
def modules() -> Path:
    """The node modules; skips where pages cannot be shown, but never with CI=true."""
    if lacking() and os.environ.get("CI") != "true":
        pytest.skip(lacking())
    assert not lacking()
    return installed()


Going = Callable[[dict[str, object]], dict[str, list[str]]]


@pytest.fixture(scope="module")
def going(modules: Path) -> Iterator[Going]:
    """Goes through a desk (see desk.mjs) and gives back what was found; one browser for all."""
    command = ["node", HERE / "desk.mjs", modules, shutil.which("chromium"), os.environ.get("DESK_SHOTS", "")]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as browser:
        stdin, stdout = browser.stdin, browser.stdout
        assert stdin is not None
        assert stdout is not None

        def gone(job: dict[str, object]) -> dict[str, list[str]]:
            stdin.write(json.dumps(job) + "\n")
            stdin.flush()
            line = stdout.readline()
            assert line, "the browser ended: see what it said"
            told: dict[str, list[str]] = json.loads(line)
            return told

        yield gone
        stdin.close()


def test_a_whole_quiz_is_made_by_keyboard_alone(going: Going, standards: Path, tmp_path: Path) -> None:
    with opened_desk(tmp_path / "new", tmp_path / "state", enter=False) as desk:
        told = going({"entry": desk.entry, "keyboard": True, "pages": ["/quiz/made-by-keys"]})
    capacity, fault, heading = told["steps"]
    assert capacity.startswith("It can give ")
    assert fault.endswith("items = 'none' is not of the right kind: write a whole number, without quotes")
    assert heading == "Made by keys"
    assert {name: found for name, found in told.items() if found and name != "steps"} == {}
    made = tmp_path / "new" / "out" / "made-by-keys"
    packages = [*made.rglob("*.imscc"), *made.rglob("*.zip")]
    assert len(packages) == 4
    assert not failed(check(packages))
    assert published.complaints(standards, packages) == []


def test_a_bank_is_dropped_and_merged_and_answers_become_a_quiz_of_what_to_teach_again(
    going: Going, tmp_path: Path, made_once: Once
) -> None:
    folder = tmp_path / "quizzes"
    folder.mkdir()
    made_once(folder, BLUEPRINT, standards=("cc13",))
    shutil.copy(SHARED / "banks" / "alder.jsonl", folder)
    quiz = asked_quiz(folder / "out" / "quiz")
    files = []
    for number, form in enumerate(quiz.forms):
        sat = [each for each in sittings(quiz, 25) if each.form is form]
        files.append(str(tmp_path / f"{number}.csv"))
        Path(files[-1]).write_bytes(csv_bytes(wide(quiz, number, sat, by_label, title)))
    bank = {"page": "/bank/alder.jsonl", "name": "theirs.jsonl", "file": str(SHARED / "banks" / "birch.jsonl")}
    with opened_desk(folder, tmp_path / "state", enter=False) as desk:
        answers = {"quiz": "/quiz/quiz", "files": files}
        told = going({"entry": desk.entry, "keyboard": False, "bank": bank, "answers": answers, "pages": []})
    new, total, again = told["steps"]
    ours, theirs = (
        set(IDENT.findall((SHARED / "banks" / f"{name}.jsonl").read_bytes())) for name in ("alder", "birch")
    )
    assert new.startswith(f"{len(theirs)} items: {len(theirs - ours)} new, {len(theirs & ours)} that the bank has")
    assert total.startswith(f"{len(ours | theirs)} items: ")
    assert set(IDENT.findall((folder / "alder.jsonl").read_bytes())) == ours | theirs
    assert {name: found for name, found in told.items() if found and name != "steps"} == {}
    (made,) = (folder / "out").glob("quiz-again*")
    assert again
    assert not failed(check([*made.rglob("*.imscc"), *made.rglob("*.zip")]))


def test_one_question_is_exchanged_one_kept_over_a_new_seed_and_one_never_asked_again(
    going: Going, tmp_path: Path, made_once: Once
) -> None:
    folder = tmp_path / "quizzes"
    folder.mkdir()
    made_once(folder, BLUEPRINT, standards=("cc13",))
    quiz = folder / "out" / "quiz"
    before = ids(quiz)
    with opened_desk(folder, tmp_path / "state") as desk:
        entry = desk.send("POST", "/join", {"Authorization": f"Bearer {joining(desk.home)}"}).text
        job = {"entry": entry, "keyboard": False, "proof": "/quiz/quiz/proof/1", "pages": []}
        told = going(job)
        after = ids(quiz)
        exchanged, kept, never = told["steps"]
        assert exchanged.startswith(f"Question 2 of Period 1 is now {after[1]}: ")
        assert kept == "Changed: kept."
        assert never == (f"Question 4 of Period 1 ({before[3]}) is never asked again; in its place stands {after[3]}.")
        assert {name: found for name, found in told.items() if found and name != "steps"} == {}
        assert [one == other for one, other in zip(before, after, strict=True)].count(False) == 2
        desk.wait(desk.post("/plan/quiz/make", {"way": "anew", "seed": "77"}).headers["location"])
    anew = ids(quiz)
    assert anew[2] == before[2]
    assert [one == other for one, other in zip(after, anew, strict=True)].count(True) == 1
    assert before[3] not in {*anew, *ids(quiz, "Period 3")}
    assert not failed(check([*quiz.rglob("*.imscc")]))


def test_every_page_is_accessible_narrow_and_asks_nobody_else(going: Going, tmp_path: Path, made_once: Once) -> None:
    folder = tmp_path / "quizzes"
    folder.mkdir()
    made_once(folder, BLUEPRINT, standards=("cc13",))
    shutil.copy(SHARED / "blueprints" / "unit-3-first-six-eight.toml", folder)
    (folder / "broken.toml").write_text(BROKEN, "utf-8")
    (folder / "unreadable.toml").write_text('title = "\n', "utf-8")
    shutil.copy(SHARED / "banks" / "alder.jsonl", folder)
    with opened_desk(folder, tmp_path / "state") as desk:
        desk.upload("/bank/alder.jsonl/drop", "bank", {"b.jsonl": (SHARED / "banks" / "birch.jsonl").read_bytes()})
        asked = asked_quiz(folder / "out" / "quiz")
        sat = [each for each in sittings(asked, 6) if each.form is asked.forms[0]]
        rows = wide(asked, 0, sat, by_label, lambda n, _q, _i: f"entry {n}")
        columns = csv_bytes([[*row, "remark"] for row in rows])
        desk.wait(desk.upload("/quiz/quiz/answers", "answers", {"a.csv": columns}).headers["location"])
        quiz = "/quiz/quiz"
        pages = [
            "/",
            "/plan/unit-3-first-six-eight",
            "/plan/broken",
            "/plan/unreadable",
            quiz,
            f"{quiz}/proof/1",
            f"{quiz}/answers",
        ]
        pages += [
            "/plan/quiz/make",
            "/bank/alder.jsonl?where=meter%3D3/4",
            "/bank/alder.jsonl/incoming",
            "/help",
            "/help/plan",
            "/help/conventions",
            "/help/commands",
        ]
        entry = desk.send("POST", "/join", {"Authorization": f"Bearer {joining(desk.home)}"}).text
        told = going({"entry": entry, "keyboard": False, "pages": pages})
    assert {name: found for name, found in told.items() if found} == {}


def joining(home: Path) -> str:
    """The secret by which a second desk joins the first."""
    (state,) = home.glob("*.json")
    return str(json.loads(state.read_text("utf-8"))["joining"])
