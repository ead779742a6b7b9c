"""How classes did on a bank's items makes forms equally hard, and a quiz stays as it was made."""

import json
from math import log
from pathlib import Path

import pytest

from bank.demo_bank import review
from barwright.bank.entries import HEADER, format_entry
from barwright.bank.records import entry_of, record_of
from barwright.blueprint.blueprint import plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.errors import BankError, BarwrightError
from barwright.forms.assembly import MadeForm, made_forms
from barwright.items.difficulty import WEIGHTS, difficulty, mean
from barwright.results.difficulty import STEP, WORTH, Counted, fitted
from barwright.rhythm.text import parse_excerpt
from barwright.tasks.bank.add import add
from barwright.tasks.bank.measured import Measured, measured_by
from barwright.tasks.bank.take import take, taken_lines
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from barwright.tasks.record import read_record
from items.demo import BEGINNERS, blueprint_text

ASKS = ("finish-measure", "counts-for-rhythm")
SECTIONS = 'sections = ["Period 1", "Period 3", "Period 6"]'
COUNTS = {
    "by": "",
    "date": "2026-03-05",
    "form": "f0123456789abcdef",
    "omitted": 0,
    "others": 0,
    "section": "Period 9",
    "title": "Check",
}
HARD_RESTS = {"fitted rests": 25, "fitted sounds": 0, "kind finish-measure 3/4 1": 9}


def plan_text(more: str = "") -> str:
    return blueprint_text(BEGINNERS, *ASKS, items=4, more=f"{SECTIONS}\n{more}")


def counted(excerpt: str, right: int, *, asked: int = 400) -> Counted:
    features = {**dict.fromkeys(WEIGHTS, 0), "sounds": 3}
    return Counted("finish-measure 4/4 1", "finish-measure", excerpt, features, asked, right)


def test_an_excerpt_weighs_more_by_what_its_answers_say_beyond_its_features() -> None:
    """Worked by hand: the share right is drawn toward that of the kind by WORTH students, in steps of the model."""
    found = fitted([counted("4/4 q q _", 100), counted("4/4 h q _", 300)])
    (kind,) = found.kinds
    whole = kind.shrunk
    for text, right in (("4/4 q q _", 100), ("4/4 h q _", 300)):
        shrunk = (right + WORTH * whole) / (400 + WORTH)
        expected = log(kind.expected / (1 - kind.expected)) - log(shrunk / (1 - shrunk))
        assert found.measured[f"item finish-measure {text}"] == round(expected / STEP)
    assert found.measured["item finish-measure 4/4 q q _"] > 15 > -15 > found.measured["item finish-measure 4/4 h q _"]


def test_few_answers_move_an_excerpt_little() -> None:
    crowd = [counted("4/4 q q _", 320), counted("4/4 h q _", 320)]
    odd = fitted([*crowd, counted("4/4 q _ h", 0, asked=2)]).measured["item finish-measure 4/4 q _ h"]
    assert 0 < odd * STEP < log(0.8 / 0.2) - log(0.7 / 0.3)  # two wrong answers of 22 take less than a tenth


def test_kinds_and_excerpts_move_only_their_own_ask_and_a_blueprint_has_the_last_word() -> None:
    blueprint = read_blueprint(plan_text("[difficulty]\nrests = 7"), "b.toml")[0].with_measured(HARD_RESTS)
    filling, counting = (plan_of(part, blueprint).weights for part in blueprint.part)
    rhythm = parse_excerpt("3/4 q rq _")
    assert difficulty(rhythm, filling) == 7 + 9
    assert difficulty(rhythm, counting) == 7
    item = {**filling, "3/4 q rq _": 4}
    assert difficulty(rhythm, item) == 7 + 4


def means(made: tuple[MadeForm, ...], *, by: dict[str, int]) -> list[float]:
    blueprint = read_blueprint(plan_text(), "b.toml")[0].with_measured(by)
    weights = {part.ask: plan_of(part, blueprint).weights for part in blueprint.part}
    forms = [[placed.item for placed in each.form.items] for each in made]
    return [float(mean([difficulty(item.excerpt, weights[item.ask]) for item in items])) for items in forms]


def test_forms_are_equally_hard_by_what_was_measured() -> None:
    blueprint = read_blueprint(plan_text(), "b.toml")[0]
    by_features, by_answers = (
        means(made_forms(plan), by=HARD_RESTS) for plan in (blueprint, blueprint.with_measured(HARD_RESTS))
    )
    assert max(by_answers) - min(by_answers) <= 0.05 * sum(by_answers) / 3
    assert max(by_features) - min(by_features) > 0.1 * sum(by_features) / 3


@pytest.fixture
def blueprint_file(tmp_path: Path) -> Path:
    path = tmp_path / "rests.toml"
    path.write_text(plan_text(), "utf-8")
    return path


def order(tmp_path: Path, **more: object) -> Order:
    return Order(tmp_path / "out", standards=("qti22",), **more)


def test_a_form_that_is_made_later_goes_by_what_the_quiz_was_made_with(blueprint_file: Path, tmp_path: Path) -> None:
    measured = Measured(HARD_RESTS, "told", ())
    made = make(blueprint_file, order(tmp_path), progress=silent, measured=measured)
    record = made.folder / "record.jsonl"
    before = record.read_bytes()
    assert json.loads(before.splitlines()[0])["measured"] == HARD_RESTS
    make(blueprint_file, order(tmp_path, sections=("Period 3",)), progress=silent)
    assert record.read_bytes() == before
    make(blueprint_file, order(tmp_path, sections=("Period 3",), retake=1), progress=silent)
    forms = read_record(record.read_text("utf-8"), "record.jsonl")
    assert [dict(form.measured) for form in forms] == [HARD_RESTS] * 4
    with pytest.raises(BarwrightError) as error:
        make(blueprint_file, order(tmp_path, sections=("Period 3",)), progress=silent, measured=measured)
    assert str(error.value) == (
        f"{made.folder} stays as hard as it is: leave --bank away, or make the quiz anew with --replace alone"
    )


@pytest.mark.parametrize(
    "measured", [7, {"fitted rests": "2"}, {"fitted rests": True}, {"kind": 3}, {"item x y": 10**9}]
)
def test_a_record_whose_measures_were_changed_is_refused(
    blueprint_file: Path, tmp_path: Path, measured: object
) -> None:
    folder = make(blueprint_file, order(tmp_path), progress=silent, measured=Measured(HARD_RESTS, "", ())).folder
    header, *lines = (folder / "record.jsonl").read_text("utf-8").splitlines()
    changed = json.dumps({**json.loads(header), "measured": measured})
    with pytest.raises(BarwrightError) as error:
        read_record("\n".join([changed, *lines]), "r.jsonl")
    assert str(error.value) == "r.jsonl, line 1: what was measured cannot be read: make the quiz again"


@pytest.fixture
def counted_bank(tmp_path: Path) -> Path:
    """A bank of eight items of one form, the ones about counts hard, with twenty answers to each."""
    (first, *_) = made_forms(read_blueprint(plan_text(), "b.toml")[0])
    entries = []
    for placed in first.form.items:
        item, right = placed.item, 20 * (placed.item.ask == "finish-measure")
        picks = [right if choice.key else 0 for choice in item.choices]
        picks[[choice.key for choice in item.choices].index(False)] += 20 - right
        counts = record_of("counts", **{**COUNTS, "asked": 20, "right": right, "picks": picks})
        entries.append(entry_of(item, [counts, review("approve")]))
    path = tmp_path / "our.jsonl"
    lines = sorted(format_entry(entry) for entry in entries)
    path.write_text("\n".join([HEADER, *lines, ""]), "utf-8")
    return path


def test_a_bank_without_counts_says_nothing_of_difficulty(blueprint_file: Path, tmp_path: Path) -> None:
    made = make(blueprint_file, order(tmp_path), progress=silent)
    bank = tmp_path / "our.jsonl"
    add(made.folder / "record.jsonl", bank)
    with pytest.raises(BankError) as error:
        measured_by(bank)
    assert str(error.value) == (
        f"{bank}: no item has counts yet: add some with barwright bank add RECORD {bank} --results"
    )
    taken = take(bank, blueprint_file, Order(tmp_path / "b", standards=("qti22",)), where=(), since="")
    assert taken.made.measured == ""
    assert "measured" not in json.loads((taken.made.folder / "record.jsonl").read_text("utf-8").splitlines()[0])


def test_a_quiz_taken_from_a_bank_goes_by_its_counts(counted_bank: Path, blueprint_file: Path, tmp_path: Path) -> None:
    taken = take(counted_bank, blueprint_file, order(tmp_path), where=(), since="")
    header = json.loads((taken.made.folder / "record.jsonl").read_text("utf-8").splitlines()[0])
    expected = measured_by(counted_bank)
    assert "Forms are kept equally hard by 160 answers to 8 items of our.jsonl as well." in taken_lines(taken)
    assert header["measured"] == dict(expected.weights)
    assert any(name.startswith("item counts-for-rhythm ") for name in header["measured"])
