"""Rows as text: written and read, brought to one form, spelt in every accepted way; the rows of other classes."""

from dataclasses import fields, replace
from functools import cache
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwright.counting.counts import (
    all_conventions_rows,
    count_labels,
    format_row,
    normal_row,
    parse_row,
    spellings,
)
from barwright.counting.labels import struck
from barwright.errors import RhythmError
from barwright.rhythm.conventions import EFFECTS, Conventions, convention_values, counting_conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.text import format_excerpt, parse_excerpt
from whole import whole_or_part
from worked import excerpts

USUAL = Conventions()
VALUES = convention_values()
# The conventions that change rows, those of numbers apart; numbers vary by all, the other systems by the second set.
SIGNS = tuple(name for name, effect in EFFECTS.items() if effect.change == "signs")
NUMBER_KEYS = (*counting_conventions("numbers"), *SIGNS)
OTHER_KEYS = (
    "counting",
    *SIGNS,
    *(n for n, e in EFFECTS.items() if e.change == "counts" and e.systems != ("numbers",)),
)


def variants(keys: tuple[str, ...]) -> list[Conventions]:
    """Every set of conventions that differs from the default in these keys only."""
    return [replace(USUAL, **dict(zip(keys, chosen, strict=True))) for chosen in product(*(VALUES[k] for k in keys))]


def row_text(excerpt: Excerpt, conventions: Conventions) -> str | None:
    """The row as text; None where the class has no count for it."""
    try:
        return format_row(count_labels(excerpt, conventions))
    except RhythmError:
        return None


@cache
def written() -> dict[tuple[str, Conventions], str]:
    """Every row of every worked rhythm, in a good many variants: (rhythm text, conventions) -> row text."""
    sets = {*variants(("held", "rest_counts", "triplet")), *variants(("counting", "rest_counts"))}
    sets |= {*variants(("compound", "compound_16ths"))}
    found = {}
    for excerpt in excerpts():
        for conventions in sets:
            text = row_text(excerpt, conventions)
            if text is not None:
                found[format_excerpt(excerpt), conventions] = text
    return found


def test_rows_written_and_read_again() -> None:
    for (rhythm, conventions), text in written().items():
        assert format_row(parse_row(text)) == text
        if conventions.compound_16ths == "ta":
            assert parse_row(text) == count_labels(parse_excerpt(rhythm), conventions)


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("1 (2 3) | -1", (("1", "(2 3)"), ("-1",))),
        ("1 (2)(3)", (("1", "(2)", "(3)"),)),
        ("( ) 1", (("( )", "1"),)),
        ("1 |  | 2", (("1",), (), ("2",))),
        ("1 (2", (("1", "(", "2"),)),
        ("", ((),)),
    ],
)
def test_labels_of_a_row(text: str, row: tuple[tuple[str, ...], ...]) -> None:
    assert parse_row(text) == row


@pytest.mark.parametrize(
    ("typed", "changes", "normal"),
    [
        # normal forms named by the rules of counting: + and & alike, dashes alike, spaces around hyphens dropped
        ("1 + 2 and 3 & 4", {}, "1 & 2 & 3 & 4"),
        ("1 – 2 3—4", {}, "1-2 3-4"),
        ("(1)(2) 3", {}, "(1) (2) 3"),
        ("1 trip let 2", {}, "1 la li 2"),
        ("1 triplet 2", {"triplet": "trip_let"}, "1 trip let 2"),
        ("tri-ple-t 2", {"triplet": "three_e"}, "tri ple t 2"),
        ("1234", {}, "1 2 3 4"),
        ("1-23-4", {}, "1-2 3-4"),
        ("10 11 12", {}, "10 11 12"),
        ("1e&a2", {}, "1 e & a 2"),
        ("1, 2, 3", {}, "1 2 3"),
        ("1 AND 2", {}, "1 & 2"),
        # parentheses: a pair around two labels stays one pair, an empty pair stays
        ("( 1 2 ) 3", {}, "(1 2) 3"),
        ("1 () 2", {}, "1 ( ) 2"),
        ("[1] 2", {}, "(1) 2"),
        ("1 2/(1) 2", {}, "1 2 (1) 2"),
        # barlines: dropped where a held part is told by its number, kept where nothing else tells it
        ("1 2 3 | - 1 2-3", {}, "1 2 3 -1 2-3"),
        ("1 2 3 -1 2 - 3", {}, "1 2 3 -1 2-3"),
        ("1 2 3 | -4 5", {}, "1 2 3 | -4 5"),
        ("-1 2", {}, "-1 2"),
        ("du du | -du", {"counting": "gordon"}, "du du -du"),
        ("du-de du", {"counting": "gordon"}, "du de du"),
        ("takadimi ta", {"counting": "takadimi"}, "ta ka di mi ta"),
        ("tadi (ta)-ta", {"counting": "takadimi"}, "ta di (ta) ta"),
        ("1te2 (rest)", {"counting": "eastman"}, "1 te 2 (R)"),
        ("ti-ti ta - a | -ta", {"counting": "kodaly"}, "ti ti ta-a -ta"),
        ("tika tika syncopa (shh)", {"counting": "kodaly"}, "ti ka ti ka syn co pa sh"),
        ("ta shh", {"counting": "kodaly", "kodaly_rests": "marked"}, "ta sh"),
        ("ta (shh)", {"counting": "kodaly", "kodaly_rests": "marked"}, "ta (sh)"),
        ("ta | -a", {"counting": "kodaly"}, "ta | -a"),
        # rests crossed out, or R: one R or one for each count of the rest
        (f"1 {struck('2-3')}", {}, "1 (2-3)"),
        ("1 (2-3)", {"rest_counts": "strike"}, f"1 {struck('2-3')}"),
        ("1 r-r", {"rest_counts": "R"}, "1 R"),
        ("1 rest", {"rest_counts": "R"}, "1 R"),
        # what cannot be read stays
        ("1 x 2?", {}, "1 x 2 ?"),
        ("1 - | -1", {}, "1 -1"),
        ("(1)-(2)", {}, "(1) (2)"),
        ("", {}, ""),
    ],
)
def test_normal_rows(typed: str, changes: dict[str, str], normal: str) -> None:
    conventions = replace(USUAL, **changes)
    assert normal_row(typed, conventions) == normal
    assert normal_row(normal, conventions) == normal


def test_a_row_of_one_measure_is_normal_as_it_is_written() -> None:
    """But for rests marked with R, where one R for each count is as good as one."""
    for (rhythm, conventions), text in written().items():
        if "|" not in rhythm and conventions.rest_counts != "R":
            assert normal_row(text, conventions) == text, rhythm


def test_normal_rows_drop_barlines_only() -> None:
    for (rhythm, conventions), text in written().items():
        if conventions.rest_counts != "R":
            assert normal_row(text, conventions) == text.replace(" |", ""), rhythm


SCRAPS = st.sampled_from(
    [
        "1",
        "2",
        "12",
        "34",
        "&",
        "and",
        "+",
        "e",
        "a",
        "la",
        "ta",
        "ti",
        "du",
        "de",
        "(",
        ")",
        "-",
        " - ",
        " ",
        "|",
        "R",
        "x",
    ]
)


@given(
    st.lists(SCRAPS, max_size=9).map("".join), st.sampled_from(VALUES["counting"]), st.sampled_from(VALUES["triplet"])
)
def test_a_normal_row_is_its_own_normal_row(typed: str, counting: str, triplet: str) -> None:
    conventions = replace(USUAL, counting=counting, triplet=triplet)
    normal = normal_row(typed, conventions)
    assert normal_row(normal, conventions) == normal


def test_every_spelling_is_the_same_row() -> None:
    """Of whole rows, and of every label on its own; the row itself comes first, and none is told twice."""
    texts = {(text, conventions) for (_, conventions), text in written().items()}
    texts |= {(label, conventions) for (text, conventions) in texts for measure in parse_row(text) for label in measure}
    assert len(texts) > 2000
    some = sorted(texts, key=str)[:: whole_or_part(1, 8)]
    for text, conventions in some:
        found = spellings(text, conventions)
        assert found[0] == text
        assert len(set(found)) == len(found) <= 64
        assert {normal_row(spelling, conventions) for spelling in found} == {normal_row(text, conventions)}


@pytest.mark.parametrize(
    ("text", "changes", "some"),
    [
        ("1 (2)", {}, ["1(2)", "1 [2]", "1, (2)", "1 ( 2 )"]),
        ("1 & 2", {}, ["1& 2", "1 and 2", "1 + 2", "1&2", "1and 2"]),
        ("1-2 3", {}, ["1–2 3", "1 - 2 3", "1-23"]),
        ("(1) (2) 3", {}, ["(1)(2)3"]),
        ("1 2 3 | 1-2 3", {}, ["1 2 3 1-2 3", "1 2 3 1–2 3"]),
        ("&", {}, ["and", "+"]),
        ("1 R-R", {"rest_counts": "R"}, ["1 R", "1 rest"]),
        (f"1 {struck('2')}", {"rest_counts": "strike"}, ["1 (2)"]),
        ("ti ti ta", {"counting": "kodaly"}, ["titi ta", "ti-ti ta"]),
        ("ta ka di mi ta", {"counting": "takadimi"}, ["takadimi ta", "ta-ka-di-mi ta"]),
        ("du de du", {"counting": "gordon"}, ["dude du", "du-de du"]),
        ("1 te 2", {"counting": "eastman"}, ["1te 2", "1-te 2"]),
    ],
)
def test_spellings_that_are_accepted(text: str, changes: dict[str, str], some: list[str]) -> None:
    assert set(some) <= set(spellings(text, replace(USUAL, **changes)))


@pytest.mark.parametrize(
    ("text", "changes", "typed"),
    [
        # barlines, commas, hyphens and parentheses as they are typed in a hurry, alone and together
        (
            "1 2 (3-4) | (1) (2) 3 4",
            {},
            [
                "1 2 (3-4)|(1) (2) 3 4",
                "1 2 (3-4) (1) (2) 3 4",
                "1 2 (3-4) |(1) (2) 3 4",
                "1 2 (3-4)| (1) (2) 3 4",
                "1 2 (3-4) / (1) (2) 3 4",
                "1,2,(3-4)|(1),(2),3,4",
                "1,2,(3-4),(1),(2),3,4",
                "1, 2, (3-4), (1), (2), 3, 4",
                "1, 2, (3-4) | (1), (2), 3, 4",
                "1 2 (3 - 4) | (1) (2) 3 4",
                "1 2 (3 - 4) (1) (2) 3 4",
                "1 2 (3–4) | (1) (2) 3 4",
                "1 2(3-4)(1)(2)3 4",
                "1 2 [3-4] | [1] [2] 3 4",
            ],
        ),
        ("1 2 (3-4)", {}, ["1,2,(3-4)", "1, 2, (3-4)", "1 2(3-4)", "1 2 (3 - 4)", "1 2 (3–4)"]),
        (
            "1 & 2 & | 1 & 2",
            {},
            ["1 and 2 and 1 and 2", "1 + 2 +|1 + 2", "1& 2&|1& 2", "1&2&|1&2", "1and 2and | 1and 2", "1,&,2,&,1,&,2"],
        ),
        ("1-2 3 | -1 2", {}, ["1-2 3|-1 2", "1-2 3 -1 2", "1-2, 3, -1, 2", "1 - 2 3 - 1 2"]),
        ("ti ti ta | ta-a", {"counting": "kodaly"}, ["titi ta|ta-a", "ti-ti ta ta-a", "ti,ti,ta,ta-a"]),
        ("du de du | du du", {"counting": "gordon"}, ["dude du|du du", "du, de, du, du, du", "du-de du du du"]),
    ],
)
def test_what_students_really_type_is_accepted_before_what_is_odd(
    text: str, changes: dict[str, str], typed: list[str]
) -> None:
    assert set(typed) <= set(spellings(text, replace(USUAL, **changes)))


def test_an_odd_spelling_comes_after_all_common_ones() -> None:
    found = spellings("1 2 (3-4) | (1) (2) 3 4", USUAL)
    assert found.index("1,2,(3-4)|(1),(2),3,4") < found.index("1 2 [3-4] | [1] [2] 3 4")
    assert "1 2 [3 - 4] | [1] [2] 3 4" not in found


@pytest.mark.parametrize("text", ["1 2", "1 2 3-4 | 1 2 3 4", "1 2 (3)"])
def test_numbers_that_would_run_together_are_not_a_spelling(text: str) -> None:
    assert text.replace(" ", "").replace("|", "") not in spellings(text, USUAL)


# Own variants that the rows of other classes are told for: every way that normal rows differ by.
OWN = [
    USUAL,
    replace(USUAL, rest_counts="R"),
    replace(USUAL, rest_counts="strike", held="onset_only"),
    replace(USUAL, triplet="three_e"),
    replace(USUAL, compound="bottom", triplet="and_a"),
    replace(USUAL, counting="kodaly"),
    replace(USUAL, counting="gordon", rest_counts="R"),
    replace(USUAL, counting="eastman"),
]
SETS = {*variants(NUMBER_KEYS), *variants(OTHER_KEYS)}
COUNTED = [f.name for f in fields(Conventions) if f.name in {*NUMBER_KEYS, *OTHER_KEYS}]


@cache
def rows_of_every_set(excerpt: Excerpt) -> frozenset[str]:
    return frozenset(text for conventions in SETS if (text := row_text(excerpt, conventions)) is not None)


@pytest.mark.parametrize("own", OWN, ids=lambda own: f"{own.counting}-{own.rest_counts}-{own.triplet}-{own.held}")
def test_other_classes_rows_are_those_of_every_other_set(own: Conventions) -> None:
    """Against every set of conventions in turn, for a part of the worked rhythms and all longer ones."""
    chosen = [e for n, e in enumerate(excerpts()) if n % len(OWN) == OWN.index(own) or len(e.measures) > 1]
    for excerpt in chosen:
        mine = normal_row(row_text(excerpt, own) or "", own)
        expected = {normal_row(text, own) for text in rows_of_every_set(excerpt)} - {mine}
        found = all_conventions_rows(excerpt, own) - {mine}
        assert expected <= found, format_excerpt(excerpt)
        held = any(symbols[-1].tied for symbols in excerpt.measures)
        if not held and excerpt.meter.kind != "additive":
            assert found == expected, format_excerpt(excerpt)


def test_other_groupings_and_held_parts_left_unmarked_are_other_rows() -> None:
    found = all_conventions_rows(parse_excerpt("5/8 e e e e e"), USUAL)
    assert {"1 la li 2 &", "1 & a 2 &", "1 2 3 1 2", "1 2 1 2 3", "du be du ba bi", "du ba bi du be"} <= found
    assert "1 2 3 2" in all_conventions_rows(parse_excerpt("3/4 q q q~ | q h"), USUAL)


def test_a_class_own_row_is_no_other_row() -> None:
    """Unless another set of conventions writes the same: onsets only, where nothing is held."""
    assert "1-2 (3) 4" not in all_conventions_rows(parse_excerpt("4/4 h rq q"), USUAL)
    assert "1-2 R" not in all_conventions_rows(parse_excerpt("4/4 h rh"), replace(USUAL, rest_counts="R"))
    assert "1 2" in all_conventions_rows(parse_excerpt("2/4 q q"), USUAL)


def test_other_rows_of_a_blank_say_why_not() -> None:
    with pytest.raises(RhythmError) as error:
        all_conventions_rows(parse_excerpt("3/4 q _"), USUAL)
    assert str(error.value) == "a rhythm with a blank has no counts: fill the blank first"
