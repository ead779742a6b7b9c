"""Records that have been through other hands: one line each, and none is in the way of a quiz made anew."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from barwright.errors import BarwrightError
from barwright.tasks.record import read_record
from barwright.tasks.standing import old_forms, record_fault
from fuzz.banks import record, with_value

RECORD = record().splitlines()
AGAIN = "make the quiz again"
MANY = json.dumps([["symbols", " ".join(["q"] * n), []] for n in range(1, 14)])
Change = Callable[[list[str]], list[str]]


def with_line(value: str, *path: object) -> Change:
    return lambda lines: [lines[0], with_value(lines[1], path, value), *lines[2:]]


CASES: list[tuple[Change, str]] = [
    (with_line("9" * 5000, "points"), f"line 2: a number has over 40 digits: {AGAIN}"),
    (with_line("-" + "9" * 5000, "content", "target"), f"line 2: a number has over 40 digits: {AGAIN}"),
    (with_line("[" * 3000, "tags"), f"line 2: over 20 brackets stand inside each other: {AGAIN}"),
    (with_line('{"a":' * 3000, "tags"), f"line 2: over 20 brackets stand inside each other: {AGAIN}"),
    (with_line("NaN", "points"), f"line 2: a number is none that JSON has: {AGAIN}"),
    (with_line("-Infinity", "points"), f"line 2: a number is none that JSON has: {AGAIN}"),
    (with_line("1.5", "points"), f"line 2: 1.5 is no whole number: {AGAIN}"),
    (with_line('{"a": 1, "a": 2}', "tags"), f"line 2: the key 'a' stands twice: {AGAIN}"),
    (with_line('"\\ud800"', "section"), f"line 2: a text has half a letter in it (a lone surrogate): {AGAIN}"),
    (with_line("true", "points"), f"line 2: points = true must be a whole number: the record was changed; {AGAIN}"),
    (with_line("null", "section"), f"line 2: section = null must be text in quotes: the record was changed; {AGAIN}"),
    (with_line("[1]", "item"), f"line 2: item must be text in quotes: the record was changed; {AGAIN}"),
    (with_line("0", "order"), f"line 2: order = 0 must be a list in square brackets: the record was changed; {AGAIN}"),
    (with_line('"../x"', "content", "ask"),
     "line 2: content.ask = '../x' is not written as it must be, or too long: the "
     f"record was changed; {AGAIN}"),
    (with_line(MANY, "content", "choices"),
     f"line 2: 13 choices stand beside each other: a question has 12 at most: the record was changed; {AGAIN}"),
    (lambda lines: [with_value(lines[0], ("version",), "true"), *lines[1:]],
     "line 1: this is not a record of version 1: make the quiz again with this barwright"),
    (lambda lines: [lines[0], lines[1][:-1], *lines[2:]], f"line 2: this is not JSON: {AGAIN}"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "message"), CASES, ids=[message[:60] for _, message in CASES])
def test_a_broken_record_is_one_line_and_blocks_nothing(tmp_path: Path, change: Change, message: str) -> None:
    text = "\n".join(change(RECORD)) + "\n"
    with pytest.raises(BarwrightError) as caught:
        read_record(text, "record.jsonl")
    assert str(caught.value) == f"record.jsonl, {message}"
    path = tmp_path / "record.jsonl"
    path.write_text(text, "utf-8")
    assert old_forms(tmp_path) == ()
    assert record_fault(tmp_path) == f"{path}, {message}"


def test_a_true_record_is_read(tmp_path: Path) -> None:
    (tmp_path / "record.jsonl").write_text(record(), "utf-8")
    assert record_fault(tmp_path) == ""
    assert len(old_forms(tmp_path)) == 2
