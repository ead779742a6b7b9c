"""Mutants of the rules of choosing: each comparison, number, `and`, `or` and `not` of a module changed, one at a time.

    python tests/mutants.py forms/cueing.py tests/forms/test_cueing.py [more tests ...]

For each mutant the tests are run, until the first that fails, on a copy of the source. Prints those that live, and how
many there were; exit code 1 if any lives. A mutant that changes nothing that can be seen is told to be so by a remark
`# same: reason` at the end of its line, and is left out.
"""

import ast
import copy
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).parents[1]
SWAPPED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
MOST_SECONDS = 120


def spots(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """The number of each node that can be changed, in the order of `ast.walk`, and what is done to it."""
    for number, node in enumerate(ast.walk(tree)):
        if isinstance(node, ast.Compare) and type(node.ops[0]) in SWAPPED:
            yield number, "comparison"
        elif isinstance(node, ast.BoolOp):
            yield number, "and/or"
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            yield number, "not"
        elif isinstance(node, ast.Constant) and type(node.value) is int:
            yield number, "number"
        elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub):
            yield number, "sum"


def mutant(tree: ast.Module, number: int) -> tuple[str, int]:
    """The source with one node changed, and the line of it."""
    changed = copy.deepcopy(tree)
    node = next(node for place, node in enumerate(ast.walk(changed)) if place == number)
    if isinstance(node, ast.Compare):
        node.ops[0] = SWAPPED[type(node.ops[0])]()
    elif isinstance(node, ast.BoolOp):
        node.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
    elif isinstance(node, ast.UnaryOp):
        node.op, node.operand = ast.Not(), ast.UnaryOp(ast.Not(), node.operand)
    elif isinstance(node, ast.BinOp):
        node.op = ast.Sub() if isinstance(node.op, ast.Add) else ast.Add()
    elif isinstance(node, ast.Constant):
        node.value += 1
    return ast.unparse(ast.fix_missing_locations(changed)), getattr(node, "lineno", 0)


def survives(folder: Path, module: str, source: str, tests: list[str]) -> bool:
    """Whether all tests pass with this source in the place of the module."""
    with TemporaryDirectory(dir=folder) as name:
        tree = Path(name, "src")
        shutil.copytree(ROOT / "src", tree, ignore=shutil.ignore_patterns("__pycache__"))
        (tree / "barwright" / module).write_text(source, "utf-8")
        (Path(name) / "templates").symlink_to(ROOT / "templates")
        environment = {**os.environ, "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
        command = [sys.executable, "-m", "pytest", "-n", "0", "-x", "-q", "-p", "no:cacheprovider", *tests]
        try:
            done = subprocess.run(
                command, cwd=ROOT, env=environment, capture_output=True, timeout=MOST_SECONDS, check=False
            )
        except subprocess.TimeoutExpired:
            return False
        return done.returncode == 0


def main(module: str, *tests: str) -> int:
    """Prints what lives; 1 if anything does."""
    path = ROOT / "src" / "barwright" / module
    text = path.read_text("utf-8")
    lines, tree = text.splitlines(), ast.parse(text)
    told = [(number, kind) for number, kind in spots(tree)]
    tried: list[tuple[str, str, int]] = []
    for number, kind in told:
        source, line = mutant(tree, number)
        if "# same:" not in lines[line - 1]:
            tried.append((source, kind, line))
    with TemporaryDirectory() as name, ThreadPoolExecutor(2) as pool:
        lives = list(pool.map(lambda each: survives(Path(name), module, each[0], list(tests)), tried))
    for (_, kind, line), alive in zip(tried, lives, strict=True):
        if alive:
            print(f"{module}:{line}: {kind} changed, and no test fails: {lines[line - 1].strip()}")
    print(f"{module}: {len(tried)} mutants, {sum(lives)} live, {len(told) - len(tried)} left out as the same")
    return int(any(lives))


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
