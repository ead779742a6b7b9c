"""report.html: what the answers show, as one page that needs no other file."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barwright.pages import plain_page
from barwright.results.answers import (
    Finding,
    Findings,
    SectionFindings,
    Shared,
    StudentFindings,
)
from barwright.results.rates import USUAL
from barwright.results.survey import FormSurvey, ItemSurvey, ModelSurvey
from barwright.results.teaching import Lesson
from barwright.tasks.diagnose.diagnosis import Diagnosis
from barwright.tasks.diagnose.quiz_in_words import Example, ShownAnswer, Words
from barwright.wording.language import language
from barwright.wording.worded import Pictures, WordedItem

MOST_ROWS = 12
LEAST_SHOWN = 1.0
MOST_LOOKED_AT = 6
MOST_PICKS = 8
_WEIGHT = ("miskey", "against", "weak", "hard", "easy")


@dataclass(frozen=True, slots=True)
class TableCell:
    """A misreading in a section: students as text, the range, and the share of the section in percent."""

    students: str
    low: str
    high: str
    percent: int


@dataclass(frozen=True, slots=True)
class GridRow:
    """A misreading in each section.

    None where the section's forms tell it apart in another way, so that other rows have it; False where they cannot
    show it at all.
    """

    whys: tuple[str, ...]
    cells: tuple[TableCell | bool | None, ...]


@dataclass(frozen=True, slots=True)
class LessonShown:
    """One thing to teach again, in words."""

    whys: tuple[str, ...]
    students: str
    low: str
    high: str
    example: Example | None
    groups: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class FindingShown:
    """A finding in words, with its probability in percent."""

    whys: tuple[str, ...]
    word: str
    percent: int


@dataclass(frozen=True, slots=True)
class StudentLine:
    """One student; `form` is named only where a section had more than one."""

    student: str
    form: str
    right: int
    of: int
    findings: tuple[FindingShown, ...]
    unlisted: bool


@dataclass(frozen=True, slots=True)
class SectionShown:
    """One section: what to teach again, and its students."""

    name: str
    students: int
    lessons: tuple[LessonShown, ...]
    lines: tuple[StudentLine, ...]


@dataclass(frozen=True, slots=True)
class PickShown:
    """How many gave an answer; `answer` as shown, or `what` in words."""

    number: int
    key: bool
    answer: ShownAnswer | None
    what: str = ""


@dataclass(frozen=True, slots=True)
class LookedAt:
    """A question to look at, with its figures as text."""

    form: str
    number: str
    flags: tuple[str, ...]
    right: int
    asked: int
    low: int
    high: int
    rest: str
    item: WordedItem
    picks: tuple[PickShown, ...]


@dataclass(frozen=True, slots=True)
class FormLine:
    """One form beside the others; what is not defined is empty."""

    name: str
    students: int
    mean: str
    deviation: str
    reliability: str
    error: str
    chance: str


@dataclass(frozen=True, slots=True)
class ModelLine:
    """One kind of question over all forms."""

    name: str
    right: int
    asked: int
    low: int
    high: int
    by_form: tuple[str, ...]


def people(number: float) -> str:
    """A number of students in a grid: whole, or with a half sign of little.

    >>> people(3.4), people(0.3), people(0.01)
    ('3', '<1', '0')
    """
    return "0" if number < 0.05 else "<1" if number < 0.5 else str(round(number))


@dataclass(frozen=True, slots=True)
class ReportPage:
    """All that the page shows, and the words that know which pictures it needs."""

    words: Words
    names: Mapping[str, object]

    def html(self, pictures: Pictures) -> bytes:
        """The page."""
        title = self.words.quiz.title
        return plain_page("report.html", title, self.words.code, pictures=pictures, **self.names)


def report_of(diagnosis: Diagnosis, words: Words) -> ReportPage:
    """The report, ready for its pictures."""
    findings = diagnosis.findings
    grid, less = _grid(findings, words)
    flagged = sorted(
        (
            (survey, item)
            for survey in diagnosis.forms
            for item in survey.items
            if item.flags and item.flags != ("easy",)
        ),
        key=lambda pair: min(map(_WEIGHT.index, pair[1].flags)),
    )
    names = {
        "students": len({student.student for student in findings.students}),
        "sections": tuple(_section(section, diagnosis, words) for section in findings.sections),
        "grid": grid,
        "less": less,
        "named": diagnosis.named,
        "look": tuple(_looked_at(survey, item, diagnosis, words) for survey, item in flagged[:MOST_LOOKED_AT]),
        "look_more": max(0, len(flagged) - MOST_LOOKED_AT),
        "forms": tuple(_form_line(survey, diagnosis, words.code) for survey in diagnosis.forms),
        "models": tuple(_model_line(model, diagnosis.forms, words.code) for model in diagnosis.models),
        "omit": diagnosis.omit,
        "assumed": {
            "slips": f"{100 * diagnosis.rates.slips[0]:g}",
            "unsteady": f"{100 * diagnosis.rates.slips[1]:g}",
            "prior": f"{100 * diagnosis.rates.prevalence:g}",
            "usual": diagnosis.rates == USUAL,
        },
        "sensitivity": diagnosis.sensitivity,
    }
    return ReportPage(words, names)


def _grid(findings: Findings, words: Words) -> tuple[tuple[GridRow, ...], int]:
    """The misreadings that a student or more is expected to hold in some section, most first, and how many others."""
    by_section = [{shared.misreadings: shared for shared in section.shared} for section in findings.sections]
    every = {misreadings for section in by_section for misreadings in section}

    def most(misreadings: tuple[str, ...]) -> float:
        return sum(section[misreadings].students for section in by_section if misreadings in section)

    held = [m for m in every if any(s[m].students >= LEAST_SHOWN for s in by_section if m in s)]
    ordered = sorted(held, key=lambda misreadings: (-most(misreadings), misreadings))
    rows = tuple(
        GridRow(
            words.whys(misreadings),
            tuple(
                _cell(misreadings, section, each.students)
                for section, each in zip(by_section, findings.sections, strict=True)
            ),
        )
        for misreadings in ordered[:MOST_ROWS]
    )
    return rows, len(every) - len(rows)


def _cell(
    misreadings: tuple[str, ...], section: Mapping[tuple[str, ...], Shared], students: int
) -> TableCell | bool | None:
    shared = section.get(misreadings)
    if shared is None:
        return None if any(set(misreadings) & set(others) for others in section) else False
    percent = round(100 * shared.students / students) if students else 0
    return TableCell(people(shared.students), people(shared.low), people(shared.high), percent)


def _section(section: SectionFindings, diagnosis: Diagnosis, words: Words) -> SectionShown:
    lines = [student for student in diagnosis.findings.students if student.section == section.section]
    several = len({student.form for student in lines}) > 1
    lessons = tuple(_lesson(lesson, diagnosis, words) for lesson in diagnosis.lessons[section.section])
    shown = tuple(_line(student, diagnosis, words, several=several) for student in lines)
    return SectionShown(section.section, section.students, lessons, shown)


def _lesson(lesson: Lesson, diagnosis: Diagnosis, words: Words) -> LessonShown:
    example = None
    if lesson.seen is not None:
        form, asked = lesson.seen.form.ident, lesson.seen.asked
        example = Example(
            words.number(form, asked.id),
            words.item(form, asked.id),
            words.right(form, asked),
            words.answer(form, asked.id, lesson.seen.answer),
            lesson.seen.students,
        )
    shared = lesson.shared
    groups = tuple(tuple(diagnosis.called(student) for student in group) for group in lesson.groups)
    told = (people(shared.students), people(shared.low), people(shared.high))
    return LessonShown(words.whys(shared.misreadings), *told, example, groups)


def _line(student: StudentFindings, diagnosis: Diagnosis, words: Words, *, several: bool) -> StudentLine:
    right, of = diagnosis.score(student)
    findings = tuple(_finding(finding, words) for finding in student.findings)
    unlisted = student.unlisted >= 0.5 and not student.findings
    form = diagnosis.form_names[student.form] if several else ""
    return StudentLine(diagnosis.called(student.student), form, right, of, findings, unlisted)


def _finding(finding: Finding, words: Words) -> FindingShown:
    return FindingShown(words.whys(finding.misreadings), finding.word, min(99, round(100 * finding.probability)))


def _looked_at(survey: FormSurvey, item: ItemSurvey, diagnosis: Diagnosis, words: Words) -> LookedAt:
    form, figures = survey.form.ident, item.figures
    picks = [PickShown(p.picks, p.key, words.answer(form, item.asked.id, p.answer)) for p in item.picked]
    picks.sort(key=lambda pick: (not pick.key, -pick.number))
    told = language(words.code)
    for number, what in ((item.others, "others"), (item.omitted, "omitted")):
        if number:
            picks.append(PickShown(number, False, None, told.text("results", what)))
    return LookedAt(
        form=diagnosis.form_names[form],
        number=words.number(form, item.asked.id),
        flags=item.flags,
        right=figures.right,
        asked=figures.asked,
        low=round(100 * (figures.low or 0)),
        high=round(100 * (figures.high or 0)),
        rest="" if figures.item_rest is None else f"{figures.item_rest:.2f}",
        item=words.item(form, item.asked.id),
        picks=tuple(picks[:MOST_PICKS]),
    )


def _form_line(survey: FormSurvey, diagnosis: Diagnosis, code: str) -> FormLine:
    figures = survey.figures
    reliability = ""
    if figures.alpha is not None and figures.low is not None and figures.high is not None:
        said = {"value": f"{figures.alpha:.2f}", "low": f"{figures.low:.2f}", "high": f"{figures.high:.2f}"}
        reliability = language(code).text("results", "interval", said)
    return FormLine(
        name=diagnosis.form_names[survey.form.ident],
        students=figures.students,
        mean=f"{figures.mean or 0:.1f} / {figures.items}",
        deviation=f"{figures.deviation or 0:.1f}",
        reliability=reliability,
        error="" if figures.error is None else f"{figures.error:.1f}",
        chance=f"{survey.chance:.1f}",
    )


def _model_line(model: ModelSurvey, forms: Sequence[FormSurvey], code: str) -> ModelLine:
    counts = {form: (asked, right) for form, asked, right in model.by_form}
    cells = []
    for survey in forms:
        asked, right = counts.get(survey.form.ident, (0, 0))
        cells.append(f"{right}/{asked}" if asked else "–")
    low, high = round(100 * model.low), round(100 * model.high)
    name = f"{language(code).text('asks', f'{model.ask}.student')}: {model.model.split()[1]}"
    return ModelLine(name, model.right, model.asked, low, high, tuple(cells))
