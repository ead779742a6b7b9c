"""Seconds from the command to the first page of the desk and of each click, on the demo folder; and its memory.

    python tests/benchmarks/bench_desk.py

Aimed at under 1 s to the first page, 200 ms a click, 250 MB. A click that comes with the first page waits for what is
loaded behind it; a teacher's comes a second later at the soonest, when it is loaded.
"""

import re
import shutil
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent

if TYPE_CHECKING:
    from desk.opened_desk import Desk

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
        for pause in (0.0, 1.0, 2.0):
            begun = time.perf_counter()
            with opened_desk(folder, Path(place) / "state") as desk:
                print(f"first page           {time.perf_counter() - begun:8.2f} s")
                time.sleep(pause)
                print(f"first click {pause:.0f} s later {_milliseconds(desk, f'/plan/{PLAN}'):8.0f} ms")
                if pause == 2.0:
                    _clicks(desk)


def _milliseconds(desk: "Desk", path: str) -> float:
    """How long a page takes."""
    start = time.perf_counter()
    assert desk.get(path).status == 200
    return 1000 * (time.perf_counter() - start)


def _clicks(desk: "Desk") -> None:
    """Prints a line for each page, and the memory in the end."""
    quiz, bank = f"/quiz/{PLAN}", "/bank/maple-hollow.jsonl"
    others = re.findall(r'href="([^"]*/others/2\?seen=\w+)"', desk.get(f"{quiz}/proof/1").text)[0]
    pages = ("/", f"/plan/{PLAN}", f"/plan/{PLAN}/make", quiz, f"{quiz}/proof/1", others, f"{quiz}/answers", bank)
    narrow = re.findall(r'href="(/bank/[^"]*meter[^"]*)"', desk.get(bank).text)[0]
    for path in (*pages, narrow, "/help/commands"):
        first, *more = (_milliseconds(desk, path) for _ in range(3))
        print(f"{path.partition('?')[0]:<52} first {first:6.0f} ms, then {min(more):6.0f} ms")
    status = Path(f"/proc/{desk.process.pid}/status")
    if status.is_file():
        peak = next(line for line in status.read_text("utf-8").splitlines() if line.startswith("VmHWM"))
        print(f"memory               {int(peak.split()[1]) / 1000:8.0f} MB")


if __name__ == "__main__":
    main()
