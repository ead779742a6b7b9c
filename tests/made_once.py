"""Quizzes that several tests begin with: each is made once for all processes of a run, and every test has a copy."""

import hashlib
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from filelock import FileLock

from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent

Once = Callable[..., Path]


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Once:
    """`made_once(folder, text, name="quiz", **order)` puts the plan `NAME.toml` in a folder, and its quiz below `out`.

    It gives the folder of the quiz. `order`: what `packing.Order` is told beside its folder.
    """
    own = tmp_path_factory.getbasetemp()
    shared = (own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "made-once"
    shared.mkdir(exist_ok=True)

    def copied(folder: Path, text: str, name: str = "quiz", **order: object) -> Path:
        made = shared / hashlib.sha256(repr((name, text, sorted(order.items()))).encode()).hexdigest()[:16]
        with FileLock(made.with_suffix(".lock")):
            if not made.with_suffix(".whole").exists():
                made.mkdir()
                (made / f"{name}.toml").write_text(text, "utf-8")
                make(made / f"{name}.toml", Order(made / "out", **order), progress=silent)
                made.with_suffix(".whole").touch()
        shutil.copytree(made, folder, dirs_exist_ok=True)
        return folder / "out" / name

    return copied
