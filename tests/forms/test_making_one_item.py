"""One question becomes one item: how many wrong answers, which of them, and what the judge refuses. Common practice."""

from collections import Counter
from collections.abc import Callable, Mapping
from itertools import combinations
from random import Random

import pytest

from barwright.asks.ask import Offers, Question, Space
from barwright.blueprint.blueprint import Plan
from barwright.forms.item_making import made_item, makes_an_item
from barwright.forms.judging import Tally
from barwright.items.item import Answer
from forms.made_items import in_ask
from forms.made_parts import part, question

BEATS, FINISH = "beats-left", "finish-measure"
ASKED = question("4/4 q h _", "1", kind="number")
BLANK = question("4/4 q h _", "q")
FIVE = {"2": "a", "3": "b", "4": "c", "5": "d", "6": "e"}
# What is not spelt as numbers are, the judge refuses.
SPELT_WRONG = ("01", "02", "03", "04", "05", "06")


def typed(offers: Mapping[str, str]) -> Plan:
    """A part whose answers are typed: two wrong ones at least are foreseen, four at most."""
    return part([ASKED], ask=BEATS, offers=offers)


def picking(offers: Mapping[str, str], *, choices: int = 4) -> Plan:
    return in_ask(part([BLANK], drawn=[BLANK], offers=offers, choices=choices), sets=None)


def wrong(offers: Mapping[str, str], **wanted: object) -> dict[str, str] | None:
    """The wrong answers of the item, each with the misreading it is credited to; None if there is none."""
    return made(Tally(), offers, **wanted)


def made(tally: Tally, offers: Mapping[str, str], **wanted: object) -> dict[str, str] | None:
    order: dict[str, object] = {"fewer": 0, "tally": tally, "rng": Random(1), **wanted}
    found = made_item(typed(offers), ASKED, **order)
    return None if found is None else {c.answer.text: c.misreading for c in found.wrong}


def test_as_many_wrong_answers_are_foreseen_as_may_be_or_exactly_as_many_as_are_asked_for() -> None:
    assert len(wrong(FIVE) or ()) == 4
    assert len(wrong({"2": "a", "3": "b"}) or ()) == 2
    assert wrong({"2": "a"}) is None
    assert len(wrong(FIVE, wrong=3) or ()) == 3
    assert len(wrong(FIVE, wrong=1) or ()) == 1
    assert wrong({"2": "a", "3": "b"}, wrong=3) is None


def test_of_some_misreadings_only_each_has_its_answer() -> None:
    only = frozenset("bce")
    assert wrong(FIVE, only=only) == {"3": "b", "4": "c", "6": "e"}
    assert wrong({"3": "b", "4": "c", "5": "d"}, only=only) is None


def test_what_was_offered_what_the_form_owes_and_what_the_part_is_about_decide_which() -> None:
    tally = Tally(offered=Counter({"a": 3, "d": 1, "e": 1}))
    assert set((made(tally, FIVE, wrong=2) or {}).values()) == {"d", "e"}
    assert set((made(tally, FIVE, wrong=2, over={"c": -2, "b": -1}) or {}).values()) == {"b", "c"}
    about = made_item(
        part([ASKED], ask=BEATS, offers=FIVE, focus="a"), ASKED, fewer=0, tally=tally, rng=Random(1), wrong=1
    )
    assert about is not None
    assert [c.misreading for c in about.wrong] == ["a"]
    # Of two that were offered as often the one that shows on most other questions together with nothing else.
    sample = (frozenset("e"),) * 9
    assert set((made(tally, FIVE, wrong=1, sample=sample) or {}).values()) == {"e"}


def test_an_answer_that_the_judge_refuses_is_not_tried_again() -> None:
    tally = Tally()
    assert made(tally, {"01": "x", "2": "a", "3": "b"}) == {"2": "a", "3": "b"}
    assert (tally.judged, tally.refused, tally.short) == (2, {"not-canonical": 1}, 0)
    # One of the two that would do is refused, and nothing is left beside the other.
    tally = Tally()
    assert made(tally, {"01": "x", "2": "a"}) is None
    assert (tally.judged, tally.refused, tally.short) == (1, {"not-canonical": 1}, 1)
    assert made(tally, {"01": "x", "2": "a"}) is None
    assert tally.short == 2


def test_what_is_not_enough_is_never_judged() -> None:
    tally = Tally()
    assert made(tally, {"2": "a"}) is None
    # As many answers as are wanted, of one misreading.
    assert made(tally, {"2": "a", "3": "b", "4": "b"}, wrong=3) is None
    assert (tally.judged, tally.short) == (0, 2)


def test_a_question_whose_choices_are_picked_has_exactly_as_many_as_are_planned_or_asked_for() -> None:
    def count(offers: Mapping[str, str], *, fewer: int = 0, wrong: int = 0) -> int:
        found = made_item(picking(offers), BLANK, fewer=fewer, tally=Tally(), rng=Random(1), wrong=wrong)
        return 0 if found is None else len(found.wrong)

    four = {"h": "a", "e": "b", "q.": "c", "rh": "d"}
    assert (count(four), count(four, wrong=2)) == (3, 2)
    two = {"h": "a", "e": "b"}
    assert (count(two), count(two, fewer=1)) == (0, 2)


def test_what_two_misreadings_lead_to_together_is_a_choice_but_no_answer_that_is_foreseen() -> None:
    def both(text: str) -> Callable[[Question, Space], Offers]:
        return lambda asked, _space: {Answer(asked.keys[0].kind, text): ("a+b",)}

    a_part = in_ask(picking({"h": "a", "e": "b"}), pairs=both("q."))
    found = made_item(a_part, BLANK, fewer=0, tally=Tally(), rng=Random(1))
    assert found is not None
    assert [c.answer.text for c in found.wrong] == ["e", "h", "q."]
    a_part = in_ask(typed({"2": "a", "3": "b"}), pairs=both("4"))
    found = made_item(a_part, ASKED, fewer=0, tally=Tally(), rng=Random(1))
    assert found is not None
    assert [c.answer.text for c in found.wrong] == ["2", "3"]


def makes(a_part: Plan) -> bool:
    return makes_an_item(a_part, next(iter(a_part.ask.listed(a_part.space))), Random(1))


@pytest.mark.parametrize("offers", [FIVE, {"2": "a", "3": "b"}])
def test_a_question_of_which_an_item_can_be_made(offers: Mapping[str, str]) -> None:
    assert makes(typed(offers))


def test_a_question_of_which_none_can_be_made() -> None:
    assert not makes(typed({"2": "a"}))
    assert not makes(typed(dict.fromkeys(SPELT_WRONG, "a")))
    assert not makes(picking({"h": "a", "e": "b"}))


def test_where_only_some_sets_are_fair_one_of_these_must_do() -> None:
    """Three that would do each by itself, and no set of them that is held for fair."""
    a_part = picking({"h": "a", "e": "b", "q.": "c"})
    assert makes(a_part)
    assert makes(in_ask(a_part, sets=lambda _asked, offers, _space, _count, _rng: combinations(offers, 3)))
    assert not makes(in_ask(a_part, sets=lambda *_: iter(())))
