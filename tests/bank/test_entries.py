"""Lines of a bank: there and back, made canonical whatever they looked like, refused with the mend when changed."""

import json
import string
from collections.abc import Callable
from random import Random
from typing import get_args

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bank.demo_bank import demo_entries, demo_items, review, usage
from barwright.bank.entries import HEADER, canonical, format_entry, ident_of, united
from barwright.bank.grammar import (
    is_record,
    pairs_in,
    records_text,
    rows_in,
)
from barwright.bank.model import (
    RECORD,
    Header,
    Line,
    Review,
    bank_schema,
)
from barwright.bank.reading import parse_entry
from barwright.bank.records import entry_of, record_of
from barwright.bank.text_patterns import MOST_RECORDS, VERDICTS
from barwright.errors import BankError
from barwright.items.item import item_content
from whole import whole_or_part

COPY = "take the line from another copy of the bank, or delete it"
ENTRIES = demo_entries()
LINES = [format_entry(entry) for entry in ENTRIES]


def fault(line: str) -> str:
    with pytest.raises(BankError) as error:
        parse_entry(line)
    return str(error.value)


def test_every_entry_comes_back_from_its_line() -> None:
    assert [parse_entry(line) for line in LINES] == ENTRIES


def test_the_id_of_a_line_is_the_id_of_the_item() -> None:
    for item in demo_items():
        entry = entry_of(item)
        assert entry.id == item.id == ident_of(entry.content)
        assert json.loads(entry.content) == json.loads(json.dumps(item_content(item)))


def test_lines_are_canonical_json_for_any_reader() -> None:
    for line in (HEADER, *LINES):
        assert json.dumps(json.loads(line), sort_keys=True, separators=(",", ":"), ensure_ascii=False) == line


def test_models_write_what_canonical_writes() -> None:
    for line in LINES:
        assert canonical(Line.model_validate_json(line).model_dump(mode="json")) == line
    assert canonical(Header.model_validate_json(HEADER).model_dump()) == HEADER


def test_records_carry_the_id_of_their_own_text() -> None:
    for entry in ENTRIES:
        assert entry.records == tuple(sorted((ident_of(text), text) for _, text in entry.records))


@pytest.mark.parametrize(
    "spoilt",
    [
        lambda data: json.dumps(data, indent=1).replace("\n", " "),
        lambda data: json.dumps(data, sort_keys=True),
        lambda data: json.dumps({key: data[key] for key in ("records", "id", "content")}),
        lambda data: json.dumps({**data, "records": dict(reversed(data["records"].items()))}, ensure_ascii=True),
        lambda data: f"  {json.dumps(data)}\t",
    ],
    ids=["indented", "spaced", "other order", "records reversed", "blanks around"],
)
def test_a_line_in_other_dress_is_read_and_made_canonical(spoilt: Callable[[dict[str, object]], str]) -> None:
    for entry, line in zip(ENTRIES, LINES, strict=True):
        assert parse_entry(spoilt(json.loads(line))) == entry


def changed(path: tuple[object, ...], value: object) -> str:
    """The first line with one place changed."""
    data = json.loads(LINES[0])
    inner = data
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = value
    return canonical(data)


FIRST = ENTRIES[0]
RECORD_ID = FIRST.records[0][0]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("{", f"this is not JSON: {COPY}"),
        ("[" * 5000, f"over 20 brackets stand inside each other: {COPY}"),
        ("[]", f"this is no JSON object in braces: {COPY}"),
        ("{}", f"content is missing: {COPY}"),
        (changed(("id",), "ABC"), f"id = 'ABC' is not written as it must be, or too long: {COPY}"),
        (changed(("more",), 1), f"more = 1 is not a key here: {COPY}"),
        (changed(("content", "ask"), 7), f"content.ask = 7 must be text in quotes: {COPY}"),
        (changed(("content", "choices"), []), f"content.choices has too few entries: {COPY}"),
        (changed(("content", "choices"), [["symbols", "q"]]), f"content.choices.0.2 is missing: {COPY}"),
        (
            changed(("content", "choices"), [["symbols", "q", ["x"] * 99]]),
            f"content.choices.0.2 has too many entries: {COPY}",
        ),
        (
            changed(("records", RECORD_ID, "kind"), "usages"),
            f"records.{RECORD_ID} is of a kind that is not known: {COPY}",
        ),
        (
            changed(("records", "0" * 16), {"kind": "tag", "tag": "x" * 201}),
            f"records.{'0' * 16}.tag.tag = '{'x' * 60}...' is not written as it must be, or too long: {COPY}",
        ),
    ],
)
def test_a_line_of_another_shape_is_refused_with_the_mend(line: str, message: str) -> None:
    assert fault(line) == message


def test_a_record_changed_by_hand_is_refused() -> None:
    line = LINES[0].replace("Ms. Alder", "Ms. Elder")
    wrong = next(text for _, text in ENTRIES[0].records if "Alder" in text)
    ident = ident_of(wrong)
    assert fault(line) == (
        f"record {ident!r} does not give this id but {ident_of(wrong.replace('Alder', 'Elder'))!r}, so it was changed "
        "by hand: take the line from another copy of the bank, or delete the record"
    )


def test_united_records_that_are_too_many_are_refused() -> None:
    item = demo_items()[0]
    halves = [
        entry_of(item, [record_of("tag", tag=f"{part} {number}") for number in range(MOST_RECORDS // 2 + 1)])
        for part in ("one", "two")
    ]
    assert parse_entry(format_entry(halves[0])) == halves[0]
    with pytest.raises(BankError) as error:
        united(halves)
    assert str(error.value) == f"item {item.id!r} would have 2002 records, over 2000: split the bank"


TEXTS = st.text(st.one_of(st.sampled_from('"\\{},:[]é♩ ab'), st.characters(codec="utf-8")), max_size=12)
RECORDS = st.one_of(
    st.builds(dict, kind=st.just("tag"), tag=TEXTS),
    st.builds(
        dict, by=TEXTS, date=st.sampled_from(["", "2025-03-14", "2025-13-01"]), kind=st.just("review"),
        text=TEXTS, verdict=st.sampled_from(["approve", "retire", "comment", "praise"]),
    ),
    st.builds(
        dict, by=TEXTS, date=st.just("2024-02-29"), form=st.sampled_from(["f" * 17, "F" * 17]),
        kind=st.just("usage"), section=TEXTS, title=TEXTS,
    ),
    st.builds(dict, by=TEXTS, date=st.just(""), kind=st.just("source"), made_by=TEXTS, title=TEXTS),
)  # fmt: skip
CONTENTS = st.builds(
    dict,
    ask=st.text(string.ascii_lowercase + "-A", max_size=6),
    choices=st.lists(
        st.tuples(
            st.sampled_from(["symbols", "row", "rows"]),
            TEXTS,
            st.lists(st.text("ab-_", max_size=4), max_size=3),
        ),
        max_size=3,
    ),
    conventions=st.dictionaries(st.text("ab_", max_size=3), st.one_of(TEXTS, st.booleans(), st.integers()), max_size=3),
    excerpt=st.text("34/q. |*_~é", max_size=12),
    target=TEXTS,
)


def line_of(content: dict[str, object], records: list[dict[str, object]], *, tidy: bool) -> str:
    text = canonical(content)
    named = {ident_of(canonical(record)): record for record in records}
    data = {"content": content, "id": ident_of(text), "records": named}
    return canonical(data) if tidy else json.dumps(data, separators=(",", ":"), ensure_ascii=False)


@settings(max_examples=whole_or_part(2_000, 120), deadline=None)
@given(CONTENTS, st.lists(RECORDS, max_size=4), st.booleans())
def test_the_grammar_never_accepts_what_the_models_refuse(
    content: dict[str, object], records: list[dict[str, object]], tidy: bool
) -> None:
    line = line_of(content, records, tidy=tidy)
    rows = rows_in(f"{line}\n")
    pairs = pairs_in(rows[0][3]) if rows else None
    if not rows or pairs is None or not all(is_record(text) for _, text in pairs):
        return
    read = Line.model_validate_json(line)
    assert canonical(read.model_dump(mode="json")) == line
    assert records_text(pairs) == rows[0][3]
    assert [json.loads(text) for _, text in pairs] == [r.model_dump() for r in read.records.values()]


@settings(max_examples=whole_or_part(2_000, 120), deadline=None)
@given(CONTENTS, st.lists(RECORDS, max_size=4), st.booleans())
def test_a_line_is_read_if_and_only_if_the_models_read_it(
    content: dict[str, object], records: list[dict[str, object]], tidy: bool
) -> None:
    line = line_of(content, records, tidy=tidy)
    try:
        Line.model_validate_json(line)
    except ValueError:
        with pytest.raises(BankError):
            parse_entry(line)
        return
    entry = parse_entry(line)
    assert parse_entry(format_entry(entry)) == entry


@settings(max_examples=whole_or_part(1_000, 100), deadline=None)
@given(st.integers(0, 2**32))
def test_a_line_with_any_byte_changed_is_refused_or_is_the_same_entry(seed: int) -> None:
    rng = Random(seed)
    line = rng.choice(LINES)
    place = rng.randrange(len(line))
    sign = rng.choice(["", '"', "\\", "}", "{", ",", "x", " ", "é", line[rng.randrange(len(line))]])
    try:
        entry = parse_entry(line[:place] + sign + line[place + rng.randint(0, 1) :])
    except BankError:
        return
    assert format_entry(entry) in LINES


def test_pairs_are_only_whole_lists_of_records() -> None:
    one = records_text(entry_of(demo_items()[0], [usage("Period 1")]).records)
    two = records_text(entry_of(demo_items()[0], [usage("Period 1"), review("approve")]).records)
    assert records_text(pairs_in(two) or ()) == two
    assert pairs_in("") == ()
    for bad in (f"{one},", f"{one}x", "x", one[1:], f"{one},{one}", f" {one}", one.replace(":", ";")):
        found = pairs_in(bad)
        assert found is None or not all(is_record(text) for _, text in found), bad


def test_a_text_with_every_sign_of_json_in_it_goes_there_and_back() -> None:
    text = r'a "b" \ {c},"d":[e] }}'
    entry = entry_of(demo_items()[0], [review("comment", text=text), record_of("tag", tag=text)])
    assert parse_entry(format_entry(entry)) == entry
    read = [json.loads(record) for _, record in entry.records]
    assert {record.get("text", record.get("tag")) for record in read} == {text}


def test_the_schema_holds_for_every_line_and_for_nothing_else() -> None:
    checker = jsonschema.Draft202012Validator(bank_schema())
    checker.check_schema(bank_schema())
    for line in (HEADER, *LINES):
        checker.validate(json.loads(line))
    for line in (changed(("id",), "ABC"), changed(("more",), 1), changed(("content", "choices"), []), "{}"):
        assert not checker.is_valid(json.loads(line)), line


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        (
            {"kind": "review", "by": "", "date": "14.3.2025", "text": "", "verdict": "approve"},
            "date '14.3.2025' cannot be recorded: write it as 2025-03-14",
        ),
        (
            {"kind": "usage", "by": "", "date": "", "form": "f1", "section": "P", "title": ""},
            "form 'f1' cannot be recorded: it must be the form's ident as make wrote it",
        ),
        (
            {"kind": "tag", "tag": "a\nb"},
            "tag 'a<U+000A>b' cannot be recorded: use plain characters on one line, not too many, and where it names "
            "something at least one",
        ),
    ],
)
def test_what_cannot_be_recorded_is_told_with_the_field(fields: dict[str, str], message: str) -> None:
    with pytest.raises(BankError) as error:
        record_of(**fields)
    assert str(error.value) == message


def test_the_grammar_and_the_models_know_the_same_verdicts() -> None:
    assert get_args(Review.model_fields["verdict"].annotation) == VERDICTS


def test_every_kind_of_record_is_in_the_schema() -> None:
    kinds = {"source", "usage", "counts", "review", "return", "tag"}
    assert set(RECORD.json_schema()["discriminator"]["mapping"]) == kinds
