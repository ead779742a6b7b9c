"""What a text must keep to before it is given to a TOML reader, which would take very long, or all memory, for some.

One look at each sign, from the first to the last: depth of brackets, parts of a dotted key, length of a number, length
of a line. What stands in quotes or behind # is passed over, so no title is too strange.
"""

import re
from collections.abc import Iterator

MOST_DEEP = 12
MOST_KEY_PARTS = 12
MOST_NUMBER = 40  # signs: a date with its time and zone has 32
MOST_LINE = 20_000
MOST_LINES = 10_000

# The texts of TOML 1.0, whether ended or not, and comments; then runs of plain letters, and what is counted.
_TOKEN = re.compile(
    r'"""(?:[^\\"]|\\.|"(?!""))*(?:"{3,5})?|\'\'\'(?:[^\']|\'(?!\'\'))*(?:\'{3,5})?'
    r'|"(?:[^\\"\n]|\\[^\n])*"?|\'[^\'\n]*\'?|#[^\n]*|[A-Za-z0-9_+-]+|[\[\]{}.=,\n]',
    re.DOTALL,
)
_NUMBER = re.compile(r"[+-]?[0-9]")

Place = tuple[int, str]
"""A line from 1, and what is wrong there."""


def bounds_faults(text: str) -> Iterator[Place]:
    """Whatever goes beyond a bound, with its line.

    >>> list(bounds_faults('title = "[[[[[[[[[[[[[[[[" # [[[[[[[[[[[[[[[['))
    []
    >>> list(bounds_faults("a = " + "[" * 13))
    [(1, 'over 12 brackets stand inside each other: take some out')]
    """
    rows = text.split("\n")
    yield from _token_faults(text)
    for number, row in enumerate(rows, start=1):
        if len(row) > MOST_LINE:
            yield number, f"the line has {len(row):,} letters, over {MOST_LINE:,}: is this the right file?"
    if len(rows) > MOST_LINES:
        yield MOST_LINES, f"there are over {MOST_LINES:,} lines: a blueprint is a short text; is this the right file?"


def _token_faults(text: str) -> Iterator[Place]:
    line, deep, dots = 1, 0, 0
    for match in _TOKEN.finditer(text):
        token = match[0]
        if token == "\n":
            line, dots = line + 1, 0
        elif token in "[{":
            deep, dots = deep + 1, 0
            if deep > MOST_DEEP:
                yield line, f"over {MOST_DEEP} brackets stand inside each other: take some out"
        elif token in "]}":
            deep = max(deep - 1, 0)
        elif token in "=,":
            dots = 0
        elif token == ".":
            dots += 1
            if dots >= MOST_KEY_PARTS:
                yield line, f"a key has over {MOST_KEY_PARTS} parts with dots between them: shorten it"
        elif token[0] in "\"'":
            line += token.count("\n")
        elif len(token) > MOST_NUMBER and _NUMBER.match(token):
            yield line, f"a number has over {MOST_NUMBER} digits: write a smaller one"
