"""Answers become findings: for each student what is likely held, for each section how many hold it.

Every probability is that of the model (likelihood.py) by a prior learned from other students (prevalence.py). A student
is named only for what had two chances or more; what no item of the form tells apart, or no answer of the student, is
one finding: "A or B". Where nothing is found, nothing is known to be held: that is not the same.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

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
from barwright.results.chances import NONE, FormActs, ItemActs
from barwright.results.evidence import (
    KEPT,
    Codes,
    Evidence,
    FirstSight,
    first_sight,
    gathered,
    one_after_another,
)
from barwright.results.likelihood import (
    Floats,
    Hypotheses,
    Numbers,
    joined,
    levels,
    triples,
)
from barwright.results.prevalence import (
    left_out,
    prior_of,
    set_shares,
    weighed,
)
from barwright.results.quizzes import Piece, ReadyForm, ReadyQuiz, ready_quiz
from barwright.results.rates import UNLISTED, USUAL, Rates

SHOWS, MAY_SHOW = 0.8, 0.5
NEGLIGIBLE = 0.001
LIKELY_ENOUGH = 0.1
"""What is less likely is not put into "A or B"."""
SLICE = 100
"""So many students are looked at at a time, to keep memory small."""
NINETY = 1.645
"""Half of the 90 % interval of a normal distribution, in standard deviations."""


@dataclass(frozen=True, slots=True)
class Sat:
    """Students who sat one form: their codes, and the numbers of their sections and of themselves, from 0."""

    form: ReadyForm
    codes: Codes
    section: Numbers
    who: Numbers


@dataclass(frozen=True, slots=True)
class Weighed:
    """What is likely of the students of one form (rows): every set, every level of weakness, every group of `groups`.

    `held` is the probability of each row of `seen`; `unlisted` that many answers are wrong, but by none of the
    misreadings.
    """

    sets: Hypotheses
    seen: Evidence
    held: Floats
    level: Floats
    groups: tuple[tuple[str, ...], ...]
    grouped: Floats
    unlisted: Floats

    def each(self) -> Floats:
        """The probability of each misreading, a column each."""
        return self.seen.shares(self.held, self.sets.member)

    def of_any(self, row: int, group: Sequence[str]) -> float:
        """The probability that a student (by the row) holds one of a group at least."""
        mine = slice(*np.searchsorted(self.seen.student, [row, row + 1]))
        return float(self.held[mine] @ self.sets.any_of([group])[self.seen.held[mine], 0])


def weaknesses(rates: Rates) -> Floats:
    """The weakness of each level."""
    return np.array([weakness for weakness, _ in levels(rates)])


def weighed_sets(sat: Sequence[Sat], quiz: ReadyQuiz) -> list[Weighed]:
    """What is likely of the students of each form, by a prior learned over all forms."""
    section = np.concatenate([each.section for each in sat])
    who = np.concatenate([each.who for each in sat])
    sets, seen = _evidence(sat, quiz)
    post, level = left_out(seen, section, who, sets, quiz.rates)
    form = np.repeat(np.arange(len(sat)), [len(each.codes) for each in sat])
    posteriors = []
    for n, each in enumerate(sat):
        mine = form == n
        posteriors.append(_weighed(each.form, sets, seen.of(mine), (post[mine[seen.student]], level[mine])))
    return posteriors


def _evidence(sat: Sequence[Sat], quiz: ReadyQuiz) -> tuple[Hypotheses, Evidence]:
    """The sets that are weighed, and what all answers say of them, those of one form after those of another."""
    slices = [[each.codes[n : n + SLICE] for n in range(0, len(each.codes), SLICE)] for each in sat]
    sights = [_sights(each.form, parts) for each, parts in zip(sat, slices, strict=True)]
    every = [sight for each in sights for sight in each]
    likeliest, several = zip(*((sight.likeliest(quiz.sets), sight.several(quiz.sets)) for sight in every), strict=True)
    more, student, held = triples(quiz.sets, np.concatenate(likeliest), np.concatenate(several))
    evidence, first = [], 0
    for each, parts, own in zip(sat, slices, sights, strict=True):
        pieces = each.form.pieces(more) if len(student) else []
        for codes, sight in zip(parts, own, strict=True):
            mine = slice(*np.searchsorted(student, [first, first + len(codes)]))
            evidence.append(_with_triples(each.form, codes, sight, (student[mine] - first, held[mine], more, pieces)))
            first += len(codes)
    return joined(quiz.sets, more), one_after_another(evidence)


def _with_triples(
    form: ReadyForm, codes: Codes, sight: FirstSight, triple: tuple[Numbers, Numbers, Hypotheses, Sequence[Piece]]
) -> Evidence:
    """The evidence on some students of a form, with those of their sets of three that are worth weighing."""
    student, held, sets, pieces = triple
    if not len(student):
        return sight.evidence
    prior, whole = prior_of(sets, 1, form.rates), sight.evidence
    likely = np.exp(form.logs_of(codes[student], held, pieces) - sight.largest[student, None])
    joint = (likely @ prior.level.astype(np.float32)) * set_shares(prior, sets)[0][held]
    kept = joint >= KEPT * sight.whole[student]
    return gathered(
        np.concatenate([whole.student, student[kept]]),
        np.concatenate([whole.held, held[kept] + len(form.sets.size)]),
        np.concatenate([whole.likely, likely[kept]]),
    )


def _sights(form: ReadyForm, slices: Sequence[Codes]) -> list[FirstSight]:
    """The first sight of students, by the usual prior, a slice of them at a time."""
    prior, tables = prior_of(form.sets, 1, form.rates), form.tables()
    shares = set_shares(prior, form.sets)[0]
    return [first_sight(form.logs(codes, tables), shares, prior.level) for codes in slices]


def _weighed(form: ReadyForm, sets: Hypotheses, seen: Evidence, told: tuple[Floats, Floats]) -> Weighed:
    held, level = told
    unlisted = level[:, weaknesses(form.rates) >= UNLISTED].sum(axis=1)
    groups = form.acts.groups
    grouped = seen.shares(held, sets.any_of(groups))
    return Weighed(sets, seen, held, level, groups, grouped, np.asarray(unlisted))


def weighed_by_prior(form: ReadyForm, codes: Codes) -> Weighed:
    """What is likely of students of whose class nothing is known: the usual prior, sets of two at most."""
    prior = prior_of(form.sets, 1, form.rates)
    slices = [codes[n : n + SLICE] for n in range(0, len(codes), SLICE)]
    seen = one_after_another([sight.evidence for sight in _sights(form, slices)])
    told = weighed(seen, set_shares(prior, form.sets)[0][seen.held], prior.level)
    return _weighed(form, form.sets, seen, told)


def diagnosed(given: Sequence[Administered], responses: Sequence[Response], rates: Rates = USUAL) -> Findings:
    """What the answers tell of every student and section, students sorted.

    BarwrightError for a response to a form or item that was not given, and for two to one item.
    """
    fewer = {each.form for each in responses if each.fewer}
    versions = {form.with_fewer.ident: form for form in given if form.ident in fewer and form.left}
    quiz = ready_quiz((*given, *(form.with_fewer for form in versions.values())), rates)
    rows = _rows(quiz, responses, {form.ident: ident for ident, form in versions.items()})
    untold = {form.ident: quiz.forms[form.ident].acts.untold for form in given}
    if not rows:
        return Findings((), (), untold)
    names = sorted({section for _, section, _ in rows})
    people = {pair: n for n, pair in enumerate(sorted({(section, student) for student, section, _ in rows}))}
    sat, who = [], []
    for ident, form in quiz.forms.items():
        mine = sorted(key for key in rows if key[2] == ident)
        if mine:
            numbers = np.array([names.index(section) for _, section, _ in mine])
            own = np.array([people[section, student] for student, section, _ in mine])
            sat.append(Sat(form, np.array([rows[key] for key in mine]), numbers, own))
            who.append(mine)
    posteriors = weighed_sets(sat, quiz)
    students = [
        _student((*key[:2], versions[key[2]].ident if key[2] in versions else key[2]), each, n, likely, shown)
        for each, mine, likely in zip(sat, who, posteriors, strict=True)
        for n, (key, shown) in enumerate(zip(mine, likely.each().tolist(), strict=True))
    ]
    shared = tuple(_section(number, name, sat, posteriors) for number, name in enumerate(names))
    return Findings(tuple(sorted(students, key=lambda s: (s.section, s.student, s.form))), shared, untold)


def _rows(
    quiz: ReadyQuiz, responses: Sequence[Response], fewer: Mapping[str, str]
) -> Mapping[tuple[str, str, str], list[int]]:
    """(student, section, form) -> the code of each item; `fewer`: of each form its version with fewer choices."""
    places = {f: {item.asked.id: n for n, item in enumerate(form.acts.items)} for f, form in quiz.forms.items()}
    rows: dict[tuple[str, str, str], list[int]] = {}
    seen: set[tuple[str, str, str, str]] = set()
    for each in responses:
        if each.form not in places or each.item not in places[each.form]:
            raise BarwrightError(
                f"student {each.student!r} answered item {each.item!r} of form {each.form!r}, which the quiz does not "
                "have: take the results of another quiz out"
            )
        sat = fewer.get(each.form, each.form) if each.fewer else each.form
        key = (each.student, each.section, sat)
        if (*key, each.item) in seen:
            raise BarwrightError(f"student {each.student!r} answered item {each.item!r} twice: keep one of the answers")
        seen.add((*key, each.item))
        row = rows.setdefault(key, [NONE] * len(places[sat]))
        place = places[sat][each.item]
        row[place] = code_of(each.answer, quiz.forms[sat].acts.items[place])
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


Likeliest = tuple[tuple[str, ...], float, tuple[int, ...]]
"""A group of misreadings, the probability that one of it is held, and the places of the items answered so."""


def found_groups(form: FormActs, codes: Sequence[int], posterior: Weighed, row: int) -> list[Likeliest]:
    """What a student (by the row) likely holds, likeliest first.

    Who is wrong often, but by none of the misreadings, answers as one of them does by chance more than once: there a
    name is given only to what is shown.
    """
    floor = SHOWS if posterior.unlisted[row] >= SHOWS else MAY_SHOW
    every = dict(zip(posterior.groups, posterior.grouped[row].tolist(), strict=True))
    likely = {group: every[group] for group in form.named}
    named = [(group, chance, form.seen(codes, group)) for group, chance in likely.items() if chance >= floor]
    left = [group for group, chance in likely.items() if LIKELY_ENOUGH <= chance < floor]
    either = []
    for one, other in combinations(left, 2):
        seen = form.seen(codes, one)
        if seen and seen == form.seen(codes, other):
            chance = posterior.of_any(row, (*one, *other))
            either.append(((*one, *other), chance, seen))
    for group, chance, seen in sorted(either, key=lambda each: -each[1]):
        if chance >= floor and not any(set(group) & set(had) for had, _, _ in named):
            named.append((group, chance, seen))
    return sorted(named, key=lambda each: (-each[1], each[0]))


def _student(
    key: tuple[str, str, str], sat: Sat, row: int, posterior: Weighed, each: Sequence[float]
) -> StudentFindings:
    """What a student shows; `each` is the probability of each misreading."""
    student, section, ident = key
    form, codes, rates = sat.form.acts, sat.codes[row].tolist(), sat.form.rates
    findings = []
    for group, chance, seen in found_groups(form, codes, posterior, row):
        word = word_of(chance)
        assert word is not None
        items = tuple(form.items[n].asked.id for n in seen)
        findings.append(Finding(group, chance, word, max(map(form.chances, group)), items))
    held = zip(posterior.sets.names, each, strict=True)
    shown = {name: chance for name, chance in held if chance > NEGLIGIBLE and form.shows(name)}
    unlisted = float(posterior.unlisted[row])
    weakness = float(posterior.level[row] @ weaknesses(rates))
    count = sum(code != NONE for code in codes)
    return StudentFindings(student, section, ident, count, tuple(findings), shown, unlisted, weakness)


def _section(number: int, name: str, sat: Sequence[Sat], posteriors: Sequence[Weighed]) -> SectionFindings:
    """What the students of a section share, on all forms that they sat; each student counts once a form."""
    chances: dict[tuple[str, ...], list[float]] = {}
    most: dict[tuple[str, ...], int] = {}
    count = 0
    for each, mine_found in zip(sat, posteriors, strict=True):
        mine = each.section == number
        count += int(mine.sum())
        groups = each.form.acts.groups if mine.any() else ()
        for group, column in zip(groups, mine_found.grouped[mine].T, strict=True) if groups else ():
            chances.setdefault(group, []).extend(column.tolist())
            most[group] = max(most.get(group, 0), *map(each.form.acts.chances, group))
    shared = [_shared(group, column, most[group]) for group, column in chances.items()]
    return SectionFindings(name, count, tuple(sorted(shared, key=lambda s: (-s.students, s.misreadings))))


def _shared(group: tuple[str, ...], column: list[float], chances: int) -> Shared:
    """Expected number, and the interval of a sum of so many chances that are independent (normal approximation)."""
    mean = sum(column)
    half = NINETY * float(np.sqrt(sum(p * (1 - p) for p in column)))
    return Shared(group, mean, max(mean - half, 0.0), min(mean + half, float(len(column))), chances)
