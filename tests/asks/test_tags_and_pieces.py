"""What lists of contents say of an item, and what answers are put together from, on items made by hand."""

import pytest

from barwright.asks.pieces import Slot, place_name, placing_of, recorded_places
from barwright.asks.tags import keywords_of, tags_of
from barwright.errors import ItemError
from barwright.items.item import Answer, AnswerKind, Choice, Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt


def item(
    ask: str, excerpt: str, kind: AnswerKind, right: str, *wrong: str, conventions: Conventions | None = None
) -> Item:
    choices = [
        Choice(Answer(kind, right)),
        *(Choice(Answer(kind, text), (f"e{n}", "z")) for n, text in enumerate(wrong)),
    ]
    ordered = tuple(sorted(choices, key=lambda choice: choice.answer))
    return Item(ask, parse_excerpt(excerpt, full=False), conventions or Conventions(), ordered)


BLANK = item("finish-measure", "6/8 q.~ q re | _ rq", "symbols", "e", "q", "h")
CURRICULUM = {"measure-completion": ["M.2", "M.1"], "finish-measure": ["M.1", "F"], "beats-left": ["B"]}


def test_tags_of_an_item() -> None:
    assert tags_of(BLANK, CURRICULUM) == {
        "family": "measure-completion", "ask": "finish-measure", "meter": "6/8",
        "elements": ["q", "q.", "re", "rq"], "measures": 2,
        # The tied notes are one sound; the rests, eighth and quarter, are two.
        "sounds": 1, "rests": 2, "offbeats": 0, "dots": 1, "ties": 1, "unequal_meter": 2,
        "misreadings": ["e0", "e1", "z"],
        "curriculum": ["F", "M.1", "M.2"],
    }  # fmt: skip


def test_keywords_tell_nothing_of_key_or_errors() -> None:
    assert keywords_of(BLANK, CURRICULUM) == (
        "F", "M.1", "M.2", "measure-completion", "6/8", "q", "q.", "re", "rq",
        "sounds 1", "rests 2", "dots 1", "ties 1", "unequal_meter 2",
    )  # fmt: skip
    assert tags_of(BLANK, {})["curriculum"] == []


def test_whole_answers_are_not_put_together() -> None:
    assert placing_of(BLANK) is None
    assert recorded_places(BLANK, (0, 1, 2)) == {}


ROW = item("count-under-each", "3/4 h rq | q q q", "row", "1-2 (3) | 1 2 3", "1-2 (4) | 1 2 3", "1 (3) | 1 2 4")


def test_every_symbol_has_a_slot_with_the_labels_of_all_rows() -> None:
    placing = placing_of(ROW)
    assert placing is not None
    assert placing.texts == ("1", "1-2", "2", "3", "(3)", "4", "(4)")
    every = tuple(range(7))
    assert placing.slots == tuple(Slot(n, k, every) for n, k in ((0, 0), (0, 1), (1, 0), (1, 1), (1, 2)))
    texts = [" ".join(placing.texts[n] for n in each) for each in placing.filled]
    assert texts == ["1 (3) 1 2 4", "1-2 (3) 1 2 3", "1-2 (4) 1 2 3"]


def test_the_record_holds_names_in_the_shown_order() -> None:
    found = recorded_places(item("count-under-each", "2/4 q q", "row", "1 2", "1 3"), (1, 0))
    assert found == {
        "texts": [{"ident": "c1", "text": "1"}, {"ident": "c2", "text": "2"}, {"ident": "c3", "text": "3"}],
        "slots": [
            {"ident": "s1", "measure": 0, "sound": 0, "options": ["c1", "c2", "c3"]},
            {"ident": "s2", "measure": 0, "sound": 1, "options": ["c1", "c2", "c3"]},
        ],
        "filled": [["c1", "c3"], ["c1", "c2"]],
    }
    assert (place_name(0), place_name(2, slot=True)) == ("c1", "s3")


def test_a_label_is_spelt_as_the_right_row_spells_it() -> None:
    placing = placing_of(item("count-under-each", "2/4 q e e", "row", "1 2 &", "1 2 and", "1 and 2"))
    assert placing is not None
    assert placing.texts == ("1", "2", "&")


def test_words_are_in_the_order_of_the_system_and_rests_behind() -> None:
    cut = Conventions(counting="takadimi", rest_counts="strike")
    placing = placing_of(item("count-under-each", "2/4 q rq", "row", "ta t̶a̶", "zo di", "di d̶i̶", conventions=cut))
    assert placing is not None
    assert placing.texts == ("ta", "t̶a̶", "di", "d̶i̶", "zo")


def test_rests_stand_behind_sounds_however_they_are_marked() -> None:
    for conventions, row in (
        (Conventions(), "1 (1)"),
        (Conventions(counting="takadimi", rest_counts="strike"), "t̶a̶ ta"),
    ):
        placing = placing_of(item("count-under-each", "2/4 q rq", "row", row, "2 3", conventions=conventions))
        assert placing is not None
        first, second = (text for text in placing.texts if not text.isdecimal() or text == "1")
        assert (first, second) in {("1", "(1)"), ("ta", "t̶a̶")}


def test_words_that_a_system_does_not_have_stand_last() -> None:
    placing = placing_of(item("count-under-each", "2/4 q q", "row", "1 2", "zo 2", "1 e", "a 7"))
    assert placing is not None
    assert placing.texts == ("1", "2", "7", "e", "a", "zo")


def test_rows_of_other_symbols_cannot_be_put_together() -> None:
    odd = item("count-under-each", "2/4 q q", "row", "1 2", "1-2")
    with pytest.raises(ItemError) as told:
        placing_of(odd)
    assert str(told.value) == (f"the rows of item {odd.id} have not all a label for the same symbols: take it out")


def order(right: str, *wrong: str) -> Item:
    return item("shortest-first", "4/4 h | q | w", "order", right, *wrong)


def test_groups_stand_in_an_order_that_no_answer_has() -> None:
    three = order("q < h < w", "h < q < w", "w < h < q")
    placing = placing_of(three)
    assert placing is not None
    assert placing.slots == ()
    # The hash of the item picks one of those that are left: it is the same every time, and in every bank.
    free = [("h", "w", "q"), ("q", "w", "h"), ("w", "q", "h")]
    assert placing.texts == free[int(three.id, 16) % 3]
    shown = [tuple(placing.texts[n] for n in each) for each in placing.filled]
    assert shown == [("h", "q", "w"), ("q", "h", "w"), ("w", "h", "q")]


def test_where_every_order_is_an_answer_the_first_is_shown() -> None:
    every = ("h < q < w", "h < w < q", "q < w < h", "w < h < q", "w < q < h")
    placing = placing_of(order("q < h < w", *every))
    assert placing is not None
    assert placing.texts == ("h", "q", "w")


@pytest.mark.parametrize(
    ("right", "wrong"), [("q < h < w", "q < h"), ("q < h < h", "h < q < h"), ("h < h < q", "q < h < h")]
)
def test_orders_of_other_or_equal_groups_cannot_be_put_together(right: str, wrong: str) -> None:
    odd = order(right, wrong)
    with pytest.raises(ItemError) as told:
        placing_of(odd)
    assert str(told.value) == f"the orders of item {odd.id} are not of the same groups: take it out"
