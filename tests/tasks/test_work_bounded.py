"""Capacity of what is legal and extreme: the work is bounded by counts; and progress where nobody watches."""

from io import StringIO
from pathlib import Path

import pytest

from barwright.asks.drawn_excerpts import MOST_EXCERPTS, has_few_excerpts, listed_excerpts
from barwright.blueprint.blueprint import plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.tasks.capacity import MOST_STEPS, capacity, capacity_table, part_capacity
from barwright.tasks.progress import told_on
from items.demo import blueprint_text, plan
from whole import WHOLE, whole_or_part

ALL = """
meters = ["12/8", "4/4", "7/8"]
notes = ["whole", "half", "quarter", "eighth", "sixteenth"]
rests = ["whole", "half", "quarter", "eighth", "sixteenth"]
dots = ["half", "quarter", "eighth"]
triplets = ["eighth", "quarter"]
ties = true
syncopation = true
"""
# No blank of these can be filled in two ways, so no question is ever found.
IN_VAIN = '\nmeters = ["12/2"]\nnotes = ["half", "eighth"]\n'


def test_an_extreme_blueprint_is_answered_after_so_many_steps_and_says_at_least(tmp_path: Path) -> None:
    path = tmp_path / "b.toml"
    some = ALL if WHOLE else ALL.replace(', "4/4", "7/8"', "")
    path.write_text(blueprint_text(some, "rhythm-for-counts", "counts-for-rhythm", part="measures = 4"))
    most_steps = whole_or_part(MOST_STEPS, MOST_STEPS // 20)
    blueprint, parts = capacity(path, most_steps=most_steps)
    assert not any(part.exact for part in parts)
    dearest = 1_000  # the last question may go beyond
    assert most_steps // 2 < sum(part.steps for part in parts) <= most_steps + len(parts) * dearest
    assert capacity_table(parts, len(blueprint.sections))[-1] == (
        "+ at least so many: there are more questions than can be tried in a short time, and up to 1,000 of "
        "such a part "
        "were. Measures are exact."
    )


@pytest.mark.parametrize("ask", ["rhythm-for-counts", "counts-for-rhythm"])
def test_what_is_found_within_some_steps_is_the_same_once_more(ask: str) -> None:
    whole = plan(ALL, ask, measures=4)
    once, again = (part_capacity(1, whole, most_steps=1_000) for _ in range(2))
    assert once == again
    assert not once.exact
    assert 500 < once.steps <= 2_000


def test_parts_alike_are_worked_out_once(tmp_path: Path) -> None:
    path = tmp_path / "b.toml"
    path.write_text(blueprint_text(ALL, *["rhythm-for-time-signature"] * 3))
    told: list[str] = []
    _, parts = capacity(path, most_steps=1_000, progress=lambda what, _done, _of: told.append(what))
    assert {what for what in told if what.startswith("part ")} == {"part 1, finding questions", "part 1, questions"}
    assert [(part.number, part.able) for part in parts] == [(n, parts[0].able) for n in (1, 2, 3)]


def test_excerpts_without_a_question_are_not_looked_through_for_ever() -> None:
    blueprint, _ = read_blueprint(blueprint_text(IN_VAIN, "all-that-fit", part="measures = 4"), "b.toml")
    space = plan_of(blueprint.part[0], blueprint).space
    assert not has_few_excerpts(space)
    assert sum(1 for _ in listed_excerpts(space)) == MOST_EXCERPTS


class Terminal(StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Whether somebody watches."""
        return True


@pytest.mark.parametrize(("steps", "lines"), [(100, 0), (199, 0), (200, 1), (1_000, 5)])
def test_where_nobody_watches_a_line_is_told_now_and_then(steps: int, lines: int) -> None:
    stream = StringIO()
    told = told_on(stream)
    for done in range(steps + 1):
        told("items", done, steps)
    assert len(stream.getvalue().splitlines()) == lines
    if lines:
        assert stream.getvalue().splitlines()[0] == f"Still working: items, 200 of {steps:,}"


def test_where_there_is_no_error_stream_nothing_is_told() -> None:
    told_on(None)("items", 1, 2)


def test_a_terminal_is_told_in_one_line() -> None:
    stream = Terminal()
    told_on(stream)("items", 2, 2)
    assert stream.getvalue() == "\ritems: 2 of 2\n"
