"""Which wrong answers make a fair item together, and what is said of signatures and symbols: cases by hand."""

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from itertools import combinations
from random import Random

import pytest

from asks.spaces import excerpt, space
from barwright.asks import ASKS
from barwright.asks.ask import Question, Space
from barwright.asks.fair_sets import (
    MIXES,
    Drawn,
    filling_length,
    first_length,
    same_filling,
    sets_of_each_length,
    sharing_sets,
    some_sets,
    ways_to_share,
)
from barwright.asks.meter_identification import _fits_by_verdict, away_from_full
from barwright.asks.statements import (
    can_be_too_long,
    fit_claim,
    fit_sets,
    has_equal_sets,
    listed_fits,
    number_claim,
    number_sets,
    told_by_meters,
    verdict_of,
)
from barwright.items.item import Answer, AnswerKind
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_excerpt
from barwright.rhythm.values import TICKS

FOUR = parse_meter("4/4")


def answers(kind: AnswerKind, *texts: str) -> dict[Answer, tuple[str, ...]]:
    return {Answer(kind, text): ("an-error",) for text in texts}


def as_texts(sets: Iterable[Drawn]) -> list[frozenset[str]]:
    return [frozenset(answer.text for answer in drawn) for drawn in sets]


def test_lengths_are_in_ticks_of_the_filling_and_of_the_first_measure() -> None:
    assert filling_length("q. e", FOUR) == TICKS // 2
    assert filling_length("rW", parse_meter("3/4")) == TICKS * 3 // 4
    assert first_length("h q | q", FOUR) == TICKS * 3 // 4


def test_the_ways_in_which_choices_share_lengths() -> None:
    assert ways_to_share(4) == ((4,), (3, 1), (2, 2), (2, 1, 1), (1, 1, 1, 1))
    assert ways_to_share(1) == ((1,),)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [("q rq", "rq q", True), ("rh", "rq rq", True), ("h", "q q", False), ("q rq", "q q", False), ("h", "rh", False)],
)
def test_two_orders_and_two_silences_are_one_filling(one: str, other: str, same: bool) -> None:
    assert same_filling(Answer("symbols", one), Answer("symbols", other)) is same


BLANK = Question(excerpt("4/4 h _"), (Answer("symbols", "h"),))


def shared(offered: dict[Answer, tuple[str, ...]], count: int, seed: int = 1) -> list[frozenset[str]]:
    return as_texts(sharing_sets(BLANK, offered, space("h q"), count, Random(seed)))


def test_fillings_share_lengths_in_every_way() -> None:
    offered = answers("symbols", "q", "e e", "rq", "h.", "h q")
    # Three of one length; two of it and one of the other; one of it and the two of the other.
    found = set(shared(offered, 3))
    assert frozenset({"q", "e e", "rq"}) in found
    twos = [each for each in found if len(each & {"h.", "h q"}) == 1]
    assert {frozenset(pair) - {"h.", "h q"} for pair in twos} <= {
        frozenset({"q", "e e"}), frozenset({"q", "rq"}), frozenset({"e e", "rq"}),
    }  # fmt: skip
    ones = [each for each in found if {"h.", "h q"} <= each]
    assert twos
    assert ones
    assert all(len(each) == 3 for each in found)


def test_of_each_way_some_are_drawn_and_none_twice() -> None:
    many = answers("symbols", "q", "h.", "e", "s", "e.", "q.", "h e")
    assert len(set(shared(many, 2))) == len(shared(many, 2))
    assert 12 <= len(shared(many, 2)) <= 21, "all pairs of seven"


def test_what_is_as_long_as_the_measure_comes_only_where_nothing_shorter_is() -> None:
    offered = answers("symbols", "q", "h.", "w", "w q")
    assert set(shared(offered, 2)) == {frozenset({"q", "h."})}
    longer = shared(answers("symbols", "q", "w", "w q"), 2)
    assert set(longer) == {frozenset({"q", "w"}), frozenset({"q", "w q"}), frozenset({"w", "w q"})}
    assert shared(answers("symbols", "q"), 2) == []


def test_no_two_that_are_one_filling_stand_together() -> None:
    found = shared(answers("symbols", "q re", "re q", "rq re", "re rq", "e q"), 3)
    assert found
    assert set(found) <= {
        frozenset({mixed, rests, "e q"}) for mixed in ("q re", "re q") for rests in ("rq re", "re rq")
    }


def test_an_answer_that_has_no_equal_beside_it_is_drawn_from_a_group_that_is_large_enough() -> None:
    # Of one length there are two, of two others one each: two and one, or three lengths; never three of one.
    found = set(shared(answers("symbols", "q", "e e", "h.", "e"), 3))
    assert {len(each) for each in found} == {3}
    assert frozenset({"q", "e e", "h."}) in found or frozenset({"q", "e e", "e"}) in found
    # Two silences are one filling: no set of three, though three are of one length.
    assert shared(answers("symbols", "rq", "re re", "q"), 3) == []


def test_measures_all_last_differently() -> None:
    question = Question(excerpt("3/4 h q"), (Answer("measures", "h q"),))
    offered = answers("measures", "h", "q q", "w", "h h", "h. h")
    found = as_texts(sets_of_each_length(question, offered, space("h q"), 2, Random(1)))
    able = {frozenset({one, other}) for one in ("h", "q q") for other in ("w", "h h", "h. h")}
    able |= {frozenset({"h. h", other}) for other in ("w", "h h")}
    assert set(found) == able
    assert len(found) == len(able)
    assert as_texts(sets_of_each_length(question, offered, space("h q"), 4, Random(1))) == []
    assert len(as_texts(sets_of_each_length(question, offered, space("h q"), 3, Random(1)))) == 4


def test_all_sets_are_tried_or_forty_drawn_ones() -> None:
    ten = list(answers("number", *map(str, range(9))))
    assert len(some_sets(ten[:8], 2, Random(1))) == 28
    assert some_sets(ten[:3], 2, Random(1)) == [(ten[0], ten[1]), (ten[0], ten[2]), (ten[1], ten[2])]
    drawn = some_sets(ten, 4, Random(1))  # 126 sets
    assert 30 <= len(drawn) <= 40
    assert len(set(map(frozenset, drawn))) == len(drawn)


@pytest.mark.parametrize(
    ("meter", "top", "bottom"),
    [
        ("3/4", "how-many 3", "gets-beat 4"),
        ("6/8", "adds-up 6 8", "stands-for 8"),
        ("2/2", "how-many 2", "gets-beat 2"),
    ],
)
def test_a_number_is_said_in_beats_where_its_note_has_the_beat(meter: str, top: str, bottom: str) -> None:
    read = parse_meter(meter)
    assert (number_claim(read, "top", Conventions()), number_claim(read, "bottom", Conventions())) == (top, bottom)


def test_two_wrong_statements_are_the_fewest() -> None:
    assert said(2, "how-many 4", "gets-beat 4") == {frozenset({"how-many 4", "gets-beat 4"})}, "all that there are"
    assert said(3, "how-many 4", "gets-beat 4", "notes 2", "measures 3") == set()
    assert len(said(2, "how-many 3", "how-many 4", "gets-beat 4", "notes 2")) == 3
    assert said(1, "notes 2") == {frozenset({"notes 2"})}


def test_each_claim_knows_the_meters_of_which_it_is_true() -> None:
    three, four, six = map(parse_meter, ("3/4", "4/4", "6/8"))
    assert told_by_meters((three, four, six), Conventions()) == {
        "how-many 3": [(three, "top")],
        "gets-beat 4": [(three, "bottom"), (four, "bottom")],
        "how-many 4": [(four, "top")],
        "adds-up 6 8": [(six, "top")],
        "stands-for 8": [(six, "bottom")],
    }


NUMBER = Question(excerpt("3/4 h q"), (Answer("claim", "how-many 3"),), "top")


def said(count: int, *texts: str) -> set[frozenset[str]]:
    return set(as_texts(number_sets(NUMBER, answers("claim", *texts), space("q", "3/4 4/4"), count, Random(1))))


def test_statements_that_are_right_somewhere_stand_together() -> None:
    assert said(2, "how-many 4", "gets-beat 4", "notes 2") == {frozenset({"how-many 4", "gets-beat 4"})}


def test_others_come_in_only_where_two_wrong_ones_cannot_be_found_else() -> None:
    assert said(2, "how-many 4", "notes 2", "measures 3") == {
        frozenset({"how-many 4", "notes 2"}), frozenset({"how-many 4", "measures 3"}),
    }  # fmt: skip
    assert said(3, "how-many 4", "gets-beat 4", "notes 2") == set()
    assert said(2, "how-many 4") == set()
    assert said(2, "notes 2", "measures 3") == {frozenset({"notes 2", "measures 3"})}


@pytest.mark.parametrize(
    ("text", "claim"),
    [("3/4 h", "fits 2 3"), ("3/4 h.", "fits 3 3"), ("3/4 w", "fits-not 4 3"), ("6/8 q.", "fits 3 6"),
     ("2/2 h.", "fits 3/2 2")],
)  # fmt: skip
def test_a_symbol_fits_that_is_no_longer_than_the_measure(text: str, claim: str) -> None:
    assert fit_claim(excerpt(text)) == claim
    assert verdict_of(Answer("claim", claim)) == claim.split()[0]


A_CLASS = space("w h q e s", "2/4 3/4 4/4")


def fits(key: str, count: int, *texts: str) -> set[frozenset[str]]:
    question = Question(excerpt("3/4 h"), (Answer("claim", key),))
    return set(as_texts(fit_sets(question, answers("claim", *texts), A_CLASS, count, Random(1))))


def test_both_verdicts_stand_in_an_item() -> None:
    # With two wrong ones: each number of the key stands in another, or none of all is named oftener.
    found = fits("fits 2 3", 2, "fits-not 4 3", "fits 2 4", "fits 1 4")
    assert found
    assert all(any(text.startswith("fits-not") for text in each) for each in found)


def test_each_choice_is_right_in_another_item_of_just_these_choices() -> None:
    # A quarter, a half and a whole note over 3/4: each is taken for one of the others, by errors of heads and flags.
    assert fits("fits 2 3", 2, "fits 1 3", "fits-not 4 3", "fits 2 4", "fits 1 4") == {
        frozenset({"fits 1 3", "fits-not 4 3"})
    }
    # Nobody takes an eighth note for a whole note that does not fit, so it does not stand with them.
    assert fits("fits 2 3", 3, "fits 1 3", "fits-not 4 3", "fits 1/2 3") == set()


def test_where_there_is_no_such_set_what_is_named_least_often_does() -> None:
    # Of 2 3, 2 4 and 1 4 the second shares a number with both others; of 2 3, 3 3 and 1 4 the first would be told.
    assert fits("fits 2 3", 2, "fits 2 4", "fits 3 3", "fits-not 1 4") == {frozenset({"fits 2 4", "fits-not 1 4"})}


def test_a_number_that_is_never_right_stands_in_no_item_while_others_do() -> None:
    found = fits("fits 2 3", 2, "fits 2 4", "fits-not 4 3", "fits-not 5 5")
    assert found == {frozenset({"fits 2 4", "fits-not 4 3"})}


def test_where_no_other_verdict_is_on_offer_one_will_do_and_too_few_are_no_set() -> None:
    assert fits("fits 2 3", 2, "fits 2 4", "fits 1 4") == {frozenset({"fits 2 4", "fits 1 4"})}
    assert fits("fits 2 3", 2, "fits 2 4") == set()
    assert fits("fits 2 3", 3, "fits 2 4", "fits 1 4", "fits 1 2") == set()
    # 2 4 and 5 3 name each number of the key once more: 4 times it, the others three times.
    assert fits("fits 2 3", 2, "fits 2 4", "fits 5 3") == {frozenset({"fits 2 4", "fits 5 3"})}
    assert fits("fits 2 3", 3, "fits 2 4", "fits 5 3", "fits 6 7") == set()


def test_nobody_takes_a_symbol_for_less_than_half_a_beat_that_is_longer() -> None:
    found = fits("fits 2 3", 2, "fits 1/4 3", "fits 2 4", "fits-not 4 3", "fits-not 5 4")
    assert not [each for each in found if "fits 1/4 3" in each]
    assert fits("fits 2 3", 2, "fits 1/3 4", "fits 1/2 4", "fits-not 4 3") == {
        frozenset({"fits 1/2 4", "fits-not 4 3"})
    }
    # ... unless it is: then nothing is left out.
    assert fits("fits 1/4 3", 2, "fits 1/4 4", "fits-not 4 4") == {frozenset({"fits 1/4 4", "fits-not 4 4"})}
    assert fits("fits 2 3", 2, "fits 1/4 3", "fits 1/4 4") == {frozenset({"fits 1/4 3", "fits 1/4 4"})}


def drawn(ask: str, a_space: Space, count: int = 400) -> Counter[str]:
    found = [ASKS[ask].draw(a_space, Random(n)) for n in range(count)]
    return Counter(f"{format_excerpt(q.excerpt)} : {q.keys[0].text}" for q in found if q is not None)


def listed(ask: str, a_space: Space) -> list[str]:
    found = ASKS[ask].listed(a_space)
    return [f"{format_excerpt(q.excerpt)} : {q.keys[0].text} {q.target}".rstrip() for q in found]


def test_the_signature_of_a_rhythm_is_asked_for() -> None:
    assert listed("time-signature-for-rhythm", space("h. h", "3/4 2/4")) == ["3/4 h. : 3/4", "2/4 h : 2/4"]
    assert set(drawn("time-signature-for-rhythm", space("h. h", "3/4 2/4"))) == {"3/4 h. : 3/4", "2/4 h : 2/4"}


def test_each_length_is_right_as_often_though_two_meters_have_it() -> None:
    a_space = space("h. h w", "3/4 6/8 2/4")
    found = drawn("rhythm-for-time-signature", a_space)
    lengths = Counter(text.split(" : ")[1] for text in found.elements())
    assert set(lengths) == {"h.", "h"}
    assert abs(lengths["h."] - lengths["h"]) < 80
    assert set(found) == {"3/4 h. : h.", "6/8 h. : h.", "2/4 h : h"}
    own = space("h q", "2/4 3/4 4/4", own="2/4 q q, 3/4 h q")
    assert set(drawn("rhythm-for-time-signature", own)) == {"2/4 q q : q q", "3/4 h q : h q"}
    assert listed("rhythm-for-time-signature", own) == ["2/4 q q : q q", "3/4 h q : h q"]


def test_a_symbol_that_is_short_enough_and_yet_not_written_so_is_not_asked_about() -> None:
    assert listed("does-it-fit", space("h rh w q et", "3/4")) == [
        "3/4 h : fits 2 3", "3/4 q : fits 1 3", "3/4 w : fits-not 4 3",
    ]  # fmt: skip


def test_each_verdict_is_drawn_as_often_and_symbols_about_as_long_as_the_measure_first() -> None:
    found = drawn("does-it-fit", space("w h h. q e", "3/4 4/4 2/4"))
    verdicts = Counter(text.split(" : ")[1].split(" ")[0] for text in found.elements())
    assert abs(verdicts["fits"] - verdicts["fits-not"]) < 80
    assert found["3/4 h : fits 2 3"] > 3 * found["3/4 e : fits 1/2 3"]
    assert drawn("does-it-fit", space("et", "3/4")) == Counter()


def test_a_full_measure_is_written_as_the_meter_has_it_or_not_asked_about() -> None:
    # A dotted half note fills 3/4; in 2/4 a whole rest sign fills the measure; a half rest may not begin 3/4.
    found = listed("does-it-fit", space("h. rh rW", "3/4"))
    assert found == ["3/4 h. : fits 3 3", "3/4 rW : fits 3 3"]


def test_symbols_that_are_taken_for_each_other_are_drawn_alike() -> None:
    # A quarter note is less than half of the measure, and yet as good a choice as the two it stands beside.
    found = drawn("does-it-fit", space("w h q", "4/4", taught_meters="2/4 3/4 4/4"))
    assert set(found) == {"4/4 h : fits 2 4", "4/4 w : fits 4 4", "4/4 q : fits 1 4"}
    assert max(found.values()) - min(found.values()) < 60


def test_a_number_that_is_also_the_number_of_symbols_is_not_asked_for() -> None:
    found = listed("what-the-numbers-say", space("h q rq rW", "3/4"))
    assert "3/4 h q : how-many 3 top" in found
    assert "3/4 h q : gets-beat 4 bottom" in found
    assert "3/4 q q q : how-many 3 top" not in found
    assert "3/4 q q q : gets-beat 4 bottom" in found
    assert not [each for each in found if each.startswith("3/4 rW")]
    assert "3/4 h rq : gets-beat 4 bottom" in found
    assert "3/4 q rq rq : how-many 3 top" not in found


def test_three_meters_are_needed_where_signatures_are_told_apart() -> None:
    assert {ask: ASKS[ask].needs_meters for ask in ASKS if ASKS[ask].needs_meters > 1} == {
        "time-signature-for-rhythm": 3, "rhythm-for-time-signature": 3,
    }  # fmt: skip
    assert [ask for ask in ASKS if ASKS[ask].pinned] == ["time-signature-for-rhythm"]


def test_what_is_true_of_many_meters_comes_oftener_but_not_as_often_as_it_could() -> None:
    # how-many 2, 3, 4 are true of one meter each, gets-beat 4 of three: it weighs two of five.
    found = drawn("what-the-numbers-say", space("h w q", "2/4 3/4 4/4"), 600)
    told = Counter(text.split(" : ")[1] for text in found.elements())
    assert set(told) == {"how-many 2", "how-many 3", "how-many 4", "gets-beat 4"}
    whole = sum(told.values())
    assert 0.35 < told["gets-beat 4"] / whole < 0.6
    own = space("h q", "2/4 3/4", own="3/4 h q")
    assert set(drawn("what-the-numbers-say", own)) == {"3/4 h q : how-many 3", "3/4 h q : gets-beat 4"}


def test_two_half_measures_are_a_wrong_figure_since_the_stem_says_that_each_is_to_be_full() -> None:
    offers = answers("measures", "h | q q", "q q q | h q", "w q | w q")
    two = Question(excerpt("4/4 w | h h"), (Answer("measures", "w | h h"),))
    sets = set(as_texts(sets_of_each_length(two, offers, A_CLASS, 2, Random(1))))
    assert sets == set(map(frozenset, combinations(("h | q q", "q q q | h q", "w q | w q"), 2)))


def test_each_length_is_asked_for_though_two_measures_of_another_are_as_long() -> None:
    three = space("w h h. q", "2/4 3/4 4/4", measures=2)
    assert {text[:3] for text in drawn("rhythm-for-time-signature", three)} == {"2/4", "3/4", "4/4"}


def test_each_group_of_one_length_is_the_right_one_as_often() -> None:
    """However choices share lengths: then no group tells by its size that it is right, worked by hand.

    Of four choices two are one length and two another, or two, one and one, or three and one. Of two, one and one the
    pair is right three times, and either of the others three times.
    """
    each_group: dict[tuple[int, ...], set[Fraction]] = {}
    for mix, times in MIXES:
        way = tuple(sorted(mix, reverse=True))
        each_group.setdefault(way, set()).add(Fraction(times, way.count(mix[0])))
    assert {way: list(shares) for way, shares in each_group.items()} == {
        (2, 1): [1], (2, 2): [1], (2, 1, 1): [3], (3, 1): [2], (2, 2, 1): [3], (3, 1, 1): [2], (3, 2): [2],
    }  # fmt: skip
    # Each group has its turn: there is a mix for every size of a way, and no two of one.
    assert len({mix for mix, _ in MIXES}) == len(MIXES) == sum(len(set(way)) for way in each_group)
    assert all(list(others) == sorted(others, reverse=True) for (_, *others), _ in MIXES)


@pytest.mark.parametrize(
    ("symbols", "meters", "equal"),
    [
        # Beginners: every symbol counts that lasts a quarter of the measure, but not a fifth.
        ("w h q", "3/4 4/4 5/4", "3/4 h, 3/4 q, 3/4 w, 4/4 h, 4/4 q, 4/4 w"),
        ("w h q", "2/4", "2/4 h, 2/4 q, 2/4 w"),
        # Who knows eighths is asked about no less than half a measure: of three in 3/4 and 4/4 too few are left.
        ("w h q e", "2/4 3/4 4/4", "2/4 h, 2/4 q, 2/4 w"),
        # A rest of a whole measure, which has no value of its own, is taken for no other symbol.
        ("w h q rW", "3/4", "3/4 h, 3/4 q, 3/4 w"),
        # The half note is too long for 2/4 nowhere, and the whole note is not known.
        ("h q", "2/4 4/4", ""),
    ],
)
def test_symbols_about_which_each_choice_is_right_as_often(symbols: str, meters: str, equal: str) -> None:
    a_space = space(symbols, meters)
    assert ", ".join(format_excerpt(q.excerpt) for q in listed_fits(a_space) if has_equal_sets(q, a_space)) == equal


def test_the_questions_best_to_ask_come_first() -> None:
    """Worked by hand: equal choices; then both verdicts, then one; then just half a measure; then less than half."""
    found = _fits_by_verdict(space("w h q e", "2/4 3/4 4/4 5/4"))
    assert [[" ".join(sorted(format_excerpt(q.excerpt) for q in rank)) for rank in ranks] for ranks in found] == [
        ["2/4 h 2/4 q", "3/4 h 4/4 w", "5/4 w", "4/4 h", "2/4 e 3/4 e 3/4 q 4/4 e 4/4 q 5/4 e 5/4 h 5/4 q"],
        ["2/4 w", "3/4 w"],
    ]


def test_one_of_four_draws_passes_over_what_is_best_to_ask() -> None:
    found = drawn("does-it-fit", space("w h q", "4/4 5/4"), 1600)
    assert set(found) == {f"4/4 {each}" for each in ("w : fits 4 4", "h : fits 2 4", "q : fits 1 4")} | {
        "5/4 w : fits 4 5", "5/4 h : fits 2 5", "5/4 q : fits 1 5",
    }  # fmt: skip
    over = sum(count for text, count in found.items() if text.startswith("5/4"))
    assert 0.225 < over / found.total() < 0.28
    assert 0.7 < found["5/4 w : fits 4 5"] / over < 0.85


@pytest.mark.parametrize(
    ("symbols", "meters", "too_long"),
    [("w h q", "4/4", False), ("w h q", "4/4 3/4", True), ("h q", "2/4", False), ("rW q", "3/4", False)],
)
def test_whether_any_symbol_is_too_long_for_a_measure(symbols: str, meters: str, too_long: bool) -> None:
    assert can_be_too_long(space(symbols, meters)) is too_long


def test_a_symbol_that_is_too_long_is_asked_about_wherever_it_could_not_be_written() -> None:
    assert listed("does-it-fit", space("w h. q.", "3/8")) == [
        "3/8 h. : fits-not 6 3", "3/8 q. : fits 3 3", "3/8 w : fits-not 8 3",
    ]  # fmt: skip
    # Three quarters of silence are a whole measure, and have the sign of that.
    assert listed("does-it-fit", space("rh. h", "3/4")) == ["3/4 h : fits 2 3"]


BEGINNERS = space("w h q", "2/4 3/4 4/4")


def chosen(key: str, a_space: Space, *texts: str) -> set[frozenset[str]]:
    """The sets of two wrong ones beside a key over 4."""
    question = Question(excerpt("4/4 h"), (Answer("claim", key),))
    return set(as_texts(fit_sets(question, answers("claim", *texts), a_space, 2, Random(1))))


def test_sets_of_equal_choices_stand_before_those_with_both_verdicts() -> None:
    # A whole note is taken for a half or a quarter note, and each of these for it: all three fit into 4/4.
    only = space("w h q", "4/4")
    assert chosen("fits 4 4", only, "fits 2 4", "fits 1 4", "fits-not 4 2", "fits-not 4 3") == {
        frozenset({"fits 2 4", "fits 1 4"})
    }
    # In 2/4 each is taken for the others as well, and one verdict is another.
    assert chosen("fits 2 2", BEGINNERS, "fits 1 2", "fits-not 4 2", "fits 2 4") == {
        frozenset({"fits 1 2", "fits-not 4 2"})
    }


def test_what_lasts_or_holds_what_nothing_does_stands_in_no_item_while_others_do() -> None:
    a_class = space("w h q", "2/4 3/4 4/4 6/8")
    for never in ("fits 5 4", "fits-not 5 3", "fits 1 6", "fits-not 4 1", "fits 2 8"):
        assert chosen("fits 2 3", a_class, "fits 2 4", "fits-not 4 3", never) == {
            frozenset({"fits 2 4", "fits-not 4 3"})
        }, never


def test_a_third_of_a_quarter_is_never_said_of_what_is_longer() -> None:
    a_class = space("w h q et", "2/4 3/4 4/4")
    found = chosen("fits 2 3", a_class, "fits 1/3 4", "fits 2 4", "fits-not 4 3")
    assert found == {frozenset({"fits 2 4", "fits-not 4 3"})}
    assert chosen("fits 2 3", a_class, "fits 1/3 4", "fits 1/3 3") == {frozenset({"fits 1/3 4", "fits 1/3 3"})}


def test_where_no_symbol_is_too_long_no_other_verdict_stands_beside_two_of_the_right_one() -> None:
    a_class = space("h q", "2/4")
    assert chosen("fits 2 2", a_class, "fits 3 2", "fits 5 2", "fits-not 4 2") == {frozenset({"fits 3 2", "fits 5 2"})}
    three = chosen("fits 2 2", a_class, "fits 3 2", "fits 5 2", "fits 6 2", "fits-not 4 2")
    assert three
    assert not any("fits-not 4 2" in each for each in three)
    assert chosen("fits 2 2", a_class, "fits 3 2", "fits-not 4 2") == {frozenset({"fits 3 2", "fits-not 4 2"})}


def test_the_numbers_of_the_key_are_named_no_oftener_than_those_of_the_choices_on_average() -> None:
    """Nothing here is right anywhere in the class. Beside 5 7, how often the two numbers of each choice are named:

    5 8 and 6 8: 3, 4, 3, and 6 7 and 6 8: 3, 4, 3: less than the others. 6 8 and 1 2: 2, 2, 2. But 5 8 and 6 7: 4, 3,
    3, and 1 2 with 5 8 or 6 7: 3, 3, 2: more than the others.
    """
    found = chosen("fits 5 7", space("w h q", "4/4"), "fits 5 8", "fits 6 7", "fits 6 8", "fits 1 2")
    assert found == {
        frozenset({"fits 5 8", "fits 6 8"}),
        frozenset({"fits 6 7", "fits 6 8"}),
        frozenset({"fits 6 8", "fits 1 2"}),
    }


def test_just_two_measures_are_not_too_long_to_be_looked_at() -> None:
    assert [away_from_full(excerpt(text)) for text in ("2/4 w", "2/4 w.", "4/4 h", "3/4 h", "3/4 q")] == [0, 2, 1, 0, 2]
    slight = ASKS["does-it-fit"].slight
    assert [slight(Question(excerpt(text), ())) for text in ("2/4 w", "4/4 h", "4/4 q")] == [False, False, True]


def test_own_rhythms_are_drawn_alike_whatever_their_length() -> None:
    own = space("h q e", "2/4 3/4", own="2/4 q q, 2/4 h, 2/4 e e q, 3/4 h q")
    found = drawn("rhythm-for-time-signature", own)
    assert max(found.values()) - min(found.values()) < 50
    # Each number is asked for as often: else one of how-many 2, how-many 3 and gets-beat 4 would be each third time.
    own = space("h q e", "2/4 3/4", own="2/4 h, 3/4 h q")
    found = drawn("what-the-numbers-say", own)
    below = sum(count for text, count in found.items() if text.endswith("gets-beat 4"))
    assert 0.44 < below / found.total() < 0.56


def test_a_measure_of_silence_is_not_asked_about() -> None:
    own = space("h q", "3/4", own="3/4 rW, 3/4 h q")
    assert set(drawn("what-the-numbers-say", own)) == {"3/4 h q : how-many 3", "3/4 h q : gets-beat 4"}


def test_what_is_true_of_two_meters_is_drawn_as_often_as_what_is_true_of_one_and_of_three_twice() -> None:
    for meters, share in (("2/4 3/4", Fraction(1, 3)), ("2/4 3/4 4/4", Fraction(2, 5))):
        found = drawn("what-the-numbers-say", space("h h. w", meters), 900)
        below = sum(count for text, count in found.items() if text.endswith("gets-beat 4"))
        assert abs(Fraction(below, found.total()) - share) < Fraction(4, 100)


def test_two_halves_of_a_measure_count_only_in_figures_of_two_and_where_no_length_is_free_of_them_all_are_asked() -> (
    None
):
    one = space("w h h. q", "2/4 3/4 4/4")
    assert {text[:3] for text in drawn("rhythm-for-time-signature", one)} == {"2/4", "3/4", "4/4"}
    # Of two lengths each has but one other beside it.
    two = space("h q q. h.", "2/4 3/4 6/8", measures=2)
    assert {text[:3] for text in drawn("rhythm-for-time-signature", two)} == {"2/4", "3/4", "6/8"}


def test_of_sets_of_equal_choices_those_with_both_verdicts_stand_before_those_with_one() -> None:
    # Over 3 a whole note is 4 (3/4, too long) or 2 (3/2), a half note 2 or 1, a dotted half 3 or 3/2: with 2 and 1
    # either 4 or 3/2 makes three choices that are taken for each other, but with 3/2 all of them fit.
    a_class = space("w h. h q. q", "3/2 3/4")
    found = chosen("fits 2 3", a_class, "fits 1 3", "fits-not 4 3", "fits 3/2 3")
    assert found == {frozenset({"fits 1 3", "fits-not 4 3"})}


def test_a_choice_is_right_among_just_the_others() -> None:
    # In 2/2 a whole note (2 2) is said to last 1, or to be 4 and too long, and nothing else.
    found = chosen("fits 1 2", space("w q e", "2/2 2/4"), "fits 2 2", "fits 4 4", "fits-not 4 2")
    assert found == {frozenset({"fits 2 2", "fits-not 4 2"})}
