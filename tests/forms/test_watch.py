"""How a watch counts mixes, verdicts and finished forms; each count worked by hand. Common practice."""

from collections import Counter

import pytest

from asks.spaces import excerpt
from barwright.asks import ASKS
from barwright.forms.parallel import Trait
from barwright.forms.seeing import seen_item
from barwright.forms.watch import Guessers, Watch, mix_of, seen, watch_of, words_of
from barwright.items.form import Form, FormItem
from barwright.items.item import Answer, Item
from barwright.rhythm.values import TICKS
from forms.made_items import item

SEVERAL = "all-that-fit"
# Of 4/4 a half is missing. One right and two wrong of one length; two right, one wrong; two right, two wrong alike.
ONE_OF_THREE = item(SEVERAL, "4/4 h _", "h", "q, e e")
TWO_OF_THREE = item(SEVERAL, "4/4 h _", "h, q q", "q")
TWO_OF_FOUR = item(SEVERAL, "4/4 h _", "h, q q", "q, e e")


def answers(*texts: str) -> list[Answer]:
    return [Answer("symbols", text) for text in texts]


@pytest.mark.parametrize(
    ("right", "wrong", "mix"),
    [
        (("h",), ("q", "e e"), (1, 2)),
        (("h", "q q"), ("q",), (2, 1)),
        # Largest group first: e, and twice a quarter.
        (("h",), ("e", "q", "e e"), (1, 2, 1)),
        (("h", "q q"), ("e", "s s", "q", "s"), (2, 2, 1, 1)),
    ],
)
def test_a_mix_is_how_many_are_right_and_how_wrong_ones_share_lengths(
    right: tuple[str, ...], wrong: tuple[str, ...], mix: tuple[int, ...]
) -> None:
    assert mix_of(seen_item(SEVERAL, answers(*right), answers(*wrong))) == mix


def test_a_mix_is_overdone_by_what_it_stands_oftener_than_its_share_of_what_comes_next() -> None:
    watch = Watch()
    assert {mix: share for mix, share in ASKS[SEVERAL].mixes if sum(mix) == 3} == {(1, 2): 1, (2, 1): 1}
    # Of the first item each has half: none in whole items.
    assert [watch.overdone(SEVERAL, mix) for mix in ((1, 2), (2, 1))] == [0, 0]
    watch.add(ONE_OF_THREE)
    # Of two items each has one.
    assert [watch.overdone(SEVERAL, mix) for mix in ((1, 2), (2, 1))] == [0, 0]
    watch.add(ONE_OF_THREE)
    # Of three one, and half a one that does not count: the first stands there twice.
    assert [watch.overdone(SEVERAL, mix) for mix in ((1, 2), (2, 1))] == [1, 0]
    watch.add(ONE_OF_THREE)
    watch.add(ONE_OF_THREE)
    assert [watch.overdone(SEVERAL, mix) for mix in ((1, 2), (2, 1))] == [2, 0]
    # Items of four choices are counted among themselves.
    assert watch.overdone(SEVERAL, (2, 2)) == 0
    watch.add(TWO_OF_FOUR)
    assert watch.overdone(SEVERAL, (1, 2)) == 2
    # A mix that has no share among three choices is overdone by one for each item, and the next.
    assert watch.overdone(SEVERAL, (1, 1, 1)) == 4 + 1
    watch.take_back(ONE_OF_THREE)
    assert watch.overdone(SEVERAL, (1, 2)) == 3 - 2
    assert watch.mixes == {(SEVERAL, (1, 2)): 3, (SEVERAL, (2, 2)): 1}
    watch.take_back(TWO_OF_FOUR)
    assert watch.mixes[SEVERAL, (2, 2)] == 0


def test_a_mix_has_its_share_among_those_of_as_many_choices() -> None:
    # Of four choices one, two and one have 6 of 15: of the next fifth item two.
    watch = Watch()
    for _ in range(4):
        watch.add(item(SEVERAL, "4/4 h _", "h", "e, q, e e"))
    assert {mix: share for mix, share in ASKS[SEVERAL].mixes if sum(mix) == 4} == {
        (2, 2): 2, (1, 2, 1): 6, (2, 1, 1): 3, (3, 1): 2, (1, 3): 2,
    }  # fmt: skip
    assert watch.overdone(SEVERAL, (1, 2, 1)) == 4 - 2


def test_a_statement_is_right_as_itself_and_as_its_verdict() -> None:
    assert words_of(Answer("claim", "fits-not 4 3")) == ["fits-not 4 3", "fits-not"]
    assert words_of(Answer("row", "1 (2) 3")) == ["1", "(2)", "3"]
    assert words_of(Answer("symbols", "q re")) == ["q", "re"]


def test_where_measures_are_picked_the_meter_is_right_too() -> None:
    watch = Watch()
    watch.add(item("rhythm-for-time-signature", "3/4 q h", "q h", "h h, q q"))
    size = TICKS * 3 // 4
    assert watch.right == {
        ("rhythm-for-time-signature", size): 1, ("rhythm-for-time-signature", "q"): 1,
        ("rhythm-for-time-signature", "h"): 1, ("rhythm-for-time-signature", "3/4"): 1,
    }  # fmt: skip
    watch = Watch()
    watch.add(ONE_OF_THREE)
    assert (SEVERAL, "4/4") not in watch.right


def form(*items: Item) -> Form:
    placed = tuple(
        FormItem(each, tuple(range(len(each.choices))), 1, number) for number, each in enumerate(items, start=1)
    )
    return Form("Test", "A", "en-US", False, True, placed, "x")


def test_of_every_finished_form_its_traits_are_kept() -> None:
    watch = watch_of([form(ONE_OF_THREE, TWO_OF_THREE), form(TWO_OF_FOUR)])
    trait = Trait(SEVERAL, "answers", "2 right")
    assert [spread[trait] for spread in watch.spreads] == [1, 1]
    assert [spread[Trait(SEVERAL, "values", "h")] for spread in watch.spreads] == [2, 1]
    assert watch.won[SEVERAL].items == 3


def test_guessers_see_the_right_answers_first() -> None:
    both = seen(TWO_OF_FOUR)
    assert both.keys == {0, 1}
    assert [choice.text for choice in both.choices] == ["h", "q q", "e e", "q"]
    guessers = Guessers()
    guessers.add(TWO_OF_FOUR)
    assert guessers.watch.mixes == Counter({(SEVERAL, (2, 2)): 1})
    assert excerpt("4/4 h _") == TWO_OF_FOUR.excerpt


@pytest.mark.parametrize(
    ("mix", "parts"),
    # The fourth of four choices: of 15 shares each gets four times its own, less 15 for each time that it stood there.
    [
        ((1, 2, 1), 4 * 6 - 15),
        ((2, 1, 1), 4 * 3),
        ((2, 2), 0),
        ((3, 1), 0),
        ((1, 1, 1, 1), 0),
        ((2, 3), 2),
        ((1, 2), 1),
    ],
)
def test_what_is_wanting_to_a_mix_is_its_share_of_all_with_the_next_but_for_what_stood_there(
    mix: tuple[int, ...], parts: int
) -> None:
    assert sum(share for each, share in ASKS[SEVERAL].mixes if sum(each) == 4) == 15
    watch = Watch()
    for each in ((1, 2, 1), (2, 2), (3, 1)):
        watch.mixes[SEVERAL, each] += 1
    assert watch.wanting(SEVERAL, mix) == parts


def test_of_an_item_that_is_not_settled_nobody_learns_and_of_one_that_is_not_picked_nothing_is_kept() -> None:
    watch = Watch()
    watch.add(ONE_OF_THREE, learnt=False)
    assert (watch.moments, watch.mixes[SEVERAL, (1, 2)]) == ({}, 1)
    watch.take_back(ONE_OF_THREE, learnt=False)
    assert (watch.moments, watch.mixes[SEVERAL, (1, 2)]) == ({}, 0)
    guessers = Guessers()
    guessers.add(ONE_OF_THREE, settled=False)
    assert guessers.ledger.with_next(seen(ONE_OF_THREE)) == Guessers().ledger.with_next(seen(ONE_OF_THREE))
    typed, others = item("write-counts", "4/4 q q h", "1 2 3-4", ""), Guessers()
    others.add(typed)
    others.take_back(typed)
    assert (others.looks, others.watch) == ({}, Watch())


def test_a_copy_goes_on_by_itself() -> None:
    """Whatever comes to one of the two leaves the other as it was."""
    form = Form("t", "A", "en-US", True, "none", (FormItem(TWO_OF_FOUR, (0, 1, 2, 3), 1, 1),), "f")
    watch = watch_of([form])
    before = watch_of([form])
    other = watch.copy()
    assert other == before
    other.take(form)
    other.add(ONE_OF_THREE)
    assert watch == before
    assert other.moments != before.moments
    assert (len(other.spreads), len(other.won), other.right[SEVERAL, "q"]) == (2, 1, 4)
    watch.take(form)
    watch.add(ONE_OF_THREE)
    assert watch == other
