"""index.html: every school with its quizzes, and what is bent in them, or why there is none."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any
from urllib.parse import quote

from barwright.blueprint.blueprint import Blueprint
from barwright.errors import OutputError
from barwright.pages import plain_page
from barwright.tasks.files import write_new
from barwright.tasks.packing import KEY, PROOF, Order
from barwright.tasks.schools.making import Outcome, folder_in_short

INDEX = "index.html"


def index_page(outcomes: Sequence[Outcome], without: int, *, title: str, language: str) -> bytes:
    """The page; the same whenever the same quizzes lie there, in one run or after several.

    `without`: how many schools have no class, and so no quiz.
    """
    rows = [_row(outcome) for outcome in outcomes]
    return plain_page(
        "schools.html",
        title,
        language,
        rows=rows,
        schools=len({row["school"] for row in rows}),
        made=sum(row["made"] for row in rows),
        bent=sum(bool(row["short"]) for row in rows),
        refused=sum(not row["made"] for row in rows),
        forms=sum(row["forms"] for row in rows),
        quizzes=len({row["quiz"] for row in rows}),
        without=without,
    )


def _row(outcome: Outcome) -> dict[str, Any]:
    state, job = outcome.state, outcome.job
    place = quote(folder_in_short(job))
    return {
        "school": job.school.name if job.school else job.plan.stem,
        "quiz": job.plan.stem,
        "made": state is not None,
        "forms": state.forms if state else 0,
        "questions": state.items if state else 0,
        "short": state.short if state else "",
        "lines": state.bent if state else outcome.faults,
        "proof": f"{place}/{PROOF}",
        "key": f"{place}/{KEY}",
    }


def check_index(order: Order, *, resume: bool) -> None:
    """OutputError if a page of that name is there already, and may not be written anew."""
    if (order.out / INDEX).exists() and not order.replace and not resume:
        raise OutputError(
            f"{order.out / INDEX} exists: give --resume to make what is missing, --replace to make all of it anew, or "
            "another folder with --out"
        )


def write_index(out: Path, outcomes: Sequence[Outcome], without: int, plan: Blueprint) -> Path:
    """Writes the page into the folder of all schools; its path."""
    write_new(out / INDEX, index_page(outcomes, without, title=plan.title, language=plan.languages[0]), replace=True)
    return out / INDEX
