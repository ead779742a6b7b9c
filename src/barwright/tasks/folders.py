"""The one way in which a folder is changed: locked, mended, and then everything together or nothing.

A new folder is put together beside its place and renamed. In one that is there already, all new files are put together
in a hidden folder in it, a journal is written of what is about to change, and then the new files take their places,
while the hidden folder keeps the old ones. The change holds when the journal is renamed. Until then whoever finds the
journal takes everything back: after a fault at once, after a kill in the next run. No other file in it is touched.
"""

import json
import os
import shutil
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, fields
from pathlib import Path, PurePosixPath

from barwright.errors import OutputError
from barwright.tasks.locks import MOST_SECONDS, locked
from barwright.tasks.paths import (
    check_no_link,
    check_writable,
    real_path,
    writing,
)
from barwright.tasks.staging import (
    DONE,
    JOURNAL,
    JOURNAL_PART,
    NEW,
    OLD,
    clear_left,
    left_stages,
    stage_in,
    write_safely,
)

INSIDE = "change"  # the purpose of hidden folders in the folder itself


@dataclass(frozen=True, slots=True)
class HeldFolder:
    """A folder that nobody else changes now: `path` as it was named, `real` with links followed. Got by `changing`."""

    path: Path
    real: Path

    @property
    def exists(self) -> bool:
        """Whether the folder is there already; what an interrupted change made is not."""
        return self.real.is_dir()

    def check_free(self, *, replace: bool) -> None:
        """OutputError for a file or a write-protected folder, or if it exists and `replace` is off; else nothing."""
        with writing(self.path):
            if self.real.exists() and not self.exists:
                raise OutputError(f"{self.path} is a file: give another folder with --out")
            if self.exists and not replace:
                raise OutputError(f"{self.path} exists: give --replace to write it anew, or another folder with --out")
            if self.exists:
                check_writable(self.real, self.path)

    def write(self, files: Mapping[str, bytes], *, gone: Collection[str] = ()) -> None:
        """Writes files, paths with forward slashes, and takes away those that are `gone`: all together or nothing.

        Everything else in the folder stays as it is. OutputError if something in it is in the way, write-protected or
        a link, or if the system refuses; then nothing was changed.
        """
        with writing(self.path):
            if not self.exists:
                _make_new(self.real, files)
                return
            journal = _journal_of(self, files, gone)
            stage = stage_in(self.real, INSIDE)
            try:
                _change(self.real, stage, files, journal)
            finally:
                _settle(stage, self.real)


@contextmanager
def changing(folder: Path, *, most_seconds: float = MOST_SECONDS) -> Iterator[HeldFolder]:
    """Holds a folder, there or not, so that it can be read and changed with nobody between.

    What an earlier run was killed in the middle of is taken back first, so nothing looks at half of a change.
    OutputError if another program does not let go of the folder, for a link that leads nowhere, or if the system
    refuses.
    """
    real = real_path(folder)
    with locked(real, folder, most_seconds=most_seconds):
        with writing(folder):
            for stage in left_stages(real, INSIDE) if real.is_dir() else ():
                _settle(stage, real)
            clear_left(real)
        yield HeldFolder(folder, real)


def mend(folder: Path) -> None:
    """Takes back what a run that was ended in the middle had begun to change, as every command does first."""
    with changing(folder):
        pass


@dataclass(frozen=True, slots=True)
class _Journal:
    """What a change does, as paths in the folder: files that are new, replaced, or go, and folders that are made."""

    fresh: tuple[str, ...]
    replaced: tuple[str, ...]
    gone: tuple[str, ...]
    folders: tuple[str, ...]

    @classmethod
    def read(cls, path: Path) -> "_Journal":
        """The journal of a file; ValueError if it is none, or names what is not in the folder."""
        journal = json.loads(path.read_bytes())
        names = [journal.get(field.name) for field in fields(cls)] if isinstance(journal, dict) else [None]
        if not all(isinstance(each, list) and all(map(_is_inside, each)) for each in names):
            raise ValueError(path)
        return cls(*(tuple(each or ()) for each in names))


def _is_inside(name: object) -> bool:
    """Whether this is a path in a folder, with forward slashes."""
    return (
        isinstance(name, str) and not PurePosixPath(name).is_absolute() and not set(name.split("/")) & {"", ".", ".."}
    )


def _make_new(folder: Path, files: Mapping[str, bytes]) -> None:
    """A folder that was not there, all at once."""
    stage = stage_in(folder.parent, folder.name)
    try:
        _stage(stage, files)
        os.rename(stage / NEW, folder)
    finally:
        shutil.rmtree(stage, ignore_errors=True)


def _stage(stage: Path, files: Mapping[str, bytes]) -> None:
    for name, content in files.items():
        target = stage / NEW / name
        target.parent.mkdir(parents=True, exist_ok=True)
        write_safely(target, [content])


def _journal_of(held: HeldFolder, files: Collection[str], gone: Collection[str]) -> _Journal:
    """What is about to change; OutputError if something is in the way."""
    there = [name for name in (*files, *gone) if _is_there(held, name)]
    parents = {parent.as_posix() for name in files for parent in PurePosixPath(name).parents[:-1]}
    made = sorted(name for name in parents if not (held.real / name).exists())
    return _Journal(
        fresh=tuple(name for name in files if name not in there),
        replaced=tuple(name for name in there if name in files),
        gone=tuple(name for name in there if name not in files),
        folders=tuple(made),
    )


def _is_there(held: HeldFolder, name: str) -> bool:
    """Whether a file is in the folder; OutputError if what is there must not be written over."""
    *above, path = *reversed(PurePosixPath(name).parents[:-1]), PurePosixPath(name)
    for each in (*above, path):
        real, shown = held.real / each, held.path / each
        check_no_link(shown)
        if not real.exists():
            return False
        if real.is_dir() != (each != path):
            what = "a file" if each != path else "a folder"
            raise OutputError(f"{shown} is {what} and in the way, so nothing was changed: give it another name")
        check_writable(real, shown)
    return True


def _change(folder: Path, stage: Path, files: Mapping[str, bytes], journal: _Journal) -> None:
    """The whole change; it holds once the journal is renamed."""
    _stage(stage, files)
    for name in (*journal.replaced, *journal.gone):
        (stage / OLD / name).parent.mkdir(parents=True, exist_ok=True)
    for name in journal.replaced:
        shutil.copymode(folder / name, stage / NEW / name)
    write_safely(stage / JOURNAL_PART, [json.dumps(asdict(journal)).encode()])
    os.rename(stage / JOURNAL_PART, stage / JOURNAL)
    for name in journal.folders:
        (folder / name).mkdir(exist_ok=True)
    for name in journal.replaced:
        _keep(folder / name, stage / OLD / name)
    for name in (*journal.replaced, *journal.fresh):
        os.replace(stage / NEW / name, folder / name)
    for name in journal.gone:
        os.rename(folder / name, stage / OLD / name)
        for parent in PurePosixPath(name).parents[:-1]:
            with suppress(OSError):  # what is not empty stays
                (folder / parent).rmdir()
    os.rename(stage / JOURNAL, stage / DONE)


def _keep(path: Path, old: Path) -> None:
    """Keeps a file that is to be replaced; it stays in its place until then, if the drive knows hard links."""
    try:
        os.link(path, old)
    except (OSError, NotImplementedError):
        os.rename(path, old)


def _settle(stage: Path, folder: Path) -> None:
    """Takes a change back that does not hold, and clears its hidden folder away; nothing if that is gone already."""
    if (stage / JOURNAL).exists():
        try:
            journal = _Journal.read(stage / JOURNAL)
        except ValueError as error:
            raise OutputError(
                f"{stage} tells of a change that was cut short, and cannot be read: move it elsewhere, and look "
                "whether the folder is as it should be"
            ) from error
        _take_back(stage, folder, journal)
        os.rename(stage / JOURNAL, stage / DONE)
    shutil.rmtree(stage, ignore_errors=True)


def _take_back(stage: Path, folder: Path, journal: _Journal) -> None:
    """The folder as it was before; may itself be cut short and begun again."""
    for name in (*journal.replaced, *journal.gone):
        path, old = folder / name, stage / OLD / name
        ours = name in journal.replaced and not (stage / NEW / name).exists()
        if old.exists() and (ours or not path.exists()):
            path.parent.mkdir(parents=True, exist_ok=True)
            os.replace(old, path)
    for name in journal.fresh:
        if not (stage / NEW / name).exists():
            (folder / name).unlink(missing_ok=True)
    for name in reversed(journal.folders):
        with suppress(OSError):  # what others put there stays, and so does its folder
            (folder / name).rmdir()
