"""One row an ask: whatever goes by the ask is derived from its row, has one for it, or is refused here."""

from typing import get_args

import pytest

from barwright import judge
from barwright.asks import ASKS, FAMILIES
from barwright.asks.ask import Ask, ChoicePicture, Cue, Picture
from barwright.forms.cueing import CUES
from barwright.misreadings.belief import EXERCISES
from barwright.results.acting import ACTS
from barwright.templates_folder import languages
from barwright.wording.figures import CHOICE_FIGURES, QUESTION_FIGURES
from barwright.wording.language import language

each = pytest.mark.parametrize("ask", ASKS.values(), ids=list(ASKS))


@each
def test_every_ask_has_an_exercise_in_which_errors_show(ask: Ask) -> None:
    assert ask.exercise in EXERCISES


def test_answers_are_acted_out_in_every_exercise() -> None:
    assert set(ACTS) == EXERCISES


def test_the_judge_has_a_row_for_every_ask_and_no_other() -> None:
    assert set(judge.ASKS) == set(ASKS)


@each
def test_the_judge_expects_the_answers_that_the_ask_makes(ask: Ask) -> None:
    shape, _ = judge.ASKS[ask.id]
    assert shape.answer == ask.answer
    assert (shape.interaction == "choice") == (ask.interaction in ("figures", "texts", "gaps", "inline"))


@each
def test_choices_are_pictures_exactly_where_they_are_figures_to_pick_or_drag(ask: Ask) -> None:
    assert (ask.choice != "none") == (ask.interaction in ("figures", "several", "gaps"))


def test_every_picture_and_cue_that_a_row_can_name_is_known() -> None:
    assert set(QUESTION_FIGURES) == set(get_args(Picture))
    assert set(CHOICE_FIGURES) == set(get_args(ChoicePicture))
    assert set(CUES) == set(get_args(Cue))


@pytest.mark.parametrize("code", languages())
def test_every_ask_has_its_sentences_in_every_language(code: str) -> None:
    assert set(ASKS) <= set(language(code).ids("asks"))


def test_asks_stand_under_their_family_and_each_has_one_id() -> None:
    assert all(ask.family == family for family, asks in FAMILIES.items() for ask in asks)
    assert len(ASKS) == sum(map(len, FAMILIES.values()))
