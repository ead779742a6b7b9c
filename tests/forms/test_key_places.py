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


THREE, TWO = frozenset(range(3)), frozenset(range(2))


def only(place: int) -> frozenset[int]:
    return frozenset({place})


def evenly(found: list[int | None], among: frozenset[int]) -> bool:
    used = Counter(found)
    return max(used[p] for p in among) - min(used[p] for p in among) <= 1


def pairs(found: list[int | None]) -> bool:
    """Whether the first two stand in one position."""
    return found[0] == found[1]


@pytest.mark.parametrize(
    "able",
    [
        # The fourth position is right once, and only one item can have it, also with an item between that has none.
        [THREE, FOUR, THREE, THREE],
        [THREE, THREE, FOUR, THREE],
        [THREE, None, FOUR, THREE, THREE],
        [THREE, THREE, None, THREE, FOUR],
    ],
)
def test_the_one_item_that_can_have_a_position_has_it(able: list[frozenset[int] | None]) -> None:
    for seed in range(10):
        assert sorted(p for p in drawn_places(able, Random(seed)) if p is not None) == [0, 1, 2, 3]


def test_no_item_has_a_position_that_it_does_not_have_however_many_come() -> None:
    able = [TWO, FOUR, THREE] * 8
    for seed in range(5):
        assert all(place in each for place, each in zip(drawn_places(able, Random(seed)), able, strict=True))


def test_a_position_that_no_item_chooses_is_not_evened_out() -> None:
    # Five signatures have the fifth place, which nobody can help; six other items take the first four 2, 2, 1, 1 times.
    for seed in range(20):
        assert evenly(drawn_places([only(4), None] * 5 + [FOUR] * 6, Random(seed)), FOUR)


def test_of_two_positions_each_is_right_three_times_in_six() -> None:
    for seed in range(10):
        assert Counter(drawn_places([TWO] * 6, Random(seed))) == {0: 3, 1: 3}


@pytest.mark.parametrize("fixed", [[], [only(2)]])
def test_of_two_positions_one_is_three_ahead_at_most_until_ten_items_are_left(fixed: list[frozenset[int]]) -> None:
    leads = set()
    for seed in range(20):
        found = drawn_places(fixed + [TWO] * 40, Random(seed))[len(fixed) :]
        leads |= {abs(sum(1 if p else -1 for p in found[:n])) for n in range(31)}
    assert leads == {0, 1, 2, 3}


def test_a_position_that_is_far_ahead_is_taken_where_there_is_no_other() -> None:
    able = [only(0), None] * 5 + [only(1)] * 13 + [TWO] * 4
    found = drawn_places(able, Random(1))
    assert found[:-4] == [0, None] * 5 + [1] * 13
    assert longest_run(found[-5:]) <= 2


@pytest.mark.parametrize("items", [8, 20])
@pytest.mark.parametrize("before", [[], [0, 1], [None, 1], [1, 1, None]])
def test_two_in_a_row_may_come_as_well_as_not(items: int, before: list[int | None]) -> None:
    found = [drawn_places([FOUR] * items, Random(seed), before=before) for seed in range(60)]
    assert {each[0] for each in found} == FOUR
    assert {pairs(each) for each in found} == {True, False}
    assert {each[0] == each[2] for each in found if not pairs(each)} == {True, False}
    assert {pairs(each[1:]) for each in found} == {True, False}


def test_an_item_without_a_position_breaks_a_run_and_begins_none() -> None:
    found = [drawn_places([FOUR, FOUR, None, *[FOUR] * 6], Random(seed)) for seed in range(80)]
    assert {pairs(each[3:]) for each in found} == {True, False}
    assert max(longest_run(each) for each in found) == 2
    # Behind it two stand in the second position: a third may not, though the first was right three times.
    able = [*[only(0), None] * 3, only(1), only(1), TWO]
    assert {drawn_places(able, Random(seed))[-1] for seed in range(10)} == {0}


def test_what_is_to_come_is_seen_behind_an_item_without_a_position() -> None:
    # Twice the first, and two items to be chosen, with an item without between. Behind 1, 1 comes no third: then the
    # last is 0, and the one before has to be 1, or the first stood four times and the second twice.
    ahead = [only(0), None, only(0), None]
    for seed in range(10):
        assert drawn_places([*ahead, TWO, None, only(1), only(1), TWO], Random(seed))[4::4] == [1, 0]
    # Behind a single 1 another may come: then the one before may be 0 as well.
    chosen = {drawn_places([*ahead, TWO, None, only(1), TWO], Random(seed))[4] for seed in range(20)}
    assert chosen == {0, 1}
