"""Counts against the worked rows of the books, in every system; refusals; positions against music21."""

from dataclasses import replace
from fractions import Fraction
from itertools import product
from typing import get_args

import pytest

from barwright.counting.counts import (
    count_labels,
    format_row,
    labelled_events,
    sound_label,
    sounds,
)
from barwright.counting.labels import STROKE
from barwright.errors import RhythmError
from barwright.rhythm.conventions import Conventions, Counting, convention_values
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt
from worked import excerpts, rows

USUAL = Conventions()
SYSTEMS: tuple[Counting, ...] = ("kodaly", "gordon", "takadimi", "eastman")
# A file of its own for each further system: system_NAME.txt, with rows of id | meter | rhythm | counts.
FURTHER: dict[str, Counting] = {f"system_{name}.txt": name for name in get_args(Counting)[1 + len(SYSTEMS) :]}
# One set of conventions for each column of each file of worked rows.
COLUMNS = {
    "counts_simple.txt": (USUAL, replace(USUAL, held="subdivisions"), replace(USUAL, held="onset_only")),
    "counts_other_meters.txt": (
        replace(USUAL, three_eight="in_one"),
        replace(USUAL, compound="bottom"),
        replace(USUAL, cut_time="in_four"),
    ),
    "syllables.txt": tuple(replace(USUAL, counting=system, kodaly_rests="marked") for system in SYSTEMS),
    **{name: (replace(USUAL, counting=system),) for name, system in FURTHER.items()},
}
WORKED = [
    pytest.param(f"{meter} {rhythm}", conventions, cell, id=f"{ident}-{column}")
    for name, variants in COLUMNS.items()
    for ident, meter, rhythm, *cells in rows(name)
    for column, (conventions, cell) in enumerate(zip(variants, cells, strict=True))
]
HAS_NO_TRIPLETS = "held = subdivisions has no counts for triplets: use held = beats or held = onset_only"


def counts(text: str, conventions: Conventions = USUAL, **changes: str) -> str:
    return format_row(count_labels(parse_excerpt(text), replace(conventions, **changes)))


def test_every_row_of_the_books_is_here() -> None:
    shared = [name for name in COLUMNS if name not in FURTHER]
    found = [row[0] for name in shared for row in rows(name)]
    wanted = [("N", 48), ("X", 38), ("S", 27)]
    assert found == [f"{letter}{number:02}" for letter, last in wanted for number in range(1, last + 1)]
    cells = [cell for name in shared for row in rows(name) for cell in row[3:]]
    assert len(cells) - cells.count("-") == 321


@pytest.mark.parametrize("system", get_args(Counting))
def test_every_counting_system_was_worked_by_hand(system: Counting) -> None:
    worked = {param.values[1].counting for param in WORKED if param.values[2] != "-"}
    assert system in worked, f"write tests/textbook/system_{system}.txt: id | meter | rhythm | counts"


@pytest.mark.parametrize(("text", "conventions", "cell"), [p for p in WORKED if p.values[2] != "-"])
def test_counts_as_the_books_print_them(text: str, conventions: Conventions, cell: str) -> None:
    assert counts(text, conventions) == cell


@pytest.mark.parametrize(("text", "conventions"), [p.values[:2] for p in WORKED if p.values[2] == "-"])
def test_where_a_book_has_no_column(text: str, conventions: Conventions) -> None:
    """Triplets do not fit an eighth grid and are refused; other settings leave a meter alone that they do not name."""
    if conventions.held == "subdivisions":
        with pytest.raises(RhythmError) as error:
            counts(text, conventions)
        assert str(error.value) == HAS_NO_TRIPLETS
    elif text.startswith(("5/8", "7/8")):
        assert counts(text, conventions) == counts(text, compound="bottom") == counts(text)
    else:
        assert counts(text, conventions) == counts(text)


@pytest.mark.parametrize(
    ("text", "changes", "expected"),
    [
        # a pickup takes the last beats (G. Read 1979); a tie over a barline starts again (common practice)
        ("3/4 q | h q | q q q", {}, "3 | 1-2 3 | 1 2 3"),
        ("4/4 e e | q q h", {}, "4 & | 1 2 3-4"),
        ("6/8 e | q. q.", {}, "li | 1 2"),
        ("6/8 e | q. q.", {"compound": "bottom"}, "6 | 1-2-3 4-5-6"),
        ("3/4 q q q~ | q h", {}, "1 2 3 | -1 2-3"),
        ("3/4 h.~ | h.~ | h q", {}, "1-2-3 | -1-2-3 | -1-2 3"),
        ("3/4 q q q~ | q~ e e q", {}, "1 2 3 | -1-2 & 3"),
        ("3/4 q q q~ | q h", {"held": "subdivisions"}, "1-& 2-& 3-& | -1-& 2-&-3-&"),
        ("3/4 q q q~ | q h", {"held": "onset_only"}, "1 2 3 | -1 2"),
        ("3/4 q q q~ | q h", {"counting": "kodaly"}, "ta ta ta | -ta ta-a"),
        ("3/4 q q q~ | q h", {"counting": "gordon"}, "du du du | -du du"),
        ("3/4 q q q~ | q h", {"counting": "takadimi"}, "ta ta ta | -ta ta"),
        ("3/4 q q q~ | q h", {"counting": "eastman"}, "1 2 3 | -1 2"),
        # triplets, each way (US method books, common practice)
        ("2/4 et et et q", {"triplet": "trip_let"}, "1 trip let 2"),
        ("2/4 et et et q", {"triplet": "and_a"}, "1 & a 2"),
        ("2/4 et et et q", {"triplet": "three_e"}, "tri ple t 2"),
        ("2/4 ret et et q", {"triplet": "three_e"}, "(tri) ple t 2"),
        ("2/4 qt et q", {}, "1 li 2"),
        ("2/4 qt qt qt", {}, "1 li-2 la"),
        ("2/2 qt qt qt h", {}, "1 la li 2"),
        # three parts of a beat: 1 la li, 1 & a, or every eighth a number; sixteenths ta or nothing
        ("6/8 e e e q.", {"compound": "beat_and_a"}, "1 & a 2"),
        ("6/8 e. s e q.", {"compound": "beat_and_a"}, "1 ta a 2"),
        ("6/8 e. s e q.", {"compound_16ths": "none"}, "1 li 2"),
        # what begins where no count is written shows the beats that it is held over, if held beats are written
        ("6/8 e e s s~ q.", {"compound_16ths": "none"}, "1 la li -2"),
        ("9/8 e e s s~ h.", {"compound_16ths": "none"}, "1 la li -2-3"),
        ("6/8 e e s s~ q.", {"compound_16ths": "none", "held": "subdivisions"}, "1 la li -2-la-li"),
        ("6/8 e e s s~ q.", {"compound_16ths": "none", "held": "onset_only"}, "1 la li"),
        ("6/8 e. s e q.", {"compound_16ths": "none", "compound": "bottom"}, "1-2 & 3 4-5-6"),
        ("3/8 e e e", {"three_eight": "in_one", "compound": "beat_and_a"}, "1 & a"),
        ("3/8 e s s e", {"three_eight": "in_one", "compound": "bottom"}, "1 la ta li"),
        # held subdivisions: never finer than an eighth; la li in compound meters; half beats in cut time
        ("6/8 q. q e", {"held": "subdivisions"}, "1-la-li 2-la li"),
        ("6/8 q. q e", {"held": "subdivisions", "compound": "beat_and_a"}, "1-&-a 2-& a"),
        ("6/8 q. q e", {"held": "subdivisions", "compound": "bottom"}, "1-2-3 4-5 6"),
        ("5/8 q. q", {"held": "subdivisions"}, "1-2-3 4-5"),
        ("2/2 h q q", {"held": "subdivisions"}, "1-& 2 &"),
        ("2/2 h q q", {"held": "subdivisions", "cut_time": "in_four"}, "1-&-2-& 3-& 4-&"),
        # rests
        ("4/4 q rq rh", {"rest_counts": "R"}, "1 R R-R"),
        ("4/4 rW", {"rest_counts": "R", "held": "onset_only"}, "R"),
        ("4/4 h rh", {"rest_counts": "R", "counting": "kodaly"}, "ta-a R"),
        ("4/4 h rh", {"rest_counts": "strike", "counting": "kodaly"}, f"ta-a s{STROKE}h{STROKE}"),
        ("4/4 h rq rq", {"counting": "kodaly"}, "ta-a sh sh"),
        ("4/4 h rq rq", {"counting": "kodaly", "kodaly_rests": "marked"}, "ta-a (sh) (sh)"),
        ("3/4 q rh", {"rest_counts": "strike"}, f"1 2{STROKE}-{STROKE}3{STROKE}"),
        ("4/4 rw", {}, "(1-2-3-4)"),
        # cut time and 3/8 in the syllable systems go by the same beats
        ("2/2 q q h", {"counting": "gordon", "cut_time": "in_four"}, "du du du"),
        ("3/8 e e e", {"counting": "takadimi"}, "ta ta ta"),
        ("3/8 e e e", {"counting": "takadimi", "three_eight": "in_one"}, "ta ki da"),
        ("2/4 s s s s q", {"counting": "eastman", "eastman_second16": "ti"}, "1 ti te ta 2"),
        ("6/8 s s s s s s q.", {"counting": "eastman", "eastman_second16": "ti"}, "1 ta la ta li ta 2"),
        # additive meters by groups (Gordon 1997; McHose & Tibbs has no rule), as the measure shows them
        ("5/8 e e e e e", {"counting": "gordon"}, "du ba bi du be"),
        ("5/8 q q.", {"counting": "gordon"}, "du du"),
        ("2+3/8 e e e e e", {"counting": "gordon"}, "du be du ba bi"),
        ("7/8 e e e s s e e e", {"counting": "takadimi"}, "ta di ta di mi ta ki da"),
        ("7/8 q. q q", {"counting": "eastman"}, "1 2 3"),
        ("5/8 e e e e e", {"counting": "eastman"}, "1 te te 2 te"),
        ("2+3/8 q q.", {"compound": "beat"}, "1-2 3-4-5"),
        ("3+2/4 q q. e q q", {"counting": "eastman"}, "1 2 te 4 5"),
        # Kodaly-style words go by value: syncopation, held eighths, triplets with long members
        ("4/4 q e q e q", {"counting": "kodaly"}, "ta syn co pa ta"),
        ("4/4 e e~ e e h", {"counting": "kodaly"}, "syn co pa ta-a"),
        ("6/8 e q q e", {"counting": "kodaly"}, "ti ta ta ti"),
        ("6/8 q e~ e e e", {"counting": "kodaly"}, "ta ta ti ti"),
        ("4/4 h~ e q.", {"counting": "kodaly"}, "ta-a-i tam"),
        ("2/4 q~ e e", {"counting": "kodaly"}, "tam ti"),
        ("2/4 qt et et qt", {"counting": "kodaly"}, "tri la tri o"),
        ("4/4 qt qt qt h", {"counting": "kodaly"}, "tri o la ta-a"),
        ("2/4 s e s q", {"counting": "kodaly"}, "ti ti ka ta"),
    ],
)
def test_conventions(text: str, changes: dict[str, str], expected: str) -> None:
    assert counts(text, **changes) == expected


@pytest.mark.parametrize(
    ("text", "changes", "message"),
    [
        ("3/4 q _", {}, "a rhythm with a blank has no counts: fill the blank first"),
        (
            "2/4 st st st e q",
            {},
            "counting = numbers has no count for what begins 1/24 of a whole note after the start of a 2/4 measure: "
            "use another rhythm or counting system",
        ),
        (
            "2/2 e. s q h",
            {"counting": "gordon"},
            "counting = gordon has no count for what begins 3/16 of a whole note after the start of a 2/2 measure: "
            "use another rhythm or counting system",
        ),
        (
            "2/2 h e s s q",
            {},
            "counting = numbers has no count for what begins 11/16 of a whole note after the start of a 2/2 measure: "
            "use another rhythm or counting system",
        ),
        (
            "2/4 q.. s",
            {"counting": "kodaly"},
            "counting = kodaly has no count for what begins 0 of a whole note after the start of a 2/4 measure: "
            "use another rhythm or counting system",
        ),
        ("4/4 h et et et q", {"held": "subdivisions"}, HAS_NO_TRIPLETS),
    ],
)
def test_what_has_no_count_says_so(text: str, changes: dict[str, str], message: str) -> None:
    with pytest.raises(RhythmError) as error:
        count_labels(parse_excerpt(text), replace(USUAL, **changes))
    assert str(error.value) == message


def test_one_label_for_each_sound_or_rest() -> None:
    """In every set of conventions: as many labels as sounds, none empty unless sixteenths are not counted."""
    every = convention_values()
    keys = ("counting", "held", "compound", "compound_16ths")
    for excerpt in excerpts():
        for chosen in product(*(every[key] for key in keys)):
            conventions = replace(USUAL, **dict(zip(keys, chosen, strict=True)))
            try:
                row = count_labels(excerpt, conventions)
            except RhythmError:
                continue
            assert [len(labels) for labels in row] == [len(measure) for measure in sounds(excerpt)]
            assert conventions.compound_16ths == "none" or all(label for labels in row for label in labels)


def test_labels_stand_at_the_first_event_of_a_sound() -> None:
    found = labelled_events(parse_excerpt("4/4 q~ e e rh | w"), USUAL)
    told = [[(event.measure, event.index, str(event.onset), label) for event, label in measure] for measure in found]
    assert told == [[(0, 0, "0", "1-2"), (0, 2, "3/8", "&"), (0, 3, "1/2", "(3-4)")], [(1, 0, "0", "1-2-3-4")]]


def test_a_sound_on_its_own_may_lie_beyond_the_measure() -> None:
    meter = parse_meter("3/4")
    assert sound_label(Fraction(3, 4), Fraction(1, 2), meter=meter, conventions=USUAL) == "4-5"
    assert sound_label(Fraction(0), Fraction(1), meter=meter, conventions=USUAL, silent=True) == "(1-2-3-4)"
    assert sound_label(Fraction(0), Fraction(1, 4), meter=meter, conventions=USUAL, held=True) == "-1"


@pytest.mark.parametrize(
    ("onset", "changes", "where"),
    [
        (Fraction(1, 512), {}, "counting = numbers has no count for what begins 1/512"),
        (Fraction(0), {"counting": "kodaly"}, "counting = kodaly has no count for what begins 0"),
    ],
)
def test_a_sound_on_its_own_without_a_count(onset: Fraction, changes: dict[str, str], where: str) -> None:
    with pytest.raises(RhythmError) as error:
        sound_label(onset, Fraction(1, 4), meter=parse_meter("3/4"), conventions=replace(USUAL, **changes))
    after = "of a whole note after the start of a 3/4 measure: use another rhythm or counting system"
    assert str(error.value) == f"{where} {after}"


# An independent clock: music21 reads the same rhythm text through its own durations and meters, and says the beat.
LETTERS = {"w": "whole", "h": "half", "q": "quarter", "e": "eighth", "s": "16th"}
PLACES = {"e": (1, 4), "&": (1, 2), "a": (3, 4), "la": (1, 3), "li": (2, 3)}


def music21_beats(text: str) -> list[Fraction]:
    """The beat, counted from 1, at which music21 puts each symbol that starts a sound or rest.

    In additive meters the eighths are counted, as music21 has no beat of equal length there.
    """
    from music21 import duration, meter, note, stream

    signature, *tokens = text.split()
    measure = stream.Measure()
    time = meter.TimeSignature(signature)
    measure.append(time)
    found, tied = [], False
    for token in tokens:
        plain = token.removeprefix("r").rstrip(".t~")
        element = note.Rest() if token.startswith("r") else note.Note()
        if token == "rW":
            element.duration = duration.Duration(time.barDuration.quarterLength)
        else:
            element.duration = duration.Duration(type=LETTERS[plain], dots=token.count("."))
            if "t" in token:
                element.duration.appendTuplet(duration.Tuplet(3, 2))
        measure.append(element)
        if not tied:
            found.append(element)
        tied = token.endswith("~")
    if signature in ("5/8", "7/8"):
        return [1 + Fraction(each.offset) * 2 for each in found]
    return [Fraction(each.beat).limit_denominator(96) for each in found]


def counted_beats_of(row: str) -> list[Fraction | str]:
    """The beat that each label of a row says its sound begins on; `ta` for a place that the word leaves open."""
    found: list[Fraction | str] = []
    beat = 0
    for label in row.replace("(", "").replace(")", "").split():
        first, *held = label.split("-")
        if first.isdecimal():
            beat = int(first)
            found.append(Fraction(beat))
        else:
            found.append("ta" if first == "ta" else beat + Fraction(*PLACES[first]))
        beat = int(held[-1]) if held else beat
    return found


@pytest.mark.parametrize("row", [r for name in list(COLUMNS)[:2] for r in rows(name)], ids=lambda r: r[0])
def test_positions_are_those_of_music21(row: list[str]) -> None:
    """3/8 is compared in one, as music21 has it (a choice of that library, not of the handbooks)."""
    text = f"{row[1]} {row[2]}"
    ours = counted_beats_of(counts(text, three_eight="in_one"))
    theirs = music21_beats(text)
    assert len(ours) == len(theirs)
    for mine, beat in zip(ours, theirs, strict=True):
        assert mine == beat or (mine == "ta" and beat % 1 in (Fraction(1, 6), Fraction(1, 2), Fraction(5, 6)))


def ticks_recount(excerpt: Excerpt) -> list[list[str]]:
    """Numbers in x/4 meters written a second way: a walk over a grid of 48 ticks a quarter, held = beats."""
    names = {0: "{}", 12: "e", 24: "&", 36: "a", 16: "la", 32: "li"}
    length = {"whole": 192, "half": 96, "quarter": 48, "eighth": 24, "sixteenth": 12}
    found = []
    for symbols in excerpt.measures:
        capacity, at, row, tied = excerpt.meter.top * 48, 0, [], False
        for symbol in symbols:
            lasts = capacity
            if symbol.value is not None:
                lasts = length[symbol.value.name]
                lasts += sum(lasts >> n for n in range(1, symbol.value.dots + 1))
                lasts = lasts * 2 // 3 if symbol.value.triplet else lasts
            inside = [str(tick // 48 + 1) for tick in range(at, at + lasts) if tick % 48 == 0 and tick > at]
            if tied:
                row[-1] += "".join(f"-{number}" for number in ([str(at // 48 + 1)] if at % 48 == 0 else []) + inside)
            else:
                bare = "-".join([names[at % 48].format(at // 48 + 1), *inside])
                row.append(f"({bare})" if symbol.silent else bare)
            at, tied = at + lasts, symbol.tied
        found.append(row)
    return found


def test_all_measures_of_quarters_and_eighths_recounted_in_ticks() -> None:
    """Every 3/4 measure that these symbols can fill, 5 symbols at most, tied wherever two notes meet or not at all."""
    sixteenths = {"h.": 12, "h": 8, "q.": 6, "q": 4, "e": 2, "s": 1, "rq": 4, "re": 2}
    seen = 0
    for size in range(1, 6):
        for chosen in product(sixteenths, repeat=size):
            if sum(sixteenths[token] for token in chosen) != 12:
                continue
            for tie in (False, True):
                notes = [not t.startswith("r") for t in (*chosen, "r")]
                tied = (t + "~" * (tie and a and b) for t, a, b in zip(chosen, notes, notes[1:], strict=False))
                excerpt = parse_excerpt(f"3/4 {' '.join(tied)}")
                assert [list(labels) for labels in count_labels(excerpt, USUAL)] == ticks_recount(excerpt)
                seen += 1
    assert seen > 1000
