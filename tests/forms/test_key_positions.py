"""Where the right answer stands among the choices, and in which order items follow each other: cases by hand."""

from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from asks.spaces import space
from barwright.forms import orders
from barwright.forms.orders import key_places, keys_of, longest_run, mixed_places, shown_orders
from barwright.items.form import Form, FormItem
from barwright.items.item import Answer, Item
from forms.made_items import item, plan

PICK = item("finish-measure", "3/4 h _", "q", "h, e, w")
THREE = item("finish-measure", "3/4 h _", "q", "h, e")
SIGNATURE = item("time-signature-for-rhythm", "6/8 q. q.", "6/8", "2/4, 3/4, 4/4, 3/8")
SEVERAL = item("all-that-fit", "4/4 h _", "h, q q", "w, e")
TYPED = item("write-counts", "2/4 q q", "1 2", "1 3, 2 1")
PUT = item("count-under-each", "2/4 q q", "1 2", "1 3, 2 1")


def places(items: list[Item], seed: int) -> list[int | None]:
    shown = shown_orders(items, Random(seed))
    assert all(sorted(order) == list(range(len(each.choices))) for each, order in zip(items, shown, strict=True))
    return key_places(items, shown)


@pytest.mark.parametrize("count", [4, 5, 8, 10])
def test_every_position_is_taken_about_as_often_with_no_run_of_three(count: int) -> None:
    for seed in range(25):
        found = places([PICK] * count, seed)
        used = Counter(found)
        assert max(used.values()) - min(used[n] for n in range(4)) <= 1
        assert longest_run(found) <= 2


def test_the_others_stand_in_any_order() -> None:
    found = {shown_orders([PICK], Random(seed))[0] for seed in range(200)}
    assert len(found) == 24


def test_signatures_stand_in_logical_order_by_the_bottom_number_and_then_the_top() -> None:
    (order,) = shown_orders([SIGNATURE], Random(1))
    assert [SIGNATURE.choices[n].answer.text for n in order] == ["2/4", "3/4", "4/4", "3/8", "6/8"]
    assert places([SIGNATURE], 1) == [4]


def test_several_keys_stand_anywhere_and_have_no_position() -> None:
    found = {shown_orders([SEVERAL], Random(seed))[0] for seed in range(200)}
    assert len(found) == 24
    assert places([SEVERAL], 1) == [None]


def test_what_is_typed_or_put_together_stays_as_it_is() -> None:
    assert shown_orders([TYPED, PUT], Random(1)) == ((0, 1, 2), (0, 1, 2))
    assert places([TYPED, PUT], 1) == [None, None]


def test_fixed_positions_count_so_that_the_free_ones_make_them_even() -> None:
    # Two signatures have the key in the fifth place; five others then take the first four, and none the fifth.
    two = [SIGNATURE, PICK, SIGNATURE, PICK, PICK, PICK]
    for seed in range(10):
        found = places(two, seed)
        assert found[0] == found[2] == 4
        assert sorted(n for n in found if n is not None and n < 4) == [0, 1, 2, 3]


def test_an_item_with_fewer_choices_has_no_key_behind_them() -> None:
    for seed in range(10):
        assert all(place in (0, 1, 2) for place in places([THREE] * 4, seed))


@pytest.mark.parametrize(
    ("found", "longest"),
    [([], 0), ([None], 0), ([1, 1, 1, 2], 3), ([0, 0, None, 0], 2), ([None, None, None], 0), ([2, 1, 1], 2)],
)
def test_the_longest_run(found: list[int | None], longest: int) -> None:
    assert longest_run(found) == longest


def test_a_run_is_seen_before_and_behind_what_is_placed() -> None:
    # Signatures fix the fifth place in front and behind: what stands between them may not take it a third time.
    five = replace(PICK, choices=item("finish-measure", "3/4 h _", "q", "h, e, w, s").choices)
    row = [SIGNATURE, five, SIGNATURE, five, SIGNATURE]
    for seed in range(20):
        assert longest_run(places(row, seed)) <= 2


def form(*items: Item, numbers: tuple[int, ...] = ()) -> Form:
    placed = tuple(
        FormItem(each, tuple(range(len(each.choices))), 1, number)
        for each, number in zip(items, numbers or range(1, len(items) + 1), strict=True)
    )
    return Form("Test", "A", "en-US", False, True, placed, "x")


def test_the_keys_of_a_form_are_those_of_the_first_variant_of_each_question() -> None:
    two = form(PICK, SEVERAL, TYPED, numbers=(2, 1, 2))
    assert keys_of(two) == (
        (Answer("symbols", "h"), Answer("symbols", "q q")),
        (Answer("symbols", "q"),),
    )


def test_no_item_stands_where_another_form_has_the_same_answer() -> None:
    a_space = space("h q", "3/4")
    first, second = plan("finish-measure", a_space), plan("write-counts", a_space)
    keys = tuple((Answer("symbols", text),) for text in ("a", "b", "c", "d", "e"))
    for seed in range(10):
        found = mixed_places([first] * 3 + [second] * 2, [keys], keys, Random(seed))
        assert sorted(found[:3]) == [0, 1, 2]
        assert sorted(found[3:]) == [3, 4]
        assert all(keys[number] != keys[place] for place, number in enumerate(found))


def test_of_several_forms_none_is_more_like_it_than_it_must_be() -> None:
    """Two items, two other forms in both orders: one of them is met twice, or, in two parts, each of them in one."""
    a_space = space("h q", "3/4")
    parts = [plan("finish-measure", a_space)] * 2 + [plan("write-counts", a_space)] * 2
    keys = tuple((Answer("symbols", text),) for text in "abcd")
    turned = (keys[1], keys[0], keys[3], keys[2])
    for seed in range(10):
        found = mixed_places(parts, [keys, turned], keys, Random(seed))
        shown = [keys[number] for number in found]
        alike = [sum(one == other for one, other in zip(shown, form_, strict=True)) for form_ in (keys, turned)]
        assert alike == [2, 2]


def test_without_other_forms_items_are_thrown_too() -> None:
    only = [plan("finish-measure", space("h q", "3/4"))] * 4
    keys = tuple((Answer("symbols", text),) for text in "abcd")
    assert {mixed_places(only, [], keys, Random(seed)) != (0, 1, 2, 3) for seed in range(5)} == {True}


@pytest.mark.parametrize(
    ("placed", "parts", "within", "whole"),
    [
        # Of four positions one is used twice and two never: one too many. None is no position.
        ([0, 1, 1, None], "aaaa", 1, 0),
        ([0, 1, 2, 3, 0], "aaaaa", 0, 0),
        ([0, 0, 1, 0], "aaaa", 2, 1),
        ([], "", 0, 0),
        ([None], "a", 0, 0),
        # Even in each part; in the form the first stands there thrice and the second once.
        ([0, 1, 0, 2, 0], "aabbc", 0, 1),
        # Each part is uneven by itself, and the form is not.
        ([0, 0, 1, 1], "aabb", 2, 0),
        # One part is uneven, the other is not.
        ([0, 0, 1, 2], "aabb", 1, 0),
        # Items without a position are no position that is taken oftener.
        ([0, None, None, None], "aaaa", 0, 0),
    ],
)
def test_how_uneven_positions_are(placed: list[int | None], parts: str, within: int, whole: int) -> None:
    items = [TYPED if place is None else PICK for place in placed]
    assert orders._blemish(items, placed, parts) == (False, within, whole)


def test_a_run_is_worse_than_anything_uneven() -> None:
    assert orders._blemish([PICK] * 3, [0, 0, 0], "abc")[0] is True
    assert orders._blemish([PICK] * 3, [0, 0, 1], "abc")[0] is False


def test_the_only_item_that_can_have_a_position_has_it() -> None:
    # Only the item with four choices can have the fourth position, and the others need the first three.
    row = [THREE, PICK, THREE, THREE]
    for seed in range(20):
        assert sorted(n for n in places(row, seed) if n is not None) == [0, 1, 2, 3]


def test_positions_are_even_in_each_part_though_parts_take_turns() -> None:
    for seed in range(10):
        shown = shown_orders([PICK] * 8, Random(seed), parts="abababab")
        assert sorted(n for n in key_places([PICK] * 8, shown)[::2] if n is not None) == [0, 1, 2, 3]


def test_positions_that_are_fixed_are_not_uneven() -> None:
    assert orders._blemish([SIGNATURE] * 3, [4, 4, 4], "aaa") == (True, 0, 0)


def test_positions_are_even_in_each_of_many_parts_that_take_turns() -> None:
    for seed in range(5):
        shown = shown_orders([PICK] * 16, Random(seed), parts="abcd" * 4)
        found = [place for place in key_places([PICK] * 16, shown) if place is not None]
        assert [sorted(found[n::4]) for n in range(4)] == [[0, 1, 2, 3]] * 4


@pytest.mark.parametrize("front", [[], [SIGNATURE] * 3])
def test_positions_are_even_in_the_form_though_each_part_has_one_item(front: list[Item]) -> None:
    """Also where a run of three cannot be helped, as in a class that is asked for the last signature three times."""
    two = item("finish-measure", "3/4 h _", "q", "h")
    for seed in range(20):
        row = [*front, *[two] * 6]
        shown = shown_orders(row, Random(seed), parts=["front"] * len(front) + list("abcdef"))
        assert Counter(key_places(row, shown)[len(front) :]) == {0: 3, 1: 3}


def test_no_part_goes_on_with_a_run_of_the_one_before() -> None:
    # Twice the fifth position, which is fixed, then two items that could have it, forty times.
    five = replace(PICK, choices=item("finish-measure", "3/4 h _", "q", "h, e, w, s").choices)
    row = [SIGNATURE, SIGNATURE, five, five, TYPED] * 40
    shown = shown_orders(row, Random(1), parts=[f"{n // 5} {n % 5 > 1}" for n in range(len(row))])
    assert longest_run(key_places(row, shown)) == 2


@pytest.mark.parametrize(
    ("prompts", "third"),
    [("", 0), ("aa", 0), ("aaa", 1), ("aaaa", 2), ("aabaab", 0), ("abab", 0), ("abcaaa", 1), ("baab", 0)],
)
def test_how_many_prompts_stand_a_third_time_in_a_row(prompts: str, third: int) -> None:
    assert orders.runs_of(range(len(prompts)), prompts) == third


@pytest.mark.parametrize(
    ("before", "order", "prompts", "wanted"),
    [
        # The third is exchanged with the last, which asks something else.
        ([], [0, 1, 2, 3], "aaab", [0, 1, 3, 2]),
        ([0, 1], [2, 3], "aaab", [3, 2]),
        # Nothing else is asked: it stays as it is.
        ([], [2, 0, 1], "aaa", [2, 0, 1]),
        ([0], [1, 2, 3], "aaba", [1, 2, 3]),
        # Either exchange would only move the run further back.
        ([], [0, 1, 2, 3, 4, 5, 6], "aaabaac", [0, 1, 2, 3, 4, 5, 6]),
    ],
)
def test_items_are_exchanged_where_one_prompt_would_stand_three_times_in_a_row(
    before: list[int], order: list[int], prompts: str, wanted: list[int]
) -> None:
    assert orders._without_runs(before, order, prompts) == wanted


def test_two_in_a_row_at_the_end_are_no_run() -> None:
    assert orders._fewer_runs("aaacab", 2, 5), "aabcaa has none"
    assert not orders._fewer_runs("aaacab", 2, 4), "nothing changes"


def test_no_prompt_stands_three_times_in_a_row_where_hardly_an_order_is_without() -> None:
    # Sixteen items ask one thing and eight another: of 735,471 ways to mix them 45 have no three in a row.
    only = [plan("finish-measure", space("h q", "3/4"))] * 24
    prompts, keys = "a" * 16 + "b" * 8, tuple((Answer("symbols", str(n)),) for n in range(24))
    for seed in range(3):
        found = mixed_places(only, [], keys, Random(seed), prompts=prompts)
        assert sorted(found) == list(range(24))
        assert orders.runs_of(found, prompts) == 0
