"""How long banks of 10,000, 30,000 and 100,000 items take: merge of two, show with conditions, adding to one.

    python tests/benchmarks/bench_bank.py [ITEMS...]

Prints seconds and peak memory of each command, run as a teacher runs it. The items are of the right shape and wrong
music: contents of a real quiz with other excerpts, so that all are different. Half of each bank is in the other too,
with other records. Nothing here is a test.
"""

import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from operator import attrgetter
from pathlib import Path
from random import Random
from typing import Any

from barwright.asks.drawn_excerpts import readable_measure
from barwright.bank.entries import Entry, canonical, ident_of
from barwright.bank.merging import bank_lines
from barwright.bank.records import pairs_of, record_of
from barwright.blueprint.blueprint import Blueprint, plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.items.item import item_content
from barwright.rhythm.text import format_symbols

BLUEPRINT = Path(__file__).parents[2] / "shared" / "blueprints" / "unit-2-eighths-and-dotted-quarters.toml"
QUIZ = 15
CONDITIONS = (
    [],
    ["ask=counts-for-rhythm", "meter=3/4"],
    ["misreading=rests-take-no-time", "review=approved"],
    ["element=q.", "section!=Period 3", "tag=MU:Pr4.2.4b"],
    ["difficulty>=20", "offbeats<=3"],
)


def measures(blueprint: Blueprint) -> dict[str, list[str]]:
    """Three hundred legal measures of each meter, as rhythm text."""
    space, rng = plan_of(blueprint.part[0], blueprint).space, Random(0)
    return {
        str(meter): [format_symbols(readable_measure(space, meter, rng)) for _ in range(300)] for meter in space.meters
    }


def contents(count: int) -> list[dict[str, Any]]:
    """So many different contents: those of a real quiz, each with three measures in place of its excerpt."""
    blueprint, _ = read_blueprint(BLUEPRINT.read_text("utf-8"), BLUEPRINT.name)
    models = [item_content(placed.item) for made in made_forms(blueprint) for placed in made.form.items]
    pool, rng = measures(blueprint), Random(1)
    found = {}
    while len(found) < count:
        meter = rng.choice(list(pool))
        excerpt = f"{meter} {' | '.join(rng.choice(pool[meter]) for _ in range(3))}"
        found[excerpt] = {**models[len(found) % len(models)], "excerpt": excerpt}
    return list(found.values())


def quiz_records(teacher: str, rng: Random) -> list[Any]:
    """What all items of one quiz have: a source, a tag, and one to three uses."""
    date, title = f"2025-0{rng.randint(1, 9)}-1{rng.randint(0, 9)}", f"Check {rng.randint(1, 999)}"
    tag = record_of("tag", tag=rng.choice(("MU:Pr4.2.4a", "MU:Pr4.2.4b")))
    records = [tag, record_of("source", by=teacher, date=date, title=title, made_by="barwright 0.1.0")]
    for _ in range(rng.randint(1, 3)):
        form, section = f"f{rng.getrandbits(60):016x}", f"Period {rng.randint(1, 8)}"
        records.append(record_of("usage", by=teacher, date=date, title=title, form=form, section=section))
    return records


def entries(chosen: Sequence[dict[str, Any]], teacher: str) -> Iterator[Entry]:
    """An entry for each content, in quizzes of fifteen; three of ten items are reviewed."""
    rng = Random(teacher)
    for begin in range(0, len(chosen), QUIZ):
        records = quiz_records(teacher, rng)
        for content in chosen[begin : begin + QUIZ]:
            text, said = canonical(content), rng.choice(("", "good", 'says "which" twice', f"see {rng.random()}"))
            review = record_of("review", by=teacher, date="2025-09-30", text=said, verdict="approve")
            yield Entry(ident_of(text), text, pairs_of([*records, *([review] if rng.random() < 0.3 else [])]))


def write_banks(folder: Path, count: int) -> None:
    """Two banks of so many items, half of them in both."""
    made = contents(count * 3 // 2)
    for name, chosen in (("alder", made[:count]), ("birch", made[count // 2 :])):
        with (folder / f"{name}.jsonl").open("wb") as file:
            file.writelines(bank_lines(sorted(entries(chosen, name), key=attrgetter("id"))))


def measured(*arguments: object) -> str:
    """Seconds by the clock and of the processor, and peak memory, of one command."""
    begin = time.perf_counter()
    command = [str(Path(sys.executable).with_name("barwright")), "bank", *map(str, arguments)]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    assert status == 0, arguments
    seconds, busy = time.perf_counter() - begin, usage.ru_utime + usage.ru_stime
    return f"{seconds:6.2f} s (processor {busy:6.2f} s) {usage.ru_maxrss / 1024:5.0f} MB"


def main(counts: Sequence[int]) -> None:
    """Prints the measurements."""
    for count in counts:
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            # By another process, since the memory of a process that starts others counts as theirs.
            subprocess.run([sys.executable, __file__, "write", name, str(count)], check=True)
            one, other = folder / "alder.jsonl", folder / "birch.jsonl"
            sizes = sum(path.stat().st_size for path in (one, other)) / 1e6
            print(f"{count:,} items in each of two banks, {sizes:.0f} MB together")
            print(f"  merge           {measured('merge', one, other, '-o', folder / 'c.jsonl')}")
            for conditions in CONDITIONS:
                where = [text for each in conditions for text in ("--where", each)]
                print(f"  show            {measured('show', one, *where)}  {' '.join(conditions)}")
            where = ["--where", f"id={first_id(one)}"]
            print(f"  review one item {measured('review', one, *where, '--approve')}", flush=True)


def first_id(path: Path) -> str:
    """The id in the second line of a bank."""
    with path.open("rb") as file:
        next(file)
        return str(json.loads(next(file))["id"])


if __name__ == "__main__":
    if sys.argv[1:2] == ["write"]:
        write_banks(Path(sys.argv[2]), int(sys.argv[3]))
    else:
        main([int(n) for n in sys.argv[1:]] or [10_000, 30_000, 100_000])
