"""Items to plain content and back: the same item, the same id, and every strange content refused with the mend."""

import json
from typing import Any

import pytest

from bank.demo_bank import demo_items, item_of_ask
from barwright.asks import ASKS
from barwright.asks.item_content import parsed_item
from barwright.errors import ItemError
from barwright.items.item import Answer, Choice, Item, item_content
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.rhythm.text import parse_excerpt


def content(**changed: object) -> dict[str, Any]:
    """What is written of an item, as it comes back from JSON: texts are equal, and not the same ones."""
    written = {
        "ask": "finish-measure", "choices": [["symbols", "h", ["dots-passed-over"]], ["symbols", "q", []]],
        "conventions": {}, "excerpt": "4/4 h. _", "target": "",
    }  # fmt: skip
    back: dict[str, Any] = json.loads(json.dumps({**written, **changed}))
    return back


def test_an_item_is_made_of_its_content() -> None:
    wrong, right = Choice(Answer("symbols", "h"), ("dots-passed-over",)), Choice(Answer("symbols", "q"))
    excerpt = parse_excerpt("4/4 h. _", full=False)
    assert parsed_item(content()) == Item("finish-measure", excerpt, Conventions(), (wrong, right))
    asked = content(conventions={"counting": "gordon", "strict_middle": True}, target="top")
    conventions = Conventions(counting="gordon", strict_middle=True)
    assert parsed_item(asked) == Item("finish-measure", excerpt, conventions, (wrong, right), "top")


def test_a_choice_names_two_misreadings_that_can_be_held_at_once() -> None:
    pair = "rests-take-no-time+dots-passed-over"
    item = parsed_item(content(choices=[["symbols", "h", [pair, "dot-doubles"]], ["symbols", "q", []]]))
    assert item.choices[0].misreadings == (pair, "dot-doubles")


def test_twelve_choices_stand_beside_each_other_and_more_are_typed() -> None:
    choices = [["row", f"{number} 2", ["dot-doubles"]] for number in range(10, 23)]
    for ask in ("finish-measure", "counts-for-rhythm"):
        assert len(parsed_item(content(ask=ask, choices=choices[:12])).choices) == 12
        with pytest.raises(ItemError) as error:
            parsed_item(content(ask=ask, choices=choices))
        assert str(error.value) == "13 choices stand beside each other: a question has 12 at most"
    for ask in ("write-counts", "count-under-each", "shortest-first"):
        assert len(parsed_item(content(ask=ask, choices=choices)).choices) == 13


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"ask": "finish-mesure"}, "ask 'finish-mesure' is not known: did you mean 'finish-measure'?"),
        ({"ask": "zzz"}, "ask 'zzz' is not known: it is of a newer version, or misspelt"),
        (
            {"excerpt": "3/5 q"},
            "excerpt '3/5 q' cannot be read: time signature 3/5: the bottom number must be 2, 4 or 8",
        ),
        ({"excerpt": "3/4  q _"}, "excerpt '3/4  q _' is not as it is always written: write '3/4 q _'"),
        (
            {"conventions": {"countng": "gordon"}},
            "convention 'countng' is not known: did you mean 'counting'?",
        ),
        (
            {"conventions": {"beam_4_4": "third"}},
            "convention beam_4_4 = 'third' is not allowed: use 'quarter', 'half'",
        ),
        ({"conventions": {"strict_middle": 1}}, "convention strict_middle = 1 is not allowed: use false, true"),
        (
            {"conventions": {"beam_4_4": "quarter"}},
            "convention beam_4_4 = 'quarter' is the usual one: leave it out",
        ),
        (
            {"choices": [["simbols", "q", []]]},
            "answer kind 'simbols' is not known: did you mean 'symbols'?",
        ),
        (
            {"choices": [["symbols", "q", ["rests-take-no-tim"]]]},
            "misreading 'rests-take-no-tim' of answer 'q' is not known: did you mean 'rests-take-no-time'?",
        ),
        (
            {"choices": [["symbols", "q", ["dots-passed-over+rests-take-no-tim"]]]},
            "misreading 'rests-take-no-tim' of answer 'q' is not known: did you mean 'rests-take-no-time'?",
        ),
        (
            {"choices": [["symbols", "q", ["dot-doubles+dots-passed-over"]]]},
            "misreadings 'dot-doubles+dots-passed-over' of answer 'q' are no two that a student can hold at once: "
            "take the line from a bank that is as it was written",
        ),
        (
            {"conventions": {"counting": True}},
            "convention counting = true is not allowed: use 'numbers', 'kodaly', 'gordon', 'takadimi', 'eastman'",
        ),
        ({"more": "keys"}, "content holds more or other than an item: take the keys of other lines"),
    ],
)
def test_strange_content_is_refused_with_the_mend(changed: dict[str, Any], message: str) -> None:
    with pytest.raises(ItemError) as error:
        parsed_item(content(**changed))
    assert str(error.value) == message


def test_every_item_comes_back_with_its_id_from_json() -> None:
    assert {item.ask for item in demo_items()} == set(ASKS)
    for item in demo_items():
        back = parsed_item(json.loads(json.dumps(item_content(item))))
        assert back == item
        assert back.id == item.id


def test_every_convention_comes_back() -> None:
    item = item_of_ask("counts-for-rhythm")
    for name, values in convention_values().items():
        for value in values:
            given = {} if value == getattr(Conventions(), name) else {name: value}
            back = parsed_item({**item_content(item), "conventions": given})
            assert getattr(back.conventions, name) == value
            assert item_content(back)["conventions"] == given
