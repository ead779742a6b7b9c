"""What each worker more is worth, beside what empty processes reach on the same machine in the same minutes.

    python tests/benchmarks/bench_workers.py [SCHOOLS] [ROUNDS]

In every round so many processes as there are workers only count, then so many workers make quizzes of six sections for
the schools; rounds follow each other, so that what else the machine does falls on both alike. Printed are seconds, how
many times as much was done as by one, and what a worker more is worth: the work that it adds, as a part of what a
process more adds that only counts (aim: 0.8). Then a Dask cluster of two local processes does the same work. All bytes
are compared. Nothing here is a test.
"""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from distributed import LocalCluster

from same_entries import entries

BLUEPRINT = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-1-half-notes-and-rests.toml"
SECTIONS = 6
SPINS = 60_000_000
AIM = 0.8


def seconds(run: Callable[[], object]) -> float:
    """How long this takes by the clock."""
    begin = time.perf_counter()
    run()
    return time.perf_counter() - begin


def spin(processes: int) -> None:
    """So many processes count at the same time, each as far as the others."""
    program = [sys.executable, "-c", f"for _ in range({SPINS}): pass"]
    running = [subprocess.Popen(program) for _ in range(processes)]
    assert [process.wait() for process in running] == [0] * processes


def make(folder: Path, out: str, *options: str) -> None:
    """All quizzes, as the command makes them."""
    program = [sys.executable, "-c", "from barwright.cli import run; run()", "make", str(BLUEPRINT)]
    arguments = ["--schools", "schools.csv", "--out", out, "--replace", *options]
    subprocess.run([*program, *arguments], cwd=folder, check=True, capture_output=True)


def list_of(schools: int) -> str:
    """A list of so many invented schools."""
    rows = [f"School {school:05},Period {n + 1}" for school in range(schools) for n in range(SECTIONS)]
    return "\n".join(["school,section", *rows]) + "\n"


def main(schools: int, rounds: int) -> None:
    """Prints the measurements."""
    counts = [n for n in (1, 2, 4, 8, 16, 32) if n <= max(2, os.cpu_count() or 1)]
    spun, made = dict.fromkeys(counts, 0.0), dict.fromkeys(counts, 0.0)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "schools.csv").write_text(list_of(schools), "utf-8")
        for _ in range(rounds):
            for count in counts:
                spun[count] += seconds(lambda count=count: spin(count))
                made[count] += seconds(lambda count=count: make(folder, f"w{count}", "--workers", str(count)))
        print(f"{schools} schools of {SECTIONS} sections, {rounds} rounds, {os.cpu_count()} cores")
        for count in counts:
            _tell(count, spun, made, schools * rounds)
        whole = entries(folder / "w1")
        for count in counts[1:]:
            print(
                f"{count} workers: {differing(whole, entries(folder / f'w{count}'))} of {len(whole):,} entries differ"
            )
        options = {"n_workers": 2, "threads_per_worker": 1, "dashboard_address": None, "host": "127.0.0.1"}
        with LocalCluster(**options) as cluster:
            took = seconds(lambda: make(folder, "dask", "--dask", cluster.scheduler_address))
        print(f"Dask, 2 local workers: {took:.1f} s; {differing(whole, entries(folder / 'dask'))} entries differ")


def _tell(count: int, spun: dict[int, float], made: dict[int, float], quizzes: int) -> None:
    told = f"{count:3} workers: {made[count]:6.1f} s, {made[count] / quizzes:5.2f} s a quiz"
    if count > 1:
        # Each process counts as far as the one did, so the work is `count` times as much; quizzes are the same work.
        can, does = count * spun[1] / spun[count], made[1] / made[count]
        worth = (does - 1) / (can - 1) if can > 1 else float("nan")
        told += (
            f"; {does:.2f} times as quick, counting {can:.2f} times: a worker more is worth {worth:.2f} (aim: {AIM})"
        )
    print(told, flush=True)


def differing(one: dict[str, str], other: dict[str, str]) -> int:
    """How many files, or entries of packages, are not the same."""
    return sum(one.get(name) != other.get(name) for name in one.keys() | other.keys())


if __name__ == "__main__":
    schools, rounds = [int(each) for each in sys.argv[1:]] + [12, 2][len(sys.argv) - 1 :]
    main(schools, rounds)
