"""Which choice goes where there are to be fewer, and which items; worked by hand. Common practice.

Of four choices each stands for an error: by the letters `a` to `h`, of which nobody is named in the plan unless told.
"""

from collections.abc import Sequence

import pytest

from barwright.blueprint.blueprint import Blueprint
from barwright.forms.lessened import choices_left, corners, named_in, numbers_left
from barwright.items.form import Form, FormItem
from barwright.items.item import Item
from forms.made_blueprints import blueprint
from forms.made_items import item

FINISH, SIGNATURE = "finish-measure", "rhythm-for-time-signature"
PARTS = ("measure-completion finish-measure 4", "meter-identification rhythm-for-time-signature 4")
CLASS = blueprint("4/4 3/4 2/4 3/2", "whole half quarter eighth", "half quarter", *PARTS)


def naming(*misreadings: str, plan: Blueprint = CLASS) -> Blueprint:
    """The plan with a first part that names these."""
    part = plan.part[0].model_copy(update={"misreadings": list(misreadings)})
    return plan.model_copy(update={"part": [part, *plan.part[1:]]})


def form(*items: Item, numbers: Sequence[int] = ()) -> Form:
    placed = (
        FormItem(each, tuple(range(len(each.choices))), 1, number)
        for each, number in zip(items, numbers or range(1, len(items) + 1), strict=True)
    )
    return Form("Quiz", "A", "en", False, False, tuple(placed), "f0")


def gone(*items: Item, plan: Blueprint = CLASS) -> list[str]:
    """What each item is left without; nothing where all stays. The key always stays."""
    left = choices_left(form(*items), plan)
    assert all(item.choices.index(item.keys[0]) in left[item.id] for item in items)
    return [" ".join(c.answer.text for n, c in enumerate(each.choices) if n not in left[each.id]) for each in items]


# Excerpts in which a quarter is missing; nothing is asked twice.
MISSING = ("q h", "h q", "e e h", "h e e", "q q q", "e e q q", "q e e q", "q q e e", "e e e e q", "q e e e e")


def finish(place: int, wrong: str, *, right: str = "q") -> Item:
    return item(FINISH, f"4/4 {MISSING[place]} _", right, wrong)


def three(place: int, errors: str) -> Item:
    """Three wrong choices, of these errors: an eighth, a half and a whole, which stand in that order."""
    one, two, last = errors.split()
    return finish(place, f"e <{one}>, h <{two}>, w <{last}>")


def test_the_choice_goes_whose_error_has_most_chances_of_equal_ones_the_first() -> None:
    assert gone(three(0, "a b c")) == ["e"]
    # `b` shows in three, `a` and `c` in one.
    assert gone(three(0, "a b c"), three(1, "b d e"), three(2, "f g b"))[0] == "h"
    # A choice of two errors at once has as few chances as the one that has fewer: `c` one.
    assert gone(three(0, "a b b+c"), three(1, "a b d"), three(2, "a b e"))[0] == "e"
    assert gone(three(0, "a b+c d"), three(1, "b e f"), three(2, "b g h"))[0] == "e"


def test_two_chances_with_which_a_student_can_be_named_are_kept_before_one() -> None:
    assert gone(three(0, "a b c"), three(1, "a d e"))[0] == "h"
    # The first question has taken one of three chances of `a`, so that the second leaves it alone.
    assert gone(three(0, "a b c"), three(1, "a d e"), three(2, "a f g")) == ["e", "h", "h"]


def test_what_the_plan_names_goes_last() -> None:
    three_of_a = (three(0, "a b c"), three(1, "a d e"), three(2, "a f g"))
    assert gone(*three_of_a, plan=naming("a"))[0] == "h"
    assert gone(*three_of_a, plan=naming("a", "b"))[0] == "w"
    assert gone(three(0, "a+c b d"), plan=naming("c"))[0] == "h"
    both = naming("a").model_copy(update={"part": [*naming("a").part, naming("b").part[0]]})
    assert named_in(both) == {"a", "b"}


def test_no_choice_goes_whose_absence_would_tell_the_key() -> None:
    """A rest is right, and one other is a rest: without it the key would stand alone."""
    assert gone(finish(0, "e <a>, h <b>, rh <c>", right="rq"), finish(1, "h <c>, w <c>")) == ["e", ""]
    assert gone(finish(0, "e <a>, h <b>, rh <c>", right="rq"), three(1, "c d e"), three(2, "c d e"))[0] == "e"


@pytest.mark.parametrize(
    "other",
    [
        finish(0, "h <a>, w <b>"),  # with two wrong ones only
        item("all-that-fit", "4/4 h _", "h, q q", "e <a>, w <b>, q <c>"),
        item("beats-left", "4/4 q h _", "1", "2 <a>, 3 <b>, 4 <c>"),
        item(
            "what-the-numbers-say", "4/4 w", "how-many 4", "how-many 3 <a>, how-many 2 <b>, lasts 4 <c>", target="top"
        ),
    ],
)
def test_all_choices_stay_where_two_would_not_be_left_nor_where_several_are_right_nor_what_is_typed(
    other: Item,
) -> None:
    """Nor where the ask holds only some sets for fair, and the plan has no part of it."""
    assert gone(other, three(1, "d e f")) == ["", "e"]


def square(place: int) -> Item:
    """A choice of one error, one of another, and one of both."""
    return finish(place, f"e <a{place}>, h <b{place}>, w <a{place}+b{place}>")


def test_a_square_has_three_corners_the_one_of_both_last() -> None:
    def named(errors: str) -> list[str]:
        return [choice.misreading for choice in corners(three(0, errors))]

    assert named("a+b a b") == ["a", "b", "a+b"]
    assert named("a b a+b") == ["a", "b", "a+b"]
    assert named("a b c") == named("a b a+c") == named("a a+b a+c") == named("a+b b+c a+c") == []
    assert [c.misreading for c in corners(finish(0, "e <a>, h <b>, w <a+b>, rh <c>"))] == ["a", "b", "a+b"]
    # Two of one error, and one of it with another, are no square.
    assert [c.misreading for c in corners(finish(0, "e <a>, h <a>, w <a+b+c>"))] == []


@pytest.mark.parametrize(("squares", "without_both"), [(1, 0), (2, 1), (3, 1), (4, 1), (5, 2), (8, 3)])
def test_of_three_squares_the_first_by_its_id_loses_the_corner_of_both(squares: int, without_both: int) -> None:
    items = [square(place) for place in range(squares)]
    lost = dict(zip(sorted(each.id for each in items), [True] * without_both + [False] * squares, strict=False))
    assert gone(*items) == ["w" if lost[each.id] else "e" for each in items]


def test_only_squares_that_are_lessened_are_counted() -> None:
    """One square, others that are none, and one whose answer is typed: none of these is one of three."""
    one = square(0)
    squares = (item("beats-left", f"4/4 {each} _", "1", "2 <a>, 3 <b>, 4 <a+b>") for each in MISSING)
    typed = next(each for each in squares if each.id > one.id)
    none = [each for each in (three(place, "c d e") for place in range(1, 10)) if each.id > one.id]
    assert len(none) > 1
    assert gone(one, typed)[0] == gone(one, *none)[0] == "e"
    assert gone(one, finish(1, "h <c>, w <d>"))[0] == "e"


def test_of_other_squares_a_corner_of_one_error_goes_by_its_chances() -> None:
    """Whatever chances both have: here as many."""
    assert gone(finish(0, "e <a>, h <b>, w <a+b>"), three(1, "c b d"), three(2, "e b f"))[0] == "h"
    assert gone(finish(0, "e <a+b>, h <a>, w <b>"))[0] == "h"


def test_beside_a_square_the_choice_goes_that_is_no_corner() -> None:
    assert gone(finish(0, "e <a>, h <b>, rh <c>, w <a+b>")) == ["rh"]


# In 3/4, 3/4 and 2/4, beside four quarters.
SAME = "h q <a>, q q q <b>, h <c>"


def test_what_is_left_is_a_set_that_the_ask_holds_for_fair() -> None:
    """Choices of different lengths are: so one of two goes that last as long, however many chances others have."""
    asked = item(SIGNATURE, "4/4 q q h", "q q h", SAME)
    more = (three(0, "c d e"), three(1, "c d e"))
    assert gone(asked, *more)[0] == "h q"
    assert gone(asked, *more, plan=naming("a"))[0] == "q q q"
    # The plan has no part of it.
    alone = CLASS.model_copy(update={"part": CLASS.part[:1]})
    assert gone(asked, *more, plan=alone)[0] == ""


def test_fairness_comes_before_squares() -> None:
    """The one beside the square must stay, so a corner goes: of two that last as long one."""
    asked = item(SIGNATURE, "4/4 q q h", "q q h", "h q <a>, q q q <b>, h <a+b>, h h h <c>")
    assert gone(asked) == ["h q"]


def asks_left(errors: Sequence[str], *, plan: Blueprint = CLASS, numbers: Sequence[int] = ()) -> list[int]:
    items = []
    for place, each in enumerate(errors):
        names = each.split()
        wrong = ", ".join(f"{text} <{name}>" for text, name in zip(("e", "h", "w", "q."), names, strict=False))
        items.append(finish(place, wrong))
    return sorted(numbers_left(form(*items, numbers=numbers), plan))


def test_two_of_three_items_stay_rounded_up_of_equal_ones_the_first() -> None:
    assert asks_left(["a"]) == [1]
    assert asks_left(["a", "b"]) == [1, 2]
    assert asks_left(["a", "b", "c"]) == [1, 2]
    assert asks_left(list("abcde")) == [1, 2, 3, 4]
    assert asks_left(list("abcdef")) == [1, 2, 3, 4]


def test_the_item_goes_that_costs_least() -> None:
    # Of which named errors have chances left, four of each; then of which others have three; then of which most have.
    assert asks_left(["a", "a", "b"], plan=naming("b")) == [1, 3]
    assert asks_left(["a", "a", "a", "a", "b c"], plan=naming("a")) == [1, 2, 3, 4]
    assert asks_left(["a", "a", "a", "a", "a", "b c", "d e", "f g"], plan=naming("a")) == [1, 2, 3, 4, 6, 7]
    assert asks_left(["a", "a", "a", "b c", "b c"]) == [1, 2, 4, 5]
    assert asks_left(["a b", "a", "a c"]) == [1, 3]
    assert asks_left(["a b", "a b", "a b", "a"]) == [1, 2, 4]


def test_each_ask_keeps_one() -> None:
    typed = item("beats-left", "4/4 h q _", "1", "2 <a>, 3 <b>")
    assert numbers_left(form(three(0, "c d e"), three(1, "c f g"), typed), CLASS) == {1, 3}
    other = item(SIGNATURE, "4/4 q q h", "q q h", SAME)
    assert numbers_left(form(three(0, "a b c"), other, typed), CLASS) == {1, 2, 3}


def test_variants_of_a_question_stay_together_and_count_for_whatever_any_of_them_offers() -> None:
    """The first number has two variants, with five errors: it is the second that has least of its own."""
    assert asks_left(["a b", "c d", "a", "e f"], numbers=[1, 1, 2, 3]) == [1, 3]
    assert asks_left(["a b", "c d", "a c"], numbers=[1, 1, 2]) == [1, 2]
