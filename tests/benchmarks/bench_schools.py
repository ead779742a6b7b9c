"""Many schools of six sections, stopped twice and resumed: hours, memory, and the estimate for 10,000 schools.

    python tests/benchmarks/bench_schools.py [SCHOOLS] [--workers N] [--compare N] [--keep FOLDER]

At a third of the schools the command is stopped as by Ctrl-C, at two thirds it is killed; then it goes on to the end.
Printed are the hours by the clock and of the processor, the memory of all its processes together at most, the bytes
written, and how long 10,000 schools would take on 1, 4 and 16 such computers. At last every quiz (or N of them) is made
alone, by a command of its own, from the plan in the school's folder, and all bytes are compared. None of it is a test.
"""

import argparse
import os
import resource
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from benchmarks.bench_workers import BLUEPRINT, SECTIONS, differing, list_of
from same_entries import entries

LOOK_SECONDS = 0.5
MANY, MACHINES = 10_000, (1, 4, 16)
RUN = [sys.executable, "-c", "from barwright.cli import run; run()"]


def memory_of(process: int) -> int:
    """Bytes that a process and its children hold, without what they share being counted once only; 0 if it is gone."""
    try:
        status = Path(f"/proc/{process}/status").read_text("utf-8")
        children = Path(f"/proc/{process}/task/{process}/children").read_text("utf-8").split()
    except OSError:
        return 0
    held = next((int(line.split()[1]) for line in status.splitlines() if line.startswith("VmRSS:")), 0)
    return 1024 * held + sum(memory_of(int(child)) for child in children)


def made_in(folder: Path) -> int:
    """How many quizzes are whole."""
    return len(list(folder.glob("out/*/*/made.json")))


def run_until(folder: Path, workers: int, stop_at: int, how: signal.Signals | None) -> int:
    """Runs the command, stops it once so many quizzes are made, and gives back the most memory that was seen."""
    program = [*RUN, "make", str(BLUEPRINT), "--schools", "schools.csv", "--workers", str(workers), "--resume"]
    most, stopped = 0, False
    with (folder / "told.txt").open("ab") as told:
        process = subprocess.Popen(program, cwd=folder, stdout=told, stderr=told, start_new_session=True)
        while process.poll() is None:
            time.sleep(LOOK_SECONDS)
            most = max(most, memory_of(process.pid))
            if how is not None and not stopped and made_in(folder) >= stop_at:
                process.send_signal(how)
                stopped = True
    return most


def make_alone(folder: Path, school: Path) -> Path:
    """The quiz of a school, made by a command of its own from the school's plan."""
    plan = next(school.glob("*.toml"))
    out = folder / "alone" / school.name
    subprocess.run([*RUN, "make", str(plan), "--out", str(out)], cwd=folder, check=True, capture_output=True)
    return next(path for path in out.iterdir() if path.is_dir())


def main(schools: int, workers: int, compare: int, folder: Path) -> None:
    """Prints the measurements."""
    (folder / "schools.csv").write_text(list_of(schools), "utf-8")
    begin, most = time.perf_counter(), 0
    for stop_at, how in ((schools // 3, signal.SIGINT), (2 * schools // 3, signal.SIGKILL), (schools, None)):
        most = max(most, run_until(folder, workers, stop_at, how))
        name = how.name if how else "end"
        print(
            f"{made_in(folder):,} of {schools:,} schools at {name}, after {_hours(time.perf_counter() - begin)}",
            flush=True,
        )
    took = time.perf_counter() - begin
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    busy = usage.ru_utime + usage.ru_stime
    size = sum(path.stat().st_size for path in folder.glob("out/**/*") if path.is_file())
    # The system tells nobody what the workers of a killed process took.
    hours = f"{_hours(took)} by the clock, {_hours(busy)} of the processor and what the killed run took"
    print(f"{schools * SECTIONS:,} forms in {hours}, {workers} workers")
    print(f"{most / 1e6:,.0f} MB of memory in all processes at most; {size / 1e6:,.0f} MB written")
    for machines in MACHINES:
        hours = _hours(took / schools * MANY / machines)
        print(
            f"{MANY:,} schools on {machines} such computers: {hours} by the clock, {size / schools * MANY / 1e9:.1f} GB"
        )
    places = sorted({path.parents[1] for path in folder.glob("out/*/*/made.json")})[:compare]
    wrong = 0
    for school in places:
        quiz = next(path for path in school.iterdir() if path.is_dir())
        alone = entries(make_alone(folder, school))
        wrong += differing(alone, {name: each for name, each in entries(quiz).items() if name != "made.json"})
    print(f"{len(places):,} quizzes made one by one: {wrong} differences")


def _hours(seconds: float) -> str:
    return f"{seconds / 3600:.2f} hours" if seconds > 600 else f"{seconds:.0f} s"


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("schools", nargs="?", type=int, default=6)
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--compare", type=int, default=1_000_000)
    parser.add_argument("--keep", type=Path)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        place = given.keep or Path(name)
        place.mkdir(parents=True, exist_ok=True)
        main(given.schools, given.workers, given.compare, place)
