"""The short way to a normal row gives what the long way gives, on texts of any counts and signs put together."""

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from barwright.counting.labels import STROKE
from barwright.counting.rows import long_normal_row, normal_row
from barwright.counting.systems import SYSTEMS
from barwright.rhythm.conventions import Conventions
from whole import whole_or_part

VARIANTS = [
    Conventions(counting=counting, rest_counts=rests, triplet=triplet)
    for counting, rests, triplet in product(SYSTEMS, ("parentheses", "strike", "R"), ("la_li", "three_e"))
]
COUNTS = [
    *sorted({word for system in SYSTEMS.values() for word in (*system.words, *system.typed)}),
    *(
        "1",
        "2",
        "10",
        "13",
        "&",
        "(1)",
        "(2-3)",
        "1-2",
        "2-3-4",
        "3-1",
        "-1",
        "1-&",
        "ta-a",
        "tri-ple-t",
        "triplet",
        "R-R",
    ),
    *(
        "-",
        "(",
        ")",
        "()",
        "((2))",
        "|",
        "||",
        "–",
        "[2]",
        ",",
        "1&",
        "0",
        f"2{STROKE}",
        "\u00a0",
        "X",
        "?",
        "1&2",
        "1and",
        "+",
        "1,",
        "1(2)",
        "(1)(2)",
        "1–2",
        ")(",
        "&-2",
        "(&-2)",
        "( 2",
        "3 )",
        " - ",
        "and-3",
        "1|2",
        "/",
        "1/2",
        "1-&-2",
        "ß",
        *("taa", "ta", "a", "i", "（2）", "１", "＆", "｜", "－2", "．", "{3}", "3.", "3-1", "--2", "||", "\u3000"),
    ),
]
TEXTS = st.lists(st.tuples(st.sampled_from(COUNTS), st.sampled_from(("", " ", "  "))), max_size=8)


@settings(max_examples=whole_or_part(5_000, 300))
@given(TEXTS, st.sampled_from(VARIANTS))
def test_both_ways_give_one_row(parts: list[tuple[str, str]], conventions: Conventions) -> None:
    text = "".join(count + space for count, space in parts)
    assert normal_row(text, conventions) == long_normal_row(text, conventions)


def test_syllables_that_hold_go_on_with_what_stands_before_them_also_when_written_together() -> None:
    kodaly = Conventions(counting="kodaly")
    for text in ("ta aa", "ta a a", "taaa", "ta-a-a"):
        assert normal_row(text, kodaly) == long_normal_row(text, kodaly) == "ta-a-a"
