"""Alternative text: what a sighted student sees, in order, and nothing that must be worked out."""

import re
from fractions import Fraction

import pytest

from barwright.misreadings import MISREADINGS
from barwright.notation.legal_measures import all_measures, alphabet
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import (
    Excerpt,
    Figure,
    beside_blank,
    fragment,
)
from barwright.rhythm.measure import BLANK, Symbols
from barwright.rhythm.meter import Meter, parse_meter
from barwright.rhythm.text import parse_excerpt, parse_symbols
from barwright.wording.alt_text import number_word, spoken
from barwright.wording.language import language

ENGLISH = language("en-US")
USUAL = Conventions()
METERS = tuple(map(parse_meter, ("2/4", "3/4", "4/4")))
PLAIN = (Fraction(1), Fraction(1, 2), Fraction(1, 4))
BEGINNERS = alphabet(PLAIN, PLAIN)


def told(text: str, *, signature: bool = True) -> str:
    return spoken(Figure(parse_excerpt(text, full=False), signature=signature), USUAL, ENGLISH)


@pytest.mark.parametrize(
    ("rhythm", "text"),
    [
        ("3/4 h _", "One measure, time signature 3 over 4: half note, blank."),
        ("4/4 rW", "One measure, time signature 4 over 4: whole rest."),
        ("3/4 rW", "One measure, time signature 3 over 4: whole rest."),
        ("2/4 q q | h", "Two measures, time signature 2 over 4. Measure 1: two quarter notes. Measure 2: half note."),
        ("4/4 q q h", "One measure, time signature 4 over 4: two quarter notes, half note."),
        ("4/4 q. e h", "One measure, time signature 4 over 4: dotted quarter note, eighth note, half note."),
        ("4/4 h.. e", "One measure, time signature 4 over 4: double-dotted half note, eighth note."),
        ("3/4 q~ q q", "One measure, time signature 3 over 4: quarter note tied to the next note, two quarter notes."),
        ("4/4 q *rq h", "One measure, time signature 4 over 4: quarter note, quarter rest with the mark, half note."),
        ("2/4 et et et q", "One measure, time signature 2 over 4: a triplet of three eighth notes, quarter note."),
        ("2+3/8 q q.", "One measure, time signature 2 plus 3 over 8: quarter note, dotted quarter note."),
    ],
)  # fmt: skip
def test_what_is_read_aloud(rhythm: str, text: str) -> None:
    assert told(rhythm) == text


@pytest.mark.parametrize(
    ("rhythm", "before", "after"),
    [
        ("3/4 h _", "One measure, time signature 3 over 4: half note.", "Barline."),
        ("3/4 _ h", "One measure, time signature 3 over 4.", "Half note, barline."),
        ("4/4 rh _ q", "One measure, time signature 4 over 4: half rest.", "Quarter note, barline."),
        (
            "3/4 h q | _ q | rW",
            "Three measures, time signature 3 over 4. Measure 1: half note, quarter note. Measure 2.",
            "Quarter note, barline. Measure 3: whole rest.",
        ),
    ],
)
def test_what_is_read_aloud_beside_a_blank(rhythm: str, before: str, after: str) -> None:
    parts = beside_blank(parse_excerpt(rhythm))
    assert tuple(spoken(part, USUAL, ENGLISH) for part in parts) == (before, after)


def test_counts_beside_a_blank_are_read_after_the_barline() -> None:
    figure = Figure(parse_excerpt("3/4 _ q"), signature=False, frame="after", counts=(("3",),))
    assert spoken(figure, USUAL, ENGLISH) == "Quarter note, barline; counts: 3."


def test_with_the_signature_hidden_symbols_and_beams_are_listed() -> None:
    assert told("3/4 e e q q", signature=False) == (
        "One measure: a beam of eighth note and eighth note, quarter note, quarter note."
    )
    assert told("6/8 e e e e e e", signature=False) == (
        "One measure: a beam of eighth note and eighth note and eighth note, "
        "a beam of eighth note and eighth note and eighth note."
    )
    assert told("2/4 et et et q", signature=False) == (
        "One measure: a beam of a triplet of eighth note and eighth note and eighth note, quarter note."
    )


def test_printed_counts_are_read() -> None:
    figure = Figure(parse_excerpt("3/4 h rq"), counts=(("1-2", "(3)"),))
    assert spoken(figure, USUAL, ENGLISH) == (
        "One measure, time signature 3 over 4: half note, quarter rest; counts: 1-2 (3)."
    )


def test_symbols_on_their_own_have_no_measure() -> None:
    three_four = Meter(3, 4)
    assert spoken(fragment(parse_symbols("q rq"), three_four), USUAL, ENGLISH) == "Quarter note, quarter rest."
    assert (
        spoken(fragment(parse_symbols("e e"), three_four, start=Fraction(1, 2)), USUAL, ENGLISH) == "Two eighth notes."
    )


def test_numbers_beyond_the_words_are_digits() -> None:
    assert [number_word(n, ENGLISH) for n in (2, 12, 13)] == ["two", "twelve", "13"]


def beginners_measures() -> list[tuple[Meter, Symbols]]:
    return [(meter, symbols) for meter in METERS for symbols in all_measures(BEGINNERS, meter, USUAL)]


def test_nothing_of_the_answer_is_told_in_any_beginners_measure() -> None:
    """No totals, beats, places or verdicts: in every legal measure, each symbol once blanked."""
    seen = beginners_measures()
    assert len(seen) > 50
    for meter, symbols in seen:
        for index in range(len(symbols)):
            left = (*symbols[:index], BLANK, *symbols[index + 1 :])
            text = spoken(Figure(Excerpt(meter, (left,))), USUAL, ENGLISH)
            assert text.count("blank") == 1
            assert not re.search(r"beat|missing|count|full|total|correct|key|right|wrong|lasts|one quarter", text), text
            assert not any(ident in text for ident in MISREADINGS)


def test_different_beginners_measures_sound_different() -> None:
    """Equivalent purpose (WCAG 2.2, SC 1.1.1): from the words alone the printed symbols can be told."""
    words = {spoken(Figure(Excerpt(m, (s,))), USUAL, ENGLISH) for m, s in beginners_measures()}
    assert len(words) == len(beginners_measures())
