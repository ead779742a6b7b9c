"""The table of misreadings itself: ids, where each may serve, what it needs, whom it can be mistaken for."""

import inspect
import re

import pytest

from barwright.misreadings import MISREADINGS, Misreading
from barwright.misreadings.belief import EXERCISES, HYPOTHESIS
from barwright.rhythm.text import parse_symbol

ALL = list(MISREADINGS.values())
each = pytest.mark.parametrize("m", ALL, ids=lambda m: m.id)


def test_ids_that_blueprints_rely_on_are_there() -> None:
    assert {"rests-take-no-time", "counting-goes-on-over-the-barline"} <= set(MISREADINGS)


def test_each_names_its_source_or_says_that_it_is_a_hypothesis() -> None:
    """A row without a source is a TypeError: nothing stands for it."""
    published = {m.id: m.source for m in ALL if m.source != HYPOTHESIS}
    assert [source for source in published.values() if not re.search(r"\b(19|20)\d\d\b", source)] == []
    assert published == {"held-beats-struck-again": "teacher essay 2015 (Mr A Music Place)"}


@each
def test_an_id_says_the_error_and_is_the_name_of_its_function(m: Misreading) -> None:
    function = m.hear or m.act
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", m.id)
    assert function.__name__.replace("_", "-") == m.id


@each
def test_the_first_line_tells_a_teacher_what_the_student_does(m: Misreading) -> None:
    first = (inspect.getdoc(m.hear or m.act) or "").partition("\n")[0]
    assert re.match(r"What a student (reads|writes|answers|fills in|says) who \w+", first), first
    assert first.endswith(".")


@each
def test_every_misreading_shows_in_known_exercises(m: Misreading) -> None:
    assert m.exercises
    assert m.exercises <= EXERCISES


@each
def test_what_it_needs_can_be_taught(m: Misreading) -> None:
    for need in m.needs - {".", "t", "~", "r"}:
        parse_symbol(need)


@each
def test_those_it_is_confused_with_are_there(m: Misreading) -> None:
    for other in m.confused_with:
        assert other != m.id
        assert other in MISREADINGS


@pytest.mark.parametrize("exercise", sorted(EXERCISES))
def test_three_errors_at_least_show_in_every_exercise(exercise: str) -> None:
    assert sum(exercise in m.exercises for m in ALL) >= 3


@pytest.mark.parametrize(
    ("ident", "tokens", "ties", "expected"),
    [
        ("dots-passed-over", "q", False, False),
        ("dots-passed-over", "q q.", False, True),
        ("tied-note-struck-again", "q", False, False),
        ("tied-note-struck-again", "q", True, True),
        ("triplet-notes-last-as-written", "q e", False, False),
        ("triplet-notes-last-as-written", "q et", False, True),
        ("rests-take-no-time", "q h", False, False),
        ("rests-take-no-time", "q rW", False, True),
        ("whole-and-half-rest-swapped", "q rh", False, False),
        ("whole-and-half-rest-swapped", "q rh rW", False, True),
        ("more-flags-last-longer", "q e", False, False),
        ("notes-numbered-in-order", "q", False, True),
    ],
)
def test_nameable_only_where_all_it_speaks_of_is_taught(ident: str, tokens: str, ties: bool, expected: bool) -> None:
    assert MISREADINGS[ident].nameable(frozenset(tokens.split()), ties=ties) is expected


def test_each_misreading_is_itself_so_that_caches_know_it() -> None:
    assert len(set(ALL)) == len(ALL)
