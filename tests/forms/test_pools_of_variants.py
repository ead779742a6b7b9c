"""Pools of variants: how many each item gets, what they may not share, and which place has too few. Common practice."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from barwright.blueprint.blueprint import Plan
from barwright.errors import CapacityError
from barwright.forms.draft import Draft
from barwright.forms.questions import cell_of
from barwright.forms.ready_items import question_of
from barwright.forms.sheets import Sheets
from barwright.forms.variants import Pool, Told, pools_of, untold
from barwright.items.item import Item
from forms.made_items import item
from forms.made_parts import part, question

BEATS = "beats-left"
ASKED = [question(f"4/4 {text} _", "1", kind="number") for text in ("q h", "h q", "e e h", "h e e", "q e e q", "q q q")]
ERRORS = ("dots-passed-over", "rests-take-no-time")
OFFERS = {"2": ERRORS[0], "3": ERRORS[1]}


def beats(text: str) -> Item:
    return item(BEATS, f"4/4 {text} _", "1", f"2 <{ERRORS[0]}>, 3 <{ERRORS[1]}>")


ONE, OTHER = beats("q h"), beats("h q")


def a_part(count: int = len(ASKED)) -> Plan:
    """A part of so many questions, to each of which the same two errors lead."""
    return part(ASKED[:count], ask=BEATS, offers=OFFERS, even=True)


def pools(plans: Sequence[Plan], *items: Item, variants: int, told: Told = untold) -> tuple[tuple[Pool, ...], Draft]:
    draft = Draft("A", {}, sheets=Sheets("seed"))
    for each, plan in zip(items, plans, strict=True):
        draft.keep(plan, question_of(each), each)
    cells = [cell_of(each, plan) for each, plan in zip(items, plans, strict=True)]
    return pools_of(draft, plans, cells, variants=variants, seed="seed", told=told), draft


def test_with_one_variant_there_is_nothing_to_draw() -> None:
    told: list[int] = []
    found, draft = pools([a_part()] * 2, ONE, OTHER, variants=1, told=told.append)
    assert found == ((ONE,), (OTHER,))
    assert (told, draft.tally.judged) == ([], 0)


def test_each_item_is_the_first_of_a_pool_in_its_cell_and_no_two_share_an_excerpt() -> None:
    """Six questions are just enough for two items with two more variants each; each one made is told."""
    told: list[int] = []
    same = a_part()
    found, draft = pools([same, same], ONE, OTHER, variants=3, told=told.append)
    assert [len(pool) for pool in found] == [3, 3]
    assert [pool[0] for pool in found] == [ONE, OTHER]
    every = [each for pool in found for each in pool]
    assert sorted(question_of(each).text for each in every) == sorted(each.text for each in ASKED)
    assert {each.offered for each in every} == {frozenset(ERRORS)}
    # Two were there, four were made; the draft knows how often it was judged.
    assert told == [3, 4, 5, 6]
    assert draft.tally.judged == 4
    assert draft.items == [ONE, OTHER]


@pytest.mark.parametrize(
    ("count", "asked", "place", "made"),
    [
        # Of two questions both are asked already; of three one is left, for the first item.
        (2, 2, 1, 1),
        (3, 2, 2, 1),
        # Of five three are left: two for the first item, one for the second.
        (5, 3, 2, 2),
    ],
)
def test_the_place_that_has_too_few_is_named(count: int, asked: int, place: int, made: int) -> None:
    same = a_part(count)
    with pytest.raises(CapacityError) as raised:
        pools([same, same], ONE, OTHER, variants=asked)
    assert str(raised.value) == (
        f"question {place}, 'beats-left': {asked} variants are asked for, {made} can be made: lower `variants`, teach "
        "more elements or meters, or allow longer excerpts with `measures`"
    )


def test_the_part_that_has_too_few_is_told_by_its_number() -> None:
    """One part has variants enough for two items; the other has no questions but those that are asked."""
    rich, poor = a_part(4), replace(a_part(), ask=part(ASKED[4:], ask=BEATS, offers=OFFERS).ask, number=2)
    third, last = beats("q e e q"), beats("q q q")
    for plans, items in (
        ([rich, rich, poor, poor], [ONE, OTHER, third, last]),
        ([poor, poor, rich], [third, last, ONE]),
    ):
        with pytest.raises(CapacityError) as raised:
            pools(plans, *items, variants=2)
        assert raised.value.part == 2
