"""What a form in the making knows of itself, what may not join it, and that it forgets what is taken out again.

Worked by hand; rules are common practice (items of a form do not answer each other, no answer is right too often).
"""

from collections import Counter
from dataclasses import fields, replace

import pytest

from asks.spaces import space
from barwright.asks.ask import Question
from barwright.asks.own_rhythms import Own
from barwright.blueprint.blueprint import Plan
from barwright.forms.draft import Draft
from barwright.forms.judging import Tally
from barwright.forms.marks import Mark, item_marks
from barwright.forms.parallel import WHOLE, Trait
from barwright.forms.picked_items import Pool
from barwright.forms.ready_items import Stock, question_of
from barwright.forms.watch import Guessers, Watch
from barwright.items.difficulty import WEIGHTS, difficulty
from barwright.items.item import Answer, Item
from forms.made_items import item, plan

FINISH, BEATS, COUNTS, RHYTHM = "finish-measure", "beats-left", "write-counts", "rhythm-for-counts"
SPACE = space("w h q e rq", "4/4 3/4")
ONE = item(FINISH, "4/4 q h _", "q", "h <a>, e <b>")
SAME = item("beats-left", "4/4 q h _", "1", "2 <a>, 3 <b>")
OTHER = item(FINISH, "4/4 h q _", "q", "h <a>, w <c>")
HALVES = item(FINISH, "4/4 q q _", "h", "q <a>, w <c>")


def asked(ask: str, **more: int) -> Plan:
    return plan(ask, SPACE, **more)


def joined(draft: Draft, *items: Item) -> Draft:
    """The draft, which keeps these items."""
    for each in items:
        assert draft.keep(asked(each.ask), question_of(each), each) is each
    return draft


def draft_of(*items: Item, named: str = "") -> Draft:
    return joined(Draft("A", {}, named=tuple(named.split())), *items)


def meets(draft: Draft, other: Item) -> bool:
    return draft.meets(asked(other.ask), question_of(other))


def test_a_new_form_is_empty_and_its_choices_stand_as_they_come() -> None:
    draft = Draft("A", {})
    assert (draft.sum, draft.settling, draft.items, draft.lacking()) == (0, False, [], ())


def test_nothing_is_asked_twice_nor_what_may_not_be_used() -> None:
    draft = draft_of(ONE)
    assert meets(draft, ONE)
    assert not meets(draft, OTHER)
    # Nor an excerpt of `never`, nor a question that the section has had or that is retired; others are as before.
    draft = Draft("A", {}, never=frozenset({"4/4 q h _"}))
    assert (meets(draft, ONE), meets(draft, SAME), meets(draft, OTHER)) == (True, True, False)
    had = Stock(had={"A": frozenset({f"{FINISH} 4/4 q h _"})}, retired=frozenset({f"{FINISH} 4/4 h q _"}))
    draft = Draft("A", {}, stock=had)
    assert [meets(draft, each) for each in (ONE, SAME, OTHER, HALVES)] == [True, False, True, False]
    assert not meets(Draft("B", {}, stock=had), ONE)


def test_no_item_answers_another_whichever_comes_first() -> None:
    """A row that is shown tells how its measures are counted."""
    shown = item(RHYTHM, "4/4 q q h | w", "q q h | w", "q q q | w <a>, w | w <b>")
    counted = item(COUNTS, "4/4 q q h", "1 2 3-4", "1 2 3 <a>, 1 2 <b>")
    assert meets(draft_of(shown), counted)
    assert meets(draft_of(counted), shown)
    assert not meets(draft_of(shown), item(COUNTS, "4/4 h q q", "1-2 3 4", "1 2 3 <a>, 1 2 <b>"))


def test_an_excerpt_may_stand_in_another_form_or_in_this_one_already() -> None:
    draft = Draft("A", {"4/4 q h _": "B", "4/4 h q _": "A"})
    assert [draft.elsewhere(question_of(each)) for each in (ONE, OTHER, HALVES)] == [True, False, False]
    draft = draft_of(SAME)
    assert [draft.repeats(question_of(each)) for each in (ONE, OTHER)] == [True, False]


VALUE, ANSWER = Trait(FINISH, "values", "h"), Trait(FINISH, "answers", "1/4 of a whole note")
TWIN, EXCERPT, SLIGHT, KEY = (Mark(kind, FINISH, "x") for kind in ("twin", "excerpt", "slight", "key"))


@pytest.mark.parametrize(
    ("due", "shown", "traits", "unlike"),
    [
        (1, 0, [VALUE], -1),
        (1, 1, [VALUE], 1),
        (2, 1, [VALUE], -1),
        (1, 2, [VALUE], 1),
        (1, 0, [ANSWER], -5),
        (1, 1, [ANSWER], 5),
        (1, 0, [VALUE, ANSWER], -6),
    ],
)
def test_a_trait_that_the_first_form_has_oftener_makes_this_one_liker(
    due: int, shown: int, traits: list[Trait], unlike: int
) -> None:
    """By one, by five if it is an answer; one that it has no oftener makes it as much less like."""
    draft = Draft("A", {})
    draft.due.update(dict.fromkeys((VALUE, ANSWER), due))
    draft.shown.update(dict.fromkeys((VALUE, ANSWER), shown))
    assert draft.unlike(frozenset(traits)) == unlike
    assert draft.meeting(frozenset(traits)) == 0


def test_what_should_not_meet_weighs_where_it_stands_already_and_what_is_hardly_worth_asking_anyway() -> None:
    draft = Draft("A", {})
    every = frozenset({TWIN, EXCERPT, SLIGHT, KEY})
    assert draft.unlike(every) == draft.meeting(every) == 15
    draft.shown.update({TWIN: 1, EXCERPT: 2, SLIGHT: 3, KEY: 4})
    for marks, weight in (({TWIN}, 30), ({EXCERPT}, 12), ({SLIGHT}, 15), ({KEY}, 0), (every, 57)):
        assert draft.unlike(frozenset(marks)) == draft.meeting(frozenset(marks)) == weight
    draft.due[VALUE] = 1
    assert draft.unlike(every | {VALUE}) == 56


def test_what_the_cells_have_oftener_than_the_form_is_owed() -> None:
    """In the ask, and in all asks together; nothing else is told of a cell."""
    draft = draft_of()
    draft.expect(item_marks(asked(FINISH), ONE, ()))
    assert (draft.over(FINISH), draft.over(WHOLE), draft.over(BEATS)) == ({"a": -1, "b": -1}, {"a": -1, "b": -1}, {})
    assert draft.due[Trait(FINISH, "values", "h")] == 1
    joined(draft, OTHER)
    assert draft.over(FINISH) == {"a": 0, "b": -1, "c": 1}
    assert draft.unlike(frozenset({Trait(FINISH, "misreadings", "b")})) == -1


def test_a_named_misreading_lacks_chances_until_it_has_four_and_two_apart_from_each_other() -> None:
    by_itself = [item(FINISH, f"4/4 {text} _", "q", "h <a>, e <b>") for text in ("q h", "h q", "e e h", "h e e")]
    every = {("a", "a"), ("a", "d"), ("d", "a"), ("d", "d")}
    assert set(draft_of(*by_itself[:1], named="a d").lacking()) == every
    assert set(draft_of(*by_itself[:2], named="a d").lacking()) == every - {("a", "d")}
    assert set(draft_of(*by_itself[:3], named="a d").lacking()) == every - {("a", "d")}
    assert set(draft_of(*by_itself, named="a d").lacking()) == {("d", "a"), ("d", "d")}


def often(ask: str, keys: dict[str, int], asked_about: str) -> bool:
    """Whether a question is right too often in a form whose items had these keys so often."""
    draft, kind = Draft("A", {}), asked(ask).ask.answer
    for key, count in keys.items():
        for number in range(count):
            text = " ".join(["e"] * number + [key if kind == "symbols" else "q"])
            wrong = "w <a>, h. <b>" if kind == "symbols" else "7 <a>, 8 <b>"
            joined(draft, item(ask, f"4/4 {text} _", key, wrong))
    answers = tuple(Answer(kind, each) for each in asked_about.split(", "))
    return draft.too_often(asked(ask), Question(ONE.excerpt, answers))


@pytest.mark.parametrize(
    ("keys", "too_often"),
    [
        ({}, False),
        ({"h": 1}, False),
        ({"q": 1}, True),
        ({"q": 1, "h": 1}, True),
        ({"q": 1, "h": 2}, False),
        ({"q": 2, "h": 3}, True),
        ({"q": 2, "h": 4}, False),
    ],
)
def test_no_key_is_right_in_more_than_a_third_of_an_ask(keys: dict[str, int], too_often: bool) -> None:
    assert often(FINISH, keys, "q") is too_often
    # Of several right answers any.
    assert often("all-that-fit", keys, "q") is too_often
    assert often("all-that-fit", keys, "e, q") is too_often


@pytest.mark.parametrize(
    ("keys", "too_often"), [({"2": 1}, False), ({"1": 1, "2": 3}, True), ({"1": 1, "2": 4}, False), ({"1": 1}, True)]
)
def test_no_number_would_be_right_in_more_than_a_third(keys: dict[str, int], too_often: bool) -> None:
    """Once in four, it would be twice in five; once in five, twice in six."""
    assert often(BEATS, keys, "1") is too_often


def test_what_is_kept_counts_in_the_form() -> None:
    wrong = item(RHYTHM, "4/4 w", "w", "q q q <a>, h h <b>")
    draft = draft_of(ONE, wrong)
    assert draft.items == [ONE, wrong]
    assert draft.tally.offered == {"a": 2, "b": 2}
    assert draft.tally.rhythms == {Answer("measures", "q q q"): 1, Answer("measures", "h h"): 1}
    assert draft.taken == {"4/4 q h _": "A", "4/4 w": "A"}
    assert draft.sum == sum(difficulty(each.excerpt, WEIGHTS) for each in (ONE, wrong)) > 0
    assert draft.marks_of(ONE) == item_marks(asked(FINISH), ONE, ())
    assert draft.shown == Counter([*draft.marks_of(ONE), *draft.marks_of(wrong)])
    assert draft.shared == []


def test_an_excerpt_that_another_form_has_is_noted() -> None:
    draft = joined(Draft("A", {"4/4 q h _": "B"}), ONE, OTHER)
    assert draft.shared == ["4/4 q h _"]
    assert draft.taken == {"4/4 q h _": "B", "4/4 h q _": "A"}


@pytest.mark.parametrize(("settling", "pool", "won"), [(False, True, 1), (True, False, 1), (True, True, 0)])
def test_choices_that_are_taken_later_win_nothing_yet(settling: bool, pool: bool, won: int) -> None:
    draft = Draft("A", {}, settling=settling, pools={ONE.id: Pool()} if pool else {})
    joined(draft, ONE)
    assert draft.guessers.ledger.whole.items == won


def test_a_form_takes_its_share_of_a_teachers_own_excerpts_of_each_length() -> None:
    part = replace(asked(FINISH), own=Own(SPACE, 2))
    longer = replace(part, space=replace(SPACE, measures=2))
    draft = Draft("A", {})
    for each, shares in ((ONE, (False, False)), (OTHER, (True, False))):
        assert draft.keep_own(part, question_of(each), each) is each
        assert (draft.has_share(part), draft.has_share(longer)) == shares
    assert draft.items == [ONE, OTHER]
    assert draft.has_share(asked(FINISH))


def counted(value: object) -> object:
    """What is counted without what is there no longer; what was won of how many items; a copy of what grows."""
    if isinstance(value, dict):
        return {name: counted(each) for name, each in value.items() if counted(each)}
    if isinstance(value, Guessers):
        won = value.ledger.whole
        return won.items, won.chance, counted(value.watch.right), counted(value.watch.mixes)
    if isinstance(value, Tally):
        return counted(value.offered), counted(value.rhythms)
    return list(value) if isinstance(value, list) else value


def known(draft: Draft) -> dict[str, object]:
    """All that a form knows."""
    return {each.name: counted(getattr(draft, each.name)) for each in fields(draft) if each.name != "sheets"}


@pytest.mark.parametrize(
    "gone",
    [
        HALVES,
        SAME,  # whose excerpt stands in the form already
        item(FINISH, "4/4 e e h _", "q", "h <a>, w <c>"),  # whose excerpt another form has
        item(RHYTHM, "4/4 w", "w", "q q q <a>, h h <b>"),
        item("all-that-fit", "4/4 h _", "h, q q", "e <a>, w <b>"),
    ],
)
def test_a_form_forgets_what_is_taken_out(gone: Item) -> None:
    draft = joined(Draft("A", {"4/4 e e h _": "B"}, named=("a", "b")), ONE)
    before = known(draft)
    joined(draft, gone)
    assert known(draft) != before
    draft.release(replace(gone))
    assert known(draft) == before
    # The first one, too, and the one that came after stays.
    joined(draft, gone).release(ONE)
    assert known(draft) == known(joined(Draft("A", {"4/4 e e h _": "B"}, named=("a", "b")), gone))


def test_variants_meet_what_others_of_the_form_forbid_and_not_each_other() -> None:
    """A student sees one of them; the excerpt of the first is not asked again."""
    counted = item(COUNTS, "4/4 q q h", "1 2 3-4", "1 2 3 <a>, 1 2 <b>")
    shown = item(RHYTHM, "4/4 q q h | w", "q q h | w", "q q q | w <a>, w | w <b>")
    watch = Watch()
    draft = Draft("A", {}, never=frozenset({"4/4 q q _"}), named=("a",), guessers=Guessers(watch))
    joined(draft, ONE, counted)
    apart = draft.beside(ONE)
    assert [meets(apart, each) for each in (ONE, OTHER, counted, shown, HALVES)] == [True, False, True, True, True]
    assert not meets(draft.beside(counted), shown)
    assert meets(draft_of(ONE, shown).beside(ONE), counted)
    assert (apart.items, apart.sum, apart.named, apart.guessers.watch is watch) == ([], 0, ("a",), True)
    assert meets(joined(apart, OTHER), OTHER)
    assert draft.items == [ONE, counted]
    assert draft.taken["4/4 h q _"] == "A"


def test_what_variants_forbid_and_how_often_was_judged_is_taken_over() -> None:
    draft = draft_of(ONE)
    draft.tally.judged, draft.tally.short, draft.tally.refused["a"] = 1, 1, 1
    apart = draft.beside(ONE)
    shown = item(RHYTHM, "4/4 q q h | w", "q q h | w", "q q q | w <a>, w | w <b>")
    joined(apart, OTHER, shown)
    apart.tally.judged, apart.tally.short, apart.tally.refused["a"] = 4, 3, 2
    draft.absorb(apart)
    counted = item(COUNTS, "4/4 q q h", "1 2 3-4", "1 2 3 <a>, 1 2 <b>")
    assert meets(draft, OTHER)
    assert meets(draft, counted)
    assert (draft.tally.judged, draft.tally.short, draft.tally.refused) == (5, 4, {"a": 3})
    assert draft.items == [ONE]
    assert draft.sum == difficulty(ONE.excerpt, WEIGHTS)
