"""How commands say things: numbers with their nouns, and paths that can be pasted into a command line."""

import shlex
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path


def counted(number: int, noun: str) -> str:
    """The number with its noun, in the plural where there is not one.

    >>> counted(1, "bank"), counted(1200, "item")
    ('1 bank', '1,200 items')
    """
    return f"{number:,} {noun}{'' if number == 1 else 's'}"


def listed(words: Iterable[str], last: str = "or") -> str:
    """Words as a list with `or` (or another word) before the last.

    >>> listed(["a", "b", "c"]), listed("a")
    ('a, b or c', 'a')
    """
    *others, end = words
    return f"{', '.join(others)} {last} {end}" if others else end


def quoted(path: Path | str) -> str:
    """The path as it can be pasted behind a command, in quotes where it needs them.

    >>> quoted("unit-1.toml"), quoted("grade 4.toml"), quoted("-x.toml")
    ('unit-1.toml', "'grade 4.toml'", './-x.toml')
    """
    text = str(path)
    if text.startswith("-"):
        text = f"./{text}"  # else it would be taken for an option
    return subprocess.list2cmdline([text]) if sys.platform == "win32" else shlex.quote(text)
