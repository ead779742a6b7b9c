"""How sets of wrong choices are weighed, credited and watched over, by hand."""

from collections.abc import Callable
from random import Random

import pytest

from asks.spaces import excerpt, space
from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.forms.choosing import (
    IDLE,
    NAMED,
    NO_QUOTA,
    PAIR,
    SHORT,
    Candidate,
    Quota,
    cheapest,
    giveaway,
    told_apart,
)
from barwright.forms.fair_choices import TWICE, credited, fair_sets
from barwright.forms.looks import Looks, alike_rows, rows_like
from barwright.forms.seeing import seen_form, seen_item, shown_item
from barwright.forms.watch import Guessers, Watch, is_picked, watch_of
from barwright.guesser import Ledger, Moments, Winnings
from barwright.guesser.strategies import OF_PLACE, STRATEGIES
from barwright.items.form import Form, FormItem
from barwright.items.item import Answer
from barwright.rhythm.values import TICKS
from forms.made_items import in_ask, item, plan
from forms.one_set import weighed_set

KEY = Answer("symbols", "q")


def one(text: str, *ways: str, seldom: bool = False, bias: int = 0) -> Candidate:
    return Candidate(Answer("symbols", text), ways or (f"error-{text}",), bias, seldom)


def best(
    offered: list[Candidate], count: int, *, seed: int = 1, ask: str = "finish-measure", strict: bool = False,
    quota: Quota = NO_QUOTA, moments: Moments | None = None,
) -> set[str] | None:  # fmt: skip
    found = weighed_set(
        ask, [KEY], offered, count, ledger=Ledger(), moments=moments or Moments(), rng=Random(seed), strict=strict,
        quota=quota,
    )  # fmt: skip
    return None if found is None else {c.answer.text for c in found.wrong}


@pytest.mark.parametrize(
    ("one_way", "other_way", "apart", "strictly"),
    [
        (("a",), ("b",), True, True),
        (("a",), ("a",), False, False),
        (("a+b",), ("a+c",), False, False),
        (("a+b",), ("c+d",), True, True),
        (("a+b",), ("b",), True, True),
        (("a+b",), ("b+a",), False, False),
        (("a", "b"), ("b",), True, False),
        (("a", "c"), ("b", "c"), True, False),
    ],
)
def test_a_pick_tells_which_error_it_was(
    one_way: tuple[str, ...], other_way: tuple[str, ...], apart: bool, strictly: bool
) -> None:
    assert told_apart(one("h", *one_way), one("w", *other_way)) is apart
    assert told_apart(one("w", *other_way), one("h", *one_way), strict=True) is strictly


def test_strictly_no_two_share_a_length_and_none_is_offered_seldom() -> None:
    assert best([one("h"), one("rh"), one("w")], 3, strict=True) is None
    assert best([one("h"), one("rh"), one("w")], 3) == {"h", "rh", "w"}
    assert best([one("h"), one("rh"), one("w")], 2, strict=True) in ({"h", "w"}, {"rh", "w"})
    assert best([one("h"), one("w", seldom=True), one("e")], 3, strict=True) is None
    assert best([one("h"), one("w", seldom=True), one("e")], 3) == {"h", "w", "e"}
    # Where a length does not decide, two of one length are two.
    assert best([one("h"), one("rh"), one("w")], 3, ask="does-it-fit", strict=True) == {"h", "rh", "w"}


def test_a_bias_decides_between_choices_that_give_away_as_much() -> None:
    offered = [one("h"), one("w"), one("h", "second", bias=-5)]
    assert best([one("rh", bias=10**9), one("h"), one("w")], 2) == {"h", "w"}
    assert len(offered) == 3
    assert best([one("h", bias=10**9), one("rh"), one("w")], 2) == {"rh", "w"}


def test_a_single_error_weighs_less_than_two_held_at_once() -> None:
    single, pair = one("h", "a"), one("h", "a+b")
    costs = []
    for each in (single, pair):
        found = cheapest("finish-measure", [KEY], [(each, one("w"))], ledger=Ledger(), moments=Moments())
        assert found is not None
        costs.append(found.cost)
    assert costs[1] - costs[0] == PAIR == 15 * 15


def test_a_choice_that_cannot_be_right_costs_an_item() -> None:
    wrong = (one("h"), one("rh"), one("w"))
    found = cheapest("finish-measure", [KEY], [wrong], ledger=Ledger(), moments=Moments())
    seen = seen_item("finish-measure", [KEY], [c.answer for c in wrong])
    assert found is not None
    won = Ledger().with_next(seen)
    assert found.cost == Moments().would_add(seen) + 2 * IDLE + 2 * NAMED * giveaway(won)
    assert IDLE == 3600


def test_a_lack_of_the_quota_weighs_more_than_anything_that_guessers_win() -> None:
    quota = Quota(frozenset({Answer("symbols", "rh"), Answer("symbols", "re")}), 1)
    assert [quota.lack(wrong) for wrong in ([one("h")], [one("rh")], [one("rh"), one("re")])] == [1, 0, 0]
    assert Quota(frozenset(), 2).lack([]) == 2
    lacking = cheapest("finish-measure", [KEY], [(one("h"), one("w"))], ledger=Ledger(), moments=Moments(), quota=quota)
    free = cheapest("finish-measure", [KEY], [(one("h"), one("w"))], ledger=Ledger(), moments=Moments())
    assert lacking is not None
    assert free is not None
    assert lacking.cost - free.cost == IDLE * SHORT
    for seed in range(6):
        found = best([one(t) for t in ("h", "w", "h.", "e", "s", "q.", "e.", "rh")], 3, seed=seed, quota=quota)
        assert found is not None
        assert "rh" in found


def test_what_is_won_counts_by_the_square_of_its_distance_from_chance_but_for_places() -> None:
    won = [20] * len(STRATEGIES)
    won[STRATEGIES.index("shortest")] = 25
    won[STRATEGIES.index("longest")] = 17
    won[STRATEGIES.index("first")] = 60
    assert giveaway(Winnings(1, 20, tuple(won))) == 25 + 9
    assert "first" in OF_PLACE


def test_no_set_with_a_key_that_cannot_be_right_and_of_none_nothing() -> None:
    assert cheapest("finish-measure", [KEY], [(one("rq"), one("h"))], ledger=Ledger(), moments=Moments()) is None
    assert cheapest("finish-measure", [KEY], [], ledger=Ledger(), moments=Moments()) is None
    assert best([one("h")], 2) is None


def test_the_set_that_is_best_for_the_form_is_taken() -> None:
    """After items whose key was the shortest, the key is not the shortest again where that can be."""
    ledger = Ledger()
    for _ in range(4):
        ledger.add(seen_item("finish-measure", [KEY], [Answer("symbols", text) for text in ("h", "w", "h.")]))
    able = [one(text) for text in ("h", "w", "e", "s")]
    found = weighed_set("finish-measure", [KEY], able, 2, ledger=ledger, moments=Moments(), rng=Random(1))
    assert found is not None
    assert {c.answer.text for c in found.wrong} & {"e", "s"}


def test_squares_are_found_among_many() -> None:
    many = [one(text, f"x{n}") for n, text in enumerate(("h", "w", "h.", "q.", "e.", "s", "e"))]
    square = [*many, one("h h", "x0+x1")]
    found = {tuple(sorted(best(square, 3, seed=seed) or ())) for seed in range(6)}
    assert found
    assert all(len(each) == 3 for each in found)


def test_where_few_can_stand_together_the_set_is_found_all_the_same() -> None:
    # Forty pairs of one and the same error, and only three that are apart from each other.
    crowd = [one(text, f"a+{n}") for n, text in enumerate(("w", "h.", "q.", "e.", "s", "e", "h h", "h q", "q e"))]
    for seed in range(5):
        found = best([*crowd, one("h", "b"), one("h e", "c")], 3, seed=seed)
        assert found is not None
        assert {"h", "h e"} <= found


def fair(
    offered: list[Candidate], count: int, sets: list[tuple[str, ...]], *, sort: Callable[[Answer], object] | None = None
) -> list[set[str]]:
    """The sets of an ask that holds these for fair, as far as all of their answers are on offer."""

    def given(_question: object, offers: dict[Answer, tuple[str, ...]], *_more: object) -> list[tuple[Answer, ...]]:
        named = [tuple(Answer("symbols", text) for text in each) for each in sets]
        return [each for each in named if set(each) <= set(offers)]

    a_plan = in_ask(plan("finish-measure", space("h q", "3/4")), sets=given, sort=sort)
    question = Question(excerpt("3/4 h _"), (KEY,))
    return [{c.answer.text for c in each} for each in fair_sets(a_plan, question, offered, count, Random(1))]


def test_what_is_offered_seldom_comes_in_where_there_is_no_set_without_it() -> None:
    offered = [one("h"), one("w"), one("e", seldom=True)]
    assert fair(offered, 2, [("h", "w"), ("h", "e")]) == [{"h", "w"}]
    assert fair(offered, 2, [("h", "e")]) == [{"h", "e"}]
    assert fair(offered, 2, []) == []


def test_each_choice_is_credited_to_a_misreading_of_its_own_though_another_must_give_way() -> None:
    found = credited([one("h", "a", "b"), one("w", "a", "c"), one("e", "a"), one("s", "c", "b", "d")])
    assert [each.ways[0] for each in found] == ["b", "c", "a", "d"]
    assert [each.bias for each in found] == [0, 0, 0, 0]
    assert found[3].ways == ("d", "c", "b")


def test_giving_way_goes_on_from_choice_to_choice() -> None:
    # The first two have two ways each and the third has only that which the first would take.
    found = credited([one("h", "a", "b"), one("w", "b", "c"), one("e", "a", "b"), one("s", "a")])
    assert sorted(each.ways[0] for each in found[:3]) == ["b", "c", "a"] or {each.ways[0] for each in found} == {
        "a",
        "b",
        "c",
    }
    assert [each.bias for each in found].count(TWICE) == 1


def test_one_gives_way_that_has_another_so_that_nobody_goes_without() -> None:
    # The first takes a and the second c; the third, of which neither is left, has a when the first takes b.
    found = credited([one("h", "a", "b"), one("w", "c", "b"), one("e", "a", "c")])
    assert [each.ways[0] for each in found] == ["b", "c", "a"]
    assert [each.bias for each in found] == [0, 0, 0]


def test_who_has_one_misreading_only_comes_first() -> None:
    found = credited([one("w", "a", "b"), one("e", "a", "b"), one("h", "a")])
    assert [(each.ways[0], each.bias) for each in found] == [("b", 0), ("a", TWICE), ("a", 0)]


def test_where_those_offered_oftener_are_all_of_one_sort_others_stand_beside_them() -> None:
    offered = [one("h"), one("w"), one("rh", seldom=True)]
    sets = [("h", "w"), ("h", "rh")]
    assert fair(offered, 2, sets) == [{"h", "w"}]
    assert fair(offered, 2, sets, sort=lambda answer: answer.text[0] == "r") == [{"h", "w"}, {"h", "rh"}]
    # Rests are among the usual ones already.
    rests = [*offered, one("rw")]
    assert fair(rests, 2, sets, sort=lambda answer: answer.text[0] == "r") == [{"h", "w"}]


def said(
    count: int, *sets: str, ask: str = "does-it-fit", focus: tuple[str, ...] = ("a",), apart: str = ""
) -> list[str]:
    """Fair sets of these, in a part about `a`, which leads to `x`; others do to `y`, `z`, `u`. `apart`: may not."""
    kind = ASKS[ask].answer

    def given(
        _question: object, offers: dict[Answer, tuple[str, ...]], _space: object, size: int, _rng: Random
    ) -> list[tuple[Answer, ...]]:
        named = [tuple(Answer(kind, text) for text in each.split()) for each in sets]
        return [each for each in named if len(each) == size and set(each) <= set(offers)]

    def clash(_question: object, one: Answer, other: Answer) -> bool:
        return {one.text, other.text} <= set(apart)

    offered = [Candidate(Answer(kind, text), (way,)) for text, way in zip("xyzu", "abcd", strict=True)]
    a_plan = in_ask(plan(ask, space("h q", "3/4"), focus=focus), sets=given, sort=None, clash=clash)
    found = fair_sets(a_plan, Question(excerpt("3/4 h q"), (Answer(kind, "key"),)), offered, count, Random(1))
    return [" ".join(sorted(c.answer.text for c in each)) for each in found]


def test_a_statement_that_a_named_misreading_leads_to_joins_a_smaller_set_where_no_set_has_it() -> None:
    assert said(2, "y z", "z u", "y", "z") == ["x y", "x z"]
    assert said(2, "x y", "y z", "y", "z") == ["x y", "y z"]
    # Only a statement does, only one that is named, and not alone.
    assert said(2, "y z", "y", ask="finish-measure") == ["y z"]
    assert said(2, "y z", "y", focus=()) == ["y z"]
    assert said(1, "y", "") == ["y"]
    # It never stands beside itself, nor beside what it may not meet; where it can join none, all is as it was.
    assert said(2, "y z", "x", "y") == ["x y"]
    assert said(2, "y z", "y", "z", apart="xz") == ["x y"]
    assert said(3, "y z u", "y z", "y u", apart="xz") == ["u x y"]
    assert said(2, "y z", "z", apart="xz") == ["y z"]


def test_one_without_a_misreading_of_its_own_costs() -> None:
    found = credited([one("h", "a"), one("w", "a", bias=7)])
    assert sorted(each.bias for each in found) in ([0, TWICE + 7], [7, TWICE])
    assert TWICE == 3600


KEY_ROW = Answer("row", "1 (2) 3 | 1-2 (3)")


def rows(*texts: str) -> list[Answer]:
    return [Answer("row", text) for text in texts]


@pytest.mark.parametrize(
    ("text", "alike"),
    [("1 (2) 2 | 1 (3)", 1), ("1-2 (2) 2 | 1 (3)", 1), ("(1) 2 3 | 1-2 (3)", 0), ("2 (2) 3 | 1-2 (3)", 0),
     ("1 (2) 3", 0), ("1 (2) 3 | 1-2 (3) (1)", 0), ("1 2 3 | (1) (2) 3", 0)],
)  # fmt: skip
def test_a_row_looks_like_counts_by_its_parentheses_and_where_measures_begin(text: str, alike: int) -> None:
    assert alike_rows(KEY_ROW, rows(text)) == alike
    assert rows_like(KEY_ROW, rows(text)) == frozenset(rows(text)[:alike])


@pytest.mark.parametrize(
    ("least", "alike", "elsewhere", "lack"),
    [(2, 3, 3, 0), (2, 2, 3, 1), (2, 1, 3, 2), (1, 1, 3, 0), (1, 2, 3, 1), (1, 0, 3, 3), (2, 3, 2, 4), (2, 2, 0, 13),
     (0, 1, 3, 0), (0, 1, 2, 4)],
)  # fmt: skip
def test_no_three_are_alike_beside_a_fourth_and_none_is_out_at_sight(
    least: int, alike: int, elsewhere: int, lack: int
) -> None:
    """Of three wrong rows: so many look like the right one, so many are right for another question."""
    three = [one(f"row-{n}") for n in range(3)]
    answers = [each.answer for each in three]
    quota = Quota(frozenset(answers[:alike]), least, frozenset(answers[:elsewhere]), evenly=True)
    assert quota.lack(three) == lack


def test_a_measure_without_a_count_is_like_another() -> None:
    assert alike_rows(Answer("row", "1 |  | 2"), rows("1 |  | 3")) == 0
    assert alike_rows(Answer("row", "1 |  | 2"), rows("1 |  | 2-3")) == 1


def test_a_rest_at_the_beginning_counts_from_its_number() -> None:
    assert alike_rows(Answer("row", "(1-2) 3"), rows("(1) 2", "(1-2-3) 4", "(3) 1", "(1 2) 3")) == 2


def test_what_is_taken_back_is_forgotten_and_only_rows_have_looks() -> None:
    looks = Looks()
    good, bad = rows("1 (3)"), rows("1 2")
    key = Answer("row", "1 (2)")
    looks.add(key, good * 2 + bad)
    looks.add(key, good + bad * 2)
    assert (looks.items, looks.enough) == (2, 1)
    looks.take_back(key, good * 2)
    assert (looks.items, looks.enough) == (1, 0)
    looks.take_back(key, good)
    assert (looks.items, looks.enough) == (0, 0)
    looks.add(Answer("symbols", "q"), [])
    looks.take_back(Answer("symbols", "q"), [])
    assert (looks.items, looks.enough) == (0, 0)


def test_one_in_four_items_may_have_one_such_row() -> None:
    assert [Looks(items, enough).wanted() for items, enough in ((0, 0), (3, 2), (3, 3), (4, 3), (7, 6))] == [
        2,
        2,
        1,
        2,
        1,
    ]


PICKED = item("finish-measure", "3/4 h _", "q", "h, e, w")
TYPED = item("write-counts", "2/4 q q", "1 2", "1 3, 2 1")


def test_what_is_typed_or_put_together_is_picked_by_nobody() -> None:
    picked = {ask for ask in ASKS if is_picked(ask)}
    assert picked == set(ASKS) - {
        "write-counts",
        "count-under-mark",
        "beats-left",
        "count-under-each",
        "shortest-first",
    }


def test_a_watch_counts_lengths_and_symbols_that_were_right() -> None:
    watch = Watch()
    watch.add(PICKED)
    watch.add(item("all-that-fit", "4/4 h _", "h, q q", "w, e"))
    watch.add(TYPED)
    assert dict(watch.right) == {
        ("finish-measure", TICKS // 4): 1, ("finish-measure", "q"): 1, ("all-that-fit", TICKS // 2): 2,
        ("all-that-fit", "h"): 1, ("all-that-fit", "q"): 2,
    }  # fmt: skip
    assert watch.of_ask("finish-measure").sums["token", "q"] == 45
    assert "write-counts" not in watch.moments
    watch.take_back(PICKED)
    assert watch.right["finish-measure", "q"] == 0
    assert set(watch.of_ask("finish-measure").sums.values()) == {0}
    watch.take_back(TYPED)
    assert watch.right["all-that-fit", TICKS // 2] == 2


def form(*orders: tuple[int, ...]) -> Form:
    placed = tuple(FormItem(PICKED, order, 1, number) for number, order in enumerate(orders, start=1))
    typed = FormItem(TYPED, (0, 1, 2), 1, 9)
    return Form("Test", "A", "en-US", False, True, (*placed, typed), "x")


def test_finished_forms_add_up_in_their_shown_order() -> None:
    # Choices are e, h, q, w; the key is the third.
    assert shown_item(PICKED, (2, 0, 1, 3)).keys == {0}
    watch = watch_of([form((2, 0, 1, 3)), form((0, 2, 1, 3), (1, 0, 3, 2))])
    won = watch.won["finish-measure"]
    assert (won.items, won.won[STRATEGIES.index("first")], won.won[STRATEGIES.index("last")]) == (3, 60, 60)
    assert watch.right["finish-measure", "q"] == 3


def test_guessers_forget_an_item_that_is_taken_out() -> None:
    row = item("counts-for-rhythm", "3/4 q rq q", "1 (2) 3", "1 (2) 2, 1 (1) 2, 1 2 3")
    guessers, other = Guessers(), Guessers()
    for each in (PICKED, row, TYPED):
        guessers.add(each)
    other.add(PICKED)
    assert (guessers.looks_of("counts-for-rhythm").items, guessers.looks_of("counts-for-rhythm").enough) == (1, 1)
    assert guessers.ledger.asks["counts-for-rhythm"].items == 1
    assert guessers.watch.right["counts-for-rhythm", "(2)"] == 1
    guessers.take_back(row)
    guessers.take_back(TYPED)
    assert guessers.watch.right["counts-for-rhythm", "(2)"] == 0
    assert guessers.looks_of("counts-for-rhythm").items == 0
    assert guessers.ledger.whole.items == other.ledger.whole.items == 1
    assert guessers.ledger.whole == other.ledger.whole


def test_a_finished_form_has_the_items_that_are_picked_and_a_length_decides_where_it_does() -> None:
    (seen,) = seen_form(form((2, 0, 1, 3)))
    assert seen.one_length
    assert not shown_item(item("does-it-fit", "3/4 h", "fits 2 3", "fits 2 4, fits-not 4 3"), (0, 1, 2)).one_length
