"""Answers become findings: for each student what is likely held, for each section how many hold it.

Every probability is that of the model (likelihood.py) by a prior learned from other students (prevalence.py). A student
is named only for what had two chances or more; what no item of the form tells apart, or no answer of the student, is
one finding: "A or B". Where nothing is found, nothing is known to be held: that is not the same.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from barwright.errors import BarwrightError
from barwright.results.acting import answered
from barwright.results.answers import (
    Administered,
    Finding,
    Findings,
    Response,
    SectionFindings,
    Shared,
    StudentFindings,
    Word,
)
from barwright.results.likelihood import Floats, ItemActs
from barwright.results.prevalence import left_out
from barwright.results.quizzes import (
    NONE,
    Codes,
    ReadyForm,
    ReadyQuiz,
    ready_quiz,
)
from barwright.results.rates import UNLISTED, USUAL, Rates

SHOWS, MAY_SHOW = 0.8, 0.5
NEGLIGIBLE = 0.001
LIKELY_ENOUGH = 0.1
"""What is less likely is not put into "A or B"."""
NINETY = 1.645
"""Half of the 90 % interval of a normal distribution, in standard deviations."""


@dataclass(frozen=True, slots=True)
class Sat:
    """Students who sat one form: their codes, the numbers of their sections."""

    form: ReadyForm
    codes: Codes
    sections: NDArray[np.intp]


def weighed_sets(sat: Sequence[Sat], quiz: ReadyQuiz, sections: int) -> list[tuple[Floats, Floats]]:
    """For each form the probability of every set and level (columns) for its students (rows), learned over all."""
    likely = np.concatenate([each.form.likely(each.codes) for each in sat])
    numbers = np.concatenate([each.sections for each in sat])
    post, levels = left_out(likely, numbers, sections, quiz.sets, quiz.rates)
    ends = np.cumsum([len(each.codes) for each in sat])[:-1]
    return list(zip(np.split(post, ends), np.split(levels, ends), strict=True))


def diagnosed(given: Sequence[Administered], responses: Sequence[Response], rates: Rates = USUAL) -> Findings:
    """What the answers tell of every student and section, students sorted.

    BarwrightError for a response to a form or item that was not given, and for two to one item.
    """
    quiz = ready_quiz(given, rates)
    rows = _rows(quiz, responses)
    names = sorted({section for _, section, _ in rows})
    sat, who = [], []
    for ident, form in quiz.forms.items():
        mine = sorted(key for key in rows if key[2] == ident)
        if mine:
            numbers = np.array([names.index(section) for _, section, _ in mine])
            sat.append(Sat(form, np.array([rows[key] for key in mine]), numbers))
            who.append(mine)
    if not sat:
        return Findings((), (), {ident: form.untold for ident, form in quiz.forms.items()})
    posts = weighed_sets(sat, quiz, len(names))
    students = [
        _student(key, each.form, each.codes[n], post[n], levels[n])
        for each, mine, (post, levels) in zip(sat, who, posts, strict=True)
        for n, key in enumerate(mine)
    ]
    shared = tuple(_section(number, name, sat, posts) for number, name in enumerate(names))
    ordered = tuple(sorted(students, key=lambda s: (s.section, s.student, s.form)))
    return Findings(ordered, shared, {ident: form.untold for ident, form in quiz.forms.items()})


def _rows(quiz: ReadyQuiz, responses: Sequence[Response]) -> Mapping[tuple[str, str, str], list[int]]:
    """(student, section, form) -> the code of each item."""
    places = {f: {item.asked.id: n for n, item in enumerate(form.items)} for f, form in quiz.forms.items()}
    rows: dict[tuple[str, str, str], list[int]] = {}
    seen: set[tuple[str, str, str, str]] = set()
    for each in responses:
        if each.form not in places or each.item not in places[each.form]:
            raise BarwrightError(
                f"student {each.student!r} answered item {each.item!r} of form {each.form!r}, which the quiz does not "
                "have: take the results of another quiz out"
            )
        key = (each.student, each.section, each.form)
        if (*key, each.item) in seen:
            raise BarwrightError(f"student {each.student!r} answered item {each.item!r} twice: keep one of the answers")
        seen.add((*key, each.item))
        row = rows.setdefault(key, [NONE] * len(places[each.form]))
        place = places[each.form][each.item]
        row[place] = code_of(each.answer, quiz.forms[each.form].items[place])
    return rows


def code_of(texts: Sequence[str], item: ItemActs) -> int:
    """The place of an answer among the outcomes of its item; NONE if nothing was answered.

    BarwrightError for an answer that was not on offer.
    """
    answer = answered((text for text in texts if text.strip()), item.asked.item)
    if not answer:
        return NONE
    if answer not in item.outcomes.places and not item.outcomes.other:
        raise BarwrightError(
            f"item {item.asked.id!r} has no choice {' + '.join(answer)!r}: the results are of another version of it"
        )
    return item.outcomes.place(answer)


def word_of(probability: float) -> Word | None:
    """The word for a probability; None where nothing is said.

    >>> word_of(0.8), word_of(0.5), word_of(0.49)
    ('shows', 'may show', None)
    """
    return "shows" if probability >= SHOWS else "may show" if probability >= MAY_SHOW else None


def found_groups(
    form: ReadyForm, codes: NDArray[np.intp], post: Floats
) -> Iterator[tuple[tuple[str, ...], float, tuple[int, ...]]]:
    """What a student likely holds: the group, its probability, and the items answered so; likeliest first."""
    named, members = form.named
    likely = dict(zip(named, (post @ members).tolist(), strict=True))
    found = [(group, chance, form.seen(codes, group)) for group, chance in likely.items() if chance >= MAY_SHOW]
    open_ = [group for group, chance in likely.items() if LIKELY_ENOUGH <= chance < MAY_SHOW]
    either = []
    for one, other in combinations(open_, 2):
        seen = form.seen(codes, one)
        if seen and seen == form.seen(codes, other):
            either.append(((*one, *other), float((post @ form.any_of([(*one, *other)]))[0]), seen))
    for group, chance, seen in sorted(either, key=lambda each: -each[1]):
        if chance >= MAY_SHOW and not any(set(group) & set(had) for had, _, _ in found):
            found.append((group, chance, seen))
    yield from sorted(found, key=lambda each: (-each[1], each[0]))


def _student(
    key: tuple[str, str, str], form: ReadyForm, codes: NDArray[np.intp], post: Floats, levels: Floats
) -> StudentFindings:
    student, section, ident = key
    findings = []
    for group, chance, seen in found_groups(form, codes, post):
        word = word_of(chance)
        assert word is not None
        items = tuple(form.items[n].asked.id for n in seen)
        findings.append(Finding(group, chance, word, max(map(form.chances, group)), items))
    held = zip(form.sets.names, post @ form.sets.member, strict=True)
    shown = {name: float(chance) for name, chance in held if chance > NEGLIGIBLE and form.chances(name)}
    weak = np.repeat(np.array(form.rates.weaknesses), len(form.rates.slips))
    unlisted, weakness = float(levels[weak >= UNLISTED].sum()), float(levels @ weak)
    answered_count = int((codes != NONE).sum())
    return StudentFindings(student, section, ident, answered_count, tuple(findings), shown, unlisted, weakness)


def _section(number: int, name: str, sat: Sequence[Sat], posts: Sequence[tuple[Floats, Floats]]) -> SectionFindings:
    """What the students of a section share, on all forms that they sat; each student counts once a form."""
    chances: dict[tuple[str, ...], list[float]] = {}
    most: dict[tuple[str, ...], int] = {}
    count = 0
    for each, (post, _) in zip(sat, posts, strict=True):
        mine = each.sections == number
        if not mine.any():
            continue
        count += int(mine.sum())
        groups = each.form.groups
        for group, column in zip(groups, (post[mine] @ each.form.any_of(groups)).T, strict=True):
            chances.setdefault(group, []).extend(column.tolist())
            most[group] = max(most.get(group, 0), *map(each.form.chances, group))
    shared = [_shared(group, column, most[group]) for group, column in chances.items()]
    return SectionFindings(name, count, tuple(sorted(shared, key=lambda s: (-s.students, s.misreadings))))


def _shared(group: tuple[str, ...], column: list[float], chances: int) -> Shared:
    """Expected number, and the interval of a sum of so many chances that are independent (normal approximation)."""
    mean = sum(column)
    half = NINETY * float(np.sqrt(sum(p * (1 - p) for p in column)))
    return Shared(group, mean, max(mean - half, 0.0), min(mean + half, float(len(column))), chances)
