"""Every item of every demo blueprint says the same in all six standards, by a reader apart from the writers."""

from pathlib import Path

import pytest

from barwright.blueprint.parsing import read_blueprint
from barwright.check.reading import read_package, same_content
from barwright.qti import WRITERS, written, zipped
from barwright.tasks.packing import drawn_pictures
from barwright.wording.items_in_words import worded_form
from made_once import forms_once

BLUEPRINTS = sorted((Path(__file__).parents[2] / "shared" / "blueprints").glob("unit-[123]*.toml"))


@pytest.mark.parametrize("blueprint", BLUEPRINTS, ids=lambda p: p.stem)
def test_all_standards_say_the_same(blueprint: Path, tmp_path: Path) -> None:
    plan, _ = read_blueprint(blueprint.read_text("utf-8"), blueprint.name)
    made = forms_once(plan.model_copy(update={"sections": ["One", "Two"]}))
    compared = 0
    for each in made:
        form = worded_form(each.form)
        pictures = drawn_pictures([form], plan.all_conventions, "Bravura", progress=lambda *_: None)
        read = {}
        for standard in WRITERS:
            path = tmp_path / f"{standard}.zip"
            path.write_bytes(zipped(written(form, pictures, standard=standard, shape="quiz")))
            read[standard] = read_package(path)
        first = read.pop("cc13")
        for standard, other in read.items():
            assert same_content(first, other) == (), standard
            compared += len(other.items)
    print(f"\n{blueprint.stem}: {compared} items compared with the cartridge's")
    assert compared == 5 * 2 * len(made[0].form.items)
