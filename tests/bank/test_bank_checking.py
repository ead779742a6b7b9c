"""Items of a bank judged again: sound ones pass, and every change by hand is found, even where the id was mended."""

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bank.demo_bank import demo_items, item_of_ask, items_of_ask
from barwright.asks import ASKS
from barwright.bank.checking import content_faults
from barwright.bank.entries import format_entry, ident_of
from barwright.bank.reading import parse_entry
from barwright.bank.records import entry_of
from barwright.bank.views import View
from barwright.errors import BankError
from barwright.items.item import Choice, Item
from barwright.misreadings import MISREADINGS
from whole import whole_or_part


def faults(item: Item) -> tuple[str, ...]:
    return content_faults(View(entry_of(item)).content)


def swapped(item: Item, one: int, other: int) -> Item:
    """The item with the misreadings of two choices changed over."""
    choices = list(item.choices)
    choices[one], choices[other] = (
        replace(choices[one], misreadings=choices[other].misreadings),
        replace(choices[other], misreadings=choices[one].misreadings),
    )
    return replace(item, choices=tuple(choices))


def test_every_demo_item_is_sound() -> None:
    for item in demo_items():
        assert faults(item) == (), item


@pytest.mark.parametrize("ask", ASKS)
def test_another_key_is_found(ask: str) -> None:
    for item in items_of_ask(ask):
        key = next(n for n, choice in enumerate(item.choices) if choice.key)
        for wrong, choice in enumerate(item.choices):
            if not choice.key:
                assert faults(swapped(item, key, wrong)), (item, choice)


@pytest.mark.parametrize("ask", ASKS)
def test_a_misreading_that_does_not_lead_there_is_found(ask: str) -> None:
    for item in items_of_ask(ask):
        named = {m for choice in item.wrong for m in choice.misreadings}
        other = next(m for m in MISREADINGS.values() if item.ask not in m.exercises and m.id not in named)
        place = next(n for n, choice in enumerate(item.choices) if not choice.key)
        choice = item.choices[place]
        changed = [*item.choices]
        changed[place] = Choice(choice.answer, (*choice.misreadings, other.id))
        found = faults(replace(item, choices=tuple(changed)))
        assert found == (f"misreading {other.id!r} does not lead to the answer {choice.answer.text!r}",), item


def test_another_distractor_is_found_with_its_reason() -> None:
    item = item_of_ask("finish-measure")
    line = format_entry(entry_of(item))
    key, wrong = item.keys[0].answer.text, item.wrong[0].answer.text
    copied = line.replace(f'["symbols","{wrong}",', f'["symbols","{key}",')
    with pytest.raises(BankError) as error:
        parse_entry(copied)
    content = copied[len('{"content":') : copied.index(',"id":')]
    assert str(error.value) == (
        f"the judge refuses it (repeated-answer: {key!r}); the content does not give the id {item.id!r} but "
        f"{ident_of(content)!r}, so it was changed by hand: take the line from another copy of the bank, or delete it"
    )


def test_an_unknown_misreading_is_told_with_the_nearest() -> None:
    item = next(i for i in demo_items() if "rests-take-no-time" in {c.misreading for c in i.wrong})
    line = format_entry(entry_of(item)).replace("rests-take-no-time", "rests-take-no-tim")
    with pytest.raises(BankError) as error:
        parse_entry(line)
    assert "is not known: did you mean 'rests-take-no-time'?; the content does not give the id" in str(error.value)


def test_choices_out_of_order_are_found() -> None:
    item = item_of_ask("counts-for-rhythm")
    assert faults(replace(item, choices=item.choices[::-1])) == (
        "its choices are not sorted by kind and text, so the same question would have two ids: sort them",
    )


SIGNS = "whqes.t~ rW_*|0123456789+/-()&,"


@settings(max_examples=whole_or_part(2_000, 120), deadline=None)
@given(st.integers(0, 2**32))
def test_no_content_brings_the_check_down(seed: int) -> None:
    """Contents of the right shape and any sense: told, never a crash."""
    rng = Random(seed)
    content = dict(View(entry_of(rng.choice(demo_items()))).content)
    choices = [[kind, text, list(ids)] for kind, text, ids in content["choices"]]
    for _ in range(rng.randint(1, 3)):
        where = rng.choice(["ask", "excerpt", "target", "kind", "answer", "misreading", "drop", "copy"])
        choice = rng.choice(choices)
        if where == "ask":
            content["ask"] = rng.choice(list(ASKS))
        elif where == "excerpt":
            content["excerpt"] = spoilt(content["excerpt"], rng)
        elif where == "target":
            content["target"] = rng.choice(["", "top", "bottom", "x", content["excerpt"]])
        elif where == "kind":
            choice[0] = rng.choice(["symbols", "measures", "row", "meter", "number", "claim"])
        elif where == "answer":
            choice[1] = spoilt(choice[1], rng) or "x"
        elif where == "misreading":
            choice[2] = rng.sample(list(MISREADINGS), rng.randint(0, 3))
        elif where == "copy" or len(choices) == 1:
            choices.append(list(choice))
        else:
            choices.remove(choice)
    content["choices"] = choices
    for fault in content_faults(content):
        assert fault


def spoilt(text: str, rng: Random) -> str:
    """The text with a few signs put in, taken out or changed."""
    signs = list(text)
    for _ in range(rng.randint(1, 3)):
        place = rng.randrange(len(signs) + 1)
        signs[place : place + rng.randint(0, 2)] = rng.choice(SIGNS) if rng.random() < 0.7 else ""
    return "".join(signs)
