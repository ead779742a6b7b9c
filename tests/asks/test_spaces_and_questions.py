"""What spaces, questions and rows of a family say where nothing is told of them."""

from dataclasses import replace

from asks.spaces import excerpt, space
from barwright.asks.ask import Ask, Question, Space, evenly, never, no_pairs
from barwright.items.item import Answer
from barwright.items.taught import Taught
from barwright.notation.legal_measures import Alphabet
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter

FOUR, THREE = parse_meter("4/4"), parse_meter("3/4")
Q = Answer("symbols", "q")
QUESTION = Question(excerpt("3/4 h _"), (Q,), "top")
PLAIN = Space(
    Taught(frozenset({"h", "q"}), True, (FOUR, THREE)), Alphabet(("h", "q")), (THREE,), Conventions(), measures=2
)


def test_a_space_has_ties_over_barlines_and_draws_plain_measures_more_often() -> None:
    assert (PLAIN.tied_over, PLAIN.even, PLAIN.own) == (True, False, ())


def test_equal_spaces_are_remembered_as_one() -> None:
    other = replace(PLAIN)
    assert other is not PLAIN
    assert {PLAIN: "one"}[other] == "one"
    assert replace(PLAIN, measures=1) != PLAIN != replace(PLAIN, even=True)
    assert "hash" not in repr(PLAIN), "it differs from run to run"


def test_a_space_with_even_chances_is_the_same_but_for_these() -> None:
    plain = replace(space("q e", "2/4"), even=False)
    assert evenly(plain).even
    assert replace(evenly(plain), even=False) == plain


def test_the_space_of_the_whole_class_has_single_measures_of_all_its_meters() -> None:
    part = space("h q", "3/4", measures=2, ties=True, own="3/4 h q | q h", taught_meters="3/4 4/4")
    counted = replace(part, limits=replace(part.limits, counted=True))
    whole = counted.anywhere
    assert (whole.meters, whole.measures, whole.own, whole.limits.counted) == ((THREE, FOUR), 1, (), False)
    assert (whole.taught, whole.alphabet, whole.conventions) == (part.taught, part.alphabet, part.conventions)
    assert whole.limits == replace(part.limits, counted=False)
    assert part.anywhere == whole


def test_questions_are_told_apart_by_excerpt_and_target() -> None:
    assert QUESTION.text == "3/4 h _ top"
    assert Question(excerpt("3/4 h _"), (Q,)).text == "3/4 h _"


def test_an_ask_asks_about_one_measure_in_one_meter_in_any_order_unless_it_says_so() -> None:
    ask = Ask(
        "x", "y", "figures", "symbols",
        draw=lambda _space, _rng: None, listed=lambda _space: iter(()), offers=lambda *_: {}, clash=never,
    )  # fmt: skip
    assert (ask.measures, ask.needs_meters, ask.pinned, ask.lists_all(PLAIN)) == (1, 1, False, True)
    assert ask.farness(QUESTION, Q) == 0
    assert not ask.clash(QUESTION, Q, Answer("symbols", "h"))
    assert ask.pairs(QUESTION, PLAIN) == {} == no_pairs(QUESTION, PLAIN)
