"""Capacity of an ask that few excerpts allow: the work is bounded, and what was not looked at is not denied."""

from itertools import product
from pathlib import Path
from random import Random

import pytest

from barwright.asks.count_labeling import (
    MOST_EXCERPTS,
    MOST_TRIED,
    aligned_question,
    lists_all,
)
from barwright.asks.drawn_excerpts import listed_measures
from barwright.blueprint.blueprint import Plan
from barwright.blueprint.parsing import read_blueprint
from barwright.counting.other_conventions import arguable_rows
from barwright.forms.assembly import items_of, made_forms
from barwright.rhythm.excerpt import Excerpt
from barwright.tasks.capacity import (
    MOST_DRAWN,
    MOST_LISTED,
    PartCapacity,
    capacity,
    capacity_faults,
    capacity_table,
    part_capacity,
)
from items.demo import blueprint_text, plan
from whole import whole_or_part

ASK = "count-under-each"
# Two measures of these make up to 3 * 10**11 excerpts, of which in most meters not one of a hundred can be asked.
RICH = {
    "additive": (
        '\nmeters = ["5/8", "7/8", "6/8"]\nnotes = ["half", "quarter", "eighth"]\nrests = ["quarter", "eighth"]\n'
        'dots = ["quarter", "half"]\nrest_dots = ["quarter"]\n'
    ),
    "compound": (
        '\nmeters = ["6/8", "9/8", "12/8"]\nnotes = ["half", "quarter", "eighth", "sixteenth"]\n'
        'rests = ["quarter", "eighth"]\ndots = ["quarter", "half"]\nrest_dots = ["quarter"]\n'
    ),
}
METERS = 3
MEASURES = 2
SMALL = '\nmeters = ["5/8", "6/8"]\nnotes = ["quarter", "eighth"]\nrests = ["quarter"]\ndots = ["quarter"]\n'


def tables() -> int:
    """How often a rhythm was held against all counting conventions so far: the work that counts here."""
    return arguable_rows.cache_info().misses


def rich(name: str) -> Plan:
    return plan(RICH[name], ASK, measures=MEASURES)


# In the suite one of them: making is bounded for both there.
@pytest.mark.parametrize("name", list(RICH)[:: whole_or_part(1, 2)])
def test_capacity_holds_so_many_rhythms_against_all_conventions_at_most(name: str) -> None:
    before = tables()
    found = part_capacity(1, rich(name))
    # Measures of each meter once; then for each draw its measures and the excerpt, and that again for the judge.
    assert tables() - before <= METERS * MOST_TRIED + MOST_DRAWN * (MEASURES + 2)
    assert not found.exact
    assert 100 < found.items <= found.excerpts <= MOST_DRAWN


@pytest.mark.parametrize("name", RICH)
def test_making_holds_so_many_rhythms_against_all_conventions_at_most(name: str) -> None:
    text = blueprint_text(RICH[name], ASK, items=2, more='sections = ["A", "B"]')
    blueprint, _ = read_blueprint(text, "b.toml")
    before = tables()
    assert list(capacity_faults(blueprint, (0,))) == []
    assert [len(items_of(made)) for made in made_forms(blueprint)] == [2, 2]
    # Listing meter by meter and all together, and the draws of four items.
    assert tables() - before <= 2 * METERS * 2 * MOST_TRIED


@pytest.mark.parametrize("name", RICH)
def test_a_listing_that_is_not_complete_holds_true_questions_once_and_always_the_same(name: str) -> None:
    a_plan = rich(name)
    found = list(a_plan.ask.listed(a_plan.space))
    assert not a_plan.ask.lists_all(a_plan.space)
    assert 50 < len(set(found)) == len(found) <= METERS * MOST_TRIED
    assert found == list(a_plan.ask.listed(a_plan.space))
    assert all(aligned_question(question.excerpt, a_plan.space) == question for question in found)
    assert not any(all(symbol.silent for symbol in question.excerpt.symbols) for question in found)
    assert {str(question.excerpt.meter) for question in found} == {str(meter) for meter in a_plan.space.meters}


def test_most_draws_in_a_rich_space_give_a_question_that_can_be_asked() -> None:
    a_plan = rich("compound")
    rng = Random(1)
    found = [a_plan.ask.draw(a_plan.space, rng) for _ in range(300)]
    able = [question for question in found if question is not None]
    assert len(able) > 100
    assert all(aligned_question(question.excerpt, a_plan.space) == question for question in able)


def test_a_small_space_is_listed_completely() -> None:
    a_plan = plan(SMALL, ASK, measures=MEASURES)
    space = a_plan.space
    every = [
        Excerpt(meter, measures)
        for meter in space.meters
        for measures in product(listed_measures(space, meter), repeat=MEASURES)
    ]
    assert lists_all(space)
    assert len(every) <= MOST_EXCERPTS <= MOST_LISTED, "so much the table says"
    asked = [aligned_question(e, space) for e in every if not all(symbol.silent for symbol in e.symbols)]
    assert list(a_plan.ask.listed(space)) == [question for question in asked if question is not None]
    assert part_capacity(1, a_plan).exact


def test_the_table_says_what_was_not_tried_and_denies_nothing(tmp_path: Path) -> None:
    path = tmp_path / "b.toml"
    elements = RICH["additive"].replace('"5/8", "7/8", "6/8"', '"7/8"')
    path.write_text(blueprint_text(elements, ASK, ASK, items=100))
    told: dict[str, tuple[int, int]] = {}
    blueprint, parts = capacity(path, progress=lambda what, done, of: told.update({what: (done, of)}))
    *_, verdict, note = capacity_table(parts, len(blueprint.sections))
    assert verdict == (
        f"Parts 1 ({ASK}) and 2 ({ASK}) together may have too few excerpts even for one form: ask for fewer items."
    )
    assert note == (
        "+ at least so many: there are more questions than can be tried in a short time, and up to 1,000 of such a "
        "part were. Measures are exact."
    )
    assert told == {"parts": (2, 2), "part 1, questions": (MOST_DRAWN, MOST_DRAWN)}


@pytest.mark.parametrize(
    ("parts", "exact", "told"),
    [
        (1, True, "Part 1 (x) has too few"),
        (1, False, "Part 1 (x) may have too few"),
        (2, True, "Parts 1 (x) and 2 (x) together have too few"),
        (2, False, "Parts 1 (x) and 2 (x) together may have too few"),
    ],
)
def test_too_few_is_certain_only_where_all_was_looked_at(parts: int, exact: bool, told: str) -> None:
    able = frozenset({"3/4 h q"})
    found = tuple(PartCapacity(n, "x", 3 - parts, 1, 1, able, 1, exact) for n in range(1, parts + 1))
    (verdict,) = [line for line in capacity_table(found, 1) if line.startswith("Part")]
    assert verdict == f"{told} excerpts even for one form: ask for fewer items."


def test_listing_is_told_while_it_lasts() -> None:
    told: list[tuple[str, int, int]] = []
    found = part_capacity(1, plan(SMALL, ASK, measures=1), progress=lambda *each: told.append(each))
    looked_at = found.excerpts
    assert told == [
        *[("part 1, finding questions", n, MOST_LISTED) for n in range(1, looked_at + 1)],
        *[("part 1, questions", n, looked_at) for n in range(1, looked_at + 1)],
    ]
