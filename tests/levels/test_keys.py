"""The keys of a blueprint that say what is worth reading, and what is told of their faults."""

import re
from itertools import pairwise
from pathlib import Path

import pytest

from barwright.blueprint.parsing import examined
from barwright.blueprint.toml_lines import source_of
from barwright.errors import BlueprintError
from barwright.notation.patterns import LEVELS, NEW_AT_LEVEL, figures_up_to
from barwright.notation.plain import LAWS
from barwright.tasks.capacity import capacity

TEMPLATES = Path(__file__).parents[2] / "templates"
TEXT = """title = "Keys"
[elements]
meters = ["4/4"]
notes = ["half", "quarter", "eighth"]
rests = ["quarter"]
{keys}
[[part]]
family = "count-labeling"
ask = "write-counts"
items = 1
"""


def told(keys: str) -> list[str]:
    found = examined(TEXT.replace("{keys}", keys), "keys.toml")
    return [found.source.fault(path, text) for path, text in found.faults]


@pytest.mark.parametrize(
    ("keys", "fault"),
    [
        ('patterns = ["grade 6", "e e", "q"]', None),
        (
            'patterns = ["grade 12"]',
            "pattern 'grade 12' is no level: use grade 3, grade 4, grade 5, grade 6, grade 7, grade 8, grade 9",
        ),
        (
            'patterns = ["e x"]',
            "pattern 'e x': symbol 'x' cannot be read: write symbols as w h q e s, rests as rw rh rq re rs "
            "or rW, then . for a dot, t for a triplet, ~ for a tie; or name a level, such as 'grade 6'",
        ),
        ('patterns = ["e s s"]', "pattern 'e s s' is made of what is not taught (s): teach that, or take it out"),
        (
            'patterns = ["e e e"]',
            "pattern 'e e e' fills no beat, or beats, of 4/4: write what stands from one beat to the next",
        ),
        (
            'patterns = ["e e~"]',
            "pattern 'e e~' holds a tie, a blank or a full-measure rest: write notes and rests only",
        ),
        ("most_sounds = 0", "most_sounds = 0 is out of range: use at least 1"),
        (
            'allow = ["many-things"]',
            "allow (entry 1) = 'many-things' is not allowed: use 'any-pattern', 'many-patterns', "
            "'many-hard-patterns', 'many-sounds', 'many-short-rests', 'short-rest-first', 'much-silence', "
            "'needless-ties', 'hard-ties', 'equal-chances'",
        ),
        (
            'plain = false\nallow = ["many-sounds"]',
            "allow has no effect with plain = false: take one of them out",
        ),
        (
            'allow = ["any-pattern"]\npatterns = ["e e"]',
            "patterns has no effect with allow = ['any-pattern']: take one of them out",
        ),
        (
            'allow = ["many-sounds"]\nmost_sounds = 4',
            "most_sounds stands beside allow = ['many-sounds']: take one of them out",
        ),
    ],
)
def test_what_is_wrong_with_a_key_is_told_with_its_line(keys: str, fault: str | None) -> None:
    line = 6 + keys.count("\n")
    assert told(keys) == ([] if fault is None else [f"keys.toml, line {line}: {fault}"])


def test_every_pattern_that_is_no_good_is_told_in_its_own_line() -> None:
    assert told('patterns = [\n  "e e", # fine\n  "s s s s",\n  "grade 2",\n]') == [
        "keys.toml, line 8: pattern 's s s s' is made of what is not taught (s): teach that, or take it out",
        "keys.toml, line 9: pattern 'grade 2' is no level: use grade 3, grade 4, grade 5, grade 6, grade 7, grade 8, "
        "grade 9",
    ]


def test_the_lines_of_texts_in_lists() -> None:
    source = source_of(
        'a = [\'x\', "y"]\nb = [\n\'u\', # "no"\n  "v]", \'w\',\n]\nc = 1\n[t]\nd = ["z",\n"q"]', "b.toml"
    )
    paths = [("a", 0), ("a", 1), ("b", 0), ("b", 1), ("b", 2), ("c",), ("t", "d", 0), ("t", "d", 1), ("b", 3)]
    assert [source.line(path) for path in paths] == [1, 1, 3, 4, 4, 6, 8, 9, 2]


def test_each_level_has_the_figures_of_those_before_it() -> None:
    for before, level in pairwise(LEVELS):
        assert figures_up_to(level) == (*figures_up_to(before), *NEW_AT_LEVEL[level])
    every = figures_up_to(LEVELS[-1])
    assert len(set(every)) == len(every)


def test_the_bounds_that_can_be_lifted_are_those_of_the_help() -> None:
    told = (TEMPLATES / "reference/en-US/rhythms.md").read_text("utf-8")
    for law in (*LAWS, "equal-chances"):
        assert f"`{law}`" in told
    for level in LEVELS:
        assert level in told


def test_every_line_of_the_starter_can_be_used_by_taking_its_sign_away() -> None:
    """By itself, and all at once: none of them leaves anything of the file without effect."""
    lines = (TEMPLATES / "start/blueprint.toml").read_text("utf-8").splitlines()
    able = [n for n, line in enumerate(lines) if re.match(r"# [a-z_]+ +=|# [a-z_]+ =", line)]
    assert len(able) >= 7
    for chosen in (*([n] for n in able), able):
        text = "\n".join(line[2:] if n in chosen else line for n, line in enumerate(lines))
        assert examined(text, "start.toml").faults == []


def test_a_ceiling_under_every_measure_is_told(tmp_path: Path) -> None:
    path = tmp_path / "b.toml"
    path.write_text(TEXT.replace("{keys}", "\n[quiz]\nhardest = 3"))
    with pytest.raises(BlueprintError) as told:
        capacity(path)
    assert list(told.value.faults) == [
        f"{path}, line 3: meter 4/4 cannot be filled: no readable measure can be made of h q e rq: teach other values, "
        "raise hardest (it is 3), allow more patterns or sounds in a measure, or take the meter out"
    ]
    path.write_text(path.read_text().replace("hardest = 3", "hardest = 4"))
    assert capacity(path)[1][0].measures == 1, "by hand: h h weighs 4"
