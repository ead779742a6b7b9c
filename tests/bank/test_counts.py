"""What a bank learns from answers: counts as records, conditions on them, how hard kinds of items are."""

from math import log
from pathlib import Path
from random import Random

import numpy as np
import pytest

from barwright.bank.answer_counts import Went, interval, went
from barwright.bank.entries import canonical, format_entry, ident_of
from barwright.bank.grammar import is_record
from barwright.bank.reading import parse_entry
from barwright.bank.records import entry_of, record_of
from barwright.bank.views import View
from barwright.errors import BankError
from barwright.items.difficulty import WEIGHTS
from barwright.results.difficulty import (
    STEP,
    WORTH,
    Counted,
    fitted,
)
from barwright.tasks.bank.add import add
from barwright.tasks.bank.difficulty import difficulty
from barwright.tasks.bank.files import entries_of
from barwright.tasks.bank.show import show
from barwright.tasks.diagnose.diagnose import Wish, diagnose
from made_once import Once
from results.quizzes import UNITS, unit_in
from results.shapes import by_label, csv_bytes, title, wide
from results.simulated_classes import sittings

COUNTS = {
    "asked": 25,
    "by": "AB",
    "date": "2026-03-05",
    "form": "f0123456789abcdef",
    "omitted": 1,
    "others": 0,
    "picks": [3, 18, 2, 1],
    "right": 18,
    "section": "Period 1",
    "title": "Check",
}


@pytest.fixture(scope="module")
def diagnosed(tmp_path_factory: pytest.TempPathFactory, made_once: Once) -> Path:
    """A quiz folder of unit 1 whose answers were read: 25 students in two sections, four in the third."""
    folder = tmp_path_factory.mktemp("counts")
    quiz = unit_in(folder, UNITS[0], made_once)
    files = []
    for place, form in enumerate(quiz.forms):
        mine = [each for each in sittings(quiz, 25) if each.form is form][: 4 if place == 2 else 25]
        files.append(folder / f"{form.section}.csv")
        files[-1].write_bytes(csv_bytes(wide(quiz, place, mine, by_label, title)))
    diagnose(quiz.folder, files, Wish())
    return quiz.folder


def views(bank: Path) -> list[View]:
    with entries_of(bank) as (entries, faults):
        found = [View(entry) for entry in entries]
        assert faults.told == ()
    return found


def test_counts_join_a_bank_once_and_never_a_student(diagnosed: Path, tmp_path: Path) -> None:
    bank = tmp_path / "our.jsonl"
    first = add(diagnosed / "record.jsonl", bank, date="2026-03-05", results=True)
    assert (first.items, first.new, first.faults) == (45, 45, ())
    text = bank.read_text("utf-8")
    assert text.count('"kind":"counts"') == 30, "four students are too few to be counted"
    add(diagnosed / "record.jsonl", bank, date="2026-03-05", results=True)
    assert bank.read_text("utf-8") == text
    codes = {
        path.split(",")[0] for path in (diagnosed / "results" / "students.csv").read_text("utf-8-sig").splitlines()[1:]
    }
    assert not any(f'"{code}"' in text for code in codes)
    for view in views(bank):
        count = view.went
        if count is not None:
            omitted = next(r["omitted"] + r["others"] for r in view.records if r["kind"] == "counts")
            assert sum(count.picks) + omitted == count.asked == 25
            assert sum(n for n, key in zip(count.picks, count.keys, strict=True) if key) == count.right


def test_conditions_on_how_items_went(diagnosed: Path, tmp_path: Path) -> None:
    bank = tmp_path / "our.jsonl"
    add(diagnosed / "record.jsonl", bank, results=True)
    shares = {view.entry.id: view.went.share for view in views(bank) if view.went is not None}
    for condition, wanted in {
        "p<0.7": {ident for ident, share in shares.items() if share < 0.7},
        "p>=.7": {ident for ident, share in shares.items() if share >= 0.7},
        "flag=look-at": {view.entry.id for view in views(bank) if view.went is not None and view.went.flagged},
    }.items():
        found, _ = show(bank, where=[condition], most=100)
        assert {view.entry.id for view in found.views} == wanted
    assert 0 < len(show(bank, where=["p<0.7"], most=100)[0].views) < 30
    for condition, line in {
        "p<40": "condition 'p<40': '40' is no share: write it from 0 to 1, e.g. p<0.4",
        "p<1.5": "condition 'p<1.5': '1.5' is no share: write it from 0 to 1, e.g. p<0.4",
        "flag=bad": "condition 'flag=bad': 'bad' is no flag: use look-at",
    }.items():
        with pytest.raises(BankError) as error:
            show(bank, where=[condition], most=1)
        assert str(error.value).startswith(line.split(": use")[0])


def test_results_that_are_missing_or_broken(diagnosed: Path, tmp_path: Path) -> None:
    folder = tmp_path / "quiz"
    folder.mkdir()
    (folder / "record.jsonl").write_bytes((diagnosed / "record.jsonl").read_bytes())
    document = folder / "results" / "diagnosis.json"
    with pytest.raises(BankError) as error:
        add(folder / "record.jsonl", tmp_path / "b.jsonl", results=True)
    assert str(error.value) == f"{document} is missing: run barwright diagnose on {folder} first"
    document.parent.mkdir()
    for text in ("{", "[]", '{"forms": [{"form": 1}]}'):
        document.write_text(text, "utf-8")
        with pytest.raises(BankError) as error:
            add(folder / "record.jsonl", tmp_path / "b.jsonl", results=True)
        assert str(error.value) == f"{document}: this is no diagnosis of this version: run barwright diagnose again"


def test_a_record_of_counts_is_read_fast_and_by_the_models(diagnosed: Path) -> None:
    text = canonical({**COUNTS, "kind": "counts"})
    assert is_record(text)
    record = record_of("counts", **COUNTS)
    assert canonical(record.model_dump(mode="json")) == text
    for change in ({"asked": 4}, {"picks": []}, {"right": -1}, {"asked": 100_000}, {"date": "2026-13-01"}):
        spoilt = {**COUNTS, **change}
        assert not is_record(canonical({**spoilt, "kind": "counts"}))
        with pytest.raises(BankError):
            record_of("counts", **spoilt)
    item = made_item(diagnosed)
    entry = entry_of(item, [record])
    assert parse_entry(format_entry(entry)) == entry
    assert entry.records == ((ident_of(text), text),)


def made_item(folder: Path):
    from barwright.tasks.diagnose.asked import asked_quiz

    return asked_quiz(folder).forms[0].items[0].item


def test_a_second_reading_of_the_same_answers_does_not_count_twice() -> None:
    keys = (False, True, False, False)
    more = {**COUNTS, "kind": "counts", "asked": 27, "right": 20, "picks": [3, 20, 2, 1]}
    again = [{**COUNTS, "kind": "counts"}, more, {**more, "section": "Period 3"}]
    assert went(again, keys) == Went(54, 40, (6, 40, 4, 2), keys)
    assert went([], keys) is None
    assert went([{**COUNTS, "kind": "counts"}], keys[:2]) is None


@pytest.mark.parametrize(
    ("asked", "right", "picks", "flagged"),
    [
        (25, 18, (3, 18), False),
        (25, 10, (12, 10), True),
        (100, 12, (10, 12), True),
        (100, 98, (2, 98), True),
        (25, 24, (1, 24), False),
    ],
)
def test_what_there_is_to_look_at(asked: int, right: int, picks: tuple[int, int], flagged: bool) -> None:
    assert Went(asked, right, picks, (False, True)).flagged is flagged


def test_the_interval_is_wilsons() -> None:
    assert interval(15, 25) == pytest.approx((0.407, 0.766), abs=5e-4)
    assert interval(20, 25) == pytest.approx((0.609, 0.911), abs=5e-4)


def features(rng: Random) -> dict[str, int]:
    return {name: rng.randrange(0, 5) for name in WEIGHTS}


def test_weights_stay_where_there_are_few_data_and_move_where_there_are_many() -> None:
    rng = Random(3)
    true = {**WEIGHTS, "rests": 9, "dots": 0}
    items = []
    for n in range(300):
        found = features(rng)
        p = 1 / (1 + np.exp(-(2.0 - STEP * sum(true[name] * found[name] for name in WEIGHTS))))
        items.append(Counted(f"m{n}", "ask", f"e{n}", found, 400, round(400 * p)))
    assert dict(fitted(items).weights) == pytest.approx(true, abs=1)
    assert dict(fitted(items[:1]).weights) == dict(WEIGHTS)


def test_few_answers_are_drawn_toward_what_features_let_expect() -> None:
    """A beta prior worth twenty students, as scipy has it: mean (right + 20 m) / (asked + 20)."""
    from scipy.stats import beta  # takes long to load

    plain = dict.fromkeys(WEIGHTS, 1)
    crowd = [Counted("often", "a", "e", plain, 5000, 4000)]
    kinds = {kind.model: kind for kind in fitted([*crowd, Counted("seldom", "a", "f", plain, 5, 0)]).kinds}
    few = kinds["seldom"]
    prior = beta(WORTH * few.expected + 0, WORTH * (1 - few.expected) + 5)
    assert few.share == 0
    assert few.shrunk == pytest.approx(prior.mean())
    assert few.shrunk > 0.6
    assert kinds["often"].shrunk == pytest.approx(0.8, abs=0.005)


def test_rasch_by_girth_puts_kinds_in_the_same_order() -> None:
    from girth import rasch_mml  # takes long to load

    rng = np.random.default_rng(5)
    true = np.linspace(-1.5, 1.5, 9)
    ability = rng.normal(size=600)
    scores = (rng.random((600, 9)) < 1 / (1 + np.exp(-(ability[:, None] - true)))).astype(int)
    items = [Counted(f"k{n}", "a", f"e{n}", dict.fromkeys(WEIGHTS, 1), 600, int(scores[:, n].sum())) for n in range(9)]
    shrunk = {kind.model: kind.shrunk for kind in fitted(items).kinds}
    ours = [log((1 - shrunk[f"k{n}"]) / shrunk[f"k{n}"]) for n in range(9)]
    theirs = rasch_mml(scores.T)["Difficulty"]
    assert list(np.argsort(ours)) == list(np.argsort(theirs))
    assert np.corrcoef(ours, theirs)[0, 1] > 0.99


def test_the_command_prints_kinds_and_weights(diagnosed: Path, tmp_path: Path) -> None:
    bank = tmp_path / "our.jsonl"
    add(diagnosed / "record.jsonl", bank)
    with pytest.raises(BankError) as error:
        difficulty(bank)
    assert str(error.value) == (
        f"{bank}: no item has counts yet: add some with barwright bank add RECORD {bank} --results"
    )
    add(diagnosed / "record.jsonl", bank, results=True)
    lines, faults = difficulty(bank)
    assert faults == ()
    assert lines[0].split() == ["kind", "items", "asked", "right", "expected", "taken"]
    assert sum(int(line.split()[4]) for line in lines[1:] if len(line.split()) == 8) == 30 * 25
    assert [line.partition(" =")[0] for line in lines[-6:]] == list(WEIGHTS)
