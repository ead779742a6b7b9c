"""Quizzes that are too large for a package, told by the line; and packages that platforms may balk at."""

from dataclasses import replace

import pytest

from barwright.blueprint.parsing import examined
from barwright.tasks.expressing import standard_faults
from barwright.tasks.make import Made, make
from barwright.tasks.packing import Order
from barwright.tasks.summary import MANY_ITEMS, summary
from items.demo import BEGINNERS, blueprint_text

HEAD = 'title = "T"\n[elements]\nmeters = ["2/4"]\nnotes = ["half", "quarter", "eighth"]\n'
PART = '[[part]]\nfamily = "measure-completion"\nask = "finish-measure"\nitems = {}\n'
TOO_MANY = "that makes {} items in all{}: a quiz has at most 1,000"


@pytest.mark.parametrize(
    ("head", "items", "fault"),
    [
        ("", (200,) * 5, ""),
        ("", (*(200,) * 5, 1), TOO_MANY.format("1,001", "")),
        ("[quiz]\nvariants = 3\n", (200,) * 5, ""),
        ("[quiz]\ndraw = true\nvariants = 5\n", (200, 1), TOO_MANY.format("1,005", " (5 variants of each question)")),
    ],
    ids=["just enough", "one more", "variants that are not drawn", "variants that are"],
)
def test_more_items_than_a_package_holds_are_told_at_the_last_part(
    head: str, items: tuple[int, ...], fault: str
) -> None:
    found = examined(HEAD + head + "".join(map(PART.format, items)), "b.toml")
    assert found.blueprint is not None
    told = [(("part", len(items) - 1, "items"), fault)] if fault else []
    assert list(standard_faults(found.blueprint, found.numbers, (("qti22", "quiz"),))) == told


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Made:
    folder = tmp_path_factory.mktemp("small")
    (folder / "b.toml").write_text(blueprint_text(BEGINNERS, "finish-measure", items=2), encoding="utf-8")
    return make(folder / "b.toml", Order(folder / "out", standards=("cc13",)), progress=lambda *_: None)


def remarks(made: Made) -> list[str]:
    return [line for line in summary(made) if "balk" in line]


def balk(path: str, items: str, megabytes: int) -> str:
    return (
        f"{path} holds up to {items} items and {megabytes} MB: many platforms balk at over 250 items or 50 MB in one "
        "import. Try it early; if it stops or takes minutes, make several quizzes of fewer items."
    )


def largest(made: Made) -> str:
    return max(made.packed.packages, key=lambda path: len(made.packed.files[path]))


def test_small_packages_are_not_remarked_on(small: Made) -> None:
    assert remarks(small) == []


def test_a_package_of_many_bytes_is_named(small: Made) -> None:
    path = largest(small)
    for size, told in ((50_000_000, []), (50_600_000, [balk(path, "2", 51)])):
        files = {**small.packed.files, path: bytes(size)}
        assert remarks(replace(small, packed=replace(small.packed, files=files))) == told


def test_a_package_of_many_items_is_named(small: Made) -> None:
    (only,) = small.forms
    for times, told in ((MANY_ITEMS // 2, []), (MANY_ITEMS // 2 + 1, [balk(largest(small), "252", 1)])):
        form = replace(only.form, items=only.form.items * times)
        assert remarks(replace(small, forms=(replace(only, form=form),))) == told
