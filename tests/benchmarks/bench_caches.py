"""What each cache is worth: seconds of processor that it saves on a demo unit, so that none stands without its figure.

    python tests/benchmarks/bench_caches.py [RUNS] [PART OF A NAME]

Makes the unit with one cache switched off at a time, in processes of their own, and prints the least of some runs each,
beside a run with all of them. Small differences are noise: about a hundredth of a second.
"""

import ast
import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
SRC = ROOT / "src"
UNIT = ROOT / "shared/blueprints/unit-1-half-notes-and-rests.toml"
CACHES = ("cache", "lru_cache")
CHILD = """
import functools, json, sys, time
off, unit, out, src = sys.argv[1:]
sys.path.insert(0, src)
lru_cache = functools.lru_cache
def switched(maxsize=128, typed=False):
    def decorated(function):
        name = f"{function.__module__}.{function.__qualname__}"
        if name == off:
            function.cache_clear = lambda: None
            return function
        return lru_cache(maxsize, typed)(function)
    if callable(maxsize):
        function, maxsize = maxsize, 128
        return decorated(function)
    return decorated
functools.lru_cache = switched
functools.cache = lambda function: switched(None)(function)
from barwright.cli import app
start = time.process_time()
try:
    app(["make", unit, "--out", out, "--replace"], standalone_mode=False)
except SystemExit:
    pass
print(json.dumps(time.process_time() - start), file=sys.stderr)
"""


def caches() -> list[str]:
    """Full names of all functions under a cache, nested ones as Python names them."""
    found: list[str] = []

    def walk(node: ast.AST, prefix: str) -> None:
        for child in ast.iter_child_nodes(node):
            name = prefix
            if isinstance(child, ast.FunctionDef | ast.ClassDef):
                name = f"{prefix}.{child.name}"
                for decorator in child.decorator_list:
                    called = decorator.func if isinstance(decorator, ast.Call) else decorator
                    if isinstance(called, ast.Name) and called.id in CACHES:
                        found.append(name)
                name += ".<locals>" if isinstance(child, ast.FunctionDef) else ""
            walk(child, name)

    for path in sorted((SRC / "barwright").rglob("*.py")):
        module = path.relative_to(SRC).with_suffix("").as_posix().replace("/", ".").removesuffix(".__init__")
        walk(ast.parse(path.read_text("utf-8")), module)
    return found


def seconds(off: str, out: str, runs: int) -> float:
    """The least processor time of some runs with this cache off."""
    times = []
    for _ in range(runs):
        command = [sys.executable, "-c", CHILD, off, str(UNIT), out, str(SRC)]
        done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=ROOT)
        times.append(json.loads(done.stderr.splitlines()[-1]))
    return min(times)


def main(runs: int = 3, part: str = "") -> None:
    """Prints the table, dearest first."""
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as out:
        usual = seconds("", out, 2 * runs)
        print(f"all caches: {usual:.2f} s")
        saved = {name: seconds(name, out, runs) - usual for name in caches() if part in name}
        for name, each in sorted(saved.items(), key=lambda row: -row[1]):
            print(f"{each:6.3f} s  {name}", flush=True)
        print(f"all caches: {seconds('', out, 2 * runs):.2f} s; {len(saved)} caches")


if __name__ == "__main__":
    main(*(int(word) if word.isdigit() else word for word in sys.argv[1:]))
