"""The files of a package, wherever they come from: names and sizes first, bytes when asked for."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from hashlib import sha256

from barwright.check.reading.package_bounds import (
    MOST_FILES,
    MOST_FOLDERS_DEEP,
    MOST_PATH_LENGTH,
    MOST_PICTURE_BYTES,
    MOST_UNPACKED_BYTES,
)
from barwright.errors import PackageError

MANIFEST = "imsmanifest.xml"
_SYSTEM = ("__macosx/", ".ds_store", "thumbs.db", "desktop.ini", ".git/")


@dataclass(frozen=True, slots=True)
class Files:
    """Paths from the top of the package with their sizes in bytes; `read` gives the bytes of one of them.

    `twice` names the paths that an archive holds more than once. `single` is True for one document on its own, whose
    links cannot be followed. `read` raises PackageError for a file that is damaged.
    """

    name: str
    sizes: Mapping[str, int]
    read: Callable[[str], bytes]
    twice: tuple[str, ...] = ()
    single: bool = False
    _digests: dict[str, str] = field(default_factory=dict, repr=False)
    _last_sheet: dict[str, bytes] = field(default_factory=dict, repr=False)

    def digest(self, path: str) -> str:
        """The SHA-256 of a file's bytes in hex, each file read once; empty for one that is not there or too large."""
        if path not in self._digests:
            held = path in self.sizes and not self.single and self.sizes[path] <= MOST_PICTURE_BYTES
            self._digests[path] = sha256(self.read(path)).hexdigest() if held else ""
        return self._digests[path]

    def sheet(self, path: str) -> bytes:
        """The bytes of a style sheet; the last one is kept, since all items of a package link to the same."""
        if path not in self._last_sheet:
            data = self.read(path)
            self._last_sheet.clear()
            self._last_sheet[path] = data
        return self._last_sheet[path]


def is_system_file(path: str) -> bool:
    """Whether a computer put the file in on its own, without anyone asking."""
    return any(part in f"{path.lower()}/" for part in _SYSTEM) or "/._" in f"/{path}"


def refuse_path(path: str) -> None:
    """Nothing for a path that stays in the package; PackageError for one that leaves it or cannot be a file's."""
    parts = path.split("/")
    if not path:
        raise PackageError("it holds a file without a name: copy or export it again")
    if "\0" in path:
        raise PackageError(f"file name {path[:60]!r} holds a zero byte, which hides its real name: do not unpack it")
    if path.startswith("/") or path[1:2] == ":":
        raise PackageError(
            f"file {path[:60]!r} wants a place of its own on the computer, outside the package: do not unpack it"
        )
    if "\\" in path:
        raise PackageError(
            f"file name {path[:60]!r} holds a backslash, which is a folder on some systems: zip it again"
        )
    if ".." in parts:
        raise PackageError(f"file {path[:60]!r} lies outside the package: do not unpack it")
    if len(path) > MOST_PATH_LENGTH or len(parts) > MOST_FOLDERS_DEEP:
        raise PackageError(
            f"file name {path[:60]!r}... has {len(path)} characters and {len(parts) - 1} folders: "
            f"use at most {MOST_PATH_LENGTH} and {MOST_FOLDERS_DEEP - 1}"
        )


def refuse_amount(count: int, size: int) -> None:
    """Nothing for an ordinary number of files and bytes; PackageError for more than is read."""
    if count > MOST_FILES:
        raise PackageError(f"it holds over {MOST_FILES} files, which no quiz needs: take the quiz out of it")
    if size > MOST_UNPACKED_BYTES:
        raise PackageError(
            f"it unpacks to over {MOST_UNPACKED_BYTES // 1_000_000} MB, which no quiz needs: do not unpack it; "
            "if it is a whole course, export the quiz alone"
        )
