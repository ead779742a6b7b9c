"""diagnosis.json: everything that was worked out, for other programs; its JSON Schema stands here."""

import json
from typing import Any

from barwright import __version__
from barwright.results.survey import ItemSurvey
from barwright.tasks.diagnose.asked import AskedQuiz
from barwright.tasks.diagnose.diagnosis import Diagnosis
from barwright.tasks.diagnose.quiz_in_words import Words

FORMAT, VERSION = "barwright-diagnosis", 1
_DIGITS = 4


def diagnosis_json(diagnosis: Diagnosis, quiz: AskedQuiz, words: Words) -> bytes:
    """The document: canonical JSON, indented; codes for students, and names only where they were asked for."""
    document = {
        "format": FORMAT,
        "version": VERSION,
        "made_by": f"barwright {__version__}",
        "title": quiz.title,
        "omit": diagnosis.omit,
        "assumed": {"slips": list(diagnosis.rates.slips), "prior": diagnosis.rates.prevalence},
        "sections": [_section(each) for each in diagnosis.findings.sections],
        "students": [_student(diagnosis, student) for student in diagnosis.findings.students],
        "forms": [_form(diagnosis, survey, words) for survey in diagnosis.forms],
        "untold": {ident: [list(group) for group in groups] for ident, groups in diagnosis.findings.untold.items()},
    }
    return (json.dumps(document, sort_keys=True, ensure_ascii=False, indent=1) + "\n").encode()


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(float(value), _DIGITS)


def _section(section: Any) -> dict[str, object]:
    return {
        "section": section.section,
        "students": section.students,
        "misreadings": [
            {
                "misreadings": list(shared.misreadings),
                "students": _rounded(shared.students),
                "low": _rounded(shared.low),
                "high": _rounded(shared.high),
                "chances": shared.chances,
            }
            for shared in section.shared
        ],
    }


def _student(diagnosis: Diagnosis, student: Any) -> dict[str, object]:
    right, of = diagnosis.score(student)
    name = {"name": diagnosis.names[student.student]} if diagnosis.named else {}
    return {
        "student": student.student,
        **name,
        "section": student.section,
        "form": student.form,
        "answered": student.answered,
        "right": right,
        "questions": of,
        "findings": [
            {
                "misreadings": list(finding.misreadings),
                "probability": _rounded(finding.probability),
                "word": finding.word,
                "chances": finding.chances,
                "seen": list(finding.seen),
            }
            for finding in student.findings
        ],
        "probabilities": {name: _rounded(value) for name, value in sorted(student.probabilities.items())},
        "unlisted": _rounded(student.unlisted),
        "weakness": _rounded(student.weakness),
    }


def _form(diagnosis: Diagnosis, survey: Any, words: Words) -> dict[str, object]:
    figures = survey.figures
    return {
        "form": survey.form.ident,
        "section": survey.form.section,
        "retake": survey.form.retake,
        "name": diagnosis.form_names[survey.form.ident],
        "students": figures.students,
        "questions": figures.items,
        "mean": _rounded(figures.mean),
        "deviation": _rounded(figures.deviation),
        "alpha": _rounded(figures.alpha),
        "alpha_low": _rounded(figures.low),
        "alpha_high": _rounded(figures.high),
        "error": _rounded(figures.error),
        "chance": _rounded(survey.chance),
        "items": [_item(survey.form.ident, item, words) for item in survey.items],
    }


def _item(form: str, item: ItemSurvey, words: Words) -> dict[str, object]:
    figures = item.figures
    return {
        "item": item.asked.id,
        "question": words.number(form, item.asked.id),
        "ask": item.asked.item.ask,
        "asked": figures.asked,
        "right": figures.right,
        "difficulty": _rounded(figures.difficulty),
        "low": _rounded(figures.low),
        "high": _rounded(figures.high),
        "item_rest": _rounded(figures.item_rest),
        "upper_lower": _rounded(figures.upper_lower),
        "others": item.others,
        "omitted": item.omitted,
        "flags": list(item.flags),
        "picks": [
            {"answer": p.answer, "key": p.key, "misreadings": list(p.misreadings), "picks": p.picks}
            for p in item.picked
        ],
    }


def _object(**properties: object) -> dict[str, object]:
    """An object with these properties, and no others; those whose schema is marked `optional` may be missing."""
    needed = [name for name, value in properties.items() if name != "name_"]
    cleaned = {name.removesuffix("_"): value for name, value in properties.items()}
    return {"type": "object", "properties": cleaned, "required": needed, "additionalProperties": False}


def _array(items: object) -> dict[str, object]:
    return {"type": "array", "items": items}


_TEXT: dict[str, object] = {"type": "string"}
_COUNT: dict[str, object] = {"type": "integer", "minimum": 0}
_SHARE: dict[str, object] = {"type": "number", "minimum": 0, "maximum": 1}
_NUMBER: dict[str, object] = {"type": "number"}
_MAYBE: dict[str, object] = {"type": ["number", "null"]}
_IDS = _array({"type": "string", "pattern": r"^[a-z0-9-]+(\+[a-z0-9-]+)?$"})


def _form_schema() -> dict[str, object]:
    pick = _object(answer=_TEXT, key={"type": "boolean"}, misreadings=_IDS, picks=_COUNT)
    figures = dict.fromkeys(("difficulty", "low", "high", "item_rest", "upper_lower"), _MAYBE)
    counts = dict.fromkeys(("asked", "right", "others", "omitted"), _COUNT)
    flags = _array({"enum": ["miskey", "against", "weak", "hard", "easy"]})
    item = _object(item=_TEXT, question=_TEXT, ask=_TEXT, flags=flags, picks=_array(pick), **figures, **counts)
    return _object(
        **dict.fromkeys(("form", "section", "name"), _TEXT),
        **dict.fromkeys(("retake", "students", "questions"), _COUNT),
        **dict.fromkeys(("mean", "deviation", "alpha", "alpha_low", "alpha_high", "error", "chance"), _MAYBE),
        items=_array(item),
    )


def schema() -> dict[str, object]:
    """The JSON Schema of diagnosis.json."""
    finding = _object(
        misreadings=_IDS, probability=_SHARE, word={"enum": ["shows", "may show"]}, chances=_COUNT, seen=_array(_TEXT)
    )
    student = _object(
        student=_TEXT,
        name_=_TEXT,
        section=_TEXT,
        form=_TEXT,
        answered=_COUNT,
        right=_COUNT,
        questions=_COUNT,
        findings=_array(finding),
        probabilities={"type": "object", "additionalProperties": _SHARE},
        unlisted=_SHARE,
        weakness=_SHARE,
    )
    shared = _object(misreadings=_IDS, students=_NUMBER, low=_NUMBER, high=_NUMBER, chances=_COUNT)
    whole = _object(
        format={"const": FORMAT},
        version={"const": VERSION},
        made_by=_TEXT,
        title=_TEXT,
        omit={"enum": ["wrong", "exclude"]},
        assumed=_object(slips=_array(_SHARE), prior=_SHARE),
        sections=_array(_object(section=_TEXT, students=_COUNT, misreadings=_array(shared))),
        students=_array(student),
        forms=_array(_form_schema()),
        untold={"type": "object", "additionalProperties": _array(_IDS)},
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "What the answers to a Barwright quiz show, version 1",
        **whole,
    }
