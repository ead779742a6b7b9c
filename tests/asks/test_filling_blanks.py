"""Measure completion on small classes: what may be left out, what fits, what is asked and offered, all by hand."""

from collections import Counter
from random import Random

import pytest

from asks.spaces import excerpt, space
from barwright.asks import ASKS
from barwright.asks.ask import Question, Space
from barwright.asks.measure_completion import (
    draw_order,
    listed_orders,
    order_offers,
    single_symbols,
    small_groups,
    sort_of,
)
from barwright.items.item import Answer
from barwright.rhythm.measure import Symbols
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_excerpt, format_symbols

FOUR = parse_meter("4/4")


def asked(question: Question) -> str:
    """A question in one line: the excerpt and its right answers."""
    return f"{format_excerpt(question.excerpt)} : {', '.join(key.text for key in question.keys)}"


def listed(ask: str, a_space: Space) -> list[str]:
    return [asked(question) for question in ASKS[ask].listed(a_space)]


def drawn(ask: str, a_space: Space, count: int = 200) -> Counter[str]:
    questions = [ASKS[ask].draw(a_space, Random(n)) for n in range(count)]
    return Counter(asked(question) for question in questions if question is not None)


def test_one_symbol_is_left_out_and_something_stays() -> None:
    a_space = space("h q rq", "2/4")
    wanted = ["2/4 _ q : q", "2/4 q _ : q", "2/4 _ rq : q", "2/4 q _ : rq", "2/4 _ q : rq", "2/4 rq _ : q"]
    assert sorted(listed("finish-measure", a_space)) == sorted(wanted)
    assert set(drawn("finish-measure", a_space)) == set(wanted)
    assert listed("drag-into-the-blank", a_space) == listed("finish-measure", a_space)
    assert set(drawn("drag-into-the-blank", a_space)) == set(wanted)


def test_two_neighbours_are_left_out() -> None:
    a_space = space("h q", "3/4")
    wanted = {"3/4 _ q : q q", "3/4 q _ : q q"}
    assert set(listed("finish-measure-with-two", a_space)) == wanted == set(drawn("finish-measure-with-two", a_space))


def test_no_tie_that_leads_in_or_out_is_broken() -> None:
    a_space = space("h q", "3/4", ties=True)
    assert "3/4 q~ q _ : q" in listed("finish-measure", a_space)
    assert "3/4 _ q~ q : q" in listed("finish-measure", a_space)
    broken = {"3/4 _ q q : q~", "3/4 q~ _ q : q", "3/4 q _ q : q~"}
    assert broken.isdisjoint(listed("finish-measure", a_space))
    assert not [each for each in drawn("finish-measure", a_space) if "~ _" in each or ": q~" in each]


def test_what_a_tie_leads_to_over_the_barline_stays() -> None:
    a_space = space("q", "2/4", ties=True, measures=2)
    found = listed("finish-measure", a_space)
    assert "2/4 q q~ | q _ : q" in found
    assert "2/4 _ q~ | q q : q" in found
    assert "2/4 q q~ | _ q : q" not in found
    assert "2/4 q q | _ q : q" in found


def test_triplets_are_left_out_by_nobody() -> None:
    found = listed("finish-measure", space("q et", "2/4"))
    assert "2/4 _ et et et : q" in found
    assert not [each for each in found if each.endswith("et")]
    two = listed("finish-measure-with-two", space("q et", "3/4"))
    assert "3/4 q _ : et et" not in two
    assert not [each for each in two if each.endswith(("q et", "et q"))], "nor a part of one with its neighbour"
    assert listed("finish-measure-with-two", space("q rW", "3/4")) == ["3/4 _ q : q q", "3/4 q _ : q q"]


def test_each_number_of_beats_is_asked_about_as_often() -> None:
    # Of blanks as they come, 76 of 200 lack one beat, and 7 two and a half.
    found = drawn("beats-left", space("q e", "3/4"))
    numbers = Counter(each.split(" : ")[1] for each in found.elements())
    assert set(numbers) == {"1/2", "1", "3/2", "2", "5/2"}
    assert max(numbers.values()) <= 60
    assert min(numbers.values()) >= 15
    assert sum(numbers.values()) == 200
    assert drawn("beats-left", space("w", "4/4"), 3) == Counter(), "nothing stays"


def test_beats_that_are_left_are_whole_or_halves_or_quarters_of_a_quarter_note() -> None:
    assert "2/4 q e. _ : 1/4" in listed("beats-left", space("q e. s", "2/4"))
    assert "3/8 e. s _ : 1" in listed("beats-left", space("e. s e", "3/8"))
    assert "3/8 e. _ e : 1/2" in listed("beats-left", space("e. s e", "3/8"))
    assert not [each for each in listed("beats-left", space("h q e", "2/2")) if each.endswith("/4")]
    assert "2/2 h q _ : 1/2" in listed("beats-left", space("h q", "2/2"))


def test_nobody_says_a_third_of_a_beat() -> None:
    a_space = space("q et e", "2/4")
    question = Question(excerpt("2/4 q et _"), (Answer("number", "2/3"),))
    texts_ = {answer.text for answer in ASKS["beats-left"].offers(question, a_space, Random(1))}
    assert {"1/2", "1", "2"} <= texts_
    assert not [text for text in texts_ if text.endswith("/3")]


def test_so_many_symbols_are_offered_as_the_ask_says() -> None:
    question, a_space = Question(excerpt("3/4 q _"), (Answer("symbols", "q q"),)), space("h q e rq h.", "3/4 4/4")
    sizes = {"finish-measure": {1}, "drag-into-the-blank": {1}, "finish-measure-with-two": {2}, "all-that-fit": {1, 2}}
    for name, wanted in sizes.items():
        ask = ASKS[name]
        assert {len(answer.text.split()) for answer in ask.offers(question, a_space, Random(1))} == wanted
        if ask.pairs is not None:
            assert {len(answer.text.split()) for answer in ask.pairs(question, a_space)} <= wanted


def test_up_to_three_symbols_are_missing_where_a_number_is_asked() -> None:
    found = listed("beats-left", space("q", "4/4"))
    assert set(found) == {
        "4/4 _ q q q : 1", "4/4 q _ q q : 1", "4/4 q q _ q : 1", "4/4 q q q _ : 1",
        "4/4 _ q q : 2", "4/4 q _ q : 2", "4/4 q q _ : 2", "4/4 _ q : 3", "4/4 q _ : 3",
    }  # fmt: skip
    assert len(found) == len(set(found))


def test_a_blank_has_one_two_or_three_right_answers_that_are_not_one_twice() -> None:
    a_space = space("h q e rh rq", "4/4")
    found = [ASKS["all-that-fit"].draw(a_space, Random(n)) for n in range(600)]
    keys = [
        question.keys for question in found if question is not None and format_excerpt(question.excerpt) == "4/4 h _"
    ]
    # h, rh; q q, q rq, rq q: the last two are one twice; and no `rq rq` where a half rest is taught.
    counts = Counter(len(each) for each in keys)
    assert set(counts) == {1, 2, 3}
    for each in keys:
        texts = {answer.text for answer in each}
        assert texts <= {"h", "rh", "q q", "q rq", "rq q"}
        assert not {"q rq", "rq q"} <= texts
        assert list(each) == sorted(each)


def test_a_filling_is_printed_and_read_as_the_class_does() -> None:
    a_space = space("h q e re", "2/4")
    every = [ASKS["all-that-fit"].draw(a_space, Random(n)) for n in range(300)]
    about = [each for each in every if each is not None and format_excerpt(each.excerpt) == "2/4 q _"]
    found = {key.text for each in about for key in each.keys}
    assert found == {"q", "e e", "e re", "re e"}
    tied = [ASKS["all-that-fit"].draw(space("q e", "2/4", ties=True, measures=2), Random(n)) for n in range(900)]
    held = {key.text for question in tied if question is not None
            and format_excerpt(question.excerpt) == "2/4 q q~ | q _" for key in question.keys}  # fmt: skip
    assert held <= {"q", "e e"}
    assert held


def test_no_two_right_answers_are_one_filling_twice() -> None:
    found = [ASKS["all-that-fit"].draw(space("q rq", "3/4"), Random(n)) for n in range(300)]
    keys = [{key.text for key in each.keys} for each in found if each is not None and len(each.keys) == 3]
    assert keys
    assert all(each & {"q rq", "rq q"} != {"q rq", "rq q"} for each in keys)


def test_one_blank_or_two_symbols_long_and_all_of_a_measure_is_never_left_out() -> None:
    blanks = {each.split(" : ")[0] for each in listed("all-that-fit", space("q", "4/4"))}
    assert blanks == {"4/4 _ q q q", "4/4 q _ q q", "4/4 q q _ q", "4/4 q q q _", "4/4 _ q q", "4/4 q _ q", "4/4 q q _"}
    assert listed("finish-measure-with-two", space("q", "2/4")) == []
    assert not drawn("finish-measure-with-two", space("q", "2/4"), 20)


def test_listed_blanks_have_the_same_right_answers_every_time() -> None:
    a_space = space("h q rq", "2/4")
    found = listed("all-that-fit", a_space)
    assert found == listed("all-that-fit", a_space)
    assert [each.split(" : ")[0] for each in found] == list(dict.fromkeys(each.split(" : ")[0] for each in found))
    assert {each.split(" : ")[0] for each in found} == {"2/4 _ q", "2/4 q _", "2/4 _ rq", "2/4 rq _"}


def test_sorts_of_fillings() -> None:
    assert [sort_of(text) for text in ("q e", "rq re", "q rq")] == ["notes", "rests", "mixed"]


@pytest.mark.parametrize(
    ("one", "other", "clash"),
    [("h", "q q", True), ("h", "rh", False), ("h", "h.", False), ("q rq", "rq q", True), ("q rq", "h", False)],
)
def test_two_answers_of_one_length_and_sort_clash(one: str, other: str, clash: bool) -> None:
    question = Question(excerpt("4/4 h. _"), (Answer("symbols", "q"),))
    assert ASKS["finish-measure"].clash(question, Answer("symbols", one), Answer("symbols", other)) is clash


@pytest.mark.parametrize(("text", "far"), [("e q", 0), ("e e", 0), ("h q", 1), ("h s", 2), ("q re", 11), ("re rq", 12)])
def test_a_choice_is_far_by_its_sort_and_then_by_symbols_that_the_key_has_not(text: str, far: int) -> None:
    question = Question(excerpt("4/4 h e _"), (Answer("symbols", "q e"),))
    assert ASKS["finish-measure-with-two"].farness(question, Answer("symbols", text)) == far


def texts(groups: tuple[Symbols, ...]) -> list[str]:
    return list(map(format_symbols, groups))


def test_single_symbols_that_can_begin_a_measure() -> None:
    assert texts(single_symbols(space("w h. q rW rh et", "3/4"), parse_meter("3/4"))) == ["h.", "q"]
    # A half rest may not begin 3/4, a whole note is too long, triplets and the whole-rest sign never stand alone.
    assert texts(single_symbols(space("h q rh", "4/4"), FOUR)) == ["h", "q", "rh"]


def test_small_groups_are_runs_of_up_to_four_and_pairs_of_a_longer_and_a_shorter_one() -> None:
    assert texts(small_groups(space("h q", "4/4"), FOUR)) == ["h h", "q q", "q q q", "q q q q", "h q"]
    # Never a note beside a rest, and runs of rests are runs.
    mixed = texts(small_groups(space("h q rq", "4/4"), FOUR))
    assert set(mixed) == {"h h", "q q", "q q q", "q q q q", "h q", "rq rq", "rq rq rq"}
    assert "e q" not in texts(small_groups(space("q e", "4/4"), FOUR))
    assert "q e" in texts(small_groups(space("q e", "4/4"), FOUR))


def test_who_has_no_syncopation_meets_none_in_a_group() -> None:
    plain, offbeat = space("q. e", "2/4"), space("q. e", "2/4", syncopation=True)
    assert "q. e" in texts(small_groups(plain, parse_meter("2/4")))
    pair = ("3/4", "e q", "q e")
    assert pair[1] not in texts(small_groups(space("q e", "3/4"), parse_meter("3/4"))), "the longer one comes first"
    # Tied on, an eighth and a dotted quarter would be syncopated: e q e is, and no group of equal notes or a pair.
    assert texts(small_groups(space("e. s", "2/4"), parse_meter("2/4")))[-1] == "e. s"
    assert texts(single_symbols(plain, parse_meter("2/4"))) == texts(single_symbols(offbeat, parse_meter("2/4")))


def test_orders_are_all_sets_of_groups_of_different_lengths() -> None:
    a_space = space("h q", "2/4", measures=3)
    # h, q, and in pairs q q (as long as h): three groups, two of them equally long.
    assert [asked(each) for each in listed_orders(a_space)] == []
    longer = space("w h q", "4/4", measures=3)
    found = [asked(each) for each in listed_orders(longer)]
    assert "4/4 h | q | w : q < h < w" in found
    assert "4/4 h q | q | q q : q < q q < h q" in found
    assert not [each for each in found if {"h", "q q"} <= set(each.split(" : ")[1].split(" < "))]
    assert len(found) == len(set(found))


def test_three_or_four_groups_are_put_in_order() -> None:
    for measures, able in ((2, False), (3, True), (4, True), (5, False)):
        a_space = space("w h. h q e", "4/4", measures=measures)
        assert (draw_order(a_space, Random(1)) is not None) is able
        assert bool(list(zip(listed_orders(a_space), range(1), strict=False))) is able
        if able:
            question = draw_order(a_space, Random(1))
            assert question is not None
            assert len(question.excerpt.measures) == measures


def test_groups_are_drawn_now_single_now_small_and_none_where_there_are_none() -> None:
    found = [draw_order(space("w h q", "4/4", measures=3), Random(n)) for n in range(60)]
    sizes = Counter(len(measure) for question in found if question is not None for measure in question.excerpt.measures)
    assert sizes[1] > 40
    assert sizes[2] > 20
    assert draw_order(space("w", "2/4", measures=3), Random(1)) is None
    assert draw_order(space("h q", "2/4", measures=3), Random(1)) is None


def test_a_wrong_order_is_that_of_the_lengths_that_a_student_believes() -> None:
    (question,) = [q for q in listed_orders(space("w h q", "4/4", measures=3)) if asked(q).endswith(": q < h < w")]
    offers = order_offers(question, space("w h q", "4/4"), Random(1))
    assert offers[Answer("order", "h < q < w")] == ("filled-head-lasts-longer",)
    assert Answer("order", "q < h < w") not in offers


def test_no_group_is_longer_than_four_and_no_more_than_three_symbols_are_missing() -> None:
    assert "e e e e e" not in texts(small_groups(space("q e", "4/4"), FOUR))
    found = listed("beats-left", space("q", "5/4"))
    assert {each.rpartition(" : ")[2] for each in found} == {"1", "2", "3"}


def test_who_has_syncopation_meets_it_in_a_group_too() -> None:
    # The second of two dotted quarter notes sounds from off the beat over the third beat of 3/4.
    three = parse_meter("3/4")
    assert texts(small_groups(space("q. h", "3/4", syncopation=True), three)) == ["q. q."]
    assert texts(small_groups(space("q. h", "3/4"), three)) == []


def test_a_tie_leads_in_from_the_last_symbol_of_the_measure_before() -> None:
    found = listed("finish-measure", space("q e", "2/4", ties=True, measures=2))
    assert "2/4 e e q~ | q _ : q" in found
    assert "2/4 e e q~ | _ q : q" not in found


def test_a_blank_that_one_filling_fits_has_one_right_answer_where_one_was_wanted() -> None:
    # Half of the draws are `q q`, half of these leave out one, and a third of these are to have one right answer.
    found = drawn("all-that-fit", space("h q", "2/4"), 300)
    assert set(found) == {"2/4 _ q : q", "2/4 q _ : q"}
    assert 12 <= found.total() <= 45


def test_a_filling_is_written_as_the_meter_has_it() -> None:
    # Two beats of silence at the end of 3/4 are two quarter rests (common practice).
    every = [ASKS["all-that-fit"].draw(space("h q rh rq", "3/4"), Random(n)) for n in range(400)]
    about = [each for each in every if each is not None and format_excerpt(each.excerpt) == "3/4 q _"]
    assert {key.text for each in about for key in each.keys} == {"h", "q q", "q rq", "rq q", "rq rq"}


def test_rhythms_of_a_teacher_that_are_twice_alike_are_listed_once_and_what_no_filling_fits_never() -> None:
    own = space("q e", "2/4", own="2/4 q q, 2/4 q q")
    assert listed("finish-measure", own) == ["2/4 _ q : q", "2/4 q _ : q"]
    # Syncopation was not taught: nothing beside the quarter note makes it readable, but two eighths in its place do.
    found = listed("all-that-fit", space("q e", "2/4", own="2/4 e q e"))
    assert "2/4 e _ e : e e" in found
    assert {each.split(" : ")[0] for each in found}.isdisjoint({"2/4 _ q e", "2/4 e q _"})


def test_every_number_that_can_be_missing_is_asked_for_and_none_that_is_not_said() -> None:
    numbers = Counter(each.split(" : ")[1] for each in drawn("beats-left", space("q e", "4/4"), 400).elements())
    assert set(numbers) == {"1/2", "1", "3/2", "2", "5/2", "3"}
    # In 2/2 an eighth note is a quarter of a beat.
    halves = Counter(each.split(" : ")[1] for each in drawn("beats-left", space("h q e", "2/2"), 100).elements())
    assert set(halves) == {"1/2", "1", "3/2"}
    assert sum(halves.values()) == 100, "a blank whose number is said stays where no better one comes"


def test_what_is_missing_is_asked_of_the_measure_with_the_blank() -> None:
    assert set(listed("beats-left", space("q", "2/4", measures=2))) == {
        "2/4 _ q | q q : 1", "2/4 q _ | q q : 1", "2/4 q q | _ q : 1", "2/4 q q | q _ : 1",
    }  # fmt: skip


def test_two_errors_together_lead_to_as_many_symbols_as_the_ask_wants() -> None:
    question, a_space = Question(excerpt("4/4 h _"), (Answer("symbols", "h"),)), space("w h q e q. e. s", "4/4")
    for name, width in (("finish-measure", 1), ("drag-into-the-blank", 1), ("finish-measure-with-two", 2)):
        pairs = ASKS[name].pairs
        assert pairs is not None
        assert {len(answer.text.split()) for answer in pairs(question, a_space)} == {width}
