"""Counting rules: the class's conventions are printed, as far as the item shows them, in any meter."""

import re
from typing import Literal

import pytest
from sample_items import made

from barwright.counting.counts import count_labels, format_row
from barwright.rhythm.conventions import Conventions, Counting, convention_values
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt
from barwright.wording.counting_rules import beats_rule, counting_rules, rule_ids
from barwright.wording.language import language
from barwright.wording.scene import scene_of

ENGLISH = language("en-US")


def rules(excerpt: str, **conventions: str) -> str:
    item = made("write-counts", excerpt, ["1"], {}, conventions=Conventions(**conventions))
    return counting_rules(item, scene_of(item, 1, ENGLISH), ENGLISH)


def test_everything_that_beginners_meet() -> None:
    assert rules("3/4 h rq | q rq q") == (
        "Count the beats with numbers. A hyphen joins the counts of a long note or rest. Put rests in parentheses. "
        "Start again at 1 after each barline."
    )


def test_rests_in_kodaly_style_words() -> None:
    assert rules("2/4 q rq", counting="kodaly") == "Use ta and our other rhythm words. Say sh for a rest."
    marked = rules("2/4 q rq", counting="kodaly", kodaly_rests="marked")
    assert marked == "Use ta and our other rhythm words. Put rests in parentheses."


def test_only_what_can_be_seen_is_told() -> None:
    assert rules("4/4 q q q q") == "Count the beats with numbers."
    assert rules("4/4 h h") == "Count the beats with numbers. A hyphen joins the counts of a long note."
    assert "A hyphen joins" in rules("2/4 e q e")  # no longer than a beat, and yet held over one
    assert rules("4/4 q q q q | q q q q") == "Count the beats with numbers. Start again at 1 after each barline."


def test_over_eight_counts_are_told_in_eighth_notes_or_big_beats() -> None:
    assert rules("6/8 e e e e e e", compound="bottom") == "Count every eighth note with a number."
    assert rules("6/8 e e e e e e") == "Count the big beats with numbers. Split a beat as 1 la li."
    assert "1 & a" in rules("6/8 e e e e e e", compound="beat_and_a")
    assert rules("6/8 q. q.", compound="bottom").startswith("Count every eighth note with a number. A hyphen joins")
    assert rules("6/8 q. q.") == "Count the big beats with numbers. Split a beat as 1 la li."


@pytest.mark.parametrize(
    ("excerpt", "conventions", "split"),
    [("4/4 h q q", {}, ""), ("4/4 h e e q", {}, "Split a beat as 1 &."),
     ("4/4 h s s e q", {}, "Split a beat as 1 e & a."),
     ("4/4 h e. s q", {}, "Split a beat as 1 e & a."), ("4/4 h et et et q", {}, ""),
     ("2/2 h h", {}, ""), ("2/2 h q q", {}, "Split a beat as 1 &."), ("2/2 h q. e", {}, "Split a beat as 1 e & a."),
     ("6/8 q. e s s e", {}, "Split a beat as 1 ta la ta li ta."),
     ("6/8 q. e s s e", {"compound": "beat_and_a"}, "Split a beat as 1 ta & ta a ta."),
     ("6/8 q. e s s e", {"compound_16ths": "none"}, "Split a beat as 1 la li. Notes in between get no count."),
     ("6/8 q. e s s e", {"compound": "bottom"}, "Split a count as 1 &."), ("3/8 e e e", {}, ""),
     ("3/8 e s s e", {}, "Split a count as 1 &.")],
)  # fmt: skip
def test_a_beat_is_split_as_far_as_the_item_shows(excerpt: str, conventions: dict[str, str], split: str) -> None:
    told = ". ".join(
        s for s in rules(excerpt, **conventions).split(". ") if s.startswith(("Split", "Notes in between"))
    )
    assert told.rstrip(".") == split.rstrip(".")


@pytest.mark.parametrize(
    ("excerpt", "counting", "words"),
    [("4/4 q q q q", "gordon", "du, de"), ("6/8 q. q.", "gordon", "du, da, di"),
     ("5/8 q q.", "gordon", "du, ba, bi, be"),
     ("6/8 q. e s s e", "gordon", "du, ta, da, di"), ("2/2 h q q", "gordon", "du, de"),
     ("2/4 et et et q", "gordon", "du, de, da, di"), ("2/4 q e e", "takadimi", "ta, di"),
     ("2/4 q s s e", "takadimi", "ta, ka, di, mi"), ("6/8 q. q.", "takadimi", "ta, ki, da"),
     ("4/4 h h", "eastman", "numbers, te"), ("6/8 q. q.", "eastman", "numbers, la, li"),
     ("4/4 h s s e q", "eastman", "numbers, ta, te"), ("6/8 e e e q.", "kodaly", "ta, ti")],
)  # fmt: skip
def test_rhythm_words_are_those_of_the_meter_and_of_the_values_shown(excerpt: str, counting: str, words: str) -> None:
    assert rules(excerpt, counting=counting) == f"Use {words} and our other rhythm words."


BY_PLACE: tuple[Counting, ...] = ("numbers", "gordon", "takadimi", "eastman")


def test_every_label_of_a_row_is_in_its_rule() -> None:
    """In every meter and system but kodaly, whose words go by length; additive meters by their groups."""
    for text in ("4/4 h re e q", "4/4 s s e q~ e e rq", "6/8 q. re e e", "6/8 q e s s e e", "2/2 h q. e", "3/8 e s s e",
                 "9/8 q. rq. e e e", "5/8 q q.", "2/4 et et et q", "2/2 h e e e e"):  # fmt: skip
        for counting in BY_PLACE:
            conventions = Conventions(counting=counting)
            row = format_row(count_labels(parse_excerpt(text), conventions))
            known = set(re.findall(r"[a-z]+|&", rules(text, counting=counting)))
            assert set(re.findall(r"[a-z]+|&", row)) <= known, (text, row)


def test_parts_of_beats_written_out_are_named() -> None:
    assert "Show each & too" in rules("2/2 h h", held="subdivisions")
    assert "Show each la and li too" in rules("6/8 q. q.", held="subdivisions")
    assert "Show" not in rules("3/8 q e", held="subdivisions")


def test_rules_of_a_row_that_is_read_tell_what_its_signs_mean() -> None:
    def told(rest_counts: Literal["parentheses", "strike"]) -> str:
        conventions = Conventions(rest_counts=rest_counts)
        item = made("rhythm-for-counts", "3/4 q rq q", ["q rq q"], {}, conventions=conventions)
        return counting_rules(item, scene_of(item, 1, ENGLISH), ENGLISH)

    assert told("parentheses").endswith("A count in parentheses is a rest.")
    assert told("strike").endswith("A crossed-out count is a rest.")
    assert told("R").endswith("The sign R is a rest.")


@pytest.mark.parametrize(
    ("meter", "conventions", "rule"),
    [("2/4", {}, "system.numbers"), ("2/2", {}, "beats.in-two"), ("2/2", {"cut_time": "in_four"}, "beats.in-four"),
     ("3/8", {}, "beats.eighths"), ("3/8", {"three_eight": "in_one"}, "beats.in-one"), ("5/8", {}, "beats.eighths"),
     ("9/8", {}, "beats.compound")],
)  # fmt: skip
def test_which_note_gets_a_number(meter: str, conventions: dict[str, str], rule: str) -> None:
    assert beats_rule(parse_meter(meter), Conventions(**conventions)) == rule


def test_other_conventions_have_other_rules() -> None:
    assert rules("4/4 h rh", rest_counts="R").endswith("Mark a rest with R.")
    assert rules("4/4 h rh", rest_counts="strike").endswith("Cross out the counts of rests.")
    assert "only where it starts" in rules("4/4 h h", held="onset_only")
    assert "Show each & too" in rules("4/4 q q q q", held="subdivisions")
    assert "1 trip let" in rules("2/4 et et et q", triplet="trip_let")
    assert rules("4/4 h h", counting="kodaly") == "Use ta and our other rhythm words."


def test_every_value_of_every_counting_convention_has_its_rule() -> None:
    for text in ("4/4 h re e et et et", "6/8 q. re e e", "2/2 h rh", "3/8 q re", "5/8 h re"):
        for name in ("counting", "held", "triplet", "compound", "rest_counts", "cut_time", "three_eight"):
            for value in convention_values()[name]:
                item = made(
                    "write-counts",
                    f"{text} | {text.split(' ', 1)[1]}",
                    ["1"],
                    {},
                    conventions=Conventions(**{name: value}),
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
