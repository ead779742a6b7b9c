"""How well a quiz will tell, before anybody sits it: simulated students answer its very items.

For each misreading the same number of students hold it, alone and beside another one; as many hold nothing. Their
answers are weighed by the usual prior, since nothing of a class is known yet. Burton 1982 judged tests so; figures are
those of the simulation, and steady from one seed to the next within a few hundredths.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

from barwright.results.acting import right_answers
from barwright.results.answers import Administered
from barwright.results.chances import NONE, FormActs
from barwright.results.diagnosing import found_groups, weighed_by_prior
from barwright.results.evidence import Codes
from barwright.results.likelihood import Floats
from barwright.results.quizzes import ReadyForm, ready_quiz
from barwright.results.rates import USUAL, Rates
from barwright.results.simulating import Student, answers_of
from barwright.results.timing import seconds_of_ask
from barwright.results.together import compatible

EACH = 40
"""Students of each kind a misreading, over all forms of the quiz."""
CLASSES = 40
RIVALS = 3
SLIPS = 0.1


@dataclass(frozen=True, slots=True)
class Rehearsed:
    """One misreading in a quiz; of the form where it has the fewest chances, if the forms differ.

    `chances`: items with an answer of it on offer, and `most`, those of the form that has most; `typed`, those that are
    typed or put together; `rivals`: the three that are most like it, nearest first, with the chances that set it apart
    from each, and `apart` and `rival`, those of the nearest (all chances if there is none); `alike`: what no item of
    some form tells it from. `found`: the share of simulated students who hold it alone for whom it is found; `beside`:
    the same where another one is held as well; `false`: the share of those who do not hold it for whom it is found;
    `mistaken`: what else was found most often for those who hold it alone, and the share of them.
    """

    misreading: str
    chances: int
    most: int
    typed: int
    rivals: tuple[tuple[int, str], ...]
    alike: tuple[str, ...]
    found: float
    beside: float
    false: float
    mistaken: tuple[str, float]

    @property
    def apart(self) -> int:
        """The chances that set it apart from its nearest rival."""
        return self.rivals[0][0] if self.rivals else self.chances

    @property
    def rival(self) -> str:
        """Its nearest rival, if there is one."""
        return self.rivals[0][1] if self.rivals else ""


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """What a quiz will tell.

    `rows`: most chances first. `untold`: for each form (by its ident) what no item of it tells apart. `false`: false
    findings a student. `clean`: the share of those flagged who hold nothing. `guesser`: the share of items that a
    test-wise guesser has right, and `guesser_false` findings for each. `reliability`: expected KR-20 in a class of
    `class_size`, and the range of nine classes in ten; None for a single item. `seconds`: what a student needs.
    """

    rows: tuple[Rehearsed, ...]
    untold: tuple[tuple[str, tuple[tuple[str, ...], ...]], ...]
    students: int
    false: float
    clean: float
    guesser: float
    guesser_false: float
    class_size: int
    reliability: tuple[float, float, float] | None
    seconds: int


@dataclass(frozen=True, slots=True)
class _Case:
    held: tuple[str, ...]
    found: tuple[tuple[str, ...], ...]


def rehearsed(given: Sequence[Administered], *, class_size: int = 25, seed: int = 1, rates: Rates = USUAL) -> Rehearsal:
    """What a quiz will tell of a class of this size; the same for the same seed."""
    quiz, rng = ready_quiz(given, rates), Random(f"rehearse {seed}")
    forms = tuple(quiz.forms.values())
    cases = [case for form in forms for case in _sat(form, _holders(form.acts, len(forms), rng), rng)]
    testwise = [Student(unknown=1.0, testwise=True)] * EACH
    guessed = [(form.acts, answers_of(testwise, form.acts, rng)) for form in forms]
    flagged = [case for form, (_, codes) in zip(forms, guessed, strict=True) for case in _cases(form, testwise, codes)]
    names = [name for name in quiz.sets.names if any(form.acts.chances(name) for form in forms)]
    rows = [_row(name, [form.acts for form in forms], cases) for name in names]
    clean = [case for case in cases if not case.held]
    return Rehearsal(
        rows=tuple(sorted(rows, key=lambda row: (-row.chances, -row.apart, row.misreading))),
        untold=tuple((form.acts.ident, form.acts.untold) for form in forms),
        students=len(cases),
        false=sum(map(_false, cases)) / len(cases),
        clean=sum(bool(case.found) for case in clean) / len(clean),
        guesser=float(np.mean([_scores(codes, form).mean() for form, codes in guessed])),
        guesser_false=sum(map(_false, flagged)) / len(flagged),
        class_size=class_size,
        reliability=_reliability([form.acts for form in forms], class_size, rng, rates),
        seconds=seconds_of(given[0]),
    )


def seconds_of(form: Administered) -> int:
    """What a student needs for a form: a minute an item, an item about counts one and three quarters."""
    asks = {asked.number: asked.item.ask for asked in form.items}
    return sum(map(seconds_of_ask, asks.values()))


def _holders(form: FormActs, forms: int, rng: Random) -> list[Student]:
    """Students who hold each misreading alone, as many beside one that can be held with it, and as many none."""
    able = [name for name in form.names if form.chances(name)]
    count = -(-EACH // forms)
    held: list[tuple[str, ...]] = [(name,) for name in able for _ in range(count)]
    others = {name: [other for other in able if compatible(name, other)] for name in able}
    held += [(name, rng.choice(others[name])) for name in able if others[name] for _ in range(count)]
    held += [()] * (count * max(len(able), 1))
    return [Student(each, slips=SLIPS, unknown=SLIPS) for each in held]


def _sat(form: ReadyForm, students: Sequence[Student], rng: Random) -> Iterator[_Case]:
    return _cases(form, students, answers_of(students, form.acts, rng))


def _cases(form: ReadyForm, students: Sequence[Student], codes: Codes) -> Iterator[_Case]:
    likely = weighed_by_prior(form, codes)
    for row, student in enumerate(students):
        groups = found_groups(form.acts, codes[row].tolist(), likely, row)
        yield _Case(student.held, tuple(group for group, _, _ in groups))


def _false(case: _Case) -> int:
    return sum(set(case.held).isdisjoint(group) for group in case.found)


def _names(case: _Case) -> set[str]:
    return {name for group in case.found for name in group}


def _share(cases: Sequence[_Case], name: str) -> float:
    return sum(name in _names(case) for case in cases) / len(cases) if cases else 0.0


def _row(name: str, forms: Sequence[FormActs], cases: Sequence[_Case]) -> Rehearsed:
    least = min(forms, key=lambda form: (form.chances(name), form.nearest(name)[0]))
    alone = [case for case in cases if case.held == (name,)]
    two = [case for case in cases if len(case.held) == 2 and name in case.held]
    without = [case for case in cases if name not in case.held]
    false = [case for case in without if any(name in group for group in case.found if not set(group) & set(case.held))]
    mistaken = Counter(other for case in alone for other in _names(case) - {name})
    alike = {other for form in forms for group in form.untold if name in group for other in group} - {name}
    most = min(mistaken.items(), key=lambda pair: (-pair[1], pair[0]), default=("", 0))
    return Rehearsed(
        misreading=name,
        chances=least.chances(name),
        most=max(form.chances(name) for form in forms),
        typed=least.typed(name),
        rivals=least.rivals(name)[:RIVALS],
        alike=tuple(sorted(alike)),
        found=_share(alone, name),
        beside=_share(two, name),
        false=len(false) / len(without),
        mistaken=(most[0], most[1] / len(alone) if alone else 0.0),
    )


def _scores(codes: Codes, form: FormActs) -> Floats:
    """1 for each item that was answered rightly: a row a student, a column a place of the form."""
    places = sorted({item.asked.number for item in form.items})
    scores = np.zeros((len(codes), len(places)))
    for n, item in enumerate(form.items):
        right = [item.outcomes.place(answer) for answer in right_answers(item.asked.item)]
        given = codes[:, n] != NONE
        scores[given, places.index(item.asked.number)] = np.isin(codes[given, n], right)
    return scores


def kr20(scores: Floats) -> float | None:
    """Kuder & Richardson's formula 20, of 0 and 1 by student (rows) and item, both variances over N.

    None where it is undefined: a single item, or all students alike (k / (k - 1) * (1 - sum pq / variance of totals).

    >>> kr20(np.array([[1, 1], [0, 0], [1, 1.0]]))
    1.0
    """
    count, variance = scores.shape[1], float(scores.sum(axis=1).var())
    if count < 2 or variance == 0:
        return None
    return float(count / (count - 1) * (1 - float(scores.var(axis=0).sum()) / variance))


def _reliability(forms: Sequence[FormActs], size: int, rng: Random, rates: Rates) -> tuple[float, float, float] | None:
    """Expected KR-20, and what it is between in nine classes of ten; classes of students as weak as is assumed."""
    values = []
    for n in range(CLASSES):
        form = forms[n % len(forms)]
        able = [name for name in form.names if form.chances(name)]
        students = []
        for _ in range(size):
            held = tuple(rng.sample(able, min(rng.randrange(3), len(able))))
            held = held if len(held) < 2 or compatible(*held) else held[:1]
            (weakness,) = rng.choices(rates.weaknesses, rates.weak)
            students.append(Student(held, slips=SLIPS, unknown=weakness))
        value = kr20(_scores(answers_of(students, form, rng), form))
        values += [] if value is None else [value]
    if not values:
        return None
    low, high = np.quantile(values, (0.05, 0.95))
    return float(np.mean(values)), float(low), float(high)
