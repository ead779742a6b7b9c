"""The quizzes of a strict teacher: 40 items each, accepted by the judge, with the misreadings that were asked for.

`tests/trials/solving.py` prints them without the key, to be solved on paper before anything is changed that chooses.
"""

from pathlib import Path

import pytest

from barwright.asks.derivation import way_leads_to
from barwright.blueprint.blueprint import plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.judge import judged
from made_once import forms_once

TRIALS = sorted((Path(__file__).parents[1] / "trials").glob("*.toml"))
ITEMS = 40


def test_there_is_a_trial_for_beginners_for_ties_and_for_compound_meters() -> None:
    assert [path.stem for path in TRIALS] == [
        "grade-4-beginners",
        "grade-6-ties-and-syncopation",
        "grade-8-compound-and-cut-time",
    ]


@pytest.mark.parametrize("path", TRIALS, ids=lambda p: p.stem)
def test_a_trial_holds(path: Path) -> None:
    blueprint, _ = read_blueprint(path.read_text(encoding="utf-8"), str(path))
    (made,) = forms_once(blueprint)
    items = [placed.item for placed in made.form.items]
    taught = plan_of(blueprint.part[0], blueprint).space.taught
    assert len(items) == ITEMS
    assert [judged(item, taught) for item in items] == [()] * ITEMS
    for item in items:
        for choice in item.wrong:
            assert all(way_leads_to(way, item, choice.answer) for way in choice.misreadings)
    assert all(each.shown for each in made.wanted)


def test_misreadings_that_the_printed_rules_settle_can_be_had() -> None:
    """Cut time counted in four, in all four items that ask for it; nine and six big beats, on every top number."""
    blueprint, _ = read_blueprint(TRIALS[2].read_text(encoding="utf-8"), "trial.toml")
    (made,) = forms_once(blueprint)
    shown = {each.misreading: (each.asked, each.shown) for each in made.wanted}
    assert shown["cut-time-counted-in-four"] == (4, 4)
    tops = sum(placed.item.target == "top" for placed in made.form.items)
    assert shown["every-eighth-is-a-big-beat"] == (4, tops)
