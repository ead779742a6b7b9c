"""What lies apart in two tiny forms, what that costs and which exchange is worth it; each case worked by hand.

Expectations are common practice.
"""

from collections import Counter

import pytest

from asks.spaces import excerpt, space
from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.forms.parallel import (
    WHOLE,
    Cells,
    Trait,
    answer_names,
    apart_chances,
    bounds,
    cells_of,
    farthest,
    first_variants,
    item_traits,
    misreading_traits,
    prompt_of,
    question_traits,
    room,
    sizes,
    spread_of,
    too_few_chances,
    twin_name,
    unlike,
    wanted_chances,
)
from barwright.items.form import Form, FormItem
from barwright.items.item import Answer, Item
from forms.made_items import in_ask, item, plan

FINISH = "finish-measure"


def traits(ask: str, text: str, *keys: str, target: str = "") -> set[tuple[str, str]]:
    kind = ASKS[ask].answer
    question = Question(excerpt(text), tuple(Answer(kind, key) for key in keys), target)
    found = list(question_traits(ASKS[ask], question))
    assert {trait.of for trait in found} == {ask}
    return {(trait.kind, trait.name) for trait in found}


@pytest.mark.parametrize(
    ("ask", "keys", "target", "names"),
    [
        (FINISH, ["h rq"], "", ("3/4 of a whole note", "with a rest")),
        (FINISH, ["q e"], "", ("3/8 of a whole note",)),
        # A whole rest fills any measure: it has no length of its own.
        (FINISH, ["rW"], "", ("0 of a whole note", "with a rest")),
        ("all-that-fit", ["h", "q q"], "", ("2 right",)),
        ("does-it-fit", ["fits 2 3"], "", ("fits",)),
        ("does-it-fit", ["fits-not 4 3"], "", ("fits-not",)),
        ("what-the-numbers-say", ["count 3 4"], "top", ("count top",)),
        ("beats-left", ["3/2"], "", ("3/2",)),
        ("time-signature-for-rhythm", ["3/4"], "", ("3/4",)),
        ("write-counts", ["1 2"], "", ()),
        ("rhythm-for-counts", ["q h"], "", ()),
        ("shortest-first", ["e < q"], "", ()),
    ],
)
def test_what_answers_are_like_where_a_student_might_bet_on_it(
    ask: str, keys: list[str], target: str, names: tuple[str, ...]
) -> None:
    answers = [Answer(ASKS[ask].answer, key) for key in keys]
    found = answer_names(ASKS[ask], answers, target)
    assert found == names


def test_statements_are_told_apart_by_their_sort_where_an_ask_has_sorts() -> None:
    sorted_ = in_ask(plan("does-it-fit", space("q h", "3/4")), sort=lambda answer: answer.text[-1]).ask
    assert answer_names(sorted_, [Answer("claim", "fits 2 3")], "") == ("3",)


def test_a_question_shows_what_its_picture_shows() -> None:
    # Every value once, the blank not, a tie for nothing; the second quarter of 4/4 is on the beat.
    assert traits(FINISH, "4/4 q~ q _", "h") == {
        ("answers", "1/2 of a whole note"), ("meters", "4/4"), ("values", "q"),
    }  # fmt: skip
    # Nothing of the excerpt is drawn for an order; of a rhythm for a row the choices are.
    assert traits("shortest-first", "4/4 e q. h", "e < q. < h") == {("meters", "4/4")}
    assert traits("rhythm-for-counts", "4/4 e q. h", "e q. h") == {
        ("meters", "4/4"), ("values", "e"), ("values", "q."), ("values", "h"), ("off-beats", "off the beat"),
    }  # fmt: skip
    assert traits("drag-into-the-blank", "4/4 e q. _", "h") == {("answers", "1/2 of a whole note"), ("meters", "4/4")}


def test_a_misreading_shows_in_its_ask_and_in_the_whole_form() -> None:
    one = item(FINISH, "4/4 q h _", "q", "h <a+b>, w <a>")
    shown = {("finish-measure", "a"), ("finish-measure", "b"), ("all asks", "a"), ("all asks", "b")}
    assert {(t.of, t.name) for t in misreading_traits(one)} == shown
    assert {t.kind for t in misreading_traits(one)} == {"misreadings"}
    assert item_traits(one) == {
        *misreading_traits(one), *question_traits(ASKS[FINISH], Question(one.excerpt, (Answer("symbols", "q"),))),
    }  # fmt: skip


def test_of_the_variants_of_a_question_the_first_counts() -> None:
    texts = ("4/4 q h _", "4/4 h q _", "4/4 h _", "4/4 q _")
    made = [item(FINISH, text, "q", "h, w") for text in texts]
    numbers = (2, 2, 1, 1)
    placed = tuple(FormItem(each, (0, 1, 2), 1, number) for each, number in zip(made, numbers, strict=True))
    assert first_variants(Form("Test", "A", "en-US", False, True, placed, "x")) == (made[2], made[0])


TWO = Trait(FINISH, "values", "q"), Trait(FINISH, "values", "h")
MISREAD = Trait(FINISH, "misreadings", "a")
IN_ALL = Trait(WHOLE, "misreadings", "a")


def test_a_cell_tells_how_far_a_form_lies_from_the_farthest_other() -> None:
    cell = Cells(TWO[0], (1, 4, 6))
    assert cell.apart == 5
    assert [cell.away(form) for form in range(3)] == [5, 3, 5]


def test_cells_are_those_of_all_forms_in_order() -> None:
    quarter, half = TWO
    found = cells_of([Counter({quarter: 2}), Counter({quarter: 1, half: 3})])
    assert found == (Cells(half, (0, 3)), Cells(quarter, (2, 1)))
    # Of the traits of one ask and kind the farthest is told: here 3, whichever comes last.
    assert farthest(found, 0) == {(FINISH, "values"): 3}
    assert farthest(found[::-1], 0) == {(FINISH, "values"): 3}
    assert farthest([Cells(quarter, (2, 2))], 0) == {(FINISH, "values"): 0}


@pytest.mark.parametrize(("items", "most"), [(1, 1), (19, 1), (20, 1), (39, 1), (40, 2), (60, 3)])
def test_one_item_of_twenty_is_room(items: int, most: int) -> None:
    assert room(items) == most


def test_a_form_is_unlike_others_in_as_many_cells_as_it_lies_apart_by_more_than_there_is_room() -> None:
    quarter, half = TWO
    spread = Counter({quarter: 3, half: 1, MISREAD: 3, IN_ALL: 9})
    assert unlike(spread, [Counter({quarter: 1, half: 2, MISREAD: 1, IN_ALL: 1})], {FINISH: 4, WHOLE: 4}) == 2
    assert unlike(spread, [Counter({quarter: 1, half: 2, MISREAD: 1, IN_ALL: 1})], {FINISH: 40, WHOLE: 40}) == 0
    assert unlike(spread, [spread], {FINISH: 4}) == 0
    assert unlike(spread, [], {FINISH: 4}) == 0
    # Others may lie farther apart than there is room: between them a form makes it no worse, outside it does.
    apart = [Counter({quarter: 2}), Counter({quarter: 4})]
    assert [unlike(Counter({quarter: n}), apart, {FINISH: 4}) for n in range(1, 6)] == [1, 0, 0, 0, 1]


@pytest.mark.parametrize(
    ("counts", "room_", "least", "most"),
    [
        ([2], 1, 1, 3),
        ([2, 3, 2], 1, 2, 3),
        ([4, 2], 1, 2, 4),
        ([4, 2], 2, 2, 4),
        ([3, 4], 2, 2, 5),
        ([1, 9, 4], 3, 1, 9),
    ],
)
def test_a_trait_may_stand_as_often_as_is_near_to_all_others_or_between_them(
    counts: list[int], room_: int, least: int, most: int
) -> None:
    assert bounds(counts, room_) == (least, most)


def test_sizes_count_each_ask_and_all() -> None:
    one, other = item(FINISH, "4/4 q h _", "q", "h"), item("beats-left", "4/4 q h _", "1", "2")
    assert sizes([one, one, other]) == {FINISH: 2, "beats-left": 1, WHOLE: 3}
    assert spread_of([one, one, other])[Trait(FINISH, "values", "h")] == 2


def twins(
    ask: str, one: str, other: str, keys: tuple[str, str] = ("q", "q"), targets: tuple[str, str] = ("", "")
) -> bool:
    names = [
        twin_name(ask, Question(excerpt(text), (Answer("symbols", key),), target))
        for text, key, target in zip((one, other), keys, targets, strict=True)
    ]
    return names[0] == names[1]


def test_mirror_images_and_measures_in_another_order_are_twins() -> None:
    ask = "counts-for-rhythm"
    for other in ("3/4 q q q | q h", "3/4 h q | q q q", "3/4 q q q | h q", "3/4 q h | q q q"):
        assert twins(ask, "3/4 q h | q q q", other)
    assert twins(ask, "3/4 q~ h | h.", "3/4 q h | h.")
    assert not twins(ask, "3/4 q h | h.", "3/4 h. | h.")
    # Not each measure as it likes: the first turned and the second not.
    assert not twins(ask, "3/4 q h | q h", "3/4 q h | h q")
    assert not twins(ask, "3/4 q h", "3/8 q h")
    # A right answer is of the question where it fills a blank.
    assert twins(ask, "3/4 q h", "3/4 h q", keys=("q", "h"))
    assert not twins(FINISH, "3/4 q _", "3/4 _ q", keys=("h", "q q"))
    assert twins(FINISH, "3/4 q _", "3/4 _ q", keys=("h", "h"))
    assert not twins(ask, "3/4 q h", "3/4 h q", targets=("top", "bottom"))


def test_the_prompt_is_the_figure_or_the_meter_alone() -> None:
    assert prompt_of(item(FINISH, "4/4 q h _", "q", "h")) == "finish-measure  4/4 q h _"
    assert prompt_of(item("rhythm-for-time-signature", "3/4 q h", "q h", "h h")) == "rhythm-for-time-signature  3/4"
    numbers = item("what-the-numbers-say", "3/4 h.", "count 3 4", "count 4 3", target="top")
    assert prompt_of(numbers) == "what-the-numbers-say top 3/4 h."


def led(wrong: str) -> Item:
    return item(FINISH, "4/4 q h _", "q", wrong)


def test_chances_count_items_in_which_one_error_leads_where_the_other_does_not() -> None:
    # a leads to h, b to w; a and b both to e; c nowhere.
    assert apart_chances([led("h <a>, w <b>")], ("a", "b", "c")) == {
        ("a", "a"): 1, ("a", "b"): 1, ("a", "c"): 1, ("b", "b"): 1, ("b", "a"): 1, ("b", "c"): 1,
    }  # fmt: skip
    assert apart_chances([led("e <a b>")], ("a", "b")) == {("a", "a"): 1, ("b", "b"): 1}
    assert apart_chances([led("e <a b>"), led("h <a>, w <c>")], ("a", "b")) == {
        ("a", "a"): 2, ("b", "b"): 1, ("a", "b"): 1,
    }  # fmt: skip


def test_four_chances_to_show_an_error_and_two_to_tell_it_from_each_other() -> None:
    assert (wanted_chances("a", "a"), wanted_chances("a", "b")) == (4, 2)
    one = led("h <a>, w <b>")
    assert too_few_chances([one] * 3, ("a", "b")) == (("a", "a", 3), ("b", "b", 3))
    assert too_few_chances([one] * 4, ("a", "b")) == ()
    assert too_few_chances([one, *[led("e <a b>")] * 3], ("a", "b")) == (("a", "b", 1), ("b", "a", 1))
