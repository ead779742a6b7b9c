"""The standards' checker run on packages, and what it complains of."""

import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path


def complaints(standards: Path, packages: Iterable[Path | str]) -> list[str]:
    """Its complaints, one a line."""
    command = [sys.executable, standards / "validate.py", *packages]
    said = subprocess.run(command, capture_output=True, text=True, check=False)
    assert said.stderr == ""
    lines = said.stdout.splitlines()
    assert bool(lines) == (said.returncode != 0)
    return lines
