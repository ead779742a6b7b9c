"""Items whose answers are dragged or put together, as a form holds them: keys in even places, nothing given away."""

from collections import Counter

import pytest

from barwright.asks.item_content import parsed_item
from barwright.asks.pieces import placing_of
from barwright.blueprint.parsing import examined, read_blueprint
from barwright.counting.counts import parse_row
from barwright.forms.assembly import MadeForm, made_forms
from barwright.forms.orders import key_places, longest_run
from barwright.items.item import (
    Answer,
    Choice,
    Item,
    item_content,
)
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt
from items.demo import BEGINNERS, SECOND_YEAR, blueprint_text, plan

ORDERED = "measures = 3"


def forms(elements: str, ask: str, *, items: int, part: str = "") -> tuple[MadeForm, ...]:
    text = blueprint_text(elements, ask, items=items, part=part, more='sections = ["A", "B"]')
    return made_forms(read_blueprint(text, "test.toml")[0])


def items_of(form: MadeForm) -> list[Item]:
    return [placed.item for placed in form.form.items]


def test_keys_of_dragged_symbols_take_all_positions_evenly() -> None:
    """Beginners have few lengths, and so three choices."""
    for form in forms(BEGINNERS, "drag-into-the-blank", items=8):
        orders = [placed.order for placed in form.form.items]
        places = key_places(items_of(form), orders)
        assert set(map(len, orders)) == {3}
        used = Counter(places)
        assert longest_run(places) <= 2
        assert max(used.values()) - min(used[p] for p in range(3)) <= 1


@pytest.mark.parametrize(("ask", "part"), [("count-under-each", "measures = 1"), ("shortest-first", ORDERED)])
def test_answers_that_are_put_together_have_no_position(ask: str, part: str) -> None:
    for form in forms(SECOND_YEAR, ask, items=5, part=part):
        items = items_of(form)
        orders = [placed.order for placed in form.form.items]
        assert key_places(items, orders) == [None] * 5
        assert orders == [tuple(range(len(item.choices))) for item in items]


def test_parallel_forms_offer_the_same_misreadings_on_other_groups() -> None:
    one, other = forms(SECOND_YEAR, "shortest-first", items=4, part=ORDERED)
    offered = [sorted(sorted(c.misreading for c in item.wrong) for item in items_of(form)) for form in (one, other)]
    assert offered[0] == offered[1]
    assert not {item.excerpt for item in items_of(one)} & {item.excerpt for item in items_of(other)}
    assert one.bent == other.bent == ()


def test_every_sound_and_rest_has_the_one_list_of_all_that_the_rows_hold() -> None:
    for form in forms(SECOND_YEAR, "count-under-each", items=6):
        for item in items_of(form):
            placing = placing_of(item)
            assert placing is not None
            rows = [parse_row(c.answer.text) for c in item.choices]
            assert set(placing.texts) == {label for row in rows for measure in row for label in measure}
            assert len(set(placing.texts)) == len(placing.texts) <= 12
            assert all(any(c.isalnum() or c == "&" for c in text) for text in placing.texts)
            places = [(n, k) for n, measure in enumerate(rows[0]) for k in range(len(measure))]
            assert [(s.measure, s.sound) for s in placing.slots] == places
            assert {s.options for s in placing.slots} == {tuple(range(len(placing.texts)))}
            for choice, filled, row in zip(item.choices, placing.filled, rows, strict=True):
                assert [placing.texts[text] for text in filled] == [row[n][k] for n, k in places], choice


SYSTEMS = {
    "numbers": ("4/4 s s s s e e q rq", "1 e & a 2 & 3 (4)", "4 1 2 (3) e & a 3-4", "1 2 3 (3) 3-4 4 (4) e & a"),
    "takadimi": ("2/4 s s s s e e", "ta ka di mi ta di", "mi di ka ta di ki", "ta ka ki di mi"),
    "gordon": ("2/4 s s s s e e", "du ta de ta du de", "ta du di da du ta", "du ta da de di"),
    "eastman": ("2/4 s s s s e e", "1 ta te ta 2 te", "1 te la li 2 ta", "1 2 te la li ta"),
    "kodaly": ("2/4 s s e rq", "ti ka ti sh", "ta ka ti sh", "ti ka ta sh"),
}


@pytest.mark.parametrize("counting", SYSTEMS)
def test_lists_follow_the_order_of_the_counting_system(counting: str) -> None:
    excerpt, right, wrong, wanted = SYSTEMS[counting]
    choices = (Choice(Answer("row", right)), Choice(Answer("row", wrong), ("an-error",)))
    conventions = Conventions(counting=counting)
    placing = placing_of(Item("count-under-each", parse_excerpt(excerpt), conventions, choices))
    assert placing is not None
    assert " ".join(placing.texts) == wanted


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
