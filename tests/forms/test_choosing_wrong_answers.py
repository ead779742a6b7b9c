"""Which wrong answers an item gets that is typed or put in order (`distractors.chosen`): cases by hand."""

from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from barwright.asks import ASKS
from barwright.asks.ask import Ask, Question, never
from barwright.forms.distractors import FORESEEN, Wish, chosen, is_supported
from barwright.items.item import Answer, Choice
from barwright.misreadings import SELDOM
from barwright.rhythm.text import parse_excerpt

QUESTION = Question(parse_excerpt("4/4 h _", full=False), (Answer("number", "2"),))
PLAIN = replace(ASKS["beats-left"], clash=never)
RARE = sorted(SELDOM)[0]


def offers(**given: str) -> dict[Answer, tuple[str, ...]]:
    """Answers named `_1`, `_2`, ... with the misreadings that lead to each."""
    return {Answer("number", name.strip("_")): tuple(ids.split()) for name, ids in given.items()}


def taken(
    offered: dict[Answer, tuple[str, ...]], wish: Wish, *, seed: int = 1, ask: Ask = PLAIN
) -> list[tuple[str, ...]]:
    found = chosen(ask, QUESTION, offered, wish=wish, rng=Random(seed))
    return [(choice.answer.text, *choice.misreadings) for choice in found]


def credited(offered: dict[Answer, tuple[str, ...]], wish: Wish, seed: int = 1) -> list[str]:
    return [each[1] for each in taken(offered, wish, seed=seed)]


def test_each_choice_is_credited_to_a_misreading_of_its_own() -> None:
    assert sorted(taken(offers(_1="a", _3="b", _4="c"), Wish(3))) == [("1", "a"), ("3", "b"), ("4", "c")]
    assert len(taken(offers(_1="a", _3="b", _4="c"), Wish(2))) == 2
    assert taken(offers(_1="a"), Wish(0)) == []


def test_a_misreading_that_leads_to_two_answers_has_one_of_them() -> None:
    for seed in range(10):
        assert credited(offers(_1="a", _3="a"), Wish(3), seed) == ["a"]


def test_the_credited_misreading_is_named_first_and_those_beside_it_after() -> None:
    (only,) = taken(offers(_1="a b c"), Wish(3, focus=("b",)))
    assert only == ("1", "b", "a", "c")


def test_no_choice_is_an_answer_of_the_misreading_of_another() -> None:
    # b leads to 1 as well, which a has: a pick of 1 would not tell them apart.
    for seed in range(20):
        found = taken(offers(_1="a b", _3="b"), Wish(2), seed=seed)
        assert len(found) == 1


def test_only_where_the_least_number_is_not_reached_it_may_be() -> None:
    for seed in range(20):
        found = taken(offers(_1="a b", _3="b"), Wish(2, least=2), seed=seed)
        assert sorted(found) == [("1", "a", "b"), ("3", "b")]


def test_the_least_number_is_reached_with_what_shows_together_on_no_other_excerpt_but_never_by_one_answer_twice() -> (
    None
):
    apart = (frozenset({"a"}),) * 3 + (frozenset({"b"}),) * 3
    assert len(taken(offers(_1="a b", _3="b"), Wish(2, least=2, sample=apart))) == 2
    assert len(taken(offers(_1="a b"), Wish(2, least=2))) == 1


def test_an_answer_of_one_misreading_alone_comes_before_one_of_two() -> None:
    for seed in range(10):
        assert taken(offers(_1="a z", _3="a"), Wish(1, focus=("a",)), seed=seed) == [("3", "a")]


def test_an_answer_that_is_like_the_key_comes_first() -> None:
    like = replace(PLAIN, farness=lambda _question, answer: abs(int(answer.text) - 2))
    for seed in range(10):
        assert taken(offers(_9="a", _3="a"), Wish(1), seed=seed, ask=like) == [("3", "a")]


def test_a_rhythm_that_was_a_wrong_choice_comes_last() -> None:
    one, other = Answer("measures", "q q"), Answer("measures", "h")
    offered = {one: ("a",), other: ("a",)}
    for seed in range(10):
        assert taken(offered, Wish(1, rhythms={one: 1}), seed=seed) == [("h", "a")]
    numbers = offers(_1="a", _3="a")
    found = {taken(numbers, Wish(1, rhythms={Answer("number", "1"): 1}), seed=seed)[0][0] for seed in range(20)}
    assert found == {"1", "3"}, "only rhythms are remembered"


def test_answers_that_clash_with_the_key_or_each_other_do_not_stand_together() -> None:
    pairs = ({"1", "3"}, {"4", "2"})
    ask = replace(PLAIN, clash=lambda _question, one, other: {one.text, other.text} in pairs)
    for seed in range(10):
        found = {each[0] for each in taken(offers(_1="a", _3="b", _4="c", _5="d"), Wish(4), seed=seed, ask=ask)}
        assert found in ({"1", "5"}, {"3", "5"})


def test_misreadings_in_focus_come_first_then_those_begun_then_new_ones() -> None:
    offered = offers(_1="focused", _3="begun", _4="new", _5="often", _6=RARE)
    counts = Counter({"begun": 2, "often": 3, "focused": 9, RARE: 1})
    for seed in range(10):
        wish = Wish(5, focus=("focused",), offered=counts)
        assert credited(offered, wish, seed) == ["focused", "begun", "new", "often", RARE]


def test_of_those_in_focus_the_one_with_fewer_chances_comes_first() -> None:
    for seed in range(10):
        wish = Wish(2, focus=("a", "b"), offered={"b": 2})
        assert credited(offers(_1="b", _3="a"), wish, seed) == ["a", "b"]


def test_of_those_begun_the_one_with_fewer_chances_comes_first() -> None:
    for seed in range(10):
        wish = Wish(2, offered={"one": 1, "two": 2})
        assert credited(offers(_1="two", _3="one"), wish, seed) == ["one", "two"]


def test_what_shows_in_few_excerpts_comes_last_of_all() -> None:
    # usual shows in 13, seen in 3 of them: less than a quarter, so it comes behind what is offered seldom.
    sample = (frozenset({"usual", RARE}),) * 10 + (frozenset({"usual", "seen"}),) * 3
    for seed in range(10):
        wish = Wish(3, sample=sample, offered={"seen": 1, RARE: 2})
        assert credited(offers(_1="seen", _3="usual", _4=RARE), wish, seed) == ["usual", RARE, "seen"]
        assert credited(offers(_1="seen", _3="usual"), Wish(1, sample=sample, offered={"seen": 1}), seed) == ["usual"]
        quarter = Wish(1, sample=sample[1:], offered={"seen": 1})
        assert credited(offers(_1="seen", _3="usual"), quarter, seed) == ["seen"], "three of twelve are enough"


def test_what_does_not_show_together_on_three_excerpts_comes_behind_what_does() -> None:
    together = (frozenset({"a", "b"}),) * 3 + (frozenset({"a", "c"}),) * 2
    assert is_supported(together, frozenset({"a", "b"}))
    assert not is_supported(together, frozenset({"a", "c"}))
    assert is_supported(together[3:], frozenset({"a", "c"})), "of two excerpts both will do"
    assert not is_supported(together[2:], frozenset({"a", "c"}))
    assert is_supported((), frozenset({"a"}))
    for seed in range(10):
        wish = Wish(3, sample=together, offered={"a": 1, "c": 2})
        assert credited(offers(_1="a", _3="b", _4="c"), wish, seed) == ["a", "b", "c"]
        focused = Wish(3, sample=together, offered={"a": 1}, focus=("a", "c"))
        assert set(credited(offers(_1="a", _3="b", _4="c"), focused, seed)[:2]) == {"a", "c"}


def test_with_only_no_other_is_credited() -> None:
    assert credited(offers(_1="a", _3="b", _4="c"), Wish(3, only=frozenset({"b", "d"}))) == ["b"]


def test_in_a_parallel_form_the_most_wanting_come_first_whatever_else() -> None:
    offered = offers(_1="a", _3="b", _4=RARE, _5="d")
    for seed in range(10):
        wish = Wish(4, over={"a": 1, "b": -1}, focus=("a",), offered={"a": 2})
        assert credited(offered, wish, seed) == ["b", "d", RARE, "a"]


def test_chance_decides_among_equals() -> None:
    assert {tuple(credited(offers(_1="a", _3="b"), Wish(1), seed)) for seed in range(20)} == {("a",), ("b",)}
    assert {taken(offers(_1="a", _3="a"), Wish(1), seed=seed)[0][0] for seed in range(20)} == {"1", "3"}


SORTED = replace(PLAIN, sort=lambda answer: "even" if int(answer.text) % 2 == 0 else "odd")


def test_the_last_choice_makes_way_for_one_of_another_sort() -> None:
    # The key, 2, and the answers of a and b are even: that of b goes, for the odd one of c.
    wish = Wish(2, focus=("a", "b"), offered={"a": 1, "b": 2})
    for seed in range(10):
        assert taken(offers(_4="a", _6="b", _7="c"), wish, seed=seed, ask=SORTED) == [("4", "a"), ("7", "c")]
        # ... one of its own misreading as well, and never one that is apart from what stays in nothing.
        assert taken(offers(_4="a", _6="b", _7="b"), wish, seed=seed, ask=SORTED) in (
            [("4", "a"), ("6", "b")], [("4", "a"), ("7", "b")],
        )  # fmt: skip
        assert taken(offers(_4="a", _6="b", _7="a c"), wish, seed=seed, ask=SORTED)[0] != ("4", "a")


def test_the_first_makes_way_where_the_last_cannot() -> None:
    for seed in range(10):
        wish = Wish(2, offered={"a": 1, "b": 2})
        assert taken(offers(_4="a", _6="b", _7="a"), wish, seed=seed, ask=SORTED) == [("7", "a"), ("6", "b")]


def test_what_stays_beside_an_exchanged_choice_is_held_against_the_other_sort() -> None:
    # The last goes, though the odd answer is of its own misreading.
    three = Wish(3, offered={"a": 1, "b": 2})
    for seed in range(10):
        found = taken(offers(_4="a", _6="b", _8="c", _9="c"), three, seed=seed, ask=SORTED)
        assert found == [("4", "a"), ("6", "b"), ("9", "c")]
        # a and b both lead to the odd one: whichever goes, the other stays and is not told from it.
        assert taken(offers(_4="a", _6="b", _7="a b"), Wish(2, offered={"a": 1, "b": 2}), seed=seed, ask=SORTED) == [
            ("4", "a"), ("6", "b"),
        ]  # fmt: skip


def test_what_shows_nowhere_else_is_rare_however_few_excerpts_show_anything() -> None:
    sample = (frozenset({"a"}), *[frozenset[str]()] * 3)
    for seed in range(10):
        assert credited(offers(_1="a", _3="b"), Wish(1, offered={"a": 3, "b": 1}, sample=sample), seed) == ["a"]


def test_so_many_typed_answers_are_foreseen() -> None:
    assert FORESEEN == 4


def test_two_sorts_already_there_or_none_else_change_nothing() -> None:
    wish = Wish(2, offered={"a": 1, "b": 2})
    for seed in range(10):
        assert taken(offers(_4="a", _5="b", _7="c"), wish, seed=seed, ask=SORTED) == [("4", "a"), ("5", "b")]
        assert taken(offers(_4="a", _6="b"), wish, seed=seed, ask=SORTED) == [("4", "a"), ("6", "b")]


@pytest.mark.parametrize("choice", [Choice(Answer("number", "1"), ("a",))])
def test_a_wish_joins_by_support_or_focus(choice: Choice) -> None:
    sample = (frozenset({"a", "b"}),) * 3 + (frozenset({"c"}),) * 3
    assert Wish(2, sample=sample).joins("b", [choice])
    assert not Wish(2, sample=sample).joins("c", [choice])
    assert Wish(2, sample=sample).joins("c", [])
    assert Wish(2, sample=sample, focus=("c",)).joins("c", [choice])
