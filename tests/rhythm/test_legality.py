"""What may be printed in one measure: the textbook's rows, every fault with its mend, all short measures recounted."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from barwright.notation.legality import FAULTS, is_legal, notation_faults
from barwright.rhythm.conventions import Conventions, convention_values
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_symbols
from barwright.rhythm.values import PLAIN, TICKS, NoteValue, ticks

USUAL = Conventions()
BOOK = Path(__file__).parent.parent / "textbook"


def rows(name: str) -> list[list[str]]:
    lines = (BOOK / name).read_text().splitlines()
    return [[cell.strip() for cell in line.split("|")] for line in lines if line and not line.startswith("#")]


def faults(text: str, conventions: Conventions = USUAL) -> tuple[str, ...]:
    signature, _, body = text.partition(" ")
    return notation_faults(parse_symbols(body), parse_meter(signature), conventions)


def conventions_of(setting: str) -> Conventions:
    """`dotted_rests=all` as conventions; the default for nothing."""
    if not setting:
        return USUAL
    name, _, value = setting.partition("=")
    return replace(USUAL, **{name: {"True": True}.get(value, value)})


# N05 shows how a half rest is counted; an empty measure is printed as one full-measure rest (N06; OU 4.4).
EXCEPTIONS = {"N05": ("silent-measure-in-pieces",)}


@pytest.mark.parametrize("book", ["counts_simple.txt", "counts_other_meters.txt", "syllables.txt"])
def test_every_rhythm_of_the_textbook_is_legal(book):
    seen = rows(book)
    assert len(seen) > 25
    for number, meter, rhythm, *_ in seen:
        assert faults(f"{meter} {rhythm}") == EXCEPTIONS.get(number, ()), number


PRINT_RULES = rows("print_rules.txt")


@pytest.mark.parametrize("row", PRINT_RULES, ids=lambda row: " ".join(row[1:4]))
def test_a_wrong_print_has_its_fault_and_the_right_one_has_none(row):
    _, setting, meter, wrong, ids, right = row
    assert faults(f"{meter} {wrong}", conventions_of(setting)) == tuple(ids.split())
    assert faults(f"{meter} {right}", conventions_of(setting)) == ()


def test_every_fault_has_a_wrong_print_of_its_own():
    assert {fault for row in PRINT_RULES for fault in row[4].split()} == set(FAULTS)
    alone = {row[4] for row in PRINT_RULES}
    assert set(FAULTS) - alone == {"full-measure-rest-not-alone"}  # such a measure is too full as well


@pytest.mark.parametrize(
    "text",
    [
        # OU 4.2: half rests of 4/4 on beats 1-2 and 3-4; two quarter rests show each beat as well
        "4/4 rh h",
        "4/4 h rh",
        "4/4 rq rq h",
        "4/4 q rq rq q",
        # notes may hide what rests may not: school syncopation, held notes from a beat
        "4/4 q h q",
        "4/4 q h.",
        "4/4 h. q",
        "4/4 w",
        "4/4 h.. e",
        "3/4 q h",
        # e q e inside one half measure, q. e on beats 1-2 and 3-4, and q. on beat 2 for most writers
        "4/4 e q e h",
        "4/4 h e q e",
        "4/4 e q e e q e",
        "4/4 q. e q. e",
        "4/4 q q. e q",
        "4/4 e q. h",
        # ties that show a beat, and the plain ones of first lessons
        "4/4 e q e~ e q e",
        "4/4 e e~ e e h",
        "4/4 q q~ q q",
        "3/4 q~ e e q",
        "4/4 h~ h",
        "4/4 et et et~ q h",
        # OU 4.2: the rest that completes the beat first
        "2/4 e re rq",
        "3/4 q e re rq",
        "2/4 re e q",
        "2/4 s rs rs s q",
        "2/4 s rs re q",
        "2/4 re rs s q",
        # inside a beat sixteenths may lean on each other
        "2/4 s e s q",
        "2/4 s e. q",
        "2/4 e. s q",
        "2/4 q.. s",
        # OU 4.3: a silent beat of three is one dotted rest, or a quarter and an eighth rest
        "6/8 rq. q.",
        "6/8 rq re q.",
        "6/8 rq e q.",
        "6/8 e re re q.",
        "6/8 re e re q.",
        "6/8 re q q.",
        "12/8 rh. q. q.",
        "12/8 q. q. rh.",
        "12/8 rq. rq. h.",
        "12/8 w.",
        "12/8 q. h. q.",
        "9/8 q. h.",
        "6/8 e e. s q.",
        "6/8 s e s e q.",
        "3/8 e re re",
        "2/2 q h q",
        "2/2 q h.",
        "2/2 e q e h",
        "2/2 e q. h",
        "2/2 rq q rh",
        "2/2 qt qt qt h",
        "2/2 h et et et q",
        "4/4 qt qt qt h",
        "4/4 h qt qt qt",
        "3/4 qt qt qt q",
        "5/8 e e e rq",
        "5/8 rq q.",
        "5/8 q rq re",
        "5/8 e e rq.",
        "7/8 h q.",
        "7/8 q. h",
        "2+2+3/8 h q.",
        "4+3/8 h q.",
        "4+3/8 e q e rq.",
        "2+3/4 h h.",
        "2+3/4 q q q q q",
        "3/2 w h",
        "5/4 w q",
        "5/4 rw q",
        "5/4 h rh q",
        "4/8 rq q",
        "4/8 e q e",
        "2+3/4 h qt qt qt q",
        "6/4 h. h.",
        *(
            f"{meter} rW"
            for meter in ("2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "9/8", "12/8", "5/8", "7/8", "5/4", "2+3/8")
        ),
    ],
)
def test_good_prints(text):
    assert faults(text) == ()


@pytest.mark.parametrize(
    ("setting", "text"),
    [
        ("half_rest_in_3_4=allow_1-2", "3/4 rh q"),
        ("half_rest_in_3_4=allow_1-2", "3/4 rq rq q"),
        ("half_rest_in_3_4=allow", "3/4 rh q"),
        ("half_rest_in_3_4=allow", "3/4 q rh"),
        ("compound_tail_rest=quarter", "6/8 e rq q."),
        ("compound_tail_rest=quarter", "6/8 rq re q."),
        ("dotted_rests=all", "3/4 rq. e q"),
        ("dotted_rests=all", "4/4 rq. e h"),
        ("dotted_rests=all", "4/4 h rq. e"),
        ("dotted_rests=all", "2/4 re. s q"),
        ("dotted_rests=all", "2/2 rq. e h"),
        ("dotted_rests=all", "2/2 re. s q h"),
        ("dotted_rests=all", "2/2 q re. s h"),
        ("dotted_rests=all", "6/8 e re. s q."),
        ("dotted_rests=all", "6/8 re. s e q."),
        ("dotted_rests=all", "6/8 rq. q."),
        ("dotted_rests=none", "6/8 rq re q."),
    ],
)
def test_good_prints_by_convention(setting, text):
    assert faults(text, conventions_of(setting)) == ()


def test_an_additive_meter_without_groups_is_judged_by_the_grouping_it_shows():
    """Three eighths first show 3+2; then the silence at the end is a whole beat, which takes one quarter rest."""
    assert faults("5/8 e e e re re") == ("rests-not-joined",)
    assert faults("2+3/8 e e e re re") == ()
    assert faults("5/8 e e q re") == faults("2+3/8 e e q re") == ()
    assert faults("7/8 q q. rq") == faults("2+3+2/8 q q. rq") == ()


def test_a_measure_is_judged_whole_even_if_it_is_far_too_long():
    assert faults("2/4 q q q~ e~") == ("measure-too-full", "tie-to-nothing")


def test_is_legal_means_without_faults():
    for _, setting, meter, wrong, _, right in PRINT_RULES:
        assert not is_legal(parse_symbols(wrong), parse_meter(meter), conventions_of(setting))
        assert is_legal(parse_symbols(right), parse_meter(meter), conventions_of(setting))


def test_only_four_conventions_change_what_may_be_printed():
    """Every row under every value of every convention, one at a time."""
    moved = set()
    for name, values in convention_values().items():
        for value in values[1:]:
            other = replace(USUAL, **{name: value})
            for row in PRINT_RULES:
                for body in (row[3], row[5]):
                    if faults(f"{row[2]} {body}") != faults(f"{row[2]} {body}", other):
                        moved.add(name)
    assert moved == {"half_rest_in_3_4", "dotted_rests", "compound_tail_rest", "strict_middle"}


def test_ticks_are_exact_for_every_note_value():
    for plain, dots, triplet in product(PLAIN.values(), range(3), (False, True)):
        length = NoteValue(plain, dots, triplet=triplet).length
        assert Fraction(ticks(length), TICKS) == length


# From here on: all measures on the eighth grid, against the rules written a second time, on sets of eighth numbers.
EIGHTHS = {"w": 8, "h.": 6, "h": 4, "q.": 3, "q": 2, "e": 1, "rh": 4, "rq": 2, "re": 1}


@cache
def fillings(room: int, tokens: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Every succession of tokens that lasts `room` eighths."""
    if not room:
        return ((),)
    return tuple(
        (token, *others)
        for token in tokens
        if EIGHTHS[token] <= room
        for others in fillings(room - EIGHTHS[token], tokens)
    )


def may_be_printed(tokens: tuple[str, ...], beats: int) -> bool:
    """Open University 4.2-4.4 and common practice for 2/4, 3/4 and 4/4 under the default conventions."""
    spans, at = [], 0
    for token in tokens:
        spans.append((token, set(range(at + 1, at + EIGHTHS[token])), at))
        at += EIGHTHS[token]
    for index, (token, hidden, start) in enumerate(spans):
        hidden_beats = sorted(hidden & set(range(0, 2 * beats, 2)))
        if token.startswith("r"):
            half_rest = len(hidden_beats) == 1 and beats != 3 and start in (0, 4)
            if hidden_beats and not half_rest:
                return False
            follows = spans[index + 1][0] if index + 1 < len(spans) else ""
            if token == "re" and follows == "re" and start % 2 == 0:
                return False
        elif start % 2 and (len(hidden_beats) > 1 or (beats == 4 and 4 in hidden)):
            return False
    return not all(token.startswith("r") for token in tokens)


@pytest.mark.parametrize("beats", [2, 3, 4])
def test_all_measures_of_eighths_agree_with_the_rules_written_twice(beats):
    meter = parse_meter(f"{beats}/4")
    names = tuple(EIGHTHS)
    legal = 0
    for tokens in fillings(2 * beats, names):
        found = is_legal(parse_symbols(" ".join(tokens)), meter, USUAL)
        assert found is may_be_printed(tokens, beats), tokens
        legal += found
    assert legal == {2: 33, 3: 224, 4: 1322}[beats]


# Every way to print half a beat of sixteenths: rests inside a beat are grouped by half beats (Open University 4.2)
HALF_BEATS = ("e", "re", "s s", "s rs", "rs s")
OVER_THE_HALF = ("q", "s e s", "rs e s", "s e rs", "rs e rs", "e. s", "e. rs", "s e.", "rs e.")


def test_one_beat_of_sixteenths_is_two_half_beats_or_a_note_over_them():
    expected = {f"{a} {b}" for a, b in product(HALF_BEATS, repeat=2)} - {"re re"} | set(OVER_THE_HALF)
    names = {"q": 4, "e.": 3, "e": 2, "s": 1, "rq": 4, "re": 2, "rs": 1}
    assert _legal("1/4", names, 4, USUAL) == expected


# Every way to print one beat of three eighths without sixteenths, by hand from Open University 4.3
BEATS_OF_THREE = ("q.", "rq.", "rq re", "q e", "q re", "rq e", "e q", "re q", "e e e", "e e re", "e re e", "re e e")
BEATS_OF_THREE += ("re e re", "e re re")


@pytest.mark.parametrize("beats", [2, 3])
def test_compound_measures_are_rows_of_beats_and_held_notes(beats):
    """In 6/8 and 9/8, measures of all eighth-grid symbols: one entry of the list a beat, or h. over two."""
    assert _legal(f"{3 * beats}/8", THREES, 3 * beats, USUAL) == compound_measures(beats, BEATS_OF_THREE)


THREES = {"h.": 6, "q.": 3, "q": 2, "e": 1, "rq.": 3, "rq": 2, "re": 1}


def compound_measures(beats: int, choices: tuple[str, ...]) -> set[str]:
    found = {" ".join(row) for row in product(choices, repeat=beats)}
    found |= {"h."} if beats == 2 else {f"{a}h.{b}" for c in choices for a, b in ((f"{c} ", ""), ("", f" {c}"))}
    return {row for row in found if not all(token.startswith("r") for token in row.split())}


def _all_rows(room: int, names: dict[str, int]) -> Iterator[tuple[str, ...]]:
    if not room:
        yield ()
    for name, length in names.items():
        if length <= room:
            for others in _all_rows(room - length, names):
                yield (name, *others)


def _legal(meter: str, names: dict[str, int], room: int, conventions: Conventions) -> set[str]:
    texts = (" ".join(row) for row in _all_rows(room, names))
    return {text for text in texts if is_legal(parse_symbols(text), parse_meter(meter), conventions)}


@pytest.mark.parametrize(
    ("meter", "tighter", "looser"),
    [
        ("3/4", "half_rest_in_3_4=forbid", "half_rest_in_3_4=allow_1-2"),
        ("3/4", "half_rest_in_3_4=allow_1-2", "half_rest_in_3_4=allow"),
        ("4/4", "strict_middle=True", ""),
    ],
)
def test_a_looser_convention_only_adds_measures(meter, tighter, looser):
    room = 2 * int(meter[0])
    names = {"h": 4, "q.": 3, "q": 2, "e": 1, "rh": 4, "rq": 2}
    assert _legal(meter, names, room, conventions_of(tighter)) < _legal(meter, names, room, conventions_of(looser))


def test_each_way_to_print_the_compound_tail_replaces_the_other():
    choices = tuple(beat.replace("e re re", "e rq") for beat in BEATS_OF_THREE)
    assert _legal("6/8", THREES, 6, conventions_of("compound_tail_rest=quarter")) == compound_measures(2, choices)


def test_without_dotted_rests_a_silent_compound_beat_takes_two():
    choices = tuple(beat for beat in BEATS_OF_THREE if beat != "rq.")
    assert _legal("6/8", THREES, 6, conventions_of("dotted_rests=none")) == compound_measures(2, choices)
