"""Items whose answers are dragged or put together, as a form holds them: keys in even places, nothing given away."""

from collections import Counter

import pytest

from barwright.items.assembly import MadeForm, made_forms
from barwright.items.blueprint_faults import examined, read_blueprint
from barwright.items.content import parsed_item
from barwright.items.model import Item, item_content
from barwright.items.placing import placing_of
from barwright.items.positions import key_places, longest_run
from barwright.rhythm.counting import parse_row
from items.demo import BEGINNERS, SECOND_YEAR, blueprint_text, plan

ORDERED = "measures = 3"


def forms(elements: str, ask: str, *, items: int, part: str = "") -> tuple[MadeForm, ...]:
    text = blueprint_text(elements, ask, items=items, part=part, more='sections = ["A", "B"]')
    return made_forms(read_blueprint(text, "test.toml")[0])


def items_of(form: MadeForm) -> list[Item]:
    return [placed.item for placed in form.form.items]


def test_keys_of_dragged_symbols_take_all_positions_evenly() -> None:
    for form in forms(BEGINNERS, "drag-into-the-blank", items=8):
        places = key_places(items_of(form), [placed.order for placed in form.form.items])
        used = Counter(places)
        assert longest_run(places) <= 2
        assert max(used.values()) - min(used[p] for p in range(4)) <= 1


@pytest.mark.parametrize(("ask", "part"), [("count-under-each", "measures = 1"), ("shortest-first", ORDERED)])
def test_answers_that_are_put_together_have_no_position(ask: str, part: str) -> None:
    for form in forms(SECOND_YEAR, ask, items=5, part=part):
        items = items_of(form)
        orders = [placed.order for placed in form.form.items]
        assert key_places(items, orders) == [None] * 5
        assert orders == [tuple(range(len(item.choices))) for item in items]


def test_parallel_forms_offer_the_same_misreadings_on_other_groups() -> None:
    one, other = forms(SECOND_YEAR, "shortest-first", items=4, part=ORDERED)
    for a, b in zip(items_of(one), items_of(other), strict=True):
        assert {c.misreading for c in a.wrong} == {c.misreading for c in b.wrong}
        assert a.excerpt != b.excerpt
    assert one.bent == other.bent == ()


def test_lists_are_where_rows_differ_and_offer_what_the_rows_hold_there() -> None:
    for form in forms(SECOND_YEAR, "count-under-each", items=6):
        for item in items_of(form):
            placing = placing_of(item)
            assert placing is not None
            rows = [parse_row(c.answer.text) for c in item.choices]
            slots = {(s.measure, s.sound): {placing.texts[o] for o in s.options} for s in placing.slots}
            for measure, labels in enumerate(rows[0]):
                for sound in range(len(labels)):
                    held = {row[measure][sound] for row in rows}
                    assert slots.get((measure, sound), held) == held
                    assert ((measure, sound) in slots) == (len(held) > 1)
            for choice, filled, row in zip(item.choices, placing.filled, rows, strict=True):
                told = [placing.texts[text] for text in filled]
                assert told == [row[s.measure][s.sound] for s in placing.slots], choice


def test_an_error_that_cannot_show_in_an_order_is_told_with_those_that_can() -> None:
    text = blueprint_text(BEGINNERS, "shortest-first", part='misreadings = ["measure-taken-as-empty"]')
    faults = examined(text, "test.toml").faults
    ((_, told),) = faults
    assert told.startswith("misreading 'measure-taken-as-empty' cannot show in 'shortest-first': use ")
    assert "rests-take-no-time" in told


@pytest.mark.parametrize("measures", [1, 2])
def test_fewer_than_three_groups_are_no_order(measures: int) -> None:
    a_plan = plan(BEGINNERS, "shortest-first", measures=measures)
    assert list(a_plan.ask.listed(a_plan.space)) == []


@pytest.mark.parametrize("ask", ["drag-into-the-blank", "count-under-each", "shortest-first"])
def test_items_come_back_from_their_content(ask: str) -> None:
    for form in forms(SECOND_YEAR, ask, items=4):
        for item in items_of(form):
            assert parsed_item(item_content(item)) == item
