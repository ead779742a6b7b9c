"""What banks of 100,000, 200,000 and a million items take: sorting, merging, filtering; and how that grows.

    python tests/benchmarks/bench_large_bank.py [ITEMS...]

Two banks of so many items each, half of them in both, are written line by line in no order. `bank merge` sorts each,
then merges both; `bank show` filters what comes of it. Prints seconds and peak memory of each command, and how many
times those of the first size they are. Nothing here is a test.
"""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from typing import Any

from barwright.bank.merging import bank_lines
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.items.item import item_content
from benchmarks.bench_bank import BLUEPRINT, QUIZ, entries, measures

CONDITIONS = (["meter=3/4", "ask=counts-for-rhythm"], ["tag=MU:Pr4.2.4b", "element=q."], ["difficulty>=20"])
USUAL = (100_000, 200_000, 1_000_000)


def contents(begin: int, end: int) -> Iterator[dict[str, Any]]:
    """Different contents by number: those of a real quiz with three measures in place of the excerpt."""
    blueprint, _ = read_blueprint(BLUEPRINT.read_text("utf-8"), BLUEPRINT.name)
    models = [item_content(placed.item) for made in made_forms(blueprint) for placed in made.form.items]
    pool = [(meter, sorted(set(texts))) for meter, texts in measures(blueprint).items()]
    for number in range(begin, end):
        rest, place = divmod(number * 7_919 % 60_000_000, len(pool))  # a prime, so that neighbors are unlike
        meter, texts = pool[place]
        chosen = []
        for _ in range(3):
            rest, place = divmod(rest, len(texts))
            chosen.append(texts[place])
        yield {**models[number % len(models)], "excerpt": f"{meter} {' | '.join(chosen)}", "target": f"{number}"}


def write(path: Path, name: str, begin: int, end: int) -> None:
    """A bank in no order, of so many items, in quizzes of fifteen, never more than some quizzes in memory."""

    def every() -> Iterator[Any]:
        many = QUIZ * 200
        rng = Random(name)
        run: list[dict[str, Any]] = []
        for content in contents(begin, end):
            run.append(content)
            if len(run) == many:
                yield from entries(run, f"{name} {rng.random()}")
                run = []
        yield from entries(run, name)

    with path.open("wb") as file:
        file.writelines(bank_lines(every()))


def measured(folder: Path, *arguments: object) -> tuple[float, float, float]:
    """Seconds by the clock, of the processor, and peak memory in MB of one command."""
    begin = time.perf_counter()
    run = [sys.executable, "-c", "from barwright.cli import run; run()", "bank", *map(str, arguments)]
    process = subprocess.Popen(run, stdout=subprocess.DEVNULL, cwd=folder)
    _, status, usage = os.wait4(process.pid, 0)
    assert status == 0, arguments
    return time.perf_counter() - begin, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def commands() -> dict[str, tuple[object, ...]]:
    """What is measured, by what it is called."""
    named: dict[str, tuple[object, ...]] = {
        "sort one": ("merge", "alder-mixed.jsonl", "-o", "alder.jsonl"),
        "sort the other": ("merge", "birch-mixed.jsonl", "-o", "birch.jsonl"),
        "merge": ("merge", "alder.jsonl", "birch.jsonl", "-o", "both.jsonl"),
    }
    for conditions in CONDITIONS:
        where = [text for each in conditions for text in ("--where", each)]
        named[f"show {' '.join(conditions)}"] = ("show", "both.jsonl", *where)
    return named


def main(counts: Sequence[int]) -> None:
    """Prints the measurements."""
    first: dict[str, tuple[float, float, float]] = {}
    for count in counts:
        with tempfile.TemporaryDirectory(dir=os.environ.get("TMPDIR")) as name:
            folder = Path(name)
            for who, begin in (("alder", 0), ("birch", count // 2)):
                path = folder / f"{who}-mixed.jsonl"
                # By another process, since the memory of a process that starts others counts as theirs.
                run = [sys.executable, __file__, "write", str(path), who, str(begin), str(begin + count)]
                subprocess.run(run, check=True)
            size = sum(path.stat().st_size for path in folder.glob("*.jsonl")) / 1e6
            times = f", {count / counts[0]:.0f} times the items" if count != counts[0] else ""
            print(f"{count:,} items in each of two banks, {size:,.0f} MB together{times}")
            for called, arguments in commands().items():
                took = measured(folder, *arguments)
                grown = [now / then for now, then in zip(took, first.setdefault(called, took), strict=True)]
                growth = f"  {grown[1]:5.1f} x processor, {grown[2]:4.2f} x memory" if count != counts[0] else ""
                print(
                    f"  {called:40} {took[0]:7.1f} s, processor {took[1]:7.1f} s, {took[2]:5.0f} MB{growth}", flush=True
                )


if __name__ == "__main__":
    if sys.argv[1:2] == ["write"]:
        write(Path(sys.argv[2]), sys.argv[3], int(sys.argv[4]), int(sys.argv[5]))
    else:
        main([int(n) for n in sys.argv[1:]] or USUAL)
