"""`make` tells which misreadings that were asked for show in fewer items than asked."""

from pathlib import Path

from barwright.tasks.make import make
from barwright.tasks.packing import Order
from barwright.tasks.progress import silent
from barwright.tasks.summary import summary

ELEMENTS = """
title = "Test"
sections = ["Period 1", "Period 2"]

[elements]
meters = ["6/8", "3/4"]
notes = ["quarter", "eighth"]
dots = ["quarter"]

[[part]]
family = "meter-identification"
ask = "what-the-numbers-say"
items = 2
meters = ["6/8"]
misreadings = ["every-eighth-is-a-big-beat"]

[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 2
misreadings = ["dots-passed-over"]
"""


def test_a_misreading_that_shows_in_fewer_items_is_told_and_one_that_shows_in_all_is_not(tmp_path: Path) -> None:
    blueprint = tmp_path / "quiz.toml"
    blueprint.write_text(ELEMENTS, encoding="utf-8")
    made = make(blueprint, Order(tmp_path / "out"), progress=silent)
    told = {line.split(" ", 1)[0]: line for line in summary(made) if "was asked for" in line}
    for form in made.forms:
        assert {each.misreading: each.asked for each in form.wanted} == dict.fromkeys(
            ("every-eighth-is-a-big-beat", "dots-passed-over"), 2
        )
    short = {each.misreading for form in made.forms for each in form.wanted if each.shown < each.asked}
    assert set(told) == short
    assert told["every-eighth-is-a-big-beat"] == (
        "every-eighth-is-a-big-beat was asked for in 2 items, and shows in 1 of Period 1, in 1 of Period 2: "
        "a part of its own, longer excerpts, or more elements help."
    )
