"""The report and a student's page in headless Chromium: nothing serious by axe-core, nothing sticks out, it prints."""

import os
from pathlib import Path

import pytest

from barwright.tasks.diagnose.diagnose import Wish, diagnose
from e2e.browser import audited, installed, lacking
from made_once import Once
from results.quizzes import UNITS, unit_in
from results.shapes import by_label, csv_bytes, title, wide
from results.simulated_classes import sittings

WIDTHS = [1200, 320]


@pytest.fixture(scope="module")
def modules() -> Path:
    """The node modules; skips where pages cannot be shown, but never with CI=true."""
    if lacking() and os.environ.get("CI") != "true":
        pytest.skip(lacking())
    assert not lacking()
    return installed()


def test_pages_of_results_are_accessible_narrow_and_printable(modules: Path, tmp_path: Path, made_once: Once) -> None:
    quiz = unit_in(tmp_path, UNITS[0], made_once)
    files = []
    for place, form in enumerate(quiz.forms):
        mine = [each for each in sittings(quiz, 25) if each.form is form]
        files.append(tmp_path / f"{form.section}.csv")
        files[-1].write_bytes(csv_bytes(wide(quiz, place, mine, by_label, title)))
    diagnose(quiz.folder, files, Wish(feedback=True))
    results = quiz.folder / "results"
    pages = sorted(results.glob("feedback/*.html"))
    chosen = [next(page for page in pages if "<img" in page.read_text("utf-8")), pages[0], results / "report.html"]
    job = {"pages": list(map(str, chosen)), "widths": WIDTHS, "shots": None}
    told = audited(modules, tmp_path / "job.json", job)
    for path, found in told.items():
        assert (found["serious"], found["wide"], found["asked"]) == ([], [], []), path
        assert found["printed"] == 1 or path.endswith("report.html")
    assert 5 <= told[str(results / "report.html")]["printed"] <= 16
