"""A small quiz in every standard for tests of single questions: made once, copied for each test."""

import shutil
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from barwright.items.form import Form
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from barwright.tasks.record import read_record, read_record_text
from command_line import Command
from made_once import Once
from same_entries import entries

BLUEPRINT = """
title = "Single questions"
sections = ["Period 1", "Period 3"]
[elements]
meters = ["2/4", "3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["half", "quarter"]
[curriculum]
measure-completion = ["MU:1"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 3
[[part]]
family = "measure-completion"
ask = "beats-left"
items = 2
[[part]]
family = "count-labeling"
ask = "counts-for-rhythm"
items = 2
[[part]]
family = "meter-identification"
ask = "does-it-fit"
items = 1
"""


def make_quiz(folder: Path, text: str, *standards: str) -> None:
    """A blueprint `quiz.toml` in a folder, and the quiz of it below `out`."""
    (folder / "quiz.toml").write_text(text, "utf-8")
    make(folder / "quiz.toml", Order(folder / "out", standards=standards), progress=silent)


@pytest.fixture(scope="session")
def made_folder(tmp_path_factory: pytest.TempPathFactory, made_once: Once) -> Path:
    """A folder with the quiz and its blueprint, which no test changes."""
    folder = tmp_path_factory.mktemp("single")
    made_once(folder, BLUEPRINT, standards=("cc11", "cc12", "cc13", "qti12", "qti22", "qti30"))
    return folder


@pytest.fixture
def quiz(made_folder: Path, tmp_path: Path) -> Path:
    """A copy of the quiz folder, its blueprint in the folder above."""
    shutil.copytree(made_folder, tmp_path, dirs_exist_ok=True)
    return tmp_path / "out" / "quiz"


@pytest.fixture
def say(monkeypatch: pytest.MonkeyPatch, typed: Command, quiz: Path) -> Command:
    """Runs `barwright ARGUMENTS` where `out/quiz` is; gives exit code, output and error output."""
    monkeypatch.chdir(quiz.parents[1])
    return typed


@pytest.fixture
def ask(say: Command) -> Callable[..., str]:
    """Runs `barwright question COMMAND out/quiz ...` on Period 1, and gives what it prints; it must succeed."""

    def call(command: str, *arguments: object, section: str = "Period 1") -> str:
        named = () if command == "apply" else ("--section", section)
        code, out, err = say("question", command, "out/quiz", *arguments, *named)
        assert (code, err) == (0, "")
        return out

    return call


def forms(quiz: Path) -> dict[str, Form]:
    """The forms of the quiz itself by section, as its record tells them."""
    read = read_record(read_record_text(quiz / "record.jsonl"), "record")
    return {form.section: form for form in read if not form.retake}


def ids(quiz: Path, section: str = "Period 1") -> list[str]:
    """The ids of a form's items, in order."""
    return [placed.item.id for placed in forms(quiz)[section].items]


def differing(one: Path, other: Path) -> set[str]:
    """The files that differ, and of packages the entries."""
    first, second = entries(one), entries(other)
    return {name for name in first.keys() | second.keys() if first.get(name) != second.get(name)}


def packages(quiz: Path) -> Iterable[Path]:
    """Every package of the quiz."""
    return sorted(path for path in quiz.rglob("*") if path.suffix in (".zip", ".imscc"))
