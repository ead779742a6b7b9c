"""Difficulty, what is taught, and items as content: by hand."""

import hashlib
from fractions import Fraction

import pytest

from barwright.items.difficulty import WEIGHTS, difficulty, features, mean, weighed
from barwright.items.item import Answer, Choice, Item, item_content
from barwright.items.taught import Taught, taught_symbols, untaught
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_symbol, parse_excerpt, parse_symbols

FEATURES = [
    # sounds (tied notes are one), rests, onsets off the felt beats, dots, ties, measures of an unequal meter
    ("4/4 q e e h", (4, 0, 1, 0, 0, 0)),
    ("4/4 h q q~ | q q h", (5, 0, 0, 0, 1, 0)),
    ("4/4 q q~ q~ q", (2, 0, 0, 0, 2, 0)),
    ("6/8 q e q. | q. rq.", (4, 1, 1, 3, 0, 2)),
    ("4/4 rW | w", (1, 1, 0, 0, 0, 0)),
    ("5/8 q e q", (3, 0, 1, 0, 0, 1)),
    ("3/4 h. | q e e q", (5, 0, 1, 1, 0, 0)),
    ("3/4 q | h. | h", (3, 0, 0, 1, 0, 0)),
    ("3/4 e | h. | h e", (4, 0, 1, 1, 0, 0)),
    ("4/4 e q e~ | e q. h", (5, 0, 3, 1, 1, 0)),
]


@pytest.mark.parametrize(("text", "counts"), FEATURES)
def test_what_is_counted_in_an_excerpt(text: str, counts: tuple[int, ...]) -> None:
    assert tuple(features(parse_excerpt(text)).values()) == counts
    assert tuple(features(parse_excerpt(text))) == tuple(WEIGHTS)


def test_difficulty_is_the_weighted_sum_and_one_at_least() -> None:
    assert difficulty(parse_excerpt("6/8 q e q. | q. rq."), WEIGHTS) == 4 * 2 + 2 + 3 + 9 + 8
    assert difficulty(parse_excerpt("4/4 w"), {**WEIGHTS, "sounds": 0}) == 1
    assert weighed({"ties": 2, "dots": 1}, WEIGHTS) == 9


def test_measured_weights_move_what_they_are_of_and_nothing_else() -> None:
    measured = {**WEIGHTS, "4/4 1": 5, "4/4 q q h": -3}
    plain = {
        text: difficulty(parse_excerpt(text), WEIGHTS) for text in ("4/4 h h", "4/4 q q h", "3/4 h q", "4/4 w | w")
    }
    moved = {text: difficulty(parse_excerpt(text), measured) - plain[text] for text in plain}
    assert moved == {"4/4 h h": 5, "4/4 q q h": -3, "3/4 h q": 0, "4/4 w | w": 0}


def test_a_measure_that_is_not_full_is_counted_from_its_beginning_unless_it_is_a_pickup() -> None:
    assert features(parse_excerpt("3/4 q. _", full=False))["offbeats"] == 0


def test_the_mean_is_exact() -> None:
    assert mean([1, 2, 2]) == Fraction(5, 3)
    assert mean([]) == 0


def taught(tokens: str, *, ties: bool) -> Taught:
    return Taught(frozenset(tokens.split()), ties, (parse_meter("4/4"),))


def test_notes_may_be_tied_where_ties_were_taught_and_rests_never() -> None:
    assert sorted(map(format_symbol, taught_symbols(taught("q rq", ties=False)))) == ["_", "q", "rq"]
    assert sorted(map(format_symbol, taught_symbols(taught("q rq", ties=True)))) == ["_", "q", "q~", "rq"]


@pytest.mark.parametrize(
    ("text", "ties", "told"),
    [("q~ q rq _", True, ()), ("q~ q", False, ("~",)), ("h~ q re re", True, ("h", "re")), ("h q", False, ("h",))],
)
def test_what_was_not_taught_is_told_once_and_sorted(text: str, ties: bool, told: tuple[str, ...]) -> None:
    assert untaught(parse_symbols(text), taught("q rq", ties=ties)) == told


def test_syncopation_counts_as_taught_where_nothing_is_said() -> None:
    assert taught("q", ties=False).syncopation


def test_a_wrong_choice_stands_for_the_first_of_its_errors() -> None:
    assert Choice(Answer("symbols", "q"), ("a", "b")).misreading == "a"
    assert Choice(Answer("symbols", "q")).misreading == ""
    assert Choice(Answer("symbols", "q"), ("a+b", "c")).held == ("a", "b")
    assert Choice(Answer("symbols", "q")).held == ()


def test_the_id_is_a_hash_of_the_canonical_content() -> None:
    """It never changes: banks and files of answers hold it."""
    choices = (Choice(Answer("row", "1 2"), ("a",)), Choice(Answer("row", "t̶a̶")))
    item = Item("write-counts", parse_excerpt("2/4 h"), Conventions(rest_counts="strike"), choices, "top")
    content = (
        '{"ask":"write-counts","choices":[["row","1 2",["a"]],["row","t̶a̶",[]]],'
        '"conventions":{"rest_counts":"strike"},"excerpt":"2/4 h","target":"top"}'
    )
    assert item.id == hashlib.sha256(content.encode()).hexdigest()[:16]
    assert item_content(item)["conventions"] == {"rest_counts": "strike"}
    assert (item.keys, item.wrong) == (choices[1:], choices[:1])
