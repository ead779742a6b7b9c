"""Entries of a package and the zip they make, the same on every day and machine."""

import io
import re
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass, field

from barwright.errors import StandardError

MANIFEST = "imsmanifest.xml"
_SAFE = re.compile(r"[A-Za-z0-9_.-]+(/[A-Za-z0-9_.-]+)*")
_EPOCH = (1980, 1, 1, 0, 0, 0)  # the first moment that a zip can tell
_UNIX = 3  # "version made by", APPNOTE 4.4.2: else it differs between systems
_PLAIN_FILE = 0o100644 << 16  # external attributes of an ordinary file, rw-r--r--
# A PNG is compressed already: deflating 3,000 of ours again takes 0.2 s and saves 2 %.
_STORED_SUFFIXES = (".png",)


@dataclass(frozen=True, slots=True)
class ZipEntry:
    """One file of a package; `path` uses ASCII letters, digits, - _ . and / only, and stays inside the package.

    Raises StandardError for any other path (content packages are unpacked on every file system).
    """

    path: str
    data: bytes = field(repr=False)

    def __post_init__(self) -> None:
        if not _SAFE.fullmatch(self.path) or not {".", ".."}.isdisjoint(self.path.split("/")):
            raise StandardError(
                f"path {self.path!r} cannot stand in a package: use ASCII letters, digits, - _ and ., "
                "parted by single slashes, and no part . or .."
            )


def zipped(entries: Iterable[ZipEntry]) -> bytes:
    """The zip of these entries: manifest first, then by path, one fixed date, no folders, PNGs stored.

    Raises StandardError if two paths are the same once upper and lower case are (one file on many systems).
    """
    ordered = sorted(entries, key=lambda e: (e.path != MANIFEST, e.path))
    taken: dict[str, str] = {}
    for entry in ordered:
        other = taken.get(entry.path.lower())
        if other is not None:
            raise StandardError(f"paths {other!r} and {entry.path!r} would be one file: give each its own name")
        taken[entry.path.lower()] = entry.path
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for entry in ordered:
            archive.writestr(_zip_head(entry.path), entry.data, compresslevel=6)
    return target.getvalue()


def _zip_head(path: str) -> zipfile.ZipInfo:
    head = zipfile.ZipInfo(path, _EPOCH)
    head.create_system, head.external_attr = _UNIX, _PLAIN_FILE
    head.compress_type = zipfile.ZIP_STORED if path.endswith(_STORED_SUFFIXES) else zipfile.ZIP_DEFLATED
    return head
