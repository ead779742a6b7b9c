"""Sets of wrong choices: credited rightly, told apart, and taken so that no strategy wins more than chance."""

from dataclasses import replace
from random import Random

import pytest

from barwright.forms.choosing import NO_QUOTA, Candidate, Quota, candidates_from
from barwright.forms.looks import Looks, alike_rows, rows_like
from barwright.forms.seeing import seen_answer, seen_item
from barwright.guesser import Ledger, Moments, winnings
from barwright.guesser.moments import differences
from barwright.items.item import Answer
from forms.one_set import weighed_set


def symbols(text: str) -> Answer:
    return Answer("symbols", text)


def one(text: str, *ways: str) -> Candidate:
    return Candidate(symbols(text), ways or (f"error-{text.replace('.', '-dotted')}",))


def taken(keys: list[str], offered: list[Candidate], count: int = 3) -> list[tuple[str, ...]]:
    """The sets that are taken for these keys one after another, as texts."""
    ledger, moments, found = Ledger(), Moments(), []
    for key in keys:
        left = [c for c in offered if c.answer.text != key]
        best = weighed_set(
            "finish-measure", [symbols(key)], left, count, ledger=ledger, moments=moments, rng=Random(key)
        )
        assert best is not None
        item = seen_item("finish-measure", [symbols(key)], [c.answer for c in best.wrong])
        ledger.add(item)
        moments.add(item)
        found.append(tuple(sorted(c.answer.text for c in best.wrong)))
    return found


LADDER = [one(text) for text in ("w", "h.", "h", "q.", "q", "e.", "e", "s")]


def test_the_key_is_now_the_shortest_now_the_longest_where_lengths_allow() -> None:
    ledger, keys = Ledger(), ["q", "h", "q.", "e."] * 3
    for key, wrong in zip(keys, taken(keys, LADDER), strict=True):
        ledger.add(seen_item("finish-measure", [symbols(key)], map(symbols, wrong)))
    found = ledger.asks["finish-measure"]
    for strategy in ("shortest", "longest", "middle length", "rank right before", "most dots"):
        assert abs(found.over(strategy)) <= 1 / 6, strategy


def test_the_same_is_taken_every_time() -> None:
    keys = ["q", "h", "q."]
    assert taken(keys, LADDER) == taken(keys, LADDER)


def test_what_one_error_leads_to_is_never_credited_to_two() -> None:
    single = {symbols("h"): ("a", "b")}
    double = {symbols("h"): ("a+c",), symbols("w"): ("a+c", "b+c")}
    assert candidates_from(single, double) == (one("h", "a", "b"), one("w", "a+c", "b+c"))


@pytest.mark.parametrize(
    ("offered", "possible"),
    [
        ([one("h", "a"), one("w", "b"), one("h.", "a+b")], True),  # a square: alone, alone, and both
        ([one("h", "a"), one("w", "a"), one("h.", "b")], False),  # twice the same error
        ([one("h", "a+b"), one("w", "a+c"), one("h.", "d")], False),  # two pairs with one error in common
        ([one("h", "a+b"), one("w", "c+d"), one("h.", "e")], True),
    ],
)
def test_a_pick_must_tell_which_error_it_was(offered: list[Candidate], possible: bool) -> None:
    found = weighed_set("finish-measure", [symbols("q")], offered, 3, ledger=Ledger(), moments=Moments(), rng=Random(1))
    assert (found is not None) is possible


def test_answers_that_clash_never_stand_together_nor_beside_the_key() -> None:
    offered = [one("h", "a"), one("w", "b"), one("h.", "c"), one("e", "d")]

    def clash(first: Answer, second: Answer) -> bool:
        return {first.text, second.text} in ({"h", "w"}, {"e", "q"})

    found = weighed_set(
        "finish-measure", [symbols("q")], offered, 2, ledger=Ledger(), moments=Moments(), rng=Random(1), clash=clash
    )
    assert found is not None
    assert {c.answer.text for c in found.wrong} in ({"h", "h."}, {"w", "h."})


def test_a_choice_that_cannot_be_right_is_the_last_to_be_taken() -> None:
    """A half note and a half rest last as long, so neither can be right: three others are better."""
    offered = [one("h", "a"), one("rh", "b"), one("w", "c"), one("e", "d")]
    found = weighed_set("finish-measure", [symbols("q")], offered, 3, ledger=Ledger(), moments=Moments(), rng=Random(1))
    assert found is not None
    assert {"w", "e"} <= {c.answer.text for c in found.wrong}
    assert len({"h", "rh"} & {c.answer.text for c in found.wrong}) == 1
    assert weighed_set("finish-measure", [symbols("q")], offered[:2], 3, ledger=Ledger(), moments=Moments(),
                       rng=Random(1)) is None  # fmt: skip


def test_a_key_that_shares_its_length_with_a_wrong_choice_cannot_be_asked_for() -> None:
    offered = [one("rq", "a"), one("h", "b"), one("w", "c")]
    assert weighed_set("finish-measure", [symbols("q")], offered, 3, ledger=Ledger(), moments=Moments(),
                       rng=Random(1)) is None  # fmt: skip


def test_rows_look_like_counts_with_parentheses_at_the_rests_and_measures_that_begin_alike() -> None:
    key = Answer("row", "1 (2) 3 | 1-2 (3)")
    texts = ["1 (2) 2 | 1-2 (3)", "1 2 3 | 1-2 (3)", "1 (2) 3 | 4-5 (6)", "1 (2) 3 | 1 (2)", "(1) 2 3 | 1-2 (3)"]
    assert [alike_rows(key, [Answer("row", text)]) for text in texts] == [1, 0, 0, 1, 0]


def test_three_items_of_four_need_two_rows_that_look_like_counts_and_every_item_one() -> None:
    key, good, bad = Answer("row", "1 (2)"), Answer("row", "1 (3)"), Answer("row", "1 2")
    looks, wanted = Looks(), []
    for wrong in ([good, good, bad], [good, good, bad], [good, good, bad], [good, bad, bad], [good, good, bad]):
        wanted.append(looks.wanted())
        looks.add(key, wrong)
    assert wanted == [2, 2, 2, 1, 2]


def test_what_a_learner_could_learn_is_the_key_minus_the_mean_of_the_choices() -> None:
    item = seen_item("rhythm-for-counts", [Answer("measures", "q q h")], [Answer("measures", "h h")])
    found = differences(item)
    assert (found["token", "q"], found["token", "h"], found["count", "symbols"]) == (60, -30, 30)
    moments = Moments()
    grown = moments.would_add(item)
    assert grown == sum(d * d for d in found.values()) > 0
    moments.add(item)
    back = seen_item("rhythm-for-counts", [Answer("measures", "h h")], [Answer("measures", "q q h")])
    assert moments.would_add(back) == -grown


def strictly(offered: list[Candidate], count: int, *, quota: Quota = NO_QUOTA) -> set[str] | None:
    found = weighed_set(
        "finish-measure", [symbols("q")], offered, count, ledger=Ledger(), moments=Moments(), rng=Random(1),
        quota=quota, strict=True,
    )  # fmt: skip
    return None if found is None else {c.answer.text for c in found.wrong}


def test_strictly_no_two_share_a_length_or_an_error_and_none_is_unusual() -> None:
    half, rest, whole = one("h", "a"), one("rh", "b"), one("w", "c")
    assert strictly([half, rest, whole], 3) is None  # a half note and a half rest
    assert strictly([half, one("e", "d", "c"), whole], 3) is None  # who holds c may take either
    assert strictly([half, one("e", "d"), replace(whole, seldom=True)], 3) is None
    assert strictly([half, one("e", "d"), whole], 3) == {"h", "e", "w"}


def test_a_quota_is_met_where_it_can_be_and_gives_way_where_it_cannot() -> None:
    offered = [one(text) for text in ("w", "h.", "h", "q.", "e.", "e", "s", "w.")]
    few = Quota(frozenset({symbols("w"), symbols("s")}), 2)
    found = strictly(offered, 3, quota=few)
    assert found is not None
    assert {"w", "s"} <= found
    assert strictly(offered[1:3], 2, quota=few) == {"h.", "h"}


def test_a_set_is_found_where_only_one_of_many_can_stand_together() -> None:
    """Twelve pairs that all share an error with each other, and three that do not."""
    offered = [one(f"{'e ' * n}e", f"a+b{n}") for n in range(1, 13)]
    offered += [one("w", "c"), one("h", "d")]
    found = strictly(offered, 3)
    assert found is not None
    assert {"w", "h"} < found


def test_a_bias_decides_where_guessers_do_not_care() -> None:
    offered = [replace(one(text), bias=bias) for text, bias in (("w", 0), ("h.", 10**9), ("h", 0), ("e", 0))]
    assert strictly(offered, 3) == {"w", "h", "e"}


def test_what_was_won_of_other_forms_is_made_up_for() -> None:
    """Where the shortest was right in every item before, a set is taken in which it is wrong."""
    before = winnings(
        [seen_item("finish-measure", [symbols("e")], map(symbols, ("q.", "h", "w")))] * 8
    ).asks["finish-measure"]  # fmt: skip
    found = weighed_set(
        "finish-measure", [symbols("q")], LADDER[:4] + LADDER[5:], 2, ledger=Ledger(), moments=Moments(),
        rng=Random(1), before=before,
    )  # fmt: skip
    assert found is not None
    assert min(seen_answer(c.answer).size for c in found.wrong) < seen_answer(symbols("q")).size


def test_an_item_that_is_taken_out_leaves_no_trace() -> None:
    items = [seen_item("finish-measure", [symbols(k)], map(symbols, w)) for k, w in (("q", "he"), ("h", "qw"))]
    ledger, moments = Ledger(), Moments()
    ledger.add(items[0])
    moments.add(items[0])
    before = ledger.asks["finish-measure"]
    brought = ledger.brought_by(items[1])
    ledger.add(items[1])
    moments.add(items[1])
    ledger.take_back(items[1], brought)
    moments.take_back(items[1])
    assert ledger.asks["finish-measure"] == before
    assert ledger.brought_by(items[1]) == brought
    assert {f: s for f, s in moments.sums.items() if s} == {f: s for f, s in differences(items[0]).items() if s}


def test_rows_that_look_like_the_key_are_told_by_shape() -> None:
    rows = [Answer("row", text) for text in ("1 (2) 2", "1 2 3", "(1) 2 3")]
    assert rows_like(Answer("row", "1 (2) 3"), rows) == {rows[0]}
    looks, key = Looks(), Answer("row", "1 (2) 3")
    looks.add(key, rows)
    looks.take_back(key, rows)
    looks.add(Answer("measures", "q"), [])  # rhythms have no looks
    assert looks == Looks()
