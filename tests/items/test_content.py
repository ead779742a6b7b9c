"""Items to plain content and back: the same item, the same id, and every strange content refused with the mend."""

import json
from typing import Any

import pytest

from bank.demo_bank import demo_items, item_of_ask
from barwright.asks import ASKS
from barwright.asks.item_content import parsed_item
from barwright.errors import ItemError
from barwright.items.item import item_content
from barwright.rhythm.conventions import Conventions, convention_values


def content(**changed: object) -> dict[str, Any]:
    return {**json.loads(json.dumps(item_content(item_of_ask("finish-measure")))), **changed}


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
        ({"more": "keys"}, "content holds more or other than an item: take the keys of other lines"),
    ],
)
def test_strange_content_is_refused_with_the_mend(changed: dict[str, Any], message: str) -> None:
    with pytest.raises(ItemError) as error:
        parsed_item(content(**changed))
    assert str(error.value) == message
