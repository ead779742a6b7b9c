"""The demo quiz of gaps, lists and orders: the same in both standards, each foreseen answer with its hint."""

from pathlib import Path

import pytest
from qti2_reader import Package

from barwright.blueprint.parsing import read_blueprint
from barwright.check.reading import read_package, same_content
from barwright.misreadings import MISREADINGS
from barwright.qti import written, zipped
from barwright.tasks.packing import drawn_pictures
from barwright.wording.items_in_words import worded_form
from barwright.wording.worded import WordedForm, WordedItem, WordedSlot
from made_once import forms_once

UNIT_4 = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-4-drag-and-order.toml"


@pytest.fixture(scope="module")
def forms() -> tuple[WordedForm, ...]:
    plan, _ = read_blueprint(UNIT_4.read_text("utf-8"), UNIT_4.name)
    return tuple(worded_form(made.form) for made in forms_once(plan))


@pytest.fixture(scope="module")
def packages(forms: tuple[WordedForm, ...]) -> dict[tuple[str, str], bytes]:
    plan, _ = read_blueprint(UNIT_4.read_text("utf-8"), UNIT_4.name)
    pictures = drawn_pictures(forms, plan.all_conventions, "Bravura", progress=lambda *_: None)
    return {
        (form.section, standard): zipped(written(form, pictures, standard=standard, shape="quiz"))
        for form in forms
        for standard in ("qti22", "qti30")
    }


def test_both_standards_say_the_same(
    forms: tuple[WordedForm, ...], packages: dict[tuple[str, str], bytes], tmp_path: Path
) -> None:
    for form in forms:
        read = []
        for standard in ("qti22", "qti30"):
            path = tmp_path / f"{standard}.zip"
            path.write_bytes(packages[form.section, standard])
            read.append(read_package(path))
        assert same_content(*read) == ()
        assert len(read[0].items) == len(form.items) == 14


def responses(item: WordedItem, filled: tuple[str, ...]) -> dict[str, str | tuple[str, ...]]:
    slots = [p.ident for p in item.pieces if isinstance(p, WordedSlot)]
    if item.interaction == "order":
        return {"RESPONSE": filled}
    return {f"RESPONSE_{slot}": ident for slot, ident in zip(slots, filled, strict=True)}


@pytest.mark.parametrize("standard", ["qti22", "qti30"])
def test_every_foreseen_answer_scores_and_tells_what_it_should(
    forms: tuple[WordedForm, ...], packages: dict[tuple[str, str], bytes], standard: str
) -> None:
    tried = 0
    for form in forms:
        made = Package(packages[form.section, standard])
        for item in form.items:
            for answer in item.foreseen:
                score, said = made.answered(item.ident, responses(item, answer.filled))
                assert (score == item.points) == answer.key
                assert answer.feedback in said
                tried += 1
            for choice in item.choices if item.interaction == "gaps" else ():
                score, said = made.answered(item.ident, {"RESPONSE": (f"{choice.ident} s1",)})
                assert (score, said) == (item.points * choice.key, [choice.feedback])
                tried += 1
    assert tried > 80


def test_packages_name_no_misreading(packages: dict[tuple[str, str], bytes]) -> None:
    for data in packages.values():
        for path, entry in Package(data).entries.items():
            assert not any(ident.encode() in entry for ident in MISREADINGS), path
