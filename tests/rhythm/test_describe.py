"""What a blind student is told of a figure: all that is seen, in order, and nothing that must be worked out."""

from dataclasses import replace
from itertools import product

import pytest

from barwright.counting.counts import count_labels
from barwright.notation.description import Word, described
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import (
    Excerpt,
    Figure,
    beside_blank,
    fragment,
)
from barwright.rhythm.measure import BLANK, FULL_MEASURE_REST
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt, parse_symbols
from worked import excerpts

USUAL = Conventions()


def told(figure: Figure, conventions: Conventions = USUAL) -> str:
    """The words in one line: kind, name and numbers of each."""
    return ", ".join(
        " ".join([w.kind, *filter(None, [w.name]), *map(str, w.numbers)]) for w in described(figure, conventions)
    )


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # the worked sentence of the rules: "One measure, time signature 3 over 4: half note, blank."
        ("3/4 h _", "measures 1, signature 3 4, note half 1 0, blank"),
        ("3/4 q q q", "measures 1, signature 3 4, note quarter 3 0"),
        ("3/4 q _ q", "measures 1, signature 3 4, note quarter 1 0, blank, note quarter 1 0"),
        ("4/4 q rq rq q", "measures 1, signature 4 4, note quarter 1 0, rest quarter 2 0, note quarter 1 0"),
        ("4/4 q. e h", "measures 1, signature 4 4, note quarter 1 1, note eighth 1 0, note half 1 0"),
        ("2/4 q.. s", "measures 1, signature 2 4, note quarter 1 2, note sixteenth 1 0"),
        ("3/4 q q~ q", "measures 1, signature 3 4, note quarter 1 0, note quarter 1 0, tie, note quarter 1 0"),
        ("3/4 q *q q", "measures 1, signature 3 4, note quarter 1 0, marked, note quarter 1 0, note quarter 1 0"),
        ("3/4 *_", "measures 1, signature 3 4, marked, blank"),
        ("2/4 et et et q", "measures 1, signature 2 4, triplet, note eighth 3 0, triplet-end, note quarter 1 0"),
        (
            "2/4 qt et ret et et",
            "measures 1, signature 2 4, triplet, note quarter 1 0, note eighth 1 0, triplet-end, "
            "triplet, rest eighth 1 0, note eighth 2 0, triplet-end",
        ),
        ("2+3/8 q q.", "measures 1, signature 2 3 8, note quarter 1 0, note quarter 1 1"),
        (
            "3/4 q | rW | h",
            "measures 3, signature 3 4, measure 1, note quarter 1 0, measure 2, rest whole 1 0, "
            "measure 3, note half 1 0",
        ),
    ],
)
def test_a_figure_with_its_time_signature(text: str, expected: str) -> None:
    assert told(Figure(parse_excerpt(text))) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3/4 q q q", "measures 1, note quarter 1 0, note quarter 1 0, note quarter 1 0"),
        (
            "6/8 e e e q.",
            "measures 1, beam, note eighth 1 0, note eighth 1 0, note eighth 1 0, beam-end, note quarter 1 1",
        ),
        (
            "3/4 e e q e e",
            "measures 1, beam, note eighth 1 0, note eighth 1 0, beam-end, note quarter 1 0, "
            "beam, note eighth 1 0, note eighth 1 0, beam-end",
        ),
        (
            "2/4 et et et q",
            "measures 1, beam, triplet, note eighth 1 0, note eighth 1 0, note eighth 1 0, triplet-end, beam-end, "
            "note quarter 1 0",
        ),
        (
            "2/4 qt et q",
            "measures 1, triplet, note quarter 1 0, note eighth 1 0, triplet-end, note quarter 1 0",
        ),
    ],
)
def test_a_figure_whose_time_signature_is_asked_for(text: str, expected: str) -> None:
    """Each symbol alone, so that no number adds up to the answer; beams, since they show the groups."""
    assert told(Figure(parse_excerpt(text), signature=False)) == expected


def test_the_class_own_beams_are_told() -> None:
    eighths = Figure(parse_excerpt("4/4 e e e e h"), signature=False)
    assert told(eighths).count("beam-end") == 2
    assert told(eighths, replace(USUAL, beam_4_4="half")).count("beam-end") == 1


def test_symbols_on_their_own_have_no_measures() -> None:
    meter = parse_meter("3/4")
    assert told(fragment(parse_symbols("q e e"), meter)) == "note quarter 1 0, note eighth 2 0"
    assert told(fragment((FULL_MEASURE_REST,), meter)) == told(fragment(parse_symbols("rw"), meter)) == "rest whole 1 0"


def test_counts_are_told_where_they_are_printed() -> None:
    excerpt = parse_excerpt("3/4 h rq | h.")
    assert "counts" not in told(Figure(excerpt))
    shown = Figure(excerpt, counts=count_labels(excerpt, USUAL))
    expected = [Word("counts", "1-2 (3)"), Word("counts", "1-2-3")]
    assert [word for word in described(shown, USUAL) if word.kind == "counts"] == expected


def test_measure_numbers_are_told_as_they_are_printed() -> None:
    """A pickup is measure 0 where numbers are printed (G. Read 1979), and the first measure where none are."""
    pickup = parse_excerpt("3/4 q | h. | h")
    numbers = {
        shown: [w.numbers for w in described(Figure(pickup, numbers=shown), USUAL) if w.kind == "measure"]
        for shown in (False, True)
    }
    assert numbers == {False: [(1,), (2,), (3,)], True: [(0,), (1,), (2,)]}


def retold(words: tuple[Word, ...]) -> list[tuple[str, str, int, bool]]:
    """Kind, name, dots and tie of each symbol, out of the words alone."""
    found: list[tuple[str, str, int, bool]] = []
    for word in words:
        if word.kind in ("note", "rest"):
            found += [(word.kind, word.name, word.numbers[1], False)] * word.numbers[0]
        elif word.kind == "blank":
            found.append(("blank", "", 0, False))
        elif word.kind == "tie":
            found.append((*found.pop()[:3], True))
    return found


def seen(excerpt: Excerpt) -> list[tuple[str, str, int, bool]]:
    return [
        (
            ("rest" if s.silent else s.kind),
            s.value.name if s.value else "" if s == BLANK else "whole",
            s.value.dots if s.value else 0,
            s.tied,
        )
        for s in excerpt.symbols
    ]


@pytest.mark.parametrize(("signature", "frame"), [*product((True, False), ("measures",)), (False, "fragment")])
def test_every_symbol_is_told_once_and_in_order(signature: bool, frame: str) -> None:
    for excerpt in excerpts():
        words = described(Figure(excerpt, signature, frame), USUAL)
        assert retold(words) == seen(excerpt)
        kinds = [word.kind for word in words]
        for kind in ("beam", "triplet"):
            depth = [kinds[: n + 1].count(kind) - kinds[: n + 1].count(f"{kind}-end") for n in range(len(kinds))]
            assert set(depth) <= {0, 1}
            assert depth[-1] == 0
        assert ("signature" in kinds) == signature
        assert signature or frame == "fragment" or all(w.numbers[0] == 1 for w in words if w.kind in ("note", "rest"))


def test_nothing_is_told_but_what_is_seen() -> None:
    """A full measure rest and a whole rest, and rhythms alike but for the hidden meter, are told alike."""
    for one, other in (("4/4 rW", "4/4 rw"), ("3/4 q q q", "6/8 q q q"), ("4/4 h h", "2/2 h h")):
        first, second = (Figure(parse_excerpt(text), signature=False) for text in (one, other))
        assert told(first) == told(second)


@pytest.mark.parametrize(
    ("text", "before", "after"),
    [
        ("3/4 h _", "measures 1, signature 3 4, note half 1 0", "barline"),
        ("3/4 _ h", "measures 1, signature 3 4", "note half 1 0, barline"),
        ("4/4 e e _ e e q", "measures 1, signature 4 4, note eighth 2 0", "note eighth 2 0, note quarter 1 0, barline"),
        (
            "3/4 h q | q _ | rW",
            "measures 3, signature 3 4, measure 1, note half 1 0, note quarter 1 0, measure 2, note quarter 1 0",
            "barline, measure 3, rest whole 1 0",
        ),
    ],
)
def test_the_parts_beside_a_blank(text: str, before: str, after: str) -> None:
    """Together they tell what the whole tells; the second tells the barline, since it may hold nothing else."""
    assert tuple(map(told, beside_blank(parse_excerpt(text)))) == (before, after)


def test_counts_beside_a_blank_are_told_after_the_barline() -> None:
    figure = Figure(parse_excerpt("3/4 _ q"), signature=False, frame="after", counts=(("3",),))
    assert told(figure) == "note quarter 1 0, barline, counts 3"
