"""What is wrong with the picture files of a package."""

from collections.abc import Iterable, Iterator

from barwright.check.reading.package_bounds import MOST_PICTURE_BYTES
from barwright.check.reading.package_files import Files
from barwright.check.rules.findings import Finding, Place
from barwright.check.rules.pictures import (
    ENDINGS,
    MOST_PIXELS,
    PictureFile,
    picture_file,
)

MOST_UNPACKED_PIXELS = 200_000_000  # of one package; 1,000 items with four pictures each have 100 million


def is_picture(path: str) -> bool:
    """Whether a file is a picture by its ending."""
    return path.rpartition(".")[2].lower() in ENDINGS


def differing(files: Files, paths: Iterable[str]) -> tuple[str, ...]:
    """Of copies of a picture, which have the same bytes and kind of name, the first alone."""
    first: dict[tuple[str, str], str] = {}
    for path in sorted(set(paths)):
        first.setdefault((files.digest(path) or path, path.rpartition(".")[2].lower()), path)
    return tuple(first.values())


def picture_findings(files: Files, paths: Iterable[str]) -> Iterator[Finding]:
    """What is wrong with these picture files, each looked at once; PackageError for a file that cannot be unpacked."""
    left = MOST_UNPACKED_PIXELS
    for path in sorted(set(paths)):
        if path not in files.sizes:
            continue
        if files.sizes[path] > MOST_PICTURE_BYTES:
            what = f"it has over {MOST_PICTURE_BYTES // 1_000_000} MB"
            yield Finding("picture-huge", Place(path), what)
            continue
        found = picture_file(files.read(path), unpack=left > 0)
        left -= found.width * found.height
        yield from _of_one(path, found)


def _of_one(path: str, found: PictureFile) -> Iterator[Finding]:
    place, ending = Place(path), path.rpartition(".")[2].lower()
    if found.broken:
        yield Finding("picture-damaged", place, f"the picture cannot be shown: {found.broken}")
    elif found.huge:
        what = f"it has {found.width} by {found.height} pixels, over {MOST_PIXELS // 1_000_000} million"
        yield Finding("picture-huge", place, what)
    elif not found.common:
        yield Finding("picture-format", place, f"the picture is a {found.format.upper()}")
    elif ENDINGS.get(ending, found.format) != found.format:
        yield Finding(
            "picture-misnamed", place, f"the picture is a {found.format.upper()}, but its name ends in .{ending}"
        )
