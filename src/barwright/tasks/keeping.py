"""Files that are handed over, kept in the teacher's folder and taken away again; and what is made of others there."""

import os
import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from barwright.errors import BarwrightError
from barwright.results.reading.mapping import toml_text
from barwright.tasks.diagnose.diagnose import COLUMNS, RESULTS
from barwright.tasks.files import read_text, write_new
from barwright.tasks.form_folders import RECORD
from barwright.tasks.paths import check_no_link, writing

RETEACH = "reteach.toml"
MOST_SAID = 200


def keep(path: Path, content: bytes) -> None:
    """Writes a file that was handed over, in the place of one of its name; OutputError if it cannot be written."""
    with writing(path):
        path.parent.mkdir(exist_ok=True)
    check_no_link(path)
    write_new(path, content, replace=True)


def take_away(paths: Iterable[Path]) -> None:
    """Takes files away that were kept; OutputError if the system refuses. One that is gone already is no fault."""
    for path in paths:
        with writing(path):
            path.unlink(missing_ok=True)


def say_columns(folder: Path, said: Mapping[str, str]) -> None:
    """Writes what the teacher says of columns into the file of columns: `line-N` is what its line N is to say."""
    path = folder / COLUMNS
    lines = read_text(path, kind="file of columns").split("\n")
    for name, value in said.items():
        match = re.fullmatch(r"line-([0-9]{1,5})", name)
        if match is None or not 1 <= int(match[1]) <= len(lines):
            continue
        if len(value) > MOST_SAID or not value.isprintable():
            raise BarwrightError(f"{path}, line {match[1]}: write the number of a question, or none")
        line = lines[int(match[1]) - 1]
        head = re.match(r'(\w+ = )"[^"]*"', line)
        if head is not None:
            lines[int(match[1]) - 1] = f"{head[1]}{toml_text(value.strip() or '?')}{line[head.end() :]}"
    write_new(path, "\n".join(lines).encode(), replace=True)


def reteach_plan(folder: Path, path: Path) -> Path:
    """The plan of what to teach again that `diagnose` wrote, as a plan of its own beside the others.

    What it avoids is named from there. OutputError if there is a file of that name; BarwrightError without such a plan.
    """
    source = folder / RESULTS / RETEACH
    if not source.is_file():
        raise BarwrightError(f"{source} is missing: what the answers show needs no quiz of its own")
    text = read_text(source)
    record = Path(os.path.relpath(folder / RECORD, path.parent)).as_posix()
    moved = re.sub(
        r'^avoid( *)= "[^"]*"', lambda found: f"avoid{found[1]}= {toml_text(record)}", text, flags=re.MULTILINE
    )
    moved = re.sub(r"^#     barwright make .*$", f"#     barwright make {path.name}", moved, flags=re.MULTILINE)
    write_new(path, moved.encode(), replace=False)
    return path
