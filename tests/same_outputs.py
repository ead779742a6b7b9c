"""Whether two checkouts write the same bytes: every demo blueprint in every standard, banks, pages, pictures, counts.

    python tests/same_outputs.py CHECKOUT CHECKOUT

Runs the commands of both with the Python that runs this, each on its own `shared/`, and compares whatever is written
and printed. For changes of structure, which must not change a byte. Exit code 1 if anything differs.
"""

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory

from same_entries import main as compared

RUN = "from barwright.cli import run; run()"
RHYTHMS = (
    "4/4 q. e q rq",
    "3/4 h q | rW",
    "6/8 q e e. s e",
    "2/2 h q q",
    "2/4 e s s q",
    "7/8 q q q.",
    "4/4 et et et h q",
)
SYSTEMS = ("numbers", "kodaly", "gordon", "takadimi", "eastman")


def commands(checkout: Path, out: Path) -> list[list[str]]:
    """Command lines that together write every kind of file."""
    blueprints = sorted((checkout / "shared/blueprints").glob("*.toml"))
    banks = sorted(str(path) for path in (checkout / "shared/banks").glob("*.jsonl"))
    made = [["make", str(path), "--standard", "all", "--out", str(out / "quizzes")] for path in blueprints]
    pooled = [
        ["make", str(path), "--as", "bank", "--standard", "all", "--out", str(out / "banks")] for path in blueprints
    ]
    later = [["make", str(path), "--retake", "1", "--out", str(out / "quizzes")] for path in blueprints]
    shared = [
        *([["bank", "show", bank, "--html", str(out / f"{Path(bank).stem}.html")] for bank in banks]),
        ["bank", "merge", *banks, "-o", str(out / "merged.jsonl")],
        ["bank", "export", banks[0], "--standard", "all", "--out", str(out / "exported")],
        ["bank", "take", banks[0], "--blueprint", str(blueprints[0]), "--out", str(out / "taken")],
        ["capacity", str(blueprints[0])],
    ]
    counted = [["counts", text, "-c", f"counting={system}"] for text in RHYTHMS for system in SYSTEMS]
    drawn = [["draw", text, "-o", str(out / f"{n}.png"), "--counts"] for n, text in enumerate(RHYTHMS)]
    written = [["draw", text, "-o", str(out / f"{n}.musicxml"), "--musicxml"] for n, text in enumerate(RHYTHMS)]
    return [*made, *pooled, *later, *shared, *counted, *drawn, *written]


def write(checkout: Path, out: Path) -> None:
    """Runs all commands of a checkout; what they print is kept beside what they write."""
    out.mkdir()
    environment = {**os.environ, "PYTHONPATH": str(checkout / "src"), "PYTHONHASHSEED": "random", "COLUMNS": "120"}
    for number, command in enumerate(commands(checkout, out)):
        done = subprocess.run(
            [sys.executable, "-c", RUN, *command], cwd=checkout, env=environment, capture_output=True, check=False
        )
        printed = done.stdout + done.stderr + f"\nexit {done.returncode}\n".encode()
        printed = printed.replace(str(out).encode(), b"OUT").replace(str(checkout).encode(), b"HERE")
        (out / f"printed-{number:03}.txt").write_bytes(printed)


def main(one: str, other: str) -> int:
    """Prints what differs between the two; 1 if anything does."""
    with TemporaryDirectory() as folder, ThreadPoolExecutor(2) as pool:
        pairs = [(Path(one).resolve(), Path(folder, "one")), (Path(other).resolve(), Path(folder, "other"))]
        list(pool.map(lambda pair: write(*pair), pairs))
        for number, command in enumerate(commands(pairs[0][0], pairs[0][1])):
            text = (pairs[0][1] / f"printed-{number:03}.txt").read_text("utf-8")
            if not text.endswith("exit 0\n"):
                print(f"did not work: {' '.join(command)}\n{text}")
        return compared(str(pairs[0][1]), str(pairs[1][1]))


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
