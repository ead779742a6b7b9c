"""What luck gives the best of all rules of thumb, by hand where it can be. Common practice: permutation tests."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import islice, product
from random import Random

from barwright.guesser import SeenItem, luck, seen_choice, winnings
from barwright.guesser.luck import MOST
from barwright.guesser.winnings import ITEM

TEXTS = ("q", "h", "h.", "e", "re", "rq", "q.", "e e", "q e", "rh", "w", "e re")


def items(count: int, *, key: int = 0) -> list[SeenItem]:
    """So many items of three choices, all different from each other; the right one stands in one place."""

    def several() -> Iterator[SeenItem]:
        for texts in product(TEXTS, repeat=3):
            if len(set(texts)) == 3:
                choices = tuple(seen_choice("symbols", text) for text in texts)
                yield SeenItem("finish-measure", choices, frozenset({key}))

    return list(islice(several(), 7, 7 * (count + 1), 7))[:count]


def test_of_one_item_with_two_choices_some_rule_always_picks_the_right_one() -> None:
    """One of first and last is right, whichever it is: a whole item, of which chance is half."""
    choices = (seen_choice("symbols", "q"), seen_choice("symbols", "h"))
    assert luck([SeenItem("finish-measure", choices, frozenset({0}))], Random(1)) == Fraction(1, 2)


def test_of_two_items_alike_some_rule_wins_both_in_half_of_all_draws_and_more() -> None:
    """Both first, or both last; else "never right before" wins the second, and tosses up for the first."""
    choices = (seen_choice("symbols", "q"), seen_choice("symbols", "h"))
    both = [SeenItem("finish-measure", choices, frozenset({0}))] * 2
    # Right answers one place: 2 of 2; of two places: 1 and 1/2 at least. Less chance, by two items.
    assert Fraction(1, 4) <= luck(both, Random(1)) <= Fraction(1, 2)


def test_luck_is_less_the_more_items_there_are() -> None:
    few, more, many = (luck(items(count), Random(1)) for count in (4, 16, 100))
    assert few > more > many > 0


def test_what_is_right_in_the_form_itself_does_not_matter() -> None:
    first, last = items(12), items(12, key=2)
    assert winnings(first).whole.of("first") != winnings(last).whole.of("first")
    assert luck(first, Random(3)) == luck(last, Random(3))


def test_luck_is_what_the_best_of_all_rules_wins_on_the_mean_when_right_answers_are_drawn() -> None:
    """Drawn here as well, each form of them counted in the usual way: rules that remember texts count, too."""
    texts = (("q", "h", "h."), ("q", "e", "re"), ("q", "w", "rq"), ("q", "rh", "q."))
    few = [SeenItem("finish-measure", tuple(seen_choice("symbols", t) for t in each), frozenset()) for each in texts]
    for seed in range(3):
        rng, best = Random(seed), 0
        for _ in range(MOST):
            drawn = [replace(each, keys=frozenset({rng.randrange(3)})) for each in few]
            whole = winnings(drawn).whole
            best += max(whole.won) - whole.chance
        assert luck(few, Random(seed)) == Fraction(best, MOST * len(few) * ITEM)


def test_where_nothing_is_picked_there_is_no_luck() -> None:
    assert luck([], Random(1)) == 0


def test_of_an_item_with_several_right_answers_those_of_one_length_are_right_together() -> None:
    """`q` and `rq` last as long: two answers, of which some rule always picks the right one."""
    choices = tuple(seen_choice("symbols", text) for text in ("q", "rq", "h"))
    item = SeenItem("all-that-fit", choices, frozenset({0, 1}), one_length=True)
    assert luck([item], Random(1)) == Fraction(1, 2)
    assert luck([replace(item, keys=frozenset({2}))], Random(1)) == Fraction(1, 2)
