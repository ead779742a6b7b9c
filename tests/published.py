"""The standards' checker run on packages, and what it complains of."""

import atexit
import importlib.util
import json
import subprocess
import sys
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from types import ModuleType

# One process for all packages of a test process: the published schemas take seconds to compile. It reads paths and
# prints lists of problems, one a line.
ASKED = """
import json, sys, warnings
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from validate import validate
warnings.simplefilter("ignore")
for line in sys.stdin:
    print(json.dumps(validate(Path(json.loads(line)))), flush=True)
"""


@cache
def checker(standards: Path) -> ModuleType:
    """The checker as a module, for its compiled schemas."""
    spec = importlib.util.spec_from_file_location("standards_checker", standards / "validate.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@cache
def _asked(standards: Path) -> "subprocess.Popen[str]":
    command = [sys.executable, "-c", ASKED, standards]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    atexit.register(process.communicate)
    return process


def complaints(standards: Path, packages: Iterable[Path | str]) -> list[str]:
    """Its complaints, one a line, as its command prints them."""
    process, told = _asked(standards), []
    assert process.stdin is not None
    assert process.stdout is not None
    for path in packages:
        process.stdin.write(json.dumps(str(path)) + "\n")
        process.stdin.flush()
        told += [f"{path}: {problem}" for problem in json.loads(process.stdout.readline())]
    return told
