"""What lies in a teacher's folder: plans, banks, and the quizzes that were made."""

import json
import tomllib
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from barwright.blueprint.names import folder_name
from barwright.errors import BarwrightError
from barwright.inputs import content_of
from barwright.tasks.files import read_text
from barwright.tasks.form_folders import RECORD

OUT = "out"
"""Where `make` puts quizzes, in the folder that it is run in."""
MOST_LISTED = 500
MOST_NAME = 60
MOST_BYTES = 200_000_000
_HEAD_BYTES = 20_000
_RESULTS = "results/report.html"


@dataclass(frozen=True, slots=True)
class Listed:
    """A plan, bank or quiz: `name` of its file (without the ending of a plan) or folder, and the title in it."""

    name: str
    title: str = ""
    reported: bool = False


@dataclass(frozen=True, slots=True)
class Contents:
    """All that was found, each sorted by name."""

    plans: tuple[Listed, ...]
    quizzes: tuple[Listed, ...]
    banks: tuple[Listed, ...]


def contents_of(folder: Path) -> Contents:
    """What lies in a folder; links that lead out of it, and hidden files, are left out."""
    root = folder.resolve()
    plans = [Listed(path.stem, _plan_title(path)) for path in _inside(folder, "*.toml", root) if path.is_file()]
    banks = [Listed(path.name) for path in _inside(folder, "*.jsonl", root) if path.is_file() and _is_bank(path)]
    quizzes = [
        Listed(path.parent.name, _record_title(path), (path.parent / _RESULTS).is_file())
        for path in _inside(folder, f"{OUT}/*/{RECORD}", root)
    ]
    return Contents(tuple(plans), tuple(quizzes), tuple(banks))


def _inside(folder: Path, pattern: str, root: Path) -> Iterator[Path]:
    for path in sorted(folder.glob(pattern))[:MOST_LISTED]:
        if not path.name.startswith(".") and path.resolve().is_relative_to(root):
            yield path


def _plan_title(path: Path) -> str:
    try:
        title = tomllib.loads(read_text(path)).get("title")
    except (BarwrightError, tomllib.TOMLDecodeError, RecursionError):
        return ""
    return title if isinstance(title, str) else ""


def _head(path: Path) -> bytes:
    try:
        return content_of(path, _HEAD_BYTES).partition(b"\n")[0]
    except OSError:
        return b""


def _is_bank(path: Path) -> bool:
    from barwright.bank.reading import header_fault  # which needs far more than the first page does

    head = _head(path)
    return b"{" in head[:4] and not header_fault(head)


def _record_title(path: Path) -> str:
    try:
        title = json.loads(_head(path))["title"]
    except (ValueError, KeyError, TypeError):
        return ""
    return title if isinstance(title, str) else ""


def quiz_name(plan: str) -> str:
    """The name of the folder that `make` writes a plan's quiz into.

    >>> quiz_name("Unit 3")
    'unit-3'
    """
    return folder_name(plan) or "quiz"


def file_name(wanted: str, otherwise: str, taken: Collection[str]) -> str:
    """A name for a new file that none has: plain letters, digits and hyphens.

    >>> file_name("Größe 3", "quiz", {"grosse-3"}), file_name("..", "quiz", ())
    ('grosse-3-2', 'quiz')
    """
    name = folder_name(wanted)[:MOST_NAME].strip("-") or folder_name(otherwise) or "quiz"
    free = (name if n == 1 else f"{name}-{n}" for n in count(1))
    return next(each for each in free if each not in taken)


def file_bytes(path: Path) -> bytes:
    """What is in a file that is given out; BarwrightError if it cannot be read, or is larger than any that we write."""
    try:
        content = content_of(path, MOST_BYTES + 1)
    except OSError as error:
        raise BarwrightError(f"{path}: cannot be read ({error.strerror}): look whether it is still there") from error
    if len(content) > MOST_BYTES:
        raise BarwrightError(f"{path}: has over {MOST_BYTES // 1_000_000} MB: open it in its folder")
    return content
