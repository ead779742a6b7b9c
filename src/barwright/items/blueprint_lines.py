"""Where each key of a TOML text stands, so that a fault can name its line."""

import re
from dataclasses import dataclass

Path = tuple[str | int, ...]
Fault = tuple[Path, str]

_TABLES = re.compile(r"\s*\[\[\s*([\w-]+)\s*\]\]")
_TABLE = re.compile(r"\s*\[\s*([\w-]+)\s*\]")
_KEY = re.compile(r"""\s*(?:"([^"]+)"|'([^']+)'|([\w-]+))\s*=""")


@dataclass(frozen=True, slots=True)
class Source:
    """A named text and the line of each key path in it, both as a teacher would name them."""

    name: str
    lines: dict[Path, int]

    def line(self, path: Path) -> int:
        """The line of the path, or of the nearest table or key around it; 1 if there is none."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)

    def fault(self, path: Path, text: str) -> str:
        """One message: file, line, what is wrong and how to mend it."""
        return f"{self.name}, line {self.line(path)}: {text}"


def source_of(text: str, name: str) -> Source:
    """The lines of all keys and tables of a TOML text; tables in double brackets are numbered from 0.

    >>> source_of('title = "x"\\n[[part]]\\nask = "y"', "b.toml").line(("part", 0, "ask"))
    3
    """
    lines: dict[Path, int] = {}
    prefix: Path = ()
    counts: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        if match := _TABLES.match(line):
            index = counts.get(match[1], 0)
            counts[match[1]] = index + 1
            prefix = (match[1], index)
            lines.setdefault((match[1],), number)
            lines[prefix] = number
        elif match := _TABLE.match(line):
            prefix = (match[1],)
            lines[prefix] = number
        elif match := _KEY.match(line):
            lines.setdefault((*prefix, match[1] or match[2] or match[3]), number)
    return Source(name, lines)
