"""Hidden folders in which something is put together before it takes its place, and what killed runs left of them.

Such a folder has a name that nobody can foresee, and is made anew each time, so that nothing of the user's is written
over and no link is followed. Its name begins with a mark of what it is for. While the lock of that is held no other run
can be at work in it, so one that is found then was left by a run that was killed.
"""

import hashlib
import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

NEW, OLD, JOURNAL, JOURNAL_PART, DONE = "new", "old", "journal", "journal.part", "done"
_NAMES = {NEW, OLD, JOURNAL, JOURNAL_PART, DONE}


def stage_in(where: Path, purpose: str) -> Path:
    """A new hidden folder for what is made for a purpose, such as the name of a file that lies there."""
    return Path(tempfile.mkdtemp(prefix=_mark(purpose), dir=where))


def left_stages(where: Path, purpose: str) -> Iterator[Path]:
    """The hidden folders that killed runs left for a purpose whose lock is held; nothing else, whatever its name."""
    with os.scandir(where) as entries:
        found = [e for e in entries if e.name.startswith(_mark(purpose)) and e.is_dir(follow_symlinks=False)]
    for entry in sorted(found, key=lambda each: each.name):
        if set(os.listdir(entry)) <= _NAMES:
            yield Path(entry)


def clear_left(path: Path) -> None:
    """Clears away what killed runs left beside a file or folder whose lock is held, and whose folder is there."""
    for left in left_stages(path.parent, path.name):
        shutil.rmtree(left, ignore_errors=True)


def replace_file(path: Path, content: Iterable[bytes]) -> None:
    """Writes a file whose lock is held: beside it first, then in its place, so that a kill leaves the old one whole.

    The rights to an old one stay. OSError if the system refuses.
    """
    with _stage_for(path) as stage:
        write_safely(stage / NEW, content)
        if path.exists():
            shutil.copymode(path, stage / NEW)
        os.replace(stage / NEW, path)


def write_safely(path: Path, content: Iterable[bytes]) -> None:
    """Writes a new file, and returns when the drive has it."""
    with path.open("xb") as file:
        file.writelines(content)
        file.flush()
        os.fsync(file.fileno())


@contextmanager
def _stage_for(path: Path) -> Iterator[Path]:
    stage = stage_in(path.parent, path.name)
    try:
        yield stage
    finally:
        shutil.rmtree(stage, ignore_errors=True)


def _mark(purpose: str) -> str:
    return f".barwright-{hashlib.sha256(os.fsencode(purpose)).hexdigest()[:12]}-"
