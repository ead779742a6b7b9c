"""Which items of a tiny form are exchanged, in which order, and when it is enough; by hand. Common practice."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import pytest

from asks.spaces import space
from barwright.blueprint.blueprint import Plan
from barwright.errors import CapacityError
from barwright.forms import balance
from barwright.forms.balance import balanced, steadied
from barwright.forms.choosing import Candidate
from barwright.forms.draft import Draft
from barwright.forms.parallel import WHOLE, Trait, spread_of
from barwright.forms.picked_items import Pool
from barwright.forms.questions import cell_of
from barwright.forms.ready_items import question_of
from barwright.forms.scales import Aim, Scales
from barwright.forms.sheets import Sheets
from barwright.items.item import Answer, Item
from forms.made_items import item, plan
from forms.made_parts import MANY, part, question

FINISH = plan("finish-measure", space("w h. h q. q e rh rq re", "4/4"), items=3)

TWICE = [
    item("finish-measure", "4/4 q h _", "q", "h <dots-passed-over>, w <rests-take-no-time>"),
    item("finish-measure", "4/4 _ h q", "q", "h <dots-passed-over>, w <rests-take-no-time>"),
]


def desk_of(*items: Item) -> Draft:
    draft = Draft("A", {}, sheets=Sheets("seed"))
    for each in items:
        draft.keep(FINISH, question_of(each), each)
    return draft


def twice(draft: Draft) -> bool:
    """Whether a mirror image stands in the form."""
    return any(count > 1 for mark, count in draft.shown.items() if mark.kind == "twin")


def test_a_mirror_image_is_exchanged_in_a_first_form() -> None:
    draft = desk_of(*TWICE)
    assert twice(draft)
    found = steadied(draft, [FINISH, FINISH])
    assert not twice(draft)
    assert sorted(each.id for each in found) == sorted(each.id for each in draft.items)
    assert draft.bent == {}
    assert draft.sum == sum(draft._marks[each.id][1] for each in found)


def test_the_first_place_to_be_tried_is_exchanged_and_the_others_stay() -> None:
    for first in (0, 1):
        draft = desk_of(*TWICE)
        cells = [cell_of(each, FINISH) for each in TWICE]
        found = balanced(
            draft, [FINISH] * 2, cells, dict(enumerate(TWICE)), (first, 1 - first), beside=[spread_of(TWICE)]
        )
        assert not twice(draft)
        assert found[first] not in TWICE
        assert found[1 - first] == TWICE[1 - first]


def test_items_about_own_excerpts_stay() -> None:
    draft = desk_of(*TWICE)
    draft.own.update({each.id: 1 for each in TWICE})
    assert steadied(draft, [FINISH, FINISH]) == TWICE


A, B, C = "dots-passed-over", "rests-take-no-time", "every-symbol-is-one-beat"
BEATS = "beats-left"
HALF = Trait(BEATS, "values", "h")
WITH_HALF = item(BEATS, "4/4 q h _", "1", f"2 <{A}>, 3 <{B}>")
WITHOUT = item(BEATS, "4/4 q e e q _", "1", f"2 <{A}>, 3 <{B}>")
BETTER = question("4/4 q q q _", "1", kind="number")
IN_THREE = question("3/4 q q _", "1", kind="number")


@dataclass(frozen=True)
class Desk:
    """A form on the scales that is as it should be but for what is named; its items lie in places from 0."""

    draft: Draft
    plans: Sequence[Plan]
    items: Sequence[Item]
    aim: Aim

    def exchanged(self, places: Sequence[int], again: int = 4) -> list[Item]:
        cells = [cell_of(*each) for each in zip(self.items, self.plans, strict=True)]
        placed = dict(enumerate(self.items))
        scales = Scales(self.aim, self.draft)
        found = balance._exchanged(self.draft, self.plans, cells, placed, places, scales, again)
        assert placed == dict(enumerate(self.items))
        return [found[place] for place in sorted(found)]

    def mended(self, beside: Mapping[Trait, int]) -> list[Item]:
        cells = [cell_of(*each) for each in zip(self.items, self.plans, strict=True)]
        placed, places = dict(enumerate(self.items)), range(len(self.items))
        spreads = [Counter(beside)]
        found = balance._mended(self.draft, self.plans, cells, placed, places, self.aim, spreads)
        return [found[place] for place in sorted(found)]


def desk(*placed: tuple[Plan, Item], most: Mapping[Trait, int], judged: int = 0) -> Desk:
    draft = Draft("A", {}, sheets=Sheets("seed", common="all"))
    for a_part, each in placed:
        draft.keep(a_part, question_of(each), each)
    draft.tally.judged = judged
    shown = {mark: count for mark, count in draft.shown.items() if isinstance(mark, Trait)}
    sizes = Counter(name for a_part, _ in placed for name in (a_part.ask.id, WHOLE))
    aim = Aim({}, {**shown, **most}, shown, draft.sum, sizes, {})
    return Desk(draft, [a_part for a_part, _ in placed], [each for _, each in placed], aim)


TYPED = part([BETTER], ask=BEATS, offers={"2": A, "3": B, "4": C}, meters="4/4 3/4", even=True)
LATER = part([IN_THREE], ask=BEATS, offers={"2": A, "3": B, "4": C}, meters="4/4 3/4", even=True)
NONE = {HALF: 0}


def questions(items: Sequence[Item]) -> list[str]:
    return [question_of(each).text for each in items]


@pytest.mark.parametrize(("judged", "text"), [(5, BETTER.text), (6, "4/4 q h _")])
def test_nothing_is_exchanged_after_three_were_judged_for_each_place(judged: int, text: str) -> None:
    both = desk((TYPED, WITH_HALF), (TYPED, WITHOUT), most=NONE, judged=judged)
    assert questions(both.exchanged([0])) == [text, "4/4 q e e q _"]


@pytest.mark.parametrize(("before", "text"), [(199, BETTER.text), (200, "4/4 q h _")])
def test_two_hundred_places_are_looked_at(before: int, text: str) -> None:
    both = desk((TYPED, WITH_HALF), (TYPED, WITHOUT), most=NONE)
    assert questions(both.exchanged([*[1] * before, 0])) == [text, "4/4 q e e q _"]


def test_items_of_own_excerpts_are_passed_over() -> None:
    other = item(BEATS, "4/4 h q _", "1", f"2 <{A}>, 3 <{B}>")
    both = desk((TYPED, WITH_HALF), (TYPED, other), most=NONE)
    both.draft.own[WITH_HALF.id] = 1
    assert questions(both.exchanged([0, 1])) == ["4/4 q h _", BETTER.text]


def test_picked_items_are_exchanged_in_some_rounds_only_typed_ones_in_all() -> None:
    better = question("4/4 e e q q _")
    a_part = part([better], offers={"h": A, "w": B}, choices=3, even=True)
    picked = item("finish-measure", "4/4 q h _", "q", f"h <{A}>, w <{B}>")
    most = {Trait("finish-measure", "values", "h"): 0, **NONE}
    for again, texts in ((0, ["4/4 q h _", BETTER.text]), (1, [better.text, BETTER.text])):
        assert questions(desk((a_part, picked), (TYPED, WITH_HALF), most=most).exchanged([0, 1], again)) == texts


def test_a_second_round_comes_always_and_more_as_long_as_they_help() -> None:
    """In the first round a question has to be in the meter of its cell; from the third on wrong answers may change.

    `A` stands twice and should stand once, `C` twice and may once more: on the second item's question nothing but `A`
    and `B` leads anywhere, and on the other one it costs more than it helps until other wrong answers may come.
    """
    assert questions(desk((LATER, WITH_HALF), most=NONE).exchanged([0])) == [IN_THREE.text]
    second = item(BEATS, "4/4 q e e q _", "1", f"2 <{A}>, 3 <{B}>")
    rest = question("4/4 q e e rq _", "1", kind="number")
    third = part(
        [rest], ask=BEATS, offers={"2": A, "3": B, "4": C}, on={"4/4 q e e q _": {"2": A, "3": B}}, even=True
    )  # fmt: skip
    often = {Trait(BEATS, "misreadings", A): 1, **{Trait(of, "misreadings", C): 3 for of in (BEATS, WHOLE)}}
    first = part([IN_THREE], ask=BEATS, offers={"2": A, "3": B}, meters="4/4 3/4", even=True)
    others = [item(BEATS, f"4/4 {text} _", "1", f"3 <{B}>, 4 <{C}>") for text in ("e q e q", "e q q e")]
    form = (first, WITH_HALF), (third, second), *((TYPED, each) for each in others)
    assert desk(*form, most=often).exchanged([0, 1]) == [WITH_HALF, second, *others]
    moving = desk(*form, most={**often, **NONE}).exchanged([0, 1])
    assert questions(moving)[:2] == [IN_THREE.text, rest.text]


def test_what_is_unlike_the_other_forms_is_mended_and_nothing_else() -> None:
    """There is room for one: to halves in two items, none of which another form has, and not to those in one."""
    other = item(BEATS, "4/4 h q _", "1", f"2 <{A}>, 3 <{B}>")
    both = desk((TYPED, WITH_HALF), (TYPED, other), most=NONE)
    as_they_are = spread_of(both.items)
    assert both.mended(as_they_are) == both.items
    found = both.mended(as_they_are - Counter({HALF: 2}))
    assert questions(found) == [BETTER.text, "4/4 h q _"]


def test_to_mend_it_other_questions_are_drawn() -> None:
    """Those on the sheet, each as the first item, are no help.

    For a part of one item 56 were drawn for all forms, then 56 for this one, since the first were too much alike.
    """
    many = [replace(each, keys=(Answer("number", "1"),)) for each in MANY]
    same = question_of(WITH_HALF)
    a_part = part(
        many, ask=BEATS, offers={"2": A, "3": B}, drawn=[*[same] * 112, *[BETTER] * 56], items=1, even=True
    )  # fmt: skip
    other = item(BEATS, "4/4 h q _", "1", f"2 <{A}>, 3 <{B}>")
    both = desk((a_part, WITH_HALF), (a_part, other), most=NONE)
    assert [each.question for each in both.draft.sheets.of(a_part)] == [same]
    assert questions(both.mended(spread_of(both.items) - Counter({HALF: 2}))) == [BETTER.text, "4/4 h q _"]


def test_of_a_first_form_nothing_is_noted() -> None:
    """A form of one item in 4/4 is exchanged for the usual, which is in 3/4."""
    usual = [replace(each, keys=(Answer("number", "1"),)) for each in (BETTER, IN_THREE)]
    a_part = part(usual, ask=BEATS, offers={"2": A, "3": B}, drawn=[IN_THREE], meters="4/4 3/4", items=1, even=True)
    form = [item(BEATS, text, "1", f"2 <{A}>, 3 <{B}>") for text in ("4/4 q h _", "4/4 h q _", "4/4 h e e _")]
    draft = desk(*((a_part, each) for each in form), most={}).draft
    found = steadied(draft, [a_part] * 3)
    assert IN_THREE.text in questions(found)
    assert draft.bent == {}


def settling(sets: str, *, listed: Sequence[str], offers: Mapping[str, str]) -> dict[int, Item]:
    """What becomes of a form of one item whose wrong choices are open."""
    a_part = part([question(text) for text in listed], offers=offers, choices=3, items=1, even=True)
    one = item("finish-measure", "4/4 q h _", "q", f"h <{A}>, w <{B}>")
    draft = Draft("A", {}, sheets=Sheets("seed"), settling=True)
    chosen = tuple(Candidate(Answer("symbols", text), (way,)) for text, way in zip(sets.split(), (A, B), strict=True))
    draft.pools[one.id] = Pool((chosen,))
    draft.keep(a_part, question_of(one), one)
    found = balanced(draft, [a_part], [cell_of(one, a_part)], {0: one}, [0], beside=[spread_of([one])])
    assert not draft.settling
    assert list(found.values()) == draft.items
    return found


def test_open_choices_are_taken_and_where_none_are_accepted_another_question_comes() -> None:
    assert questions([settling("h w", listed=["4/4 q h _"], offers={"h": A, "w": B})[0]]) == ["4/4 q h _"]
    # Sixteenths were never taught.
    found = settling("h s", listed=["4/4 h q _"], offers={"h": A, "w": B})[0]
    assert questions([found]) == ["4/4 h q _"]
    assert [choice.answer.text for choice in found.wrong] == ["h", "w"]


def test_where_no_other_question_is_left_it_is_told_what_can_be_done() -> None:
    with pytest.raises(CapacityError) as told:
        settling("h s", listed=["4/4 h q _"], offers={"h": A, "s": B})
    assert str(told.value) == (
        "for an item of 'finish-measure' no wrong choices are found: ask for fewer, teach more elements or meters, or "
        "allow longer excerpts with `measures`"
    )
    assert told.value.part == 1
