"""Zip archives, opened with suspicion: the list of contents is bounded before it is read, each file before unpacking.

Source: PKWARE APPNOTE 6.3, sections 4.3.12 to 4.3.16 and 4.4.
"""

import stat
import struct
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from typing import IO

from barwright.check.reading.package_bounds import (
    MOST_DIRECTORY_BYTES,
    MOST_FILES,
    MOST_RATIO,
    SMALL_BYTES,
)
from barwright.check.reading.package_files import Files, refuse_amount, refuse_path
from barwright.errors import PackageError

_END = b"PK\x05\x06"  # end of central directory record, 22 bytes and a comment
_END_BYTES, _MOST_COMMENT = 22, 65_535
_ZIP64_LOCATOR, _ZIP64_BYTES = b"PK\x06\x07", 20
_ENCRYPTED = 1  # general purpose bit 0
_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    ValueError,
    OSError,
    IndexError,
    OverflowError,
)


@contextmanager
def opened_zip(stream: IO[bytes], name: str) -> Iterator[Files]:
    """The files of an archive, folders left out, for as long as the context lasts.

    Raises PackageError for an archive that is damaged, encrypted, too large, or made to do harm.
    """
    _refuse_directory(stream)
    try:
        archive = zipfile.ZipFile(stream)
    except _BROKEN as error:
        raise PackageError(
            "it is a damaged zip: its list of contents cannot be read; copy or export it again"
        ) from error
    with archive:
        entries = archive.infolist()
        refuse_amount(len(entries), sum(e.file_size for e in entries))
        for entry in entries:
            _refuse_entry(entry)
        shown = [e for e in entries if not e.is_dir()]
        twice = tuple(path for path, count in Counter(e.filename for e in shown).items() if count > 1)
        yield Files(name, {e.filename: e.file_size for e in shown}, lambda path: _unpacked(archive, path), twice)


def _refuse_directory(stream: IO[bytes]) -> None:
    """PackageError for an archive without an end record, or with a list of contents too long to be read at all."""
    size = stream.seek(0, 2)
    stream.seek(max(0, size - _END_BYTES - _MOST_COMMENT - _ZIP64_BYTES))
    tail = stream.read()
    at = tail.rfind(_END)
    stream.seek(0)
    if at < 0 or at + _END_BYTES > len(tail):
        raise PackageError("it is a zip that was cut off: its end is missing; copy or export it again")
    count, directory_bytes = struct.unpack_from("<HL", tail, at + 10)
    if tail[max(0, at - _ZIP64_BYTES) : at].startswith(_ZIP64_LOCATOR) or directory_bytes == 0xFFFF_FFFF:
        raise PackageError("it is a zip of the 64-bit kind, which few importers read: zip it again the ordinary way")
    if count > MOST_FILES or directory_bytes > MOST_DIRECTORY_BYTES:
        raise PackageError(f"it holds over {MOST_FILES} files, which no quiz needs: take the quiz out of it")


def _refuse_entry(entry: zipfile.ZipInfo) -> None:
    """PackageError for an entry that must not be unpacked."""
    refuse_path(entry.orig_filename)
    shown = entry.filename[:60]
    if stat.S_ISLNK(entry.external_attr >> 16):
        raise PackageError(f"file {shown!r} is a link to somewhere else, not a file: put the file itself there")
    if entry.flag_bits & _ENCRYPTED:
        raise PackageError(f"file {shown!r} is locked with a password, which no importer can open: zip it without one")
    if entry.compress_type not in _METHODS:
        raise PackageError(f"file {shown!r} is packed in a way that few importers read: zip it the ordinary way")
    if entry.file_size > SMALL_BYTES and entry.file_size > MOST_RATIO * max(1, entry.compress_size):
        ratio = entry.file_size // max(1, entry.compress_size)
        raise PackageError(f"file {shown!r} swells {ratio} times when unpacked: a zip bomb; delete it")


def _unpacked(archive: zipfile.ZipFile, path: str) -> bytes:
    """The bytes of one entry; their number and checksum are those of the list of contents."""
    try:
        return archive.read(path)
    except _BROKEN as error:
        raise PackageError(f"file {path[:60]!r} is damaged: copy or export the package again") from error
