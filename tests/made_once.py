"""Quizzes and forms that several tests begin with: each is made once for all processes of a run."""

import hashlib
import os
import pickle
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import pytest
from filelock import FileLock

from barwright.blueprint.blueprint import Blueprint
from barwright.forms.assembly import MadeForm, made_forms
from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent

Once = Callable[..., Path]
Value = TypeVar("Value")


PLACE = "BARWRIGHT_MADE_ONCE"


def pytest_configure(config: pytest.Config) -> None:
    """The first process of a run says where, and all that it begins know it from their environment."""
    if not hasattr(config, "workerinput"):
        os.environ[PLACE] = tempfile.mkdtemp(prefix="made-once-")


def pytest_unconfigure(config: pytest.Config) -> None:
    if not hasattr(config, "workerinput"):
        shutil.rmtree(os.environ.pop(PLACE))


def _key(*made_of: object) -> str:
    return hashlib.sha256(repr(made_of).encode()).hexdigest()[:16]


def value_once(made_of: object, made: Callable[[], Value]) -> Value:
    """What `made` makes, where it makes the same whenever `made_of` is the same."""
    if PLACE not in os.environ:
        return made()
    file = Path(os.environ[PLACE]) / f"{_key(made_of)}.pickle"
    with FileLock(file.with_suffix(".lock")):
        if not file.exists():
            file.write_bytes(pickle.dumps(made()))
        value: Value = pickle.loads(file.read_bytes())
        return value


def forms_once(blueprint: Blueprint) -> tuple[MadeForm, ...]:
    """The forms of a blueprint, as `made_forms` makes them."""
    return value_once(blueprint, lambda: made_forms(blueprint))


@pytest.fixture(scope="session")
def made_once() -> Once:
    """`made_once(folder, text, name="quiz", **order)` puts the plan `NAME.toml` in a folder, and its quiz below `out`.

    Every caller has a copy. It gives the folder of the quiz. `order`: what `packing.Order` is told beside its folder.
    """

    def copied(folder: Path, text: str, name: str = "quiz", **order: object) -> Path:
        made = Path(os.environ[PLACE]) / _key(name, text, sorted(order.items()))
        with FileLock(made.with_suffix(".lock")):
            if not made.with_suffix(".whole").exists():
                made.mkdir()
                (made / f"{name}.toml").write_text(text, "utf-8")
                make(made / f"{name}.toml", Order(made / "out", **order), progress=silent)
                made.with_suffix(".whole").touch()
        shutil.copytree(made, folder, dirs_exist_ok=True)
        return folder / "out" / name

    return copied
