"""Each convention says what it changes, and that is so: what the judge rests on is derived from it."""

from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from itertools import product
from typing import get_args

import pytest

from barwright.counting.counts import all_conventions_rows, format_row, labels_if_counted, normal_row
from barwright.notation.beaming import beam_groups
from barwright.notation.legality import is_legal
from barwright.rhythm.conventions import (
    CONVENTION_NAMES,
    EFFECTS,
    Change,
    Conventions,
    Counting,
    Effect,
    Where,
    convention_values,
)
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import parse_excerpt

# Between them these hold all that conventions differ about: held sounds, rests, triplets, thirds of a beat, sixteenths.
RHYTHMS = (
    "4/4 q. e h", "4/4 e q e rq q", "3/4 rh q", "3/4 q rh", "2/4 s s s s q", "2/4 et et et rq", "4/4 e e e e h",
    "2/2 q h q", "2/2 e e e e rh", "3/8 e s s re", "3/8 q e", "6/8 q e s s s s e", "6/8 rq. q re", "6/8 e rq q.",
    "6/8 e re re q.", "9/8 h. q e", "4/4 q q. e q", "4/4 rq. e h", "5/8 q e q", "7/8 q q q.",
)  # fmt: skip
EXCERPTS = tuple(parse_excerpt(text) for text in RHYTHMS)
SYSTEMS: tuple[Counting, ...] = get_args(Counting)
each = pytest.mark.parametrize("name", CONVENTION_NAMES)


def variants(name: str) -> Iterator[Conventions]:
    """Classes that differ in one convention only, in every counting system."""
    for system, value in product(SYSTEMS, convention_values()[name]):
        yield replace(Conventions(), **{"counting": system, name: value})


def written(excerpt: Excerpt, conventions: Conventions) -> str:
    """The row of counts that a class writes; empty where it has none."""
    labels = labels_if_counted(excerpt, conventions)
    return "" if labels is None else format_row(labels)


def printed(excerpt: Excerpt, conventions: Conventions) -> list[bool]:
    return [is_legal(measure, excerpt.meter, conventions) for measure in excerpt.measures]


def beamed(excerpt: Excerpt, conventions: Conventions) -> list[object]:
    return [beam_groups(measure, excerpt.meter, conventions) for measure in excerpt.measures]


def differs(name: str, shown: Callable[[Excerpt, Conventions], object], system: Counting = "numbers") -> bool:
    """Whether classes that differ in this convention only see something else anywhere."""
    values = convention_values()[name]
    return any(
        len({repr(shown(each, replace(Conventions(counting=system), **{name: value}))) for value in values}) > 1
        for each in EXCERPTS
    )


def test_every_convention_says_what_it_changes() -> None:
    named = {each.name for each in fields(Conventions) if each.init}
    assert set(EFFECTS) == named == set(CONVENTION_NAMES)
    for effect in EFFECTS.values():
        assert isinstance(effect, Effect)
        assert effect.change in get_args(Change)
        assert effect.where in get_args(Where)
        assert (effect.change == "counts") == bool(effect.systems)


@each
@pytest.mark.parametrize("system", SYSTEMS)
def test_counts_change_in_the_systems_that_it_names_and_in_no_other(name: str, system: Counting) -> None:
    effect = EFFECTS[name]
    if effect.change == "system":
        return
    expected = effect.change == "signs" or system in effect.systems
    assert differs(name, written, system) == expected


@each
def test_print_and_beams_change_where_it_says_so(name: str) -> None:
    effect = EFFECTS[name]
    assert differs(name, printed) == (effect.change == "print")
    assert differs(name, beamed) == (effect.change == "beams")


@pytest.mark.parametrize("text", RHYTHMS)
@each
def test_every_other_class_is_known_to_those_who_judge(name: str, text: str) -> None:
    """What a class with another value of any convention writes is among the rows that no distractor may be."""
    excerpt = parse_excerpt(text)
    rows = {written(excerpt, conventions) for conventions in variants(name)} - {""}
    for mine in (Conventions(), Conventions(counting="takadimi"), Conventions(rest_counts="R", held="onset_only")):
        own = normal_row(written(excerpt, mine), mine)
        known = all_conventions_rows(excerpt, mine) | {own}
        assert {normal_row(row, mine) for row in rows} <= known
