"""What makes forms parallel, each rule on a few items worked by hand; expectations are common practice."""

from collections import Counter
from pathlib import Path
from random import Random

import pytest

from barwright.asks import ASKS
from barwright.asks.ask import Question
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import drawing_seed, items_of, made_forms
from barwright.forms.marks import Mark
from barwright.forms.orders import key_places, mixed_places, runs_of, shown_orders
from barwright.forms.parallel import (
    Trait,
    apart_chances,
    cells_of,
    farthest,
    first_variants,
    item_traits,
    room,
    sizes,
    spread_of,
    too_few_chances,
    twin_name,
    unlike,
)
from barwright.forms.ready_items import question_of
from barwright.forms.scales import FAR, NO_CHANCE, ONE_KEY, TWINS, Aim
from barwright.items.item import Answer, Choice, Item
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt
from barwright.tasks.fairness import fairness_faults
from items.demo import BEGINNERS, SECOND_YEAR, blueprint_text, plan
from made_once import forms_once

SHARED = Path(__file__).parents[2] / "shared" / "blueprints"


def item(ask: str, excerpt: str, key: str, **wrong: tuple[str, ...]) -> Item:
    kind = ASKS[ask].answer
    choices = [Choice(Answer(kind, key)), *(Choice(Answer(kind, text), ids) for text, ids in wrong.items())]
    return Item(ask, parse_excerpt(excerpt), Conventions(), tuple(choices))


def test_an_item_shows_its_answer_meter_symbols_off_beats_and_misreadings() -> None:
    """The eighth after the dotted quarter sounds off the beat; half a measure of 3/4 is missing: a dotted quarter."""
    one = item("finish-measure", "3/4 q. e _", "rq", h=("rests-take-no-time",))
    assert {(t.kind, t.name) for t in item_traits(one) if t.of == "finish-measure"} == {
        ("answers", "1/4 of a whole note"), ("answers", "with a rest"), ("meters", "3/4"), ("values", "q."),
        ("values", "e"), ("off-beats", "off the beat"), ("misreadings", "rests-take-no-time"),
    }  # fmt: skip


def test_forms_are_compared_cell_by_cell_and_one_item_is_near_enough() -> None:
    h, q = item("finish-measure", "4/4 h _", "h"), item("finish-measure", "4/4 q h _", "q")
    spreads = [spread_of([h, h]), spread_of([h, q]), spread_of([q, q])]
    cells = {(c.trait.kind, c.trait.name): c.counts for c in cells_of(spreads)}
    assert cells["answers", "1/2 of a whole note"] == (2, 1, 0)
    assert cells["values", "h"] == (2, 2, 2)
    assert [farthest(cells_of(spreads), form)["finish-measure", "answers"] for form in range(3)] == [2, 1, 2]
    # Far from the first form: two lengths of answers, and the quarter that is printed.
    assert unlike(spreads[2], spreads[:1], sizes([h, h])) == 3
    assert unlike(spreads[1], [spreads[0], spreads[2]], sizes([h, h])) == 0
    assert [room(items) for items in (1, 39, 40, 200)] == [1, 1, 2, 10]


@pytest.mark.parametrize(
    ("one", "other", "twins"),
    [
        ("3/4 q h", "3/4 h q", True),
        ("3/4 q h | h.", "3/4 h. | q h", True),
        ("3/4 q h | h.", "3/4 h q | h.", True),
        ("3/4 q q rq", "3/4 q rq q", False),
        ("3/4 q h", "3/4 rq h", False),
    ],
)
def test_mirror_images_are_twins(one: str, other: str, *, twins: bool) -> None:
    names = {twin_name("counts-for-rhythm", Question(parse_excerpt(text), ())) for text in (one, other)}
    assert (len(names) == 1) is twins


def test_a_chance_that_two_misreadings_share_sets_neither_apart() -> None:
    """Items are counted, and where the first leads to more than the other it is another response."""
    both = item("counts-for-rhythm", "3/4 h q", "1-2 3", **{"1 2 3": ("a", "b"), "1 3": ("c",)})
    more = item("counts-for-rhythm", "3/4 h q", "1-2 3", **{"1 2 3": ("a", "b"), "1 3": ("a",)})
    assert apart_chances([both], ("a", "b")) == Counter({("a", "a"): 1, ("b", "b"): 1})
    assert apart_chances([more], ("a", "b")) == Counter({("a", "a"): 1, ("a", "b"): 1, ("b", "b"): 1, ("b", "a"): 1})
    assert too_few_chances([both] * 4, ("a", "b")) == (("a", "b", 0), ("b", "a", 0))
    assert too_few_chances([both, both, more, more], ("a", "b")) == ()
    assert too_few_chances([both] * 3, ("a",)) == (("a", "a", 3),)


def test_two_misreadings_that_are_held_at_once_are_a_chance_of_neither() -> None:
    one = item("counts-for-rhythm", "3/4 h q", "1-2 3", **{"1 2 3": ("a+b",), "1 3": ("b",)})
    assert apart_chances([one], ("a", "b")) == Counter({("b", "a"): 1, ("b", "b"): 1})


def test_what_a_form_costs() -> None:
    trait = Trait("finish-measure", "values", "q")
    aim = Aim({trait: 2}, {trait: 4}, {trait: 3}, 100, {"finish-measure": 6}, {"1": 3})
    assert [aim.cost(trait, count) for count in range(7)] == [2 * FAR + 3, FAR + 2, 1, 0, 1, FAR + 2, 2 * FAR + 3]
    assert [aim.cost(Mark("twin", "x", "y"), count) for count in (1, 2)] == [0, TWINS]
    assert [aim.cost(Mark("key", "1", "h"), count) for count in (2, 3)] == [0, ONE_KEY]
    assert [aim.cost(Mark("apart", "a", "b"), count) for count in (0, 1, 2, 3)] == [2 * NO_CHANCE, NO_CHANCE, 0, 0]
    assert [aim.cost(Mark("apart", "a", "a"), count) for count in (3, 4)] == [NO_CHANCE, 0]
    assert [aim.off(sum_) for sum_ in (100, 101, 98)] == [0, 4, 8]


def test_no_prompt_is_asked_three_times_in_a_row() -> None:
    plans = [plan(BEGINNERS, "rhythm-for-time-signature")] * 8
    prompts = ["3/4"] * 5 + ["4/4"] * 3
    keys = tuple((Answer("measures", str(n)),) for n in range(8))
    for seed in range(20):
        places = mixed_places(plans, [], keys, Random(seed), prompts=prompts)
        assert sorted(places) == list(range(8))
        assert runs_of(places, prompts) == 0


def test_keys_take_each_position_of_each_part_about_equally_often() -> None:
    wrong = {"rq": ("a",), "rh": ("b",), "h.": ("c",)}
    items = [item("finish-measure", "4/4 h _", "h", **wrong)] * 11
    parts = ["1"] * 5 + ["2"] * 6
    for seed in range(20):
        used = Counter(zip(parts, key_places(items, shown_orders(items, Random(seed), parts=parts)), strict=True))
        for part in ("1", "2"):
            counts = [used[part, place] for place in range(4)]
            assert max(counts) - min(counts) <= 1


def test_quizzes_of_one_seed_ask_different_things_unless_they_are_the_same_quiz() -> None:
    text = blueprint_text(SECOND_YEAR, "finish-measure", items=4)
    one, _ = read_blueprint(text, "b.toml")
    other, _ = read_blueprint(text.replace('"Test"', '"Retest"'), "b.toml")
    given, _ = read_blueprint(text.replace("[elements]", "[quiz]\nshuffle = false\n[elements]"), "b.toml")
    asked = [{i.id for i in items_of(made_forms(each)[0])} for each in (one, other, given)]
    assert not asked[0] & asked[1]
    assert asked[0] == asked[2], "how a quiz is given leaves its items alone"
    assert drawing_seed(one) != drawing_seed(one.model_copy(update={"seed": 2}))


@pytest.mark.parametrize(
    ("name", "seed"),
    [
        ("unit-1-half-notes-and-rests", 304),
        ("unit-2-eighths-and-dotted-quarters", 412),
        ("unit-3-first-six-eight", 523),
    ],
)
def test_six_sections_are_parallel_in_every_cell(name: str, seed: int) -> None:
    read, _ = read_blueprint((SHARED / f"{name}.toml").read_text("utf-8"), name)
    blueprint = read.model_copy(update={"seed": seed, "sections": [f"Period {n}" for n in range(1, 7)]})
    made = forms_once(blueprint)
    forms = [first_variants(each.form) for each in made]
    items = sizes(forms[0])
    cells = [c for c in cells_of([spread_of(form) for form in forms]) if c.trait.of in ASKS]
    assert [c for c in cells if c.apart > room(items[c.trait.of])] == []
    assert fairness_faults(made, [], blueprint) == []
    for form in forms:
        assert max(Counter(twin_name(each.ask, question_of(each)) for each in form).values()) == 1
        few = too_few_chances(form, [wanted.misreading for wanted in made[0].wanted])
        # In one item less than there are it may show (`make` tells), and never too seldom to be told from another one.
        assert [each for each in few if each[0] != each[1] or each[2] < 3] == []


def test_a_part_of_one_answer_is_refused_and_the_message_says_what_helps() -> None:
    elements = '\nmeters = ["2/4"]\nnotes = ["quarter"]\nrests = ["quarter"]\nplain = false\n'
    blueprint, _ = read_blueprint(blueprint_text(elements, "beats-left", items=3), "b.toml")
    assert fairness_faults(made_forms(blueprint), [], blueprint) == [
        (0, "items = 3: all 'beats-left' items of 'All sections' have the answer '1': ask for fewer items or sections, "
            "teach more elements or meters, or allow longer excerpts with `measures`, or give --allow-repeats to have "
            "it all the same"),
    ]  # fmt: skip
