"""Mutants of the rules of choosing: comparisons, numbers, conditions, sums and orders of a module, one at a time.

    python tests/mutants.py                        all modules of `mutants.toml`
    python tests/mutants.py forms/cueing.py ...    these modules only
    python tests/mutants.py --write ...            ... and their rows of the table in DEVELOPERS.md written anew
    python tests/mutants.py --among=FILE ...       only the mutants that a file tells, as an earlier run printed it
    python tests/mutants.py --same ...             those listed as the same, too: tells which are killed, or are gone

`mutants.toml` says which tests concern a module. A mutant is run in a process forked from one that has imported all
that does not depend on the module, with those cases of its tests that run the changed lines, until one fails. Prints
each that lives, then the rows of the table; exit code 1 if any lives. A mutant that nobody can tell from the module is
listed in `mutants.toml` with the reason, and is not run; so is one that only makes it slower or changes how much is
tried. Entries of that list with a number ("(no. 2)") slide where a module changes: with `--same` each that a case kills
or that is no mutant any more is printed, and the exit code is 1. `--among=/dev/null --same` runs nothing else.
"""

import ast
import doctest
import gc
import importlib
import importlib.machinery
import importlib.util
import json
import os
import signal
import sys
import tomllib
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from importlib.abc import MetaPathFinder
from io import StringIO
from itertools import product
from pathlib import Path
from types import CodeType, FrameType, ModuleType
from typing import Any

import hypothesis

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "barwright"
LISTED = Path(__file__).with_name("mutants.toml")
MOST_SECONDS = 30  # of the processor: who takes longer runs in circles, and is found out
AT_ONCE = 3
GUIDE = ROOT / "DEVELOPERS.md"

COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt), ast.LtE: (ast.Lt, ast.GtE), ast.Gt: (ast.GtE, ast.Lt), ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.In: (ast.NotIn,), ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,), ast.IsNot: (ast.Is,),
}  # fmt: skip
SUMS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.FloorDiv, ast.FloorDiv: ast.Mult, ast.Mod: ast.FloorDiv,
    ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr, ast.Div: ast.Mult,
}  # fmt: skip
EXCHANGED = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True)
class Mutant:
    """One change: the function it is in, its line, what stood there, what stands there now, and the module with it."""

    function: str
    line: int
    last: int
    before: str
    after: str
    code: CodeType

    @property
    def lines(self) -> set[int]:
        """The lines that it changes."""
        return set(range(self.line, self.last + 1))

    @property
    def change(self) -> str:
        """The change in one line, by which it is listed in `mutants.toml`."""
        return f"{self.function}: {self.before} => {self.after}"


def _called(name: str, *arguments: ast.expr) -> ast.Call:
    return ast.Call(ast.Name(name, ast.Load()), list(arguments), [])


def _others(node: ast.AST) -> Iterator[ast.AST]:
    """What can stand in the place of a node."""
    match node:
        case ast.Compare(left, ops, comparators):
            for place, op in enumerate(ops):
                for other in COMPARISONS[type(op)]:
                    yield ast.Compare(left, [*ops[:place], other(), *ops[place + 1 :]], comparators)
        case ast.BoolOp(op, values):
            for place in range(len(values)):
                left = [*values[:place], *values[place + 1 :]]
                yield left[0] if len(left) == 1 else ast.BoolOp(op, left)
        case ast.UnaryOp(ast.Not() | ast.USub(), operand):
            yield operand
        case ast.Constant(bool(value)):
            yield ast.Constant(not value)
        case ast.Constant(int(value)):
            yield from (ast.Constant(value + 1), ast.Constant(value - 1))
        case ast.BinOp(left, op, right) if type(op) in SUMS:
            yield ast.BinOp(left, SUMS[type(op)](), right)
        case ast.If(_, body, orelse):
            yield from (ast.If(ast.Constant(value), body, orelse) for value in (True, False))
        case ast.IfExp(_, body, orelse):
            yield from (body, orelse)
        case ast.comprehension(target, iterated, conditions) if conditions:
            for place in range(len(conditions)):
                yield ast.comprehension(target, iterated, [*conditions[:place], *conditions[place + 1 :]], 0)
        case ast.Call(ast.Name(name), arguments, keywords) if name in EXCHANGED:
            yield ast.Call(ast.Name(EXCHANGED[name], ast.Load()), arguments, keywords)
        case ast.Call(ast.Name("sorted"), arguments, keywords):
            turned = [k for k in keywords if k.arg == "reverse"]
            kept = [k for k in keywords if k.arg != "reverse"]
            reverse = [] if turned else [ast.keyword("reverse", ast.Constant(True))]
            yield ast.Call(ast.Name("sorted", ast.Load()), arguments, [*kept, *reverse])
        case ast.Break():
            yield ast.Pass()
        case ast.Continue():
            yield ast.Break()
        case ast.Expr(ast.Call()):
            yield ast.Pass()
        case ast.AugAssign(target, op, value) if type(op) in SUMS:
            yield ast.AugAssign(target, SUMS[type(op)](), value)


def _returns(node: ast.AST) -> Iterator[ast.AST]:
    """A return of a function that says yes or no: always yes, always no."""
    if isinstance(node, ast.Return) and not isinstance(node.value, ast.Constant | None):
        yield from (ast.Return(ast.Constant(value)) for value in (True, False))


def _told(node: ast.AST) -> str:
    match node:
        case ast.If(test):
            return f"if {ast.unparse(test)}"
        case ast.comprehension(_, _, conditions):
            return " ".join(f"if {ast.unparse(c)}" for c in conditions) or "no condition"
        case _:
            return ast.unparse(node)


def _left_alone(node: ast.AST) -> set[ast.AST]:
    """Annotations, decorators, bases and default docstrings: no rule stands in them."""
    alone: set[ast.AST] = set()
    for each in ast.walk(node):
        if isinstance(each, ast.FunctionDef):
            alone.update(each.decorator_list)
            alone.update(a.annotation for a in (*each.args.args, *each.args.kwonlyargs) if a.annotation)
            alone.update([each.returns] if each.returns else [])
        elif isinstance(each, ast.ClassDef):
            alone.update(each.decorator_list)
        elif isinstance(each, ast.AnnAssign):
            alone.add(each.annotation)
        elif isinstance(each, ast.Assign) and isinstance(each.value, ast.Subscript | ast.BinOp):
            # A name for a type, such as `Traces = tuple[...]`.
            if all(
                isinstance(t, ast.Name) and t.id.lstrip("_")[:1].isupper() and not t.id.isupper() for t in each.targets
            ):
                alone.add(each.value)
        elif isinstance(each, ast.Assert):
            alone.add(each)
        elif isinstance(each, ast.keyword) and each.arg == "strict":
            alone.add(each)  # of `zip`: asserts, too
    return alone


def mutants(text: str, path: str = "module") -> Iterator[Mutant]:
    """Every mutant of a source, in the order of its lines as far as they nest."""
    tree = ast.parse(text)
    alone = _left_alone(tree)

    def walked(node: ast.AST, function: str, yes_or_no: bool) -> Iterator[Mutant]:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            function = f"{function}.{node.name}".lstrip(".")
            if isinstance(node, ast.FunctionDef):
                yes_or_no = isinstance(node.returns, ast.Name) and node.returns.id == "bool"
        for name, value in ast.iter_fields(node):
            for place, child in enumerate(value if isinstance(value, list) else [value]):
                if not isinstance(child, ast.AST) or child in alone:
                    continue
                others = [*_others(child), *(_returns(child) if yes_or_no else ())]
                for other in others:
                    put = ast.copy_location(other, child) if hasattr(child, "lineno") else other
                    setattr(node, name, [*value[:place], put, *value[place + 1 :]] if isinstance(value, list) else put)
                    line = getattr(child, "lineno", 0) or getattr(node, "lineno", 0)
                    code = compile(ast.fix_missing_locations(tree), path, "exec")
                    last = getattr(child, "end_lineno", 0) or getattr(node, "end_lineno", line)
                    if isinstance(child, ast.If):
                        last = child.test.end_lineno or line
                    yield Mutant(function, line, last, _told(child), _told(other), code)
                    setattr(node, name, value)
                yield from walked(child, function, yes_or_no)

    seen: Counter[str] = Counter()
    for each in walked(tree, "", False):
        seen[each.change] += 1
        again = seen[each.change]
        yield replace(each, after=f"{each.after} (no. {again})") if again > 1 else each


class Finder(MetaPathFinder):
    """Gives the mutated code where the module is imported."""

    def __init__(self, name: str, path: Path, code: CodeType) -> None:
        self.name, self.path, self.code = name, path, code

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        """The place of the module, with a loader of the mutated code."""
        del path, target
        if fullname != self.name:
            return None
        code = self.code

        class Loader(importlib.machinery.SourceFileLoader):
            def get_code(self, fullname: str) -> CodeType:
                del fullname
                return code

        loader = Loader(fullname, str(self.path))
        return importlib.util.spec_from_file_location(fullname, self.path, loader=loader)


def _module_name(path: Path) -> str:
    parts = path.relative_to(SOURCE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _imported(path: Path, names: set[str]) -> set[str]:
    """The modules of the product that a module imports, with the packages they are in."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        for name in (
            [f"{node.module}.{a.name}" for a in node.names] + [str(node.module)]
            if isinstance(node, ast.ImportFrom)
            else [a.name for a in node.names]
            if isinstance(node, ast.Import)
            else []
        ):
            parts = name.split(".")
            found |= {".".join(parts[:n]) for n in range(1, len(parts) + 1)} & names
    return found


def independent_of(name: str) -> list[str]:
    """The modules of the product that do not import this one, by whatever way."""
    paths = {_module_name(path): path for path in sorted(SOURCE.rglob("*.py"))}
    imports = {each: _imported(path, set(paths)) for each, path in paths.items()}
    dependent = {name}
    while True:
        more = {each for each, found in imports.items() if found & dependent} - dependent
        # Whoever imports a module runs the `__init__` of its package.
        more |= {
            each
            for each in paths
            if any(each.startswith(f"{d}.") for d in dependent | more if paths[d].name == "__init__.py")
        } - dependent
        if not more:
            return [each for each in paths if each not in dependent and each != "barwright.__main__"]
        dependent |= more


Case = tuple[str, str, int]
"""A file of tests, the name of a test in it, and the number of its case; for a file of the product its doctests."""


def _cases(tests: Sequence[str]) -> Iterator[Case]:
    """Every test with all its parameters; it may ask for no fixtures."""
    for each in tests:
        if (ROOT / each).is_relative_to(SOURCE):
            yield each, "", 0
            continue
        for name, test in vars(_imported_test(each)).copy().items():
            if name.startswith("test_") and test.__module__ == Path(each).stem:
                yield from ((each, name, number) for number in range(len(_parameters(test))))


def _imported_test(path: str) -> ModuleType:
    sys.path.insert(0, str((ROOT / path).parent))
    return importlib.import_module(Path(path).stem)


def _parameters(test: Callable[..., None]) -> list[dict[str, Any]]:
    marks = [mark for mark in getattr(test, "pytestmark", []) if mark.name == "parametrize"]
    every = product(*(_arguments(*mark.args[:2]) for mark in marks))
    return [{name: value for arguments in chosen for name, value in arguments.items()} for chosen in every]


def _call(case: Case) -> None:
    """Runs one case; raises whatever it raises."""
    path, name, number = case
    if name:
        test = getattr(_imported_test(path), name)
        test(**_parameters(test)[number])
    else:
        assert not doctest.testmod(importlib.import_module(_module_name(ROOT / path))).failed


def _quiet() -> None:
    sys.stdout = StringIO()
    gc.disable()  # all of it ends with the process


def _passed(cases: Sequence[Case], finder: Finder) -> int:
    """0 if all these cases pass on the module as the finder gives it.

    They are called one by one without pytest, whose own work takes ten times as long as theirs.
    """
    sys.meta_path.insert(0, finder)
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)  # what a mutant fails by does not matter
    _quiet()
    signal.setitimer(signal.ITIMER_PROF, MOST_SECONDS)
    for case in cases:
        _call(case)
    return 0


def _seen_lines(tests: Sequence[str], path: Path, writing: int) -> int:
    """Runs all cases on the module as it is, and writes which of its lines each runs; those of the import for all."""
    _quiet()
    lines: set[int] = set()

    def trace(frame: FrameType, event: str, _argument: object) -> Callable[..., Any] | None:
        if frame.f_code.co_filename != str(path):
            return None
        if event == "line":
            lines.add(frame.f_lineno)
        return trace

    sys.settrace(trace)
    cases = list(_cases(tests))
    always, found = set(lines), []
    for case in cases:
        lines.clear()
        for cached in [each for each in gc.get_objects() if isinstance(each, type(_CACHED))]:
            cached.cache_clear()  # or what one case has asked for would run in no other
        _call(case)
        found.append((case, sorted(lines | always)))
    sys.settrace(None)
    with os.fdopen(writing, "w") as told:
        json.dump(found, told)
    return 0


@lru_cache
def _CACHED() -> None:
    """Any cached function: its type is that of all of them."""


def _arguments(names: str | Sequence[str], values: Iterable[Any]) -> list[dict[str, Any]]:
    """The arguments of each case of a `parametrize`."""
    every = [name.strip() for name in names.split(",")] if isinstance(names, str) else list(names)
    found = []
    for value in values:
        plain = value.values if hasattr(value, "marks") else (value,) if len(every) == 1 else value
        found.append(dict(zip(every, plain, strict=True)))
    return found


def _forked(work: Callable[[], int]) -> int:
    process = os.fork()
    if process == 0:
        code: int | None = None
        try:
            code = work()
        finally:
            if code is None:
                traceback.print_exc()
            os._exit(99 if code is None else code)
    return process


def tried(module: str, tests: Sequence[str], which: Sequence[Mutant]) -> list[bool]:
    """For each mutant whether it lives: all cases that run its lines pass. ValueError if one fails without it."""
    path = SOURCE / module
    reading, writing = os.pipe()
    process = _forked(partial(_seen_lines, tests, path, writing))
    os.close(writing)
    with os.fdopen(reading) as told:
        text = told.read()
    if _wait(process) != 0:
        raise ValueError(f"{module}: its tests fail on the module as it is: {' '.join(tests)}")
    seen = [(tuple(case), set(lines)) for case, lines in json.loads(text)]
    running: dict[int, int] = {}
    lives = [False] * len(which)

    def finish() -> None:
        process, status = os.wait()
        lives[running.pop(process)] = os.waitstatus_to_exitcode(status) == 0

    for number, each in enumerate(which):
        cases = [case for case, lines in seen if lines & each.lines]
        if not cases:
            lives[number] = True
            continue
        if len(running) == AT_ONCE:
            finish()
        running[_forked(partial(_passed, cases, Finder(_module_name(path), path, each.code)))] = number
    while running:
        finish()
    return lives


def _wait(process: int) -> int:
    return os.waitstatus_to_exitcode(os.waitpid(process, 0)[1])


@dataclass(frozen=True)
class Tested:
    """How many mutants a module has, how many live, how many are the same, how many entries of that list are wrong."""

    every: int
    live: int
    same: int
    slid: int = 0


def tested(module: str, tests: Sequence[str], same: dict[str, str], among: str | None, *, same_too: bool) -> Tested:
    """Runs the mutants of a module; prints what lives.

    `among`: only those that are told in this text are run. `same_too`: those listed as the same are run, too, and what
    of the list is killed or gone is printed.

    ValueError if one is listed that the module does not have, unless `same_too`.
    """
    path = SOURCE / module
    found = list(mutants(path.read_text("utf-8"), str(path)))
    gone = sorted(set(same) - {each.change for each in found})
    if gone and not same_too:
        raise ValueError(f"{module}: listed as the same, and no such mutant: {gone}")
    left = [each for each in found if each.change not in same]
    if among is not None:
        told = {line.partition(": ")[2] for line in among.splitlines() if line.startswith(f"{module}:")}
        left = [each for each in left if each.change in told]
    for name in independent_of(_module_name(path)):
        importlib.import_module(name)
    gc.freeze()
    equal = [each for each in found if each.change in same]
    lives = tried(module, tests, [*left, *equal] if same_too else left)
    live = [each for each, alive in zip(left, lives, strict=False) if alive]
    killed = [each for each, alive in zip(equal, lives[len(left) :], strict=False) if not alive]
    for each in live:
        print(f"{module}:{each.line}: {each.change}")
    for each in killed:
        print(f"{module}:{each.line}, listed as the same, and killed: {each.change}")
    for change in gone if same_too else ():
        print(f"{module}, listed as the same, and no such mutant: {change}")
    return Tested(len(found), len(live), len(equal) - len(killed), len(killed) + len(gone))


def main(*arguments: str) -> int:
    """Prints what lives, and the rows of the table; 1 if anything lives, or is not the same that is listed as it."""
    hypothesis.settings.register_profile("any-machine", deadline=None)
    hypothesis.settings.load_profile("any-machine")
    sys.path[:0] = [str(SOURCE.parent), *(str(ROOT / "tests" / each) for each in ("", "qti", "fuzz"))]
    listed = tomllib.loads(LISTED.read_text("utf-8"))
    modules = [each for each in arguments if not each.startswith("--")] or list(listed)
    among = next((Path(each.partition("=")[2]).read_text("utf-8") for each in arguments if "--among=" in each), None)
    rows, all_well = [], True
    for module in modules:
        # A process of its own for each, which imports what does not depend on this module.
        reading, writing = os.pipe()
        process = _forked(partial(_counted, module, listed[module], among, writing, same_too="--same" in arguments))
        os.close(writing)
        with os.fdopen(reading) as told:
            row = told.read()
        all_well &= _wait(process) == 0
        rows.append(row)
        print(row, flush=True)
    if "--write" in arguments:
        text = GUIDE.read_text("utf-8")
        for module, row in zip(modules, rows, strict=True):
            text = "\n".join(row if row and line.startswith(f"| `{module}`") else line for line in text.split("\n"))
        GUIDE.write_text(text, "utf-8")
    return int(not all_well)


def _counted(module: str, entry: dict[str, Any], among: str | None, writing: int, *, same_too: bool) -> int:
    """Writes the module's row of the table; 1 if a mutant lives, or the list of those that are the same is wrong."""
    counts = tested(module, entry["tests"], entry.get("same", {}), among, same_too=same_too)
    killed = counts.every - counts.live - counts.same
    os.write(writing, f"| `{module}` | {counts.every} | {killed} | {counts.same} |".encode())
    sys.stdout.flush()
    return int(counts.live > 0 or counts.slid > 0)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
