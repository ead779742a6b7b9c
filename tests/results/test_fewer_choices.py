"""Answers to a version with fewer choices are weighed by the choices that it had: a small likelihood worked by hand."""

from dataclasses import replace

import numpy as np
import pytest

from barwright.errors import BarwrightError
from barwright.results.answers import Administered, Response
from barwright.results.chances import acted_forms
from barwright.results.diagnosing import diagnosed
from barwright.results.likelihood import hypotheses_of, item_table, ways_of
from barwright.results.rates import USUAL
from results.written import form_of, item

RESTS, FOUR = "rests-take-no-time", "every-measure-has-four-beats"
EXCERPTS = ("2/4 q re _", "2/4 re q _", "2/4 e e re _", "2/4 re e e _")
CHOICES = {"e": "", "q": RESTS, "h.": FOUR}
RATES = replace(USUAL, slips=(0.2, 0.2), weaknesses=(0.3,), weak=(1.0,), thwarted=0.5, testwise=0.0)


def quiz() -> Administered:
    """Four measures that lack an eighth note; the version with fewer choices lacks what four beats would need."""
    made = form_of(item("finish-measure", text, "symbols", **CHOICES) for text in EXCERPTS)
    return replace(made, left={each.id: frozenset(("e", "q")) for each in made.items})


def chance(form: Administered, picked: str, held: tuple[str, ...]) -> float:
    """How likely a pick in the first item is to a student who holds these."""
    (acts,) = acted_forms([form])
    sets = hypotheses_of((RESTS, FOUR))
    row = [sets.names.index(name) for name in held]
    wanted = np.zeros(len(sets.names))
    wanted[row] = 1
    (column,) = np.flatnonzero((sets.member == wanted).all(axis=1))
    table = item_table(ways_of(acts.items[0], RATES), sets, RATES)
    return float(table[acts.items[0].outcomes.place((picked,)), column, 0])


@pytest.mark.parametrize(
    ("picked", "held", "whole", "fewer"),
    [
        # Weak in 3 of 10 answers: then one of three choices, or of two.
        ("q", (), 0.3 / 3, 0.3 / 2),
        ("e", (), 0.7 + 0.3 / 3, 0.7 + 0.3 / 2),
        # Who always counts to four takes h.; two of ten times not, then half as a weak student, half as one guessing.
        ("q", (FOUR,), 0.2 * (0.1 + 1 / 3) / 2, 0.8 * 0.25 + 0.2 * (0.15 + 1 / 2) / 2),
        # Without h. on offer half guess (one of two), and half look again.
        ("e", (FOUR,), 0.2 * (0.8 + 1 / 3) / 2, 0.8 * 0.75 + 0.2 * (0.85 + 1 / 2) / 2),
        # Who passes over rests takes q in both.
        ("q", (RESTS,), 0.8 + 0.2 * (0.1 + 1 / 3) / 2, 0.8 + 0.2 * (0.15 + 1 / 2) / 2),
    ],
)
def test_each_answer_is_as_likely_as_the_choices_on_offer_make_it(
    picked: str, held: tuple[str, ...], whole: float, fewer: float
) -> None:
    assert chance(quiz(), picked, held) == pytest.approx(whole)
    assert chance(quiz().with_fewer, picked, held) == pytest.approx(fewer)


def test_a_student_with_fewer_choices_is_weighed_by_these_and_named_in_the_form() -> None:
    """By Bayes: picking a wrong choice that is not that of FOUR speaks against FOUR only where its choice was there."""
    form = quiz()
    form = replace(form, left={each.id: form.left[each.id] for each in form.items[:3]})
    picks = ("e", "q", "e")
    rows = [Response("all", "P1", "f1", each.id, (pick,)) for each, pick in zip(form.items, picks, strict=False)]
    both = [*rows, *(replace(each, student="few", fewer=True) for each in rows)]
    found = {student.student: student for student in diagnosed([form], both, RATES).students}
    assert {(s.section, s.form, s.answered) for s in found.values()} == {("P1", "f1", 3)}
    assert found["few"].probabilities[FOUR] > 10 * found["all"].probabilities.get(FOUR, 0.001)
    assert {item_id for s in found.values() for f in s.findings for item_id in f.seen} <= {i.id for i in form.items}


def test_what_the_version_does_not_have_cannot_be_answered_in_it() -> None:
    form = quiz()
    with pytest.raises(BarwrightError) as raised:
        diagnosed([form], [Response("few", "P1", "f1", form.items[0].id, ("h.",), fewer=True)])
    assert str(raised.value).endswith("has no choice 'h.': the results are of another version of it")


def test_a_form_whose_record_tells_of_no_version_is_weighed_whole() -> None:
    form = replace(quiz(), left={})
    rows = [Response("a", "P1", "f1", each.id, ("q",)) for each in form.items]
    fewer = [replace(each, fewer=True) for each in rows]
    assert diagnosed([form], fewer, RATES) == diagnosed([form], rows, RATES)
