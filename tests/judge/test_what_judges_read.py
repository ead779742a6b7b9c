"""What the judge takes for a beat, and which texts of answers it can read; common practice where no source is named."""

from fractions import Fraction

import pytest

from barwright.judge.answer_texts import Claim, canonical, claim_of, groups_of, measures_of, number_of, symbols_of
from barwright.judge.beats import beat_notes, beats_in
from barwright.rhythm.meter import parse_meter


@pytest.mark.parametrize(
    ("meter", "notes"),
    [
        ("4/4", "1/4"), ("3/2", "1/4 1/2"), ("2/2", "1/4 1/2"), ("6/8", "1/8 3/8"), ("12/8", "1/8 3/8"),
        # Three eighths are felt in one as well; quarters by threes, and other eighths, are not.
        ("3/8", "1/8 3/8"), ("3/4", "1/4"), ("2/8", "1/8"), ("4/8", "1/8"), ("5/8", "1/8"),
    ],
)  # fmt: skip
def test_notes_that_are_called_a_beat(meter: str, notes: str) -> None:
    assert beat_notes(parse_meter(meter)) == set(map(Fraction, notes.split()))


@pytest.mark.parametrize(
    ("meter", "at", "length", "beats"),
    [
        # A whole measure of a meter that is not additive is no beat.
        ("4/4", "0", "1", "4"), ("6/8", "0", "3/4", "2 6"), ("3/8", "0", "3/8", "1 3"),
        # 3 + 2 or 2 + 3 eighths: each group is a beat, and both are two; what crosses a group is none.
        ("5/8", "0", "3/8", "1 3"), ("5/8", "0", "1/4", "1 2"), ("5/8", "0", "5/8", "2 5"),
        ("5/8", "3/8", "1/4", "1 2"), ("5/8", "1/8", "3/8", "3"), ("5/8", "1/8", "1/2", "4"),
        ("5/8", "0", "1/8", "1"), ("5/8", "0", "1/2", "4"),
        # 2 + 2 + 3: two groups; 3 + 2 + 2 and 2 + 3 + 2 have none of four eighths from the beginning.
        ("7/8", "0", "1/2", "2 4"), ("7/8", "0", "5/8", "2 5"),
    ],
)  # fmt: skip
def test_numbers_of_beats_that_a_length_could_be_said_to_have(meter: str, at: str, length: str, beats: str) -> None:
    found = beats_in(Fraction(length), parse_meter(meter), at=Fraction(at))
    assert found == set(map(Fraction, beats.split()))


def test_a_length_begins_with_the_measure_unless_said_otherwise() -> None:
    assert beats_in(Fraction(3, 8), parse_meter("5/8")) == {1, 3}


@pytest.mark.parametrize("text", ["0", "1", "12", "128", "3/2", "3/16", "0/4"])
def test_a_number_may_be_broken(text: str) -> None:
    assert number_of(text) == Fraction(text)


@pytest.mark.parametrize("text", ["", "-1", "1.5", "1234", "3/", "/2", "1/0", "1/00", "3/128", "1 2", "x"])
def test_what_is_no_number(text: str) -> None:
    assert number_of(text) is None


@pytest.mark.parametrize(
    "text",
    ["fits 2 3", "fits-not 4 3", "adds-up 3 4", "adds-up 3/2 16", "stands-for 1", "stands-for 2", "stands-for 4",
     "stands-for 8", "stands-for 16", "gets-beat 8", "how-many 3", "big-beats 2", "kind-of-note", "notes 3",
     "measures 3", "lasts 4"],
)  # fmt: skip
def test_claims_that_can_be_read(text: str) -> None:
    kind, *numbers = text.split()
    assert claim_of(text) == Claim(kind, tuple(map(Fraction, numbers)))
    assert canonical("claim", text) == text


@pytest.mark.parametrize(
    "text",
    ["", "fits", "fits 2", "fits 2 3 4", "fits 2 x", "fits-not 4", "adds-up 3", "adds-up 3 4 5", "stands-for",
     "stands-for 3", "stands-for 32", "stands-for 0", "stands-for 1 2", "adds-up 4 3", "gets-beat 5", "gets-beat",
     "how-many", "how-many 1 2", "big-beats", "big-beats 1 2", "kind-of-note 1", "notes", "notes 1 2", "measures",
     "measures 1 2", "lasts", "lasts 1 2", "shines", "shines 1"],
)  # fmt: skip
def test_claims_that_cannot(text: str) -> None:
    assert claim_of(text) is None
    assert canonical("claim", text) is None


@pytest.mark.parametrize(
    ("kind", "text", "read"),
    [
        ("symbols", "q  re", "q re"), ("symbols", "q _", None), ("symbols", "_", None), ("symbols", "x", None),
        ("measures", "q q|h", "q q | h"), ("measures", "q _ | h", None), ("measures", "q | _", None),
        ("measures", "q x", None), ("order", "e<q.", "e < q."), ("order", "e < _", None), ("order", "_ q < h", None),
        ("order", "x < q", None), ("row", "1  (2) | 3", "1 (2) | 3"), ("row", "", None), ("meter", "3/4", "3/4"),
        ("meter", "3-4", None), ("meter", "3", None), ("number", "6/4", "3/2"), ("number", "x", None),
    ],
)  # fmt: skip
def test_canonical_texts_of_answers(kind: str, text: str, read: str | None) -> None:
    assert canonical(kind, text) == read


def test_what_is_read_is_what_was_written() -> None:
    symbols = symbols_of("q re")
    assert symbols is not None
    assert [s.silent for s in symbols] == [False, True]
    assert tuple(map(len, measures_of("q re | h") or ())) == (2, 1)
    assert tuple(map(len, groups_of("e e < h") or ())) == (2, 1)
