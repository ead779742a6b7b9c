"""One form made again, a section added, retakes: the others stay byte for byte, and nobody sees an excerpt twice."""

import hashlib
import json
import re
import zipfile
from html import escape, unescape
from pathlib import Path

import pytest

from barwright.errors import BarwrightError
from barwright.forms.parallel import WHOLE, cells_of, first_variants, spread_of
from barwright.rhythm.text import format_excerpt
from barwright.tasks.form_folders import RECORD
from barwright.tasks.make import Made, make
from barwright.tasks.packing import Order
from barwright.tasks.record import read_record
from barwright.tasks.summary import judgements, summary
from barwright.wording.reading_level import student_texts
from made_once import Once

UNIT_1 = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-1-half-notes-and-rests.toml"


def made(path: Path, out: Path, **order: object) -> Made:
    return make(path, Order(out, **{"standards": ("cc13",), "allow_repeats": True, **order}), progress=lambda *_: None)


@pytest.fixture
def blueprint(tmp_path: Path) -> Path:
    """The first demo blueprint with fewer items, and none that must be about something, for speed."""
    path = tmp_path / "quiz.toml"
    text = UNIT_1.read_text("utf-8").replace("items  = 4", "items  = 2").replace("items       = 4", "items = 2")
    path.write_text(text.replace("misreadings", "# misreadings"))
    return path


@pytest.fixture
def quiz(blueprint: Path, tmp_path: Path, made_once: Once) -> Path:
    """The folder of the quiz of it below `out`, as `made` makes it."""
    return made_once(tmp_path, blueprint.read_text("utf-8"), standards=("cc13",), allow_repeats=True)


def digests(folder: Path) -> dict[str, str]:
    files = (p for p in folder.rglob("*") if p.is_file())
    return {p.relative_to(folder).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest() for p in files}


def excerpts(folder: Path) -> dict[tuple[str, int], set[str]]:
    found: dict[tuple[str, int], set[str]] = {}
    for line in (folder / RECORD).read_text("utf-8").splitlines()[1:]:
        each = json.loads(line)
        found.setdefault((each["section"], each["retake"]), set()).add(each["content"]["excerpt"])
    return found


def test_one_section_made_again_leaves_the_others_byte_for_byte(blueprint: Path, tmp_path: Path, quiz: Path) -> None:
    before = digests(quiz)
    made(blueprint, tmp_path / "out", sections=("Period 6",), seed=99)
    after = digests(quiz)
    assert {n for n in before if before[n] != after[n]} == {"period-6/quiz.imscc", "proof.html", "key.html", RECORD}
    record = excerpts(quiz)
    assert sum(map(len, record.values())) == len(set.union(*record.values()))


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('ask    = "does-it-fit"\nitems  = 2', 'ask    = "does-it-fit"\nitems  = 3', "part"),
        ("half notes and rests", "half notes", "title"),
        ('rests  = ["whole", ', "rests  = [", "elements"),
        ('counting         = "numbers"', 'counting = "gordon"', "conventions"),
    ],
)
def test_a_changed_blueprint_makes_no_form_beside_the_old_ones(
    blueprint: Path, tmp_path: Path, quiz: Path, old: str, new: str, key: str
) -> None:
    before = digests(quiz)
    assert old in blueprint.read_text("utf-8")
    blueprint.write_text(blueprint.read_text("utf-8").replace(old, new))
    for order in ({"sections": ("Period 6",)}, {"retake": 1}):
        assert refusal(blueprint, tmp_path / "out", **order) == (
            f"{quiz} was made from another blueprint than {blueprint} is now ({key} changed), so a new form would "
            "not be parallel to the others: change that back, or make a new quiz with --out, or this one anew with "
            "--replace alone"
        )
    assert digests(quiz) == before


@pytest.mark.usefixtures("quiz")
def test_a_section_does_not_take_the_folder_of_another(blueprint: Path, tmp_path: Path) -> None:
    blueprint.write_text(blueprint.read_text("utf-8").replace('"Period 6"', '"period 6"'))
    assert refusal(blueprint, tmp_path / "out", sections=("period 6",)) == (
        "section 'period 6' would have the folder of 'Period 6', which the quiz has already: write it as before, or "
        "give it a name of its own"
    )


def test_without_its_record_nothing_is_added_and_old_packages_go(blueprint: Path, tmp_path: Path, quiz: Path) -> None:
    (quiz / RECORD).unlink()
    (quiz / "my copy").mkdir()
    (quiz / "my copy" / "quiz.imscc").write_bytes(b"mine")
    assert refusal(blueprint, tmp_path / "out", retake=1) == (
        f"{quiz / RECORD} is missing, and no form can be added without it: make the quiz anew with --replace"
    )
    result = made(blueprint, tmp_path / "out", replace=True, standards=("qti30",))
    sections = ("period-1", "period-3", "period-6")
    assert (quiz / "my copy" / "quiz.imscc").read_bytes() == b"mine"
    assert result.removed == tuple(f"{section}/quiz.imscc" for section in sections)
    assert [p.name for section in sections for p in (quiz / section).iterdir()] == ["quiz-qti30.zip"] * 3


def test_a_platform_shows_which_section_and_which_retake_a_quiz_is_for(blueprint: Path, tmp_path: Path) -> None:
    """Six imports into one course would else be six quizzes of one name."""
    standards = ("cc13", "qti12", "qti22", "qti30")
    folder = made(blueprint, tmp_path / "out", standards=standards).folder
    made(blueprint, tmp_path / "out", retake=1, sections=("Period 3",), standards=standards)
    title = "Rhythm check 1: half notes and rests, Period 3"
    for place, wanted in (("period-3", title), ("period-3/retake-1", f"{title}, retake 1")):
        packages = sorted((folder / place).glob("quiz*"))
        assert len(packages) == len(standards)
        for package in packages:
            with zipfile.ZipFile(package) as opened:
                texts = [opened.read(name).decode() for name in opened.namelist() if name.endswith(".xml")]
            titles = {found for text in texts for found in re.findall(r'title="(Rhythm check 1[^"]*)"', text)}
            assert titles == {wanted}, package


@pytest.mark.usefixtures("quiz")
def test_a_quiz_made_anew_tells_which_forms_it_forgets(blueprint: Path, tmp_path: Path) -> None:
    made(blueprint, tmp_path / "out", retake=1, sections=("Period 3",))
    result = made(blueprint, tmp_path / "out", replace=True, forget_retakes=True)
    assert result.lost == ("Period 3, retake 1",)
    assert "Period 3, retake 1: no longer in the record, since the whole quiz was made anew." in summary(result)


def forgets(folder: Path, names: str) -> str:
    return (
        f"{folder} holds what classes may have had, and --replace would forget it ({names}): make one form alone anew "
        "with --section, or another quiz with --out; to forget it all the same give --forget-retakes as well"
    )


def test_a_quiz_made_anew_forgets_no_retake_unless_told_so(blueprint: Path, tmp_path: Path, quiz: Path) -> None:
    made(blueprint, tmp_path / "out", replace=True)  # nothing but the quiz itself
    made(blueprint, tmp_path / "out", retake=1, sections=("Period 3",))
    before = digests(quiz)
    assert refusal(blueprint, tmp_path / "out", replace=True) == forgets(quiz, "Period 3, retake 1")
    (quiz / RECORD).write_text("lost\n")
    assert refusal(blueprint, tmp_path / "out", replace=True) == forgets(quiz, "period-3/retake-1")
    assert {n: d for n, d in digests(quiz).items() if n != RECORD} == {n: d for n, d in before.items() if n != RECORD}
    made(blueprint, tmp_path / "out", replace=True, forget_retakes=True)
    assert not (quiz / "period-3" / "retake-1").exists()


def test_a_quiz_made_anew_forgets_no_section_unless_told_so(blueprint: Path, tmp_path: Path, quiz: Path) -> None:
    blueprint.write_text(blueprint.read_text("utf-8").replace(', "Period 6"]', "]"))
    assert refusal(blueprint, tmp_path / "out", replace=True) == forgets(quiz, "Period 6")


@pytest.mark.usefixtures("quiz")
def test_only_a_whole_quiz_made_anew_can_forget_retakes(blueprint: Path, tmp_path: Path) -> None:
    for order in ({}, {"replace": True, "retake": 1}, {"replace": True, "sections": ("Period 3",)}):
        assert refusal(blueprint, tmp_path / "out", forget_retakes=True, **order) == (
            "--forget-retakes does nothing here: give it with --replace, and without --section and --retake, to make "
            "the whole quiz anew"
        )


@pytest.mark.parametrize("alone", [False, True])
def test_a_form_made_with_another_seed_is_of_what_the_class_has_not_had(
    blueprint: Path, tmp_path: Path, alone: bool
) -> None:
    """Nor is any form after it: the record keeps what the class has had."""
    if alone:
        text = blueprint.read_text("utf-8")
        blueprint.write_text(re.sub(r"sections *= .*", 'sections = ["Period 6"]', text))
    out = tmp_path / "out"
    folder = made(blueprint, out).folder
    had = [excerpts(folder)["Period 6", 0]]
    for order in ({"seed": 2}, {"seed": 3}, {"retake": 1}):
        new = made(blueprint, out, sections=("Period 6",), allow_repeats=False, **order)
        (form,) = [each.form for each in new.forms]
        now = {format_excerpt(placed.item.excerpt) for placed in form.items}
        assert now.isdisjoint(set.union(*had)), order
        had.append(now)
        assert excerpts(folder)["Period 6", 0] >= set.union(*(had[:-1] if "retake" in order else had))
    lines = [json.loads(line) for line in (folder / RECORD).read_text("utf-8").splitlines()[1:]]
    kept = {(line["section"], line["retake"], line.get("earlier", 0)) for line in lines}
    assert {each for each in kept if each[0] == "Period 6"} == {
        ("Period 6", 0, 0), ("Period 6", 0, 1), ("Period 6", 0, 2), ("Period 6", 1, 0),
    }  # fmt: skip
    assert {(f.section, f.retake) for f in read_record((folder / RECORD).read_text("utf-8"), RECORD)} == {
        (section, retake) for section, retake, earlier in kept if not earlier
    }
    assert refusal(blueprint, out, replace=True) == forgets(
        folder, "Period 6, retake 1; Period 6, earlier form 1; Period 6, earlier form 2"
    )


@pytest.mark.parametrize("alone", [False, True])
def test_the_same_seed_once_more_is_the_same_form(blueprint: Path, tmp_path: Path, alone: bool) -> None:
    if alone:
        blueprint.write_text(re.sub(r"sections *= .*", 'sections = ["Period 6"]', blueprint.read_text("utf-8")))
    folder = made(blueprint, tmp_path / "out").folder
    made(blueprint, tmp_path / "out", sections=("Period 6",), seed=2, allow_repeats=False)
    before = digests(folder)
    made(blueprint, tmp_path / "out", sections=("Period 6",), seed=2, allow_repeats=False)
    assert digests(folder) == before


def test_the_same_form_made_again_is_no_earlier_one(blueprint: Path, tmp_path: Path, quiz: Path) -> None:
    before = (quiz / RECORD).read_bytes()
    made(blueprint, tmp_path / "out", sections=("Period 3",))
    assert (quiz / RECORD).read_bytes() == before


def test_a_folder_that_has_the_name_of_the_quiz_is_its_folder(blueprint: Path, tmp_path: Path) -> None:
    assert made(blueprint, tmp_path / "out" / "quiz").folder == tmp_path / "out" / "quiz"
    assert made(blueprint, tmp_path / "quizzes").folder == tmp_path / "quizzes" / "quiz"


def test_forms_stand_in_the_order_of_the_blueprint_and_retakes_after_all(
    blueprint: Path, tmp_path: Path, quiz: Path
) -> None:
    made(blueprint, tmp_path / "out", retake=1)
    blueprint.write_text(blueprint.read_text("utf-8").replace('["Period 1", ', '["Period 0", "Period 1", '))
    made(blueprint, tmp_path / "out", sections=("Period 0",), allow_repeats=True)
    forms = read_record((quiz / RECORD).read_text("utf-8"), RECORD)
    numbers = [(form.section.removeprefix("Period "), form.retake) for form in forms]
    assert numbers == [("0", 0), ("1", 0), ("3", 0), ("6", 0), ("1", 1), ("3", 1), ("6", 1)]


@pytest.mark.usefixtures("quiz")
def test_a_section_made_again_from_the_same_blueprint_is_parallel_to_the_others(
    blueprint: Path, tmp_path: Path
) -> None:
    again = made(blueprint, tmp_path / "out", sections=("Period 3",))
    first = made(blueprint, tmp_path / "other")
    cells = cells_of([spread_of(first_variants(made.form)) for made in (again.forms[0], *first.forms)])
    assert all(cell.apart <= 1 for cell in cells if cell.trait.of != WHOLE)


@pytest.mark.parametrize("sections", [("Period 1",), ("Period 3",), ("Period 6",), ("Period 6", "Period 3")])
def test_a_form_made_again_is_the_same_form(
    blueprint: Path, tmp_path: Path, quiz: Path, sections: tuple[str, ...]
) -> None:
    """So that another package of it holds the same questions."""
    before = digests(quiz)
    for _ in range(2):
        made(blueprint, tmp_path / "out", sections=sections, allow_repeats=True)
        assert digests(quiz) == before


@pytest.mark.usefixtures("quiz")
def test_lists_in_another_order_and_usual_values_written_out_are_no_other_blueprint(
    blueprint: Path, tmp_path: Path
) -> None:
    text = blueprint.read_text("utf-8").replace('["2/4", "3/4", "4/4"]', '["4/4", "3/4", "2/4"]')
    blueprint.write_text(f"{text}\n[difficulty]\nsounds = 2\n")
    assert made(blueprint, tmp_path / "out", sections=("Period 6",)).forms


def test_a_new_section_is_added_and_nothing_else_changes(blueprint: Path, tmp_path: Path, quiz: Path) -> None:
    before = digests(quiz)
    blueprint.write_text(blueprint.read_text("utf-8").replace('"Period 6"]', '"Period 6", "Period 7"]'))
    made(blueprint, tmp_path / "out", sections=("Period 7",))
    after = digests(quiz)
    assert after.keys() - before.keys() == {"period-7/quiz.imscc"}
    assert {n for n in before if before[n] != after[n]} == {"proof.html", "key.html", RECORD}


def packages(folder: Path) -> list[str]:
    return sorted(name for name in digests(folder) if name.endswith((".imscc", ".zip")))


def test_a_form_made_again_keeps_its_standards_and_shapes(blueprint: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    folder = made(blueprint, out, sections=("Period 1",), standards=("qti22", "qti30")).folder
    again = made(blueprint, out, sections=("Period 1",), standards=())
    assert again.removed == ()
    assert packages(folder) == ["period-1/quiz-qti22.zip", "period-1/quiz-qti30.zip"]
    made(blueprint, out, sections=("Period 3",), standards=(), shapes=("bank",))
    assert packages(folder)[2:] == ["period-3/bank-qti22.zip", "period-3/bank-qti30.zip"]
    made(blueprint, out, sections=("Period 3",), retake=1, standards=())
    assert packages(folder)[4:] == ["period-3/retake-1/bank-qti22.zip", "period-3/retake-1/bank-qti30.zip"]
    made(blueprint, out, standards=(), replace=True, forget_retakes=True)
    assert {"period-1/quiz-qti22.zip", "period-3/bank-qti30.zip"} <= set(packages(folder))
    assert not [name for name in packages(folder) if "retake" in name or "imscc" in name]


def test_packages_of_standards_that_are_not_ordered_again_are_removed_and_told(blueprint: Path, tmp_path: Path) -> None:
    folder = made(blueprint, tmp_path / "out", standards=("cc13", "qti12")).folder
    again = made(blueprint, tmp_path / "out", sections=("Period 3",), standards=("qti12",))
    assert again.removed == ("period-3/quiz.imscc",)
    assert f"Removed {folder}/period-3/quiz.imscc: it is of an earlier make, and not asked for now." in summary(again)
    assert packages(folder) == sorted(
        [f"period-{n}/quiz-qti12.zip" for n in (1, 3, 6)] + [f"period-{n}/quiz.imscc" for n in (1, 6)]
    )
    blueprint.write_text(blueprint.read_text("utf-8").replace(', "Period 6"]', "]"))
    assert made(blueprint, tmp_path / "out", replace=True, forget_retakes=True, standards=("qti12",)).removed == (
        "period-1/quiz.imscc", "period-6/quiz.imscc", "period-6/quiz-qti12.zip",
    )  # fmt: skip


@pytest.mark.parametrize("order", [{"replace": True}, {"sections": ("Period 3",)}, {"retake": 1}])
def test_what_others_put_into_the_folder_stays(
    blueprint: Path, tmp_path: Path, quiz: Path, order: dict[str, object]
) -> None:
    theirs = ["notes.txt", "period-3/scan.pdf", "old/quiz.imscc", "period-3/quiz (1).imscc"]
    for name in theirs:
        (quiz / name).parent.mkdir(exist_ok=True)
        (quiz / name).write_text(f"my {name}")
    (quiz / "empty").mkdir()
    (quiz / "link").symlink_to(tmp_path)
    made(blueprint, tmp_path / "out", **order)
    assert [(quiz / name).read_text() for name in theirs] == [f"my {name}" for name in theirs]
    assert (quiz / "empty").is_dir()
    assert (quiz / "link").is_symlink()
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == ["quiz"]


def test_items_that_differ_for_want_of_excerpts_are_one_line_a_form(tmp_path: Path) -> None:
    path = tmp_path / "few.toml"
    path.write_text(
        'title = "T"\nsections = ["A", "B", "C"]\n[elements]\nmeters = ["2/4", "3/4"]\nnotes = ["half", "quarter"]\n'
        'rests = ["quarter"]\n[[part]]\nfamily = "meter-identification"\nask = "does-it-fit"\nitems = 3\n'
    )
    result = made(path, tmp_path / "out", allow_repeats=True)
    bent = {form.form.section: len(form.bent) for form in result.forms if form.bent}
    assert bent
    wanted = [
        f"{section}: {f'{count} items differ' if count > 1 else '1 item differs'} a little from the first form's for "
        "want of excerpts (--verbose tells which)."
        for section, count in bent.items()
    ]
    lines = summary(result)
    assert [line for line in lines if "want of excerpts" in line] == wanted
    assert "More elements, longer excerpts with `measures`, or fewer items or sections help." in lines
    assert not [line for line in lines if "other misreadings than" in line]
    assert [line for line in judgements(result) if ": not as in the first form" in line]


def test_verbose_tells_the_reading_level_of_all_that_students_read(blueprint: Path, tmp_path: Path) -> None:
    """Within the bound of the design (grade 6), by the formula alone as well as with the taught terms known."""
    result = made(blueprint, tmp_path / "out")
    [line] = [line for line in judgements(result) if line.startswith("reading level: ")]
    known, alone = map(float, re.findall(r"grade (\d\.\d) .*, (\d\.\d) ", line)[0])
    assert 0 < known <= alone <= 6
    proof = result.packed.files["proof.html"].decode()
    shown = [text for form in result.packed.forms for text in student_texts(form)]
    assert len(shown) > 20
    assert all(escape(text, quote=False) in unescape(proof) for text in shown if "&" not in text)


def test_retakes_show_no_excerpt_that_the_section_has_seen(blueprint: Path, tmp_path: Path, quiz: Path) -> None:
    before = digests(quiz)
    made(blueprint, tmp_path / "out", retake=1)
    second = made(blueprint, tmp_path / "out", retake=2, sections=("Period 1",))
    assert {n: d for n, d in digests(quiz).items() if n in before and n.startswith("period")} == {
        n: d for n, d in before.items() if n.startswith("period")
    }
    assert (quiz / "period-1" / "retake-2" / "quiz.imscc").is_file()
    assert summary(second)[1].startswith("Period 1, retake 2")
    record = excerpts(quiz)
    for section in ("Period 1", "Period 3", "Period 6"):
        seen = [e for (s, _), e in record.items() if s == section]
        assert sum(map(len, seen)) == len(set.union(*seen)), section
    assert "Period 1, retake 2" in (quiz / "key.html").read_text("utf-8")


def test_a_retake_is_the_same_in_two_runs(blueprint: Path, tmp_path: Path) -> None:
    for out in ("one", "two"):
        made(blueprint, tmp_path / out)
        made(blueprint, tmp_path / out, retake=1)
    assert digests(tmp_path / "one") == digests(tmp_path / "two")


def test_a_record_is_read_back_as_the_forms_that_were_made(blueprint: Path, tmp_path: Path) -> None:
    result = made(blueprint, tmp_path / "out")
    text = (result.folder / RECORD).read_text("utf-8")
    assert read_record(text, "r") == tuple(m.form for m in result.forms)


def refusal(blueprint: Path, out: Path, **order: object) -> str:
    with pytest.raises(BarwrightError) as caught:
        made(blueprint, out, **order)
    return str(caught.value)


def test_what_cannot_be_is_told_with_the_mend(blueprint: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert refusal(blueprint, out, retake=1) == f"{out / 'quiz'} does not exist: make the quiz before its retakes"
    made(blueprint, out, sections=("Period 1",))
    assert refusal(blueprint, out, retake=1, sections=("Period 3",)) == (
        "section 'Period 3' has no form yet: make it before its retake"
    )
    made(blueprint, out, retake=1)
    assert refusal(blueprint, out, retake=1) == "retake 1 of 'Period 1' exists: give --replace to make it anew"
    made(blueprint, out, retake=1, replace=True)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda _: "", "r: no line, and a record has 2 to 20,000: make the quiz again"),
        (lambda t: t.splitlines()[0], "r: 1 line, and a record has 2 to 20,000: make the quiz again"),
        (lambda t: t.replace('"version": 1', '"version": 9'),
         "r, line 1: this is not a record of version 1: make the quiz again with this barwright"),
        (lambda t: t.replace('"content"', '"contents"', 1),
         "r, line 2: content is missing: the record was changed; make the quiz again"),
        (lambda t: t.splitlines()[0] + "\n{", "r, line 2: this is not JSON: make the quiz again"),
        (lambda t: t.splitlines()[0] + "\n[]", "r, line 2: this is no JSON object in braces: make the quiz again"),
        (lambda t: t.replace('"item": "', '"item": "0', 1),
         "r, line 2: item, order or section do not agree with the content: make it again"),
        (lambda t: t.replace('"title": "Rhythm check 1: half notes and rests"', '"title": 3', 1),
         "r, line 1: title, language or credit is missing: make the quiz again"),
    ],
)  # fmt: skip
def test_a_changed_record_is_told_by_its_line(change, message: str, quiz: Path) -> None:
    text = (quiz / RECORD).read_text("utf-8")
    with pytest.raises(BarwrightError) as caught:
        read_record(change(text), "r")
    assert str(caught.value) == message
