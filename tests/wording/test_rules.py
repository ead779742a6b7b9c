"""Counting rules: the class's conventions are printed, as far as the item shows them, in any meter."""

import pytest
from sample_items import made

from barwright.rhythm.conventions import Conventions, convention_values
from barwright.rhythm.meter import parse_meter
from barwright.wording.language import language
from barwright.wording.rules import beats_rule, counting_rules, rule_ids
from barwright.wording.scene import scene_of

ENGLISH = language("en-US")


def rules(excerpt: str, **house: str) -> str:
    item = made("write-counts", excerpt, ["1"], {}, house=Conventions(**house))
    return counting_rules(item, scene_of(item, 1, ENGLISH), ENGLISH)


def test_everything_that_beginners_meet() -> None:
    assert rules("3/4 h rq | q rq q") == (
        "Count the beats with numbers. A hyphen joins the counts of a long note or rest. Put rests in parentheses. "
        "Start again at 1 after each barline."
    )


def test_only_what_can_be_seen_is_told() -> None:
    assert rules("4/4 q q q q") == "Count the beats with numbers."
    assert rules("4/4 h h") == "Count the beats with numbers. A hyphen joins the counts of a long note."
    assert rules("4/4 q q q q | q q q q") == "Count the beats with numbers. Start again at 1 after each barline."


def test_over_eight_counts_are_told_in_eighth_notes_or_big_beats() -> None:
    assert rules("6/8 e e e e e e", compound="bottom") == "Count every eighth note with a number."
    assert rules("6/8 e e e e e e") == "Count the big beats with numbers. Split a beat as 1 la li."
    assert "1 & a" in rules("6/8 e e e e e e", compound="beat_and_a")
    assert rules("6/8 q. q.", compound="bottom").startswith("Count every eighth note with a number. A hyphen joins")
    assert rules("6/8 q. q.") == "Count the big beats with numbers. Split a beat as 1 la li."


@pytest.mark.parametrize(
    ("meter", "house", "rule"),
    [("2/4", {}, "system.numbers"), ("2/2", {}, "beats.in-two"), ("2/2", {"cut_time": "in_four"}, "beats.in-four"),
     ("3/8", {}, "beats.eighths"), ("3/8", {"three_eight": "in_one"}, "beats.in-one"), ("5/8", {}, "beats.eighths"),
     ("9/8", {}, "beats.compound")],
)  # fmt: skip
def test_which_note_gets_a_number(meter: str, house: dict[str, str], rule: str) -> None:
    assert beats_rule(parse_meter(meter), Conventions(**house)) == rule


def test_other_conventions_have_other_rules() -> None:
    assert rules("4/4 h rh", rest_counts="R").endswith("Mark a rest with R.")
    assert rules("4/4 h rh", rest_counts="strike").endswith("Cross out the counts of rests.")
    assert "only where it starts" in rules("4/4 h h", held="onset_only")
    assert "Show each & too" in rules("4/4 q q q q", held="subdivisions")
    assert "1 trip let" in rules("2/4 et et et q", triplet="trip_let")
    assert rules("4/4 h h", counting="kodaly") == "Use ta, ti and our other rhythm words."


def test_every_value_of_every_counting_convention_has_its_rule() -> None:
    for text in ("4/4 h re e et et et", "6/8 q. re e e", "2/2 h rh", "3/8 q re", "5/8 h re"):
        for name in ("counting", "held", "triplet", "compound", "rest_counts", "cut_time", "three_eight"):
            for value in convention_values()[name]:
                item = made(
                    "write-counts", f"{text} | {text.split(' ', 1)[1]}", ["1"], {}, house=Conventions(**{name: value})
                )
                assert counting_rules(item, scene_of(item, 1, ENGLISH), ENGLISH)


def test_rules_do_not_depend_on_the_key() -> None:
    one = made("write-counts", "4/4 h rq q", ["1-2 (3) 4"], {})
    other = made("write-counts", "4/4 h rq q", ["x"], {})
    assert rule_ids(one) == rule_ids(other)


def test_a_sign_that_only_a_wrong_choice_shows_has_its_rule() -> None:
    wrong = {"1-2 3 4": "separate-notes-joined-by-hyphens", "(1) 2 3 4": "parentheses-around-the-notes"}
    item = made("counts-for-rhythm", "4/4 q q q q", ["1 2 3 4"], wrong)
    assert rule_ids(item) == ("system.numbers", "held.beats", "rests.parentheses")
    typed = made("write-counts", "4/4 q q q q", ["1 2 3 4"], wrong)
    assert rule_ids(typed) == ("system.numbers",)
