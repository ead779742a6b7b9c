"""What is said of students and sections: each warning of the trial runs is a test here."""

from dataclasses import replace
from itertools import combinations
from random import Random

import numpy as np
import pytest

from barwright.errors import BarwrightError
from barwright.results.answers import Administered, Response
from barwright.results.chances import acted_forms
from barwright.results.diagnosing import diagnosed, word_of
from barwright.results.evidence import Evidence, first_sight, gathered
from barwright.results.prevalence import (
    learned,
    left_out,
    prior_of,
    set_shares,
    weighed,
)
from barwright.results.quizzes import ready_quiz
from barwright.results.rates import USUAL, Rates
from barwright.results.sensitivity import sensitivity
from barwright.results.simulating import Student, answers_of
from results.trial import Condition, false_findings, held_singly, share, trial, unit_forms
from results.written import form_of, item, texts_of
from whole import whole_or_part

SWAPPED, FOUR = "numbers-of-the-signature-swapped", "every-measure-has-four-beats"


@pytest.fixture(scope="module")
def unit_1() -> tuple[Administered, ...]:
    return unit_forms("unit-1-half-notes-and-rests")


@pytest.fixture(scope="module")
def unit_3() -> tuple[Administered, ...]:
    return unit_forms("unit-3-first-six-eight")


def sat(given: tuple[Administered, ...], held: dict[str, tuple[str, ...]]) -> list[Response]:
    """Every section with 20 students who hold nothing, and in the first also those named, who do not slip."""
    responses, rng = [], Random(7)
    for number, form in enumerate(acted_forms(given)):
        responses += texts_of([Student(slips=0.1)] * 20, form, rng, f"{number}-")
        for name, misreadings in held.items() if number == 0 else ():
            responses += texts_of([Student(misreadings, slips=0.0, unknown=0.0)], form, rng, name)
    return responses


def test_what_no_item_tells_apart_is_one_finding(unit_1: tuple[Administered, ...]) -> None:
    found = diagnosed(unit_1, sat(unit_1, {"four": (FOUR,), "swapped": (SWAPPED,)}))
    assert (SWAPPED, FOUR) in found.untold[unit_1[0].ident]
    chances = acted_forms(unit_1)[0].chances(FOUR)
    assert chances >= 2
    for student in ("four00", "swapped00"):
        (mine,) = [s for s in found.students if s.student == student]
        assert [(f.misreadings, f.word, f.chances) for f in mine.findings] == [((SWAPPED, FOUR), "shows", chances)]
        assert len(mine.findings[0].seen) == chances
        assert max(mine.probabilities[SWAPPED], mine.probabilities[FOUR]) < 0.8


def test_two_misreadings_that_never_hide_each_other_are_found_side_by_side(unit_1: tuple[Administered, ...]) -> None:
    form = acted_forms(unit_1)[0]
    often = [name for name in form.names if form.chances(name) >= 4 and form.nearest(name)[0] >= 2]
    showing = {name: {n for n, each in enumerate(form.items) if name in each.acts} for name in often}
    apart = [two for two in combinations(often, 2) if showing[two[0]].isdisjoint(showing[two[1]])]
    both = max(apart, key=lambda two: min(form.nearest(name)[0] for name in two))
    found = diagnosed(unit_1, sat(unit_1, {"both": both}))
    (mine,) = [s for s in found.students if s.student == "both00"]
    assert {f.misreadings for f in mine.findings if f.word == "shows"} == {(name,) for name in both}


def test_a_choice_can_stand_for_two_misreadings_that_are_held_together() -> None:
    """In 2/4 with an eighth rest: who passes over rests and always counts to four fills up with three beats."""
    both = ("every-measure-has-four-beats", "rests-take-no-time")
    excerpts = ("2/4 q re _", "2/4 re q _", "2/4 e e re _", "2/4 re e e _")
    choices = {"e": "", "q": "rests-take-no-time", "h.": "every-measure-has-four-beats"}
    made = form_of(item("finish-measure", text, "symbols", **choices) for text in excerpts)

    def found(alternatives: tuple[tuple[str, ...], ...]) -> float:
        """Probability of the less likely of the two for who picked the dotted half note each time."""
        change = {"h.": alternatives, "e": (), "q": (("rests-take-no-time",),)}
        asked = tuple(
            replace(each, offered=tuple(replace(o, alternatives=change[o.answer.text]) for o in each.offered))
            for each in made.items
        )
        mixed = [Response("both", "P1", "f1", each.id, ("h.",)) for each in asked]
        mixed += [Response(f"s{n}", "P1", "f1", each.id, ("e",)) for n in range(10) for each in asked]
        students = diagnosed([replace(made, items=asked)], mixed).students
        (mine,) = [student for student in students if student.student == "both"]
        return min(mine.probabilities.get(name, 0.0) for name in both)

    assert found((both,)) >= 3 * found((("every-measure-has-four-beats",),))


def test_the_order_of_files_and_ticks_changes_nothing(unit_1: tuple[Administered, ...]) -> None:
    responses = sat(unit_1, {"four": (FOUR,)})
    mixed = Random(1).sample([replace(r, answer=r.answer[::-1]) for r in responses], len(responses))
    assert diagnosed(unit_1, mixed) == diagnosed(unit_1, responses)


def whole(logs: np.ndarray) -> Evidence:
    """Evidence on all sets, none left out."""
    students, sets, levels = logs.shape
    places = np.tile(np.arange(sets), students)
    return gathered(np.repeat(np.arange(students), sets), places, np.exp(logs).reshape(-1, levels))


def test_own_answers_do_not_feed_the_own_prior(unit_1: tuple[Administered, ...]) -> None:
    quiz = ready_quiz(unit_1, USUAL)
    form = next(iter(quiz.forms.values()))
    students = [Student(unknown=0.1)] * 15 + [Student(("rests-take-no-time",), slips=0.0, unknown=0.0)]
    logs = form.logs(answers_of(students, form.acts, Random(3)), form.tables())
    seen, section = whole(logs), np.zeros(len(students), dtype=np.intp)
    held, level = left_out(seen, section, np.arange(len(students)), quiz.sets, USUAL)
    mine = held[seen.student == len(students) - 1]
    others = np.arange(len(students)) % 8 != (len(students) - 1) % 8
    prior = learned(whole(logs[others]), section[others], 1, quiz.sets, USUAL)
    expected, _ = weighed(whole(logs[-1:]), set_shares(prior, quiz.sets)[0], prior.level)
    assert mine == pytest.approx(expected)
    own = learned(seen, section, 1, quiz.sets, USUAL)
    echo, _ = weighed(whole(logs[-1:]), set_shares(own, quiz.sets)[0], own.level)
    column = quiz.sets.member[:, quiz.sets.names.index("rests-take-no-time")]
    assert float(echo @ column) > float(mine @ column)
    assert level.sum(axis=1) == pytest.approx(1)


def test_two_sittings_of_a_student_are_left_out_together(unit_1: tuple[Administered, ...]) -> None:
    quiz = ready_quiz(unit_1, USUAL)
    form = next(iter(quiz.forms.values()))
    logs = form.logs(answers_of([Student()] * 6, form.acts, Random(3)), form.tables())
    section, who = np.zeros(6, dtype=np.intp), np.array([0, 0, 1, 1, 2, 2])
    seen = whole(logs)
    held, _ = left_out(seen, section, who, quiz.sets, USUAL)
    prior = learned(whole(logs[2:]), section[2:], 1, quiz.sets, USUAL)
    expected, _ = weighed(whole(logs[:2]), np.tile(set_shares(prior, quiz.sets)[0], 2), prior.level)
    assert held[seen.student < 2] == pytest.approx(expected)


def test_sets_that_are_out_of_the_question_are_left_out_and_no_others(unit_3: tuple[Administered, ...]) -> None:
    """Against every set of two weighed: hardly any probability is lost, and nine tenths of the work are."""
    quiz = ready_quiz(unit_3, USUAL)
    form, prior = next(iter(quiz.forms.values())), prior_of(quiz.sets, 1, USUAL)
    held = [name for name in form.acts.names if form.acts.chances(name) >= 2]
    students = [Student((name,)) for name in held] * 3 + [Student()] * 20
    logs = form.logs(answers_of(students, form.acts, Random(3)), form.tables())
    kept, every = first_sight(logs, set_shares(prior, quiz.sets)[0], prior.level).evidence, whole(logs)
    few, level = weighed(kept, set_shares(prior, quiz.sets)[0][kept.held], prior.level)
    all_, whole_level = weighed(every, set_shares(prior, quiz.sets)[0][every.held], prior.level)
    assert kept.sums(few[:, None] * quiz.sets.member[kept.held]) == pytest.approx(
        every.sums(all_[:, None] * quiz.sets.member[every.held]), abs=1e-3
    )
    assert level == pytest.approx(whole_level, abs=1e-3)
    assert len(kept.held) <= 0.5 * len(every.held)


def test_a_steady_error_that_is_not_in_the_list_is_none_of_these(unit_3: tuple[Administered, ...]) -> None:
    cases = trial(unit_3, Condition(hide=True), 2)
    assert share([case.unlisted >= 0.5 for case in cases]) >= 0.9
    assert sum(map(false_findings, cases)) / len(cases) <= 0.15
    holders = trial(unit_3, Condition(held=(0, 1, 2)), 2)
    assert share([case.unlisted >= 0.5 for case in holders]) <= 0.05


CLASSES = whole_or_part(10, 4)


def test_the_higher_slip_rate_costs_nothing_and_the_lower_does(unit_3: tuple[Administered, ...]) -> None:
    """The students slip in one answer of ten, or of four: assumed is more than the first, as usual, or hardly any."""
    low = replace(USUAL, slips=(0.02, 0.02))

    def found(slips: float, rates: Rates) -> float:
        cases = trial(unit_3, Condition(slips=slips, unknown=0.1), CLASSES, rates=rates)
        return share(held_singly(cases, chances=2, told=1))

    assert found(0.1, USUAL) >= found(0.1, low) - 0.01
    assert found(0.25, USUAL) > found(0.25, low)


def test_a_student_is_named_only_from_two_chances_on(unit_1: tuple[Administered, ...]) -> None:
    form = acted_forms(unit_1)[0]
    seldom = next(name for name in form.names if form.chances(name) == 1)
    found = diagnosed(unit_1, sat(unit_1, {"once": (seldom,)}))
    assert not any(seldom in f.misreadings for s in found.students for f in s.findings if s.form == form.ident)
    assert all(f.chances >= 2 for s in found.students for f in s.findings)
    (period_1,) = [s for s in found.sections if s.section == "Period 1"]
    assert any(seldom in shared.misreadings for shared in period_1.shared)


def test_a_section_shares_about_as_many_as_hold_it(unit_1: tuple[Administered, ...]) -> None:
    form, rng = acted_forms(unit_1)[0], Random(5)
    students = [Student(("rests-take-no-time",), slips=0.0)] * 8 + [Student()] * 17
    found = diagnosed(unit_1, texts_of(students, form, rng))
    (section,) = found.sections
    first = section.shared[0]
    assert (section.section, section.students, first.misreadings) == ("Period 1", 25, ("rests-take-no-time",))
    assert abs(first.students - 8) <= 1
    assert first.low <= 8 <= first.high


def test_nothing_answered_tells_nothing(unit_1: tuple[Administered, ...]) -> None:
    form = unit_1[0]
    blank = [Response("a", "Period 1", form.ident, asked.id, ()) for asked in form.items]
    (student,) = diagnosed(unit_1, blank).students
    assert (student.answered, student.findings) == (0, ())
    assert diagnosed(unit_1, []).students == ()


def test_other_assumptions_change_few_findings(unit_1: tuple[Administered, ...]) -> None:
    rng, responses = Random(11), []
    for form in acted_forms(unit_1):
        names = [name for name in form.names if form.chances(name) >= 2]
        responses += texts_of([Student((name,)) for name in names[:20]], form, rng, form.ident)
    lines = sensitivity(unit_1, responses)
    assert [line.assumed for line in lines] == [
        "half the prevalence", "twice the prevalence", "half the slips", "half more slips",
    ]  # fmt: skip
    assert lines[0].of >= 30
    assert all(line.lost + line.new <= 0.15 * line.of for line in lines)


REST = item("finish-measure", "4/4 q rq q _", "symbols", q="", h="rests-take-no-time", e="eighth-gets-a-full-beat")


@pytest.mark.parametrize(
    ("responses", "message"),
    [
        (
            [Response("ann", "P1", "f9", REST.id, ("q",))],
            f"student 'ann' answered item '{REST.id}' of form 'f9', which the quiz does not have: take the results of "
            "another quiz out",
        ),
        (
            [Response("ann", "P1", "f1", REST.id, ("q",)), Response("ann", "P1", "f1", REST.id, ("h",))],
            f"student 'ann' answered item '{REST.id}' twice: keep one of the answers",
        ),
        (
            [Response("ann", "P1", "f1", REST.id, ("s",))],
            f"item '{REST.id}' has no choice 's': the results are of another version of it",
        ),
    ],
)
def test_answers_to_something_else_are_refused(responses: list[Response], message: str) -> None:
    with pytest.raises(BarwrightError) as refused:
        diagnosed([form_of([REST])], responses)
    assert str(refused.value) == message


def test_words_follow_probabilities() -> None:
    assert [word_of(p) for p in (1.0, 0.8, 0.7999, 0.5, 0.4999)] == ["shows", "shows", "may show", "may show", None]
