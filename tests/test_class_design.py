"""Every class of values: a copy, a deep copy and a pickle are equal to the value and have its hash.

Values of each class are those that a whole run leaves behind: quizzes made, worded, drawn and packed, answered and
diagnosed.
"""

import copy
import gc
import importlib
import json
import os
import pickle
import pkgutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import is_dataclass, replace
from fractions import Fraction
from pathlib import Path

import pytest

import barwright
from barwright.blueprint.blueprint import Blueprint, Part, Plan, plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.check.reading import read_package
from barwright.check.rules import checked
from barwright.engrave.font import DEFAULT, load_font
from barwright.errors import RhythmError
from barwright.forms.assembly import MadeForm, made_forms
from barwright.forms.practice import practice
from barwright.forms.questions import cell_of
from barwright.items.item import Item
from barwright.misreadings import MISREADINGS
from barwright.qti import written
from barwright.qti.package_content import content
from barwright.qti.zip_entries import zipped
from barwright.results.acting import is_open
from barwright.results.answers import Administered, Response, administered
from barwright.results.chances import acted_forms
from barwright.results.diagnosing import diagnosed
from barwright.results.rehearsing import rehearsed
from barwright.results.survey import models_of, surveyed
from barwright.results.teaching import best_seen
from barwright.rhythm import measure, meter
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.measure import Symbol
from barwright.rhythm.meter import Meter
from barwright.rhythm.text import parse_excerpt
from barwright.tasks.paper_drawings import form_drawings
from barwright.wording.items_in_words import worded_form
from e2e.shown_forms import drawn_pictures

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src"
UNIT_2 = ROOT / "shared" / "blueprints" / "unit-2-eighths-and-dotted-quarters.toml"
UNIT_4 = ROOT / "shared" / "blueprints" / "unit-4-drag-and-order.toml"

# Not values but places: what is kept for one is looked up by the object itself, and nobody copies it.
PLACES = {
    *("Sign", "Ink", "TextFace", "MusicFont"),  # drawn things, and what holds them
    *("Language", "Sentences", "Dialect", "Packaging", "Edition", "PackageEdition"),  # templates and tables of names
    *("Ask", "PairCandidates", "Writer", "Steps", "Plan"),  # rows of tables, of functions; what holds one
    *("Walks", "_Language"),  # tables of counts
}
MOST = 40  # of each class
BY_FILES = ("barwright.tasks.", "barwright.results.reading.")  # made of files: rows, columns, sheets, each itself alone

COPIES: dict[str, Callable[[object], object]] = {
    "copy": copy.copy,
    "deepcopy": copy.deepcopy,
    "pickle": lambda value: pickle.loads(pickle.dumps(value)),
}


def value_classes() -> dict[str, type]:
    """The frozen dataclasses of the package, by module and name."""
    found = {}
    for module in pkgutil.walk_packages(barwright.__path__, "barwright."):
        for name, each in vars(importlib.import_module(module.name)).items():
            own = isinstance(each, type) and each.__module__ == module.name and is_dataclass(each)
            # What is equal to itself alone is no value.
            value = own and (each.__eq__ is not object.__eq__ or "__reduce__" in vars(each))
            made_of_files = module.name.startswith(BY_FILES)
            if value and each.__dataclass_params__.frozen and name not in PLACES and not made_of_files:
                found[f"{module.name}.{name}"] = each
    return found


CLASSES = value_classes()


def answered(given: tuple[Administered, ...]) -> list[object]:
    """What four students leave behind of whom each picks the choices of one place."""
    picked = [
        Response(f"s{place}", form.section, form.ident, each.id, (each.offered[place % len(each.offered)].answer.text,))
        for form in given
        for place in range(4)
        for each in form.items
        if each.offered and not is_open(each.item)
    ]
    forms = surveyed(given, picked, omit="wrong")
    seen = [best_seen([name], given, picked) for name in MISREADINGS]
    return [given, picked, forms, models_of(forms), diagnosed(given, picked), seen]


def values_left() -> dict[str, list[object]]:
    """Up to MOST values of each class, after a run; `gc` knows them all, so nothing else may have run before."""
    held: list[object] = list(MISREADINGS.values())
    for path in (UNIT_2, UNIT_4):
        read, _ = read_blueprint(path.read_text("utf-8"), path.name)
        blueprint = read.model_copy(update={"sections": read.sections[:2]})
        made = made_forms(blueprint)
        form = worded_form(made[0].form)
        pictures = drawn_pictures(form)
        package = zipped(written(form, pictures, standard="qti30", shape="quiz"))
        given = administered([each.form for each in made])
        held += [blueprint, made, content(form, pictures), read_package(package), checked(package, name=path.name)]
        held += [*answered(given), acted_forms(given)]
        held += [checked(package[: len(package) // 2], name="half.zip")]
        held += [form_drawings(form, load_font(DEFAULT), Conventions())]
        held += [practice(blueprint, (), seed=1)]
        held += [(plan, cell_of(i, plan)) for part in blueprint.part for i, plan in planned(made[0], part, blueprint)]
    held.append(rehearsed(given[:1], class_size=1))
    found: dict[type, list[object]] = {each: [] for each in CLASSES.values()}
    for each in gc.get_objects():
        if type(each) in found and len(found[type(each)]) < MOST:
            found[type(each)].append(each)
    assert held
    return {name: found[each] for name, each in CLASSES.items()}


def planned(made: MadeForm, part: Part, blueprint: Blueprint) -> list[tuple[Item, Plan]]:
    """The items of a part, each with the part's plan."""
    plan = plan_of(part, blueprint)
    return [(placed.item, plan) for placed in made.form.items if placed.item.ask == plan.ask.id]


def hash_of(value: object) -> int | None:
    """None for a value that holds a table, so that it can be no key."""
    try:
        return hash(value)
    except TypeError:
        return None


def unlike_copies(values: list[object]) -> list[str]:
    """The ways to copy that give something else than the value for one of these."""
    return [
        way
        for way, again in COPIES.items()
        if [(type(v), v, hash_of(v)) for v in map(again, values)] != [(type(v), v, hash_of(v)) for v in values]
    ]


@pytest.fixture(scope="module")
def told() -> dict[str, tuple[int, list[str]]]:
    """For each class how many values a run leaves in a process of its own, and the ways to copy that fail."""
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(SOURCE), str(ROOT / "tests")])}
    ran = subprocess.run([sys.executable, __file__], env=environment, capture_output=True, check=True, text=True)
    return {name: (count, ways) for name, (count, ways) in json.loads(ran.stdout).items()}


def test_the_run_leaves_values_of_every_class_that_is_made_in_its_own_way(
    told: dict[str, tuple[int, list[str]]],
) -> None:
    own = [name for name, each in CLASSES.items() if {"__reduce__", "__new__", "_hash"} & set(vars(each))]
    assert {"barwright.rhythm.meter.Meter", "barwright.rhythm.excerpt.Excerpt"} <= set(own)
    assert [name for name in own if not told[name][0]] == []
    assert sum(count > 0 for count, _ in told.values()) > len(CLASSES) * 2 / 5


def test_copies_of_every_value_are_equal_to_it(told: dict[str, tuple[int, list[str]]]) -> None:
    assert {name: ways for name, (_, ways) in told.items() if ways} == {}


def test_a_class_whose_copies_differ_is_told() -> None:
    class Alone:
        """Equal to itself only."""

        __eq__ = object.__eq__
        __hash__ = object.__hash__

        def __reduce__(self) -> tuple[type, tuple[()]]:
            return object, ()

    assert unlike_copies([Alone()]) == list(COPIES)


def test_what_has_few_values_has_one_object_for_each() -> None:
    for value in (Meter(5, 8, (3, 2)), Symbol("blank"), parse_excerpt("4/4 q.~ e h").symbols[0]):
        assert all(way(value) is value for way in COPIES.values())
    assert replace(Meter(3, 4), top=2) is Meter(2, 4)


FRESH = """
import pickle, sys
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.text import parse_excerpt
made = (parse_excerpt("5/8 q e q"), Conventions(counting="takadimi"))
if len(sys.argv) == 1:
    sys.stdout.buffer.write(pickle.dumps(made))
else:
    print({value: "found" for value in made} == dict.fromkeys(pickle.load(sys.stdin.buffer), "found"))
"""


def test_a_pickle_is_a_key_in_another_process() -> None:
    """Hashes of texts and of single objects differ between processes, so none may travel."""

    def run(seed: str, *more: str, given: bytes = b"") -> bytes:
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(SOURCE)}
        command = [sys.executable, "-W", "error", "-c", FRESH, *more]
        return subprocess.run(command, env=environment, input=given, capture_output=True, check=True).stdout

    assert run("2", "read", given=run("1")) == b"True\n"


def test_refused_values_are_not_remembered() -> None:
    before = [dict(meter._KNOWN), dict(measure._KNOWN)]
    for top, bottom, groups in ((13, 4, ()), (3, 5, ()), (7, 8, (3, 3)), (0, 8, ())):
        for _ in range(2):
            with pytest.raises(RhythmError):
                Meter(top, bottom, groups)
    for kind, value, tied in (("note", None, False), ("blank", None, True), ("neume", None, False)):
        for _ in range(2):
            with pytest.raises(RhythmError):
                Symbol(kind, value, tied)
    assert before == [meter._KNOWN, measure._KNOWN]


def test_a_value_made_again_of_equal_numbers_is_not_changed() -> None:
    three = Meter(3, 4)
    assert Meter(Fraction(3), 4) is three
    assert (type(three.top), type(three.bottom)) == (int, int)


def test_a_symbol_of_no_kind_is_refused() -> None:
    with pytest.raises(RhythmError) as refused:
        Symbol("neume")
    assert str(refused.value) == "symbol 'neume' is not known: use note, rest, measure-rest, blank"


if __name__ == "__main__":
    print(json.dumps({name: (len(values), unlike_copies(values)) for name, values in values_left().items()}))
