"""Answers of many schools, added up by kind of question: counts alone, and none of a group in which one could be known.

Students are counted, never joined: who answers in two schools, or two who share a name, are counted once in each. A
group of fewer than LEAST_STUDENTS is not shown (common practice in published school figures), nor is what would tell it
as the difference of what is shown.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from barwright.results.answers import Administered, Response
from barwright.results.scoring import Omit, score_rows
from barwright.results.statistics import interval_of_share
from barwright.results.survey import item_model

LEAST_STUDENTS = 10


@dataclass(frozen=True, slots=True)
class Count:
    """What one section answered to one kind of question: how many students, their answers, how many were right."""

    school: str
    section: str
    model: str
    students: int
    answers: int
    right: int


@dataclass(frozen=True, slots=True)
class DistrictGroup:
    """A section, a school or all schools; `shown` is off where nothing but its name may be told.

    `share` that was right. `low` and `high`: its 95 % interval (Wilson) as if the answers of one student were one,
    since they are not independent: rather too wide than too narrow.
    """

    name: str
    students: int
    answers: int
    right: int
    shown: bool

    @property
    def share(self) -> float:
        """The share that was right; only of a group that is shown."""
        return self.right / self.answers

    @property
    def range(self) -> tuple[float, float]:
        """The interval of the share."""
        return interval_of_share(self.share, self.students)


@dataclass(frozen=True, slots=True)
class SchoolGroup:
    """A school as a whole, and its sections."""

    whole: DistrictGroup
    sections: tuple[DistrictGroup, ...]


@dataclass(frozen=True, slots=True)
class ModelPool:
    """One kind of question over all schools; `every` counts the schools that are shown."""

    model: str
    every: DistrictGroup
    schools: tuple[SchoolGroup, ...]


def counts_of(
    school: str, given: Iterable[Administered], responses: Sequence[Response], *, omit: Omit
) -> tuple[Count, ...]:
    """The counts of one school, by section and kind of question; retakes are of the same students, and not counted."""
    students: dict[tuple[str, str], set[str]] = {}
    answers: dict[tuple[str, str], list[int]] = {}
    for form in given:
        if form.retake:
            continue
        for student, scores in score_rows(form, responses, omit=omit):
            for asked, score in zip(form.items, scores, strict=True):
                if score is not None:
                    key = form.section, item_model(asked.item)
                    students.setdefault(key, set()).add(student)
                    answers.setdefault(key, []).append(score)
    return tuple(
        Count(school, section, model, len(students[section, model]), len(scores), sum(scores))
        for (section, model), scores in answers.items()
    )


def pooled(counts: Sequence[Count]) -> tuple[ModelPool, ...]:
    """Every kind of question, the asks as they first come, their meters, schools and sections by name."""
    of: dict[str, list[Count]] = {}
    for count in counts:
        of.setdefault(count.model, []).append(count)
    asks = list(dict.fromkeys(model.split()[0] for model in of))
    return tuple(_pool(model, of[model]) for model in sorted(of, key=lambda each: (asks.index(each.split()[0]), each)))


def _pool(model: str, counts: Sequence[Count]) -> ModelPool:
    of: dict[str, list[Count]] = {}
    for count in counts:
        of.setdefault(count.school, []).append(count)
    schools = [
        SchoolGroup(_group(name, own), _with_hidden([_group(count.section, [count]) for count in own]))
        for name, own in sorted(of.items())
    ]
    known = {school.whole.name for school in schools if school.whole.shown}
    return ModelPool(model, _group("", [count for count in counts if count.school in known]), tuple(schools))


def _group(name: str, counts: Sequence[Count]) -> DistrictGroup:
    students, answers, right = (sum(getattr(c, what) for c in counts) for what in ("students", "answers", "right"))
    return DistrictGroup(name, students, answers, right, shown=students >= LEAST_STUDENTS)


def _with_hidden(sections: Sequence[DistrictGroup]) -> tuple[DistrictGroup, ...]:
    """The sections of a school, by name, of which so many are hidden that none can be told from the school's total.

    A single hidden one would be the total less the others, and so would some that are few together: then the smallest
    that is shown is hidden as well.
    """
    hidden = {group.name for group in sections if not group.shown}
    for group in sorted(sections, key=lambda each: (each.students, each.name)):
        few = sum(each.students for each in sections if each.name in hidden) < LEAST_STUDENTS
        if hidden and (len(hidden) == 1 or few):
            hidden.add(group.name)
    told = (DistrictGroup(g.name, g.students, g.answers, g.right, g.name not in hidden) for g in sections)
    return tuple(sorted(told, key=lambda each: each.name))
