"""Every worked error of the textbook files: what the student fills in, says, writes, or reads."""

import pytest

from barwright.counting.counts import (
    count_labels,
    format_row,
    normal_row,
    parse_row,
)
from barwright.misreadings import MISREADINGS
from barwright.misreadings.answers import (
    believed_length,
    believes_full,
    claims,
    fills,
    gap,
    hears,
    missing,
    row,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import total
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt, parse_symbols
from worked import rows

USUAL = Conventions()
COMPLETION, NUMBERS, COUNTING, READING, METERS = (
    rows(f"errors_{name}.txt") for name in ("completion", "numbers", "counting", "reading", "meters")
)


def normal(text: str) -> str:
    return normal_row(text, USUAL)


@pytest.mark.parametrize("cells", COMPLETION, ids=" ".join)
def test_a_worked_filling(cells: list[str]) -> None:
    _, ident, text, right, wrong = cells
    m, excerpt = MISREADINGS[ident], parse_excerpt(text)
    missing_length = excerpt.meter.capacity - total(excerpt.symbols, excerpt.meter)
    assert total(parse_symbols(right), excerpt.meter) == missing_length
    assert not fills(m, parse_symbols(right), excerpt, USUAL)
    if wrong in ("complete", "too many"):
        room = gap(m, excerpt, USUAL)
        assert room is not None
        assert (room == 0) if wrong == "complete" else (room < 0)
    else:
        assert fills(m, parse_symbols(wrong), excerpt, USUAL)


@pytest.mark.parametrize("cells", NUMBERS, ids=" ".join)
def test_a_worked_number(cells: list[str]) -> None:
    ident, text, right, wrong = cells
    excerpt = parse_excerpt(text)
    held = total(excerpt.symbols, excerpt.meter)
    assert str((excerpt.meter.capacity - held) / excerpt.meter.unit) == right
    said = missing(MISREADINGS[ident], excerpt, USUAL)
    assert ("-" if said is None else str(said)) == wrong


@pytest.mark.parametrize("cells", COUNTING, ids=" ".join)
def test_a_worked_row_of_counts(cells: list[str]) -> None:
    _, ident, text, right, wrong = cells
    excerpt = parse_excerpt(text)
    assert normal(format_row(count_labels(excerpt, USUAL))) == normal(right)
    found = row(MISREADINGS[ident], excerpt, USUAL)
    assert found is not None
    assert normal(format_row(found)) == normal(wrong)
    assert tuple(map(len, found)) == tuple(map(len, count_labels(excerpt, USUAL)))


@pytest.mark.parametrize("cells", READING, ids=" ".join)
def test_a_worked_row_as_it_is_read(cells: list[str]) -> None:
    ident, given, expected = cells
    heard = hears(MISREADINGS[ident], parse_row(given), USUAL)
    assert ("-" if heard is None else format_row(heard).replace(" | ", "|")) == expected


@pytest.mark.parametrize("cells", METERS, ids=" ".join)
def test_a_worked_meter(cells: list[str]) -> None:
    _, ident, ask, text, wrong = cells
    m, excerpt = MISREADINGS[ident], parse_excerpt(text, full=False)
    if ask == "signature" and wrong == "-":
        assert not believes_full(m, excerpt, USUAL)
    elif ask == "signature":
        assert believes_full(m, Excerpt(parse_meter(wrong), excerpt.measures), USUAL)
    elif ask == "rhythm":
        assert believes_full(m, Excerpt(excerpt.meter, (parse_symbols(wrong),)), USUAL)
    else:
        assert claims(m, excerpt, "" if ask == "fit" else ask, USUAL) == (() if wrong == "-" else (wrong,))


def test_every_error_of_the_catalogue_has_a_worked_example() -> None:
    worked = {cells[1] for cells in (*COMPLETION, *COUNTING, *METERS)} | {cells[0] for cells in (*NUMBERS, *READING)}
    assert worked == set(MISREADINGS)


def test_every_error_that_the_trade_names_is_there() -> None:
    named = """WR4 WHSWAP HOLLOW DOT1 DOTHALF DOTX2 DOT0 DOTSHORT REST0 RESTSTOP R8R4 SYM1 SEQ HELDHIT ALTAND NORESTART
    FLIP BOTQ ALL44 NOTES-TOP SIX-THREE SIXBEATS FRACMEAS E1 PAIRHALF FLAGUP SSEQ DOTQNEXT SYNCEVEN TIEHIT TIE0 TRIP8
    CUT44"""
    assert {cells[0] for cells in (*COMPLETION, *COUNTING, *METERS)} - {"-"} == set(named.split())


# Collision notes of the trade's catalogue.


def believed(ident: str, symbols: str, meter: str) -> str:
    return str(believed_length(MISREADINGS[ident], parse_symbols(symbols), parse_meter(meter), USUAL))


def test_a_dot_that_adds_a_beat_cannot_be_told_from_one_that_doubles_beside_a_quarter_note() -> None:
    assert believed("dot-adds-one-beat", "q.", "4/4") == believed("dot-doubles", "q.", "4/4") == "1/2"


def test_errors_of_the_dot_are_right_where_the_dot_adds_just_that() -> None:
    assert believed("dot-adds-one-beat", "h.", "4/4") == "3/4"
    assert believed("dot-adds-half-a-beat", "q.", "4/4") == "3/8"


@pytest.mark.parametrize("text", ["2/4 q _", "3/4 q _", "3/8 e _", "6/8 q. _"])
def test_swapped_numbers_cannot_be_told_from_four_beats_where_a_blank_is_filled(text: str) -> None:
    excerpt = parse_excerpt(text)
    swapped = gap(MISREADINGS["numbers-of-the-signature-swapped"], excerpt, USUAL)
    assert swapped == gap(MISREADINGS["every-measure-has-four-beats"], excerpt, USUAL)


@pytest.mark.parametrize("text", ["4/4 q _", "2/2 h _"])
def test_errors_of_the_capacity_do_not_show_where_a_measure_holds_four_quarters(text: str) -> None:
    for ident in ("numbers-of-the-signature-swapped", "every-measure-has-four-beats"):
        assert gap(MISREADINGS[ident], parse_excerpt(text), USUAL) is None


@pytest.mark.parametrize("text", ["2/4 q _", "3/4 q _", "4/4 q _"])
def test_a_quarter_beat_is_right_over_four(text: str) -> None:
    assert gap(MISREADINGS["quarter-always-gets-the-beat"], parse_excerpt(text), USUAL) is None


def test_counting_symbols_cannot_be_told_from_full_beat_eighths_on_two_eighths_and_a_quarter() -> None:
    excerpt = parse_excerpt("4/4 e e q _")
    symbols = gap(MISREADINGS["every-symbol-is-one-beat"], excerpt, USUAL)
    assert symbols == gap(MISREADINGS["eighth-gets-a-full-beat"], excerpt, USUAL)


def test_notes_counted_for_the_top_number_are_right_in_a_measure_of_beats() -> None:
    m = MISREADINGS["top-number-counts-the-notes"]
    assert not believes_full(m, parse_excerpt("3/4 q q q"), USUAL)


# conventions under which an error is none.


def test_counting_cut_time_in_four_is_no_error_in_a_class_that_does() -> None:
    four = Conventions(cut_time="in_four")
    assert row(MISREADINGS["cut-time-counted-in-four"], parse_excerpt("2/2 h h"), four) is None


def test_six_beats_are_no_error_in_a_class_that_counts_six() -> None:
    six = Conventions(compound="bottom")
    assert claims(MISREADINGS["every-eighth-is-a-big-beat"], parse_excerpt("6/8 q. q."), "top", six) == ()


def test_onsets_alone_are_no_error_since_other_classes_write_so() -> None:
    # "1 2 (3)" for q q rh: what one beat for every rest would give, and right where held beats are not written.
    assert row(MISREADINGS["every-rest-is-one-beat"], parse_excerpt("4/4 q q rh"), USUAL) is None
    assert all(row(m, parse_excerpt("3/4 h q"), USUAL) != (("1", "3"),) for m in MISREADINGS.values())


def test_no_error_of_parentheses_in_a_class_that_writes_rests_otherwise() -> None:
    for style in ("strike", "R"):
        conventions = Conventions(rest_counts=style)
        for ident in ("rest-counts-without-parentheses", "parentheses-around-the-notes", "held-beats-in-parentheses"):
            assert row(MISREADINGS[ident], parse_excerpt("4/4 h rq q"), conventions) is None
        assert hears(MISREADINGS["parentheses-passed-over"], parse_row("1 (2)"), conventions) is None


@pytest.mark.parametrize(
    ("conventions", "row", "heard"),
    [
        (Conventions(counting="takadimi"), "ta (ta) ta di", "ta ta ta di"),
        (Conventions(counting="gordon"), "du (du)", "du du"),
        (Conventions(counting="eastman"), "1 (te) 2", "1 te 2"),
        (Conventions(held="subdivisions"), "1-& (2-&)", "1-& 2-&"),
        (Conventions(held="onset_only"), "1 (2)", "1 2"),
        (Conventions(counting="kodaly", kodaly_rests="marked"), "ta (ta)", "ta ta"),
        # `sh` alone says that it is a rest, and nothing is passed over.
        (Conventions(counting="kodaly"), "ta sh", None),
    ],
)
def test_parentheses_are_passed_over_in_every_class_that_writes_them(
    conventions: Conventions, row: str, heard: str | None
) -> None:
    """Whatever the words are, those in parentheses are rests (common practice)."""
    told = hears(MISREADINGS["parentheses-passed-over"], parse_row(row), conventions)
    assert told == (None if heard is None else parse_row(heard))


def test_no_error_of_hyphens_where_held_beats_are_not_joined_by_them() -> None:
    for ident in ("hyphens-taken-for-new-notes", "hyphens-taken-for-rests", "parentheses-taken-for-a-hold"):
        assert hears(MISREADINGS[ident], parse_row("1-2 (3)"), Conventions()) is not None
        for conventions in (Conventions(held="onset_only"), Conventions(counting="eastman")):
            assert hears(MISREADINGS[ident], parse_row("1-2 (3)"), conventions) is None


def test_a_count_that_waits_leaves_the_mark_that_the_class_uses() -> None:
    waits, excerpt = MISREADINGS["count-waits-during-rests"], parse_excerpt("4/4 q rq q q")
    assert row(waits, excerpt, Conventions(rest_counts="R")) == (("1", "R", "2", "3"),)
    assert row(waits, excerpt, Conventions(rest_counts="strike")) == (("1", "", "2", "3"),)


@pytest.mark.parametrize(
    ("conventions", "ident", "text", "expected"),
    [
        (Conventions(counting="kodaly"), "filled-head-lasts-longer", "3/4 h q", "ta ta-a"),
        (Conventions(counting="kodaly"), "rests-take-no-time", "4/4 h rq q", "ta-a ta"),
        (Conventions(counting="takadimi"), "rests-take-no-time", "2/4 e re e e", "ta di ta"),
        (Conventions(counting="gordon"), "syncopation-straightened", "2/4 e q e", "du de du"),
        (Conventions(counting="eastman"), "notes-numbered-in-order", "4/4 h q q", "1 2 3"),
        (Conventions(counting="takadimi"), "tied-note-struck-again", "2/4 q~ e e", "ta ta di"),
    ],
)
def test_errors_in_other_counting_systems(conventions: Conventions, ident: str, text: str, expected: str) -> None:
    found = row(MISREADINGS[ident], parse_excerpt(text), conventions)
    assert found is not None
    assert format_row(found) == expected


def test_a_student_notices_counts_that_run_past_the_measure_and_past_four_quarters() -> None:
    longer = MISREADINGS["filled-head-lasts-longer"]
    assert row(longer, parse_excerpt("2/4 q q"), USUAL) == (("1-2", "3-4"),)
    assert row(longer, parse_excerpt("3/4 q q q"), USUAL) is None


def test_a_full_measure_rest_shows_no_meter() -> None:
    for m in MISREADINGS.values():
        assert not believes_full(m, parse_excerpt("3/4 rW"), USUAL)


def test_nobody_says_three_quarters_of_a_beat() -> None:
    parts = MISREADINGS["names-are-parts-of-the-measure"]
    assert claims(parts, parse_excerpt("3/4 q", full=False), "", USUAL) == ()
    assert claims(parts, parse_excerpt("3/4 h", full=False), "", USUAL) == ("fits 3/2 3",)
