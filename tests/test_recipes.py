"""The recipes of DEVELOPERS.md, followed to the letter on a copy of the tree: few files change, and the tests agree."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PARTS = ("src", "templates", "tests", "README.md", "DEVELOPERS.md", "pyproject.toml")
# What is compiled goes along, so that a copy compiles only what a recipe changes; not what is being written just now.
LEFT_OUT = shutil.ignore_patterns("node_modules", "golden", "*.pyc.*")
RUN = "import sys; from barwright.cli import run; sys.argv[0] = 'barwright'; run()"


class Tree:
    """A copy of the tree in which a recipe is followed."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.changed: set[str] = set()
        for part in PARTS:
            source, target = ROOT / part, root / part
            if source.is_dir():
                shutil.copytree(source, target, ignore=LEFT_OUT)
            else:
                shutil.copy(source, target)

    def put(self, name: str, before: str, text: str) -> None:
        """Puts a text before the first place where `before` stands; with no `before` at the end of the file."""
        path = self.root / name
        whole = path.read_text("utf-8") if path.exists() else ""
        place = whole.index(before) if before else len(whole)
        path.write_text(whole[:place] + text + whole[place:], "utf-8")
        self.changed.add(name)

    def run(self, *command: str) -> str:
        """What a command of the copy prints; the test fails if the command does."""
        environment = {**os.environ, "PYTHONPATH": str(self.root / "src"), "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
        done = subprocess.run(
            [sys.executable, *command], cwd=self.root, env=environment, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def tested(self, *tests: str) -> None:
        """Runs tests of the copy."""
        self.run("-m", "pytest", "-o", "addopts=", "-q", "-p", "no:cacheprovider", *tests)


def add_a_misreading(tree: Tree) -> None:
    module = "src/barwright/misreadings/lengths.py"
    tree.put(module, "DURATIONS = (", '''def half_notes_are_quarters(reading: Reading) -> Reading | None:
    """What a student reads who takes every half note for a quarter note."""
    return with_values(reading, lambda symbol, _meter: _a_quarter(symbol))


def _a_quarter(symbol: Symbol) -> Fraction | None:
    half = symbol.kind == "note" and symbol.value is not None and symbol.value.plain == HALF
    return with_plain(symbol.value, QUARTER) if half and symbol.value is not None else None


''')  # fmt: skip
    tree.put(module, "    Misreading(", '''    Misreading(
        half_notes_are_quarters, _ALL, "value", needs=frozenset({"h"}), source=HYPOTHESIS
    ),
''')  # fmt: skip
    tree.put("templates/items/en-US/misreadings.toml", "", '''
[half-notes-are-quarters]
feedback = "Look at the note head. An open note with a stem lasts two {{ quarter_notes }}."
why = "Takes every {{ half_note }} for a {{ quarter_note }}."
''')  # fmt: skip
    tree.put("templates/items/es/misreadings.toml", "", '''
[half-notes-are-quarters]
feedback = "Mira la cabeza de la nota. Una figura vacía con plica dura dos {{ quarter_notes }}."
why = "Toma cada {{ half_note }} por una {{ quarter_note }}."
''')  # fmt: skip
    tree.put("tests/textbook/errors_completion.txt", "", "- | half-notes-are-quarters | 4/4 h _ | h | q q q\n")


def add_an_ask(tree: Tree) -> None:
    tree.put("src/barwright/asks/measure_completion.py", 'FILLED: frozenset[Cue] =', '''def _three(
    question: Question, space: Space, _rng: Random
) -> Offers:
    return filling_offers("finish-measure-with-two", question, space, (3,))


''')  # fmt: skip
    tree.put("src/barwright/asks/measure_completion.py", '    Ask(\n        "beats-left"', '''    Ask(
        "finish-measure-with-three", FAMILY, "figures", "symbols",
        draw=lambda space, rng: _draw(space, rng, 3),
        listed=lambda space: _listed(space, 3), lists_all=has_few_excerpts,
        offers=_three, clash=_clash, farness=_farness,
        choice="symbols", cues=FILLED, exercise="finish-measure-with-two",
    ),
''')  # fmt: skip
    tree.put(
        "src/barwright/judge/__init__.py",
        '    "all-that-fit"',
        '    "finish-measure-with-three": (\n'
        '        ItemShape("symbols", "blank"), partial(filling_faults, widths=range(3, 4))\n    ),\n',
    )
    tree.put("templates/items/en-US/asks.toml", "[beats-left]", '''[finish-measure-with-three]
student = "picks the three that fill it"
stem = "Three {{ offers }} are missing. Which three fill the blank and make the measure full?"
note = ""
key = "Right. With these three, the measure adds up to {{ holds }}."
general = ""

''')  # fmt: skip
    tree.put("templates/items/es/asks.toml", "[beats-left]", '''[finish-measure-with-three]
student = "elige los tres signos que lo llenan"
stem = "Faltan tres signos. ¿Cuáles llenan el hueco y completan el compás?"
note = ""
key = "Correcto. Con estos tres, el compás suma {{ holds }}."
general = ""

''')  # fmt: skip


def add_a_family(tree: Tree) -> None:
    tree.put("src/barwright/asks/measure_repair.py", "", '''"""Measure repair: what fell out of a measure?"""

from dataclasses import replace

from barwright.asks import measure_completion
from barwright.asks.ask import Ask

FAMILY = "measure-repair"
ASKS: tuple[Ask, ...] = (replace(measure_completion.ASKS[0], id="repair-the-measure", family=FAMILY),)
''')  # fmt: skip
    tables = "src/barwright/asks/__init__.py"
    tree.put(tables, "count_labeling, measure_completion, meter_identification\nfrom", "measure_repair, ")
    tree.put(tables, "measure_completion, count_labeling, meter_identification)", "measure_repair, ")
    tree.put(
        "src/barwright/judge/__init__.py",
        '    "all-that-fit"',
        '    "repair-the-measure": (ItemShape("symbols", "blank"), partial(filling_faults, widths=ONE)),\n',
    )
    tree.put("templates/items/en-US/asks.toml", "[beats-left]", '''[repair-the-measure]
student = "picks the one symbol that fell out"
stem = "One {{ offer }} fell out. Which one makes the measure full again?"
note = ""
key = "Right. Now the measure adds up to {{ holds }}."
general = ""

''')  # fmt: skip
    tree.put("templates/items/es/asks.toml", "[beats-left]", '''[repair-the-measure]
student = "elige el signo que se cayó"
stem = "Se cayó un signo. ¿Cuál completa otra vez el compás?"
note = ""
key = "Correcto. Ahora el compás suma {{ holds }}."
general = ""

''')  # fmt: skip


def add_a_convention(tree: Tree, effect: str = 'Effect("counts", _NUMBERS)') -> None:
    tree.put(
        "src/barwright/rhythm/conventions.py",
        "    # when two rhythms count",
        "    # sixteenths in a beat of two parts: 1 e & a, or 1 ti & ta\n"
        f'    sixteenths: Annotated[Literal["e_and_a", "ti_and_ta"], {effect}] = "e_and_a"\n',
    )
    tree.put(
        "src/barwright/counting/systems.py",
        "    return QUARTERS | {4: second, 8: third}",
        '    if conventions.sixteenths == "ti_and_ta":\n'
        '        return QUARTERS | {3: "ti", 4: second, 8: third, 9: "ta"}\n',
    )
    tree.put(
        "templates/reference/en-US.toml",
        "eastman_second16 =",
        'sixteenths = "sixteenths in a beat of two parts: `1 e & a`, or `1 ti & ta`"\n',
    )


def add_a_counting_system(tree: Tree) -> None:
    tree.put("src/barwright/rhythm/conventions.py", "]\nHeld = ", ', "drum"')
    systems = "src/barwright/counting/systems.py"
    tree.put(systems, "@dataclass(frozen=True, slots=True)\nclass Sys", '''# Strokes of a hand drum (common practice).
DRUM = {0: "dum", 2: "ka", 3: "ka", 4: "tek", 6: "tek", 8: "tak", 9: "ka", 10: "ka"}


def _drum_places(_beat: Beat, _meter: Meter, _conventions: Conventions) -> Places:
    return DRUM, None


''')  # fmt: skip
    row = '        "drum": System(_drum_places, ("dum", "ka", "tek", "tak"), "dum"),\n'
    tree.put(systems, '    }\n)\n"""Every counting system', row)
    tree.put(
        "templates/items/en-US/counting.toml",
        "\n# With numbers, in meters",
        'drum = "Use {{ beat_words }} and our other rhythm words."\n',
    )
    tree.put(
        "templates/items/es/counting.toml",
        "\n# With numbers, in meters",
        'drum = "Usa {{ beat_words }} y nuestras otras sílabas rítmicas."\n',
    )
    tree.put("templates/reference/en-US.toml", "\n# Keys of a blueprint: what", 'drum = "the place in the beat"\n')
    tree.put("tests/textbook/system_drum.txt", "", "D01 | 2/4 | q e e | dum dum tek\n")


def add_a_filter(tree: Tree) -> None:
    row = '    "kinds": lambda view: len(view.elements),\n'
    tree.put("src/barwright/bank/where.py", '    "uses": lambda view', row)
    tree.put("templates/reference/en-US/bank.md", "`uses` `choices` `measures`", "`kinds` ")
    tree.put(
        "tests/bank/test_where.py",
        '        ("used>=2025-09", lambda',
        '        ("kinds<=2", lambda v: len(v.elements) <= 2),\n',
    )
    shown = tree.run("-c", RUN, "bank", "show", str(ROOT / "shared/banks/maple-hollow.jsonl"), "--where", "kinds<=2")
    assert not shown.startswith("0 items")


def add_a_check_rule(tree: Tree) -> None:
    tree.put("src/barwright/check/rules/explanations_items.py", '    "choices-alike": Rule(', '''    "loud-stem": Rule(
        "caution", "Students read words all in capitals slowly.", "Write the question in small letters."
    ),
''')  # fmt: skip
    rules = "src/barwright/check/rules/item_rules.py"
    tree.put(rules, "    for response in item.responses:\n        yield", '''    if item.stem.text.isupper():
        yield _found(item, "loud-stem", "the question is all in capitals")
''')  # fmt: skip
    tree.put("tests/qti/broken_packages.py", '    Broken(\n        "no-answer-place"', '''    Broken(
        "loud-stem",
        "qti12",
        edit(PLAIN, "The time signature is hidden. Which one fits?", "WHICH ONE FITS?"),
        "loud-stem",
        "the question is all in capitals",
    ),
''')  # fmt: skip


TABLES = ("tests/items/test_ask_table.py", "tests/test_readme.py::test_everything_that_has_a_name_is_in_its_topic")
TWINS = "tests/wording/test_languages.py"
TOLD = "tests/test_readme.py::test_every_key_of_a_condition_is_told"
RECIPES: dict[str, tuple[Callable[[Tree], None], int, tuple[str, ...], tuple[str, str] | None]] = {
    # recipe: what is done, most files (without lines of tests), tests of the copy, a quiz of what is new
    "misreading": (
        add_a_misreading,
        3,
        (
            "tests/misreadings/test_catalogue.py",
            "tests/misreadings/test_worked_errors.py",
            "tests/wording/test_misreading_texts.py",
            TWINS,
            TABLES[1],
        ),
        ("measure-completion", "finish-measure"),
    ),
    "ask": (add_an_ask, 4, (*TABLES, TWINS), ("measure-completion", "finish-measure-with-three")),
    "family": (add_a_family, 5, (*TABLES, TWINS), ("measure-repair", "repair-the-measure")),
    "convention": (
        add_a_convention,
        3,
        ("tests/rhythm/test_conventions.py", "-k", "sixteenths or says_what", TABLES[1]),
        ("count-labeling", "counts-for-rhythm"),
    ),
    "counting system": (
        add_a_counting_system,
        5,
        ("tests/rhythm/test_systems.py", "tests/rhythm/test_counting.py", "-k", "drum"),
        None,
    ),
    "filter": (add_a_filter, 2, (TOLD,), None),
    "check rule": (
        add_a_check_rule,
        2,
        ("tests/qti/test_checking.py", "-k", "loud or every_rule"),
        None,
    ),
}


@pytest.mark.parametrize("recipe", RECIPES)
def test_a_recipe_holds(recipe: str, tmp_path: Path) -> None:
    follow, most, tests, quiz = RECIPES[recipe]
    tree = Tree(tmp_path / "tree")
    follow(tree)
    tree.tested(*tests)
    assert len({name for name in tree.changed if not name.startswith("tests/")}) <= most
    if quiz is None:
        return
    blueprint = tmp_path / "quiz.toml"
    blueprint.write_text(
        'title = "New"\nseed = 1\n[elements]\nmeters = ["3/4", "4/4"]\nnotes = ["whole", "half", "quarter", "eighth"]\n'
        f'rests = ["half", "quarter"]\n[[part]]\nfamily = "{quiz[0]}"\nask = "{quiz[1]}"\nitems = 4\n',
        "utf-8",
    )
    printed = tree.run("-c", RUN, "make", str(blueprint), "--out", str(tmp_path / "out"))
    assert "proof.html" in printed


@pytest.mark.parametrize(
    "effect", ['Effect("print")', 'Effect("counts", ("gordon",))', 'Effect("counts", _NUMBERS, "2/2")']
)
def test_a_convention_that_says_something_else_than_it_does_is_found(effect: str, tmp_path: Path) -> None:
    """Else those who judge would know only their own class's way, and two answers of an item could be right."""
    tree = Tree(tmp_path / "tree")
    add_a_convention(tree, effect)
    environment = {**os.environ, "PYTHONPATH": str(tree.root / "src")}
    tests = ("tests/rhythm/test_conventions.py", "-k", "sixteenths")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-n", "0", "-q", "-x", "-p", "no:cacheprovider", *tests],
        cwd=tree.root, env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 1, done.stdout + done.stderr
