"""What is wrong in a plan, in the language of the page: messages found again in a list, with what stands in them.

The rooms below say their messages in English alone; `templates/reference/faults/LANGUAGE.toml` has them in another
language. One that is not there stays in English.
"""

import re
import tomllib
from dataclasses import dataclass
from functools import cache

from barwright.templates_folder import templates_folder

_NAME = re.compile(r"\\\{(\w+)\\\}")
_PLACE = re.compile(r"(?P<file>.*?), line (?P<line>\d+): (?P<fault>.*)", re.DOTALL)
_ENTRY = re.compile(r"\(entry (\d+)\)")
_INNER = ("mend", "why")


@dataclass(frozen=True, slots=True)
class _Words:
    """The messages of a language with what they are in English, how it says where a fault stands, and which entry."""

    known: tuple[tuple[re.Pattern[str], str], ...]
    place: str
    entry: str


def fault_in(line: str, code: str) -> str | None:
    """A message in a language, with the file and the line before it; None where it is not known in that.

    >>> fault_in("quiz.toml, line 3: 'itmes' is not a key here: did you mean 'items'?", "es")
    "quiz.toml, línea 3: 'itmes' no es una clave de aquí: ¿quería decir 'items'?"
    >>> fault_in("quiz.toml: something else", "es") is None
    True
    """
    words, place = _words(code), _PLACE.fullmatch(line)
    if words is None:
        return None
    fault = None if place is None else _told(place["fault"], words)
    if place is None or fault is None:
        return _told(line, words)
    return f"{words.place.format(**place.groupdict())}: {fault}"


def _told(text: str, words: _Words) -> str | None:
    """The first message that fits; one whose inner message is not known does not."""
    for pattern, said in words.known:
        found = pattern.fullmatch(text)
        if found is None:
            continue
        parts = {name: _told(part, words) if name in _INNER else part for name, part in found.groupdict().items()}
        if None not in parts.values():
            return _ENTRY.sub(lambda entry: words.entry.format(n=entry[1]), said.format(**parts))
    return None


@cache
def _words(code: str) -> _Words | None:
    """The messages of a language; None if it says none."""
    path = templates_folder() / "reference" / "faults" / f"{code}.toml"
    if not path.is_file():
        return None
    table = tomllib.loads(path.read_text("utf-8"))
    known = tuple((_pattern(english), said) for english, said in table["fault"])
    return _Words(known, table["place"], table["entry"])


def _pattern(english: str) -> re.Pattern[str]:
    return re.compile(_NAME.sub(r"(?P<\1>.+?)", re.escape(english)), re.DOTALL)
