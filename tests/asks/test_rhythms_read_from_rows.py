"""Wrong rhythms for a row of counts, and rows that count some rhythm: small classes by hand. Common practice."""

from itertools import product

import pytest

from asks.spaces import excerpt, space
from barwright.asks.ask import Offers, Question, Space
from barwright.asks.rhythms_for_rows import counts_a_rhythm, read_rhythms, rhythm_pairs, rhythms_if_right
from barwright.items.item import Answer
from barwright.rhythm.conventions import Conventions

ASK = "rhythm-for-counts"
MANY = "w h q e rq re rh q. h."  # 468 measures of 4/4


def texts(offers: Offers) -> dict[str, set[str]]:
    """The rhythms as text, with the misreadings that lead to each."""
    return {answer.text: set(ids) for answer, ids in offers.items()}


def test_one_misreading_reads_another_rhythm_from_the_row() -> None:
    # `1-2 3` is the count of `h q`. Read with a half for each single count it is `q h`.
    assert texts(read_rhythms(ASK, excerpt("3/4 h q"), space("h q", "3/4"))) == {
        "q h": {"filled-head-lasts-longer", "order-of-long-and-short-passed-over"},
        "q q q": {"hyphens-taken-for-new-notes"},
    }


def test_two_misreadings_read_a_rhythm_that_no_one_alone_reads() -> None:
    # `1 (2) &`: the silence is taken for a held note, and the parentheses are left off or put around the others.
    a_space = space("q e re rq", "2/4")
    single, double = (texts(read(ASK, excerpt("2/4 q re e"), a_space)) for read in (read_rhythms, rhythm_pairs))
    assert single == {
        "q e re": {"notes-of-a-beat-turned-around"},
        "rq e re": {"parentheses-around-the-notes"},
        "q e e": {"parentheses-passed-over"},
    }
    assert double == {
        "re e rq": {"eighth-and-quarter-rest-swapped+parentheses-around-the-notes"},
        "rq re e": {"notes-of-a-beat-turned-around+parentheses-around-the-notes"},
        "e re e e": {"rests-counted-as-held+parentheses-passed-over"},
    }


def test_a_tied_rhythm_is_read_from_a_row_that_is_heard_amiss() -> None:
    # `1 (2)` heard as `1-2` is a half, or two quarters tied.
    told = texts(read_rhythms(ASK, excerpt("2/4 q rq"), space("h q rq", "2/4", ties=True)))
    assert {text for text, ids in told.items() if "parentheses-taken-for-a-hold" in ids} == {"h", "q~ q"}


def test_of_many_measures_near_ones_are_read_and_what_is_heard_amiss_is_written_down() -> None:
    a_space = space(MANY, "4/4")
    told = texts(read_rhythms(ASK, excerpt("4/4 rh e e e e"), a_space))
    assert told == {"h e e e e": {"open-notes-taken-for-rests", "parentheses-passed-over"}}
    # `(1) 2 3 (4) &` with the silences taken for holds: no single change leads there.
    told = texts(read_rhythms(ASK, excerpt("4/4 rq q q re e"), a_space))
    assert told["h q. e"] == {"parentheses-taken-for-a-hold"}


def test_what_is_heard_amiss_is_written_down_if_the_class_would_see_it_printed() -> None:
    # `1 & (2) 3-4 &` with the silence taken for a hold is `1 &-2 3-4 &`: syncopated.
    for syncopation in (False, True):
        told = texts(read_rhythms(ASK, excerpt("4/4 e e rq q. e"), space(MANY, "4/4", syncopation=syncopation)))
        assert ("e q. q. e" in told) is syncopation
    # `1-2 & (3) 4 &` becomes `1-2 &-3 4 &`, whose second dotted quarter hides the middle of the measure.
    told = texts(read_rhythms(ASK, excerpt("4/4 q. e rq e e"), space(MANY, "4/4", syncopation=True)))
    assert "q. q. e e" not in told


def test_where_sixteenths_have_no_count_every_misreading_may_change_how_many_labels_there_are() -> None:
    # `1 la 2 li`: who gives rests no time counts so a measure that has a silent sixteenth more, which has no count.
    a_space = space("q. e s q re rq rs h. rq. e.", "6/8", conventions=Conventions(compound_16ths="none"))
    told = texts(read_rhythms(ASK, excerpt("6/8 s s e. s e. s e"), a_space))
    assert told["s s e. s e. s rs s"] == {"rests-take-no-time", "rest-counts-without-parentheses"}


def test_where_there_are_not_many_all_measures_are_read() -> None:
    # Who counts the beats only writes `1 2 3 4` for all that has a note on each of them.
    told = texts(read_rhythms(ASK, excerpt("4/4 q q q q"), space("h q e rq", "4/4")))
    beats = [" ".join(each) for each in product(("q", "e e"), repeat=4)]
    assert {text for text, ids in told.items() if "only-the-beats-counted" in ids} == {*beats} - {"q q q q"}


def test_a_row_heard_amiss_may_have_more_or_fewer_counts_and_is_miscounted_then() -> None:
    # `(1) 2 3` heard with a hold leaves two sounds, which is how `q rq q` is counted with its rest held.
    double = texts(rhythm_pairs(ASK, excerpt("3/4 rq q q"), space("q e rq", "3/4")))
    assert double["q rq q"] == {"rests-counted-as-held+parentheses-taken-for-a-hold"}


def test_a_line_of_measures_is_read_as_one_near_it() -> None:
    assert texts(read_rhythms(ASK, excerpt("2/4 q q | h"), space("q rq h", "2/4", measures=2))) == {
        "q q | q q": {"hyphens-taken-for-new-notes"},
        "q q | q rq": {"hyphens-taken-for-rests", "rests-counted-as-held"},
        "q rq | h": {"rest-counts-without-parentheses"},
        "rq q | h": {"rest-counts-without-parentheses"},
    }


def if_right(text: str, answers: str, a_space: Space) -> dict[str, set[str]]:
    """By each rhythm those that would be offered if it were right."""
    asked = excerpt(text)
    key, *others = (Answer("measures", each) for each in (text.split(" ", 1)[1], *answers.split(", ")))
    told = rhythms_if_right(Question(asked, (key,)), others, a_space)
    return {answer.text: {each.text for each in led} for answer, led in told.items()}


@pytest.mark.parametrize(
    ("meter", "symbols", "before"),
    [("2/4", "q e rq", ""), ("4/4", MANY, "e e e e "), ("4/4", MANY, "rh ")],
)
def test_parentheses_lead_from_each_of_three_rhythms_to_the_others(meter: str, symbols: str, before: str) -> None:
    """`1 2` is read from `1 (2)` without its parentheses, and written for it; `(1) 2` has them around the other."""
    none, last, first = (f"{before}{each}" for each in ("q q", "q rq", "rq q"))
    told = if_right(f"{meter} {none}", f"{last}, {first}", space(symbols, meter))
    if before.startswith("e"):
        # Around the others there would be four pairs more.
        assert told == {none: {last, first}, last: {none}, first: {none}}
    elif before:
        # Without them the half rest is a note as well.
        assert told == {none: set(), last: set(), first: set()}
    else:
        assert told == {none: {last, first}, last: {none, first}, first: {none, last}}


def test_of_few_measures_two_errors_lead_from_one_rhythm_to_another_too() -> None:
    # As above: `re e rq` is read from `1 (2) &` by a pair of errors in writing.
    assert if_right("2/4 q re e", "re e rq", space("q e re rq", "2/4"))["q re e"] == {"re e rq"}


def test_of_many_measures_any_is_held_against_any_other_however_unlike_it_is() -> None:
    # Who counts the beats only writes `1 2 3 4` for both.
    assert if_right("4/4 q q q q", "e e e e e e e e", space(MANY, "4/4"))["q q q q"] == {"e e e e e e e e"}


def test_lines_of_measures_are_not_held_against_each_other() -> None:
    assert if_right("2/4 q q | h", "q rq | h", space("q rq h", "2/4", measures=2)) == {}


@pytest.mark.parametrize(
    ("row", "meters", "does"),
    [
        ("1 2 3", "3/4", True),
        ("1 2 3", "4/4", False),
        ("1 2 3", "3/4 4/4", True),
        ("1-2 (3)", "3/4", True),
        ("1 2 &", "3/4", False),
        ("1-2 -3", "3/4", False),
        ("1 2 3 | 1-2 3", "3/4", True),
        ("1 2 3 | 1-2 3 4", "3/4 4/4", False),
        ("1 2 3 4 5", "3/4 4/4", False),
    ],
)
def test_a_row_counts_a_rhythm_where_all_its_measures_are_full_in_one_meter(
    row: str, meters: str, *, does: bool
) -> None:
    question = Question(excerpt("3/4 h q"), (Answer("row", "1-2 3"),))
    assert counts_a_rhythm(question, Answer("row", row), space("h q rq", meters)) is does


def test_every_row_of_words_that_do_not_go_by_places_may_count_a_rhythm() -> None:
    question = Question(excerpt("3/4 h q"), (Answer("row", "ta-a ta"),))
    kodaly = space("h q", "3/4", conventions=Conventions(counting="kodaly"))
    assert counts_a_rhythm(question, Answer("row", "ta ta ta ta"), kodaly)
    gordon = space("h q", "3/4", conventions=Conventions(counting="gordon"))
    assert not counts_a_rhythm(question, Answer("row", "du du du du"), gordon)
