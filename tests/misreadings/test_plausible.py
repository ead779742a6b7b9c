"""Answers that no student would reach are not offered: each is what its error really leads to (common practice)."""

from dataclasses import replace
from random import Random

import pytest

from barwright.asks import ASKS
from barwright.asks.ask import Space
from barwright.asks.wrong_answers import meter_offers
from barwright.misreadings import MISREADINGS
from barwright.misreadings.answers import (
    claims,
    fills,
    gap,
    row,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt, parse_symbols
from items.demo import SECOND_YEAR, plan
from whole import whole_or_part

USUAL = Conventions()


def test_who_always_counts_quarters_says_quarters_of_what_the_measure_holds_too() -> None:
    m = MISREADINGS["quarter-always-gets-the-beat"]
    assert claims(m, parse_excerpt("2/2 rq", full=False), "", USUAL) == ("fits 1 2",)
    assert claims(m, parse_excerpt("6/8 q", full=False), "", USUAL) == ("fits 1 6",)


@pytest.mark.parametrize("text", ["4/4 e _ e h", "4/4 _ e rq q", "4/4 rq q _ e e", "4/4 _ rq e e e e"])
def test_who_stops_in_the_middle_never_fills_too_much(text: str) -> None:
    assert gap(MISREADINGS["filled-to-the-half-measure"], parse_excerpt(text), USUAL) is None


def test_who_stops_in_the_middle_leaves_the_second_half_empty() -> None:
    m, excerpt = MISREADINGS["filled-to-the-half-measure"], parse_excerpt("4/4 q _")
    assert fills(m, parse_symbols("q"), excerpt, USUAL)
    assert not fills(m, parse_symbols("h."), excerpt, USUAL)


@pytest.mark.parametrize("ident", ["as-many-symbols-as-beats", "quarter-means-four-beats", "names-are-parts-of-a-beat"])
def test_errors_that_tell_no_pair_from_another_are_not_offered_as_pairs(ident: str) -> None:
    assert "finish-measure-with-two" not in MISREADINGS[ident].exercises


def _space(ask: str) -> Space:
    return plan(SECOND_YEAR, ask).space.anywhere


def test_a_slip_of_one_beat_is_one_of_the_note_that_the_measure_is_counted_in() -> None:
    from barwright.items.taught import Taught
    from barwright.rhythm.meter import parse_meter

    space = _space("time-signature-for-rhythm")
    meters = tuple(map(parse_meter, ("12/8", "2/2", "4/4", "9/8", "3/4")))
    taught = Taught(space.taught.tokens, False, meters)
    wide = Space(taught, space.alphabet, meters, space.conventions, 1)
    slips = {"one-beat-too-few-counted", "one-beat-too-many-counted"}
    for text in ("12/8 q. q. q. q.", "4/4 q q q q", "2/2 h h"):
        offers = meter_offers("time-signature-for-rhythm", parse_excerpt(text), wide)
        slipped = {answer.text for answer, ids in offers.items() if slips & set(ids)}
        assert slipped == ({"3/4"} if text.startswith("4/4") else set())


def test_an_error_by_which_the_key_fits_as_well_is_not_offered() -> None:
    """Who swaps half and quarter notes finds one beat in `3/4 h _`, and two in the quarter note, which is the key."""
    ask = ASKS["finish-measure"]
    a_plan = plan('\nmeters = ["3/4"]\nnotes = ["half", "quarter"]\nrests = ["half", "quarter"]\n', "finish-measure")
    question = next(q for q in ask.listed(a_plan.space) if q.text == "3/4 h _" and q.keys[0].text == "q")
    offers = ask.offers(question, a_plan.space.anywhere, Random(1))
    assert "filled-head-lasts-longer" not in {m for ids in offers.values() for m in ids}
    assert any("one-beat-too-few-counted" in ids for ids in offers.values())


def test_an_error_by_which_the_printed_meter_is_full_as_well_is_not_offered_for_another() -> None:
    """Three symbols fill 3/8 and 3/4 for who counts symbols; in 3/8 a dot beside a quarter does add one unit."""
    from barwright.items.taught import Taught
    from barwright.rhythm.meter import parse_meter

    space = _space("time-signature-for-rhythm")
    meters = tuple(map(parse_meter, ("2/4", "3/4", "4/4", "3/8", "6/8")))
    wide = Space(Taught(space.taught.tokens, False, meters), space.alphabet, meters, space.conventions, 1)

    def found(text: str) -> set[tuple[str, str]]:
        offers = meter_offers("time-signature-for-rhythm", parse_excerpt(text), wide)
        return {(answer.text, m) for answer, ids in offers.items() for m in ids}

    assert ("3/4", "top-number-counts-the-notes") not in found("3/8 e e e")
    assert ("3/4", "top-number-counts-the-notes") in found("4/4 h q q")
    assert not {m for _, m in found("3/8 q.")} & {"dot-adds-one-beat"}
    assert ("3/4", "dot-adds-one-beat") not in found("3/8 q.")
    assert ("4/4", "dot-adds-one-beat") not in found("4/4 h. q")
    assert ("3/4", "six-eight-counted-as-three-four") in found("6/8 e e e e e e")
    assert ("4/4", "four-four-taken-for-granted") in found("3/4 h q")


def _signature_errors() -> set[str]:
    """Ids of all errors on offer for many rhythms of a wide vocabulary."""
    elements = """
meters = ["2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "9/8"]
notes = ["whole", "half", "quarter", "eighth", "sixteenth"]
rests = ["whole", "half", "quarter", "eighth"]
dots = ["half", "quarter", "eighth"]
triplets = ["eighth"]
ties = true
"""
    a_plan, rng = plan(elements, "time-signature-for-rhythm"), Random(1)
    found: set[str] = set()
    for _ in range(whole_or_part(800, 200)):
        question = a_plan.ask.draw(a_plan.space, rng)
        offers = a_plan.ask.offers(question, a_plan.space.anywhere, rng) if question else {}
        found |= {m for ids in offers.values() for m in ids}
    return found


def test_no_error_about_signatures_is_left_out_everywhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """Left out is one only on rhythms where it finds the right signature full as well."""
    meter_offers.cache_clear()
    now = _signature_errors()
    monkeypatch.setattr("barwright.asks.wrong_answers.contented", lambda *_: frozenset())
    meter_offers.cache_clear()
    assert _signature_errors() - now == set()
    meter_offers.cache_clear()
    assert len(now) > 18


def test_a_rest_without_parentheses_is_not_taken_for_parentheses_around_the_notes() -> None:
    """Under a marked rest both write the bare count; only under a note do they differ."""
    ask = ASKS["count-under-mark"]
    a_plan = plan('\nmeters = ["4/4"]\nnotes = ["half", "quarter"]\nrests = ["quarter"]\n', "count-under-mark")
    for question in ask.listed(a_plan.space):
        offers = ask.offers(question, a_plan.space.anywhere, Random(1))
        told = {m for ids in offers.values() for m in ids}
        measure, index = question.excerpt.mark or (0, 0)
        silent = question.excerpt.measures[measure][index].silent
        assert ("parentheses-around-the-notes" in told) <= (not silent)
        assert ("rest-counts-without-parentheses" in told) == silent


def test_there_is_no_and_where_a_beat_is_split_in_three() -> None:
    in_one = replace(USUAL, three_eight="in_one")
    excerpt = parse_excerpt("3/8 e e e")
    m = MISREADINGS["numbers-and-ands-alternate"]
    assert row(m, excerpt, USUAL) == (("1", "&", "2"),)
    assert row(m, excerpt, in_one) is None


def test_nobody_speaks_of_an_eighth_of_an_eighth_note() -> None:
    m = MISREADINGS["names-are-parts-of-a-beat"]
    assert claims(m, parse_excerpt("4/4 e", full=False), "", USUAL) == ("fits 1/8 4",)
    assert claims(m, parse_excerpt("6/8 e", full=False), "", USUAL) == ()


def test_nothing_is_asked_of_an_empty_measure_or_of_a_symbol_that_is_not_written_in_the_meter() -> None:
    a_plan = plan('\nmeters = ["3/4"]\nnotes = ["half", "quarter"]\nrests = ["half", "quarter"]\n', "does-it-fit")
    assert [q.text for q in a_plan.ask.listed(a_plan.space)] == ["3/4 h", "3/4 q", "3/4 rq"]
    a_plan = plan('\nmeters = ["4/4"]\nnotes = ["whole", "half"]\n', "finish-measure")
    assert all(len(q.excerpt.symbols) > 1 for q in a_plan.ask.listed(a_plan.space))
