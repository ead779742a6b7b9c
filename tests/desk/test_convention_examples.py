"""Each convention on the page of a plan has a live example, in which its values can be told apart by eye and by ear."""

from pathlib import Path
from typing import get_args

import pytest

from barwright.rhythm.conventions import Counting
from barwright.tasks.shown.pictures import shown_picture
from barwright.tasks.shown.plan import plan_shown

PLAN = """
title = "T"
[elements]
meters = ["4/4", "6/8"]
notes = ["half", "quarter", "eighth"]
[conventions]
counting = "{counting}"
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 2
"""


@pytest.mark.parametrize("counting", get_args(Counting))
def test_every_value_of_a_convention_has_an_example_of_its_own(counting: str, tmp_path: Path) -> None:
    path = tmp_path / "q.toml"
    path.write_text(PLAN.format(counting=counting), "utf-8")
    fields = [f for name, f in plan_shown(path).fields.items() if name.startswith("conventions.") and f.acts]
    assert len(fields) > 5
    for field in fields:
        wishes = [option.picture for option in field.options]
        pictures = {shown_picture(wish).png for wish in wishes if wish is not None}
        assert len(pictures) == len(field.options), field.name
        assert all(option.alt for option in field.options), field.name
        assert len({option.on for option in field.options}) == 2, field.name
