"""What a plan would give is looked at until it is enough, and as far as `barwright capacity` looks where it is not."""

import re
from pathlib import Path

from barwright.tasks.capacity import MOST_STEPS, capacity
from barwright.tasks.progress import silent
from barwright.tasks.shown.preview import STEPS, previewed

PLAN = """
title = "T"
sections = [{sections}]
[elements]
meters = ["3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["half", "quarter"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 2
[[part]]
family = "measure-completion"
ask = "beats-left"
items = 1
"""


def numbers(path: Path) -> list[int]:
    """How many questions each part can give, as the preview says."""
    told = (part.capacity for part in previewed(path, silent).parts)
    return [int(re.findall(r"(\d+) question", text)[0]) for text in told]


def test_few_questions_are_looked_at_where_they_are_enough_for_all_sections(tmp_path: Path) -> None:
    path = tmp_path / "q.toml"
    path.write_text(PLAN.format(sections='"A", "B"'), "utf-8")
    blueprint, few = capacity(path, most_steps=60)
    assert sum(part.steps for part in few) <= 60 + 2 * 10
    assert not any(part.exact for part in few)
    _, whole = capacity(path)
    assert all(one.able < other.able for one, other in zip(few, whole, strict=True))
    assert STEPS[-1] == MOST_STEPS
    assert numbers(path) == [part.items for part in capacity(path, most_steps=STEPS[0])[1]]
    assert previewed(path, silent).verdict == "2 sections need no common excerpt."
    assert len(blueprint.sections) == 2


def test_all_are_looked_at_where_few_are_not_enough(tmp_path: Path) -> None:
    path = tmp_path / "q.toml"
    path.write_text(PLAN.format(sections=", ".join(f'"{n}"' for n in range(60))), "utf-8")
    _, whole = capacity(path)
    assert numbers(path) == [part.items for part in whole]


def test_a_plan_that_few_standards_can_hold_is_previewed_all_the_same(tmp_path: Path) -> None:
    path = tmp_path / "q.toml"
    part = '[[part]]\nfamily = "count-labeling"\nask = "count-under-each"\nitems = 1\n'
    path.write_text(PLAN.format(sections='"A"') + part, "utf-8")
    assert len(previewed(path, silent).parts) == 3
