"""Six sections of the first demo blueprint: parallel, apart, and fair."""

from collections import Counter
from itertools import combinations
from pathlib import Path
from random import Random

import pytest

from barwright.blueprint.blueprint import Blueprint, plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import MadeForm, made_forms, spread
from barwright.forms.orders import key_places, longest_run, mixed_places
from barwright.forms.parallel import WHOLE, cells_of, first_variants, spread_of
from barwright.items.difficulty import WEIGHTS, difficulty, features
from barwright.items.item import Answer
from barwright.rhythm.text import format_excerpt, parse_excerpt
from made_once import forms_once
from whole import whole_or_part

UNIT_1 = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-1-half-notes-and-rests.toml"
SECTIONS = [f"Period {n}" for n in range(1, 7)]


def blueprint(sections: list[str], seed: int = 304) -> Blueprint:
    read, _ = read_blueprint(UNIT_1.read_text("utf-8"), UNIT_1.name)
    return read.model_copy(update={"sections": sections, "seed": seed})


@pytest.fixture(scope="module")
def six() -> tuple[MadeForm, ...]:
    return forms_once(blueprint(SECTIONS))


def places(made: MadeForm) -> list[int | None]:
    return key_places([p.item for p in made.form.items], [p.order for p in made.form.items])


def test_no_excerpt_stands_in_two_forms(six: tuple[MadeForm, ...]) -> None:
    excerpts = [{format_excerpt(p.item.excerpt) for p in made.form.items} for made in six]
    assert sum(map(len, excerpts)) == len(set.union(*excerpts))
    assert all(made.shared == () for made in six)


def test_difficulty_lies_within_five_percent(six: tuple[MadeForm, ...]) -> None:
    print(
        f"\nspread of mean difficulty: {float(spread(six)):.1%}, means {[round(float(m.difficulty), 2) for m in six]}"
    )
    assert spread(six) < 0.05


def test_keys_stand_equally_often_in_each_position_of_each_part_and_never_three_alike_in_a_row(
    six: tuple[MadeForm, ...],
) -> None:
    """But for signatures, which stand in logical order."""
    for made in six:
        for ask in ("finish-measure", "counts-for-rhythm", "does-it-fit"):
            of_ask = [n for n, placed in enumerate(made.form.items) if placed.item.ask == ask]
            used = Counter(places(made)[n] for n in of_ask)
            counts = [used[place] for place in range(min(len(made.form.items[n].item.choices) for n in of_ask))]
            assert max(counts) - min(counts) <= 1
        assert longest_run(places(made)) <= 2
    assert len({tuple(places(made)) for made in six}) > 1, "the same letters in every period would be passed on"


def test_each_misreading_is_on_offer_about_as_often(six: tuple[MadeForm, ...]) -> None:
    ids = {m for made in six for m in made.tally.offered}
    counts = {m: [made.tally.offered[m] for made in six] for m in sorted(ids)}
    print("\n" + "\n".join(f"{m}: {c}" for m, c in counts.items()))
    apart = [max(c) - min(c) for c in counts.values()]
    assert max(apart) <= 3, "in all asks together; the forms are held to one apart ask by ask"
    cells = cells_of([spread_of(first_variants(made.form)) for made in six])
    assert all(cell.apart <= 1 for cell in cells if cell.trait.of != WHOLE)


def test_no_row_of_counts_is_a_key_twice_in_a_form(six: tuple[MadeForm, ...]) -> None:
    for made in six:
        rows = [c.answer.text for p in made.form.items for c in p.item.keys if c.answer.kind == "row"]
        assert len(rows) == len(set(rows))


def test_forms_hold_the_same_asks_and_points_in_the_same_order(six: tuple[MadeForm, ...]) -> None:
    assert len({tuple((p.item.ask, p.points) for p in made.form.items) for made in six}) == 1


def test_the_answer_to_a_question_of_one_form_is_seldom_that_of_the_others(six: tuple[MadeForm, ...]) -> None:
    """Keys are spread alike over the forms, so some meet by chance; at the same number for all would be passed on."""
    keys = [[tuple(c.answer for c in p.item.keys) for p in made.form.items] for made in six]
    alike = [sum(a == b for a, b in zip(one, other, strict=True)) for one, other in combinations(keys, 2)]
    print(f"\nof {len(keys[0])} questions so many have the same answer at the same number, any two forms: {alike}")
    assert sum(alike) <= len(keys[0]) * len(alike) // 4
    assert max(alike) <= len(keys[0]) // 3
    assert not any(len({form[place] for form in keys}) == 1 for place in range(len(keys[0])))


def test_orders_stay_apart_where_all_forms_have_the_same_answers() -> None:
    """Five answers in five places of five forms: by chance two forms would agree in one place of five."""
    answers = tuple((Answer("symbols", text),) for text in ("h", "q", "rq", "h.", "w"))
    read = blueprint(["Period 1"])
    plans = [plan_of(read.part[0], read)] * len(answers)
    found = [answers]
    for form in range(4):
        places = mixed_places(plans, found, answers, Random(form))
        assert sorted(places) == list(range(len(answers)))
        found.append(tuple(answers[place] for place in places))
    assert max(sum(a == b for a, b in zip(*pair, strict=True)) for pair in combinations(found, 2)) <= 1


def test_a_section_added_later_leaves_the_others_as_they_are(six: tuple[MadeForm, ...]) -> None:
    fewer = made_forms(blueprint(SECTIONS[:3]))
    assert [m.form for m in fewer] == [m.form for m in six[:3]]


@pytest.mark.parametrize("seed", range(3, whole_or_part(9, 4)))
def test_other_seeds_are_as_fair(seed: int) -> None:
    """Whatever was drawn first: a first form of easy excerpts only would be matched by no sixth one."""
    made = made_forms(blueprint(SECTIONS, seed))
    assert spread(made) < 0.05
    assert all(m.shared == () for m in made)


FEW = """
title = "More sections than there are excerpts for"
sections = ["A", "B", "C", "D", "E", "F"]
[elements]
meters = ["2/4", "3/4"]
notes = ["half", "quarter"]
rests = ["quarter"]
[[part]]
family = "meter-identification"
ask = "does-it-fit"
items = 2
"""


def test_more_sections_than_excerpts_say_what_is_shared_and_bent() -> None:
    few, _ = read_blueprint(FEW, "few.toml")
    made = made_forms(few)
    assert sum(len(m.shared) for m in made) > 0
    assert any("does-it-fit: other misreadings than" in bent for m in made for bent in m.bent)


def test_difficulty_is_a_weighted_count_of_what_is_printed() -> None:
    excerpt = parse_excerpt("6/8 q. e~ e e")
    assert features(excerpt) == {"sounds": 3, "rests": 0, "offbeats": 1, "dots": 1, "ties": 1, "unequal_meter": 1}
    assert difficulty(excerpt, WEIGHTS) == 3 * 2 + 3 + 3 + 3 + 4
