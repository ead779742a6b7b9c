"""Sets of wrong choices: credited rightly, told apart, and taken so that no strategy wins more than chance."""

from random import Random

import pytest

from barwright.forms.choosing import (
    Candidate,
    Looks,
    alike_rows,
    candidates_from,
    weighed_set,
)
from barwright.forms.seeing import seen_item
from barwright.guesser import Ledger, Moments
from barwright.guesser.moments import differences
from barwright.items.item import Answer


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
