"""Good packages as files by path: written by our writers, or the samples of the standards; and the zips they make."""

import io
import zipfile
from collections.abc import Mapping
from pathlib import Path

from barwright.qti import written
from barwright.wording.worded import Pictures, WordedForm

MANIFEST = "imsmanifest.xml"
SINGLE = "item.xml"


def our_files(form: WordedForm, pictures: Pictures, name: str) -> dict[str, bytes]:
    """The files of a package of ours; `name` is a standard, with `-bank` after it for a bank."""
    standard, _, shape = name.partition("-")
    return {e.path: e.data for e in written(form, pictures, standard=standard, shape=shape or "quiz")}


def sample_files(standards: Path, name: str) -> dict[str, bytes]:
    """The files of a sample: `sample-qti22` is a package, `item22-order` one document."""
    samples = standards / "samples"
    if name.startswith("sample-"):
        top = samples / name.removeprefix("sample-")
        return {p.relative_to(top).as_posix(): p.read_bytes() for p in top.rglob("*") if p.is_file()}
    version, _, document = name.removeprefix("item").partition("-")
    return {SINGLE: (samples / f"items{version}" / f"{document}.xml").read_bytes()}


def packed(files: Mapping[str, bytes]) -> bytes:
    """A zip of the files, manifest first; one document stays as it is."""
    if list(files) == [SINGLE]:
        return files[SINGLE]
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for path in sorted(files, key=lambda p: (p != MANIFEST, p)):
            archive.writestr(path, files[path])
    return target.getvalue()
