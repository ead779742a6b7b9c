"""Versions for accommodations ask the form's own items: same identifiers, keys and answers, in every standard."""

import json
import zipfile
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from accommodations.made_versions import PACKAGES, one_section
from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Blueprint, plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.check.reading import ReadItem, ReadPackage, read_package, same_content
from barwright.errors import BarwrightError
from barwright.forms.lessened import choices_left, named_in, numbers_left
from barwright.items.form import Form
from barwright.judge import judged
from barwright.results.reading.final_answers import Settled, settled
from barwright.results.reading.sources import gathered
from barwright.tasks.check import check, failed
from barwright.tasks.diagnose.asked import AskedQuiz, asked_quiz
from barwright.tasks.make import Made, make
from barwright.tasks.packing import Order, accommodations_of
from barwright.tasks.progress import silent
from barwright.tasks.question.changing import edited
from barwright.tasks.summary import summary
from made_once import forms_once
from published import complaints
from results.shapes import by_ident, by_label, by_letter, csv_bytes, title, wide
from results.simulated_classes import BLUEPRINTS, RR22, RR30, Sitting, report, sittings, zipped
from results.test_round_trip import plain, told
from whole import whole_or_part

WITH_PACKAGES = ("large-print", "high-contrast", "fewer-choices", "fewer-items")
WHOLE = ("large-print", "high-contrast")


def read(path: Path) -> ReadPackage:
    return read_package(path)


@pytest.mark.parametrize("version", WHOLE)
@pytest.mark.parametrize("package", PACKAGES)
def test_large_print_and_high_contrast_change_pictures_only(period: Path, version: str, package: str) -> None:
    form, other = read(period / package), read(period / version / package)
    lines = [line for line in same_content(form, other) if "pictures" not in line and "shown" not in line]
    assert [line for line in lines if "picture" not in line and "choice" not in line] == []
    assert [alts(item) for item in form.items] == [alts(item) for item in other.items]
    assert [files(item) for item in form.items] == [files(item) for item in other.items]
    digests = [[p.digest for item in each.items for p in item.stem.pictures] for each in (form, other)]
    assert all(one != two for one, two in zip(*digests, strict=True))


def alts(item: ReadItem) -> list[str | None]:
    shown = (item.stem, *(c.shown for r in item.responses for c in r.choices))
    return [picture.alt for each in shown for picture in each.pictures]


def files(item: ReadItem) -> list[str]:
    shown = (item.stem, *(c.shown for r in item.responses for c in r.choices))
    return [picture.path for each in shown for picture in each.pictures]


@pytest.mark.parametrize("package", PACKAGES)
def test_fewer_choices_leave_out_one_wrong_choice_at_most(period: Path, package: str) -> None:
    form, other = read(period / package), read(period / "fewer-choices" / package)
    assert [item.ident for item in form.items] == [item.ident for item in other.items]
    fewer = 0
    for whole, less in zip(form.items, other.items, strict=True):
        for one, two in zip(whole.responses, less.responses, strict=True):
            assert two.keys == one.keys
            assert [c for c in one.choices if c in two.choices] == list(two.choices)
            assert len(one.choices) - len(two.choices) in (0, 1)
            if len(one.choices) > len(two.choices):
                assert len(two.choices) >= 3
                fewer += 1
    assert fewer >= 4


@pytest.mark.parametrize("package", PACKAGES)
def test_fewer_items_are_the_same_items_in_order(period: Path, package: str) -> None:
    form, other = read(period / package), read(period / "fewer-items" / package)
    kept = {item.ident for item in other.items}
    assert same_content(replace(form, items=tuple(i for i in form.items if i.ident in kept)), other) == ()
    assert (len(form.items), len(other.items)) == (14, 10)
    assert [item.title for item in other.items] == [item.title for item in form.items if item.ident in kept]


@pytest.mark.parametrize("package", ["quiz-qti22.zip", "quiz-qti30.zip"])
def test_one_a_page_is_the_form_with_a_section_for_each_question(period: Path, package: str) -> None:
    form, other = read(period / package), read(period / "one-a-page" / package)
    assert same_content(form, other) == ()
    with zipfile.ZipFile(period / "one-a-page" / package) as archive:
        test = archive.read("test.xml").decode()
    name = "assessmentSection" if "qti22" in package else "qti-assessment-section"
    assert test.count(f"<{name} ") == 1 + len(form.items)


def test_every_package_is_sound(versions: Made, period: Path, standards: Path) -> None:
    packages = [period / version / package for version in WITH_PACKAGES for package in PACKAGES]
    packages += [period / "one-a-page" / package for package in PACKAGES[1:]]
    assert {path.relative_to(versions.folder).as_posix() for path in packages} == {
        path for path in versions.packed.versions if path.endswith((".zip", ".imscc"))
    }
    reports = check(packages)
    assert not failed(reports)
    assert [finding for report in reports for finding in report.findings] == []
    some = packages[:: whole_or_part(1, 4)]  # each version has one of each standard, so all three are among them
    assert complaints(standards, some) == []


def demo(unit: str) -> tuple[Form, Blueprint]:
    blueprint, _ = read_blueprint((BLUEPRINTS / f"{unit}.toml").read_text("utf-8"), unit)
    alone = blueprint.model_copy(update={"sections": blueprint.sections[:1]})
    return forms_once(alone)[0].form, alone


@pytest.mark.parametrize("unit", ["unit-2-eighths-and-dotted-quarters", "unit-4-drag-and-order"])
def test_the_judge_agrees_on_every_item_with_fewer_choices(unit: str) -> None:
    form, blueprint = demo(unit)
    taught = plan_of(blueprint.part[0], blueprint).space.taught
    left = choices_left(form, blueprint)
    lessened = 0
    for placed in form.items:
        item = placed.item
        kept = tuple(choice for place, choice in enumerate(item.choices) if place in left[item.id])
        assert judged(replace(item, choices=kept), taught) == (), item
        assert [choice for choice in kept if choice.key] == list(item.keys)
        lessened += len(kept) < len(item.choices)
    assert lessened >= 3


def test_fewer_items_keep_every_ask_and_the_chances_of_named_misreadings() -> None:
    form, blueprint = demo("unit-1-half-notes-and-rests")
    named = named_in(blueprint)
    assert named
    kept = numbers_left(form, blueprint)
    numbers = {placed.number for placed in form.items}
    assert Fraction(len(kept), len(numbers)) == Fraction(2, 3)
    asks = {placed.number: placed.item.ask for placed in form.items}
    assert {asks[number] for number in kept} == set(asks.values())
    for misreading in named:
        with_it = {placed.number for placed in form.items if misreading in placed.item.offered}
        others = {number for number in numbers - kept if misreading in chances(form, number)}
        assert len(with_it & kept) >= min(len(with_it), 4), misreading
        assert with_it == (with_it & kept) | others


def chances(form: Form, number: int) -> frozenset[str]:
    return next(placed.item.offered for placed in form.items if placed.number == number)


def lessened_sittings(quiz: AskedQuiz, version: str) -> tuple[Sitting, ...]:
    """Students on a version: whoever would pick what it lacks picks the first that stays."""
    sat, sheet = [], quiz.sheets[0]
    for each in sittings(quiz, 6, seed=5):
        picks = []
        for pick, question in zip(each.picks, sheet.questions, strict=True):
            missing = isinstance(pick, tuple) and question.left and not left_places(question.left).issuperset(pick)
            if version == "fewer_items" and question.left_out:
                picks.append(())
            elif version == "fewer_choices" and missing:
                picks.append((min(left_places(question.left)),))
            else:
                picks.append(pick)
        sat.append(replace(each, picks=tuple(picks), student=f"v{each.student}", name=f"V {each.name}"))
    return tuple(sat)


def left_places(left: frozenset[str]) -> set[int]:
    return {int(ident[1:]) - 1 for ident in left}


@pytest.mark.parametrize("version", ["fewer_choices", "fewer_items"])
@pytest.mark.parametrize("namespace", [RR22, RR30], ids=["2.2", "3.0"])
def test_results_of_versions_are_read_and_joined_with_the_forms(versions: Made, version: str, namespace: str) -> None:
    quiz = asked_quiz(versions.folder)
    own, other = sittings(quiz, 6), lessened_sittings(quiz, version)
    reports = {f"{each.student}.xml": report(quiz, each, namespace) for each in (*own, *other)}
    code = {"fewer_choices": "C", "fewer_items": "I"}[version]
    ident = quiz.sheets[0].ident.encode()
    for each in other:  # the test of a version has an identifier of its own
        reports[f"{each.student}.xml"] = reports[f"{each.student}.xml"].replace(ident, ident + f"-{code}".encode())
    found = gathered([("results.zip", zipped(reports))], quiz.sheets, {})
    answers = settled(found.givens, quiz.sheets, attempt="last", salt=quiz.title)
    assert (found.refused, found.faults) == ((), ())
    assert plain(answers, (*own, *other)) == told((*own, *other))
    assert fewer_of(answers) == ({each.student for each in other} if version == "fewer_choices" else set())


@pytest.mark.parametrize("by", [by_ident, by_label, by_letter])
@pytest.mark.parametrize("version", ["fewer_choices", "fewer_items"])
def test_tables_of_versions_are_read_and_joined_with_the_forms(versions: Made, version: str, by: object) -> None:
    quiz = asked_quiz(versions.folder)
    own, other = sittings(quiz, 6), lessened_sittings(quiz, version)
    assert callable(by)
    rows = version_rows(quiz, other, version, by)
    tables = [
        ("period-1.csv", csv_bytes(wide(quiz, 0, own, by_ident, title))),
        (f"period-1-{version.replace('_', '-')}.csv", csv_bytes(rows)),
    ]
    found = gathered(tables, quiz.sheets, {})
    answers = settled(found.givens, quiz.sheets, attempt="last", salt=quiz.title)
    assert (found.refused, found.faults) == ((), ())
    want = told((*own, *other))
    if version == "fewer_items":
        out = {q.item for q in quiz.sheets[0].questions if q.left_out}
        want = tuple(each for each in want if not (each[0].startswith("v") and each[2] in out))
    assert plain(answers, (*own, *other)) == want
    assert fewer_of(answers) == ({each.name for each in other} if version == "fewer_choices" else set())


def fewer_of(answers: Settled) -> set[str]:
    """What the files call the students who had fewer choices."""
    return {answers.names[response.student] for response in answers.responses if response.fewer}


def version_rows(quiz: AskedQuiz, sat: Sequence[Sitting], version: str, by: object) -> list[list[str]]:
    """The table of a platform that shows the version: without the columns of items, with letters as it counts them."""
    assert callable(by)
    sheet = quiz.sheets[0]
    if by is by_letter and version == "fewer_choices":
        sat = [replace(each, picks=tuple(map(place_shown, each.picks, sheet.questions))) for each in sat]
    rows = wide(quiz, 0, sat, by, title)
    if version != "fewer_items":
        return rows
    keep = [0, 1, *(n for n, question in enumerate(sheet.questions, start=2) if not question.left_out)]
    return [[row[n] for n in keep] for row in rows]


def place_shown(pick: tuple[int, ...] | str, question: object) -> tuple[int, ...] | str:
    left = sorted(left_places(getattr(question, "left", frozenset())))
    return tuple(left.index(place) for place in pick if isinstance(place, int)) if left else pick


def test_versions_stay_with_the_quiz_and_follow_it(tmp_path: Path) -> None:
    """Made again, and as a retake, the quiz has them without being asked; no file of an old form stays."""
    path = one_section(tmp_path, BLUEPRINTS / "unit-1-half-notes-and-rests.toml")
    order = Order(tmp_path / "out", standards=("cc13",))
    first = make(path, replace(order, accommodations=("fewer_choices", "read_aloud")), progress=silent)
    script = first.folder / "period-1" / "read-aloud" / "read-aloud.txt"
    before = script.read_text("utf-8")
    make(path, Order(tmp_path / "out", standards=("cc13",), retake=1), progress=silent)
    assert (first.folder / "period-1/retake-1/fewer-choices/quiz.imscc").is_file()
    assert script.read_text("utf-8") == before
    replaced = Order(tmp_path / "out", seed=2, replace=True, forget_retakes=True, standards=("qti22",))
    again = make(path, replaced, progress=silent)
    assert script.read_text("utf-8") != before
    assert not (first.folder / "period-1/fewer-choices/quiz.imscc").exists()
    assert not (first.folder / "period-1/retake-1/fewer-choices/quiz.imscc").exists()
    assert read(first.folder / "period-1/fewer-choices/quiz-qti22.zip").items
    assert "period-1/fewer-choices/quiz.imscc" in again.removed


def test_the_plan_may_name_them_and_the_record_only_tells_what_is_left(tmp_path: Path) -> None:
    path = one_section(tmp_path, BLUEPRINTS / "unit-1-half-notes-and-rests.toml")
    plain_made = make(path, Order(tmp_path / "plain", standards=("cc13",)), progress=silent)
    named = path.read_text("utf-8").replace("[quiz]", '[quiz]\naccommodations = ["one_a_page", "fewer_items"]')
    assert named != path.read_text("utf-8")
    path.write_text(named, "utf-8")
    made = make(path, Order(tmp_path / "named", standards=("cc13",)), progress=silent)
    records = [(each.folder / "record.jsonl").read_text("utf-8").splitlines() for each in (plain_made, made)]
    without = [{k: v for k, v in json.loads(line).items() if k != "left"} for line in records[1]]
    assert without == [json.loads(line) for line in records[0]]
    assert {json.dumps(json.loads(line).get("left")) for line in records[1][1:]} == {
        '{"fewer_items": true}',
        '{"fewer_items": false}',
    }
    lines = summary(made)
    assert (
        "Versions in period-1: fewer-items. Questions keep their numbers and choices their letters, so one key serves "
        "all, and answers are read together."
    ) in lines
    assert (
        "one-a-page: only QTI 2.2 and 3.0 can set each question apart in a quiz; Common Cartridge, QTI 1.2 and banks "
        "have no such thing, so it has no packages of these."
    ) in lines


def test_an_unknown_need_is_told() -> None:
    assert accommodations_of(["large-print", "fewer_items"]) == ("large_print", "fewer_items")
    with pytest.raises(BarwrightError) as error:
        accommodations_of(["larg_print"])
    assert str(error.value) == "--for 'larg_print' is not known: did you mean 'large_print'?"


def test_asks_with_fair_sets_stay_fair() -> None:
    """What is left of an item whose ask wants a fair set is a set that the ask draws itself."""
    form, blueprint = demo("unit-3-first-six-eight")
    left, seen = choices_left(form, blueprint), 0
    for placed in form.items:
        item, ask = placed.item, ASKS[placed.item.ask]
        part = next(part for part in blueprint.part if part.ask == item.ask)
        if ask.sets is None or len(left[item.id]) == len(item.choices):
            continue
        kept = {item.choices[n].answer for n in left[item.id]} - {key.answer for key in item.keys}
        question = Question(item.excerpt, tuple(key.answer for key in item.keys), item.target)
        offers = {choice.answer: choice.misreadings for choice in item.wrong}
        drawn = ask.sets(question, offers, plan_of(part, blueprint).space.anywhere, len(kept), Random(item.id))
        assert kept in [set(each) for each in drawn]
        seen += 1
    assert seen >= 1


def test_a_changed_question_changes_in_every_version(tmp_path: Path) -> None:
    path = one_section(tmp_path, BLUEPRINTS / "unit-1-half-notes-and-rests.toml")
    order = Order(tmp_path / "out", standards=("qti22",), accommodations=("fewer_choices",))
    made = make(path, order, progress=silent)
    text = '[[points]]\nsection = "Period 1"\nplace = 1\npoints = 7\n'
    (made.folder / "questions.toml").write_text(text, "utf-8")
    edited(made.folder, path)
    for folder in ("period-1", "period-1/fewer-choices"):
        assert read(made.folder / folder / "quiz-qti22.zip").items[0].points == 7
    lines = (made.folder / "record.jsonl").read_text("utf-8").splitlines()
    assert any('"fewer_choices"' in line for line in lines)
