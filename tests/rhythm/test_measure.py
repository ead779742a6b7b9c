"""Symbols, events and excerpts: onsets, pickups, blanks, and the whole text of every refusal."""

from fractions import Fraction

import pytest

from barwright.errors import RhythmError
from barwright.rhythm.excerpt import Excerpt, fragment
from barwright.rhythm.measure import (
    BLANK,
    FULL_MEASURE_REST,
    Symbol,
    events,
    note,
    rest,
    total,
)
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_excerpt, parse_excerpt, parse_symbols
from barwright.rhythm.values import NoteValue

QUARTER = NoteValue(Fraction(1, 4))


def test_the_full_measure_rest_lasts_the_measure_and_the_whole_rest_a_whole_note() -> None:
    """Open University 4.4: the same sign, whatever the meter."""
    for text in ("2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "7/8", "12/8"):
        meter = parse_meter(text)
        assert total([FULL_MEASURE_REST], meter) == meter.capacity
        assert total([rest("1")], meter) == 1
        assert total([BLANK], meter) == 0


def test_events_add_up_from_the_start() -> None:
    found = events(parse_symbols("q. e rq"), parse_meter("3/4"), start=Fraction(1, 4), measure=2)
    assert [(e.onset * 8, e.length * 8, e.measure, e.index) for e in found] == [
        (2, 3, 2, 0),
        (5, 1, 2, 1),
        (6, 2, 2, 2),
    ]


@pytest.mark.parametrize(
    ("symbol", "message"),
    [
        (("note", None, False), "a note needs note value"),
        (("rest", None, False), "a rest needs note value"),
        (("measure-rest", QUARTER, False), "a measure-rest has no note value"),
        (("blank", QUARTER, False), "a blank has no note value"),
        (("rest", QUARTER, True), "a rest cannot be tied: rests are never tied"),
        (("blank", None, True), "a blank cannot be tied: rests are never tied"),
    ],
)
def test_symbols_that_cannot_be(symbol: tuple[str, NoteValue | None, bool], message: str) -> None:
    with pytest.raises(RhythmError) as error:
        Symbol(*symbol)
    assert str(error.value) == message


def test_makers_of_symbols() -> None:
    assert note("1/4", 1, tied=True) == Symbol("note", NoteValue(Fraction(1, 4), 1), tied=True)
    assert rest("1/8", triplet=True) == Symbol("rest", NoteValue(Fraction(1, 8), triplet=True))
    assert [s.silent for s in (note("1"), rest("1"), FULL_MEASURE_REST, BLANK)] == [False, True, True, False]


def test_a_pickup_takes_the_last_beats() -> None:
    excerpt = parse_excerpt("3/4 e e | h q | h")
    assert excerpt.pickup
    assert [[str(e.onset) for e in measure] for measure in excerpt.events()] == [["1/2", "5/8"], ["0", "1/2"], ["0"]]
    assert [str(excerpt.start_of(number)) for number in range(3)] == ["1/2", "0", "0"]


def test_filling_the_blank() -> None:
    excerpt = parse_excerpt("3/4 q q q | *q _")
    assert excerpt.blank == (1, 1)
    assert format_excerpt(excerpt.filled(parse_symbols("q. e"))) == "3/4 q q q | q q. e"
    assert parse_excerpt("3/4 h.").blank is None


def test_a_picture_of_a_few_symbols() -> None:
    figure = fragment(parse_symbols("e e"), parse_meter("3/4"), start=Fraction(1, 4))
    assert (figure.frame, figure.signature, figure.final, figure.start) == ("fragment", False, False, Fraction(1, 4))


def test_excerpts_that_cannot_be() -> None:
    meter, symbols = parse_meter("3/4"), parse_symbols("q q q")
    for measures in ((), (symbols, ())):
        with pytest.raises(RhythmError) as error:
            Excerpt(meter, measures)
        assert str(error.value) == "an excerpt needs at least one symbol in every measure"
    for mark in ((1, 0), (0, 3), (-1, 0), (0, -1)):
        with pytest.raises(RhythmError) as error:
            Excerpt(meter, (symbols,), mark=mark)
        assert str(error.value) == f"mark {mark} points outside the excerpt"
    with pytest.raises(RhythmError) as error:
        Excerpt(meter, (symbols,)).filled(symbols)
    assert str(error.value) == "the excerpt has no blank to fill"
