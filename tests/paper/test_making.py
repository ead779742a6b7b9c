"""`make --paper` and `sheet` as a teacher runs them: the files, the same record, and excerpts that the quiz spares."""

from pathlib import Path

import pytest

from barwright.blueprint.parsing import read_blueprint
from barwright.engrave.font import load_font
from barwright.forms.practice import is_asked, practice
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import format_excerpt
from barwright.tasks.form_folders import RECORD
from barwright.tasks.make import Made, make
from barwright.tasks.packing import Order
from barwright.tasks.record import read_record, read_record_text
from barwright.tasks.sheet import practice_page
from barwright.tasks.summary import summary
from command_line import Command
from paper.printed import BLUEPRINTS, UNITS, Pdf

UNIT_1 = BLUEPRINTS / f"{UNITS[0]}.toml"


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, typed: Command, tmp_path: Path) -> Command:
    """Runs `barwright ARGUMENTS` in a folder of its own; exit code, output, error output."""
    monkeypatch.chdir(tmp_path)
    return typed


@pytest.fixture
def blueprint(tmp_path: Path) -> Path:
    """The first demo blueprint with two sections and few items, for speed."""
    path = tmp_path / "quiz.toml"
    text = UNIT_1.read_text("utf-8").replace("items  = 4", "items  = 2").replace("items       = 4", "items = 2")
    path.write_text(text.replace(', "Period 6"]', "]"), encoding="utf-8")
    return path


def made(path: Path, out: Path, **order: object) -> Made:
    return make(path, Order(out, **{"standards": ("cc13",), **order}), progress=lambda *_: None)


def files(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


PDFS = {f"period-{n}/{name}.pdf" for n in (1, 3) for name in ("quiz", "key")}


def test_paper_is_of_the_same_record_and_changes_no_package(blueprint: Path, tmp_path: Path) -> None:
    without, printed = made(blueprint, tmp_path / "a"), made(blueprint, tmp_path / "b", paper=True)
    plain, paper = files(without.folder), files(printed.folder)
    assert set(paper) - set(plain) == PDFS == set(printed.packed.printed)
    assert {path: data for path, data in paper.items() if path not in PDFS} == plain
    line = "Paper: print period-1/quiz.pdf for each student and period-1/key.pdf for yourself, and so for each form."
    assert line in summary(printed)
    assert line not in summary(without)


def test_a_printed_quiz_stays_printed_and_a_retake_is_printed_too(blueprint: Path, tmp_path: Path) -> None:
    first = made(blueprint, tmp_path, paper=True)
    before = files(first.folder)
    again = made(blueprint, tmp_path, retake=1)
    after = files(again.folder)
    retakes = {"/retake-1/".join(path.split("/")) for path in PDFS}
    assert set(again.packed.printed) == retakes
    assert {path for path in after if path.endswith(".pdf")} == PDFS | retakes
    assert {path: after[path] for path in PDFS} == {path: before[path] for path in PDFS}
    assert "Section: Period 1, retake 1" in Pdf(after["period-1/retake-1/quiz.pdf"]).texts()[0]


def test_printed_pages_of_a_section_that_is_gone_are_taken_away(blueprint: Path, tmp_path: Path) -> None:
    made(blueprint, tmp_path, paper=True)
    blueprint.write_text(blueprint.read_text("utf-8").replace(', "Period 3"]', "]"), encoding="utf-8")
    again = made(blueprint, tmp_path, replace=True, forget_retakes=True)
    assert again.removed == ("period-3/quiz.imscc", "period-3/quiz.pdf", "period-3/key.pdf")
    assert {path for path in files(again.folder) if path.endswith(".pdf")} == {"period-1/quiz.pdf", "period-1/key.pdf"}


def test_other_paper_makes_no_other_quiz(blueprint: Path, tmp_path: Path) -> None:
    """The sheet is no part of what forms have in common: a retake may be printed on another one."""
    made(blueprint, tmp_path, paper=True)
    text = blueprint.read_text("utf-8").replace("[quiz]\n", '[quiz]\npaper = "a4"\n')
    blueprint.write_text(text, encoding="utf-8")
    again = made(blueprint, tmp_path, retake=1, sections=("Period 1",))
    retake = Pdf(files(again.folder)["period-1/retake-1/quiz.pdf"])
    assert [round(float(edge)) for edge in retake.file.pages[0].MediaBox[2:]] == [595, 842]  # A4 in points, ISO 216


def test_variants_that_only_a_platform_draws_are_named_as_left_out(blueprint: Path, tmp_path: Path) -> None:
    text = blueprint.read_text("utf-8").replace("[quiz]\n", "[quiz]\ndraw = true\nvariants = 2\n")
    blueprint.write_text(text, encoding="utf-8")
    printed = made(blueprint, tmp_path, paper=True, standards=("qti22",))
    assert (
        "On paper every student gets the first variant of 11 questions: the others are left out, since only a platform "
        "can draw one for each student."
    ) in summary(printed)


@pytest.mark.parametrize("name", UNITS)
def test_practice_holds_nothing_that_the_quiz_asks(name: str) -> None:
    """Neither a measure with its blank, nor a whole excerpt inside a longer line; of any section."""
    plan, _ = read_blueprint((BLUEPRINTS / f"{name}.toml").read_text("utf-8"), name)
    first = practice(plan, (), seed=plan.seed)
    asked = [question.excerpt for question in first.complete] + [item.excerpt for item in first.counts]
    asked += [Excerpt(e.meter, e.measures[1:]) for e in first.barlines]  # a part of a line is an excerpt, too
    found = practice(plan, asked, seed=plan.seed)
    shown = [q.excerpt for q in found.complete] + [i.excerpt for i in found.counts] + list(found.barlines)
    assert len(shown) >= 10
    assert not any(is_asked(excerpt, frozenset(asked)) for excerpt in shown)
    assert not {format_excerpt(e) for e in shown} & {format_excerpt(e) for e in asked}


def test_the_page_of_practice_spares_every_form_and_retake_of_the_record(
    command: Command, blueprint: Path, tmp_path: Path
) -> None:
    made(blueprint, tmp_path / "out")
    folder = made(blueprint, tmp_path / "out", retake=1).folder
    code, out, err = command("sheet", "quiz.toml")
    page, key = Path("out/quiz-practice.pdf"), Path("out/quiz-practice-key.pdf")
    assert (code, err) == (0, "")
    assert out.splitlines() == [
        f"Wrote {page} and {key}: nothing on it is asked in the quiz (the 4 forms in its record).",
        f"Next: look at {page}, and print it for the lesson before the quiz.",
    ]
    forms = read_record(read_record_text(folder / RECORD), "record")
    asked = frozenset(p.item.excerpt for form in forms for p in form.items)
    plan, _ = read_blueprint(blueprint.read_text("utf-8"), "quiz.toml")
    found = practice(plan, asked, seed=plan.seed)
    told = [each.alt for each in practice_page(found, plan, load_font("Bravura")).complete]
    alts = [tag.alt for tag in Pdf(page.read_bytes()).tags() if tag.kind == "Figure"]
    assert alts[: len(told)] == told
    assert Pdf(page.read_bytes()).pages == Pdf(key.read_bytes()).pages == 1


@pytest.mark.usefixtures("blueprint")
def test_the_practice_key_has_the_same_exercises_and_their_answers(command: Command) -> None:
    assert command("sheet", "quiz.toml")[0] == 0
    page, key = (Pdf(Path(f"out/quiz-practice{end}.pdf").read_bytes()) for end in ("", "-key"))
    shown, solved = ([t.alt for t in each.tags() if t.kind == "Figure"] for each in (page, key))
    assert len(shown) == len(solved)
    for task, answer in zip(shown, solved, strict=True):
        if "blank" in task:
            assert "blank" not in answer
            assert task.split(":")[0] == answer.split(":")[0]
    assert not any("easure 2" in alt for alt in shown[-4:])  # where barlines are drawn none is told
    assert all("easure 2" in alt for alt in solved[-4:])
    assert "1-2" in key.texts()[0]
    assert "1-2" not in page.texts()[0]


@pytest.mark.usefixtures("blueprint")
def test_a_page_that_exists_is_left_alone(command: Command) -> None:
    Path("out").mkdir()
    kept = Path("out/quiz-practice-key.pdf")
    kept.write_bytes(b"mine")
    code, out, err = command("sheet", "quiz.toml")
    told = f"{kept} exists: give --replace to write it anew, or another folder with --out\n"
    assert (code, out, err) == (1, "", told)
    assert (kept.read_bytes(), Path("out/quiz-practice.pdf").exists()) == (b"mine", False)
    assert command("sheet", "quiz.toml", "--replace")[0] == 0
    assert Pdf(kept.read_bytes()).pages == 1


def test_answers_from_paper_are_diagnosed(command: Command, blueprint: Path, tmp_path: Path) -> None:
    folder = made(blueprint, tmp_path / "out", paper=True).folder
    table = tmp_path / "period-1.csv"
    table.write_text(
        "Student,1,2,3,4,5,6,7,8,9,10,11\n" + "".join(f"s{n},A,B,-,1,A,C,C,A,B,A,B\n" for n in range(6)),
        encoding="utf-8",
    )
    code, out, err = command("diagnose", folder, table, "--paper")
    assert (code, err) == (0, "")
    assert "period-1.csv: Period 1: 6 student(s); 11 of 11 questions (11 by number)" in out
    assert (folder / "results" / "report.html").is_file()
