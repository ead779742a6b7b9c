"""students.csv and items.csv, for spreadsheets; no cell of them is ever run as a formula."""

import csv
import io
from collections.abc import Iterable, Sequence

from barwright.results.survey import item_model
from barwright.tasks.diagnose.diagnosis import Diagnosis
from barwright.tasks.diagnose.quiz_in_words import Words

MOST_FINDINGS = 3
_RUN = ("=", "+", "-", "@", "\t", "\r", "\n")
"""Signs by which a spreadsheet takes a cell for a formula (OWASP, CSV injection)."""


def harmless(text: str) -> str:
    """The text, with an apostrophe before it where a spreadsheet would run it.

    >>> harmless("=1+1"), harmless("Ana")
    ("'=1+1", 'Ana')
    """
    return f"'{text}" if text.startswith(_RUN) else text


def csv_text(rows: Iterable[Sequence[str | int | float | None]]) -> bytes:
    """The rows as CSV in UTF-8 with its mark, so that spreadsheets know; None is an empty cell."""
    target = io.StringIO()
    writer = csv.writer(target, lineterminator="\r\n")
    for row in rows:
        writer.writerow([_cell(value) for value in row])
    return target.getvalue().encode("utf-8-sig")


def _cell(value: str | int | float | None) -> str:
    if value is None:
        return ""
    return harmless(value) if isinstance(value, str) else f"{value:.3f}" if isinstance(value, float) else str(value)


def students_csv(diagnosis: Diagnosis) -> bytes:
    """A row for each student and form: right, and up to three findings with their ids and probabilities."""
    heads = [f"{what} {n}" for n in range(1, MOST_FINDINGS + 1) for what in ("misreading", "word", "probability")]
    rows: list[list[str | int | float | None]] = [
        [
            "student",
            *(["name"] if diagnosis.named else []),
            "section",
            "form",
            "right",
            "questions",
            *heads,
            "none of these",
        ]
    ]
    for student in diagnosis.findings.students:
        right, of = diagnosis.score(student)
        name = [diagnosis.names[student.student]] if diagnosis.named else []
        row: list[str | int | float | None] = [
            student.student,
            *name,
            student.section,
            diagnosis.form_names[student.form],
        ]
        row += [right, of]
        for finding in student.findings[:MOST_FINDINGS]:
            row += [" or ".join(finding.misreadings), finding.word, finding.probability]
        row += [None] * (3 * (MOST_FINDINGS - min(MOST_FINDINGS, len(student.findings))))
        rows.append([*row, student.unlisted])
    return csv_text(rows)


def items_csv(diagnosis: Diagnosis, words: Words) -> bytes:
    """A row for each item of each form: its figures, flags, and how often each choice was picked."""
    heads = "form section question item kind asked right difficulty low high item_rest upper_lower alpha_without"
    rows: list[list[str | int | float | None]] = [
        [*heads.split(), "distractors_in_use", "other", "left_out", "flags", "picks"]
    ]
    for survey in diagnosis.forms:
        for item in survey.items:
            figures = item.figures
            picks = "; ".join(f"{p.answer}{' (key)' if p.key else ''}: {p.picks}" for p in item.picked)
            rows.append(
                [
                    diagnosis.form_names[survey.form.ident],
                    survey.form.section,
                    words.number(survey.form.ident, item.asked.id),
                    item.asked.id,
                    item_model(item.asked.item),
                    figures.asked,
                    figures.right,
                    figures.difficulty,
                    figures.low,
                    figures.high,
                    figures.item_rest,
                    figures.upper_lower,
                    figures.alpha_without,
                    item.efficiency,
                    item.others,
                    item.omitted,
                    " ".join(item.flags),
                    picks,
                ]
            )
    return csv_text(rows)
