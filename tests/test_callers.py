"""Code that nothing in the product calls: it belongs into the tests, or away.

python tests/test_callers.py        lists each such function, method and class, and how many lines it has
"""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
SRC = ROOT / "src" / "barwright"
# What calls a function by itself, without its name: the command line and pydantic.
REGISTERING = ("command", "callback", "validator", "serializer")


def named(tree: ast.AST) -> Iterator[str]:
    """Every name that is used: variables, attributes, names that are imported under another, names in texts."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.alias) and node.asname:
            yield node.name
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.isidentifier():
            yield node.value


def defined(tree: ast.Module | ast.ClassDef) -> Iterator[ast.FunctionDef | ast.ClassDef]:
    """Every function, method and class of a module, those inside functions apart."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node
        if isinstance(node, ast.ClassDef):
            yield from defined(node)


def registered(node: ast.FunctionDef | ast.ClassDef) -> bool:
    """Whether something else calls it without naming it: Python itself, or a decorator's library."""
    special = node.name.startswith("__") and node.name.endswith("__")
    return special or any(word in ast.unparse(each) for each in node.decorator_list for word in REGISTERING)


def uncalled() -> dict[str, int]:
    """Module and name of everything that the product defines and never names, and its lines; templates count."""
    trees = {path: ast.parse(path.read_text("utf-8")) for path in sorted(SRC.rglob("*.py"))}
    known = {name for tree in trees.values() for name in named(tree)}
    templates = " ".join(path.read_text("utf-8") for path in sorted((ROOT / "templates").rglob("*.j2")))
    return {
        f"{path.relative_to(SRC).as_posix()} {node.name}": (node.end_lineno or 0) - node.lineno + 1
        for path, tree in trees.items()
        for node in defined(tree)
        if node.name not in known and not registered(node) and node.name not in templates
    }


def test_everything_has_a_caller_in_the_product() -> None:
    assert uncalled() == {}


if __name__ == "__main__":
    for name, lines in uncalled().items():
        print(f"{lines:4}  {name}")
