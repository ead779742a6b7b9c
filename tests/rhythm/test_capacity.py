"""How many legal measures there are: against listing and judging every one, and against published sequences."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import islice, product
from random import Random

import pytest

from barwright.counting.counts import labels_if_counted
from barwright.errors import RhythmError
from barwright.notation.legal_measures import (
    Alphabet,
    Limits,
    all_measures,
    all_successions,
    alphabet,
    drawn_measure,
    measure_count,
)
from barwright.notation.legality import is_legal
from barwright.notation.reading_ease import crowded, syncopated
from barwright.notation.walks import walks
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import Symbols, length_of, note
from barwright.rhythm.meter import Meter, parse_meter
from barwright.rhythm.text import format_symbols, parse_symbols
from barwright.rhythm.values import PLAIN
from whole import WHOLE

USUAL = Conventions()
W, H, Q, E, S = PLAIN.values()


def taught(tokens: str) -> Alphabet:
    return Alphabet(tuple(tokens.split()))


def fillings(symbols: Symbols, meter: Meter) -> list[Symbols]:
    """Every succession of symbols that lasts exactly one measure, legal or not."""

    def from_here(room: Fraction) -> list[Symbols]:
        if not room:
            return [()]
        lengths = [(s, length_of(s, meter)) for s in symbols]
        return [(s, *others) for s, length in lengths if length <= room for others in from_here(room - length)]

    return from_here(meter.capacity)


BEGINNERS = "w h q rh rq rW"
SMALL_CASES = [
    (BEGINNERS, "2/4 3/4 4/4 2/2 5/4 6/4 3/2 3/8 5/8"),
    ("h. h q rW rh rq", "2/4 3/4 4/4 2/2 5/4 6/4"),
    ("h q. q e rq", "2/4 3/4 4/4 2/2"),
    ("h q e rh rq re", "2/4 3/4 4/4 2/2"),
    ("h~ h q~ q rq rW", "2/4 3/4 4/4 2/2 5/4"),
    ("q~ q e~ e", "2/4 3/4 2/2 4/8"),
    ("h q. q~ e e~ q", "3/4 4/4"),
    ("q et et~ e re rq", "2/4"),
    ("q et e rq", "3/4"),
    ("h qt et q e", "2/4 3/4"),
    ("q e. e s re rs rq", "1/4 2/4"),
    ("q.. q. e. e s s~", "1/4 2/4"),
    ("h. q. q e rW rq. rq re", "3/8 6/8 5/8 7/8 2+3/8 3+2+2/8"),
    ("h. q. q q~ e e~", "3/8 6/8 5/8"),
    ("h. q. e. e s", "3/8 6/8"),
    ("q. q re rs e", "3/8 6/8 5/8"),
    ("h h. q. q e rq re", "5/8 7/8 4+3/8 2+3+2/8 8/8"),
    ("w. h. q. rh. rq. rW q e", "6/8 9/8"),
    ("w. h. q. rh. rq. rW", "12/8"),
    ("h. h q rq rh", "2+3/4 3+2/4"),
]
VARIANTS = [
    USUAL,
    replace(USUAL, half_rest_in_3_4="allow_1-2", dotted_rests="none", compound_tail_rest="quarter", strict_middle=True),
    replace(USUAL, half_rest_in_3_4="allow", dotted_rests="all"),
]


@pytest.mark.parametrize("conventions", VARIANTS, ids=["default", "strict", "loose"])
@pytest.mark.parametrize(("tokens", "meters"), SMALL_CASES)
def test_counting_agrees_with_judging_every_measure(tokens, meters, conventions):
    known = taught(tokens)
    for meter in map(parse_meter, meters.split()):
        legal = {m for m in fillings(known.symbols, meter) if is_legal(m, meter, conventions)}
        listed = list(all_measures(known, meter, conventions))
        assert len(listed) == len(set(listed))
        assert set(listed) == legal, meter
        assert measure_count(known, meter, conventions) == len(legal)


def test_beginners_measures_by_hand():
    """Whole, half and quarter notes and rests; silence on beats 1-2 of 4/4 is one half rest or two quarter rests."""
    texts = {
        meter: {format_symbols(m) for m in all_measures(taught(BEGINNERS), parse_meter(meter), USUAL)}
        for meter in ("2/4", "3/4", "4/4")
    }
    assert texts["2/4"] == {"h", "q q", "q rq", "rq q", "rW"}
    threes = "h q|h rq|q h|rq h|q q q|q q rq|q rq q|rq q q|q rq rq|rq q rq|rq rq q|rW"
    assert texts["3/4"] == set(threes.split("|"))
    halves = ("h", "rh", "q q", "q rq", "rq q", "rq rq")
    middle = {" ".join(row) for row in product(("q", "rq"), ("h",), ("q", "rq"))}
    fours = {f"{a} {b}" for a, b in product(halves, halves)} - {"rh rh", "rh rq rq", "rq rq rh", "rq rq rq rq"}
    assert texts["4/4"] == fours | middle | {"w", "rW"}


# Terms from memory of The On-Line Encyclopedia of Integer Sequences, from n = 1 on; each row is checked by the rule
# beside it, a recurrence that knows nothing of measures: a(n) = c1 a(n-1) + c2 a(n-2) + ...
SEQUENCES = {
    # compositions of n into 1 and 2: halves and quarters in n/4
    "A000045": ((1, 2, 3, 5, 8, 13, 21, 34, 55, 89, 144, 233), (1, 1)),
    # compositions of n into 1, 2 and 3
    "A000073": ((1, 2, 4, 7, 13, 24, 44, 81, 149, 274, 504, 927), (1, 1, 1)),
    # compositions of n into 1, 2 and 4
    "A060945": ((1, 2, 3, 6, 10, 18, 31, 55, 96, 169, 296, 520), (1, 1, 0, 1)),
    # compositions of n into 1 and 3
    "A000930": ((1, 1, 2, 3, 4, 6, 9, 13, 19, 28, 41, 60), (1, 0, 1)),
    # 2^n - 1: each beat sounds or is silent, but not all of them are silent
    "A000225": ((1, 3, 7, 15, 31, 63, 127, 255, 511, 1023, 2047, 4095), (3, -2)),
    # n compound beats in four ways each, or two held together
    "A001076": ((4, 17, 72, 305), (4, 1)),
}


@pytest.mark.parametrize("name", SEQUENCES)
def test_published_terms_obey_their_recurrence(name):
    terms, coefficients = SEQUENCES[name]
    for n in range(len(coefficients), len(terms)):
        assert terms[n] == sum(c * terms[n - back] for back, c in enumerate(coefficients, 1))


@pytest.mark.parametrize(
    ("name", "tokens", "meters"),
    [
        ("A000045", "h q", [f"{n}/4" for n in range(1, 13)]),
        ("A000045", "q. h.", ["3/8", "6/8", "9/8", "12/8"]),
        ("A000073", "h. h q", [f"{n}/4" for n in range(1, 13)]),
        ("A060945", "w h q", [f"{n}/4" for n in range(1, 13)]),
        ("A000930", "h. q", [f"{n}/4" for n in range(1, 13)]),
        ("A000225", "q rq", [f"{n}/4" for n in range(1, 13)]),
        ("A000225", "q. rq.", ["3/8", "6/8", "9/8", "12/8"]),
        ("A001076", "h. q. q e", ["3/8", "6/8", "9/8", "12/8"]),
    ],
)
def test_measures_follow_published_sequences(name, tokens, meters):
    counts = [measure_count(taught(tokens), parse_meter(meter), USUAL) for meter in meters]
    assert counts == list(SEQUENCES[name][0][: len(meters)])


def compositions(lengths: list[Fraction], capacity: Fraction) -> int:
    """In how many ways these lengths, in whole notes, fill a capacity in some order, whatever the rules of notation."""

    def ways(left: Fraction) -> list[tuple[Fraction, Fraction]] | None:
        return [(p, left - p) for p in lengths if p <= left] if left else None

    return walks(capacity, ways).count


def test_with_the_full_measure_rest_quarters_and_rests_are_powers_of_two():
    """A000079: the one silent measure is printed as one full-measure rest."""
    counts = [measure_count(taught("q rq rW"), Meter(n, 4), USUAL) for n in range(1, 13)]
    assert counts == [2**n for n in range(1, 13)]


def test_compositions_into_powers_of_two():
    """A023359 (terms from memory): whole to sixteenth notes, rules of notation left aside, in up to 31 sixteenths."""
    terms = [1, 2, 3, 6, 10, 18, 31, 56, 98, 174, 306, 542]
    recurrence = [1]
    for n in range(1, 32):
        recurrence.append(sum(recurrence[n - part] for part in (1, 2, 4, 8, 16) if part <= n))
    assert recurrence[1:13] == terms
    assert [compositions([W, H, Q, E, S], n * S) for n in range(32)] == recurrence


def test_compositions_bound_the_legal_measures_from_above():
    for top in range(1, 7):
        meter = Meter(top, 4)
        assert measure_count(taught("w h q e"), meter, USUAL) <= compositions([W, H, Q, E], meter.capacity)
    assert compositions([Fraction(1, 3)], Fraction(1, 4)) == 0


EVERYTHING = alphabet(
    [W, H, Q, E, S],
    [W, H, Q, E, S],
    dotted_notes=[H, Q, E],
    double_dotted_notes=[H, Q],
    dotted_rests=[H, Q],
    triplets=[Q, E],
    ties=True,
)


def test_the_alphabet_of_all_elements():
    notes = "w w~ h h~ q q~ e e~ s s~ h. h.~ q. q.~ e. e.~ h.. h..~ q.. q..~ qt qt~ et et~"
    assert " ".join(EVERYTHING.tokens) == f"{notes} rW rh rq re rs rh. rq."
    assert EVERYTHING.symbols == parse_symbols(" ".join(EVERYTHING.tokens))


def test_an_alphabet_holds_what_is_named_and_nothing_else():
    assert alphabet([Q], dotted_notes=[H]).tokens == ("q", "h.")
    assert alphabet([Q, H, Q], [Q]).tokens == ("h", "q", "rq")


@pytest.mark.parametrize("meter", ["2/4", "3/4", "4/4", "2/2", "6/8", "12/8", "5/8", "7/8"])
def test_drawn_measures_of_all_elements_are_legal(meter):
    rng, meter = Random(7), parse_meter(meter)
    for _ in range(300):
        measure = drawn_measure(EVERYTHING, meter, USUAL, rng=rng)
        assert is_legal(measure, meter, USUAL), format_symbols(measure)


class Told(Random):
    """A source of chance that returns what it was told and keeps what it was asked."""

    def __init__(self, answer: int) -> None:
        super().__init__(0)
        self.answer, self.asked = answer, []

    def randrange(self, *bounds: int) -> int:
        self.asked.append(bounds)
        return self.answer


@pytest.mark.parametrize(
    ("tokens", "meter"),
    [
        (BEGINNERS, "3/4"),
        (BEGINNERS, "4/4"),
        ("h q. q e q~ e~ re rq", "3/4"),
        ("q. q e rq. rq re", "6/8"),
        ("q. q e", "7/8"),
    ],
)
def test_each_measure_has_exactly_the_same_chance(tokens, meter):
    """All outcomes of the one choice among n equal ones: each of the n measures comes from exactly one of them."""
    known, meter = taught(tokens), parse_meter(meter)
    count = measure_count(known, meter, USUAL)
    sources = [Told(number) for number in range(count)]
    drawn = [drawn_measure(known, meter, USUAL, rng=source) for source in sources]
    assert all(source.asked == [(count,)] for source in sources)
    assert sorted(map(format_symbols, drawn)) == sorted(map(format_symbols, all_measures(known, meter, USUAL)))
    assert len(set(drawn)) == count > 8


def test_drawing_is_even_in_practice():
    """Chi-square of 38 measures drawn 38,000 times: with 37 degrees of freedom 1 seed in 1,000 exceeds 69.3."""
    meter, rng = parse_meter("4/4"), Random(11)
    seen = Counter(drawn_measure(taught(BEGINNERS), meter, USUAL, rng=rng) for _ in range(38_000))
    assert len(seen) == measure_count(taught(BEGINNERS), meter, USUAL) == 38
    assert sum((n - 1000) ** 2 for n in seen.values()) < 69_300  # each expected 1,000 times


def test_the_same_seed_draws_the_same_measures():
    def draw(seed: int) -> list[Symbols]:
        rng = Random(seed)
        return [drawn_measure(EVERYTHING, Meter(4, 4), USUAL, rng=rng) for _ in range(20)]

    assert draw(3) == draw(3) != draw(4)


def test_measures_are_numbered_in_the_order_of_the_list():
    meter = parse_meter("4/4")
    listed = list(all_measures(taught(BEGINNERS), meter, USUAL))
    drawn = [drawn_measure(taught(BEGINNERS), meter, USUAL, rng=Told(n)) for n in range(len(listed))]
    assert drawn == listed


def test_a_list_too_long_to_make_can_be_begun():
    meter = parse_meter("12/8")
    assert measure_count(EVERYTHING, meter, USUAL) > 10**9
    begun = list(islice(all_measures(EVERYTHING, meter, USUAL), 50))
    assert len(set(begun)) == 50


@pytest.mark.parametrize("measures", [0, 1, 2, 3])
def test_several_measures_are_counted_listed_and_drawn_as_a_product(measures):
    known, meter = taught("h q rq rW"), parse_meter("2/4")
    single = set(all_measures(known, meter, USUAL))
    several = list(all_successions(known, meter, USUAL, measures=measures))
    assert len(several) == measure_count(known, meter, USUAL, measures=measures) == len(single) ** measures
    assert set(several) == set(product(single, repeat=measures))
    rng = Random(5)
    drawn = {tuple(drawn_measure(known, meter, USUAL, rng=rng) for _ in range(measures)) for _ in range(2000)}
    assert drawn == set(several)


def test_conventions_that_do_not_touch_print_change_no_count():
    other = replace(USUAL, counting="kodaly", beam_4_4="half", held="onset_only", three_eight="in_one")
    for meter in ("3/4", "4/4", "6/8", "7/8"):
        assert measure_count(EVERYTHING, parse_meter(meter), USUAL) == measure_count(
            EVERYTHING, parse_meter(meter), other
        )


def test_symbols_that_cannot_fill_a_measure_make_none():
    known, meter = taught("h w"), parse_meter("3/4")
    assert measure_count(known, meter, USUAL) == 0
    assert list(all_measures(known, meter, USUAL)) == []
    with pytest.raises(RhythmError) as error:
        drawn_measure(known, meter, USUAL, rng=Random(1))
    assert str(error.value) == "no measure of 3/4 can be made of 'h w': more symbols are needed"


def test_other_triplets_are_refused():
    with pytest.raises(RhythmError) as error:
        alphabet([Q], triplets=[S])
    assert str(error.value) == "triplets of 1/16 notes cannot be printed by the rules: use 1/8 or 1/4"


COUNTED = Limits(counted=True)
COUNTED_CASES = [
    ("h q e s re", "2/2", {}),
    ("q e s rs", "2/4 3/4 4/4" if WHOLE else "3/4", {"counting": "takadimi"}),
    ("h q et e", "2/4 3/4", {"held": "subdivisions"}),
    ("h q~ q et et~", "2/4", {"held": "subdivisions"}),
    ("q. q e s", "6/8", {}),
    ("q e s re", "5/8", {}),
    ("h q e s", "2/4", {"counting": "kodaly"}),
]


@pytest.mark.parametrize(("tokens", "meters", "habits"), COUNTED_CASES)
def test_counted_measures_are_those_with_a_count_for_everything(tokens, meters, habits):
    conventions = replace(USUAL, **habits)
    for meter in map(parse_meter, meters.split()):
        every = list(all_measures(taught(tokens), meter, conventions))
        able = [m for m in every if labels_if_counted(Excerpt(meter, (m,)), conventions) is not None]
        assert list(all_measures(taught(tokens), meter, conventions, limits=COUNTED)) == able
        assert measure_count(taught(tokens), meter, conventions, limits=COUNTED) == len(able) > 0


def test_there_are_measures_without_a_count():
    cut = parse_meter("2/2")
    drawn = [drawn_measure(taught("h q e s"), cut, USUAL, rng=Random(n), limits=COUNTED) for n in range(50)]
    assert not any(note(S) in m for m in drawn)
    assert measure_count(taught("h q e s"), cut, USUAL) > measure_count(taught("h q e"), cut, USUAL)
    assert measure_count(taught("h q e s"), cut, USUAL, limits=COUNTED) == measure_count(taught("h q e"), cut, USUAL)


READABLE_CASES = [
    ("h q e re rq", "2/4 3/4 4/4"),
    ("h q~ q e~ e", "2/4 3/4"),
    ("q.. q. q e. e s s~ rs", "2/4"),
    ("q et~ et e", "2/4"),
    ("h. q. q e rq re", "6/8 5/8 7/8 2+3/8"),
    ("w h. h q rW rh", "2/2 3/2"),
]


@pytest.mark.parametrize("syncopation", [False, True])
@pytest.mark.parametrize(("tokens", "meters"), READABLE_CASES)
def test_readable_measures_are_the_legal_ones_within_the_bounds(tokens, meters, syncopation):
    limits = Limits(readable=True, syncopation=syncopation)
    for meter in map(parse_meter, meters.split()):
        every = list(all_measures(taught(tokens), meter, USUAL))
        able = [m for m in every if not crowded(m, meter) and (syncopation or not syncopated(m, meter))]
        assert list(all_measures(taught(tokens), meter, USUAL, limits=limits)) == able
        assert measure_count(taught(tokens), meter, USUAL, limits=limits) == len(able) <= len(every)


def test_two_rests_stand_for_none_that_is_taught_and_may_be_printed_there():
    """Open University 4.2: as few rests as possible while each beat stays visible; 4/4 takes none on beats 2-3."""
    limits = Limits(readable=True)
    four = {format_symbols(m) for m in all_measures(taught("h q rh rq"), parse_meter("4/4"), USUAL, limits=limits)}
    assert {"rh q q", "q rq rq q", "q q rh", "rq q q rq"} <= four
    assert not {"rq rq q q", "q q rq rq", "rq rq h", "rq rq rh"} & four
    without = {format_symbols(m) for m in all_measures(taught("h q rq"), parse_meter("4/4"), USUAL, limits=limits)}
    assert "rq rq q q" in without
    three = {format_symbols(m) for m in all_measures(taught("h q rh rq"), parse_meter("3/4"), USUAL, limits=limits)}
    assert "rq rq q" in three  # no half rest there, by convention


def test_measures_with_a_note_are_all_but_the_silent_ones():
    legal = set(all_measures(taught(BEGINNERS), parse_meter("4/4"), USUAL))
    sounding = set(all_measures(taught(BEGINNERS), parse_meter("4/4"), USUAL, limits=Limits(sounding=True)))
    assert legal - sounding == {parse_symbols("rW")}
