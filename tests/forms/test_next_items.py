"""Which item comes next: in a first form freely, in any other in a cell; each rule by itself, by hand. Common practice.

Most parts here have answers that are typed, so that wrong ones are only foreseen: four at most, two at least.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from random import Random

import pytest

from barwright.asks.ask import Question, Space
from barwright.asks.own_rhythms import Own
from barwright.blueprint.blueprint import Plan
from barwright.forms import cells
from barwright.forms.cells import free_item, parallel_item
from barwright.forms.draft import Draft
from barwright.forms.parallel import Trait
from barwright.forms.questions import Cell, cell_of, listed_at_random
from barwright.forms.ready_items import Stock, question_of
from barwright.forms.sheets import Sheets
from barwright.items.difficulty import difficulty
from barwright.items.item import Answer, Item
from barwright.rhythm.meter import parse_meter
from forms.made_items import in_ask, item
from forms.made_parts import MANY, part, question

BEATS, FINISH, SEVERAL, EACH = "beats-left", "finish-measure", "all-that-fit", "count-under-each"
SEEDS = range(6)


def beats(text: str, key: str = "1") -> Question:
    return question(text, key, kind="number")


# All of them lack one beat, but for the last two, which lack two.
Q, R, S, T, U, V, TWO, TOO = (
    beats(f"4/4 {text} _", key)
    for text, key in (
        ("q h", "1"), ("h q", "1"), ("e e h", "1"), ("h e e", "1"), ("q e e q", "1"), ("q q q", "1"), ("h", "2"),
        ("q q", "2"),
    )
)  # fmt: skip
THREE, MORE_IN_THREE = beats("3/4 q q _"), beats("3/4 h _")
OFFERS = {"3": "a", "4": "b"}
# Wrong answers of errors that lead nowhere else.
ALONE = {"3": "c", "4": "d"}
# More than any part lists where it is few; none of them is ever asked about.
REST = [replace(each, keys=(Answer("number", "1"),)) for each in MANY]


def typed(
    *listed: Question, drawn: Sequence[Question | None] = (None,), on: Mapping[str, Mapping[str, str]] | None = None,
    offers: Mapping[str, str] = OFFERS, focus: str = "", meters: str = "4/4", even: bool = True,
) -> Plan:  # fmt: skip
    return part(listed, ask=BEATS, drawn=drawn, offers=offers, on=on, focus=focus, meters=meters, even=even)


def draft_of(
    a_part: Plan, *items: Item, stock: Sequence[Item] = (), few: bool = True, seed: int = 1, never: str = ""
) -> Draft:
    at_hand, sheets = Stock({a_part.ask.id: tuple(stock)}), Sheets(f"seed {seed}", few=few)
    draft = Draft("A", {}, sheets=sheets, stock=at_hand, never=frozenset({never}))
    for each in items:
        draft.keep(replace(a_part, ask=part((), ask=each.ask).ask), question_of(each), each)
    return draft


def asked(found: Item | None) -> Question | None:
    return None if found is None else question_of(found)


def free(
    a_part: Plan, *items: Item, seed: int = 1, few: bool = True, elsewhere: str = "", stock: Sequence[Item] = (),
    never: str = "",
) -> Question | None:  # fmt: skip
    """What the next item of a first form asks, which is the last of the form then."""
    draft = draft_of(a_part, *items, stock=stock, few=few, never=never)
    draft.taken.update(dict.fromkeys(elsewhere.split(", "), "B"))
    found = free_item(a_part, draft, Random(seed))
    assert found is None or draft.items == [*items, found]
    return asked(found)


def made(asked_: Question, *errors: str) -> Item:
    """An item of a question with wrong answers of these errors."""
    wrong = ", ".join(f"{number} <{error}>" for number, error in enumerate(errors or ("a", "b"), start=3))
    return item(BEATS, asked_.text, asked_.keys[0].text, wrong)


# What is drawn, in turn; what is listed comes only where nothing that was drawn will do.


def test_what_is_drawn_comes_before_what_is_listed() -> None:
    assert free(typed(R, S, T, drawn=[None, Q])) == Q
    assert free(typed(Q, S, T, drawn=[None])) in (Q, S, T)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_another_form_has_or_this_one_and_what_leads_nowhere_is_passed_over(seed: int) -> None:
    a_part = typed(S, T, U, V, drawn=[Q, R], on={Q.text: {}})
    assert free(a_part, seed=seed) == R
    a_part = typed(S, T, U, V, drawn=[Q, R])
    assert free(a_part, elsewhere=Q.text, seed=seed) == R
    assert free(a_part, made(Q), seed=seed) == R
    # An answer that is right too often.
    assert free(typed(S, T, U, V, drawn=[Q, TWO]), made(R), seed=seed) == TWO


def counting(a_part: Plan) -> tuple[Plan, list[int]]:
    """The part, and a list of how often it has drawn."""
    drawn: list[int] = []

    def draw(space: Space, rng: Random) -> Question | None:
        drawn.append(len(drawn))
        return a_part.ask.draw(space, rng)

    return in_ask(a_part, draw=draw), drawn


def test_after_forty_draws_a_question_will_do_whose_answer_is_right_too_often() -> None:
    a_part, drawn = counting(typed(S, T, U, V, drawn=[Q]))
    assert (free(a_part, made(R)), len(drawn)) == (Q, 41)


def test_after_forty_draws_an_item_will_do_that_is_not_about_what_the_part_is_about() -> None:
    """The last of three that are drawn in turn; the first is not about it, either, and would do after all draws."""
    on = {TWO.text: {"3": "c", "4": "f"}}
    assert free(typed(R, TWO, S, T, U, drawn=[Q, TWO], on=on, focus="f")) == TWO
    a_part, drawn = counting(typed(R, S, T, U, drawn=[Q, TWO, TOO], focus="f"))
    assert free(a_part) == TWO
    assert len(drawn) == 41


def test_eight_draws_are_looked_at_for_an_item_whose_errors_show_elsewhere_too() -> None:
    on = {each.text: ALONE for each in (Q, TWO, TOO)}
    assert free(typed(R, S, T, drawn=[Q, R], on=on)) == R
    a_part, drawn = counting(typed(R, S, T, drawn=[Q, TWO], on=on))
    assert free(a_part) == Q
    assert len(drawn) == 9


def test_what_would_do_at_a_pinch_comes_after_all_draws_the_first_of_it_before_any_that_is_listed() -> None:
    a_part, drawn = counting(typed(R, S, T, drawn=[Q, TWO, *[None] * 200], focus="f"))
    assert free(a_part) == Q
    assert len(drawn) == 120


ROWS = {"1 2 5-6": "a", "1 2 7-8": "b", "1 2 6-7": "c"}
ROW, SHORT, OTHER_ROW = (
    question(f"4/4 {text}", key, kind="row")
    for text, key in (("q q h", "1 2 3-4"), ("h q q", "1-2 3 4"), ("q q q q", "1 2 3 4"))
)
TWO_ROWS = {"1-2 3 5": "a", "1-2 3 6": "b"}
FULL_ROWS = {"1 2 3 5": "a", "1 2 3 6": "b", "1 2 3 7": "c"}
ON_ROWS = {ROW.text: ROWS, SHORT.text: TWO_ROWS, OTHER_ROW.text: FULL_ROWS}


def rows(*drawn: Question | None) -> tuple[Plan, list[int]]:
    """A part about rows under each symbol, of which a choice less than four will do."""
    return counting(part([ROW], ask=EACH, drawn=drawn, on=ON_ROWS, choices=4, fewer=True, even=True))


def test_an_excerpt_that_the_form_has_for_another_ask_will_do_after_forty_draws() -> None:
    kept = item("does-it-fit", OTHER_ROW.text, "fits 4 4", "fits 3 4")
    a_part, drawn = rows(OTHER_ROW, ROW)
    assert (free(a_part, kept), len(drawn)) == (ROW, 2)
    a_part, drawn = rows(OTHER_ROW)
    assert (free(a_part, kept), len(drawn)) == (OTHER_ROW, 41)


def test_a_choice_less_will_do_after_forty_draws_where_none_is_full() -> None:
    """What is drawn then ends the search, full or not, and the first that came comes."""
    a_part, drawn = rows(SHORT, OTHER_ROW)
    assert (free(a_part), len(drawn)) == (OTHER_ROW, 2)
    a_part, drawn = rows(SHORT, *[None] * 39, SHORT, OTHER_ROW)
    assert (free(a_part), len(drawn)) == (SHORT, 41)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_listed_comes_last_and_what_another_form_has_last_of_all(seed: int) -> None:
    assert free(typed(Q, R), elsewhere=Q.text, seed=seed) == R
    assert free(typed(Q, R), made(Q), seed=seed) == R
    assert free(typed(Q, R), made(Q), elsewhere=R.text, seed=seed) == R
    assert free(typed(Q, R, on={Q.text: {}}), seed=seed) == R
    assert free(typed(Q, R), made(Q), made(R), seed=seed) is None
    picking = part([QUARTER, HALF], offers=THREE_WRONG)
    assert free(picking, elsewhere=QUARTER.text, seed=seed, few=False) == HALF


QUARTER, HALF, THIRD = question("4/4 h q _"), question("4/4 q q _", "h"), question("4/4 q h _")
THREE_WRONG = {"w": "a", "e": "b", "h.": "c"}


def test_where_choices_are_picked_it_is_ranked_before_any_is_drawn_at_random() -> None:
    """Of two questions the one whose answer was right seldom."""
    for seed in SEEDS:
        a_part = part([QUARTER, HALF], drawn=[QUARTER], offers=THREE_WRONG)
        draft = draft_of(a_part)
        draft.guessers.watch.right[FINISH, "q"] = 99
        assert asked(free_item(a_part, draft, Random(seed))) == HALF


# Which wrong answers the item gets.


def foreseen(a_part: Plan, offered: Mapping[str, int], seed: int) -> set[str]:
    """The errors that an item of the first form offers, of five that lead to wrong answers."""
    draft = draft_of(a_part)
    draft.tally.offered.update(offered)
    found = free_item(a_part, draft, Random(seed))
    assert found is not None
    return set(found.offered)


FIVE = {"3": "a", "4": "b", "5": "c", "6": "d", "7": "e"}


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize(
    ("shown", "offered", "out"),
    [
        # The one that shows on fewest questions.
        (1, {}, "e"),
        # Once on offer weighs as much as that it shows on four more: `a` on six, `e` on two, or on three.
        (2, {"a": 1}, "e"),
        (3, {"a": 1}, "a"),
    ],
)
def test_where_questions_are_few_errors_come_first_that_show_on_most_and_stood_seldom(
    shown: int, offered: dict[str, int], out: str, seed: int
) -> None:
    without_e = {text: each for text, each in FIVE.items() if each != "e"}
    listed = (Q, R, S, T, U, V)
    on = {each.text: without_e for each in listed[shown:]}
    assert set("abcde") - foreseen(typed(*listed, drawn=[Q], offers=FIVE, on=on), offered, seed) == {out}


@pytest.mark.parametrize("seed", SEEDS)
def test_what_the_part_is_about_comes_before_all_that_show_oftener(seed: int) -> None:
    on = {each.text: {"3": "a", "4": "b", "5": "c", "6": "d"} for each in (R, S, T, U, V)}
    a_part = typed(Q, R, S, T, U, V, drawn=[Q], offers=FIVE, on=on, focus="e")
    assert "e" in foreseen(a_part, {"e": 50}, seed)


def test_where_questions_are_many_errors_that_were_begun_come_first() -> None:
    a_part = typed(*REST, drawn=[Q], offers=FIVE)
    left_out = {frozenset("abcde") - foreseen(a_part, {"a": 1, "b": 2}, seed) for seed in range(12)}
    assert left_out == {frozenset(each) for each in "cde"}


# A teacher's own excerpts.


def with_own(a_part: Plan, *own: Question, share: int = 1) -> Plan:
    """The part with questions about excerpts of the teacher's own, of which a form takes so many."""
    space = replace(a_part.space, own=tuple(each.excerpt for each in own))

    def listed(narrow: Space) -> Iterator[Question]:
        return iter([each for each in own if each.excerpt in narrow.own]) if narrow.own else a_part.ask.listed(narrow)

    return in_ask(replace(a_part, own=Own(space, share)), listed=listed)


def test_a_form_has_its_share_of_a_teachers_own_excerpts_first() -> None:
    a_part = with_own(typed(R, S, T, drawn=[R]), Q, U)
    draft = draft_of(a_part)
    first, second = (free_item(a_part, draft, Random(1)) for _ in range(2))
    assert asked(first) in (Q, U)
    assert asked(second) == R
    assert first is not None
    assert draft.own == {first.id: 1}


@pytest.mark.parametrize("seed", SEEDS)
def test_of_own_excerpts_those_are_passed_over_that_may_not_come(seed: int) -> None:
    a_part = with_own(typed(R, S, T, drawn=[R]), Q, TWO)
    assert free(a_part, elsewhere=Q.text, seed=seed) == TWO
    assert free(a_part, made(Q), seed=seed) == TWO
    assert free(a_part, never=Q.text, seed=seed) == TWO
    rows = part([OTHER_ROW], ask=EACH, drawn=[OTHER_ROW], on=ON_ROWS, choices=3, even=True)
    assert free(with_own(rows, ROW, SHORT), item("does-it-fit", ROW.text, "fits 4 4", "fits 3 4"), seed=seed) == SHORT
    # One that leads nowhere.
    assert free(with_own(typed(R, S, T, drawn=[R], on={Q.text: {}}), Q), seed=seed) == R


@pytest.mark.parametrize("seed", SEEDS)
def test_of_own_excerpts_the_fullest_come_first_else_the_first_that_will_do(seed: int) -> None:
    two_wrong = {"w": "a", "h.": "b"}
    base = part(
        [HALF], drawn=[HALF], offers=THREE_WRONG, on={QUARTER.text: two_wrong, THIRD.text: two_wrong}, fewer=True
    )
    assert free(with_own(base, QUARTER, HALF), seed=seed) == HALF
    some = with_own(base, QUARTER, THIRD)
    first = next(listed_at_random(replace(some, space=some.own.space or some.space), Random(seed)))
    assert free(some, seed=seed) == first


# What is at hand.


@pytest.mark.parametrize("seed", SEEDS)
def test_an_item_at_hand_comes_before_any_that_is_made(seed: int) -> None:
    a_part = with_own(typed(Q, R, S, T, drawn=[R]), U)
    stock = [made(Q), made(S)]
    assert free(a_part, stock=stock, seed=seed) == Q
    assert free(a_part, made(Q), stock=stock, seed=seed) == S
    assert free(a_part, stock=stock, elsewhere=Q.text, seed=seed) == S
    assert free(a_part, made(Q), made(S), stock=stock, seed=seed) == U


def test_of_items_at_hand_those_come_first_whose_errors_show_on_other_questions_whatever_they_are_like() -> None:
    a_part = typed(Q, R, S, T, TWO, on={Q.text: FIVE}, even=False)
    assert difficulty(Q.excerpt, a_part.weights) < difficulty(S.excerpt, a_part.weights)
    assert free(a_part, stock=[made(Q, "c", "d"), made(S)]) == S
    # Then those whose answer is not right too often, then those that the part is about.
    assert free(a_part, made(R), stock=[made(Q), made(TWO)]) == TWO
    about = replace(a_part, focus=("b",))
    on_a = item(BEATS, S.text, "1", "3 <a>, 4 <a>")
    assert free(about, stock=[on_a, made(T)]) == T
    assert free(about, made(R), stock=[made(T), item(BEATS, TWO.text, "2", "3 <a>, 4 <a>")]) == TWO


def test_what_an_item_is_about_is_one_of_the_errors_of_the_part() -> None:
    about = typed(focus="a f")
    assert [cells._is_about(each, made(Q)) for each in (about, typed(), typed(focus="f"))] == [True, True, False]


def test_an_item_is_full_with_as_many_choices_as_are_planned_or_if_it_is_typed_or_put_in_order() -> None:
    two, three, four = (item(FINISH, QUARTER.text, "q", wrong) for wrong in ("h, e", "h, e, w", "h, e, w, h."))
    assert [cells._is_full(part(()), each) for each in (two, three, four)] == [False, True, True]
    assert [cells._is_full(part((), ask=ask), two) for ask in (BEATS, "shortest-first", EACH)] == [True, True, False]


# In the cell of a first form's item.


def cell(keys: str = "1", errors: str = "ab", meter: str = "4/4", kind: str = "number", wrong: int = 0) -> Cell:
    answers = tuple(Answer(kind, each) for each in keys.split(", "))
    return Cell(parse_meter(meter), frozenset(errors), 10, answers, wrong, frozenset({Trait(BEATS, "values", "w")}))


def parallel(
    a_part: Plan, a_cell: Cell, *items: Item, seed: int = 1, aim: int = 0, elsewhere: str = "",
    stock: Sequence[Item] = (), few: bool = True, never: str = "",
) -> tuple[Question | None, list[str]]:  # fmt: skip
    """What the item asks that comes into the cell, and what was bent for it."""
    draft = draft_of(a_part, *items, stock=stock, few=few, seed=seed, never=never)
    draft.taken.update(dict.fromkeys(elsewhere.split(", "), "B"))
    found = parallel_item(a_part, a_cell, draft, Random(seed), aim=aim)
    assert draft.items == [*items, *([found] if found is not None else [])]
    assert all(draft.due[mark] == 1 for mark in a_cell.marks)
    assert set(draft.bent) <= {"" if found is None else found.id}
    return asked(found), list(draft.bent.values())


def hard(asked_: Question, a_part: Plan) -> int:
    return difficulty(asked_.excerpt, a_part.weights)


@pytest.mark.parametrize("seed", SEEDS)
def test_an_item_in_the_cell_has_its_errors_and_all_of_them(seed: int) -> None:
    a_part = typed(Q, R, S, on={Q.text: {"3": "a", "4": "c"}, R.text: {"3": "a"}})
    assert parallel(a_part, cell(), seed=seed) == (S, [])
    a_part = typed(Q, R)
    assert parallel(a_part, cell(), elsewhere=Q.text, seed=seed) == (R, [])
    assert parallel(a_part, cell(), made(Q), seed=seed) == (R, [])
    assert parallel(a_part, cell(), never=Q.text, seed=seed) == (R, [])


def test_the_item_is_as_hard_as_it_is_aimed_at_and_as_like_the_first_form_as_can_be() -> None:
    a_part = typed(Q, S, U, even=False)
    levels = [hard(each, a_part) for each in (Q, S, U)]
    assert levels == sorted(set(levels))
    for level, each in zip(levels, (Q, S, U), strict=True):
        assert parallel(a_part, cell(), aim=level) == (each, [])
    # As hard as each other: of traits that the first form has oftener each makes it liker.
    a_part = typed(Q, TWO)
    draft = draft_of(a_part)
    draft.due[Trait(BEATS, "answers", "2")] = 1
    assert asked(parallel_item(a_part, cell(), draft, Random(1), aim=0)) == TWO


@pytest.mark.parametrize(("sheet", "found"), [(1, True), (2, True), (3, True), (4, False)])
def test_three_sheets_are_looked_through_for_a_cell(sheet: int, found: bool) -> None:
    """A sheet of four items is of 96 draws."""
    a_part = typed(*REST, drawn=[*[None] * 96 * (sheet - 1), Q, *[None] * 95, *[None] * 400])
    nearest = cells._nearest(a_part, cell(), draft_of(a_part), Random(1), 0)
    assert (nearest is not None) is found


def test_items_at_hand_fill_a_cell_first_of_which_the_nearest() -> None:
    a_part = with_own(typed(Q, R, S, U, V, even=False), R)
    stock = [made(Q), made(S), made(U), made(V, "a", "c")]
    levels = [hard(each, a_part) for each in (Q, S, U)]
    for level, each in zip(levels, (Q, S, U), strict=True):
        assert parallel(a_part, cell(), stock=stock, aim=level) == (each, [])
    assert parallel(a_part, cell(), stock=stock, aim=levels[0], elsewhere=Q.text) == (S, [])
    assert parallel(a_part, cell(), made(Q), stock=stock, aim=levels[0]) == (S, [])
    # None has these errors.
    assert parallel(a_part, cell(errors="cd"), stock=stock)[1] == ["beats-left: other misreadings than c, d"]
    # Of other meters none, if there is one in that of the cell.
    a_part = typed(Q, THREE, meters="4/4 3/4")
    assert parallel(a_part, cell(), stock=[made(THREE)]) == (Q, [])


def test_of_items_at_hand_that_are_as_near_the_answer_that_was_seldom_right_comes_first() -> None:
    a_part = typed(Q, TWO)
    assert parallel(a_part, cell(), made(R), stock=[made(Q), made(TWO)]) == (TWO, [])


def test_then_a_teachers_own_excerpt_fills_it() -> None:
    base = typed(Q, S, drawn=[Q], even=False)
    a_part = with_own(base, R, U)
    for each in (R, U):
        assert parallel(a_part, cell(), aim=hard(each, base)) == (each, [])
    # As long as the form has not had its share; what is listed for it is not mixed with the rest of the part.
    draft = draft_of(a_part)
    found = [parallel_item(a_part, cell(), draft, Random(1), aim=hard(each, base)) for each in (R, Q)]
    assert list(map(asked, found)) == [R, Q]
    assert found[0] is not None
    assert draft.own == {found[0].id: 1}
    assert draft.bent == {}
    # In the meter of the cell only.
    a_part = with_own(typed(Q, S, meters="4/4 3/4"), THREE)
    draft = draft_of(a_part)
    assert asked(parallel_item(a_part, cell(), draft, Random(1), aim=0)) in (Q, S)
    assert draft.own == {}
    assert parallel(a_part, cell(meter="3/4")) == (THREE, [])
    # Of errors of the cell only.
    assert parallel(with_own(typed(Q, on={R.text: ALONE}), R), cell()) == (Q, [])


def test_the_meter_is_given_up_before_the_errors() -> None:
    a_part = typed(Q, THREE, meters="4/4 3/4", on={Q.text: ALONE})
    assert parallel(a_part, cell()) == (THREE, ["beats-left: 3/4 for 4/4"])
    # ... but not where there is one in the meter of the cell, however near another is.
    a_part = typed(U, THREE, meters="4/4 3/4", even=False)
    assert parallel(a_part, cell(), aim=hard(THREE, a_part)) == (U, [])


def several(*sheets: Question | None) -> Plan:
    """A part that draws nothing for three sheets, after which any number of right answers will do, then these."""
    none: list[Question | None] = [None] * 96
    a_part = part((), drawn=[*none * 3, *(each for sheet in sheets for each in [sheet] * 96)], ask=SEVERAL,
                  offers=THREE_WRONG, meters="4/4 3/4", choices=4)  # fmt: skip
    return in_ask(a_part, sets=None, mixes=())


def test_the_meter_is_given_up_for_as_many_answers_to_tick() -> None:
    both, one, two_in_three = question("4/4 h _", "h", "q q"), question("3/4 h _"), question("3/4 q _", "h", "q q")
    symbols = cell("q", errors="abc", kind="symbols", wrong=3)
    bent = ["all-that-fit: 3/4 for 4/4"]
    assert parallel(several(both, one), symbols, few=False) == (one, bent)
    assert parallel(several(QUARTER, one), symbols, few=False) == (QUARTER, [])
    # Not where no other has as many, whether there is any or none.
    assert parallel(several(both, None, None, two_in_three), symbols, few=False) == (both, [])
    assert parallel(several(both), symbols, few=False) == (both, [])
    assert parallel(several(two_in_three), symbols, few=False) == (two_in_three, bent)


def stated(text: str, right: str) -> Question:
    return Question(question(text).excerpt, (Answer("claim", right),))


def test_the_meter_is_given_up_for_yes_or_no() -> None:
    no, yes, other_no = stated("3/4 w", "fits-not 4 3"), stated("4/4 h", "fits 2 4"), stated("4/4 w", "fits-not 4 3")
    on = {
        no.text: {"fits 2 3": "a", "fits 1 3": "b", "fits-not 4 2": "c"},
        yes.text: {"fits 1 4": "a", "fits 4 4": "b", "fits-not 4 3": "c"},
    }
    a_part = part([no, yes], ask="does-it-fit", on=on, meters="4/4 3/4", choices=4)
    a_part = in_ask(a_part, sets=None, slight=None, clash=lambda *_: False)
    like = cell("fits 1 3", errors="abc", meter="3/4", kind="claim", wrong=3)
    assert parallel(a_part, like, aim=hard(yes, a_part)) == (yes, ["does-it-fit: 4/4 for 3/4"])
    assert parallel(a_part, replace(like, keys=no.keys)) == (no, [])
    assert [cells._misses(a_part, each, like) for each in (no, yes, other_no)] == [True, False, True]


def test_what_is_right_else_does_not_matter_more_than_the_meter() -> None:
    assert not cells._misses(part(()), HALF, cell("q", kind="symbols"))


# Where the cell has none left at all.


@pytest.mark.parametrize("seed", SEEDS)
def test_then_what_the_form_owes_comes_first_in_the_meter_of_the_cell(seed: int) -> None:
    """Each with as many wrong answers as the cell has errors, however many could be foreseen."""

    def compensated(a_part: Plan, over: Mapping[str, int], elsewhere: str = "") -> tuple[Question | None, set[str]]:
        draft = draft_of(a_part, seed=seed)
        draft.taken.update(dict.fromkeys(elsewhere.split(", "), "B"))
        draft.over(BEATS).update(over)
        found = parallel_item(a_part, cell(), draft, Random(seed), aim=0)
        assert list(draft.bent.values()) == ["beats-left: other misreadings than a, b"]
        return asked(found), set() if found is None else set(found.offered)

    on = {
        Q.text: {"3": "c", "4": "d", "5": "e"}, R.text: {"3": "e", "4": "f", "5": "c"},
        THREE.text: {"3": "g", "4": "h", "5": "i"}, MORE_IN_THREE.text: {"3": "g", "4": "h", "5": "j"},
    }  # fmt: skip
    a_part = typed(Q, R, THREE, MORE_IN_THREE, meters="4/4 3/4", on=on)
    assert compensated(a_part, {"c": 1, "d": 1, "f": -1, "g": -9}) == (R, {"e", "f"})
    assert compensated(a_part, {"c": -1, "d": -1, "e": 1, "g": -9}) == (Q, {"c", "d"})
    in_four = f"{Q.text}, {R.text}"
    assert compensated(a_part, {"g": 1, "i": -1}, in_four) == (THREE, {"h", "i"})
    assert compensated(a_part, {"g": 1, "j": -1}, in_four) == (MORE_IN_THREE, {"h", "j"})


def test_as_many_choices_as_the_cell_has_errors_and_none_less() -> None:
    short = part([QUARTER], offers={"e": "c", "h.": "d"}, choices=4)
    a_cell = cell("q", errors="abe", kind="symbols")
    assert cells._compensating(short, a_cell, draft_of(short), Random(1), 0) is None


def test_else_any_item_is_better_than_none() -> None:
    """With three wrong answers none can be made here; two will do for any item."""
    told = ["beats-left: other misreadings than a, b, c"]
    assert parallel(typed(Q), cell(errors="cab")) == (Q, told)
    assert parallel(typed(Q), cell(errors="abc"), made(Q)) == (None, [])


@pytest.mark.parametrize("seed", SEEDS)
def test_of_four_that_make_up_for_others_the_one_is_taken_that_is_owed_most_then_the_nearest(seed: int) -> None:
    def compensating(a_part: Plan, *items: Item, aim: int = 0, elsewhere: str = "") -> Question | None:
        draft = draft_of(a_part, *items)
        draft.taken.update(dict.fromkeys(elsewhere.split(", "), "B"))
        draft.over(BEATS).update({"c": 1, "d": -1, "e": 2})
        found = cells._compensating(a_part, cell(errors="ab"), draft, Random(seed), aim)
        assert len(draft.items) == len(items)
        assert found is None or question_of(found[1]) == found[0]
        assert draft.tally.judged <= 4
        return None if found is None else found[0]

    on = {Q.text: {"3": "c", "4": "e"}, S.text: {"3": "c", "4": "d"}, U.text: {"3": "e", "4": "a"}}
    a_part = typed(Q, S, U, on=on, even=False)
    assert compensating(a_part, aim=hard(Q, a_part)) == S
    a_part = typed(Q, S, U, even=False)
    for each in (Q, S, U):
        assert compensating(a_part, aim=hard(each, a_part)) == each
    # What is as much owed and as near is not compared further.
    assert compensating(typed(Q, R)) in (Q, R)
    assert compensating(typed(Q, R), made(Q)) == R
    assert compensating(typed(Q, R), elsewhere=Q.text) == R
    assert compensating(typed(Q, R, on={Q.text: {}})) == R
    assert compensating(typed(Q, on={Q.text: {}})) is None
    draft = draft_of(a_part)
    many = typed(Q, R, S, T, U, V)
    assert cells._compensating(many, cell(), draft, Random(seed), 0) is not None
    assert draft.tally.judged == 4


def test_the_cell_of_an_item_is_filled_by_one_like_it() -> None:
    a_part = typed(Q, R)
    assert parallel(a_part, replace(cell_of(made(Q), a_part), marks=frozenset()), made(Q)) == (R, [])
