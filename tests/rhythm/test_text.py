"""Rhythm text both ways: every symbol, any excerpt, and the whole text of every refusal."""

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwright.errors import RhythmError
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import BLANK, FULL_MEASURE_REST, Symbol
from barwright.rhythm.meter import (
    ADDITIVE_GROUPS,
    BOTTOMS,
    Meter,
    parse_meter,
)
from barwright.rhythm.text import (
    format_excerpt,
    format_groups,
    format_measures,
    format_rhythm,
    format_symbol,
    format_symbols,
    parse_excerpt,
    parse_groups,
    parse_measures,
    parse_symbol,
    parse_symbols,
)
from barwright.rhythm.values import PLAIN, NoteValue
from worked import BOOK_RHYTHMS, LONGER_RHYTHMS

HOW = "write symbols as w h q e s, rests as rw rh rq re rs or rW, then . for a dot, t for a triplet, ~ for a tie"
EMPTY = "is empty: write rW for a measure of rest, or take one | away"

VALUES = [NoteValue(*made) for made in product(PLAIN.values(), range(3), (False, True))]
SYMBOLS = [Symbol("note", value, tied) for value, tied in product(VALUES, (False, True))]
SYMBOLS += [Symbol("rest", value) for value in VALUES] + [FULL_MEASURE_REST, BLANK]
METERS = [Meter(top, bottom) for top in range(1, 13) for bottom in BOTTOMS]
METERS += [Meter(top, 8, groups) for top, ways in ADDITIVE_GROUPS.items() for groups in ways]

MEASURES = st.lists(st.sampled_from(SYMBOLS), min_size=1, max_size=6).map(tuple)


@st.composite
def any_excerpts(draw: st.DrawFn) -> Excerpt:
    """Any symbols in any meter, marked or not; whether a pickup is there is read from the lengths, as text has it."""
    measures = tuple(draw(st.lists(MEASURES, min_size=1, max_size=3)))
    marks = [None, *((m, i) for m, symbols in enumerate(measures) for i in range(len(symbols)))]
    bare = Excerpt(draw(st.sampled_from(METERS)), measures)
    pickup = parse_excerpt(format_excerpt(bare), full=False).pickup
    return Excerpt(bare.meter, measures, pickup, draw(st.sampled_from(marks)))


def test_every_symbol_there_and_back() -> None:
    texts = [format_symbol(symbol) for symbol in SYMBOLS]
    assert [parse_symbol(text) for text in texts] == SYMBOLS
    assert len(set(texts)) == len(SYMBOLS) == 92


@given(any_excerpts())
def test_any_excerpt_there_and_back(excerpt: Excerpt) -> None:
    assert parse_excerpt(format_excerpt(excerpt), full=False) == excerpt


@given(st.lists(MEASURES, min_size=1, max_size=4).map(tuple))
def test_any_measures_there_and_back(measures: tuple[tuple[Symbol, ...], ...]) -> None:
    assert parse_measures(format_measures(measures)) == measures
    assert parse_symbols(format_symbols(measures[0])) == measures[0]


@pytest.mark.parametrize("text", [*BOOK_RHYTHMS, *LONGER_RHYTHMS])
def test_worked_rhythms_are_full_and_stay_as_written(text: str) -> None:
    assert format_excerpt(parse_excerpt(text)) == text


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("  3/4   q  q q ", "3/4 q q q"),
        ("3/4 q q q|h.", "3/4 q q q | h."),
        ("3/4 q q q | h. |", "3/4 q q q | h."),
        ("3/4 q q *q", "3/4 q q *q"),
        ("3/4 *_", "3/4 *_"),
    ],
)
def test_looser_writing_is_read(text: str, canonical: str) -> None:
    assert format_excerpt(parse_excerpt(text)) == canonical


def test_values_of_tokens() -> None:
    assert parse_symbol("q.").value == NoteValue(Fraction(1, 4), dots=1)
    assert parse_symbol("e..t~") == Symbol("note", NoteValue(Fraction(1, 8), 2, triplet=True), tied=True)
    assert parse_symbol("rw") != parse_symbol("rW")
    assert format_rhythm(parse_meter("3/4"), parse_symbols("q q q"), parse_symbols("rW")) == "3/4 q q q | rW"


@pytest.mark.parametrize(
    ("text", "pickup"),
    [
        ("3/4 q | h.", True),
        ("3/4 q | h. | h", True),
        ("3/4 q", False),
        ("3/4 _ | h.", False),
        ("3/4 h. | q", False),
        ("3/4 h. | h.", False),
    ],
)
def test_a_short_first_measure_is_a_pickup(text: str, pickup: bool) -> None:
    assert parse_excerpt(text, full=False).pickup is pickup


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("3/4 q x q", f"symbol 'x' cannot be read: {HOW}"),
        ("3/4 qt. q q", f"symbol 'qt.' cannot be read: {HOW}"),
        ("3/4 rW. q", f"symbol 'rW.' cannot be read: {HOW}"),
        ("3/4 q... e", f"symbol 'q...' cannot be read: {HOW}"),
        ("3/4", f"no symbols in '3/4': {HOW}"),
        ("3/4 q q q | | h.", f"measure 2 {EMPTY}"),
        ("3/4 q q q | h. ||", f"measure 3 {EMPTY}"),
        ("3/4 | h.", f"measure 1 {EMPTY}"),
        ("3/4 q | h. | | h", f"measure 2 {EMPTY}"),
        ("q q q", "time signature 'q' cannot be read: write it as 3/4, 6/8 or 2+3/8"),
        ("", "time signature '' cannot be read: write it as 3/4, 6/8 or 2+3/8"),
        ("3/4 *q *q q", "'3/4 *q *q q' marks two symbols: mark one"),
        ("3/4 rq~ q q", "a rest cannot be tied: rests are never tied"),
        ("3/4 q e e q e", "measure 1 holds 7/8 but 3/4 needs 6/8: take away 1/8"),
        ("2/4 et et q", "measure 1 holds 5/12 but 2/4 needs 6/12: add 1/12"),
        ("3/4 q q", "measure 1 holds 2/4 but 3/4 needs 3/4: add 1/4"),
        ("3/4 h. | q q q q", "measure 2 holds 4/4 but 3/4 needs 3/4: take away 1/4"),
        # after a pickup the first full measure is measure 1; the last may be short by as much as the pickup holds
        ("3/4 q | q q | h.", "measure 1 holds 2/4 but 3/4 needs 3/4: add 1/4"),
        (
            "3/4 q | h. | q",
            "measure 2 holds 1/4 but 3/4 needs 3/4: add 2/4; the last measure may also hold 2/4, and complete the "
            "pickup",
        ),
        ("3/4 rw", "measure 1 holds 4/4 but 3/4 needs 3/4: write rW for the rest of a whole measure, or take away 1/4"),
        ("3/4 q q q~", "'q~' is tied to nothing: a note must follow a tie"),
        ("3/4 q~ rq q", "'q~' is tied to nothing: a note must follow a tie"),
        ("3/4 q q q~ | rW", "'q~' is tied to nothing: a note must follow a tie"),
    ],
)
def test_what_cannot_be_read_says_why(text: str, message: str) -> None:
    with pytest.raises(RhythmError) as error:
        parse_excerpt(text)
    assert str(error.value) == message


def test_a_tie_may_lead_into_a_blank() -> None:
    assert parse_excerpt("3/4 q q~ _").blank == (0, 2)


@pytest.mark.parametrize("text", ["q", "q < h", "e e < q. < h", "rq < q q < rh rq"])
def test_groups_in_order_of_length_are_read_and_written_back(text: str) -> None:
    assert format_groups(parse_groups(text)) == text
    assert parse_groups(text.replace(" < ", "<")) == parse_groups(text)


def test_an_order_without_a_group_is_refused() -> None:
    with pytest.raises(RhythmError) as raised:
        parse_groups("q < < h")
    assert str(raised.value) == f"no symbols in ' ': {HOW}"
