"""A Spanish form, one in two languages, and one in large print: read back from every standard with the same keys, and
each item as a package keys it is one that the judge accepts.

The reader is that of `check`, which knows nothing of the writers; the judge sees the music, and no words.
"""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from barwright.blueprint.blueprint import Blueprint, plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.check.reading import read_package
from barwright.check.reading.package_model import ReadItem
from barwright.items.form import Form, FormItem
from barwright.judge import judged
from barwright.qti import WRITERS, written, zipped
from barwright.tasks.accommodations import VERSIONS
from barwright.tasks.packing import drawn_pictures
from barwright.wording.items_in_words import worded_form
from made_once import forms_once
from paper.printed import BLUEPRINTS

UNIT = "unit-1-half-notes-and-rests"
LARGE = VERSIONS["large_print"].size
CASES = {"English": ("en-US", ()), "Spanish": ("es", ()), "both": ("en-US", ("es",)), "large print": ("en-US", ())}


@cache
def demo() -> tuple[Form, Blueprint]:
    blueprint, _ = read_blueprint((BLUEPRINTS / f"{UNIT}.toml").read_text("utf-8"), UNIT)
    alone = blueprint.model_copy(update={"sections": blueprint.sections[:1]})
    return forms_once(alone)[0].form, alone


def items(case: str, standard: str, folder: Path) -> dict[str, ReadItem]:
    """The items of a form in a package of a standard, read back, by the identifier of the item."""
    form, blueprint = demo()
    code, also = CASES[case]
    worded = worded_form(replace(form, language=code, also=also))
    size = {"size": LARGE} if case == "large print" else {}
    pictures = drawn_pictures([worded], blueprint.all_conventions, "Bravura", progress=lambda *_: None, **size)
    path = folder / f"{standard}.zip"
    path.write_bytes(zipped(written(worded, pictures, standard=standard, shape="quiz")))
    return {item.ident: item for item in read_package(path).items}


def keyed(placed: FormItem, read: ReadItem) -> frozenset[int]:
    """The choices of an item (by their place in it) that a package says are right."""
    (response,) = read.responses
    if not response.choices:
        typed = {key.casefold() for key in response.keys}
        return frozenset(n for n, c in enumerate(placed.item.choices) if c.answer.text.casefold() in typed)
    idents = [choice.ident for choice in response.choices]
    return frozenset(placed.order[idents.index(key)] for key in response.keys)


@pytest.mark.parametrize("standard", WRITERS)
@pytest.mark.parametrize("case", CASES)
def test_the_judge_accepts_every_item_as_each_package_keys_it(case: str, standard: str, tmp_path: Path) -> None:
    form, blueprint = demo()
    read = items(case, standard, tmp_path)
    assert len(read) == len(form.items)
    for placed in form.items:
        right = keyed(placed, read[f"q{placed.item.id}"])
        assert right == {n for n, choice in enumerate(placed.item.choices) if choice.key}, placed.item
        marked = tuple(
            replace(choice, misreadings=() if n in right else choice.misreadings or ("rests-take-no-time",))
            for n, choice in enumerate(placed.item.choices)
        )
        part = next(each for each in blueprint.part if each.ask == placed.item.ask)
        assert judged(replace(placed.item, choices=marked), plan_of(part, blueprint).space.taught) == ()


@pytest.mark.parametrize("standard", WRITERS)
def test_large_print_shows_larger_pictures(standard: str, tmp_path: Path) -> None:
    plain, large = (items(case, standard, tmp_path) for case in ("English", "large print"))
    assert {i: r.responses[0].keys for i, r in plain.items()} == {i: r.responses[0].keys for i, r in large.items()}
    pairs = [
        (one, two)
        for ident, item in plain.items()
        for one, two in zip(item.stem.pictures, large[ident].stem.pictures, strict=True)
    ]
    assert len(pairs) >= 5
    assert all(one.digest != two.digest and one.alt == two.alt for one, two in pairs)
