"""Files that were changed by hand or come from strangers: told by line with the mend, and the rest still works."""

from pathlib import Path

import pytest

from bank.demo_bank import bank_text, demo_entries
from barwright.bank.entries import (
    HEADER,
    Entry,
    canonical,
    format_entry,
)
from barwright.bank.reading import MOST_LINE_BYTES, RECORD_FORMAT, Faults
from barwright.errors import BankError
from barwright.tasks.bank.check import check
from barwright.tasks.bank.files import entries_of
from barwright.tasks.bank.show import show
from barwright.tasks.record import FORMAT

ENTRIES = demo_entries()
COPY = "take the line from another copy of the bank, or delete it"
NO_HEADER = f"this is not the first line of a bank: put {HEADER} before all others"


def read(path: Path) -> tuple[list[Entry], Faults]:
    with entries_of(path) as (entries, faults):
        return list(entries), faults


def told(path: Path) -> list[str]:
    return [text.removeprefix(f"{path}, ") for text in read(path)[1].told]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "bank.jsonl"
    path.write_text(bank_text(ENTRIES), "utf-8")
    return path


def test_a_sound_bank_has_no_faults(path: Path) -> None:
    assert read(path)[0] == ENTRIES
    assert told(path) == []


@pytest.mark.parametrize("dress", ["bom", "crlf", "blank lines", "no last end", "reversed", "all twice"])
def test_what_editors_do_to_files_is_no_fault(path: Path, dress: str) -> None:
    data = path.read_bytes()
    header, *lines = data.splitlines(keepends=True)
    path.write_bytes(
        {
            "bom": b"\xef\xbb\xbf" + data,
            "crlf": data.replace(b"\n", b"\r\n"),
            "blank lines": b"\n" + data.replace(b"\n", b"\n  \n\n"),
            "no last end": data.removesuffix(b"\n"),
            "reversed": b"".join([header, *reversed(lines)]),
            "all twice": data + b"".join(lines),
        }[dress]
    )
    assert read(path)[0] == ENTRIES
    assert told(path) == []


def test_lines_changed_by_hand_are_told_and_the_rest_is_read(path: Path) -> None:
    lines = path.read_text("utf-8").splitlines()
    wrong = ENTRIES[2]
    lines[1] = lines[1][:-9]
    lines[3] = lines[3].replace(f'"id":"{wrong.id}"', '"id":"0123456789abcdef"')
    lines[5] = f"{lines[5]}}}"
    path.write_text("\n".join([*lines, "remember the milk"]) + "\n", "utf-8")
    entries, _ = read(path)
    assert entries == [e for number, e in enumerate(ENTRIES) if number not in (0, 2, 4)]
    changed = f"the content does not give the id '0123456789abcdef' but {wrong.id!r}, so it was changed by hand: {COPY}"
    last = len(ENTRIES) + 2
    assert told(path) == [
        f"line 2: this is not JSON: {COPY}",
        f"line 4: {changed}",
        f"line 6: this is not JSON: {COPY}",
        f"line {last}: this is not JSON: {COPY}",
    ]


def test_bytes_that_are_not_text_are_told(path: Path) -> None:
    path.write_bytes(path.read_bytes() + b'{"caf\xe9"}\n')
    assert read(path)[0] == ENTRIES
    assert told(path) == [f"line {len(ENTRIES) + 2}: byte 6 is not UTF-8 text: {COPY}"]


def test_a_future_version_is_told_and_what_is_known_is_read(path: Path) -> None:
    future = canonical({"content": {}, "id": "0" * 16, "lesson": 3})
    path.write_text(bank_text(ENTRIES).replace('"version":1', '"version":2') + f"{future}\n", "utf-8")
    assert read(path)[0] == ENTRIES
    assert told(path) == [
        "line 1: this bank has format version 2, and this Barwright knows 1: update Barwright; until then only lines "
        "as those of version 1 are read",
        f"line {len(ENTRIES) + 2}: content.ask is missing: {COPY}",
    ]


@pytest.mark.parametrize("header", ["", '{"format":"barwright-bank"}\n', "[1]\n", "{\n"])
def test_a_bank_without_its_header_is_told_and_read(path: Path, header: str) -> None:
    path.write_text(header + "".join(f"{format_entry(e)}\n" for e in ENTRIES), "utf-8")
    assert read(path)[0] == ENTRIES
    assert told(path) == [f"line 1: {NO_HEADER}"]


@pytest.mark.parametrize("lines", [2, 3000])
@pytest.mark.parametrize("start", ["", "\ufeff", "\n"])
def test_the_record_of_a_quiz_is_no_bank(path: Path, lines: int, start: str) -> None:
    """However long it is, it gets one line; `read` and the commands that show go different ways."""
    path.write_text(start + '{"format": "barwright-record", "version": 1}\n' + '{"section": "A"}\n' * lines, "utf-8")
    number = 2 if start == "\n" else 1
    message = (
        f"{path}, line {number}: this is the record of a quiz, not a bank: add it to a bank with barwright bank add"
    )
    for task in (read, lambda path: show(path, where=(), most=3), check):
        with pytest.raises(BankError) as error:
            task(path)
        assert str(error.value) == message
    assert RECORD_FORMAT == FORMAT


def test_an_empty_file_is_no_bank(path: Path) -> None:
    path.write_bytes(b"")
    assert told(path) == [f"line 1: the file is empty: a bank begins with {HEADER}"]


def test_a_line_too_long_to_hold_is_told_and_passed_over(path: Path) -> None:
    lines = path.read_text("utf-8").splitlines()
    for long in (MOST_LINE_BYTES + 1, 5 * MOST_LINE_BYTES):
        path.write_text("\n".join([*lines[:3], "x" * long, *lines[3:]]), "utf-8")
        assert read(path)[0] == ENTRIES
        assert told(path) == ["line 4: over 500000 bytes: no item is so long; delete the line"]


def test_a_file_of_something_else_is_given_up(path: Path) -> None:
    path.write_text("a poem\n" * 1500, "utf-8")
    with pytest.raises(BankError) as error:
        read(path)
    assert str(error.value) == f"{path}: over 1000 lines cannot be read: is this a bank?"


def test_a_folder_and_a_missing_file_are_no_bank(tmp_path: Path) -> None:
    for path, why in ((tmp_path, "Is a directory"), (tmp_path / "none", "No such file or directory")):
        with pytest.raises(BankError) as error:
            read(path)
        assert str(error.value) == f"{path}: cannot be read ({why}): check the name and the folder"
