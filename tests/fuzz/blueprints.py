"""Blueprints that are none: `python tests/fuzz/blueprints.py 20000 [SEED]` prints numbers; 1 if any falls."""

import random
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from barwright.blueprint.parsing import examined, told
from barwright.errors import BarwrightError
from barwright.showing import visible
from barwright.tasks.files import decoded
from fuzz.faults_told import Run, examine

TESTS = Path(__file__).parents[1]
DEMOS = sorted((TESTS.parent / "shared" / "blueprints").glob("*.toml"))
KEYS = {
    "": "title language seed sections sections_file sections_column sections_where elements conventions quiz part "
    "curriculum difficulty",
    "elements": "meters notes rests dots double_dots rest_dots triplets ties syncopation",
    "quiz": "choices fewer_choices shuffle points_per_item feedback credit draw variants",
    "part": "family ask items points choices measures meters misreadings",
    "conventions": "counting held rest_counts triplet compound cut_time three_eight strict_middle",
    "difficulty": "sounds rests offbeats dots ties unequal_meter",
    "curriculum": "beats-left count-labeling",
}
VALUES = (
    '""', '"x"', '"a\\u0000b"', '"\\u202e"', '"../../etc/shadow"', '"/dev/zero"', "'''\nx\n'''", "0", "-1", "3", "0x10",
    "9223372036854775808", "1.5", "1e999", "-inf", "nan", "1_000", "true", "false", "1979-05-27", "07:32:00",
    "1979-05-27T07:32:00Z", "1979-05-27 07:32:00.123456-07:00", "[]", "[[]]", "[1]", '["x"]', '["3/4", 5]', "[{}]",
    "{}",
    "{a = 1}", "{a = {b = []}}", '[["half"]]', '"half"', '["half"]', '["3/4"]', '["12/2", "4+4+4/2"]',
    # what is no TOML
    "", "True", "None", "half", "3/4", '"x', "x'", "[", "]", "{", "1 2", "2025-02-30", "25:61:00", "“x”", "=", "#",
    "\\",
    "9" * 5000, "0x" + "f" * 5000, "0o" + "7" * 5000, "0b" + "1" * 5000, "1_" * 2500 + "1", "1." + "0" * 5000,
    "1e" + "9" * 5000, "[" * 3000, "[" * 3000 + "]" * 3000, "{a=" * 3000, "{" + ".".join("a" * 10_000) + "=1}",
    '"' + "x" * 100_000 + '"', "[" + "1," * 50_000 + "]", '["' + '", "'.join(map(str, range(5000))) + '"]',
)  # fmt: skip
LINES = (
    ".".join("a" * 10_000) + " = 1", "[" + ".".join("a" * 10_000) + "]", "[[" + ".".join("b" * 20_000) + "]]",
    "[elements]",
    "[[elements]]", "[part]", "[[part]]", "[quiz", "quiz]", "[[part]", "\ufeff", "\u2028", "\x00", "\x1b[31m", "x = 1",
    '"" = 1', "'' = 1", '"a.b".c = 1', "part.x = 1", "elements.meters.x = 1", "part = 5", "title.x = 1", "[title]",
    "a = 1\n" * 9_000, "[[part]]\n" * 200, "[a]\n" * 300, '"""', "'''", "\r", "\t", "# [[[[", "日本 = 1",
    '"\\u001b[1m" = 1',
)  # fmt: skip


def walked() -> Iterator[bytes]:
    """Every key with every value, and every line, in a sound blueprint."""
    for table, keys in KEYS.items():
        for key in keys.split():
            for value in VALUES:
                yield with_value(DEMOS[0].read_text("utf-8"), table, key, value).encode()
    for line in LINES:
        yield f"{line}\n{DEMOS[0].read_text('utf-8')}".encode("utf-8", "surrogatepass")
        yield f"{DEMOS[0].read_text('utf-8')}\n{line}\n".encode("utf-8", "surrogatepass")


def with_value(text: str, table: str, key: str, value: str) -> str:
    """The text with this value for a key, in the place of its old line if it has one."""
    rows, head, place = text.split("\n"), "", None
    for number, row in enumerate(rows):
        if row.startswith("["):
            head = row.strip("[]")
        if head == table and row.split("=")[0].strip() == key:
            rows[number] = f"{key} = {value}"
            return "\n".join(rows)
        if head == table and (row.startswith("[") or not table):
            place = number
    if place is None:
        return "\n".join([*rows, f"[{table}]", f"{key} = {value}"])
    return "\n".join([*rows[: place + 1], f"{key} = {value}", *rows[place + 1 :]])


def changed(rng: random.Random) -> bytes:
    """A demo with a few changes: values, lines, bytes, or its coding."""
    text = rng.choice(DEMOS).read_text("utf-8")
    for _ in range(rng.randrange(1, 4)):
        kind = rng.randrange(6)
        rows = text.split("\n")
        at = rng.randrange(len(rows))
        if kind == 0:
            table = rng.choice(list(KEYS))
            text = with_value(text, table, rng.choice(KEYS[table].split()), rng.choice(VALUES))
        elif kind == 1:
            text = "\n".join([*rows[:at], rng.choice(LINES), *rows[at:]])
        elif kind == 2:
            text = "\n".join([*rows[:at], *rows[at + 1 :]])
        elif kind == 3:
            text = "\n".join([*rows[:at], rows[at], *rows[at:]])
        else:
            place = rng.randrange(len(text) + 1)
            sign = rng.choice(["", '"', "'", "[", "]", "{", "}", "=", ".", ",", "#", "\\", "\n", "\x1b", "é", "9", "“"])
            text = text[:place] + sign + text[place + rng.randrange(3) :]
    coding = rng.choice(
        ["utf-8"] * 30 + ["utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-32-be", "latin-1", "cp437"]
    )
    content = text.encode(coding, "replace")
    if rng.randrange(20) == 0:
        place = rng.randrange(len(content) + 1)
        content = content[:place] + rng.randbytes(rng.randrange(1, 9)) + content[place:]
    return rng.choice([b"PK\x03\x04", b"%PDF-1.7\n", b"\x89PNG\r\n"]) + content if rng.randrange(200) == 0 else content


def messages(content: bytes) -> list[str]:
    """All that is told of a blueprint of this content, as the command prints it."""
    try:
        found = examined(decoded(content, Path("b.toml"), "blueprint"), "b.toml")
    except BarwrightError as error:
        return [visible(str(error))]
    return [visible(fault) for fault in told(found.faults, found.source)]


def fuzzed(count: int, seed: int = 1, *, walk: bool = True) -> Run:
    """A run of so many changed blueprints, after the walk through all keys."""
    run, rng = Run(), random.Random(seed)
    for content in walked() if walk else ():
        examine(run, content, messages)
    for _ in range(count):
        examine(run, changed(rng), messages)
    return run


if __name__ == "__main__":
    wanted = [int(each) for each in sys.argv[1:]]
    done = fuzzed(*(wanted or [20_000]))
    print(done.told("blueprints"))
    sys.exit(1 if done.falls else 0)
