"""Entries and zips: only safe paths, and the same bytes on every day."""

import io
import zipfile

import pytest

from barwright.errors import StandardError
from barwright.qti.zip_entries import ZipEntry, zipped


@pytest.mark.parametrize("path", ["a", "imsmanifest.xml", "images/f-1_b.png", "a/b/c..d", ".hidden"])
def test_safe_paths_are_taken(path: str) -> None:
    assert ZipEntry(path, b"").path == path


@pytest.mark.parametrize(
    "path", ["", "/a", "a/", "a//b", "../a", "a/../b", "a/..", ".", "./a", "a b", "é.png", "a\\b", "c:a", "a\n", "a\0"]
)
def test_other_paths_are_refused(path: str) -> None:
    with pytest.raises(StandardError) as caught:
        ZipEntry(path, b"")
    assert str(caught.value) == (
        f"path {path!r} cannot stand in a package: use ASCII letters, digits, - _ and ., parted by single slashes, "
        "and no part . or .."
    )


@pytest.mark.parametrize(("one", "other"), [("a.png", "a.png"), ("A.png", "a.png")])
def test_one_name_on_some_systems_is_refused(one: str, other: str) -> None:
    with pytest.raises(StandardError) as caught:
        zipped([ZipEntry(one, b"1"), ZipEntry(other, b"2")])
    assert str(caught.value) == f"paths {one!r} and {other!r} would be one file: give each its own name"


def test_zip_has_manifest_first_then_paths_in_order_and_fixed_heads() -> None:
    entries = [ZipEntry(p, p.encode() * 50) for p in ("quiz/quiz.xml", "b.png", "a.xml", "imsmanifest.xml")]
    data = zipped(entries)
    archive = zipfile.ZipFile(io.BytesIO(data))
    heads = archive.infolist()
    assert [h.filename for h in heads] == ["imsmanifest.xml", "a.xml", "b.png", "quiz/quiz.xml"]
    assert {h.date_time for h in heads} == {(1980, 1, 1, 0, 0, 0)}
    assert {(h.create_system, h.external_attr >> 16, h.extra, h.comment) for h in heads} == {(3, 0o100644, b"", b"")}
    assert [h.compress_type == zipfile.ZIP_STORED for h in heads] == [False, False, True, False]
    assert {h.filename: archive.read(h) for h in heads} == {e.path: e.data for e in entries}
    assert zipped(reversed(entries)) == data
