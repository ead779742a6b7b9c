"""Items at hand: which fit a part, and what may not be asked of a section. Common practice."""

import pytest

from asks.spaces import excerpt
from barwright.asks.ask import Question
from barwright.forms.ready_items import EMPTY, Stock, fitting, question_name, question_of
from barwright.items.item import Answer
from forms.made_items import item
from forms.made_parts import part

FINISH, NUMBERS = "finish-measure", "what-the-numbers-say"
FITTING = item(FINISH, "4/4 q h _", "q", "h, e, w")
SMALLER = item(FINISH, "4/4 h q _", "q", "h, e")


def test_what_a_section_has_had_and_what_nobody_is_asked_again() -> None:
    stock = Stock(had={"A": frozenset({"one"}), "B": frozenset({"two"})}, retired=frozenset({"three"}))
    assert stock.never("A") == {"one", "three"}
    assert stock.never("C") == {"three"}
    assert EMPTY.never("A") == frozenset()


def test_a_question_is_what_an_item_asks_and_is_named_by_ask_excerpt_and_target() -> None:
    upper = item(NUMBERS, "4/4 w", "how-many 4", "lasts 4, how-many 3", target="upper")
    assert question_of(upper) == Question(excerpt("4/4 w"), (Answer("claim", "how-many 4"),), "upper")
    assert question_name(NUMBERS, question_of(upper)) == "what-the-numbers-say 4/4 w upper"
    assert question_name(FINISH, question_of(FITTING)) == "finish-measure 4/4 q h _"


@pytest.mark.parametrize(
    "other",
    [
        item(FINISH, "3/4 h _", "q", "h, e, w"),  # in a meter that the part does not ask for
        item(FINISH, "4/4 q h _ | w", "q", "h, e, w"),  # too long
        SMALLER,  # a choice less than the part has
        item(FINISH, "4/4 h q _", "q", "h, e, w, h."),  # one more
    ],
)
def test_what_fits_a_part_is_of_its_meters_its_length_and_its_choices(other: object) -> None:
    stock = Stock({FINISH: (other, FITTING), "beats-left": (item("beats-left", "4/4 q h _", "1", "2, 3, 4"),)})
    assert list(fitting(stock, part(()))) == [FITTING]


def test_where_a_choice_less_will_do_it_does_and_the_order_stays() -> None:
    stock = Stock({FINISH: (SMALLER, FITTING, item(FINISH, "4/4 h q _", "q", "h"))})
    assert list(fitting(stock, part((), fewer=True))) == [SMALLER, FITTING]
    assert list(fitting(stock, part((), ask="all-that-fit"))) == []
