"""Which question comes next where choices are picked; ranks, and what is looked at, worked by hand. Common practice."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from random import Random

import pytest

from asks.spaces import excerpt
from barwright.asks.ask import Mix, Question
from barwright.blueprint.blueprint import Plan
from barwright.forms import picked_cells
from barwright.forms.draft import Draft
from barwright.forms.marks import Mark, marked
from barwright.forms.parallel import Trait
from barwright.forms.picked_cells import picked_free, picked_in_cell
from barwright.forms.picked_items import Want
from barwright.forms.questions import Cell
from barwright.forms.ready_items import question_of
from barwright.forms.seeing import seen_answer
from barwright.forms.sheets import Sheets
from barwright.items.item import Answer, Item
from barwright.rhythm.meter import parse_meter
from forms.made_items import in_ask, item
from forms.made_parts import MANY, part, question

A, B, C, D = "dots-passed-over", "rests-take-no-time", "every-symbol-is-one-beat", "measure-taken-as-empty"
FINISH, SEVERAL = "finish-measure", "all-that-fit"
THREE = {"h": A, "w": B, "e": C}
HALF, QUARTER = question("4/4 q q _", "h"), question("4/4 h q _")


def draft_of(*items: Item, a_part: Plan | None = None, settling: bool = False, named: str = "") -> Draft:
    draft = Draft("A", {}, sheets=Sheets("seed"), settling=settling, named=tuple(named.split()))
    for each in items:
        draft.keep(a_part or part((), ask=each.ask), question_of(each), each)
    return draft


def rank(
    a_part: Plan, asked: Question, draft: Draft | None = None, *, wanted: int | None = None, sort: Sequence[str] = (),
    mix: Mix = (), by_meter: bool = False, right: Mapping[str | int, int] | None = None,
) -> int:  # fmt: skip
    draft = draft or draft_of()
    for each, count in (right or {}).items():
        draft.guessers.watch.right[a_part.ask.id, each] = count
    return picked_cells._rank(
        a_part, draft, marked(a_part, asked), wanted=wanted, sort=sort, mix=mix, by_meter=by_meter
    )


SIZE = seen_answer(Answer("symbols", "h")).size


def test_lengths_that_were_right_often_come_late_and_symbols_too() -> None:
    """Four for each time that its length was right, one for each that one of its symbols was."""
    assert rank(part(()), HALF) == 0
    assert rank(part(()), HALF, right={SIZE: 2, "h": 3, "q": 9, SIZE // 2: 9}) == 4 * 2 + 3
    assert rank(part(()), question("4/4 q q _", "q q"), right={SIZE: 2, "h": 9, "q": 3}) == 4 * 2 + 2 * 3
    # Of several right answers the mean, without what is left over.
    two = question("4/4 q q _", "h", "q. e")
    assert rank(part((), ask=SEVERAL), two, right={SIZE: 1, "h": 2, "q.": 3, "e": 4}) == (4 * 2 + 9) // 2


def test_a_statement_is_held_against_itself_and_its_sort() -> None:
    def stated(text: str) -> Question:
        return Question(excerpt("4/4 q q h"), (Answer("claim", text),))

    fits = in_ask(part((), ask="does-it-fit"), slight=None)
    assert rank(fits, stated("fits 2 3"), right={"fits 2 3": 2, "fits": 5, 3: 7, 2: 7}) == 2
    assert rank(fits, stated("fits 2 3"), sort=["fits"]) == 0
    assert rank(fits, stated("fits-not 2 3"), sort=["fits"]) == 3


@pytest.mark.parametrize(("wanted", "cost"), [(None, 0), (0, 20), (1, 0), (2, 0), (3, 20)])
def test_a_rank_of_length_that_the_right_answer_cannot_have_is_20_to_the_bad(wanted: int | None, cost: int) -> None:
    """Beside a quarter stand two of an eighth, a dotted quarter and a half, the eighth in any case or not."""
    a_part = part((), drawn=[QUARTER], offers={"e": A, "re": B, "s": C, "h": D, "q.": "x"}, choices=4)
    assert rank(a_part, QUARTER, wanted=wanted) == cost


def test_another_number_of_right_answers_than_is_next_is_20_to_the_bad() -> None:
    several = part((), ask=SEVERAL)
    assert [rank(several, HALF, mix=mix) for mix in ((1, 3), (2, 2), ())] == [0, 20, 0]


def test_what_the_form_has_is_100_to_the_bad_and_mirror_images_30() -> None:
    """The excerpt again is 100, and 12 that it stands in the form; that its mirror image does, too, is 30."""
    draft = draft_of(item(FINISH, "4/4 h q _", "q", f"h <{A}>"))
    assert rank(part(()), question("4/4 q h _"), draft, right={SIZE // 2: 0, "q": 0}) == 100
    assert rank(part(()), question("4/4 _ q h"), draft, right={SIZE // 2: 0, "q": 0}) == 130
    assert rank(part(()), QUARTER, draft, right={SIZE // 2: 0, "q": 0}) == 100 + 100 + 30 + 12


def rhythm(text: str, right: str) -> Question:
    return Question(excerpt(text), (Answer("measures", right),))


def test_meters_are_asked_about_in_turn_where_several_are_compared() -> None:
    whole = part((), ask="rhythm-for-time-signature")
    asked = rhythm("3/4 h.", "h.")
    assert rank(whole, asked, by_meter=True, right={"3/4": 2, "h.": 9}) == 8
    assert rank(whole, asked, right={"3/4": 2}) == 0


def texts(*asked: Question) -> list[str]:
    return [each.text for each in asked]


def free(a_part: Plan, draft: Draft, seed: int = 1) -> str | None:
    """The question of the next item of a first form."""
    found = picked_free(a_part, draft, Random(seed))
    assert found is None or draft.items[-1] == found
    return None if found is None else question_of(found).text


def test_the_question_whose_answer_was_right_least_often_comes_next() -> None:
    for settling in (True, False):
        draft = draft_of(settling=settling)
        draft.guessers.watch.right[FINISH, "q"] = 3
        listed = [QUARTER, HALF]
        assert free(part(listed, offers={"w": A, "e": B, "h.": C}), draft) == HALF.text
        assert free(part(listed, offers={"w": A, "e": B, "h.": C}), draft) == QUARTER.text
        assert free(part(listed, offers={"w": A, "e": B, "h.": C}), draft) is None


def test_a_rank_is_taken_that_was_seldom_and_what_came_is_counted() -> None:
    """Of a quarter none or one can be shorter, of a half one at least; each seed draws among equals."""
    a_part = part([QUARTER, HALF], drawn=[QUARTER, HALF], offers={"w": A, "e": B, "h.": C, "e e": D}, choices=3)
    assert {picked_cells._next_rank(a_part, draft_of(), Random(seed)) for seed in range(20)} == {0, 1, 2}
    draft = draft_of()
    draft.ranks.update({(FINISH, 0): 1, (FINISH, 1): 1})
    assert {picked_cells._next_rank(a_part, draft, Random(seed)) for seed in range(20)} == {2}
    draft.ranks[FINISH, 2] = 5
    assert {picked_cells._next_rank(a_part, draft, Random(seed)) for seed in range(20)} == {0, 1}
    assert picked_cells._next_rank(part((), ask=SEVERAL), draft, Random(1)) is None
    # What no question here can have is counted as the least that it can.
    only = part([QUARTER], drawn=[QUARTER], offers={"h": A, "h.": B, "w": C}, choices=3)
    for seed in range(5):
        draft = draft_of(settling=True)
        assert free(only, draft, seed) == QUARTER.text
        assert draft.ranks == {(FINISH, 0): 1}
    both = part([QUARTER], drawn=[QUARTER], offers={"h": A, "h.": B, "e": C, "re": D}, choices=3)
    counted = set()
    for seed in range(9):
        draft = draft_of(settling=True)
        assert free(both, draft, seed) == QUARTER.text
        wanted = picked_cells._next_rank(both, draft_of(), Random(seed))
        assert draft.ranks == {(FINISH, 1 if wanted == 1 else 0): 1}
        counted.add(wanted)
    assert counted == {0, 1, 2}
    # Where nothing is known of a length it is counted as none; what is not told by its length is not counted.
    no_more = part([QUARTER], drawn=[TEN[0]], offers={"h": A, "h.": B}, on={TEN[0].text: {}}, choices=3)
    draft = draft_of(settling=True)
    assert free(no_more, draft) == QUARTER.text
    assert draft.ranks == {(FINISH, 0): 1}
    draft = draft_of(settling=True)
    assert free(several(ONE_RIGHT), draft) == ONE_RIGHT.text
    assert draft.ranks == {}


def several(*listed: Question, draws: Sequence[Question | None] = (None,), choices: int = 4, focus: str = "") -> Plan:
    """A part in which several may be right; any wrong choices may stand together."""
    made = part(listed, ask=SEVERAL, drawn=draws, offers=THREE, choices=choices, focus=focus)
    return in_ask(made, sets=None)


ONE_RIGHT, TWO_RIGHT = question("4/4 h q _", "q"), question("4/4 q h _", "q", "e e")


def test_how_many_are_right_goes_in_turn() -> None:
    """Of four choices one is right, or two, as these mixes say; only those of four choices count."""
    for mixes, text in (([((2, 2), 1), ((1, 4), 9)], TWO_RIGHT.text), ([((1, 3), 1), ((2, 3), 9)], ONE_RIGHT.text)):
        a_part = in_ask(several(ONE_RIGHT, TWO_RIGHT), mixes=tuple(mixes))
        for seed in range(4):
            assert free(a_part, draft_of(settling=True), seed) == text


def test_of_statements_those_of_a_drawn_sort_come_first() -> None:
    """Yes or No is drawn, which says of what sort the next is."""

    def stated(text: str, right: str) -> Question:
        return Question(excerpt(text), (Answer("claim", right),))

    yes, no = stated("4/4 q q h", "fits 2 3"), stated("3/4 q h", "fits-not 3 4")
    for drawn, text in ((yes, yes.text), (no, no.text)):
        a_part = part([yes, no], ask="does-it-fit", drawn=[drawn], meters="4/4 3/4", choices=4)
        a_part = in_ask(
            a_part, sets=None, slight=None, clash=lambda _q, _one, _other: False,
            offers=lambda _q, _s, _r: {
                Answer("claim", each): (way,) for each, way in (("fits 1 2", A), ("fits-not 1 2", B), ("fits-not 5", C))
            },
        )  # fmt: skip
        for seed in range(4):
            assert free(a_part, draft_of(settling=True), seed) == text


def cell(keys: str = "q", *, wrong: int = 0, meter: str = "4/4", marks: frozenset[Trait | Mark] = frozenset()) -> Cell:
    answers = tuple(Answer("symbols", each) for each in keys.split(", "))
    return Cell(parse_meter(meter), frozenset(), 10, answers, wrong, marks)


def in_cell(
    a_part: Plan, a_cell: Cell, draft: Draft | None = None, *, aim: int = 10, meter: str | None = "4/4"
) -> tuple[str, list[str]] | None:
    """The question that comes in the cell, and its wrong choices, which are not kept."""
    draft = draft or draft_of()
    before = list(draft.items)
    found = picked_in_cell(a_part, a_cell, draft, Random(1), aim, meter=parse_meter(meter) if meter else None)
    assert draft.items == before
    return None if found is None else (found[0].text, [c.answer.text for c in found[1].wrong])


EASY, HARD = question("4/4 h. _"), question("4/4 e e e e q _")


def test_in_a_cell_what_is_nearest_to_the_wanted_difficulty_comes_first() -> None:
    easy, hard = (marked(part(()), each).difficulty for each in (EASY, HARD))
    assert easy < hard
    for settling in (True, False):
        for aim, asked in ((easy, EASY), (hard, HARD), (easy - 9, EASY), (hard + 9, HARD)):
            draft = draft_of(settling=settling)
            # Traits that neither is to have are 1 to the bad, an answer 5: both have the same answer and meter.
            draft.due.update(marked(part(()), EASY).marks | marked(part(()), HARD).marks)
            found = in_cell(part([EASY, HARD], offers=THREE), cell(), draft, aim=aim)
            assert found is not None
            assert found[0] == asked.text


def test_in_a_cell_traits_that_are_due_come_first() -> None:
    draft = draft_of()
    draft.due.update(marked(part(()), HARD).marks)
    a_part = part([EASY, HARD], offers=THREE, even=True)
    assert (in_cell(a_part, cell(), draft, aim=1) or ("",))[0] == HARD.text


def test_an_item_has_as_many_choices_as_its_cell_or_as_are_planned() -> None:
    a_part = part([EASY], offers={**THREE, "h": D}, choices=4)
    for wrong, count in ((0, 3), (2, 2)):
        found = in_cell(a_part, cell(wrong=wrong))
        assert found is not None
        assert len(found[1]) == count
    # Two are ticked, of four, and of three.
    for wrong, count in ((0, 2), (1, 1)):
        found = in_cell(several(TWO_RIGHT), cell("q, e e", wrong=wrong))
        assert found is not None
        assert len(found[1]) == count


def test_misreadings_that_the_form_has_oftener_than_it_should_come_last() -> None:
    a_part = part([EASY], offers={"h": A, "w": B, "e": C, "h.": D}, choices=3)
    draft = draft_of()
    draft.over(FINISH).update({A: 2, B: 2, C: -2, D: -2})
    found = in_cell(a_part, cell(wrong=2), draft)
    assert found is not None
    assert set(found[1]) == {"e", "h."}


def test_what_misreadings_show_is_not_asked_while_choices_are_open() -> None:
    draft = draft_of(settling=True)
    draft.over(FINISH).update({A: 9, B: 9, C: -9})
    assert in_cell(part([EASY], offers={"h": A, "w": B, "e": C, "h.": D}), cell(), draft) is not None
    assert draft.tally.judged == 0


def best(
    a_part: Plan, draft: Draft, ranks: Mapping[str, int], *, keys: int = 0, want: Want | None = None, seed: int = 1
) -> str | None:
    """The question of the best item, where questions have these ranks."""
    found = picked_cells._best(
        a_part, draft, Random(seed), want or Want(), lambda each: ranks.get(each.question.text, 0), None, keys
    )
    return None if found is None else found[0].text


def on_sheets(*sheets: Sequence[Question], offers: Mapping[str, str] | None = None, focus: str = "") -> Plan:
    """A part of many questions, which draws these sheets of 96 one after the other."""
    drawn = [each for sheet in sheets for each in (list(sheet) * 96)[:96]]
    return part(MANY, drawn=drawn, items=9, offers=offers or THREE, focus=focus)


THREE_BEATS = ("q q q", "h q", "q h", "e e q q", "q e e q", "q q e e", "e e h", "h e e", "h.", "e e e e q")
TEN = [question(f"4/4 {text} _") for text in THREE_BEATS]


def ranked_so(questions: Sequence[Question]) -> dict[str, int]:
    return {each.text: 10 * number for number, each in enumerate(questions)}


def test_four_sheets_are_looked_through_for_as_many_right_answers() -> None:
    """On the last one another number of them will do."""
    two = question("4/4 q q e e _", "q", "e e")
    for before, text in ((0, two.text), (1, two.text), (3, two.text), (4, TEN[3].text)):
        a_part = in_ask(
            part(MANY, ask=SEVERAL, drawn=[q for q in (*TEN[:before], two) for _ in range(96)], items=9, offers=THREE),
            sets=None,
            mixes=(),
        )
        draft = draft_of(settling=True)
        assert best(a_part, draft, {}, keys=2) == text
    assert best(on_sheets(TEN[:1]), draft_of(settling=True), {}) == TEN[0].text


def test_one_of_the_best_eight_questions_is_built() -> None:
    """None before it has enough wrong answers; of a sheet no more than eight are tried, and it is the only one."""
    for bare, text in ((7, TEN[7].text), (8, None)):
        on = {each.text: {"h": A} for each in TEN[:bare]}
        for settling in (True, False):
            assert best(part(TEN, offers=THREE, on=on), draft_of(settling=settling), ranked_so(TEN)) == text


def test_while_choices_are_open_one_of_three_is_taken_and_more_are_looked_at_for_what_the_part_is_about() -> None:
    """The third alone shows `D`, which the part is about; then the sixth."""
    shows = {"h": A, "w": B, "e": D}
    for place in (2, 5):
        a_part = part(TEN, offers=THREE, on={TEN[place].text: shows}, focus=D)
        assert best(a_part, draft_of(settling=True), ranked_so(TEN)) == TEN[place].text
    # Where none shows it the first sheet that is left at all is the last but one.
    assert best(part(TEN, offers=THREE, focus=D), draft_of(settling=True), ranked_so(TEN)) is None


def test_the_first_of_those_that_show_most_of_what_the_part_is_about_comes() -> None:
    both = {"h": A, "w": B, "e": D}
    a_part = part(TEN, offers={"h": A, "w": B, "e": "x"}, on={TEN[4].text: both, TEN[6].text: both}, focus=f"{A} {D}")
    assert best(a_part, draft_of(settling=True), ranked_so(TEN)) == TEN[4].text
    assert best(a_part, draft_of(), ranked_so(TEN)) == TEN[4].text


def sought(draft: Draft, focus: str) -> frozenset[str]:
    return picked_cells._sought(part((), focus=focus), draft, Want(lacking=draft.lacking()))


def test_what_has_too_few_chances_is_sought_else_all_that_the_part_is_about() -> None:
    draft = draft_of()
    assert sought(draft, "") == frozenset()
    assert sought(draft, "a b") == {"a", "b"}
    draft.shown.update({Mark("about", "1", "a"): 2, Mark("about", "1", "b"): 1})
    assert sought(draft, "a b") == {"b"}
    draft.shown[Mark("about", "1", "b")] = 2
    assert sought(draft, "a b") == {"a", "b"}
    named = draft_of(named="a")
    named.shown.update(draft.shown)
    assert sought(named, "a b") == {"a"}


def led(a_part: Plan, about: str, questions: Sequence[Question]) -> list[str]:
    ranked = list(enumerate(questions))
    return [each.text for _, each in picked_cells._led(a_part, ranked, frozenset(about.split()), Random(1))]


def test_questions_on_which_most_of_the_misreadings_show_come_first() -> None:
    two, one = {"h": A, "w": D, "e": B}, {"h": A, "w": B}
    on = {TEN[2].text: two, TEN[3].text: one, TEN[5].text: two, TEN[6].text: one}
    a_part = part((), offers={"h": B}, on=on)
    assert led(a_part, f"{A} {D}", TEN) == [TEN[n].text for n in (2, 5, 3, 6)]
    assert led(a_part, D, TEN) == [TEN[n].text for n in (2, 5)]
    assert led(a_part, C, TEN) == []
    # Without any the first eight; of those that show all no more than eight, of one wrong choice one is all.
    assert led(a_part, "", TEN) == [each.text for each in TEN[:8]]
    all_show = part((), offers=two)
    assert led(all_show, f"{A} {D}", TEN) == [each.text for each in TEN[:8]]
    assert led(part((), offers={"h": B}, on=on, choices=2), f"{A} {D}", TEN) == [TEN[n].text for n in (2, 3, 5, 6)]
    # Eight that show one, and then one that shows both.
    first = part((), offers=one, on={TEN[9].text: two})
    assert led(first, f"{A} {D}", TEN) == [each.text for each in (TEN[9], *TEN[:7])]


def test_forty_eight_are_looked_at_for_a_misreading() -> None:
    listed = MANY[:60]
    for place, text in ((47, listed[47].text), (48, None)):
        a_part = part(listed, offers=THREE, on={listed[place].text: {"h": A, "w": B, "e": D}}, focus=D)
        assert best(a_part, draft_of(settling=True), ranked_so(listed)) == text


def test_the_third_sheet_is_taken_though_nothing_that_the_part_is_about_shows_on_it() -> None:
    sheets = [[each] for each in TEN[:5]]
    assert best(on_sheets(*sheets, focus=D), draft_of(settling=True), {}) == TEN[2].text


def test_what_another_form_has_or_this_one_may_not_have_is_passed_over() -> None:
    for count, text in ((3, TEN[2].text), (2, None)):
        draft = draft_of(settling=True)
        draft.taken[TEN[0].text] = "B"
        draft.keep(part(()), TEN[1], item(FINISH, TEN[1].text, "q", f"h <{A}>"))
        assert best(part(TEN[:count], offers=THREE), draft, ranked_so(TEN)) == text


def test_no_question_is_looked_at_twice() -> None:
    draft, a_part = draft_of(), on_sheets(TEN[:2], TEN[1:3], TEN[2:4], TEN[3:5], TEN[4:6])
    found = [[each.text for _, each in ranked] for ranked in picked_cells._ranked(a_part, draft, lambda _: 0, None)]
    assert found == [[TEN[0].text, TEN[1].text], [TEN[2].text], [TEN[3].text], [TEN[4].text]]


def test_of_two_questions_the_one_comes_whose_choices_give_guessers_less() -> None:
    """All choices of the first but the right one are longer; of the second one is longer and one shorter.

    Ranks that differ by less than three are as good as each other.
    """
    longer, mixed = {"h": A, "w": B}, {"h": A, "e": B}
    a_part = part(TEN[:2], offers=mixed, on={TEN[0].text: longer}, choices=3)
    for further, text in ((2, TEN[1].text), (3, TEN[0].text)):
        assert best(a_part, draft_of(), {TEN[1].text: further}) == text
    # In a cell, where something is owed, the first is taken.
    assert best(a_part, draft_of(), {TEN[1].text: 2}, want=Want(owed={})) == TEN[0].text
    # A third is not looked at, unless sets of choices are rare.
    a_part = part(TEN[:3], offers=longer, on={TEN[2].text: mixed}, choices=3)
    ranks = {TEN[1].text: 1, TEN[2].text: 2}
    assert best(a_part, draft_of(), ranks) in (TEN[0].text, TEN[1].text)


def test_what_is_made_is_counted() -> None:
    draft = draft_of()
    assert best(part(TEN[:1], offers=THREE), draft, {}) == TEN[0].text
    assert (draft.tally.kept, draft.tally.led) == ({FINISH: 1}, {FINISH: 3})
    # The first is refused for sixteenths, which were never taught, and the next is taken.
    draft = draft_of()
    a_part = part(TEN[:2], offers=THREE, on={TEN[0].text: {"h": A, "w": B, "s": C}})
    assert best(a_part, draft, ranked_so(TEN)) == TEN[1].text


def test_what_is_about_what_the_part_is_about_comes_before_what_gives_less_away() -> None:
    """Both show `A` or `D`; on the first only by a choice that is right, too, and cannot stand there."""
    first = {"e e": A, "w": B, "e": C, "h": "x"}
    a_part = part(TEN[:2], offers={"h": A, "w": B, "e": C}, on={TEN[0].text: first}, focus=A)
    assert best(a_part, draft_of(), {TEN[1].text: 9}) == TEN[1].text
    assert best(a_part, draft_of(settling=True), {TEN[1].text: 9}) == TEN[1].text


def test_while_open_the_set_that_weighs_least_stands_for_all() -> None:
    """Of pairs of choices those with `A`, which the part is about, weigh least; all sets are kept."""
    a_part = part(TEN[:1], offers={"h": A, "h.": B, "e": C}, choices=3, focus=A)
    draft = draft_of(settling=True)
    found = picked_cells._best(a_part, draft, Random(1), Want(), lambda _: 0)
    assert found is not None
    assert A in found[1].offered
    assert draft.pools[found[1].id].sets
    assert draft.tally.judged == 0


@pytest.mark.parametrize(("meters", "listed", "first"), [(3, 121, 1), (2, 121, 1), (1, 121, 0), (3, 120, 0)])
def test_meters_go_in_turn_where_they_are_compared_and_questions_are_many(meters: int, listed: int, first: int) -> None:
    """Common time was right before. Else what is drawn first comes first."""
    drawn = [rhythm("4/4 q q h", "q q h"), rhythm("3/4 h.", "h.")]
    many = [replace(each, keys=drawn[0].keys) for each in MANY[:listed]]
    a_part = part(many, ask="rhythm-for-time-signature", drawn=drawn, offers=THREE, meters="4/4 3/4", choices=3)
    draft = Draft("A", {}, sheets=Sheets("seed", few=False), settling=True)
    draft.guessers.watch.right["rhythm-for-time-signature", "4/4"] = 1
    assert free(in_ask(a_part, sets=None, needs_meters=meters), draft) == drawn[first].text


def test_where_there_are_no_sorts_none_is_drawn() -> None:
    a_part = in_ask(several(ONE_RIGHT, TWO_RIGHT, draws=[TWO_RIGHT]), mixes=())
    found = set()
    for seed in range(8):
        draft = Draft("A", {}, sheets=Sheets(str(seed)), settling=True)
        found.add(free(a_part, draft))
    assert found == {ONE_RIGHT.text, TWO_RIGHT.text}


def test_while_choices_are_open_the_first_set_stands_for_all_whatever_the_form_has() -> None:
    draft = draft_of(settling=True)
    draft.over(FINISH).update({A: 9})
    found = in_cell(part(TEN[:1], offers=THREE, choices=3), cell(wrong=2), draft)
    assert found is not None
    assert "h" in found[1]


def test_in_a_first_form_what_was_offered_often_stands_for_none() -> None:
    draft = draft_of(settling=True)
    draft.tally.offered.update({A: 9, B: 1, C: 1})
    assert free(part(TEN[:1], offers=THREE, choices=3), draft) == TEN[0].text
    assert draft.items[0].offered == {B, C}


def test_as_many_right_answers_come_before_what_is_better_otherwise() -> None:
    a_part = in_ask(several(ONE_RIGHT, TWO_RIGHT), mixes=())
    assert best(a_part, draft_of(settling=True), {TWO_RIGHT.text: 99}, keys=2) == TWO_RIGHT.text


def test_a_sheet_on_which_nothing_can_be_asked_is_turned() -> None:
    sheets = [[each] for each in TEN[:5]]
    on = {TEN[0].text: {"h": A}}
    drawn = [each for sheet in sheets for each in sheet * 96]
    for settling in (True, False):
        a_part = part(MANY, drawn=drawn, items=9, offers=THREE, on=on)
        assert best(a_part, draft_of(settling=settling), {}) == TEN[1].text
        assert best(on_sheets(*sheets, focus=D), draft_of(settling=settling), {}) == TEN[2].text
    # In a cell, too, the next is taken where the first has too few wrong answers.
    assert best(part(TEN[:2], offers=THREE, on=on), draft_of(), ranked_so(TEN), want=Want(owed={})) == TEN[1].text


LONGER, MIXED = {"h": A, "w": B}, {"h": A, "e": B}


@pytest.mark.parametrize(("mixed", "best_of_fair", "best_of_any"), [(1, 1, 1), (2, 2, 0), (3, 3, 0), (4, 0, 0)])
def test_two_are_compared_and_four_where_sets_are_rare(mixed: int, best_of_fair: int, best_of_any: int) -> None:
    """Of one the right answer is neither the longest nor the shortest."""
    any_, other = (part(MANY, drawn=TEN[:5], offers=LONGER, on={TEN[mixed].text: MIXED}, choices=3) for _ in range(2))
    fair = in_ask(other, sets=lambda _q, offers, _s, count, _r: iter([tuple(offers)] if len(offers) == count else []))
    assert best(fair, draft_of(), {}) == TEN[best_of_fair].text
    assert best(any_, draft_of(), {}) == TEN[best_of_any].text


def test_looking_goes_on_until_one_is_about_what_the_part_is_about() -> None:
    """On the first ones `A` leads to a right answer only, which no item can have as a wrong one."""
    none = {"e e": A, "w": B, "h": C, "e": "x"}
    a_part = part(TEN[:3], offers=none, on={TEN[2].text: MIXED}, choices=3, focus=A)
    assert best(a_part, draft_of(), {TEN[1].text: 1, TEN[2].text: 2}) == TEN[2].text
    # The second is; a third that gives less away is not looked at.
    a_part = part(TEN[:3], offers=none, on={TEN[1].text: LONGER, TEN[2].text: MIXED}, choices=3, focus=A)
    assert best(a_part, draft_of(), {TEN[1].text: 1, TEN[2].text: 2}) == TEN[1].text


RESTS = {"re": A, "rh": B, "rh.": C}


@pytest.mark.parametrize(("place", "taken"), [(1, 1), (2, 2), (3, 0)])
def test_of_three_the_one_is_taken_that_has_a_choice_of_the_right_sort(place: int, taken: int) -> None:
    a_part = part(TEN[:5], offers=RESTS, on={TEN[place].text: THREE})
    assert best(a_part, draft_of(settling=True), ranked_so(TEN)) == TEN[taken].text


def test_more_than_three_are_looked_at_as_long_as_none_is_about_what_it_should_be() -> None:
    some, all_ = {"h": A, "e e": D, "w": B, "e": C}, {"h": A, "w": D, "e": B}
    none = {"e e": A, "w": B, "e": C, "h": "x"}
    a_part = part(TEN[:6], offers=none, on={TEN[5].text: MIXED}, focus=A, choices=3)
    assert best(a_part, draft_of(settling=True), ranked_so(TEN)) == TEN[5].text
    # One that is about a part of it is enough.
    for place, taken in ((2, 2), (3, 0)):
        a_part = part(TEN[:6], offers=some, on={TEN[place].text: all_}, focus=f"{A} {D}")
        assert best(a_part, draft_of(settling=True), ranked_so(TEN)) == TEN[taken].text


def test_as_many_as_there_are_wrong_choices_can_show() -> None:
    """Eight show two of three, the last all three."""
    a_part = part((), offers={"h": A, "w": B}, on={TEN[9].text: {"h": A, "w": B, "e": D}})
    assert led(a_part, f"{A} {B} {D}", TEN)[0] == TEN[9].text
