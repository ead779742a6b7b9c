"""What each strategy picks and wins, worked by hand on small sets of choices (common practice: folk rules)."""

from fractions import Fraction

import pytest

from barwright.guesser import (
    HABITS,
    STRATEGIES,
    Ledger,
    Past,
    SeenItem,
    seen_choice,
    winnings,
)
from barwright.guesser.strategies import distance, option_scores
from barwright.guesser.winnings import ITEM, chance, won
from barwright.rhythm.values import TICKS


def item(ask: str, kind: str, *texts: str, key: int = 0, one_length: bool = False) -> SeenItem:
    choices = tuple(seen_choice(kind, text) for text in texts)
    return SeenItem(ask, choices, frozenset({key}), one_length)


def picks(strategy: str, seen: SeenItem, past: Past | None = None) -> set[str]:
    """The texts among which a strategy tosses up."""
    for habit, highest, lowest in HABITS:
        if strategy in (highest, lowest):
            scores = list(option_scores(seen, habit(seen, past or Past())))
            end = max(scores) if strategy == highest else min(scores)
            return {seen.choices[o[0]].text for o, score in zip(seen.options, scores, strict=True) if score == end}
    raise AssertionError(strategy)


FOUR = item("finish-measure", "symbols", "q", "h", "h.", "re", one_length=True)
ROWS = item("counts-for-rhythm", "row", "1 (2) 3", "1 2 3", "1-2 3", "1 (2) 4")
CLAIMS = item("does-it-fit", "claim", "fits 2 3", "fits 2 4", "fits-not 4 3", "fits 1 3")


@pytest.mark.parametrize(
    ("strategy", "seen", "picked"),
    [
        ("shortest", FOUR, {"re"}),
        ("longest", FOUR, {"h."}),
        ("middle length", FOUR, {"q", "h"}),
        ("no middle length", FOUR, {"h."}),
        ("most rests", FOUR, {"re"}),
        ("fewest rests", FOUR, {"q", "h", "h."}),
        ("most dots", FOUR, {"h."}),
        ("most like the others", ROWS, {"1 (2) 3"}),
        ("least like the others", ROWS, {"1-2 3"}),
        ("most parentheses", ROWS, {"1 (2) 3", "1 (2) 4"}),
        ("most hyphens", ROWS, {"1-2 3"}),
        ("most numbers", ROWS, {"1 (2) 4"}),
        ("fewest symbols", ROWS, {"1-2 3"}),
        ("number named most", CLAIMS, {"fits 2 3"}),
        ("first", CLAIMS, {"fits 2 3"}),
        ("last", CLAIMS, {"fits 1 3"}),
    ],
)
def test_a_strategy_picks_what_its_name_says(strategy: str, seen: SeenItem, picked: set[str]) -> None:
    assert picks(strategy, seen) == picked


def test_lengths_are_told_by_what_is_printed_and_a_triplet_of_eighths_lasts_a_quarter() -> None:
    lengths = [seen_choice("symbols", text).length for text in ("w", "h.", "q. e", "et et et", "rW")]
    assert lengths == [TICKS, 3 * TICKS // 4, TICKS // 2, TICKS // 4, TICKS]


def test_choices_that_share_a_length_are_no_answers_where_one_length_is_right() -> None:
    seen = item("finish-measure", "symbols", "h", "q", "rq", "e", key=0, one_length=True)
    assert seen.options == ((0,), (3,))
    assert chance(seen) == ITEM // 2


def test_where_several_are_right_a_length_is_an_answer_and_all_of_it_must_be_ticked() -> None:
    choices = tuple(seen_choice("symbols", text) for text in ("h", "q", "q q", "h."))
    seen = SeenItem("all-that-fit", choices, frozenset({0, 2}), one_length=True)
    assert seen.options == ((0, 2), (1,), (3,))
    ledger = winnings([seen])
    assert ledger.asks["all-that-fit"].over("shares a length") == Fraction(2, 3)
    assert ledger.asks["all-that-fit"].over("longest") == Fraction(-1, 3)


def test_a_toss_up_wins_its_part_so_that_equal_choices_win_what_chance_does() -> None:
    seen = item("time-signature-for-rhythm", "meter", "2/4", "3/4", "4/4")
    found = dict(zip(STRATEGIES, won(seen, Past()), strict=True))
    assert found["most rests"] == chance(seen) == ITEM // 3
    assert found["shortest"] == ITEM
    assert found["longest"] == 0


def test_what_was_right_before_is_kept_from_item_to_item_ask_by_ask() -> None:
    past, other = Past(), item("what-the-numbers-say", "claim", "adds-up 3 4", "how-many 3", "notes 3")
    past.add(other)
    again = item("what-the-numbers-say", "claim", "notes 4", "adds-up 3 4", "measures 4")
    assert picks("text right before", again, past) == {"adds-up 3 4"}
    assert picks("text never right before", again, past) == {"notes 4", "measures 4"}
    assert picks("first word right before", again, past) == {"adds-up 3 4"}
    assert picks("met least before", again, past) == {"notes 4", "measures 4"}
    ledger = Ledger()
    ledger.add(other)
    ledger.add(item("does-it-fit", "claim", "adds-up 3 4", "how-many 3", "notes 3", key=1))
    assert ledger.asks["does-it-fit"].over("text right before") == 0


def test_the_rank_of_length_is_kept_too() -> None:
    past = Past()
    past.add(item("finish-measure", "symbols", "q", "h", "h.", key=1, one_length=True))
    later = item("finish-measure", "symbols", "e", "w", "q", key=0, one_length=True)
    assert picks("rank right before", later, past) == {"q"}


def test_a_form_is_won_as_its_asks_are_and_the_order_of_adding_is_kept() -> None:
    ledger = winnings([FOUR, ROWS])
    assert ledger.whole.items == 2
    assert ledger.whole.over("fewest dots") == (Fraction(1, 3) - Fraction(1, 4)) / 2
    assert ledger.asks["counts-for-rhythm"].best == "most like the others"


def test_looking_ahead_changes_nothing() -> None:
    ledger = Ledger()
    ahead = ledger.with_next(FOUR)
    assert ledger.whole.items == 0
    ledger.add(FOUR)
    assert ledger.whole == ahead


@pytest.mark.parametrize(
    ("one", "other", "edits"), [("a b c", "a b c", 0), ("a b c", "a c", 1), ("a b", "b a", 2), ("", "a b", 2)]
)
def test_distance_counts_the_fewest_edits_whichever_way(one: str, other: str, edits: int) -> None:
    assert distance(tuple(one.split()), tuple(other.split())) == edits
    assert distance(tuple(other.split()), tuple(one.split())) == edits


def test_every_strategy_has_a_name_of_its_own() -> None:
    assert len(set(STRATEGIES)) == len(STRATEGIES) == 2 * len(HABITS)
