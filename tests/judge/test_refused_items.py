"""Items that the judge refuses, small and by hand: what they must hold, and how they may be printed."""

from dataclasses import replace
from fractions import Fraction

import pytest

from barwright.items.taught import Taught
from barwright.judge import judged
from barwright.judge.count_labeling import unknown_words
from barwright.judge.meter_identification import _beams_can_decide, full_in
from barwright.judge.print_rules import (
    Sounds,
    filler,
    fragment_faults,
    heard,
    lone_whole_rest,
    measure_faults,
    sounds,
    whole_groups,
)
from barwright.rhythm.conventions import Conventions, Held
from barwright.rhythm.measure import length_of
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_measures, parse_symbols
from items.judge_cases import BEGINNERS, EVERYTHING, made

FOUR = parse_meter("4/4")

QUARTERS = replace(EVERYTHING, tokens=frozenset({"h", "q"}))


def refused(ask: str, excerpt: str, right: str, wrong: str, taught: Taught = EVERYTHING) -> tuple[str, ...]:
    return judged(made(ask, excerpt, right, wrong), taught)


def test_three_right_ones_are_too_many_though_they_are_choices_enough() -> None:
    assert refused("finish-measure", "3/4 h _", "q, e e, rq", "") == ("too-many-keys: e e, q, rq",)


def test_each_answer_that_stands_twice_is_told_in_order() -> None:
    found = refused("finish-measure", "3/4 h _", "q", "e, h, e, h")
    assert found == ("repeated-answer: 'e'", "repeated-answer: 'h'")


def test_whether_it_fits_is_asked_of_one_symbol_without_blank_mark_or_pickup() -> None:
    sound = made("does-it-fit", "3/4 h", "fits 2 3", "fits 2 4, fits-not 4 3")
    assert judged(sound, EVERYTHING) == ()
    for excerpt in (replace(sound.excerpt, mark=(0, 0)), replace(sound.excerpt, pickup=True)):
        (found,) = judged(replace(sound, excerpt=excerpt), EVERYTHING)
        assert found.startswith("wrong-excerpt: 3/4 ")
    assert refused("does-it-fit", "3/4 _", "fits 2 3", "fits 2 4, fits-not 4 3") == (
        "wrong-excerpt: 3/4 _, but one symbol is wanted",
    )


def test_symbols_of_a_figure_are_taught_as_those_of_a_filling() -> None:
    assert refused("rhythm-for-time-signature", "3/4 h q", "h q", "q q, h h", QUARTERS) == ()
    found = refused("rhythm-for-time-signature", "3/4 h q", "h q", "q e, h h", QUARTERS)
    assert "untaught: e in q e" in found
    found = refused("rhythm-for-time-signature", "3/4 h q | h q", "h q | h q", "q e | h h, h h | h h", QUARTERS)
    assert "untaught: e in q e | h h" in found
    assert refused("finish-measure", "3/4 h _", "q", "h, e", QUARTERS) == ("untaught: e in e",)


def test_the_sign_of_a_whole_rest_is_one_figure_whatever_it_means() -> None:
    found = refused("rhythm-for-counts", "4/4 h h | h h", "h h | h h", "rw | h h, rW | h h")
    assert "same-print: rW | h h, rw | h h" in found
    assert not [each for each in found if each.startswith("same-meaning")]


def quarters(sounding: Sounds) -> list[int]:
    """Sounds in quarter notes, silences negative."""
    return [int(4 * length) if loud else -int(4 * length) for loud, length in sounding]


@pytest.mark.parametrize(
    ("text", "sounding", "clapped"),
    [
        ("q q rq q", [1, 1, -1, 1], [1, 2, 1]),
        ("rq q h", [-1, 1, 2], [-1, 1, 2]),
        ("q rq rq q", [1, -2, 1], [3, 1]),
        ("q rq q~ q", [1, -1, 2], [2, 2]),
        ("rq rq q~ h", [-2, 3], [-2, 3]),
        ("rh q rq", [-2, 1, -1], [-2, 2]),
    ],
)
def test_ties_make_one_sound_and_rests_one_silence_which_a_clap_does_not_show(
    text: str, sounding: list[int], clapped: list[int]
) -> None:
    found = sounds(parse_symbols(text), FOUR)
    assert quarters(found) == sounding
    assert quarters(heard(found, Conventions())) == sounding
    assert quarters(heard(found, Conventions(equivalence="onsets"))) == clapped


def test_a_whole_rest_sign_is_alone_in_its_measure_or_it_is_not() -> None:
    signs = ("rW", "rw", "rW q", "q", "w")
    assert [lone_whole_rest(parse_symbols(text)) for text in signs] == [True, True, False, False, False]


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("et et et", True),
        ("et et", False),
        ("et q et et", False),
        ("q et et et", True),
        ("qt et", True),
        ("q rq", True),
    ],
)
def test_triplets_stand_in_whole_groups(text: str, whole: bool) -> None:
    assert whole_groups(parse_symbols(text)) is whole


def test_a_gap_is_filled_with_sixteenths() -> None:
    three = filler(Fraction(3, 16))
    assert three is not None
    assert [length_of(symbol, FOUR) for symbol in three] == [Fraction(1, 16)] * 3
    assert filler(Fraction(1, 32)) is None


def faults(meter: str, text: str, *, pickup: bool | None = None) -> list[str]:
    measures, read = parse_measures(text), parse_meter(meter)
    if pickup is None:
        return list(measure_faults(measures, read, Conventions()))
    return list(measure_faults(measures, read, Conventions(), pickup=pickup))


def test_a_last_measure_that_a_pickup_shortens_is_read_from_its_beginning() -> None:
    # Five eighths behind a pickup of one: with a sixth in front the dotted quarter would hide the second beat.
    assert faults("6/8", "e | q. q. | q. q", pickup=True) == []
    assert faults("6/8", "e | q. q. | q. e", pickup=True) == ["not-full: 6/8 q. e"]
    assert faults("6/8", "e | q. q.") == faults("6/8", "e | q. q.", pickup=False) == ["not-full: 6/8 e"]


def test_a_dotted_note_is_offered_where_a_dotted_rest_is_not_printed() -> None:
    found = [list(fragment_faults(parse_symbols(text), BEGINNERS, Conventions())) for text in ("q.", "rq.", "rq")]
    assert found == [[], ["unprintable-choice: rq."], []]


@pytest.mark.parametrize(
    ("ask", "excerpt", "right", "wrong", "reasons"),
    [
        # A tie leads to the first symbol of what is put in, whatever follows.
        ("finish-measure-with-two", "4/4 q q~ _", "q q", "e re, re q, h h", ("dangling-tie: q~ re q",)),
        # A wrong choice as long as the right one is another right one, and no more is said of it.
        ("finish-measure-with-two", "4/4 h _", "q q", "q. e, h h, e e", ("second-right-answer: q. e also fills 1/2",)),
        # A note and a rest are right, and whatever is mixed is wrong.
        ("all-that-fit", "4/4 h _", "h, rh", "q re, e rq", ("kind-tells-key: notes, rests",)),
        # Five groups are too many to put in order; a whole rest lasts a whole note or a measure, alone or not.
        (
            "shortest-first", "4/4 e | h | h. | q | w", "e < q < h < h. < w", "q < e < h < h. < w",
            ("wrong-excerpt: 4/4 e | h | h. | q | w, but three or four groups, sorted, are wanted",),
        ),
        ("shortest-first", "4/4 h | q | q rw", "q < h < q rw", "h < q < q rw", ("unsure-length: q rw",)),
    ],
)  # fmt: skip
def test_reasons_against_fillings_and_orders(
    ask: str, excerpt: str, right: str, wrong: str, reasons: tuple[str, ...]
) -> None:
    assert refused(ask, excerpt, right, wrong) == reasons


def test_a_blank_in_a_pickup_may_be_of_any_length() -> None:
    item = made("finish-measure", "3/4 _ q | h q", "q", "h, e")
    found = judged(replace(item, excerpt=replace(item.excerpt, pickup=True)), EVERYTHING)
    assert [each for each in found if each.startswith("open-ending")]
    whole = made("finish-measure", "3/4 h q | _ q | h q", "h", "q, e")
    assert judged(replace(whole, excerpt=replace(whole.excerpt, pickup=True)), EVERYTHING) == ()


@pytest.mark.parametrize(
    ("meter", "text", "full"),
    [
        # Neither a pickup nor two halves of a measure are full ones: the stem says that each is.
        ("3/4", "q | h q", False),
        ("4/4", "q q | h", False),
        ("3/4", "h q | h", False),
        ("3/4", "h q | h q", True),
        ("2/4", "q q | h", True),
        ("3/4", "q", False),
        # The sign of a whole rest fills a measure of any meter.
        ("3/4", "rw | h q", True),
        ("5/4", "rw | h h q", True),
    ],
)
def test_measures_are_full_each_by_itself(meter: str, text: str, full: bool) -> None:
    assert full_in(parse_measures(text), parse_meter(meter)) is full


@pytest.mark.parametrize(
    ("one", "other", "decide"),
    [("3/4", "6/8", True), ("2/4", "6/8", True), ("4/4", "2/2", False), ("3/4", "2/4", False), ("3+3/8", "6/8", False)],
)
def test_beams_decide_between_beats_that_differ_and_are_not_both_simple(one: str, other: str, decide: bool) -> None:
    assert _beams_can_decide(parse_meter(one), parse_meter(other)) is decide


@pytest.mark.parametrize(
    ("excerpt", "wrong"), [("3/4 q e e e e", "3/8"), ("4/4 e e e e e e e e", "2/2"), ("4/4 e e q e e q", "2/2")]
)
def test_beams_do_not_tell_a_meter_from_its_half_or_from_cut_time(excerpt: str, wrong: str) -> None:
    found = refused("time-signature-for-rhythm", excerpt, excerpt.split()[0], f"{wrong}, 2/4")
    assert found == (f"same-total: {wrong} for {excerpt}",)


def test_the_sign_of_a_whole_rest_lasts_a_measure_of_three() -> None:
    assert refused("does-it-fit", "3/4 rw", "fits 3 3", "fits 2 3, fits-not 5 3") == ()


def said(excerpt: str, target: str, right: str, wrong: str, *, taught: Taught = EVERYTHING, four: bool = False) -> str:
    conventions = Conventions(cut_time="in_four") if four else Conventions()
    item = made("what-the-numbers-say", excerpt, right, wrong, target=target, conventions=conventions)
    return " // ".join(judged(item, taught))


def test_half_notes_are_beats_unless_a_class_counts_four() -> None:
    for target, right in (("top", "how-many 2"), ("bottom", "gets-beat 2")):
        assert said("2/2 h q q", target, right, "measures 7, notes 5") == ""
        told = f"key-not-right: {right} for the {target} of 2/2"
        assert said("2/2 h q q", target, right, "measures 7, notes 5", four=True) == told
    assert said("4/4 h q q", "top", "how-many 4", "measures 7, notes 5", four=True) == ""
    assert (
        said("6/8 q. q.", "top", "how-many 6", "measures 7, notes 5") == "key-not-right: how-many 6 for the top of 6/8"
    )


def test_the_note_of_the_bottom_number_gets_a_beat_to_whoever_counts_all_of_them() -> None:
    told = said("6/8 q. q.", "bottom", "stands-for 8", "gets-beat 8, notes 5")
    assert told == "second-right-answer: gets-beat 8 is true of 6/8 q. q."


def test_two_statements_that_give_a_measure_one_length_say_the_same() -> None:
    assert said("4/4 h h", "top", "how-many 4", "adds-up 6 8, how-many 3") == "same-meaning: adds-up 6 8, how-many 3"
    assert said("4/4 h h", "top", "how-many 4", "adds-up 6 8, how-many 6") == ""
    assert said("4/4 h h", "top", "how-many 4", "adds-up 6 8, adds-up 3 4") == "same-meaning: adds-up 3 4, adds-up 6 8"


def test_no_note_is_named_that_was_not_taught() -> None:
    few = replace(QUARTERS, meters=(parse_meter("3/4"), FOUR))
    told = said("4/4 h h", "top", "how-many 4", "adds-up 6 8, how-many 6", taught=few)
    assert told == "untaught: adds-up 6 8 names e"


def test_words_that_no_taught_symbol_has_are_told_in_order() -> None:
    assert unknown_words("1 e & a", BEGINNERS, Conventions()) == ("&", "a", "e")
    assert unknown_words("1 (2)", QUARTERS, Conventions()) == ("a rest",)
    # Words of the Kodaly sort go by figures, not places.
    assert unknown_words("ta ti-ti", BEGINNERS, Conventions(counting="kodaly")) == ()


@pytest.mark.parametrize(
    ("excerpt", "right", "wrong", "reasons"),
    [
        ("4/4 e e e e e e e e", "1 & 2 & 3 & 4 &", "1, 1 2 3", ("length-tells-key: 8 labels, others 1 to 3",)),
        ("4/4 w", "1-2-3-4", "1 2 3 4 & 1, 1 2 3 4", ("length-tells-key: 1 labels, others 4 to 6",)),
        # One is shorter and one longer.
        ("4/4 q q q q", "1 2 3 4", "1, 1 2 3 4 & 1 2 &", ()),
    ],
)
def test_a_row_that_is_far_longer_or_shorter_than_all_others_is_told_by_it(
    excerpt: str, right: str, wrong: str, reasons: tuple[str, ...]
) -> None:
    assert refused("counts-for-rhythm", excerpt, right, wrong) == reasons


def test_no_label_is_on_offer_that_was_not_taught() -> None:
    assert refused("count-under-each", "2/4 q q", "1 2", "1 &, 2 1", BEGINNERS) == ("untaught: & in 1 &",)
    assert refused("count-under-each", "2/4 q q", "1 2", "1 3, 2 1", BEGINNERS) == ()


@pytest.mark.parametrize(
    ("excerpt", "right", "reasons"),
    [
        ("4/4 q~ q *q q", "3", ()),
        ("4/4 q~ q q *q", "4", ()),
        ("4/4 q q~ *q q", "3", ("no-count: 4/4 q q~ *q q",)),
        ("4/4 q *q~ q q", "2-3", ()),
    ],
)
def test_the_count_under_a_mark_is_that_of_its_own_symbol(excerpt: str, right: str, reasons: tuple[str, ...]) -> None:
    assert refused("count-under-mark", excerpt, right, "1, 5") == reasons


@pytest.mark.parametrize(
    ("held", "excerpt", "right", "reasons"),
    [
        # Who names no sixteenths writes nothing under the second: 1, nothing, la, li, 2.
        ("beats", "6/8 s s *e e q.", "la", ()),
        ("beats", "6/8 s *s e e q.", "ta", ("no-count: 6/8 s *s e e q.",)),
        # A note that begins there has the counts it is held for, after a hyphen: 1, -la, -li, nothing, 2-la-li.
        ("subdivisions", "6/8 s *e e s q.", "la", ("no-count: 6/8 s *e e s q.",)),
        ("subdivisions", "6/8 s e e s *q.", "2-la-li", ()),
        ("subdivisions", "6/8 s e e s *q.", "1-la-li", ("key-not-right: 1-la-li, but 2-la-li for 6/8 s e e s *q.",)),
    ],
)
def test_what_has_no_label_is_not_counted_and_does_not_shift_the_labels_of_others(
    held: Held, excerpt: str, right: str, reasons: tuple[str, ...]
) -> None:
    conventions = Conventions(compound_16ths="none", held=held)
    item = made("count-under-mark", excerpt, right, "5, 7", conventions=conventions)
    assert judged(item, EVERYTHING) == reasons


def test_another_class_s_label_of_a_mark_is_found_where_this_one_leaves_out_some() -> None:
    """A class that says takadimi has five labels for these five symbols: ta va ki da ta."""
    item = made("count-under-mark", "6/8 s s *e e q.", "la", "ki, va", conventions=Conventions(compound_16ths="none"))
    assert judged(item, EVERYTHING) == ("right-elsewhere: ki for 6/8 s s *e e q.",)


def test_labels_offered_under_each_symbol_need_one_for_each() -> None:
    item = made(
        "count-under-each", "6/8 s s e e q.", "1 la li 2", "1 la la 2, 1 li li 2",
        conventions=Conventions(compound_16ths="none"),
    )  # fmt: skip
    assert judged(item, EVERYTHING) == ("no-count: 6/8 s s e e q.",)


def test_a_rhythm_that_a_class_cannot_count_is_no_figure_for_a_row() -> None:
    held = Conventions(held="subdivisions")
    item = made("rhythm-for-counts", "2/4 et et et q", "et et et q", "q q, e e q", conventions=held)
    assert judged(item, EVERYTHING) == ("no-count: 2/4 et et et q",)


def test_up_to_twelve_labels_are_on_offer_under_each_symbol() -> None:
    assert refused("count-under-each", "4/4 q q q q", "1 2 3 4", "5 6 7 8, 9 10 11 12") == ()
    found = refused("count-under-each", "4/4 q q q q", "1 2 3 4", "5 6 7 8, 9 10 11 12, 13 2 3 4")
    assert found == ("too-many-labels: 13 for 4/4 q q q q",)
