"""How many wrong choices can be shorter than the right one, worked by hand from the lengths that are on offer."""

import pytest

from asks.spaces import excerpt, space
from barwright.asks.ask import Question
from barwright.forms import length_ranks
from barwright.forms.length_ranks import has_ranks, ranks_of
from barwright.items.item import Answer
from barwright.rhythm.values import TICKS
from forms.made_items import in_ask, plan

BLANKS = ("q q _ q", "q q q _", "_ q q q", "q _ q q", "h _ q", "h q _")


@pytest.mark.parametrize(
    ("ask", "ranked"),
    [
        ("finish-measure", True), ("drag-into-the-blank", True), ("finish-measure-with-two", True),
        # Several are right; whole measures; rows of counts, which have no length; a number that is typed.
        ("all-that-fit", False), ("rhythm-for-time-signature", False), ("counts-for-rhythm", False),
        ("beats-left", False),
    ],
)  # fmt: skip
def test_only_one_filling_among_others_has_a_rank(ask: str, ranked: bool) -> None:
    assert has_ranks(plan(ask, space("h q", "3/4"))) is ranked


def of_a_quarter(wrong: int, *offered: str, usual: bool = True, paired: str = "") -> set[int]:
    """The ranks of a quarter note in 4/4 among so many wrong choices, if to each question these are on offer."""
    questions = [Question(excerpt(f"4/4 {blank}"), (Answer("symbols", "q"),)) for blank in BLANKS[: len(offered)]]
    offers = {
        question.text: {Answer("symbols", text): ("an-error",) for text in texts.split()}
        for question, texts in zip(questions, offered, strict=True)
    }
    pairs = {Answer("symbols", text): ("two-errors",) for text in paired.split()}
    made = in_ask(
        plan("finish-measure", space("h q", "4/4")),
        offers=lambda question, _space, _rng: offers[question.text],
        pairs=lambda _question, _space: pairs,
    )
    return set(length_ranks._seen(made.ask, questions, made.space, TICKS // 4, wrong, usual=usual))


@pytest.mark.parametrize(
    ("wrong", "offered", "ranks"),
    [
        (2, "e s h", {1, 2}),
        (2, "h h. q.", {0}),
        (2, "e s", {2}),
        (2, "e s e.", {2}),
        (3, "e s h h.", {1, 2}),
        (2, "e h h.", {0, 1}),
        # As long as the right one, twice as long as each other: neither is a length more.
        (2, "rq e h", {1}),
        (2, "h rh e", {1}),
        # A whole note is as long as the measure, which no student takes: it does not count, nor does a longer one.
        (2, "e w w.", set()),
        (1, "e w w.", {1}),
        (1, "w", set()),
    ],
)
def test_ranks_that_the_lengths_on_offer_allow(wrong: int, offered: str, ranks: set[int]) -> None:
    assert of_a_quarter(wrong, offered) == ranks


def test_where_it_has_to_be_one_as_long_as_the_measure_will_do() -> None:
    assert of_a_quarter(1, "w", usual=False) == {0}
    assert of_a_quarter(2, "e w w.", usual=False) == {0, 1}


def test_what_two_errors_lead_to_counts_too() -> None:
    assert of_a_quarter(2, "e", paired="h") == {1}


def test_a_rank_counts_that_every_third_question_has() -> None:
    longer, shorter = "h h.", "e s"
    assert of_a_quarter(2, longer, longer, *[shorter] * 4) == {0, 2}
    assert of_a_quarter(2, longer, *[shorter] * 5) == {2}
    assert of_a_quarter(2, longer, *[shorter] * 3) == {2}


@pytest.mark.parametrize(
    ("symbols", "meter", "choices", "ranks"),
    [
        # Three lengths under that of the measure: each has both others for wrong choices.
        ("h q e", "3/4", 3, {"e": {0}, "q": {1}, "h": {2}}),
        # Of four choices there are only three: one choice fewer.
        ("h q e", "3/4", 4, {"e": {0}, "q": {1}, "h": {2}}),
        # A quarter has an eighth below it and three above: two of these, or one of each.
        ("w h. h q. q e", "4/4", 3, {"q": {0, 1}}),
        # Two lengths: with one wrong choice, and where one is the measure's, with that.
        ("w h q", "4/4", 3, {"q": {0}, "h": {1}}),
        ("h q", "2/4", 3, {"q": {0}}),
        ("w h q", "4/4", 4, {"q": {0}, "h": {1}}),
        # The whole note does not count where there are enough others.
        ("w h q e", "4/4", 3, {"q": {1}}),
        # Nothing that is asked for lasts so long: nothing is known of it.
        ("h q", "2/4", 3, {"h.": {0}}),
    ],
)
def test_ranks_in_a_class(symbols: str, meter: str, choices: int, ranks: dict[str, set[int]]) -> None:
    made = plan("finish-measure", space(symbols, meter), choices=choices)
    for key, wanted in ranks.items():
        question = Question(excerpt(f"{meter} q _"), (Answer("symbols", key),))
        assert ranks_of(made, question) == wanted
