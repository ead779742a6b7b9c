"""The files that a teacher names: read whole, within bounds, each under a short name of its own."""

from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from barwright.errors import ResultsError
from barwright.results.reading.bounds import MOST_BYTES, MOST_FILES


def response_files(paths: Sequence[Path]) -> tuple[tuple[str, bytes], ...]:
    """Name and content of each file, of folders all files in them; ResultsError naming one that cannot be read.

    The name is the last part of the path, or all of it where two files share that. Sorted, so that the order in which
    they are given changes nothing.
    """
    files = sorted({path.resolve(): path for each in paths for path in _files(each)}.values())
    if len(files) > MOST_FILES:
        raise ResultsError(f"{len(files):,} files, and {MOST_FILES:,} are read at most: put them into one zip")
    if not files:
        raise ResultsError("there is no file of answers in what you named: give files, folders, or a zip")
    shared = Counter(path.name for path in files)
    return tuple((path.name if shared[path.name] == 1 else str(path), read_bytes(path)) for path in files)


def _files(path: Path) -> Iterator[Path]:
    if path.is_dir():
        yield from (each for each in sorted(path.rglob("*")) if each.is_file() and not each.name.startswith("."))
    else:
        yield path


def read_bytes(path: Path) -> bytes:
    """The content of a file; ResultsError if it cannot be read or is too large."""
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise ResultsError(f"{path}: cannot be read ({error.strerror}): check the name and the folder") from error
    if len(content) > MOST_BYTES:
        raise ResultsError(f"{path}: has over {MOST_BYTES:,} bytes: split the file")
    if not content:
        raise ResultsError(f"{path}: it is empty: export the answers again")
    return content
