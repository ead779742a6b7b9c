"""The installed wheel, away from the checkout: it finds its templates and makes a quiz."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
BLUEPRINT = """
title = "One question"
sections = ["Period 1"]
[elements]
meters = ["3/4"]
notes = ["half", "quarter"]
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 1
"""
RUN = "import barwright; from barwright.cli import run; print(barwright.__file__, flush=True); run()"


def test_the_wheel_makes_a_quiz_without_the_checkout(tmp_path: Path) -> None:
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet"]
    wheels, site = tmp_path / "wheels", tmp_path / "site"
    subprocess.run(
        [*pip, "wheel", "--no-deps", "--no-build-isolation", "-w", wheels, ROOT], check=True, capture_output=True
    )
    (wheel,) = wheels.glob("*.whl")
    subprocess.run([*pip, "install", "--no-deps", "--target", site, wheel], check=True, capture_output=True)
    (tmp_path / "one.toml").write_text(BLUEPRINT, "utf-8")
    ran = subprocess.run(
        [sys.executable, "-c", RUN, "make", "one.toml"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(site)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.startswith(str(site)), "the checkout was imported instead of the wheel"
    assert (tmp_path / "out" / "one" / "period-1" / "quiz.imscc").is_file()
