"""Where each key of a TOML text stands, so that a fault can name its line."""

import re
from dataclasses import dataclass

from barwright.blueprint.toml_words import toml_words
from barwright.showing import shown

Path = tuple[str | int, ...]
Fault = tuple[Path, str]

_TABLES = re.compile(r"\s*\[\[\s*([\w-]+)\s*\]\]")
_TABLE = re.compile(r"\s*\[\s*([\w-]+(?:\.[\w-]+)*)\s*\]")
_LISTED = re.compile(r"""("[^"]*"|'[^']*')|#.*|\]""")
_KEY = re.compile(r"""\s*(?:"([^"]+)"|'([^']+)'|([\w-]+))\s*=""")

# How tomllib says where a fault is; else it is at the end of the document.
_PLACE = re.compile(r"line (\d+), column (\d+)\)")
_COMMENT = re.compile(r"""^((?:[^"#]|"[^"]*")*)#.*""")
_CURLY = "[“”„‟‘’‚‛]"
# A curly quote where a value begins or ends: inside a text in straight quotes it is a letter as any other.
_FOR_STRAIGHT = re.compile(rf"(?:^|[=\[{{,])\s*({_CURLY})|({_CURLY})\s*(?:$|[=\]}},])")


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
    """The lines of all keys and tables of a TOML text; tables in double brackets, and texts in a list, from 0.

    >>> source_of('title = "x"\\n[[part]]\\nask = "y"', "b.toml").line(("part", 0, "ask"))
    3
    >>> source_of('names = [\\n"x", # "z"\\n"y"]', "b.toml").line(("names", 1))
    3
    """
    lines: dict[Path, int] = {}
    prefix: Path = ()
    counts: dict[str, int] = {}
    listed: Path = ()  # the key whose list goes on
    for number, line in enumerate(text.split("\n"), start=1):
        if listed:
            listed = _entries(line, number, listed, lines)
        elif match := _TABLES.match(line):
            index = counts.get(match[1], 0)
            counts[match[1]] = index + 1
            prefix = (match[1], index)
            lines.setdefault((match[1],), number)
            lines[prefix] = number
        elif match := _TABLE.match(line):
            prefix = (match[1],)
            lines[prefix] = number
        elif match := _KEY.match(line):
            path = (*prefix, match[1] or match[2] or match[3])
            lines.setdefault(path, number)
            value = line[match.end() :].lstrip()
            listed = _entries(value[1:], number, path, lines) if value.startswith("[") else ()
    return Source(name, lines)


def _entries(text: str, number: int, path: Path, lines: dict[Path, int]) -> Path:
    """Notes the line of each text of a list; the path of the list if it goes on in the next line, else nothing."""
    count = sum(len(each) == len(path) + 1 and each[:-1] == path for each in lines)
    for found in _LISTED.finditer(text):
        if found[1]:
            lines.setdefault((*path, count), number)
            count += 1
        elif found[0] == "]":
            return ()
    return path


def toml_faults(error: str, text: str, name: str) -> tuple[Source, list[Fault]]:
    """What the TOML reader says, in our words, each fault with its line."""
    what, _, where = error.rpartition(" (at ")
    place = _PLACE.fullmatch(where)
    rows = text.rstrip("\n").split("\n")
    line = int(place[1]) if place else len(rows)
    row = rows[line - 1] if line <= len(rows) else ""
    twice = what.startswith(("Cannot declare", "Cannot overwrite"))
    single = _single_brackets(rows) if twice and _table_name(row) == "part" else []
    if single:
        faults = [(number, two_brackets("part")) for number in single]
    elif twice and (known := _table_name(row)):
        faults = [(line, f"[{known}] stands twice: put all its keys under one of them")]
    elif twice and (key := _KEY.match(row)):
        faults = [(line, f"{shown(key[1] or key[2] or key[3])} stands twice: take one of them out")]
    elif curly := _FOR_STRAIGHT.search(_COMMENT.sub(r"\1", row)):
        faults = [(line, f'{curly[1] or curly[2]} is a curly quote: use straight quotes, as in "half"')]
    else:
        faults = [toml_words(text, line, what or error)]
    lines: dict[Path, int] = {(index,): number for index, (number, _) in enumerate(faults)}
    return Source(name, lines), [((index,), fault) for index, (_, fault) in enumerate(faults)]


def two_brackets(name: str) -> str:
    """What is wrong with a table in single brackets that may stand several times, and the mend."""
    return f"[{name}] has one pair of brackets: write [[{name}]], with two"


def _single_brackets(rows: list[str]) -> list[int]:
    """The lines of all parts in single brackets."""
    return [n for n, row in enumerate(rows, start=1) if not _TABLES.match(row) and _table_name(row) == "part"]


def _table_name(row: str) -> str:
    match = _TABLES.match(row) or _TABLE.match(row)
    return match[1] if match else ""
