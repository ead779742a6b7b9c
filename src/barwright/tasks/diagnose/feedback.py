"""One short page for each student: what went well, and one thing to practice; nothing of anybody else."""

from collections.abc import Mapping

from barwright.pages import plain_page
from barwright.results.answers import StudentFindings
from barwright.results.teaching import practised
from barwright.tasks.diagnose.diagnosis import Diagnosis
from barwright.tasks.diagnose.quiz_in_words import Example, ShownAnswer, Words
from barwright.wording.language import language
from barwright.wording.worded import Pictures

FOLDER = "feedback"
WELL = 0.75
MOST_ASKS = 3


class FeedbackPages:
    """The pages of all students, ready for their pictures."""

    def __init__(self, diagnosis: Diagnosis, words: Words) -> None:
        self.words = words
        self.found: dict[str, dict[str, object]] = {}
        given = {form.ident: form for form in diagnosis.given}
        scores = {(s.form.ident, student): row for s in diagnosis.forms for student, row in s.rows}
        for student in diagnosis.findings.students:
            numbers = list(dict.fromkeys(asked.number for asked in given[student.form].items))
            asks = {asked.number: asked.item.ask for asked in given[student.form].items}
            row = dict(zip(numbers, scores[student.form, student.student], strict=True))
            context: dict[str, object] = {"student": diagnosis.called(student.student), "asks": self._well(row, asks)}
            context |= self._practice(student, diagnosis)
            self.found[f"{FOLDER}/{_file_name(student, diagnosis)}"] = context

    def _well(self, row: Mapping[int, int | None], asks: Mapping[int, str]) -> tuple[str, ...]:
        """What the student can do: asks with three in four right or more, best first."""
        told, shares = language(self.words.code), []
        for ask in dict.fromkeys(asks.values()):
            had = [score for number, score in row.items() if asks[number] == ask and score is not None]
            if had and sum(had) / len(had) >= WELL:
                shares.append((-sum(had), told.text("results", f"ask.{ask}")))
        return tuple(dict.fromkeys(text for _, text in sorted(shares)))[:MOST_ASKS]

    def _practice(self, student: StudentFindings, diagnosis: Diagnosis) -> dict[str, object]:
        given = {form.ident: form for form in diagnosis.given}
        practice = practised(student, given)
        hint = self.words.hint(student.form, practice[1].id, practice[0]) if practice is not None else ""
        if practice is None or not hint:
            return {"hint": "", "example": None}
        asked = practice[1]
        right = self.words.right(student.form, asked)
        number = self.words.number(student.form, asked.id)
        example = Example(number, self.words.item(student.form, asked.id), right, ShownAnswer(()), 0)
        return {"hint": hint, "example": example}

    def html(self, pictures: Pictures) -> dict[str, bytes]:
        """The pages by path."""
        title = self.words.quiz.title
        return {
            path: plain_page("feedback.html", title, self.words.code, pictures=pictures, **context)
            for path, context in self.found.items()
        }


def _file_name(student: StudentFindings, diagnosis: Diagnosis) -> str:
    """By code, and by form where a student sat several: names of students stand in no file name."""
    forms = {s.form for s in diagnosis.findings.students if s.student == student.student}
    suffix = f"-{student.form}" if len(forms) > 1 else ""
    return f"{student.student}{suffix}.html"
