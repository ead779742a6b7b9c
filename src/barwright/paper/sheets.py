"""A page of practice, and its key, as the data of their template."""

from collections.abc import Sequence
from dataclasses import dataclass

from barwright.paper.drawing import Drawing
from barwright.paper.forms import Data, PaperSize, drawn, paper_name
from barwright.wording.language import language


@dataclass(frozen=True, slots=True)
class Exercise:
    """One exercise: its drawing and what it is called for who cannot see it, and the same of its solution.

    `counts`: what stands on its lines in the key, where counts are written.
    """

    drawing: Drawing
    alt: str
    solved: Drawing
    solved_alt: str
    counts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PracticePage:
    """The exercises of each kind, and how the class counts, as sentences."""

    title: str
    language: str
    complete: Sequence[Exercise]
    counts: Sequence[Exercise]
    barlines: Sequence[Exercise]
    rules: Sequence[str]


def sheet_data(page: PracticePage, paper: PaperSize, *, key: bool) -> Data:
    """What the page shows, or its key."""
    words = language(page.language)
    kinds = {"complete": page.complete, "counts": page.counts, "barlines": page.barlines}
    parts = [
        {
            "kind": kind,
            "task": words.text("paper", f"sheet.{kind}"),
            "remark": words.text("paper", "sheet.complete_key") if key and kind == "complete" else "",
            "rules": " ".join(page.rules) if kind == "counts" else "",
            "exercises": [_exercise(each, key=key) for each in exercises],
        }
        for kind, exercises in kinds.items()
        if exercises
    ]
    return {
        "kind": "sheet",
        "paper": paper_name(paper),
        "language": page.language,
        "title": words.text("paper", "sheet.key" if key else "sheet.title", {"title": page.title}),
        "labels": {"name": words.text("paper", "name")},
        "key": key,
        "parts": parts,
    }


def _exercise(exercise: Exercise, *, key: bool) -> Data:
    shown = drawn(exercise.solved, exercise.solved_alt) if key else drawn(exercise.drawing, exercise.alt)
    return {"figure": shown, "counts": list(exercise.counts) if key else []}
