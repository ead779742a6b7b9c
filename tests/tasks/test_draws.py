"""A draw for each student: pools of variants in one cell, refused where a standard cannot say it."""

import json
import zipfile
from pathlib import Path

import pytest

from barwright.blueprint.parsing import examined
from barwright.errors import BarwrightError, BlueprintError
from barwright.tasks.expressing import standard_faults
from barwright.tasks.form_folders import RECORD
from barwright.tasks.make import Made, make
from barwright.tasks.packing import Order
from barwright.tasks.summary import summary
from published import complaints

UNIT_1 = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-1-half-notes-and-rests.toml"


@pytest.fixture
def blueprint(tmp_path: Path) -> Path:
    return drawing(tmp_path)


def drawing(folder: Path) -> Path:
    path = folder / "quiz.toml"
    text = UNIT_1.read_text("utf-8").replace("[quiz]", "[quiz]\ndraw = true\nvariants = 3\n")
    path.write_text(text.replace('"Period 1", "Period 3", "Period 6"', '"Period 1", "Period 3"'))
    return path


@pytest.fixture(scope="module")
def drawn_quiz(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a quiz of two sections that draws of three variants, in three standards."""
    place = tmp_path_factory.mktemp("drawn")
    return made(drawing(place), place / "out", "qti12", "qti22", "qti30").folder


def made(path: Path, out: Path, *standards: str) -> Made:
    return make(path, Order(out, standards=standards), progress=lambda *_: None)


def test_each_place_is_a_pool_of_parallel_variants_and_the_record_lists_it(drawn_quiz: Path) -> None:
    lines = [json.loads(line) for line in (drawn_quiz / RECORD).read_text("utf-8").splitlines()[1:]]
    for section in ("Period 1", "Period 3"):
        mine = [line for line in lines if line["section"] == section]
        pools: dict[str, list[dict[str, object]]] = {}
        for line in mine:
            pools.setdefault(line["pool"], []).append(line)
        assert [len(p) for p in pools.values()] == [3] * 15
        for pool in pools.values():
            assert len({line["content"]["ask"] for line in pool}) == 1
            assert len({line["content"]["excerpt"] for line in pool}) == 3
            assert len({line["number"] for line in pool}) == 1


def test_the_packages_draw_one_of_each_pool(drawn_quiz: Path, standards: Path) -> None:
    packages = sorted((drawn_quiz / "period-1").glob("*.zip"))
    assert len(packages) == 3
    assert complaints(standards, packages) == []
    with zipfile.ZipFile(drawn_quiz / "period-1" / "quiz-qti30.zip") as archive:
        assert archive.read("test.xml").count(b"<qti-selection ") == 15


def test_common_cartridge_refuses_before_anything_is_written(blueprint: Path, tmp_path: Path) -> None:
    with pytest.raises(BarwrightError) as caught:
        made(blueprint, tmp_path / "out", "cc13", "qti12")
    line = blueprint.read_text("utf-8").splitlines().index("draw = true") + 1
    assert str(caught.value) == (
        f"{blueprint}, line {line}: draw = true: Common Cartridge 1.3 cannot draw a question for each student: "
        "take --standard qti12, qti22 or qti30, or leave `draw` out"
    )
    assert not (tmp_path / "out").exists()


def test_a_bank_has_nothing_to_draw(blueprint: Path) -> None:
    found = examined(blueprint.read_text("utf-8"), "b.toml")
    assert found.blueprint is not None
    assert list(standard_faults(found.blueprint, found.numbers, (("cc13", "bank"),))) == []


def test_all_that_the_standards_cannot_say_is_told_at_once(tmp_path: Path) -> None:
    part = '[[part]]\nfamily = "measure-completion"\nask = "{}"\nitems = {}\n'
    (tmp_path / "b.toml").write_text(
        'title = "T"\n[elements]\nmeters = ["2/4"]\nnotes = ["half", "quarter", "eighth"]\n[quiz]\ndraw = true\n'
        'credit = "per-choice"\n'
        + part.format("all-that-fit", 1)
        + part.format("shortest-first", 1)
        + part.format("beats-left", 150)
    )
    with pytest.raises(BlueprintError) as caught:
        made(tmp_path / "b.toml", tmp_path / "out", "cc12", "qti12", "qti30")
    *told, last = caught.value.faults
    able = "take --standard qti22 or qti30"
    assert [fault.removeprefix(f"{tmp_path / 'b.toml'}, ") for fault in told] == [
        f"line 6: draw = true: Common Cartridge 1.2 cannot draw a question for each student: {able}, or leave `draw` "
        "out",
        "line 7: credit = 'per-choice': Common Cartridge 1.2 and plain QTI 1.2 cannot give points for parts of an "
        f"answer: {able}, or leave it out",
        "line 14: ask = 'shortest-first': Common Cartridge 1.2 and plain QTI 1.2 cannot say how it is answered: "
        f"{able}, or use another ask",
    ]
    assert "line 19: items = 150 with 3 variants each: only " in last


def test_questions_and_variants_are_counted(blueprint: Path, tmp_path: Path) -> None:
    head, first, _, *_ = summary(made(blueprint, tmp_path / "out", "qti12"))
    assert head.split()[:3] == ["form", "questions", "variants"]
    assert first.split()[:4] == ["Period", "1", "15", "3"]


def test_too_many_variants_are_told_with_the_place(blueprint: Path, tmp_path: Path) -> None:
    blueprint.write_text(blueprint.read_text("utf-8").replace("variants = 3", "variants = 10"))
    with pytest.raises(BarwrightError) as caught:
        made(blueprint, tmp_path / "out", "qti22")
    assert "variants are asked for, " in str(caught.value)


def test_the_proof_numbers_variants_by_letters(drawn_quiz: Path) -> None:
    proof = (drawn_quiz / "proof.html").read_text("utf-8")
    assert "Question 3c" in proof
    assert "15 questions, 15 points" in proof
