"""How much of the positions of right answers can be foreseen: worked by hand, by trying all ways, and by guessing."""

from collections import Counter
from fractions import Fraction
from itertools import permutations
from random import Random

import pytest

from barwright.forms.key_places import LAST, drawn_places
from barwright.forms.orders import longest_run
from validity.least_foreseen import least_foreseen

FOUR = frozenset(range(4))


def foreseen(places: list[int]) -> Fraction:
    """What it wins always to bet on the positions that were right least often, a toss-up among them."""
    won, right = Fraction(0), Counter(dict.fromkeys(FOUR, 0))
    for place in places:
        least = [p for p in right if right[p] == min(right.values())]
        won += Fraction(place in least, len(least))
        right[place] += 1
    return won / len(places)


@pytest.mark.parametrize(
    ("items", "choices", "least"),
    [
        # One item tells nothing; of as many items as positions each is right once, so that fewer and fewer are left.
        (1, 4, Fraction(1, 4)),
        (4, 4, (Fraction(1, 4) + Fraction(1, 3) + Fraction(1, 2) + 1) / 4),
        (3, 3, (Fraction(1, 3) + Fraction(1, 2) + 1) / 3),
        (2, 2, Fraction(3, 4)),
    ],
)
def test_what_is_foreseen_at_least_worked_by_hand(items: int, choices: int, least: Fraction) -> None:
    assert least_foreseen(items, choices) == least


def test_all_orders_alike_leave_more_to_be_foreseen_than_need_be() -> None:
    """Six items, positions 2, 2, 1, 1 times: every order tried, against a bet on what was right least."""
    orders = {order for order in permutations((0, 0, 1, 1, 2, 3)) if longest_run(order) <= 2}
    thrown = sum(foreseen(list(order)) for order in orders) / len(orders)
    assert least_foreseen(6, 4) < thrown


@pytest.mark.parametrize("items", [6, 8, 9, 10])
def test_a_bet_on_what_was_right_least_wins_no_more_than_it_must(items: int) -> None:
    """Over 400 parts, each of which wins at most a whole: three standard errors are under 4 points."""
    won = [foreseen(drawn_places([FOUR] * items, Random(seed))) for seed in range(400)]
    assert sum(won) / len(won) <= least_foreseen(items, 4) + Fraction(4, 100)


@pytest.mark.parametrize("items", [5, 8, LAST, LAST + 1, 40, 301])
def test_positions_are_within_one_and_never_three_in_a_row_however_many_items(items: int) -> None:
    for seed in range(5):
        found = drawn_places([FOUR] * items, Random(seed))
        used = Counter(found)
        assert max(used.values()) - min(used[p] for p in FOUR) <= 1
        assert longest_run(found) <= 2


def test_no_run_goes_over_from_the_items_in_front() -> None:
    for seed in range(20):
        assert drawn_places([FOUR] * 4, Random(seed), before=[3, 1, 1])[0] != 1


def test_long_before_the_end_no_position_is_far_ahead() -> None:
    for seed in range(5):
        used = Counter(dict.fromkeys(FOUR, 0))
        for place in drawn_places([FOUR] * 60, Random(seed)):
            used[place] += 1
            assert max(used.values()) - min(used.values()) <= 4


def test_an_item_without_a_position_has_none_and_ends_a_run() -> None:
    only = frozenset({2})
    assert drawn_places([only, only, None, only], Random(1)) == [2, 2, None, 2]
