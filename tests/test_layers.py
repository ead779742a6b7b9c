"""The arrows between the layers, and the rules that a machine can hold."""

import ast
import re
import sys
from functools import cache
from pathlib import Path

import pytest

SRC = Path(__file__).parents[1] / "src" / "barwright"
FILES = sorted(SRC.rglob("*.py"))

# Layer -> what it may import of ours. The rooms stand in the order of the drawing, from the ground up.
_PLAIN = {"errors", "showing"}  # of use everywhere
_MUSIC = {"rhythm", "counting", "notation", *_PLAIN}
_ITEMS = {"items", "misreadings", *_MUSIC}
_FORMS = {"forms", "guesser", "blueprint", "asks", "judge", "templates_folder", *_ITEMS}
_WORDING = {"wording", "templates_folder", "asks", *_ITEMS}
MAY_IMPORT = {
    "__init__": set(),
    "errors": set(),
    "showing": set(),
    "inputs": set(),
    "templates_folder": _PLAIN,
    "rhythm": _PLAIN,
    "counting": {"rhythm", *_PLAIN},
    "notation": {"counting", "rhythm", *_PLAIN},
    "misreadings": _MUSIC,
    "guesser": {"templates_folder", *_MUSIC},
    "items": {"misreadings", *_MUSIC},
    "judge": {"items", *_MUSIC},
    "asks": _ITEMS,
    "blueprint": {"asks", "templates_folder", *_ITEMS},
    "forms": _FORMS,
    "results": _FORMS,
    "bank": _FORMS,
    "edits": {"bank", *_FORMS},
    "engrave": {"inputs", *_MUSIC},
    "wording": _WORDING,
    "qti": _WORDING,
    "pages": _WORDING,
    "paper": _WORDING,
    "check": {"templates_folder", *_PLAIN},
    "tasks": {"inputs", "bank", "edits", "results", "engrave", "qti", "pages", "paper", "check", *_FORMS, *_WORDING},
    "desk": {"tasks", "templates_folder", *_PLAIN},
    "__main__": {"cli"},
    "cli": {
        *(
            "cli_bank",
            "cli_desk",
            "cli_help",
            "cli_question",
            "cli_results",
            "cli_schools",
            "cli_wording",
            "cli_output",
        ),
        *("tasks", *_PLAIN),
    },
    "cli_desk": {"cli_bank", "cli_output", "desk", "tasks", *_PLAIN},
    "cli_help": {"cli_bank", "cli_output", "tasks", *_PLAIN},
    "cli_question": {"cli_bank", "cli_output", "tasks", *_PLAIN},
    "cli_wording": {"cli_bank", "cli_output", "tasks", *_PLAIN},
    "cli_results": {"cli_bank", "cli_output", "tasks", *_PLAIN},
    "cli_schools": {"cli_bank", "cli_output", "tasks", *_PLAIN},
    "cli_bank": {"cli_output", "tasks", *_PLAIN},
    "cli_output": _PLAIN,
}
# What the desk needs to speak with a browser on this computer, and nothing else may use.
SPEAKS = {
    "desk/keys.py": {"secrets"},
    "desk/guard.py": {"http"},
    "desk/one_desk.py": {"http"},
    "desk/serving.py": {"socket"},
}
DRAWING = (SRC.parents[1] / "DEVELOPERS.md").read_text("utf-8").split("## The drawing")[1].split("```")[1]
MOST_LINES = 400
MOST_FUNCTION_LINES = 40


def test_the_drawing_shows_every_room() -> None:
    rooms = {path.parent.name for path in SRC.glob("*/__init__.py")}
    assert sorted(rooms - set(re.findall(r"\w+", DRAWING))) == []


def layer_of(path: Path) -> str:
    return path.relative_to(SRC).parts[0].removesuffix(".py")


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


@cache
def imports_of(path: Path) -> tuple[ast.Import | ast.ImportFrom, ...]:
    return tuple(n for n in ast.walk(tree_of(path)) if isinstance(n, ast.Import | ast.ImportFrom))


def imported_modules(path: Path) -> set[str]:
    """Full names of all modules that a file imports; a relative import is a fault."""
    found: set[str] = set()
    for node in imports_of(path):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        else:
            assert node.level == 0, f"{path} has a relative import in line {node.lineno}"
            found.add(node.module or "")
    return found


def imported_layers(path: Path) -> set[str]:
    return {m.split(".")[1] for m in imported_modules(path) if m.startswith("barwright.")}


def test_nothing_points_back() -> None:
    bad = {path: imported_layers(path) - {layer_of(path), *MAY_IMPORT[layer_of(path)]} for path in FILES}
    assert {path: layers for path, layers in bad.items() if layers} == {}


@pytest.mark.parametrize("layer", ["rhythm", "counting", "notation", "misreadings", "judge"])
def test_the_core_needs_the_standard_library_only(layer: str) -> None:
    for path in (SRC / layer).glob("*.py"):
        foreign = {m.split(".")[0] for m in imported_modules(path)} - {"barwright", *sys.stdlib_module_names}
        assert not foreign, f"{path} imports {sorted(foreign)}"


def test_the_judge_shares_only_rhythm_with_the_makers_of_items() -> None:
    judge = SRC / "judge"
    for path in judge.rglob("*.py"):
        ours = {m for m in imported_modules(path) if m.startswith("barwright.")}
        music = (
            "barwright.errors",
            "barwright.showing",
            "barwright.rhythm",
            "barwright.counting",
            "barwright.notation",
        )
        allowed = (*music, "barwright.items.item", "barwright.items.taught", "barwright.judge")
        bad = {m for m in ours if not m.startswith(allowed)}
        assert not bad, f"{path} imports {sorted(bad)}"


def test_only_drawing_imports_pillow_and_nothing_imports_verovio() -> None:
    for path in FILES:
        modules = {m.split(".")[0] for m in imported_modules(path)}
        assert "verovio" not in modules, path
        assert "PIL" not in modules or path == SRC / "engrave" / "draw.py", path


def test_only_typesetting_imports_typst_and_nothing_loads_it_before_something_is_printed() -> None:
    for path in FILES:
        modules = imported_modules(path)
        assert "typst" not in modules or path == SRC / "paper" / "typesetting.py", path
        tree = tree_of(path)
        at_once = {node.module for node in tree.body if isinstance(node, ast.ImportFrom)}
        assert "barwright.paper.typesetting" not in at_once, path


def test_only_the_cluster_imports_dask_and_nothing_loads_it_before_it_is_asked_for() -> None:
    for path in FILES:
        modules = {module.split(".")[0] for module in imported_modules(path)}
        assert not modules & {"dask", "distributed"} or path == SRC / "tasks" / "cluster.py", path
        tree = tree_of(path)
        at_once = {node.module for node in tree.body if isinstance(node, ast.ImportFrom)}
        at_once |= {alias.name for node in tree.body if isinstance(node, ast.Import) for alias in node.names}
        assert not at_once & {"barwright.tasks.cluster", "distributed"}, path


def test_only_the_reading_of_answers_computes_with_numpy_and_what_make_asks_of_it_does_not() -> None:
    light = {"__init__", "acting", "answers", "chances", "together"}
    for path in FILES:
        if "numpy" in {m.split(".")[0] for m in imported_modules(path)}:
            assert layer_of(path) == "results", path
            assert path.stem not in light, path
    for name in light:
        ours = {m for m in imported_modules(SRC / "results" / f"{name}.py") if m.startswith("barwright.results.")}
        assert {m.split(".")[-1] for m in ours} <= light, name


@pytest.mark.parametrize("layer", sorted(_FORMS - _PLAIN))
def test_music_is_exact_so_no_float_is_near(layer: str) -> None:
    for path in (SRC / layer).rglob("*.py"):
        for node in ast.walk(tree_of(path)):
            inexact = (isinstance(node, ast.Constant) and isinstance(node.value, float)) or (
                isinstance(node, ast.Name) and node.id == "float"
            )
            assert not inexact, f"{path}:{node.lineno} has a float"


def test_no_clock_no_network_no_hidden_chance() -> None:
    banned = {"datetime", "time", "uuid", "socket", "urllib", "http", "requests", "secrets"}
    for path in FILES:
        mine = banned - SPEAKS.get(path.relative_to(SRC).as_posix(), set())
        bad = {m.split(".")[0] for m in imported_modules(path)} & (mine - {"urllib"}) | _network_of(path)
        assert not bad, f"{path} imports {sorted(bad)}"
        assert "random.seed(" not in path.read_text("utf-8")


def _network_of(path: Path) -> set[str]:
    """What of `urllib` is more than the reading and writing of addresses."""
    return {m for m in imported_modules(path) if m.split(".")[0] == "urllib" and m != "urllib.parse"}


def test_the_desk_does_nothing_that_no_command_does() -> None:
    """Its actions are calls that the command line makes as well; all else in it only looks (`tasks.shown`)."""
    by_hand = {"keep", "take_away", "say_columns"}  # who has a terminal copies, deletes and edits the file there
    first_of_all = {"mend"}  # every command that writes does it before anything else
    commands = [*SRC.glob("cli*.py"), SRC / "tasks" / "plan" / "command.py"]
    called = {name for path in commands for name in _names_from_tasks(path)}
    actions = {name for name in _names_from_tasks(SRC / "desk" / "actions.py") if name[1].islower()}
    assert {name for _, name in actions - called} == by_hand | first_of_all
    for path in (SRC / "desk").glob("*.py"):
        looked = {m for m in imported_modules(path) if m.startswith("barwright.tasks")}
        shown = ("barwright.tasks.shown", "barwright.tasks.plan.presets")
        assert path.stem == "actions" or all(m.startswith(shown) for m in looked), path
    for path in (SRC / "tasks" / "shown").glob("*.py"):
        writers = {"write_new", "write_whole", "update", "changing", "held_bank", "replace_file", "change", "undo"}
        assert not {name for _, name in _names_from_tasks(path)} & writers, path


def _names_from_tasks(path: Path) -> set[tuple[str, str]]:
    """Module and name of whatever a file takes from the tasks."""
    found = [
        n for n in imports_of(path) if isinstance(n, ast.ImportFrom) and (n.module or "").startswith("barwright.tasks")
    ]
    return {(node.module or "", alias.name) for node in found for alias in node.names}


def test_modules_and_functions_fit_a_screen() -> None:
    for path in FILES:
        text = path.read_text("utf-8")
        assert text.count("\n") <= MOST_LINES, f"{path} has {text.count(chr(10))} lines"
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.FunctionDef):
                lines = (node.end_lineno or node.lineno) - node.lineno + 1
                assert lines <= MOST_FUNCTION_LINES, f"{path}:{node.lineno} {node.name} has {lines} lines"


def test_every_public_name_says_what_comes_back() -> None:
    for path in FILES:
        for node in tree_of(path).body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
                assert ast.get_docstring(node), f"{path}:{node.lineno} {node.name} has no docstring"
