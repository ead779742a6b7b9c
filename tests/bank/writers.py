"""One teacher who adds quizzes to a bank all the time; many of them at once are the test of sharing.

    python tests/bank/writers.py 20 60     twenty of them for a minute, then everything is looked up

As a child process: `one BANK FOLDER NAME SECONDS MOST` adds until the time is over or so many are added, and prints
what was added after each time. Only what is printed has been promised.
"""

import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TypeAlias

sys.path.insert(0, str(Path(__file__).parents[1]))

from bank.demo_bank import demo_items
from barwright.asks.item_content import parsed_item
from barwright.bank.views import View
from barwright.forms.assembly import form_ident
from barwright.items.form import Form, FormItem
from barwright.items.item import Item, item_content
from barwright.tasks.bank.add import add
from barwright.tasks.bank.files import entries_of
from barwright.tasks.record import record_text

CONTENTS = "contents.json"
Process: TypeAlias = "subprocess.Popen[str]"


def write_record(folder: Path, item: Item, name: str, number: int) -> tuple[Path, str]:
    """A record of one item given to one section, and its line of promise: item id and section."""
    section = f"{name} {number}"
    placed = (FormItem(item, tuple(range(len(item.choices))), 1, 1),)
    form = Form("Check", section, "en-US", True, True, placed, form_ident("Check", placed))
    path = folder / f"{name}.jsonl"
    path.write_text(record_text([form], {}), "utf-8")
    return path, f"{item.id} {section}"


def write_on(bank: Path, folder: Path, name: str, *, seconds: float, most: int) -> None:
    """Adds and promises until the time is over or so many are added."""
    items = [parsed_item(content) for content in json.loads((folder / CONTENTS).read_text("utf-8"))]
    end = time.monotonic() + seconds
    for number in range(most):
        item = items[(sum(map(ord, name)) * 7 + number) % len(items)]
        record, promise = write_record(folder, item, name, number)
        add(record, bank, source=name)
        print(promise, flush=True)
        if time.monotonic() > end:
            return


def started(bank: Path, folder: Path, name: str, *, seconds: float = 60.0, most: int = 10_000) -> Process:
    """A process that writes on."""
    if not (folder / CONTENTS).exists():
        (folder / CONTENTS).write_text(json.dumps([item_content(item) for item in demo_items()]), "utf-8")
    command = [sys.executable, __file__, "one", bank, folder, name, seconds, most]
    return subprocess.Popen([str(part) for part in command], stdout=subprocess.PIPE, text=True)


def broken_promises(bank: Path, promises: Iterable[str]) -> tuple[list[str], int]:
    """The promises that a bank does not keep, and its number of items; fails if a line cannot be read."""
    with entries_of(bank) as (entries, faults):
        kept = {entry.id: View(entry).named("usage", "section") for entry in entries}
    assert faults.told == (), faults.told
    split = (promise.split(" ", 1) for promise in promises)
    return [f"{ident} {section}" for ident, section in split if section not in kept.get(ident, ())], len(kept)


def main(processes: int, seconds: float) -> None:
    """Many at once, then everything that was promised is looked up."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        bank = folder / "bank.jsonl"
        writers = [started(bank, folder, f"teacher-{n}", seconds=seconds) for n in range(processes)]
        promises = [line for writer in writers for line in writer.communicate()[0].splitlines()]
        codes = {writer.returncode for writer in writers}
        broken, items = broken_promises(bank, promises)
        left = sorted(path.name for path in folder.iterdir() if path.name.startswith(".barwright"))
        print(f"{processes} processes, {seconds:.0f} s, exit codes {codes}: {len(promises)} additions promised, "
              f"{len(broken)} lost; {items} items, {bank.stat().st_size} bytes, left behind: {left}")  # fmt: skip


def run(arguments: Sequence[str]) -> None:
    """The command line."""
    if arguments[0] == "one":
        bank, folder, name, seconds, most = arguments[1:]
        write_on(Path(bank), Path(folder), name, seconds=float(seconds), most=int(most))
    else:
        main(int(arguments[0]), float(arguments[1]))


if __name__ == "__main__":
    run(sys.argv[1:])
