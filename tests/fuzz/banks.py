"""Banks and records that are none: `python tests/fuzz/banks.py 10000 [SEED]` prints numbers; 1 if any falls."""

import json
import random
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from barwright.bank.merging import bank_lines
from barwright.blueprint.parsing import read_blueprint
from barwright.errors import BarwrightError
from barwright.forms.assembly import made_forms
from barwright.showing import visible
from barwright.tasks.bank.add import add
from barwright.tasks.bank.files import entries_of
from barwright.tasks.record import read_record, read_record_text, record_text
from fuzz.faults_told import Run, examine
from items.demo import BEGINNERS, blueprint_text

TESTS = Path(__file__).parents[1]
BANK = TESTS.parent / "shared" / "banks" / "birch.jsonl"
MOST_ITEMS = 6
HUGE = 100_000
VALUES = (
    "null", "true", "false", "0", "-1", "1.5", "1e999", "NaN", "Infinity", "-Infinity", "9" * 5000, "-" + "9" * 30,
    '""', '"x"', '"\\u0000"', '"\\ud800"', '"\\u202e"', '"\\u001b[31m"', '"../../x"', "[]", "{}", "[[]]", "[0, 0]",
    '[1, "a"]', "[true]", '{"a": 1, "a": 2}', "[" * 3000, "[" * 3000 + "]" * 3000, '{"a":' * 3000,
    '"' + "x" * HUGE + '"',
    "[" + "0," * HUGE + "0]", "{", "}", '"', "", "None", "'x'", "0x10", "1_000", "1979-05-27",
)  # fmt: skip
SIGNS = ('"', "\\", "{", "}", "[", "]", ",", ":", "\n", "\r", "\x00", "\x1b", "\u2028", "é", "9", "e", "\ufeff", "-")


def record() -> str:
    """A small true record."""
    text = blueprint_text(BEGINNERS, "finish-measure", "counts-for-rhythm", items=2, more='sections = ["A", "B"]')
    blueprint, _ = read_blueprint(text, "b.toml")
    return record_text([made.form for made in made_forms(blueprint)], {})


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The path of everything in a JSON value."""
    if path:
        yield path
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in pairs:
        yield from places(each, (*path, key))


def with_value(line: str, path: tuple[Any, ...], value: str) -> str:
    """The line with this text in the place of a value."""
    found = json.loads(line)
    inner = found
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = mark = "\ue000here\ue000"
    return json.dumps(found, sort_keys=True, separators=(",", ":"), ensure_ascii=False).replace(f'"{mark}"', value)


def walked(lines: list[str]) -> Iterator[bytes]:
    """Every value of the header and of a line of items replaced by every value above."""
    for number in (0, 1):
        for path in places(json.loads(lines[number])):
            for value in VALUES:
                changed_line = with_value(lines[number], path, value)
                yield _file([*lines[:number], changed_line, *lines[number + 1 :]])


def _file(lines: Iterable[str]) -> bytes:
    return ("\n".join(lines) + "\n").encode("utf-8", "surrogatepass")


def changed(lines: list[str], rng: random.Random) -> bytes:
    """The lines with a few changes: values, keys, lines, signs, or the coding."""
    rows = list(lines)
    for _ in range(rng.randrange(1, 4)):
        at = rng.randrange(len(rows))
        kind = rng.randrange(6)
        try:
            paths = list(places(json.loads(rows[at])))
        except (ValueError, RecursionError):
            paths = []
        if kind == 0 and paths:
            rows[at] = with_value(rows[at], rng.choice(paths), rng.choice(VALUES))
        elif kind == 1:
            rows.insert(at, rng.choice([rows[at], *VALUES]))
        elif kind == 2 and len(rows) > 1:
            del rows[at]
        elif kind == 3:
            rows[at] = rows[at].replace(':"', f':{rng.choice(VALUES[:20])},"x":"', 1)
        else:
            place = rng.randrange(len(rows[at]) + 1)
            rows[at] = rows[at][:place] + rng.choice(SIGNS) + rows[at][place + rng.randrange(3) :]
    content = _file(rows)
    if rng.randrange(20) == 0:
        place = rng.randrange(len(content) + 1)
        content = content[:place] + rng.randbytes(rng.randrange(1, 9)) + content[place:]
    return content.decode("utf-8", "replace").encode("utf-16-le") if rng.randrange(100) == 0 else content


def record_messages(folder: Path) -> Any:
    """What is told when a record of some content is read, and then added to a bank."""

    def messages(content: bytes) -> list[str]:
        path, bank = folder / "record.jsonl", folder / "new.jsonl"
        path.write_bytes(content)
        bank.unlink(missing_ok=True)
        try:
            read_record(read_record_text(path), "record.jsonl")
            add(path, bank)
        except BarwrightError as error:
            return [visible(str(error).replace(str(folder), ""))]
        return []

    return messages


def bank_messages(folder: Path) -> Any:
    """What is told when a bank of some content is read through, and written anew."""

    def messages(content: bytes) -> list[str]:
        path = folder / "bank.jsonl"
        path.write_bytes(content)
        try:
            with entries_of(path) as (entries, faults):
                for _ in bank_lines(entries, lambda: faults.kept):
                    pass
                return [visible(each.replace(str(folder), "")) for each in faults.told]
        except BarwrightError as error:
            return [visible(str(error).replace(str(folder), ""))]

    return messages


def fuzzed(count: int, seed: int = 1, *, walk: bool = True) -> dict[str, Run]:
    """A run of so many changed files of each kind, after the walk through all values."""
    rng = random.Random(seed)
    bank = BANK.read_text("utf-8").split("\n")[: MOST_ITEMS + 1]
    runs = {}
    with TemporaryDirectory() as name:
        for kind, lines, messages in (
            ("banks", bank, bank_messages(Path(name))),
            ("records", record().splitlines()[: MOST_ITEMS + 1], record_messages(Path(name))),
        ):
            run = runs[kind] = Run()
            for content in walked(lines) if walk else ():
                examine(run, content, messages)
            for _ in range(count):
                examine(run, changed(lines, rng), messages)
    return runs


if __name__ == "__main__":
    wanted = [int(each) for each in sys.argv[1:]]
    done = fuzzed(*(wanted or [10_000]))
    for kind, run in done.items():
        print(run.told(kind))
    sys.exit(1 if any(run.falls for run in done.values()) else 0)
