"""Every counting system has a row that says what its words are, and those who judge know what it writes."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import get_args

import pytest

from barwright.counting.counts import all_conventions_rows, count_labels, format_row, normal_row, spellings
from barwright.counting.systems import SYSTEMS, Words, counted_beats, words_of
from barwright.rhythm.conventions import BY_BEATS, Conventions, Counting, convention_values, counting_conventions
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt

METERS = tuple(map(parse_meter, ("2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "9/8", "2+3/8", "3+2+2/8", "3+2/4")))
each = pytest.mark.parametrize("system", get_args(Counting))
by_beats = pytest.mark.parametrize("system", BY_BEATS)


def tables(system: Counting) -> Iterator[tuple[Words, str | None]]:
    """The words of every beat of every meter, in every set of conventions that changes them."""
    names = counting_conventions(system)
    for chosen in product(*(convention_values()[name] for name in names)):
        conventions = replace(Conventions(counting=system), **dict(zip(names, chosen, strict=True)))
        for meter in METERS:
            for beat in counted_beats(meter, conventions):
                yield words_of(beat, meter, conventions)


def test_every_system_has_its_row() -> None:
    assert list(SYSTEMS) == list(get_args(Counting))


@by_beats
def test_its_row_names_every_word_of_its_beats(system: Counting) -> None:
    """Else a typed row could not be read, and labels to pick from would stand in no order."""
    used = {word for words, other in tables(system) for word in (*words.values(), other) if word}
    assert used - {"#"} <= {*SYSTEMS[system].words}


@by_beats
def test_its_beats_begin_as_its_row_says(system: Counting) -> None:
    assert {words[0] for words, _ in tables(system)} == {SYSTEMS[system].on_beat}


@each
@pytest.mark.parametrize("other", get_args(Counting))
def test_what_it_writes_is_known_to_those_who_judge_in_every_other(system: Counting, other: Counting) -> None:
    for text in ("2/4 q e e", "2/4 s s s s e e", "3/4 h q", "6/8 q e e e e"):
        excerpt = parse_excerpt(text)
        mine = Conventions(counting=other)
        row = normal_row(format_row(count_labels(excerpt, Conventions(counting=system))), mine)
        own = normal_row(format_row(count_labels(excerpt, mine)), mine)
        assert row in all_conventions_rows(excerpt, mine) | {own}


@each
def test_its_words_can_be_written_together_and_are_read_again(system: Counting) -> None:
    conventions = Conventions(counting=system)
    row = format_row(count_labels(parse_excerpt("2/4 s s s s e e"), conventions))
    together = {text.replace(" ", "") for text in spellings(row, conventions)}
    assert row.replace(" ", "") in together
    assert normal_row(row.replace(" ", ""), conventions) == normal_row(row, conventions)
