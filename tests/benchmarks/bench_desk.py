"""Seconds from the command to the first page of the desk and of each click, on the demo folder; and its memory.

    python tests/benchmarks/bench_desk.py

Aimed at under 1 s to the first page, 200 ms a click, 250 MB.
"""

import shutil
import sys
import tempfile
import time
from pathlib import Path

from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests"))
PLAN = "unit-1-half-notes-and-rests"


def main() -> None:
    """Prints a line for each."""
    from desk.opened_desk import opened_desk

    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "quizzes"
        shutil.copytree(ROOT / "shared" / "blueprints", folder)
        shutil.copy(ROOT / "shared" / "banks" / "maple-hollow.jsonl", folder)
        make(folder / f"{PLAN}.toml", Order(folder / "out"), progress=silent)
        begun = time.perf_counter()
        with opened_desk(folder, Path(place) / "state") as desk:
            print(f"first page           {time.perf_counter() - begun:8.2f} s")
            quiz = f"/quiz/{PLAN}"
            for path in (
                f"/plan/{PLAN}",
                f"/plan/{PLAN}/make",
                quiz,
                f"{quiz}/proof/1",
                f"{quiz}/proof/1/others/2",
                f"{quiz}/answers",
                "/bank/maple-hollow.jsonl",
                "/help/commands",
            ):
                times = []
                for _ in range(3):
                    start = time.perf_counter()
                    assert desk.get(path).status == 200
                    times.append(1000 * (time.perf_counter() - start))
                print(f"{path:<48} first {times[0]:6.0f} ms, then {min(times[1:]):6.0f} ms")
            status = Path(f"/proc/{desk.process.pid}/status")
            if status.is_file():
                peak = next(line for line in status.read_text("utf-8").splitlines() if line.startswith("VmHWM"))
                print(f"memory               {int(peak.split()[1]) / 1000:8.0f} MB")


if __name__ == "__main__":
    main()
