"""What to teach again: the misreadings that most students of a section hold, shown where most of them fell for it."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from barwright.results.acting import answered, compared
from barwright.results.answers import (
    Administered,
    Asked,
    Findings,
    Response,
    SectionFindings,
    Shared,
    StudentFindings,
)

MOST_LESSONS = 3
LEAST_STUDENTS = 1.0
"""Who is expected to hold it in the section, at least."""
LARGEST_GROUP = 5


@dataclass(frozen=True, slots=True)
class Seen:
    """An item on which a misreading showed: the answer it leads to, and how many students of the section gave it."""

    form: Administered
    asked: Asked
    answer: str
    students: int


@dataclass(frozen=True, slots=True)
class Lesson:
    """One thing to teach again in a section: how many hold it, where it shows best, and who might sit together for it.

    `groups`: codes of students who show it, or may show it, in tables of five at most.
    """

    shared: Shared
    seen: Seen | None
    groups: tuple[tuple[str, ...], ...]


def lessons(
    findings: Findings, section: SectionFindings, given: Sequence[Administered], responses: Sequence[Response]
) -> tuple[Lesson, ...]:
    """Up to three things to teach again, of most students first; each is expected of one student or more."""
    wanted = [each for each in section.shared if each.students >= LEAST_STUDENTS][:MOST_LESSONS]
    mine = [response for response in responses if response.section == section.section]
    to_teach: list[Lesson] = []
    for each in wanted:
        had = {(lesson.seen.asked.id, lesson.seen.answer) for lesson in to_teach if lesson.seen is not None}
        seen = best_seen(each.misreadings, given, mine, had=had) or best_seen(each.misreadings, given, mine)
        to_teach.append(Lesson(each, seen, _groups(findings, section.section, each.misreadings)))
    return tuple(to_teach)


def best_seen(
    misreadings: Sequence[str],
    given: Sequence[Administered],
    responses: Sequence[Response],
    *,
    had: Collection[tuple[str, str]] = (),
) -> Seen | None:
    """The item on which most of these answers are what the misreadings lead to; None if nobody answered so.

    An answer that stands for other misreadings as well is shared out among them. Of several items the first of the quiz
    is taken, and none whose id and answer are among `had`: what shows one thing is no picture of another.
    """
    answers: dict[tuple[str, str], list[frozenset[str]]] = {}
    for response in responses:
        if response.answer:
            answers.setdefault((response.form, response.item), []).append(frozenset(response.answer))
    best: tuple[Fraction, Seen] | None = None
    for form in given:
        for asked in form.items:
            for text, others in _led(asked, misreadings):
                count = sum(_gave(text, answer, asked) for answer in answers.get((form.ident, asked.id), ()))
                share = Fraction(count, 1 + others)
                if share and (asked.id, text) not in had and (best is None or share > best[0]):
                    best = share, Seen(form, asked, text, count)
    return best[1] if best is not None else None


def _led(asked: Asked, misreadings: Sequence[str]) -> Iterator[tuple[str, int]]:
    """The answers on offer that one of the misreadings leads to, and how many other misreadings lead there."""
    wanted = set(misreadings)
    for choice in asked.offered:
        alone = {each[0] for each in choice.alternatives if len(each) == 1}
        if alone & wanted:
            yield choice.answer.text, len(alone - wanted)


def _gave(text: str, answer: frozenset[str], asked: Asked) -> bool:
    return text in answer or compared(text, asked.item) in answered(answer, asked.item)


def shows_of(findings: Findings, section: str, misreadings: Sequence[str]) -> tuple[StudentFindings, ...]:
    """The students of a section with a finding that has one of these misreadings, likeliest first."""
    wanted = set(misreadings)
    showing = [
        (max(f.probability for f in student.findings if wanted & set(f.misreadings)), student)
        for student in findings.students
        if student.section == section and any(wanted & set(f.misreadings) for f in student.findings)
    ]
    return tuple(student for _, student in sorted(showing, key=lambda pair: (-pair[0], pair[1].student)))


def _groups(findings: Findings, section: str, misreadings: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Students in groups of like size, five at most; nobody sits alone unless nobody else shows it."""
    codes = tuple(dict.fromkeys(student.student for student in shows_of(findings, section, misreadings)))
    tables = -(-len(codes) // LARGEST_GROUP)
    return tuple(codes[n::tables] for n in range(tables))


def practised(student: StudentFindings, given: Mapping[str, Administered]) -> tuple[tuple[str, ...], Asked] | None:
    """The one thing for a student to practise, and an item on which it showed; None where nothing is found."""
    for finding in student.findings:
        items = {asked.id: asked for asked in given[student.form].items}
        for item in finding.seen:
            if item in items:
                return finding.misreadings, items[item]
    return None
