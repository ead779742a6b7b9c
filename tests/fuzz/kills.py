"""Kills at every event of the file system of every command that writes, and the same command again.

    python tests/fuzz/kills.py                  every command, and kills in the middle of the mending, too
    python tests/fuzz/kills.py section retake   these alone
    python tests/fuzz/kills.py --quick          without kills in the middle of the mending
    python tests/fuzz/kills.py --some           at some events only, spread over each run: what the tests do

For each event of an undisturbed run (a file opened for writing, a rename, a folder made, a lock, a flush to the drive
and so on) a child process is ended just before it, without any tidying up; where a file is opened, once more with a
part of it written. Then the same command runs again. Every byte below the folder must be as after an undisturbed run;
a teacher's own files are among them. Needs a system with `fork`.
"""

import io
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
KILLED = 86
CHANGES = {"os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.link", "os.symlink", "os.chmod", "os.truncate"}
FOREVER = 1 << 60
BLUEPRINT = """
title = "T"
sections = ["A", "B"]
[elements]
meters = ["3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["half", "quarter"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 1
"""
# What each command is given; they all begin with the same folder.
WRITERS: dict[str, tuple[str, ...]] = {
    "start": ("start", "unit-2"),
    "wording": ("wording", "start"),
    "sheet": ("sheet", "quiz.toml", "--replace"),
    "printed": ("make", "quiz.toml", "--out", "printed", "--paper"),
    "start-again": ("start", "quiz", "--replace"),
    "preset": ("start", "unit-3", "--preset", "general-3"),
    "plan": ("plan", "quiz.toml", "--set", "elements.ties=true"),
    "take-back": ("bank", "review", "bank.jsonl", "--where", "choices>=2", "--take-back"),
    "draw": ("draw", "4/4 w", "-o", "pictures/w.png"),
    "make": ("make", "quiz.toml", "--out", "new", "--standard", "qti22"),
    "schools": ("make", "quiz.toml", "--schools", "schools.csv", "--resume", "--out", "all", "--standard", "qti12"),
    "schools-again": ("make", "quiz.toml", "--schools", "schools.csv", "--resume", "--out", "had", "--replace"),
    "make-again": ("make", "quiz.toml", "--replace", "--forget-retakes", "--seed", "9", "--standard", "qti30"),
    "section": ("make", "quiz.toml", "--section", "A", "--replace", "--seed", "7", "--standard", "qti30"),
    "section-added": ("make", "more.toml/quiz.toml", "--section", "C"),
    "retake": ("make", "quiz.toml", "--retake", "2", "--section", "B"),
    "retake-again": ("make", "quiz.toml", "--retake", "1", "--section", "A", "--replace"),
    "take": ("bank", "take", "bank.jsonl", "--blueprint", "quiz.toml", "--out", "taken", "--standard", "qti12"),
    "export": ("bank", "export", "bank.jsonl", "--standard", "qti12"),
    "export-again": ("bank", "export", "other.jsonl", "--replace", "--standard", "qti30"),
    "add": ("bank", "add", "out/quiz/record.jsonl", "linked.jsonl", "--source", "me"),
    "add-new": ("bank", "add", "out/quiz/record.jsonl", "fresh.jsonl"),
    "review": ("bank", "review", "bank.jsonl", "--where", "choices>=2", "--approve"),
    "merge": ("bank", "merge", "bank.jsonl", "other.jsonl", "-o", "bank.jsonl", "--replace"),
    "another": ("question", "another", "out/quiz", "1", "--section", "A"),
    "never": ("question", "never", "out/quiz", "1", "--section", "B", "--bank", "bank.jsonl"),
    "keep": ("question", "keep", "out/quiz", "1", "--section", "B"),
    "points": ("question", "points", "out/quiz", "1", "2", "--section", "B"),
    "others": ("question", "others", "out/quiz", "1", "--section", "B", "--html", "others.html", "--replace"),
    "page": ("bank", "show", "bank.jsonl", "--html", "page.html"),
}
# Those that tests run, at so many of their events and the last of all: the others go the same ways once more.
SOME = 5
FEW = (
    "start",
    "plan",
    "draw",
    "make",
    "make-again",
    "section",
    "retake",
    "take",
    "export-again",
    "add",
    "merge",
    "page",
    "never",
)
# Commands that on purpose make something else when they run once more on what they made.
NEVER_THE_SAME = {"retake-again", "another", "never"}

# The new folders of those that write one.
NEW_FOLDERS = {"make": "new/quiz", "printed": "printed/quiz", "take": "taken/quiz"}


@dataclass(frozen=True, slots=True)
class Kill:
    """Before which event of a run (from 1) it ends; `torn`: after a part of the file was written that it opens."""

    event: int
    torn: bool = False


class Watch:
    """Counts the events below a folder, notes which open a file, and ends the process where it was told."""

    def __init__(self, folder: Path, kill: Kill) -> None:
        self.folder, self.kill = str(folder), kill
        self.count, self.opened = 0, list[int]()

    def heard(self, event: str, given: tuple[object, ...]) -> None:
        """An audit hook."""
        if event == "open":
            path, flags = given[0], given[2]
            if isinstance(flags, int) and flags & (os.O_WRONLY | os.O_RDWR) and self._is_ours(path):
                file = Path(os.fsdecode(str(path)))
                self.happens(None if file.name.endswith("lock") else file, flags)  # a lock is never written to
        elif event == "fcntl.flock" or (event in CHANGES and self._is_ours(given[0])):
            self.happens()

    def happens(self, path: Path | None = None, flags: int = 0) -> None:
        """One more event."""
        self.count += 1
        if path is not None:
            self.opened.append(self.count)
        if self.count != self.kill.event:
            return
        if path is not None and self.kill.torn:
            self.kill = Kill(FOREVER)
            os.write(os.open(path, flags, 0o666), b'{"')
        os._exit(KILLED)

    def _is_ours(self, path: object) -> bool:
        """Names without a folder are relative to an open one, which only clearing away uses."""
        text = os.fsdecode(path) if isinstance(path, bytes | str | os.PathLike) else self.folder
        return os.path.abspath(text).startswith(self.folder)


def run_in_child(folder: Path, arguments: Sequence[str], kill: Kill) -> tuple[int, int, list[int]]:
    """Exit code of a command in this folder, how many events it had, and which of them opened a file."""
    reader, writer = os.pipe()
    child = os.fork()
    if not child:
        os.close(reader)
        watch = Watch(folder, kill)
        # The one event that Python does not tell of. What a killed process wrote stays with the system, flushed or not.
        os.fsync = lambda _number: watch.happens()
        sys.addaudithook(watch.heard)
        code = run_here(folder, arguments)
        watch.kill = Kill(FOREVER)
        os.write(writer, " ".join(map(str, [watch.count, *watch.opened])).encode())
        os._exit(code)
    os.close(writer)
    with open(reader, encoding="utf-8") as told:
        numbers = [int(number) for number in told.read().split()]
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    return code, *((numbers[0], numbers[1:]) if numbers else (0, []))


def run_here(folder: Path, arguments: Sequence[str]) -> int:
    """Exit code of a command in this folder, run in this process, which knows by then all that commands read."""
    from barwright.cli import run

    os.chdir(folder)
    sys.argv = ["barwright", *arguments]
    said = io.StringIO()
    with redirect_stdout(said), redirect_stderr(said):
        try:
            run()
        except SystemExit as ended:
            return int(ended.code or 0)
        finally:
            if os.environ.get("KILLS_TELL"):
                os.write(2, said.getvalue().encode())
    return 0


def prepare(folder: Path) -> None:
    """A teacher's folder: a quiz of two sections with a retake, banks and a link to one, and files of their own."""
    (folder / "more.toml").mkdir()
    (folder / "quiz.toml").write_text(BLUEPRINT, "utf-8")
    (folder / "schools.csv").write_text("school,section\nAlder,A\nBirch,A\nBirch,B\n", "utf-8")
    (folder / "more.toml" / "quiz.toml").write_text(BLUEPRINT.replace('"B"]', '"B", "C"]'), "utf-8")
    for arguments in (
        ("make", "quiz.toml", "--standard", "qti12"),
        ("make", "quiz.toml", "--schools", "schools.csv", "--out", "had", "--seed", "5", "--standard", "qti12"),
        ("make", "quiz.toml", "--retake", "1", "--section", "A"),
        ("bank", "add", "out/quiz/record.jsonl", "bank.jsonl"),
        ("bank", "review", "bank.jsonl", "--where", "choices>=2", "--approve"),
        ("make", "quiz.toml", "--out", "else", "--seed", "5", "--standard", "qti12"),
        ("bank", "add", "else/quiz/record.jsonl", "other.jsonl"),
        ("bank", "export", "other.jsonl", "--standard", "qti12"),
    ):
        assert run_here(folder, arguments) == 0, arguments
    (folder / "linked.jsonl").symlink_to("bank.jsonl")
    for name in (".quiz.old/mine", ".quiz.part/mine", "quiz/notes.txt", "quiz/a/scan.pdf", "quiz/.barwright-mine/new"):
        (folder / "out" / name).parent.mkdir(exist_ok=True)
        (folder / "out" / name).write_text(f"my {name}", "utf-8")
    (folder / "out" / "quiz" / "empty").mkdir()
    (folder / "out" / "quiz" / "link").symlink_to("../../quiz.toml")


def tree(folder: Path) -> dict[str, bytes]:
    """Everything below a folder: bytes of files, targets of links; but the empty locks of banks, which stay."""
    found = {}
    for path in folder.rglob("*"):
        name = path.relative_to(folder).as_posix()
        if path.is_symlink():
            found[name] = b"link to " + os.fsencode(os.readlink(path))
        elif path.is_dir():
            found[name] = b"a folder"
        elif not (name.endswith(".jsonl.lock") and not path.stat().st_size):
            found[name] = path.read_bytes()
    return found


class Bench:
    """Runs one command again and again in a copy of the same folder."""

    def __init__(self, folder: Path, before: Path, name: str) -> None:
        self.work, self.before, self.name, self.arguments = folder / "work", before, name, WRITERS[name]

    def runs(self, *kills: Kill) -> list[tuple[int, int, list[int]]]:
        """These runs, one after another, in a fresh copy."""
        shutil.rmtree(self.work, ignore_errors=True)
        shutil.copytree(self.before, self.work, symlinks=True, copy_function=os.link)  # nothing is written in place
        return self.further_runs(*kills)

    def further_runs(self, *kills: Kill) -> list[tuple[int, int, list[int]]]:
        """These runs, one after another, in the copy as it is."""
        return [run_in_child(self.work, self.arguments, kill) for kill in kills]

    def faults(self, *, mending: bool, some: bool) -> tuple[int, list[str]]:
        """How many kills were tried, and after which of them the folder was not as it should be in the end."""
        whole = Kill(FOREVER)
        [(code, events, opened)] = self.runs(whole)
        assert code == 0, self.name
        once = tree(self.work)
        self.runs(whole, whole)
        twice = tree(self.work)
        assert once == twice or self.name in NEVER_THE_SAME, self.name
        able = [once]
        if self.name in NEVER_THE_SAME:
            self.runs(whole, whole, whole)
            able += [twice, tree(self.work)]
        kills = [Kill(event, torn) for event in range(1, events + 1) for torn in (False, True)[: 1 + (event in opened)]]
        if some:
            kills = [*kills[:: -(-len(kills) // SOME)], kills[-1]]
        found = []
        for kill in kills:
            between = [Kill(1 + kill.event * 7 % (events + 4))] if mending else []
            [(code, _, _)] = self.runs(kill)
            assert code == KILLED, (self.name, kill, code)
            if not _all_or_nothing(tree(self.work), once, NEW_FOLDERS.get(self.name, "")):
                found.append(f"{self.name}: {kill}: half of a new folder stands there")
            self.further_runs(*between, whole)
            last = tree(self.work)
            # Once the change holds, only clearing away is left, and the same command makes the next one; so does a run
            # between that is killed while it clears away.
            if last not in able:
                found.append(f"{self.name}: {kill}: {sorted(_differing(last, once))}")
        return len(kills), found


def _all_or_nothing(seen: dict[str, bytes], once: dict[str, bytes], folder: str) -> bool:
    """Whether a new folder is whole as soon as it is there, before anything mends what a kill left."""
    there = {name: data for name, data in seen.items() if folder and name.startswith(f"{folder}/")}
    return there in ({}, {name: data for name, data in once.items() if name.startswith(f"{folder}/")})


def _differing(one: dict[str, bytes], other: dict[str, bytes]) -> Iterator[str]:
    for name in one.keys() | other.keys():
        if one.get(name) != other.get(name):
            yield name if name in one and name in other else f"{'+' if name in one else '-'}{name}"


def survey(
    names: Sequence[str], *, mending: bool, some: bool = False, tell: Callable[[str], object] = print
) -> list[str]:
    """What was found wrong with these commands."""
    wrong = []
    with tempfile.TemporaryDirectory() as place:
        folder = Path(os.path.realpath(place))
        (folder / "before").mkdir()
        prepare(folder / "before")
        shutil.copytree(folder / "before", folder / "warm", symlinks=True)
        for name in names:  # so that each child has read fonts, templates and modules already
            run_here(folder / "warm", WRITERS[name])
        for name in names:
            begin = time.perf_counter()
            kills, found = Bench(folder, folder / "before", name).faults(mending=mending, some=some)
            wrong += found
            tell(f"{name}: {kills} kills, {len(found)} wrong, {time.perf_counter() - begin:.1f} s")
    return wrong


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT / "src"))
    asked = [name for name in sys.argv[1:] if not name.startswith("-")]
    some = "--some" in sys.argv
    faults = survey(asked or list(WRITERS), mending=not some and "--quick" not in sys.argv, some=some)
    print("\n".join(faults) or "nothing was lost")
    sys.exit(bool(faults))
