"""Answers that no student would reach are not offered: each is what its error really leads to (common practice)."""

import pytest

from barwright.items.asks import Space
from barwright.items.families import ASKS
from barwright.misreadings import MISREADINGS
from barwright.misreadings.answers import claims, fills, gap
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt, parse_symbols
from items.demo import SECOND_YEAR, plan

HOUSE = Conventions()


def test_who_always_counts_quarters_says_quarters_of_what_the_measure_holds_too() -> None:
    m = MISREADINGS["quarter-always-gets-the-beat"]
    assert claims(m, parse_excerpt("2/2 rq", full=False), "", HOUSE) == ("fits 1 2",)
    assert claims(m, parse_excerpt("6/8 q", full=False), "", HOUSE) == ("fits 1 6",)


@pytest.mark.parametrize("text", ["4/4 e _ e h", "4/4 _ e rq q", "4/4 rq q _ e e", "4/4 _ rq e e e e"])
def test_who_stops_in_the_middle_never_fills_too_much(text: str) -> None:
    assert gap(MISREADINGS["filled-to-the-half-measure"], parse_excerpt(text), HOUSE) is None


def test_who_stops_in_the_middle_leaves_the_second_half_empty() -> None:
    m, excerpt = MISREADINGS["filled-to-the-half-measure"], parse_excerpt("4/4 q _")
    assert fills(m, parse_symbols("q"), excerpt, HOUSE)
    assert not fills(m, parse_symbols("h."), excerpt, HOUSE)


@pytest.mark.parametrize("ident", ["as-many-symbols-as-beats", "quarter-means-four-beats", "names-are-parts-of-a-beat"])
def test_errors_that_tell_no_pair_from_another_are_not_offered_as_pairs(ident: str) -> None:
    assert "finish-measure-with-two" not in MISREADINGS[ident].asks


def _space(ask: str) -> Space:
    return plan(SECOND_YEAR, ask).space.anywhere


def test_a_slip_of_one_beat_is_one_of_the_note_that_the_measure_is_counted_in() -> None:
    from barwright.items.offers import meter_offers
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
    from random import Random

    ask = ASKS["finish-measure"]
    a_plan = plan('\nmeters = ["3/4"]\nnotes = ["half", "quarter"]\nrests = ["half", "quarter"]\n', "finish-measure")
    question = next(q for q in ask.listed(a_plan.space) if q.text == "3/4 h _" and q.keys[0].text == "q")
    offers = ask.offers(question, a_plan.space.anywhere, Random(1))
    assert "filled-head-lasts-longer" not in {m for ids in offers.values() for m in ids}
    assert any("one-beat-too-few-counted" in ids for ids in offers.values())


def test_nothing_is_asked_of_an_empty_measure_or_of_a_symbol_that_is_not_written_in_the_meter() -> None:
    a_plan = plan('\nmeters = ["3/4"]\nnotes = ["half", "quarter"]\nrests = ["half", "quarter"]\n', "does-it-fit")
    assert [q.text for q in a_plan.ask.listed(a_plan.space)] == ["3/4 h", "3/4 q", "3/4 rq"]
    a_plan = plan('\nmeters = ["4/4"]\nnotes = ["whole", "half"]\n', "finish-measure")
    assert all(len(q.excerpt.symbols) > 1 for q in a_plan.ask.listed(a_plan.space))
