"""What a student answers who holds two misreadings at once, worked by hand, and what the diagnosis makes of it."""

from dataclasses import replace
from random import Random

import pytest

from barwright.items.item import Item
from barwright.misreadings import MISREADINGS
from barwright.results.acting import AWAY, acted
from barwright.results.chances import acted_forms
from barwright.results.diagnosing import weighed_by_prior
from barwright.results.likelihood import hypotheses_of
from barwright.results.quizzes import ready_quiz
from barwright.results.rates import USUAL
from barwright.results.simulating import Student, answers_of
from barwright.results.together import led_together
from results.trial import UNITS, unit_forms
from results.written import form_of, item

REST_TWICE = ("every-rest-is-one-beat", "rest-counts-without-parentheses")
ROOM_TWICE = ("every-measure-has-four-beats", "rests-take-no-time")
LISTED = item(
    "count-under-each", "4/4 rh q q", "row",
    **{"(1-2)_3_4": "", "(1)_2_3": "every-rest-is-one-beat", "1_2_3": "notes-numbered-in-order"},
)  # fmt: skip


# Source: worked by hand from the rules of the student-error catalogue (common practice).
@pytest.mark.parametrize(
    ("names", "question", "expected"),
    [
        (ROOM_TWICE, item("beats-left", "3/4 q rq _", "number", **{"1": ""}), "3"),
        (REST_TWICE, item("write-counts", "4/4 rh q q", "row", **{"(1-2)_3_4": ""}), "1 2 3"),
        (REST_TWICE, LISTED, "1 2 3"),
        (ROOM_TWICE, item("finish-measure", "3/4 q rq _", "symbols", q="", h="x", **{"h.": "x"}), "h."),
        (ROOM_TWICE, item("finish-measure", "3/4 q rq _", "symbols", q="", h="x", w="x"), None),  # it is not on offer
        (
            ("dots-passed-over", "rests-take-no-time"),
            item("time-signature-for-rhythm", "4/4 h. rq", "meter", **{"4/4": "", "2/4": "x", "3/4": "x"}),
            "2/4",
        ),
        (
            ("dots-passed-over", "filled-head-lasts-longer"),
            item("shortest-first", "2/4 h", "order", **{"q_<_h_<_h._<_w": ""}),
            "h < q < h. < w",
        ),
        (("dot-doubles", "dots-passed-over"), item("beats-left", "4/4 q. _", "number", **{"2.5": ""}), None),
    ],
)
def test_two_misreadings_lead_where_both_do_on_paper(
    names: tuple[str, ...], question: Item, expected: str | None
) -> None:
    assert led_together(names, question) == (() if expected is None else ((names, (expected,)),))


def test_counts_that_are_not_in_the_list_cannot_be_answered() -> None:
    """Who passes over the parentheses wants 1-2, which no list has here: no chance of that misreading."""
    (form,) = acted_forms([form_of([LISTED])])
    assert acted(MISREADINGS["rest-counts-without-parentheses"], LISTED) == AWAY
    assert form.items[0].leads("rest-counts-without-parentheses") == frozenset()
    assert form.chances("every-rest-is-one-beat") == 1


def test_nobody_is_taken_to_hold_two_that_contradict_each_other() -> None:
    sets = hypotheses_of(["dots-passed-over", "dot-doubles", "dot-shortens", "rests-take-no-time"])
    held = {tuple(name for name, each in zip(sets.names, row, strict=True) if each) for row in sets.member}
    assert sorted(each for each in held if len(each) == 2) == [
        (name, "rests-take-no-time") for name in ("dot-doubles", "dot-shortens", "dots-passed-over")
    ]


def test_an_answer_of_both_tells_both() -> None:
    """Three rows of 1 2 3 where a rest lasts two beats: the parentheses were passed over, and the rest cut short.

    Numbering notes in order and cutting the rest short lead to the same rows, so that these two share what is left.
    """
    asked = [
        item("write-counts", text, "row", **{key: ""})
        for text, key in (("4/4 rh q q", "(1-2)_3_4"), ("4/4 q rh q", "1_(2-3)_4"), ("3/4 rh q", "(1-2)_3"))
    ]
    given = form_of(asked)
    shares = {}
    for together in (USUAL.together, 0.0):
        quiz = ready_quiz([given], replace(USUAL, together=together))
        (form,) = quiz.forms.values()
        codes = answers_of([Student(REST_TWICE, slips=0.0, unknown=0.0, together=1.0)], form.acts, Random(1))
        likely = weighed_by_prior(form, codes)
        shares[together] = dict(zip(likely.sets.names, likely.each()[0].tolist(), strict=True))
        assert form.acts.seen(codes[0].tolist(), REST_TWICE[:1]) == (0, 1, 2)
    with_both, without = shares[USUAL.together], shares[0.0]
    assert with_both["rest-counts-without-parentheses"] > 0.95
    assert with_both["every-rest-is-one-beat"] + with_both["notes-numbered-in-order"] == pytest.approx(1, abs=0.02)
    assert without["rest-counts-without-parentheses"] < 0.5


def test_who_acts_on_one_at_a_time_is_read_as_well() -> None:
    """Nobody knows which of the two ways a student takes: a set of two must be likely by both."""
    given = unit_forms(UNITS[1])
    quiz = ready_quiz(given, USUAL)
    (ready, *_) = quiz.forms.values()
    held = ("rests-take-no-time", "counting-goes-on-over-the-barline")
    found = []
    for together in (0.0, 1.0):
        students = [Student(held, slips=0.1, unknown=0.1, together=together)] * 40
        likely = weighed_by_prior(ready, answers_of(students, ready.acts, Random(2))).each()
        found.append(likely[:, [likely_name(quiz.sets.names, name) for name in held]].mean())
    assert abs(found[0] - found[1]) < 0.15


def likely_name(names: tuple[str, ...], name: str) -> int:
    return names.index(name)
