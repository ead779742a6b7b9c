"""All that was worked out of a quiz's answers, before any page or table of it is made."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from barwright.results.answers import (
    Administered,
    Findings,
    Response,
    StudentFindings,
    administered,
)
from barwright.results.diagnosing import diagnosed
from barwright.results.rates import USUAL, Rates
from barwright.results.reading.final_answers import Settled
from barwright.results.scoring import Omit
from barwright.results.sensitivity import Sensitivity, sensitivity
from barwright.results.survey import (
    FormSurvey,
    ModelSurvey,
    models_of,
    surveyed,
)
from barwright.results.teaching import Lesson, lessons
from barwright.tasks.diagnose.asked import AskedQuiz


@dataclass(frozen=True)
class Diagnosis:
    """The answers, what they tell of students and sections, and how the questions went.

    `named`: whether students have the names of the files; `names`: of each code what the files call the student.
    `lessons`: by section what to teach again. `rates`: what was assumed beforehand.
    `sensitivity`: what other assumptions would change, where that is wanted.
    """

    given: tuple[Administered, ...]
    responses: tuple[Response, ...]
    findings: Findings
    forms: tuple[FormSurvey, ...]
    models: tuple[ModelSurvey, ...]
    lessons: Mapping[str, tuple[Lesson, ...]]
    form_names: Mapping[str, str]
    names: Mapping[str, str]
    named: bool
    omit: Omit
    rates: Rates
    sensitivity: tuple[Sensitivity, ...] = ()

    def called(self, student: str) -> str:
        """What the pages call a student: the code, or with `named` the name."""
        return self.names[student] if self.named else student

    @cached_property
    def _scores(self) -> Mapping[tuple[str, str], tuple[int, int]]:
        by_student = {}
        for survey in self.forms:
            for student, scores in survey.rows:
                had = [score for score in scores if score is not None]
                by_student[survey.form.ident, student] = sum(had), len(had)
        return by_student

    def score(self, student: StudentFindings) -> tuple[int, int]:
        """How many questions a student has right, of how many."""
        return self._scores[student.form, student.student]


def diagnosis_of(
    quiz: AskedQuiz, settled: Settled, *, named: bool, omit: Omit, rates: Rates = USUAL, sensitive: bool = False
) -> Diagnosis:
    """Everything that can be told of the answers to a quiz."""
    given = administered(quiz.forms, quiz.left)
    responses = settled.responses
    findings = diagnosed(given, responses, rates)
    forms = surveyed(given, responses, omit=omit)
    taught = {each.section: lessons(findings, each, given, responses) for each in findings.sections}
    changes = sensitivity(given, responses, rates) if sensitive else ()
    names = {sheet.ident: sheet.name for sheet in quiz.sheets}
    return Diagnosis(
        given, responses, findings, forms, models_of(forms), taught, names, settled.names, named, omit, rates, changes
    )
