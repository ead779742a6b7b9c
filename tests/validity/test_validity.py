"""The measure of giveaways: it finds what is planted, and nothing where nothing is; and three forms as they are made.

The whole measure takes minutes: `python tests/validity/measure.py`.
"""

from random import Random

import pytest
from guess_quizzes import blueprint_paths, grade_of
from measure import Guessed, Row, guessed, line

from barwright.asks import ASKS
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.seeing import PICKED, seen_form
from barwright.guesser import SeenItem, seen_choice, winnings
from barwright.guesser.winnings import NOTHING
from made_once import forms_once

ROW = Row("planted", ("time-signature-for-rhythm",), None, 5, 12)
NOTES = ("w", "h.", "h", "q.", "q", "e.", "e", "s", "q e", "h q", "e e", "q q", "h e", "h. e", "s s", "q. q")
QUIZZES, ITEMS = 10, 30


def planted(right: str) -> list[Guessed]:
    """Items of ten quizzes whose key is the shortest choice, or any."""
    rng = Random(right)
    found: list[Guessed] = []
    for quiz in range(QUIZZES):
        form = []
        for _ in range(ITEMS):
            choices = tuple(seen_choice("symbols", text) for text in rng.sample(NOTES, 4))
            lengths = [c.size for c in choices]
            key = lengths.index(min(lengths)) if right == "shortest" else rng.randrange(4)
            form.append(SeenItem("time-signature-for-rhythm", choices, frozenset({key})))
        found += guessed(f"quiz-{quiz}", [tuple(form)])
    return found


def test_a_planted_giveaway_is_found_by_name_and_by_the_learners() -> None:
    found = line(ROW, planted("shortest"))
    assert found.best == "shortest"
    assert found.chance == 25
    assert min(found.strategy, found.elsewhere) > 60
    assert found.learner > 60


def test_where_any_choice_may_be_right_nobody_wins_more_than_luck() -> None:
    """300 items: one standard error of a share of a quarter is 2.5 points; of two learners the luckier is told."""
    found = line(ROW, planted("any"))
    assert abs(found.elsewhere) < 3 * 2.5
    assert abs(found.learner) < 3 * 2.5


def test_a_set_of_choices_that_is_asked_is_never_learnt_from() -> None:
    """Always the same set with the same key: who could remember it would win everything."""
    choices = tuple(seen_choice("meter", text) for text in ("2/4", "3/4", "4/4"))
    form = (SeenItem("time-signature-for-rhythm", choices, frozenset({1})),) * ITEMS
    items = [each for quiz in range(QUIZZES) for each in guessed(f"quiz-{quiz}", [form])]
    assert line(ROW, items).learner == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("path", blueprint_paths(), ids=lambda path: path.stem)
def test_every_blueprint_is_a_whole_plan_of_a_grade(path) -> None:
    blueprint, _ = read_blueprint(path.read_text("utf-8"), path.name)
    assert 3 <= grade_of(path.stem) <= 9
    assert {part.ask for part in blueprint.part} == {ask.id for ask in ASKS.values() if ask.interaction in PICKED}


def test_the_blueprints_ask_for_three_thousand_items_at_least() -> None:
    blueprints = [read_blueprint(path.read_text("utf-8"), path.name)[0] for path in blueprint_paths()]
    assert len(blueprints) >= 15
    assert sum(len(b.sections) * part.items for b in blueprints for part in b.part) >= 3_000


@pytest.fixture(scope="module")
def forms() -> tuple[tuple[SeenItem, ...], ...]:
    """Three forms of a second year, as they are made."""
    path = next(path for path in blueprint_paths() if path.stem == "grade-5-eighths")
    blueprint, _ = read_blueprint(path.read_text("utf-8"), path.name)
    return tuple(seen_form(made.form) for made in forms_once(blueprint))


@pytest.mark.parametrize("ask", ["counts-for-rhythm", "rhythm-for-counts", "finish-measure-with-two"])
def test_forms_leave_little_to_habits(ask: str, forms: tuple[tuple[SeenItem, ...], ...]) -> None:
    """Of the thirty or so items of an ask in three forms no strategy that looks at the choices is far from chance."""
    found = sum((winnings(form).asks[ask] for form in forms), NOTHING)
    for strategy in ("shortest", "longest", "most like the others", "least like the others", "middle length"):
        assert abs(found.over(strategy)) <= 1 / 4, strategy
