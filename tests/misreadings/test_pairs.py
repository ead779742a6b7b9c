"""Two misreadings at once: worked examples, the order of acting, what is never told, and what nobody holds together."""

from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest

from barwright.counting.counts import count_labels, format_row
from barwright.misreadings import MISREADINGS, Misreading
from barwright.misreadings.answers import (
    candidates_of,
    fillings_among,
    row,
    rows,
)
from barwright.misreadings.belief import LABELING
from barwright.misreadings.believed_rows import counts_of, sheet_of
from barwright.misreadings.exclusions import EITHER_OR, ONE_OF, contradict
from barwright.misreadings.pair_fillings import pair_candidates_of, pair_fillings
from barwright.misreadings.pairs import (
    JOINT,
    NAMES,
    NAMING,
    PLACES,
    SIGNING,
    SIGNS,
    VALUES,
    heard_by_pairs,
    pair_believers,
    pair_rows,
    pairs_of,
    stage,
)
from barwright.misreadings.read_back import read_back, rhythms_read
from barwright.misreadings.rhythm_of_row import rhythms_of_row
from barwright.notation.legal_measures import Alphabet, all_measures
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_symbols, parse_excerpt, parse_symbols

USUAL = Conventions()
TOKENS = ("w", "h", "h.", "q", "q.", "e", "rh", "rq", "re")
ALPHABET = Alphabet(TOKENS)
ALL = tuple(MISREADINGS.values())
COUNTING = tuple(m for m in ALL if m.exercises & LABELING)


def worked(kind: str) -> Iterator[tuple[tuple[Misreading, ...], str, str]]:
    """The examples of one heading: both misreadings, the figure, the wrong answer."""
    now = ""
    for line in (Path(__file__).parents[1] / "textbook" / "errors_pairs.txt").read_text("utf-8").splitlines():
        if line.startswith("#"):
            now = line.split(":")[0].strip("# ")
        elif now == kind:
            both, figure, answer = (part.strip() for part in line.split(" | "))
            yield tuple(MISREADINGS[ident] for ident in both.split(" + ")), figure, answer


def measures(meter: str) -> list[Excerpt]:
    parsed = parse_meter(meter)
    return [Excerpt(parsed, (symbols,)) for symbols in all_measures(ALPHABET, parsed, USUAL)]


@pytest.mark.parametrize(("both", "figure", "answer"), [*worked("counts")])
def test_two_errors_of_counting_as_worked_by_hand(both: tuple[Misreading, ...], figure: str, answer: str) -> None:
    found = [text for _, _, text in pair_rows(both, parse_excerpt(figure), USUAL)]
    assert found == [answer.replace("|", " | ")]


@pytest.mark.parametrize(("both", "figure", "answer"), [*worked("blank")])
def test_two_errors_of_filling_as_worked_by_hand(both: tuple[Misreading, ...], figure: str, answer: str) -> None:
    excerpt = parse_excerpt(figure)
    width = len(answer.split())
    groups = tuple(parse_symbols(" ".join(g)) for g in product(TOKENS, repeat=width))
    pairs = pair_candidates_of(both, groups, excerpt.meter, USUAL)
    single = candidates_of(both, groups, excerpt.meter, USUAL)
    found = pair_fillings(pairs, single, excerpt, USUAL)
    assert answer in {format_symbols(group) for group in found}
    assert not set(found) & set(fillings_among(single, excerpt, USUAL))


@pytest.mark.parametrize(("both", "figure", "answer"), [*worked("full")])
def test_two_errors_that_take_a_measure_for_full(both: tuple[Misreading, ...], figure: str, answer: str) -> None:
    assert answer == "-"
    assert len(pair_believers(both, parse_excerpt(figure, full=False), USUAL)) == 1


def test_a_pair_is_acted_out_in_the_order_of_reading_whichever_way_it_is_given() -> None:
    for pair in pairs_of(COUNTING):
        assert stage(pair.first) <= stage(pair.second)
    there, back = pairs_of(COUNTING), pairs_of(COUNTING[::-1])
    crossed = {p for p in there if stage(p.first) < stage(p.second)}
    assert crossed == {p for p in back if stage(p.first) < stage(p.second)}
    assert len(there) == len(back)


@pytest.mark.parametrize("meter", ["2/4", "3/4", "6/8"])
def test_a_pair_is_told_only_where_neither_alone_says_the_same_and_it_is_wrong(meter: str) -> None:
    told = 0
    for excerpt in measures(meter)[::5]:
        known = {format_row(count_labels(excerpt, USUAL)), *(text for _, _, text in rows(COUNTING, excerpt, USUAL))}
        for pair, labels, text in pair_rows(COUNTING, excerpt, USUAL):
            told += 1
            assert text == format_row(labels)
            assert text not in known, (pair.id, text)
            assert row(pair.first, excerpt, USUAL) is not None
            assert not contradict(pair.first, pair.second)
    assert told > 100


def test_every_error_of_counting_is_acted_out_at_the_stage_that_it_changes() -> None:
    """What an error leaves behind tells its stage: lengths, places, or labels only."""
    seen = set()
    texts = ["4/4 q. e rq h|q q~ q rh", "3/4 h q|rq q re e", "4/4 e q e rh|q e e q rq", "6/8 q e q.|q. rq re"]
    texts += [
        "2/2 h q q|rh h",
        "2/4 e s s q|q rq",
        "2/4 et et et q|rW",
        "4/4 w|rW",
        "4/4 q. e h",
        "4/4 s s s s q rq q|e. s h.",
    ]
    for m, text in product(COUNTING, texts):
        sheet = sheet_of(parse_excerpt(text, full=False), USUAL)
        reading = None if sheet is None else m.act(sheet.reading)
        if sheet is None or reading is None or (reading.labels is None and reading.lengths == sheet.reading.lengths):
            continue
        seen.add(m.id)
        over_the_barline = m.id == "counting-goes-on-over-the-barline"  # places that lie beyond the measure
        moved = reading.counts is not None and reading.counts.measures != counts_of(sheet.reading).measures
        if reading.labels is None:
            assert stage(m) == VALUES, m.id
        elif reading.places is not None or over_the_barline or moved:
            assert stage(m) == PLACES, m.id
        else:
            assert stage(m) in (NAMES, SIGNS), m.id
    silent = {m.id for m in COUNTING if m.hear is not None}
    assert {m.id for m in COUNTING} - seen - silent == set()


def test_every_id_of_the_tables_is_there() -> None:
    named = {
        *NAMING,
        *SIGNING,
        *(i for group in ONE_OF for i in group),
        *(i for two in EITHER_OR for g in two for i in g),
    }
    assert named <= set(MISREADINGS)
    assert not any(JOINT in ident for ident in MISREADINGS)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("rest-counts-without-parentheses", "parentheses-around-the-notes"),
        ("rest-counts-without-parentheses", "rests-take-no-time"),
        ("parentheses-around-the-notes", "count-waits-during-rests"),
        ("held-beats-struck-again", "separate-notes-joined-by-hyphens"),
        ("count-restarts-at-the-half-measure", "counting-goes-on-over-the-barline"),
        ("dots-passed-over", "dot-shortens"),
        ("rests-take-no-time", "every-rest-is-one-beat"),
        ("one-beat-too-many-counted", "one-beat-too-few-counted"),
        ("measure-taken-as-empty", "blank-taken-for-one-beat"),
        ("numbers-of-the-signature-swapped", "every-measure-has-four-beats"),
        ("hyphens-taken-for-rests", "hyphens-taken-for-new-notes"),
    ],
)
def test_nobody_holds_two_errors_that_contradict_each_other(one: str, other: str) -> None:
    assert contradict(MISREADINGS[one], MISREADINGS[other])
    assert contradict(MISREADINGS[other], MISREADINGS[one])
    assert not pairs_of((MISREADINGS[one], MISREADINGS[other]))


def test_two_values_of_one_symbol_contradict_each_other_where_they_meet() -> None:
    both = (MISREADINGS["dots-passed-over"], MISREADINGS["filled-head-lasts-longer"])
    assert list(pair_rows(both, parse_excerpt("3/4 h."), USUAL)) == []
    told = [text for _, _, text in pair_rows(both, parse_excerpt("4/4 q re e q. re"), USUAL)]
    assert told == []  # the dotted quarter is misread by both, so here, too
    assert [t for _, _, t in pair_rows((MISREADINGS["dots-passed-over"], MISREADINGS["rests-take-no-time"]),
                                       parse_excerpt("4/4 q. re h"), USUAL)] == ["1 2-3"]  # fmt: skip


def test_a_row_is_read_back_as_every_measure_that_an_error_counts_so() -> None:
    """Held against asking each measure on its own: all legal measures of 3/4 in these values."""
    meter = parse_meter("3/4")
    found = tuple(e.measures[0] for e in measures("3/4"))
    asked = tuple(m for m in ALL if "rhythm-for-counts" in m.exercises)
    index = read_back(found, meter, asked, USUAL)
    given = Excerpt(meter, (parse_symbols("q rq q"),))
    right = format_row(count_labels(given, USUAL))
    read = rhythms_read(index, count_labels(given, USUAL), asked, USUAL)
    for symbols in found:
        alone = {m.id for m, _, text in rows(asked, Excerpt(meter, (symbols,)), USUAL) if text == right}
        if symbols != given.measures[0] and alone:
            assert alone <= set(read[symbols]), format_symbols(symbols)
    assert given.measures[0] not in read
    assert any(JOINT in ident for ids in read.values() for ident in ids)


def test_two_errors_of_reading_a_row_are_heard_one_after_the_other() -> None:
    both = [MISREADINGS["parentheses-passed-over"], MISREADINGS["hyphens-taken-for-new-notes"]]
    found = [(pair.id, heard) for pair, heard in heard_by_pairs(both, (("1", "(2)", "3-4"),), USUAL)]
    assert found == [("parentheses-passed-over+hyphens-taken-for-new-notes", (("1", "2", "3", "4"),))]


@pytest.mark.parametrize("meter", ["2/4", "3/4", "6/8"])
def test_every_measure_is_written_again_from_its_row_and_nothing_that_counts_otherwise(meter: str) -> None:
    """The inverse of counting, held against counting: all legal measures of these values that stand without ties."""
    for excerpt in measures(meter)[::3]:
        labels = count_labels(excerpt, USUAL)
        found = list(rhythms_of_row(labels, excerpt.meter, frozenset(TOKENS), USUAL))
        assert excerpt.measures in found
        for other in found:
            assert count_labels(Excerpt(excerpt.meter, other), USUAL) == labels


def test_a_row_that_overfills_or_skips_stands_for_no_rhythm() -> None:
    meter = parse_meter("3/4")
    for labels in (("1", "2", "3-4"), ("1", "3"), ("2", "3")):
        assert list(rhythms_of_row((labels,), meter, frozenset(TOKENS), USUAL)) == []


def test_heard_rows_can_be_written_anew_where_the_index_does_not_hold_every_measure() -> None:
    meter = parse_meter("4/4")
    given = Excerpt(meter, (parse_symbols("q rq h"),))
    asked = (MISREADINGS["parentheses-passed-over"],)
    index = read_back((), meter, asked, USUAL)
    labels = count_labels(given, USUAL)
    assert rhythms_read(index, labels, asked, USUAL) == {}
    read = rhythms_read(index, labels, asked, USUAL, written=lambda row: [
        m for (m,) in rhythms_of_row(row, meter, frozenset(TOKENS), USUAL)])  # fmt: skip
    assert read == {parse_symbols("q q h"): ("parentheses-passed-over",)}
