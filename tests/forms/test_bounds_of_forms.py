"""How seldom and how often a trait may stand in a form; each bound worked out by hand. Common practice.

A form may lie one item (`parallel.room` of few) from the farthest of the others, or between them. Of what only few
excerpts show it takes no more than a sixth.
"""

from collections import Counter
from dataclasses import replace

import pytest

from asks.spaces import excerpt, space
from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms import aims
from barwright.forms.aims import aim_beside, part_names, usual_aim
from barwright.forms.draft import Draft
from barwright.forms.marks import Mark
from barwright.forms.parallel import WHOLE, Trait
from barwright.forms.questions import Cell
from barwright.forms.ready_items import question_of
from barwright.forms.scales import Aim
from barwright.items.difficulty import WEIGHTS, difficulty
from barwright.rhythm.meter import parse_meter
from forms.made_items import item, plan
from forms.made_parts import MANY, part, question

ASK = "finish-measure"
QUARTER, HALF = Trait(ASK, "values", "q"), Trait(ASK, "values", "h")
ANSWER = Trait(ASK, "answers", "1/4 of a whole note")


def bounds(aim: Aim, trait: Trait) -> tuple[int | None, int | None, int]:
    """At least, at most, and best."""
    return aim.least.get(trait), aim.most.get(trait), aim.best.get(trait, 0)


def cells_of(places: int, shown: dict[Trait | Mark, int]) -> list[Cell]:
    """So many cells; the first so many of them show each trait. The first is 10 hard, the next 11, and so on."""
    return [
        Cell(parse_meter("4/4"), frozenset(), 10 + place, marks=frozenset(t for t, n in shown.items() if place < n))
        for place in range(places)
    ]


def test_places_are_counted_by_ask_and_by_part() -> None:
    finish, other = plan(ASK, space("h q", "4/4"), items=3), plan("beats-left", space("h q", "4/4"))
    assert aims._sizes([finish, finish, other]) == (Counter({ASK: 2, "beats-left": 1, WHOLE: 3}), Counter({"1": 3}))
    assert aims._parts([finish, finish]) == [(finish, 2)]
    assert part_names([finish, replace(other, number=2)]) == ["1", "2"]


RICH = part(MANY, drawn=MANY[:16], offers={"h": "a"}, on={each.text: {"h": "a c"} for each in MANY[:3]})


def beside(shown: dict[Trait | Mark, int], *others: dict[Trait, int], places: int = 4, named: str = "") -> Aim:
    """The aim of a form of a part that has enough of everything, but for an error that shows on 3 of 16 questions."""
    return aim_beside([RICH] * places, cells_of(places, shown), list(map(Counter, others)), named.split())


def test_a_form_may_lie_an_item_from_the_farthest_of_all_others() -> None:
    """Quarters stand 2, 3 and 4 times, farther apart than that: between. Halves 0 and 1: at least 0, at most 1."""
    found = beside({QUARTER: 2}, {QUARTER: 3, HALF: 1}, {QUARTER: 4})
    assert (bounds(found, QUARTER), bounds(found, HALF)) == ((2, 4, 2), (0, 1, 0))
    # In forty there is room for two.
    found = beside({QUARTER: 2}, {QUARTER: 3, HALF: 1}, {QUARTER: 4}, places=40)
    assert (bounds(found, QUARTER), bounds(found, HALF)) == ((2, 4, 2), (-1, 2, 0))


def test_an_aim_holds_traits_only_and_the_sum_of_difficulties() -> None:
    found = beside({QUARTER: 2, Mark("key", "1", "q"): 4})
    assert found == Aim({QUARTER: 1}, {QUARTER: 3}, {QUARTER: 2}, 46, {ASK: 4, WHOLE: 4}, {"1": 4})


@pytest.mark.parametrize(
    ("places", "first", "other", "found"),
    [
        # A third of four items is one: no more than in the first form, though there is room for four.
        (4, 3, 3, (2, 3, 3)),
        (4, 0, 1, (0, 1, 0)),
        # A third of twelve is four; there is room for two only.
        (12, 1, 1, (0, 2, 1)),
        # ... for four, and for more than four.
        (12, 3, 3, (2, 4, 3)),
        (12, 5, 5, (4, 5, 5)),
        # Where others lie too far apart to be near to all it stands as often as in the first form.
        (4, 1, 4, (1, 1, 1)),
        # What another form has three times stands twice at least.
        (12, 2, 3, (2, 3, 2)),
    ],
)
def test_an_answer_stands_in_no_more_than_a_third_unless_it_did_from_the_first(
    places: int, first: int, other: int, found: tuple[int, int, int]
) -> None:
    assert bounds(beside({ANSWER: first}, {ANSWER: other}, places=places), ANSWER) == found


def test_a_misreading_that_shows_on_few_questions_stands_once_or_as_often_as_in_the_first_form() -> None:
    seldom, often = (Trait(ASK, "misreadings", name) for name in "ca")
    assert bounds(beside({seldom: 1}), seldom) == (0, 1, 1)
    assert bounds(beside({seldom: 2}), seldom) == (1, 2, 2)
    assert bounds(beside({seldom: 0}, {seldom: 1}), seldom) == (0, 1, 0)
    # Others lie too far apart to be near to all: between them, and no oftener than there is need.
    assert bounds(beside({seldom: 1}, {seldom: 4}), seldom) == (1, 1, 1)
    # One that shows on all may stand in all four items.
    assert bounds(beside({often: 2}), often) == (1, 3, 2)
    # A named one stands as often as it can.
    assert bounds(beside({seldom: 1}, named="b c"), seldom) == (0, 2, 1)
    assert bounds(beside({seldom: 1}, named="a"), seldom) == (0, 1, 1)


# Thirteen excerpts, seven of them with a half, three with a whole.
FEW = [
    *(question(f"4/4 {each} _") for each in ("q e", "e q", "q q", "q e e", "e q e", "e e q")),
    *(question(f"4/4 h {each} _") for each in ("q e", "e q", "q q", "q e e")),
    *(question(f"4/4 w h {each} _") for each in ("q e", "e q", "q q")),
]
WHOLE_NOTE = Trait(ASK, "values", "w")


def few(shown: dict[Trait | Mark, int], *others: dict[Trait, int], listed: list[Question] = FEW, items: int = 4) -> Aim:
    return aim_beside([part(listed)] * items, cells_of(items, shown), list(map(Counter, others)), ())


def test_of_few_excerpts_a_form_takes_a_sixth() -> None:
    # A sixth of thirteen is two, of seven one, of three none.
    assert bounds(few({QUARTER: 1}), QUARTER) == (0, 2, 1)
    assert bounds(few({QUARTER: 3}), QUARTER) == (2, 2, 2)
    assert bounds(few({HALF: 2}), HALF) == (1, 1, 1)
    # Once it may stand all the same, and as often as it must not to lie too far from the others.
    assert bounds(few({WHOLE_NOTE: 1}), WHOLE_NOTE) == (0, 1, 0)
    assert bounds(few({WHOLE_NOTE: 3}), WHOLE_NOTE) == (2, 2, 0)
    # No more than others have room for.
    assert bounds(few({}, {QUARTER: 1}), QUARTER) == (0, 1, 0)
    # What no form shows is no concern.
    assert bounds(few({QUARTER: 1}), HALF) == (None, None, 0)


def test_of_an_answer_a_form_takes_what_the_first_has_where_excerpts_are_few() -> None:
    """Thirteen excerpts for a quarter: two of them would be a sixth, and three is best all the same."""
    assert bounds(few({ANSWER: 3}), ANSWER) == (2, 2, 3)


# Eight excerpts with an eighth, and four, or ten, without: enough for two items in each of six forms.
WITH = [question(f"4/4 {each} _") for each in ("e q", "e h", "q e", "h e", "e q q", "e h q", "e q h", "e e")]
WITHOUT = [question(f"4/4 {each} _") for each in ("q", "h", "q q", "q h", "h q", "h h", "q q q", "q q h", "h q q", "w")]
EIGHTH, MEASURES = Trait(ASK, "values", "e"), Trait(ASK, "meters", "4/4")


def test_what_other_excerpts_do_not_suffice_without_stands_as_often_as_it_must() -> None:
    """Of twelve excerpts six forms of two items use all, so that four without an eighth leave 4/3 for each form."""
    twelve = [*WITH, *WITHOUT[:4]]
    assert bounds(few({}, {EIGHTH: 1}, listed=twelve, items=2), EIGHTH) == (1, 1, 1)
    # All are in 4/4, in which both would have to be; there is room for one.
    assert bounds(few({}, {MEASURES: 1}, listed=twelve, items=2), MEASURES) == (1, 1, 1)
    assert bounds(few({MEASURES: 2}, {MEASURES: 4}, listed=twelve, items=2), MEASURES) == (2, 2, 2)
    # Of eighteen six need not be used: of twelve with an eighth one must show in each form, two are best as before.
    more = [*WITH, *(question(f"4/4 {each} _") for each in ("e w", "w e", "e w q", "q e w")), *WITHOUT[:6]]
    assert bounds(few({EIGHTH: 2}, listed=more, items=2), EIGHTH) == (1, 2, 2)
    # What no form shows is no concern.
    assert bounds(few({EIGHTH: 2}, listed=more, items=2), MEASURES) == (None, None, 0)


def first_form(a_part: Plan, *texts: str, named: str = "") -> tuple[Draft, Aim]:
    """A first form of these items, each as `4/4 q h _: q`, and its aim."""
    draft = Draft("A", {}, named=tuple(named.split()))
    for each in texts:
        text, _, key = each.partition(": ")
        made = item(ASK, text, key, "w <a>")
        draft.keep(a_part, question_of(made), made)
    return draft, usual_aim(draft, [a_part] * len(texts))


PLAIN, DOTTED = question("4/4 q h _"), question("4/4 q. e q _")
FORM = ("4/4 e e h _: q", "4/4 h e e _: q", "4/4 e q. q _: q", "4/4 _ q: h.")


def test_a_first_form_is_aimed_at_what_is_usual_and_keeps_its_answers() -> None:
    """Of four drawn questions all have quarters and three a half; three items of the form have a quarter for an answer.

    There is room for one more or less; but an answer stands in a third of four items, which is one, or as often as now.
    """
    draft, aim = first_form(part(MANY, drawn=(PLAIN, PLAIN, DOTTED, PLAIN)), *FORM)
    assert (bounds(aim, QUARTER), bounds(aim, HALF)) == ((3, 5, 4), (2, 4, 3))
    assert bounds(aim, ANSWER) == (2, 3, 3)
    assert bounds(aim, Trait(ASK, "answers", "3/4 of a whole note")) == (0, 1, 1)
    assert not any(isinstance(mark, Mark) for mark in aim.best)
    # Halfway from how hard its items are to how hard four drawn ones are.
    plain, dotted = (difficulty(each.excerpt, WEIGHTS) for each in (PLAIN, DOTTED))
    now = sum(difficulty(excerpt(each.partition(":")[0]), WEIGHTS) for each in FORM)
    assert draft.sum == now != 3 * plain + dotted
    assert aim.difficulty == (3 * plain + dotted + now) // 2
    assert (aim.items, aim.parts, aim.free) == ({ASK: 4, WHOLE: 4}, {"1": 4}, {"misreadings"})


def test_a_first_form_takes_no_more_than_a_sixth_of_few_excerpts() -> None:
    _, aim = first_form(part(FEW, drawn=FEW[:6]), *FORM)
    # A sixth of thirteen with quarters is two; of seven with halves, which are not usual, one; of three with wholes one
    # all the same.
    assert (bounds(aim, QUARTER), bounds(aim, HALF), bounds(aim, WHOLE_NOTE)) == ((3, 2, 4), (None, 1, 0), (None, 1, 0))
    assert bounds(aim, ANSWER) == (2, 2, 3)


def test_a_first_form_shows_what_others_can_show_too_of_misreadings_but_for_named_ones() -> None:
    often, seldom = Trait(ASK, "misreadings", "a"), Trait(ASK, "misreadings", "c")
    _, aim = first_form(RICH, *FORM)
    assert (bounds(aim, often), bounds(aim, seldom)) == ((None, 4, 0), (None, 1, 0))
    _, aim = first_form(RICH, *FORM, named="b c")
    assert (bounds(aim, often), bounds(aim, seldom)) == ((None, 4, 0), (None, None, 0))
