"""What a tiny form costs, and which mark is worth an exchange; each sum worked by hand. Common practice."""

from collections import Counter

import pytest

from asks.spaces import space
from barwright.forms.draft import Draft
from barwright.forms.marks import Mark, Marked
from barwright.forms.parallel import WHOLE, Trait
from barwright.forms.ready_items import question_of
from barwright.forms.scales import FAR, FAR_IN_ALL, NO_CHANCE, NOT_ABOUT, ONE_KEY, SAME_EXCERPT, TWINS, Aim, Scales
from barwright.items.item import Item
from forms.made_items import item, plan

FINISH = plan("finish-measure", space("h q e", "4/4"))
BEATS = plan("beats-left", space("h q e", "4/4"))
QUARTER, HALF = Trait("finish-measure", "values", "q"), Trait("finish-measure", "values", "h")
ANSWER = Trait("finish-measure", "answers", "1/4 of a whole note")
MISREAD, IN_ALL = Trait("finish-measure", "misreadings", "a"), Trait(WHOLE, "misreadings", "a")
ITEMS = {"finish-measure": 4, WHOLE: 4}


def aim(
    *, least: dict[Trait, int] | None = None, most: dict[Trait, int] | None = None,
    best: dict[Trait, int] | None = None, difficulty: int = 100, items: int = 4, part: int = 3, free: str = "",
) -> Aim:  # fmt: skip
    sizes = {"finish-measure": items, WHOLE: items}
    return Aim(least or {}, most or {}, best or {}, difficulty, sizes, {"1": part}, frozenset(free.split()))


def test_constants_say_what_matters_more() -> None:
    """A mirror image and one key through a part weigh most, a missing chance more; an excerpt again least."""
    assert (FAR, TWINS, ONE_KEY, SAME_EXCERPT, NO_CHANCE, NOT_ABOUT, FAR_IN_ALL) == (20, 30, 30, 12, 60, 15, 5)


@pytest.mark.parametrize(
    ("trait", "an_aim", "costs"),
    [
        # Bounds 2 and 3, best 2: under by so many times 20, over alike, and 1 for each that is not the best.
        (QUARTER, aim(least={QUARTER: 2}, most={QUARTER: 3}, best={QUARTER: 2}), [42, 21, 0, 1, 22]),
        # Not named: best is none, and one is room (items // 20, at least one).
        (QUARTER, aim(), [0, 1, 22, 43]),
        (QUARTER, aim(items=40), [0, 1, 2, 23]),
        # An answer that is not the best weighs 5.
        (ANSWER, aim(most={ANSWER: 9}, best={ANSWER: 1}), [5, 0, 5, 10]),
        # A misreading in all asks together weighs 5 instead of 20 for each too many or too few.
        (IN_ALL, aim(least={IN_ALL: 1}, most={IN_ALL: 1}, best={IN_ALL: 1}), [6, 0, 6, 12]),
        (MISREAD, aim(most={MISREAD: 1}, best={MISREAD: 1}), [1, 0, 21]),
        # A free kind costs nothing up to `most`, and in all asks together never.
        (MISREAD, aim(least={MISREAD: 2}, most={MISREAD: 1}, best={MISREAD: 2}, free="misreadings"), [0, 0, 20, 40]),
        (MISREAD, aim(free="misreadings"), [0, 0, 0]),
        (IN_ALL, aim(most={IN_ALL: 0}, free="misreadings"), [0, 0, 0]),
        (QUARTER, aim(most={QUARTER: 0}, free="misreadings"), [0, 21]),
    ],
)
def test_what_a_trait_costs(trait: Trait, an_aim: Aim, costs: list[int]) -> None:
    assert [an_aim.cost(trait, count) for count in range(len(costs))] == costs


@pytest.mark.parametrize(
    ("mark", "part", "costs"),
    [
        (Mark("twin", "finish-measure", "x"), 3, [0, 0, 30, 60]),
        (Mark("excerpt", "form", "x"), 3, [0, 0, 12, 24]),
        (Mark("key", "1", "h"), 3, [0, 0, 0, 30, 0]),
        # A part of one item has one key, and a part that is not there none.
        (Mark("key", "1", "h"), 1, [0, 0]),
        (Mark("key", "2", "h"), 3, [0, 0]),
        (Mark("about", "1", "a"), 2, [150, 75, 0, 0]),
        (Mark("about", "2", "a"), 2, [0, 0]),
        # One item of the part is all that can be about it.
        (Mark("about", "1", "a"), 1, [75, 0]),
        (Mark("slight", "does-it-fit", ""), 3, [0, 15, 30]),
        (Mark("apart", "a", "b"), 3, [120, 60, 0, 0]),
        (Mark("apart", "a", "a"), 3, [240, 180, 120, 60, 0, 0]),
    ],
)
def test_what_another_mark_costs(mark: Mark, part: int, costs: list[int]) -> None:
    assert [aim(part=part).cost(mark, count) for count in range(len(costs))] == costs


def test_difficulty_costs_by_whole_hundredths() -> None:
    assert [aim(difficulty=200).off(sum_) for sum_ in (200, 201, 202, 199, 198, 210)] == [0, 0, 4, 0, 4, 20]
    assert [aim(difficulty=0).off(sum_) for sum_ in (0, 1)] == [0, 400]
    assert [aim(difficulty=1).off(sum_) for sum_ in (1, 2)] == [0, 400]


def desk_of(*items: Item, named: tuple[str, ...] = ()) -> Draft:
    draft = Draft("A", {}, named=named)
    for each in items:
        draft.keep(FINISH, question_of(each), each)
    return draft


ONE = item("finish-measure", "4/4 q h _", "q", "h <a>")
OTHER = item("finish-measure", "4/4 e e h _", "q", "w <a>")
ALIKE = dict.fromkeys((ANSWER, HALF, MISREAD, IN_ALL, Trait("finish-measure", "meters", "4/4")), 2)
SHOWN = {**ALIKE, QUARTER: 1, Trait("finish-measure", "values", "e"): 1}


def scales(
    *items: Item, named: tuple[str, ...] = (), hard: int | None = None, most: dict[Trait, int] | None = None,
    least: dict[Trait, int] | None = None, part: int = 9,
) -> Scales:  # fmt: skip
    """On them everything is as it should be but for what is named."""
    draft = desk_of(*items, named=named)
    wanted = aim(
        least=least, most={**SHOWN, **(most or {})}, best=SHOWN, difficulty=draft.sum if hard is None else hard,
        part=part,
    )  # fmt: skip
    return Scales(wanted, draft)


def test_a_form_is_fair_if_no_mark_is_far_off_and_it_is_as_hard_as_it_should_be() -> None:
    assert scales(ONE, OTHER).bad == set()
    assert scales(ONE, OTHER).is_fair()
    assert not scales(ONE, OTHER, hard=1).is_fair()
    assert scales(ONE, OTHER, most={HALF: 1}).bad == {HALF}
    assert not scales(ONE, OTHER, most={HALF: 1}).is_fair()
    # What is wanted and not there is looked at, and so are chances that are missing.
    assert scales(ONE, OTHER, least={Trait("finish-measure", "values", "w"): 1}).bad == {
        Trait("finish-measure", "values", "w")
    }
    assert scales(ONE, OTHER, named=("a", "b")).bad == {
        Mark("apart", *pair) for pair in (("a", "a"), ("b", "a"), ("b", "b"))
    }
    # The excerpt twice costs 12: just enough to be bad. Its answer twice through a part of two is bad, too.
    again = item("finish-measure", "4/4 q h _", "q", "w <a>")
    two = scales(ONE, again, part=2, most={QUARTER: 2})
    assert {mark.kind for mark in two.bad} == {"twin", "excerpt", "key"}


def test_a_misreading_that_the_part_should_be_about_is_never_a_reason_to_exchange() -> None:
    about = Mark("about", "1", "a")
    on = scales(ONE, OTHER)
    assert on.aim.cost(about, 0) > SAME_EXCERPT
    on.look([about])
    assert on.bad == set()


def test_marks_are_looked_at_again() -> None:
    on = scales(ONE, OTHER)
    on.draft.shown[HALF] = 3
    assert on.bad == set()
    on.look([HALF, QUARTER])
    assert on.bad == {HALF}
    on.draft.shown[HALF] = 2
    on.look([HALF])
    assert on.bad == set()


def test_an_exchange_is_worth_the_difference_of_all_that_goes_and_comes() -> None:
    on = scales(ONE, OTHER, hard=100)
    on.draft.sum = 100
    # A half less is 1 farther from the best; a quarter more is over by 1 and 1 farther; both ways is nothing.
    assert on.after(frozenset({HALF}), frozenset(), 0) == 1
    assert on.after(frozenset(), frozenset({QUARTER}), 0) == 21
    assert on.after(frozenset({HALF}), frozenset({QUARTER}), 0) == 22
    assert on.after(frozenset({HALF, QUARTER}), frozenset({QUARTER, HALF}), 0) == 0
    # Harder by 2 hundredths costs 8, and back again is a gain.
    assert on.after(frozenset(), frozenset(), 2) == 8
    on.draft.sum = 103
    assert on.after(frozenset(), frozenset(), -2) == 4 - 12
    # One of two halves is wanting: another one is a gain.
    assert scales(ONE, hard=100).after(frozenset(), frozenset({HALF}), 0) == -1
    far = scales(ONE, OTHER, most={HALF: 1})
    assert far.after(frozenset({HALF}), frozenset(), 0) == 1 - 20


def test_each_question_of_a_sheet_is_worth_what_its_exchange_is() -> None:
    on = scales(ONE, OTHER, hard=100)
    on.draft.sum = 100
    whole, sheet = Trait("finish-measure", "values", "w"), question_of(ONE)
    comes = [
        # A half less is 1 farther from the best, and nothing if it comes again; a quarter too many is 21.
        (frozenset[Trait | Mark]({HALF}), 5, 0),
        (frozenset({QUARTER}), 5, 22),
        (frozenset({QUARTER}), 7, 22 + 8),
        (frozenset({QUARTER, HALF}), 5, 21),
        # One whole note has room, and is 1 farther from none.
        (frozenset({whole}), 5, 2),
        # What stays whatever comes is not weighed.
        (frozenset({MISREAD}), 5, 1),
    ]
    questions = [Marked(sheet, marks, hard) for marks, hard, _ in comes]
    weighed = on.exchanges(frozenset({HALF, MISREAD}), frozenset({MISREAD}), 5, questions)
    assert list(weighed) == [(change, each) for each, (_, _, change) in zip(questions, comes, strict=True)]
    # Three hundredths too hard cost 12, and one costs 4.
    on.draft.sum = 103
    assert [change for change, _ in on.exchanges(frozenset(), frozenset(), 5, [Marked(sheet, frozenset(), 3)])] == [-8]


def test_with_marks_that_alone_count_nothing_else_is_mended() -> None:
    both = scales(ONE, OTHER, most={HALF: 1, MISREAD: 1}, hard=1)
    assert both.bad == {HALF, MISREAD}
    only = Scales(both.aim, both.draft, only=frozenset({MISREAD}))
    assert only.bad == {MISREAD}
    assert not only.may_gain(BEATS, frozenset()), "not even that it is too easy"
    assert Scales(both.aim, both.draft, only=frozenset({QUARTER})).is_fair()


def test_what_comes_with_wrong_choices_that_are_taken_later_is_not_weighed() -> None:
    on = scales(ONE, OTHER, most={HALF: 1, MISREAD: 1})
    on.draft.settling = True
    on.bad.clear()
    on.look([MISREAD, HALF])
    assert on.bad == {HALF}
    assert on.after(frozenset({MISREAD}), frozenset(), 0) == 0
    assert on.after(frozenset({HALF}), frozenset(), 0) == 1 - 20
    on.draft.settling = False
    assert on.after(frozenset({MISREAD}), frozenset(), 0) == 1 - 20


def test_wanting_are_misreadings_that_stand_too_seldom_in_the_ask() -> None:
    seldom, never = Trait("finish-measure", "misreadings", "c"), Trait("finish-measure", "misreadings", "d")
    elsewhere, in_all = Trait("beats-left", "misreadings", "b"), Trait(WHOLE, "misreadings", "e")
    wanted = {seldom: 1, elsewhere: 1, in_all: 3, Trait("finish-measure", "values", "w"): 1, MISREAD: 2}
    on = scales(ONE, OTHER, least=wanted, most={elsewhere: 1, MISREAD: 1})
    assert on.bad == {seldom, elsewhere, in_all, Trait("finish-measure", "values", "w"), MISREAD}
    assert on.wanting("finish-measure") == {"c"}, "there are as many of `a` as there must be, or more"
    assert on.wanting("beats-left") == {"b"}
    # Twenty would be best of one that need not be there.
    best = Scales(aim(best={never: 20}, most={never: 20}, difficulty=on.draft.sum), on.draft)
    best.bad.add(never)
    assert best.wanting("finish-measure") == set()


def test_a_mark_that_is_no_trait_is_as_far_off_as_it_costs() -> None:
    assert aim().far(Mark("twin", "finish-measure", "x"), 3) == 60


def test_another_question_is_looked_for_where_it_could_help() -> None:
    halves = scales(ONE, OTHER, most={HALF: 1})
    assert halves.may_gain(FINISH, frozenset({HALF}))
    # One without halves is no help: another one would at best have none either.
    assert not halves.may_gain(FINISH, frozenset({QUARTER}))
    # An excerpt that stands there twice is none of an ask.
    again = scales(ONE, item("finish-measure", "4/4 q h _", "q", "w <a>"))
    (excerpt,) = {mark for mark in again.bad if mark.kind == "excerpt"}
    assert again.may_gain(FINISH, frozenset({excerpt}))
    # Nothing helps an item of another ask.
    wanting = scales(ONE, OTHER, least={Trait("finish-measure", "values", "w"): 1})
    assert wanting.may_gain(FINISH, frozenset({QUARTER}))
    assert not wanting.may_gain(BEATS, frozenset({QUARTER}))
    assert not scales(ONE, OTHER).may_gain(FINISH, frozenset({QUARTER}))
    # Where the difficulty is off any question may help; where only wrong answers are, none does.
    assert scales(ONE, OTHER, hard=1).may_gain(BEATS, frozenset())
    misread = scales(ONE, OTHER, most={MISREAD: 1})
    assert not misread.may_gain(FINISH, frozenset({MISREAD}))


def test_other_wrong_answers_are_looked_for_where_they_could_help() -> None:
    misread = scales(ONE, OTHER, most={MISREAD: 1})
    assert misread.may_choose(FINISH, frozenset({MISREAD}))
    assert not misread.may_choose(FINISH, frozenset())
    # One less is enough, two would be too many.
    assert scales(ONE, OTHER, least={MISREAD: 1}, most={MISREAD: 1}).may_choose(FINISH, frozenset({MISREAD}))
    assert not scales(ONE, OTHER, most={HALF: 1}).may_choose(FINISH, frozenset({HALF}))
    # A chance to tell two apart can come in any ask, but not to an item that gives it already.
    lacking = scales(ONE, OTHER, named=("b",))
    assert lacking.bad == {Mark("apart", "b", "b")}
    assert lacking.may_choose(BEATS, frozenset())
    assert not lacking.may_choose(BEATS, frozenset({Mark("apart", "b", "b")}))
    # As near to the bound from both sides: nothing is gained by one less.
    level = scales(ONE, OTHER, least={MISREAD: 3}, most={MISREAD: 9})
    assert not level.may_choose(FINISH, frozenset({MISREAD}))
    assert level.may_choose(FINISH, frozenset())


def test_a_misreading_costs_what_it_does_in_its_ask_and_in_all() -> None:
    wanted = Trait("finish-measure", "misreadings", "c")
    on = scales(ONE, OTHER, least={wanted: 2, Trait("finish-measure", "values", "w"): 1})
    # One more of `a` is 21 too many in the ask and 6 in all; of `c` a lack is one less but it was best without, and in
    # all there is room for one.
    assert on.worn("finish-measure") == Counter({"a": 27, "c": -20 + 1 + 1})
