"""The standards' checker run on packages, and what it complains of."""

import importlib.util
import sys
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from types import ModuleType


@cache
def checker(standards: Path) -> ModuleType:
    """The checker as a module, loaded once: its schemas take seconds to compile."""
    spec = importlib.util.spec_from_file_location("standards_checker", standards / "validate.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def complaints(standards: Path, packages: Iterable[Path | str]) -> list[str]:
    """Its complaints, one a line, as the command prints them."""
    return [f"{path}: {problem}" for path in packages for problem in checker(standards).validate(Path(path))]
