"""Classes of simulated students whose misreadings are known, and how well the answers tell them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from random import Random

import numpy as np

from barwright.blueprint.parsing import read_blueprint
from barwright.results.answers import Administered, administered
from barwright.results.chances import FormActs
from barwright.results.diagnosing import Sat, found_groups, weighed_sets
from barwright.results.quizzes import ReadyQuiz, ready_quiz
from barwright.results.rates import USUAL, Rates
from barwright.results.simulating import Student, answers_of
from barwright.results.together import compatible
from made_once import forms_once

BLUEPRINTS = Path(__file__).parents[2] / "shared" / "blueprints"
UNITS = (
    "unit-1-half-notes-and-rests",
    "unit-2-eighths-and-dotted-quarters",
    "unit-3-first-six-eight",
    "unit-4-drag-and-order",
)
CLASS = 25
TOLD = 2
BINS = 10


@dataclass(frozen=True)
class Condition:
    """What the simulated students are like; `held` are the numbers of misreadings held, each as often as the others."""

    slips: float = 0.1
    unknown: float | None = None
    held: tuple[int, ...] = (0, 1, 2)
    steadiness: float = 1.0
    testwise: bool = False
    hide: bool = False
    together: float = 0.5


@dataclass(frozen=True)
class Case:
    """One simulated student: what was held, what was found, and the probabilities of the groups that can be named."""

    form: FormActs
    held: frozenset[str]
    found: tuple[tuple[tuple[str, ...], float], ...]
    stated: tuple[tuple[tuple[str, ...], float], ...]
    counts: tuple[tuple[tuple[str, ...], int], ...]
    unlisted: float


@cache
def unit_forms(name: str) -> tuple[Administered, ...]:
    """The forms of a demo unit as they would be given."""
    path = BLUEPRINTS / f"{name}.toml"
    blueprint, _ = read_blueprint(path.read_text("utf-8"), path.name)
    return administered([made.form for made in forms_once(blueprint)])


def section_students(form: FormActs, condition: Condition, rng: Random) -> list[Student]:
    """A class in which some misreadings are common and most are rare, in each section others (exponential weights)."""
    able = [name for name in form.names if form.chances(name)]
    weights = [rng.expovariate(1) for _ in able]
    students = []
    for _ in range(CLASS):
        size, held = rng.choice(condition.held), list[str]()
        while len(held) < size:
            (name,) = rng.choices(able, weights)
            held += [name] if all(compatible(name, other) for other in held) else []
        unknown = condition.slips if condition.unknown is None else condition.unknown
        students.append(
            Student(tuple(held), condition.slips, unknown, condition.steadiness, condition.together, condition.testwise)
        )
    return students


def trial(
    given: Sequence[Administered], condition: Condition, quizzes: int, *, seed: int = 1, rates: Rates = USUAL
) -> list[Case]:
    """So many quizzes sat by a new class on each form, each diagnosed by itself."""
    quiz, rng = ready_quiz(given, rates), Random(seed)
    return [case for _ in range(quizzes) for case in _sitting(quiz, condition, rng)]


def _sitting(quiz: ReadyQuiz, condition: Condition, rng: Random) -> list[Case]:
    forms = list(quiz.forms.values())
    students = [section_students(form.acts, condition, rng) for form in forms]
    if condition.hide:
        students = [[_hidden(s, form.acts, rng) for s in each] for each, form in zip(students, forms, strict=True)]
    sat = [
        Sat(form, answers_of(each, form.acts, rng), np.full(CLASS, n), np.arange(n * CLASS, (n + 1) * CLASS))
        for n, (form, each) in enumerate(zip(forms, students, strict=True))
    ]
    cases = []
    for each, mine, likely in zip(sat, students, weighed_sets(sat, quiz), strict=True):
        form, unlisted = each.form.acts, likely.unlisted.tolist()
        for n, student in enumerate(mine):
            codes = each.codes[n].tolist()
            found = tuple((group, chance) for group, chance, _ in found_groups(form, codes, likely, n))
            counts = tuple((group, len(form.seen(codes, group))) for group in form.named)
            grouped = zip(likely.groups, likely.grouped[n].tolist(), strict=True)
            stated = tuple((group, chance) for group, chance in grouped if group in form.named)
            cases.append(Case(form, frozenset(student.held), found, stated, counts, unlisted[n]))
    return cases


def _hidden(student: Student, form: FormActs, rng: Random) -> Student:
    """The student with a steady error that is not in the list: on each item that it bears on one wrong answer."""
    wrong = {}
    for item in form.items:
        right = {p for p in item.outcomes.places if p == tuple(sorted(k.answer.text for k in item.asked.item.keys))}
        others = [answer for answer in item.outcomes.places if answer not in right]
        if rng.random() < 0.5 and others:
            wrong[item.asked.id] = rng.choice(others)
    return replace(student, held=(), hidden=wrong)


def share(cases: Sequence[bool]) -> float:
    """The share that is true; nan of none."""
    return sum(cases) / len(cases) if cases else float("nan")


def is_found(case: Case, name: str, least: float = 0.5) -> bool:
    """Whether a finding names this misreading, alone or with what cannot be told from it."""
    return any(name in group and chance >= least for group, chance in case.found)


def false_findings(case: Case) -> int:
    """Findings none of whose misreadings is held."""
    return sum(not case.held & set(group) for group, _ in case.found)


def apart(form: FormActs, name: str) -> int:
    """Chances that set a misreading apart from its nearest rival."""
    rivals = [other for other in form.names if other != name and form.chances(other)]
    return min(form.apart(name, other) for other in rivals)


def held_singly(cases: Sequence[Case], *, chances: int, told: int) -> list[bool]:
    """For every student who holds one misreading of so many chances, so many of them apart: whether it is found."""
    able = {}
    for form in {id(case.form): case.form for case in cases}.values():
        names = [name for name in form.names if form.chances(name)]
        able[id(form)] = {n for n in names if form.chances(n) >= chances and apart(form, n) >= told}
    return [is_found(c, n) for c in cases if len(c.held) == 1 for n in c.held if n in able[id(c.form)]]


def separable(form: FormActs, name: str, other: str) -> int:
    """Chances of a misreading in which the other one does not lead to the same answers."""
    return form.apart(name, other)


def unhidden(form: FormActs, name: str, other: str) -> int:
    """Chances of a misreading in which the other one does not show at all, and so cannot hide it."""
    pairs = zip(form.items, form.leads[name], strict=True)
    return sum(bool(led) and other not in item.acts for item, led in pairs)


def both_found(cases: Sequence[Case], count: Callable[[FormActs, str, str], int], *, least: int) -> list[bool]:
    """For every student who holds two misreadings, each with so many such chances: whether both are found.

    Each has two chances at least that set it apart from every other one.
    """
    pairs = [(case, *sorted(case.held)) for case in cases if len(case.held) == 2]
    able = [
        case
        for case, one, other in pairs
        if min(count(case.form, one, other), count(case.form, other, one)) >= least
        and min(apart(case.form, one), apart(case.form, other)) >= TOLD
    ]
    return [all(is_found(case, name) for name in case.held) for case in able]


def precision(cases: Sequence[Case], least: float = 0.5) -> float:
    """The share of findings of this probability and more that are true."""
    return share([bool(case.held & set(group)) for case in cases for group, chance in case.found if chance >= least])


def calibration_error(cases: Sequence[Case], least: float = 0.1) -> float:
    """Mean distance between stated probability and share that is held, in tenths, over what is stated at `least`."""
    pairs = [(p, bool(c.held & set(group))) for c in cases for group, p in c.stated if p >= least]
    stated, true = np.array([p for p, _ in pairs]), np.array([t for _, t in pairs])
    tenth = np.minimum((stated * BINS).astype(int), BINS - 1)
    sums = [abs(float((stated - true)[tenth == each].sum())) for each in range(BINS)]
    return sum(sums) / len(pairs)


def counted(case: Case, least: int) -> list[tuple[str, ...]]:
    """What a plain count says: the groups whose answers were given in so many items."""
    return [group for group, count in case.counts if count >= least]


def against_the_count(cases: Sequence[Case], least: int) -> tuple[float, float, float]:
    """(false findings a student, found by the count, found by the probabilities at equal false findings)."""
    allowed = sum(not c.held & set(group) for c in cases for group in counted(c, least))
    stated = sorted(
        ((p, bool(c.held & set(group)), len(c.held & set(group))) for c in cases for group, p in c.stated), reverse=True
    )
    total, wrong, found = sum(len(c.held) for c in cases), 0, 0
    for _, true, held in stated:
        wrong += not true
        if wrong > allowed:
            break
        found += held
    by_count = sum(len(c.held & set(group)) for c in cases for group in counted(c, least))
    return allowed / len(cases), by_count / total, found / total
