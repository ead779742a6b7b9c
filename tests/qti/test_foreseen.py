"""Whole wrong answers that are foreseen: who gives just that answer is told its hint, any other the general one."""

from dataclasses import replace
from fractions import Fraction
from itertools import permutations, product
from pathlib import Path

import pytest
from qti2_reader import Package

from barwright.qti import written, zipped
from barwright.qti.package_content import answer_feedback
from barwright.wording.worded import (
    Pictures,
    WordedAnswer,
    WordedForm,
    WordedItem,
    WordedSlot,
)
from published import complaints
from worded_forms import INLINE, ORDER, form_of

TURNED = WordedAnswer(("c3", "c1", "c2"), False, "You began with the longest & went down.", "longest-first", "Why")
SWAPPED = WordedAnswer(("c1", "c2", "c3"), False, "The open head < is longer.", "filled-head", "Why")
QUIET = WordedAnswer(("c2", "c3", "c1"), False, "", "nothing-to-say", "Why")
ORDERED = replace(
    ORDER, foreseen=(TURNED, WordedAnswer(ORDER.sequence, True, "Right."), SWAPPED, QUIET), title="Question 1"
)
LISTS = replace(
    INLINE,
    foreseen=(
        WordedAnswer(("c1", "c2", "c3", "c1"), True, "Right. All counts are there."),
        WordedAnswer(("c1", "c4", "c3", "c1"), False, "Told by the fourth.", "rest", "Why", told_by="c4"),
        WordedAnswer(("c2", "c2", "c1", "c1"), False, "Count on from 1.", "restarts", "Why"),
    ),
)

each_standard = pytest.mark.parametrize("standard", ["qti22", "qti30"])
each_credit = pytest.mark.parametrize("credit", ["all-or-nothing", "per-choice"])


def form(credit: str, *items: WordedItem) -> WordedForm:
    made = form_of(*items)
    return replace(made, credit="per-choice") if credit == "per-choice" else made


def package(shown: WordedForm, pictures: Pictures, standard: str) -> Package:
    return Package(zipped(written(shown, pictures, standard=standard, shape="quiz")))


@each_standard
@each_credit
def test_every_order_is_told_its_own_or_the_general_hint(pictures: Pictures, standard: str, credit: str) -> None:
    made = package(form(credit, ORDERED), pictures, standard)
    right = "Right. A quarter is shorter than a half."
    own = {TURNED.filled: TURNED.feedback, SWAPPED.filled: SWAPPED.feedback, ORDERED.sequence: right}
    for size in range(4):
        for told in permutations(ORDERED.sequence, size):
            good = sum(a == b for a, b in zip(told, ORDERED.sequence, strict=False))
            parts = Fraction(ORDERED.points * good, 3) if credit == "per-choice" else ORDERED.points * (good == 3)
            score, said = made.answered(ORDERED.ident, {"RESPONSE": told or None})
            assert abs(score - parts) < 0.00001
            assert said == [own.get(told, ORDERED.general_feedback)]


@each_standard
@each_credit
def test_every_way_to_fill_the_lists_is_told_its_own_or_the_general_hint(
    pictures: Pictures, standard: str, credit: str
) -> None:
    made = package(form(credit, LISTS), pictures, standard)
    slots = [p for p in LISTS.pieces if isinstance(p, WordedSlot)]
    right, _, whole = LISTS.foreseen
    for told in product(*(("", *(s.options or ("c1", "c2", "c3", "c4"))) for s in slots)):
        responses = {f"RESPONSE_{s.ident}": ident for s, ident in zip(slots, told, strict=True) if ident}
        good = sum(ident in s.keys for s, ident in zip(slots, told, strict=True))
        parts = Fraction(LISTS.points * good, 4) if credit == "per-choice" else LISTS.points * (good == 4)
        score, said = made.answered(LISTS.ident, responses)
        assert abs(score - parts) < 0.00001
        if good == len(slots):
            assert said == [right.feedback]
        else:
            astray = [LISTS.choices[3].feedback] if "c4" in told else []
            assert said == [*astray, whole.feedback if told == whole.filled else LISTS.general_feedback]


def test_only_answers_with_a_hint_that_no_choice_tells_are_foreseen_in_packages() -> None:
    assert [(f.name, f.text) for f in answer_feedback(ORDERED)][1:3] == [
        ("a1", TURNED.feedback), ("a2", SWAPPED.feedback),
    ]  # fmt: skip
    assert [f.name for f in answer_feedback(LISTS)] == ["c1", "c4", "a1", ""]
    assert [f.name for f in answer_feedback(ORDER)] == ["c2", ""]


@each_standard
def test_no_misreading_stands_in_a_package(pictures: Pictures, standard: str) -> None:
    made = package(form("", ORDERED, LISTS), pictures, standard)
    for path, data in made.entries.items():
        for word in (b"longest-first", b"filled-head", b"restarts", b"Why"):
            assert word not in data, path


@each_credit
def test_the_checker_accepts_them(pictures: Pictures, standards: Path, tmp_path: Path, credit: str) -> None:
    files = []
    for standard in ("qti22", "qti30"):
        files.append(tmp_path / f"{standard}.zip")
        files[-1].write_bytes(zipped(written(form(credit, ORDERED, LISTS), pictures, standard=standard, shape="quiz")))
    assert complaints(standards, files) == []
