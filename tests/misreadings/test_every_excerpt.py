"""What holds for every misreading on every one-measure excerpt of several vocabularies, and on longer examples."""

from dataclasses import replace
from fractions import Fraction
from itertools import islice

import pytest

from barwright.counting.counts import (
    count_labels,
    format_row,
    normal_row,
    sounds,
)
from barwright.errors import RhythmError
from barwright.misreadings import MISREADINGS, Misreading
from barwright.misreadings.answers import (
    believes_full,
    claims,
    fills,
    gap,
    hears,
    missing,
    row,
)
from barwright.misreadings.belief import COMPLETION, true_reading
from barwright.notation.legal_measures import Alphabet
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import BLANK, length_of, total
from barwright.rhythm.meter import Meter, parse_meter
from misreadings.wrong_answers import Corpus, fillings
from whole import whole_or_part
from worked import excerpts

USUAL = Conventions()
MOST = 120  # excerpts of one meter; the larger vocabularies are cut there, always at the same place
VOCABULARIES = {
    "beginners": ("w h q rW rh rq", "2/4 3/4 4/4"),
    "eighths and dots": ("w h. h q. q e rh rq re", "2/4 3/4 4/4"),
    "sixteenths": ("q e. e s rq re", "2/4 3/4"),
    "ties": ("h h~ q q~ e e~ rq", "2/4 3/4"),
    "triplets": ("h q et rq", "2/4 3/4"),
    "compound": ("h. q. q e rq. rq re", "6/8 9/8 3/8"),
    "cut time": ("w h q rW rh rq", "2/2"),
    "additive": ("q. q e re", "5/8 7/8 2+3/8"),
}
VARIANTS = (
    replace(USUAL, held="onset_only"),
    replace(USUAL, counting="kodaly"),
    replace(USUAL, counting="gordon"),
    replace(USUAL, counting="takadimi"),
    replace(USUAL, counting="eastman"),
    replace(USUAL, compound="bottom", cut_time="in_four", three_eight="in_one"),
    replace(USUAL, rest_counts="strike", half_rest_in_3_4="allow"),
)


def corpus(name: str, conventions: Conventions = USUAL) -> list[Excerpt]:
    tokens, meters = VOCABULARIES[name]
    words = Corpus(Alphabet(tuple(tokens.split())), tuple(map(parse_meter, meters.split())), conventions)
    return [Excerpt(m, (s,)) for m in words.meters for s in islice(words.measures(m), MOST)]


def blanked(excerpt: Excerpt) -> list[Excerpt]:
    symbols = excerpt.measures[0]
    spots = [(a, b) for a in range(len(symbols)) for b in range(a + 1, min(a + 3, len(symbols) + 1))]
    return [Excerpt(excerpt.meter, ((*symbols[:a], BLANK, *symbols[b:]),)) for a, b in spots]


def normal(text: str, conventions: Conventions) -> str:
    return normal_row(text, conventions)


def check_row(m: Misreading, excerpt: Excerpt, conventions: Conventions) -> None:
    found, right = row(m, excerpt, conventions), count_labels(excerpt, conventions)
    if found is not None:
        assert normal(format_row(found), conventions) != normal(format_row(right), conventions), (m.id, excerpt)
        assert tuple(map(len, found)) == tuple(map(len, sounds(excerpt)))
        assert all(any(measure) for measure in found)
    heard = hears(m, right, conventions)
    if heard is not None:
        assert normal(format_row(heard), conventions) != normal(format_row(right), conventions), (m.id, excerpt)


@pytest.mark.parametrize("name", VOCABULARIES)
def test_no_row_of_counts_is_the_right_one(name: str) -> None:
    shown = set()
    for excerpt in corpus(name):
        for m in MISREADINGS.values():
            check_row(m, excerpt, USUAL)
            if row(m, excerpt, USUAL) is not None:
                shown.add(m.id)
    assert len(shown) >= 5


@pytest.mark.parametrize("conventions", VARIANTS, ids=str)
def test_no_row_of_counts_is_the_right_one_under_other_conventions(conventions: Conventions) -> None:
    for name in ("beginners", "compound", "cut time"):
        for excerpt in corpus(name, conventions)[::2]:
            for m in MISREADINGS.values():
                check_row(m, excerpt, conventions)


@pytest.mark.parametrize("name", VOCABULARIES)
def test_no_room_for_a_blank_is_the_true_one(name: str) -> None:
    for full in corpus(name)[:: whole_or_part(1, 5)]:
        for excerpt in blanked(full):
            held = sum((length_of(s, excerpt.meter) for s in excerpt.symbols), Fraction(0))
            true = excerpt.meter.capacity - held
            for m in MISREADINGS.values():
                assert gap(m, excerpt, USUAL) != true, (m.id, excerpt)
                number = missing(m, excerpt, USUAL)
                assert number is None or (number > 0 and number * excerpt.meter.unit != true), (m.id, excerpt)


def test_nothing_that_fills_rightly_is_a_wrong_filling_and_all_at_once_is_the_same_as_one_by_one() -> None:
    words = Corpus(Alphabet(("w", "h", "q", "rW", "rh", "rq")), tuple(map(parse_meter, ("2/4", "3/4", "4/4"))), USUAL)
    every = tuple(m for m in MISREADINGS.values() if m.exercises & COMPLETION)
    for number, full in enumerate(words.excerpts()):
        groups = words.groups(1, 2) if number % 6 == 0 else words.groups(1)
        for excerpt in blanked(full):
            found = fillings(every, groups, excerpt, USUAL)
            for symbols in groups:
                ids = tuple(m.id for m in every if fills(m, symbols, excerpt, USUAL))
                assert found.get(symbols, ()) == ids
                if ids:
                    assert (
                        total(symbols, excerpt.meter) + total(excerpt.symbols, excerpt.meter) != excerpt.meter.capacity
                    )


@pytest.mark.parametrize("name", VOCABULARIES)
def test_a_full_measure_is_never_a_wrong_one_unless_its_grouping_is_misread(name: str) -> None:
    for excerpt in corpus(name):
        for m in MISREADINGS.values():
            assert m.replaces == "grouping" or not believes_full(m, excerpt, USUAL), (m.id, excerpt)


def test_no_claim_is_the_right_one() -> None:
    for tokens, meters in VOCABULARIES.values():
        symbols = Alphabet(tuple(t for t in tokens.split() if "~" not in t and "t" not in t)).symbols
        for meter in map(parse_meter, meters.split()):
            for symbol in symbols:
                excerpt = Excerpt(meter, ((symbol,),))
                lasts, holds = length_of(symbol, meter) / meter.unit, meter.top
                right = f"{'fits' if lasts <= holds else 'fits-not'} {lasts} {holds}"
                for m in MISREADINGS.values():
                    assert right not in claims(m, excerpt, "", USUAL), (m.id, excerpt)


@pytest.mark.parametrize("meter", [Meter(2, 4), Meter(3, 4), Meter(4, 4), Meter(2, 2), Meter(3, 8), Meter(6, 8)])
def test_no_claim_about_a_number_is_the_right_one(meter: Meter) -> None:
    excerpt = Excerpt(meter, (next(iter(Corpus(Alphabet(("h", "q", "e")), (meter,), USUAL).measures(meter))),))
    for m in MISREADINGS.values():
        if "what-the-numbers-say" in m.exercises:
            top, bottom = claims(m, excerpt, "top", USUAL), claims(m, excerpt, "bottom", USUAL)
            beats = {f"how-many {meter.top}"} if meter.bottom != 8 else set()
            assert ({f"adds-up {meter.top} {meter.bottom}"} | beats).isdisjoint(top)
            assert {f"stands-for {meter.bottom}", f"gets-beat {meter.bottom}"}.isdisjoint(bottom)


@pytest.mark.parametrize("conventions", [USUAL, *VARIANTS], ids=str)
def test_pickups_ties_over_barlines_and_triplets_are_read_without_a_fault(conventions: Conventions) -> None:
    for excerpt in excerpts():
        try:
            right = format_row(count_labels(excerpt, conventions))
        except RhythmError:  # this system has no counts for that rhythm
            right = None
        for m in MISREADINGS.values():
            found = row(m, excerpt, conventions)
            assert found is None or right is not None
            believes_full(m, excerpt, conventions)
            for target in ("", "top", "bottom"):
                claims(m, excerpt, target, conventions)


def test_blanks_anywhere_in_longer_excerpts_are_read_without_a_fault() -> None:
    for full in excerpts():
        for number, symbols in enumerate(full.measures):
            for index in range(len(symbols)):
                left = (*symbols[:index], BLANK, *symbols[index + 1 :])
                measures = (*full.measures[:number], left, *full.measures[number + 1 :])
                excerpt = Excerpt(full.meter, measures)
                for m in MISREADINGS.values():
                    missing(m, excerpt, USUAL)
                    assert row(m, excerpt, USUAL) is None


def test_acting_an_error_out_changes_nothing_and_gives_the_same_twice() -> None:
    for excerpt in corpus("eighths and dots")[::7]:
        right = true_reading(excerpt, USUAL)
        before = repr(right)
        for m in MISREADINGS.values():
            assert m.act(right) == m.act(right)
        assert repr(right) == before


def test_an_error_of_reading_a_row_never_shows_in_writing() -> None:
    for excerpt in corpus("beginners"):
        for m in MISREADINGS.values():
            if m.hear is not None:
                assert m.act(true_reading(excerpt, USUAL)) is None
                assert row(m, excerpt, USUAL) is None
            else:
                assert hears(m, count_labels(excerpt, USUAL), USUAL) is None
