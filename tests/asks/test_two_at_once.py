"""Wrong answers that take two misreadings at once, on small classes: all of them worked by hand. Common practice."""

from asks.spaces import excerpt, space
from barwright.asks.ask import Offers, Question
from barwright.asks.pair_answers import claim_pairs, filling_pairs, row_pairs
from barwright.items.item import Answer
from barwright.rhythm.conventions import Conventions


def texts(offers: Offers) -> dict[str, set[str]]:
    """The answers as text, with the pairs that lead to each."""
    return {answer.text: set(ids) for answer, ids in offers.items()}


def test_a_row_that_takes_two_misreadings() -> None:
    told = texts(row_pairs("counts-for-rhythm", excerpt("2/4 q rq"), space("q rq", "2/4"), "1 (2)"))
    # Who counts every note from one writes `1 (1)`, who leaves parentheses off `1 2`; who does both, `1 1`.
    assert told["1 1"] == {
        "every-note-counted-from-one+rest-counts-without-parentheses",
        "lengths-written-as-counts+rest-counts-without-parentheses",
    }
    assert told["1-2-3-4"] == {"rests-take-no-time+counted-to-four-in-every-measure"}
    assert told.keys().isdisjoint({"1 (2)", "1 (1)", "1 2", "1 (2-3-4)"}), "right, or of one who holds one"


def test_a_row_that_looks_other_than_one_of_a_single_misreading_and_is_the_same() -> None:
    # In a class that marks rests by R, `1-2 R-R` says what `1-2 R` says; so does `1-2-3 R-R` what `1-2-3 R` says.
    a_space = space("h q rq rh", "2/4", conventions=Conventions(rest_counts="R"))
    assert texts(row_pairs("counts-for-rhythm", excerpt("2/4 q rq"), a_space, "1 R")) == {
        "1-2-3": {"filled-head-lasts-longer+rests-counted-as-held"},
        "1-2-3 R": {"filled-head-lasts-longer+counted-up-to-the-next-note"},
        "1-2-3-4": {"rests-take-no-time+counted-to-four-in-every-measure"},
    }


def test_a_statement_that_takes_two_misreadings() -> None:
    # Asked for the one number, who mixes up both says what the other misreading makes of the other.
    for target, key, about in (("top", "how-many 3", 4), ("bottom", "gets-beat 4", 3)):
        question = Question(excerpt("3/4 h q"), (Answer("claim", key),), target)
        other = "bottom" if target == "top" else "top"
        assert texts(claim_pairs("what-the-numbers-say", question, space("h q", "3/4"))) == {
            f"notes {about}": {f"{other}-number-counts-the-notes+jobs-of-the-numbers-mixed-up"},
            f"lasts {about}": {"signature-tells-how-long-a-note-lasts+jobs-of-the-numbers-mixed-up"},
        }


def test_a_filling_that_takes_two_misreadings() -> None:
    question = Question(excerpt("4/4 q rq q. _"), (Answer("symbols", "e"),))
    told = texts(filling_pairs("finish-measure", question, space("h q h. q. e rq", "4/4"), (1,)))
    # Two quarters seem to be there, and a half to be missing, which a dotted one seems to be.
    assert "rests-take-no-time+dots-passed-over" in told["h."]
    assert told.keys() == {"h."}, "all others are right, or of one who holds one"
