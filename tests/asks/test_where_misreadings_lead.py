"""Wrong answers of students who hold one misreading, on small classes: worked by hand. Common practice."""

from random import Random

import pytest

from asks.spaces import excerpt, space
from barwright.asks.ask import Offers, Question
from barwright.asks.wrong_answers import (
    claim_offers,
    filling_offers,
    label_offers,
    meter_offers,
    misreadings_for,
    number_offers,
    rhythm_offers,
    row_offers,
    wrong_measure_offers,
)
from barwright.items.item import Answer
from barwright.rhythm.conventions import Conventions


def texts(offers: Offers) -> dict[str, set[str]]:
    """The answers as text, with the misreadings that lead to each."""
    return {answer.text: set(ids) for answer, ids in offers.items()}


def test_only_misreadings_of_what_was_taught_that_show_in_the_exercise() -> None:
    few, more = space("q h", "3/4").taught, space("q h h. rq", "3/4").taught
    fills = {m.id for m in misreadings_for("finish-measure", few)}
    assert {"filled-head-lasts-longer", "every-symbol-is-one-beat"} <= fills
    assert fills.isdisjoint({"dots-passed-over", "rests-take-no-time"}), "nobody has seen a dot, or a rest"
    assert {m.id for m in misreadings_for("finish-measure", more)} > {"dots-passed-over", "rests-take-no-time"}
    assert "notes-numbered-in-order" in {m.id for m in misreadings_for("write-counts", few)}
    assert "notes-numbered-in-order" not in fills


def test_numbers_of_missing_beats() -> None:
    # Without its dot the half leaves two beats; as quarters of a measure of its own, four.
    told = texts(number_offers("beats-left", excerpt("4/4 h. _"), space("h. h q", "4/4")))
    assert told == {
        "2": {"dots-passed-over", "one-beat-too-few-counted"},
        "3/2": {"dot-adds-half-a-beat"},
        "5/2": {"filled-head-lasts-longer"},
        "3": {"dot-shortens", "every-symbol-is-one-beat", "beats-that-are-there-answered"},
        "4": {"measure-taken-as-empty", "beat-of-the-blank-answered"},
    }


def test_fillings_of_the_wrong_length() -> None:
    question = Question(excerpt("4/4 h. _"), (Answer("symbols", "q"),))
    assert texts(filling_offers("finish-measure", question, space("h. h q e", "4/4"), (1,))) == {
        "h": {"dots-passed-over", "one-beat-too-few-counted"},
        "h.": {"dots-passed-over", "beats-that-are-there-answered", "neighbor-copied"},
    }


def test_rows_that_only_look_different_are_one_and_right_ones_are_none() -> None:
    assert texts(row_offers("counts-for-rhythm", excerpt("2/4 q q"), space("q", "2/4"))) == {
        "1-2": {"separate-notes-joined-by-hyphens"},
        "1 1": {"lengths-written-as-counts", "every-note-counted-from-one"},
        "1 2-3-4": {"counted-to-four-in-every-measure"},
        "1-2 2": {"counted-up-to-the-next-note"},
    }
    # With R for rests `1 R-R` says what `1 R` says, and `1-2 R` what `1-2 R-R` says.
    a_space = space("q h rq rh", "2/2", conventions=Conventions(rest_counts="R"))
    assert texts(row_offers("counts-for-rhythm", excerpt("2/2 h rh"), a_space)) == {
        "1": {"rests-take-no-time"},
        "1-2": {"rests-counted-as-held"},
        "1-2 R-R": {"cut-time-counted-in-four", "counted-up-to-the-next-note"},
    }


def labels(marked: str, key: str, symbols: str) -> dict[str, set[str]]:
    question = Question(excerpt(marked), (Answer("row", key),))
    return texts(label_offers("count-under-mark", question, space(symbols, marked.split()[0])))


def test_labels_under_the_marked_symbol() -> None:
    assert labels("2/4 q q | q *q", "2", "q") == {
        "4": {"counting-goes-on-over-the-barline"},
        "1": {"lengths-written-as-counts", "every-note-counted-from-one"},
        "2-3-4": {"counted-to-four-in-every-measure"},
    }


def test_the_first_count_of_a_held_sound_is_right_too() -> None:
    told = labels("4/4 q *h q", "2-3", "h q")
    assert told["3"] == {"last-beat-of-each-note-written"}
    assert told.keys().isdisjoint({"2", "2-3"}), "both are accepted; who numbers the notes writes 2"


def test_under_a_rest_no_parentheses_tell_nothing_of_parentheses_around_notes() -> None:
    told = labels("2/4 q *rq", "(2)", "q rq")
    assert told["2"] == {"rest-counts-without-parentheses"}
    assert labels("2/4 *q rq", "1", "q rq")["(1)"] == {"parentheses-around-the-notes"}


def test_a_misreading_that_leaves_the_label_off_is_told_by_none() -> None:
    # Who gives rests no time, or holds the note over them, writes nothing under one.
    told = labels("2/4 q *rq", "(2)", "q rq")
    assert "" not in told
    assert {"rests-take-no-time", "rests-counted-as-held"}.isdisjoint(set().union(*told.values()))


def test_rhythms_that_are_counted_so_or_heard_from_the_row() -> None:
    told = texts(rhythm_offers("rhythm-for-counts", excerpt("2/4 q q | h"), space("q rq h", "2/4"), Random(1)))
    assert told == {
        "q q | q rq": {"hyphens-taken-for-rests", "rests-counted-as-held"},
        "q q | q q": {"hyphens-taken-for-new-notes"},
        "rq q | h": {"rest-counts-without-parentheses"},
        "q rq | h": {"rest-counts-without-parentheses"},
    }
    told = texts(rhythm_offers("rhythm-for-counts", excerpt("2/4 q rq"), space("q rq h", "2/4"), Random(1)))
    assert told == {
        "q q": {"parentheses-passed-over"},
        "h": {"parentheses-taken-for-a-hold", "held-beats-in-parentheses"},
        "rq q": {"order-of-long-and-short-passed-over", "parentheses-around-the-notes"},
    }


def test_rhythms_that_the_class_cannot_count_are_left_out() -> None:
    # Numbers name no sixteenths where halves are beats; so `rh q s s e` stands for no row.
    a_space = space("q h e s rq rh", "2/2")
    told = texts(rhythm_offers("rhythm-for-counts", excerpt("2/2 rh q e e"), a_space, Random(1)))
    assert told == {"h q e e": {"parentheses-passed-over", "open-notes-taken-for-rests"}}


def test_a_rhythm_that_is_counted_like_the_right_one_is_not_wrong() -> None:
    # With R for rests a half rest that is taken for one beat is still an R.
    a_space = space("q h rq rh", "2/2", ties=True, conventions=Conventions(rest_counts="R"))
    told = texts(rhythm_offers("rhythm-for-counts", excerpt("2/2 q~ q rh"), a_space, Random(1)))
    assert "h rh" not in told


def meters(text: str, taught: str, symbols: str = "h. h q. q e") -> dict[str, set[str]]:
    a_space = space(symbols, text.split()[0], taught_meters=taught)
    return texts(meter_offers("time-signature-for-rhythm", excerpt(text), a_space))


@pytest.mark.parametrize(
    ("text", "taught", "wanted"),
    [
        # A dotted half without its dot fills 2/4; a beat too many, or four for granted, make it 4/4.
        ("3/4 h.", "2/4 3/4 4/4", {
            "2/4": {"dots-passed-over", "one-beat-too-few-counted"},
            "4/4": {"dot-doubles", "one-beat-too-many-counted", "four-four-taken-for-granted"},
        }),
        # The beams of 3/4 rule 6/8 out, and the other way round; quarters alone do not.
        ("3/4 e e e e q", "3/4 6/8", {"6/8": {"six-eight-counted-as-three-four"}}),
        ("6/8 e e e e e e", "6/8 3/4", {"3/4": {"six-eight-counted-as-three-four"}}),
        ("3/4 q q q", "6/8 3/4 2/4", {"2/4": {"one-beat-too-few-counted"}}),
        # A beat too many or too few is no step from quarters to eighths or halves.
        ("2/4 q q", "2/4 3/8 3/2", {}),
    ],
)  # fmt: skip
def test_signatures_that_a_rhythm_seems_to_fill(text: str, taught: str, wanted: dict[str, set[str]]) -> None:
    assert meters(text, taught) == wanted


def test_a_misreading_by_which_the_right_signature_seems_filled_as_well_tells_nothing() -> None:
    # For who counts symbols three quarters are three beats: no error.
    assert "every-symbol-is-one-beat" not in set().union(*meters("3/4 q q q", "2/4 3/4 4/4").values())


def measures(text: str, symbols: str, taught: str, seed: int = 1) -> dict[str, tuple[str, ...]]:
    a_space = space(symbols, text.split()[0], taught_meters=taught)
    offers = wrong_measure_offers("rhythm-for-time-signature", excerpt(text), a_space, Random(seed))
    return {answer.text: ids for answer, ids in offers.items()}


def test_measures_of_another_length_that_seem_to_fill_this_one() -> None:
    told = measures("3/4 h q", "h q", "2/4 3/4 4/4")
    four = ("every-measure-has-four-beats", "names-are-parts-of-the-measure", "numbers-of-the-signature-swapped",
            "one-beat-too-few-counted")  # fmt: skip
    three_notes = (*four, "top-number-counts-the-notes")
    assert told == {
        "h": ("one-beat-too-many-counted",),
        "q q": ("one-beat-too-many-counted",),
        "h h": four,
        "q q q q": four,
        "h q q": three_notes,
        "q h q": three_notes,
        "q q h": three_notes,
    }


def test_no_measure_of_a_meter_as_long_is_offered() -> None:
    # Of 3/4 none seems to fill 6/8, to which it is equal; of 2/4 those with a half, taken for a dotted one.
    assert not measures("6/8 q. q.", "q. q e h h.", "6/8 3/4")
    assert all(len(set(text.split()) & {"q", "e", "h"}) for text in measures("6/8 q. q.", "q. q e h h.", "6/8 3/4 2/4"))


def test_of_measures_some_seem_to_fill_it_and_all_of_these_are_found() -> None:
    for seed in range(10):
        told = measures("6/8 q. q.", "q. q e h h.", "6/8 2/4", seed)
        assert told == {"q e e": ("filled-head-lasts-longer",), "e e q": ("filled-head-lasts-longer",)}
        two = measures("6/8 q. q. | q. q.", "q. q e h h.", "6/8 2/4", seed)
        assert {text.split(" | ")[0] for text in two} == set(told) >= {text.split(" | ")[1] for text in two}


def test_where_measures_are_not_too_many_each_can_come() -> None:
    # 108 measures of 4/4, all of which seem to fill 3/4 to some student.
    found = {text for seed in range(200) for text in measures("3/4 h q", "h q e rq", "3/4 4/4", seed)}
    assert len(found) == 108


def test_all_measures_of_a_longer_figure_are_believed_full_by_the_same_student() -> None:
    alone = measures("3/4 h q", "h q", "2/4 3/4 4/4")
    for seed in range(10):
        told = measures("3/4 h q | q q q", "h q", "2/4 3/4 4/4", seed)
        assert told
        for text, ids in told.items():
            first, second = (set(alone[each]) for each in text.split(" | "))
            assert set(ids) == first & second != set()


def test_statements_about_a_number_of_the_signature() -> None:
    question = Question(excerpt("3/4 h q"), (Answer("claim", "how-many 3"),), "top")
    assert texts(claim_offers("what-the-numbers-say", question, space("h q", "3/4"))) == {
        "how-many 2": {"every-symbol-is-one-beat", "steps-between-the-beats-counted"},
        "how-many 4": {"one-beat-too-many-counted", "every-measure-has-four-beats"},
        "notes 3": {"top-number-counts-the-notes"},
        "lasts 3": {"signature-tells-how-long-a-note-lasts"},
        "kind-of-note": {"numbers-of-the-signature-swapped"},
        "gets-beat 4": {"jobs-of-the-numbers-mixed-up"},
    }
