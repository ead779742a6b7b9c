"""Proofs of which the suite runs a telling part: how long each is, and all of them in full.

    python tests/whole.py [PYTEST OPTIONS]

runs every test file that has such a proof with the long run of each, and the kills at every event: some fifteen minutes
of two cores. A test takes its number from `whole_or_part(whole, part)`.
"""

import os
import subprocess
import sys
from pathlib import Path

TESTS = Path(__file__).parent
SWITCH = "BARWRIGHT_WHOLE_PROOFS"
WHOLE = SWITCH in os.environ


def whole_or_part(whole: int, part: int) -> int:
    """A number by which a proof is long or short: of the long run, or of the suite."""
    return whole if WHOLE else part


def files() -> list[str]:
    """The test files that take a number from here."""
    tests = sorted(TESTS.rglob("test_*.py"))
    return [str(path) for path in tests if "from whole import" in path.read_text("utf-8")]


def main(options: list[str]) -> int:
    """Runs the long proofs; 1 if any fails."""
    environment = {**os.environ, SWITCH: "1"}
    runs = [["-m", "pytest", *files(), *options], [str(TESTS / "fuzz" / "kills.py"), "--quick"]]
    return int(any(subprocess.run([sys.executable, *run], env=environment, check=False).returncode for run in runs))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
