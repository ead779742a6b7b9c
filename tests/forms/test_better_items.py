"""One item of a tiny form is exchanged for a better one; what each mark costs is worked by hand. Common practice.

The form is as it should be but for what a case names: of that it has one too many (20, `scales.FAR`) or too few. One
more or less than is best costs 1.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from random import Random

import pytest

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.balance import _Search
from barwright.forms.choosing import Candidate
from barwright.forms.draft import Draft
from barwright.forms.marks import Marked, marked
from barwright.forms.parallel import WHOLE, Trait
from barwright.forms.picked_items import Pool
from barwright.forms.questions import cell_of
from barwright.forms.ready_items import Stock, question_of
from barwright.forms.scales import OF_WRONG, Aim, Scales
from barwright.forms.sheets import Sheets
from barwright.items.item import Answer, Item
from barwright.rhythm.meter import parse_meter
from forms.made_items import item
from forms.made_parts import part, question

A, B, C, D = "dots-passed-over", "rests-take-no-time", "every-symbol-is-one-beat", "measure-taken-as-empty"
BEATS, FINISH = "beats-left", "finish-measure"
OFFERS = {"2": A, "3": B, "4": C}


def beats(text: str, key: str = "1") -> Question:
    return question(text, key, kind="number")


def typed(*listed: Question, offers: Mapping[str, str] = OFFERS, meters: str = "4/4 3/4", focus: str = "") -> Plan:
    """A part whose answers are typed, so that wrong ones are foreseen only."""
    return part(listed, ask=BEATS, offers=offers, meters=meters, focus=focus, even=True)


ONE = item(BEATS, "4/4 q h _", "1", f"2 <{A}>, 3 <{B}>")
OTHER = item(BEATS, "4/4 e e h _", "1", f"2 <{A}>, 3 <{B}>")
HALF, QUARTER, MISREAD = Trait(BEATS, "values", "h"), Trait(BEATS, "values", "q"), Trait(BEATS, "misreadings", A)
IN_ALL = Trait(WHOLE, "misreadings", A)
# Without the half of the first item; the same note values in another order; without the quarter.
BETTER, SAME, EIGHTHS = beats("4/4 q q q _"), beats("4/4 h q _"), beats("4/4 e e e e h _")


def search(
    a_part: Plan, *items: Item, most: Mapping[Trait, int] | None = None, least: Mapping[Trait, int] | None = None,
    best: Mapping[Trait, int] | None = None, round_: int = 0, named: str = "", stock: Sequence[Item] = (),
    meter: str = "4/4", settling: bool = False, pools: Mapping[Item, Pool] | None = None,
) -> _Search:  # fmt: skip
    """The search for the first item of a form that is as it should be but for what is named."""
    at_hand = Stock({a_part.ask.id: tuple(stock)})
    draft = Draft("A", {}, named=tuple(named.split()), sheets=Sheets("seed"), stock=at_hand, settling=settling)
    draft.pools.update({each.id: pool for each, pool in (pools or {}).items()})
    for each in items:
        draft.keep(a_part, question_of(each), each)
    shown = {mark: count for mark, count in draft.shown.items() if isinstance(mark, Trait)}
    sizes = {a_part.ask.id: len(items), WHOLE: len(items)}
    aim = Aim(least or {}, {**shown, **(most or {})}, {**shown, **(best or {})}, draft.sum, sizes, {})
    cell = replace(cell_of(items[0], a_part), meter=parse_meter(meter))
    return _Search(draft, a_part, cell, items[0], Scales(aim, draft), round_)


def better(a_search: _Search, *, goes: bool = True) -> Item | None:
    """What comes, after a look at the form that holds it. An item that `goes` while others are built stands last."""
    first, *others = a_search.draft.items
    found = a_search.better(Random(1))
    assert a_search.draft.items == ([*others, found or first] if goes else [first, *others])
    return found


def texts(questions: Sequence[Marked]) -> list[str]:
    return [each.question.text for each in questions]


def test_an_item_is_exchanged_for_one_without_what_stands_too_often() -> None:
    looking = search(typed(SAME, BETTER), ONE, OTHER, most={HALF: 1})
    looking.draft.bent[ONE.id] = "whatever it was"
    found = better(looking)
    assert found is not None
    assert (question_of(found), found.wrong) == (BETTER, ONE.wrong)
    assert looking.scales.bad == set()
    assert looking.draft.bent == {}


def test_it_stays_where_no_question_is_better() -> None:
    looking = search(typed(SAME, EIGHTHS), ONE, OTHER, most={HALF: 1})
    looking.draft.bent[ONE.id] = "whatever it was"
    assert better(looking, goes=False) is None
    assert looking.scales.bad == {HALF}
    assert looking.draft.bent == {ONE.id: "whatever it was"}
    # One that is better but may not come.
    looking = search(typed(BETTER), ONE, OTHER, most={HALF: 1})
    looking.draft.taken[BETTER.text] = "B"
    assert better(looking) is None


def test_one_that_leads_nowhere_is_passed_over_for_the_next() -> None:
    """The best cannot have as many wrong answers; the second has a rest besides, which no form should have."""
    second = beats("4/4 q q rq _")
    a_part = part((BETTER, second), ask=BEATS, offers=OFFERS, on={BETTER.text: {"2": A}}, even=True)
    found = better(search(a_part, ONE, OTHER, most={HALF: 1}))
    assert found is not None
    assert question_of(found) == second


def test_what_is_only_not_at_its_best_is_no_reason_to_exchange() -> None:
    """One half is best, and two may stand there."""
    for round_ in range(2):
        assert better(search(typed(BETTER), ONE, OTHER, best={HALF: 1}, round_=round_), goes=False) is None


def test_the_first_look_is_in_the_meter_of_the_cell_and_others_are_in_any() -> None:
    three = beats("3/4 q q _")
    assert better(search(typed(three), ONE, OTHER, most={HALF: 1}), goes=False) is None
    looking = search(typed(three), ONE, OTHER, most={HALF: 1}, round_=1)
    found = better(looking)
    assert found is not None
    assert question_of(found) == three
    assert looking.draft.bent == {found.id: "beats-left: 3/4 for 4/4, to be as hard"}


def test_questions_are_ranked_by_what_they_promise() -> None:
    """A half less is 20 to the good but 1 off the best. Each rest more is 1 to the bad, an eighth more 21."""
    rest, rests, three = beats("4/4 q q rq _"), beats("4/4 q rq rh _"), beats("3/4 q q _")
    looking = search(typed(EIGHTHS, rests, SAME, three, BETTER, rest), ONE, OTHER, most={HALF: 1})
    marks = looking.draft.marks_of(ONE)
    ranked = [each.text for each in (BETTER, rest, rests, SAME, EIGHTHS)]
    assert texts(looking._ranked(marks, 1, 0)) == ranked[:3]
    # One with the same traits is no gain; one without the quarter, with eighths off the beat, is 43 to the bad.
    assert texts(looking._ranked(marks, 1, 1)) == texts(looking._ranked(marks, 1, 43)) == ranked[:4]
    assert texts(looking._ranked(marks, 1, 44)) == ranked
    # In another meter, later, it is 1 to the bad for each of the two.
    assert three.text in texts(replace(looking, round_=1)._ranked(marks, 1, 0))


def test_marks_of_wrong_answers_are_taken_to_stay() -> None:
    """Else each question would seem to mend what only its wrong answers do."""
    looking = search(typed(SAME), ONE, OTHER, most={MISREAD: 1})
    marks = looking.draft.marks_of(ONE)
    assert any(mark.kind in OF_WRONG for mark in marks)
    assert looking._ranked(marks, 1, 0) == []


def test_of_an_item_whose_misreading_stands_too_often_others_are_taken_first() -> None:
    looking = search(typed(BETTER), ONE, OTHER, most={MISREAD: 1})
    found = better(looking)
    assert found is not None
    assert (question_of(found), found.offered) == (question_of(ONE), {B, C})
    assert looking.draft.bent == {found.id: f"beats-left: other misreadings than {A}, {B}"}


def test_another_question_may_cost_more_later_if_its_wrong_answers_are_worth_it() -> None:
    """On the item's own question nothing else leads anywhere. Another is 2 to the bad, its wrong answers mend 20."""
    # A quarter less and a rest more are 1 each.
    other = beats("4/4 h rq _")
    a_part = part((other,), ask=BEATS, offers=OFFERS, on={question_of(ONE).text: {"2": A, "3": B}}, even=True)
    assert better(search(a_part, ONE, OTHER, most={MISREAD: 1})) is None
    # In rounds before the last two it keeps its misreadings; from then on others may come.
    assert better(search(a_part, ONE, OTHER, most={MISREAD: 1}, round_=1)) is None
    found = better(search(a_part, ONE, OTHER, most={MISREAD: 1}, round_=2))
    assert found is not None
    assert (question_of(found), found.offered) == (other, {B, C})


def test_no_other_question_is_looked_at_for_the_sake_of_wrong_answers_that_are_good_enough() -> None:
    """One of the misreading is best, two may stand there."""
    a_part = part((SAME,), ask=BEATS, offers=OFFERS, even=True)
    for round_ in range(4):
        assert better(search(a_part, ONE, OTHER, best={MISREAD: 1}, round_=round_), goes=False) is None


def test_one_to_the_good_is_enough() -> None:
    """A half less is 19 to the good; another answer is 10 to the bad, for 5 each, and that there is no quarter 1.

    Six other values that are not there by now, and a sound off the beat, are 1 each.
    """
    other = beats("4/4 h. rq | rh q. re | q. e q. _", "1/2")
    halves = [item(BEATS, text, "1", f"2 <{A}>, 3 <{B}>") for text in ("4/4 q h _", "4/4 h q _")]
    assert better(search(typed(other), *halves, most={HALF: 1})) is not None
    # One more of them that should not be there is 20 to the bad.
    assert better(search(typed(other), *halves, most={HALF: 1, Trait(BEATS, "values", "h."): 0}), goes=False) is None


def test_in_the_first_round_a_question_has_to_promise_something_by_itself() -> None:
    """It keeps one of two misreadings where the item credits both wrong answers to one, so that others may come."""
    one = item(BEATS, "4/4 q h _", "1", f"2 <{A}>, 3 <{A}>")
    other = beats("4/4 h rq _")
    a_part = part((other,), ask=BEATS, offers=OFFERS, on={question_of(ONE).text: {"2": A}}, even=True)
    most = {MISREAD: 1, **{Trait(of, "misreadings", B): 2 for of in (BEATS, WHOLE)}}
    assert better(search(a_part, one, OTHER, most=most)) is None
    found = better(search(a_part, one, OTHER, most=most, round_=1))
    assert found is not None
    assert (question_of(found), found.offered) == (other, {B, C})


@pytest.mark.parametrize(
    ("text", "best", "comes"),
    [
        # An eighth less and a dotted half more are 1 to the good each, no sound off the beat 1 to the bad.
        ("4/4 h. _", {"e": 0, "h.": 1}, True),
        # An eighth less and a rest more are 1 to the good each, no sound off the beat and another quarter 1 to the bad.
        ("4/4 rh q _", {"e": 0, "rh": 1}, False),
    ],
)
def test_an_item_of_the_stock_is_only_given_up_for_what_is_better_by_more_than_a_thousand(
    text: str, best: Mapping[str, int], *, comes: bool
) -> None:
    """Each sound of the form above two makes it 50 hundredths, of 4 each, too hard; here five fewer come."""
    assert better(search(typed(BETTER), ONE, OTHER, most={HALF: 1}, stock=[OTHER, ONE])) is None
    assert better(search(typed(BETTER), ONE, OTHER, most={HALF: 1}, stock=[OTHER])) is not None
    many, few = (item(BEATS, each, "1", f"2 <{A}>, 3 <{B}>") for each in ("4/4 e e e e e e _", "4/4 q rq q _"))
    a_part = typed(beats(text))
    a_part = replace(a_part, weights={**a_part.weights, "sounds": 1})
    at_best = {Trait(BEATS, "values", name): count for name, count in best.items()}
    looking = search(a_part, many, few, stock=[few, many], best=at_best, most={QUARTER: 2})
    looking = replace(looking, scales=Scales(replace(looking.scales.aim, difficulty=2), looking.draft))
    assert looking.draft.sum == 8
    assert (better(looking) is not None) is comes


@pytest.mark.parametrize(
    ("round_", "ask", "again"), [(0, BEATS, True), (3, BEATS, True), (0, FINISH, True), (1, FINISH, False)]
)
def test_picked_wrong_choices_are_looked_at_again_once(round_: int, ask: str, *, again: bool) -> None:
    one = ONE if ask == BEATS else item(FINISH, "4/4 q h _", "q", f"h <{A}>")
    assert search(part((), ask=ask), one, round_=round_)._may_choose_again() is again


def able(looking: _Search, *questions: Question) -> list[str]:
    return texts(looking._able([marked(looking.plan, each) for each in questions]))


def of_length(count: int, first: str = "q") -> list[Question]:
    """So many questions, all different."""
    return [beats(f"4/4 {first} {' '.join(['e'] * number)} _") for number in range(1, count + 1)]


def test_the_best_three_that_may_stand_in_the_form_are_built() -> None:
    looking = search(typed(), ONE, OTHER)
    four = of_length(4)
    assert able(looking, *four) == [each.text for each in four[:3]]
    assert able(looking, *four[:1]) == [four[0].text]
    # What another form has, or this one, may not.
    looking.draft.taken[four[0].text] = "B"
    assert able(looking, four[0], question_of(OTHER), *four[1:]) == [each.text for each in four[1:]]


def test_where_a_misreading_is_wanting_questions_on_which_it_shows_come_first() -> None:
    shows = of_length(3, "h")
    nothing = of_length(24)
    a_part = part((), ask=BEATS, offers=OFFERS, on={each.text: {"2": C} for each in nothing}, even=True)
    looking = search(a_part, ONE, OTHER, least={MISREAD: 3})
    assert looking.scales.wanting(BEATS) == {A}
    assert able(looking, *nothing[:2], *shows[:2]) == [each.text for each in (*shows[:2], nothing[0])]
    # Of 24 that are looked at.
    assert able(looking, *nothing[:23], *shows) == [each.text for each in (shows[0], *nothing[:2])]
    assert able(looking, *nothing, *shows) == [each.text for each in nothing[:3]]
    # Else in order.
    assert able(search(a_part, ONE, OTHER), nothing[0], shows[0]) == [nothing[0].text, shows[0].text]


def test_twenty_four_are_looked_at_whether_the_misreading_shows_on_them_or_not() -> None:
    shows, nothing = of_length(3, "h"), of_length(30)
    a_part = part((), ask=BEATS, offers=OFFERS, on={each.text: {"2": C} for each in nothing}, even=True)
    looking = search(a_part, ONE, OTHER, least={MISREAD: 3})
    assert able(looking, *shows[:2], *nothing[:22], shows[2]) == [each.text for each in (*shows[:2], nothing[0])]


def built(looking: _Search, asked: Question, back: int = 1_000, seed: int = 1) -> dict[str, str] | None:
    """The wrong answers of what is built in the place of an item that is out of the form, and what they stand for."""
    if looking.item in looking.draft.items:
        looking.draft.release(looking.item)
    found = looking._built(marked(looking.plan, asked), back, Random(seed))
    return None if found is None else {choice.answer.text: choice.misreading for choice in found.wrong}


def test_in_the_first_two_rounds_misreadings_stay() -> None:
    """Of `4` the item knows nothing, and it would make good for what is wanting."""
    wanting = {Trait(BEATS, "misreadings", C): 2}
    for round_ in range(2):
        assert built(search(typed(), ONE, OTHER, least=wanting, round_=round_), BETTER) == {"2": A, "3": B}
    for round_ in (2, 3):
        found = built(search(typed(), ONE, OTHER, least=wanting, round_=round_), BETTER)
        assert found is not None
        assert found["4"] == C
        assert len(found) == 2
    # For the question itself others are looked for at once.
    found = built(search(typed(), ONE, OTHER, least=wanting), question_of(ONE))
    assert found is not None
    assert found["4"] == C


def test_where_two_wrong_answers_stand_for_one_misreading_any_may_come() -> None:
    both = item(BEATS, "4/4 q h _", "1", f"2 <{A}>, 3 <{A}>")
    found = built(search(typed(), both, OTHER, least={Trait(BEATS, "misreadings", C): 2}), BETTER)
    assert found is not None
    assert found["4"] == C


def test_a_named_misreading_that_has_too_few_chances_comes_first() -> None:
    """`C` is named, and should stand in four items; by itself it costs what the others cost, or more."""
    for seed in range(4):
        looking = search(typed(), ONE, OTHER, most={Trait(BEATS, "misreadings", C): 0}, named=C, round_=2)
        found = built(looking, BETTER, seed=seed)
        assert found is not None
        assert found["4"] == C


def test_what_costs_as_much_as_what_would_come_back_does_not_come() -> None:
    """Each of its quarter, its meter and two misreadings in its ask and in all makes good for 1, its answer for 5.

    Without the item the form is half as hard as it should be, by 50 hundredths of 4.
    """
    for round_ in (0, 2):
        looking = search(typed(offers={"2": A, "3": B}), ONE, OTHER, round_=round_)
        assert built(looking, BETTER, back=-211) is None
        assert built(looking, BETTER, back=-210) == {"2": A, "3": B}
    # Nothing is built where too few wrong answers are led to.
    assert built(search(typed(offers={"2": A}), ONE, OTHER), BETTER) is None
    assert built(search(typed(offers={"2": A}), ONE, OTHER, round_=2), BETTER) is None


# Where choices are picked: h, w and e are wrong in the place of a quarter; s was never taught, and is refused.
def picked(
    *listed: Question, offers: Mapping[str, str] | None = None, ask: str = FINISH, choices: int = 3, focus: str = ""
) -> Plan:
    return part(
        listed, ask=ask, offers={"h": A, "w": B, "e": C} if offers is None else offers, choices=choices, even=True,
        focus=focus,
    )  # fmt: skip


FIRST = item(FINISH, "4/4 q h _", "q", f"h <{A}>, w <{B}>")
SECOND = item(FINISH, "4/4 e e h _", "q", f"h <{A}>, w <{B}>")
PICKED_BETTER = question("4/4 q q q _")
OFTEN = {Trait(FINISH, "misreadings", A): 1}


def test_a_picked_item_is_exchanged_for_one_with_choices_that_the_form_wants() -> None:
    looking = search(picked(), FIRST, SECOND, most=OFTEN)
    assert built(looking, question_of(FIRST)) == {"w": B, "e": C}
    # As many as it had, though four are planned.
    assert built(search(picked(choices=4), FIRST, SECOND, most=OFTEN), question_of(FIRST)) == {"w": B, "e": C}
    found = better(search(picked(), FIRST, SECOND, most=OFTEN))
    assert found is not None
    assert {choice.misreading for choice in found.wrong} == {B, C}


def test_what_would_not_help_is_not_judged() -> None:
    """Quarter, meter, and two misreadings in the ask and in all make good for 1 each, the answer for 5, and for 200
    that the form is as hard again."""
    looking = search(picked(offers={"h": A, "w": B}), FIRST, SECOND)
    assert built(looking, PICKED_BETTER, back=-211) is None
    assert looking.draft.tally.judged == 0
    assert built(looking, PICKED_BETTER, back=-210) == {"h": A, "w": B}
    assert looking.draft.tally.judged == 1
    # Nor is anything where too few choices are led to.
    nothing = search(picked(offers={"h": A}), FIRST, SECOND)
    assert built(nothing, PICKED_BETTER) is None
    assert nothing.draft.tally.judged == 0


def test_what_is_left_when_some_is_refused_has_to_help_too() -> None:
    """Without `h` it would be better, but then `s` stands there, which is refused; with `h` it is as it was."""
    three = item(FINISH, "4/4 q h _", "q", f"h <{A}>, w <{B}>, e <{C}>")
    looking = search(picked(offers={"h": A, "w": B, "e": C, "s": D}, choices=4), three, SECOND, most=OFTEN)
    assert better(looking) is None
    assert looking.draft.tally.judged == 2
    assert better(search(picked(offers={"w": B, "s": C}), FIRST, SECOND, most=OFTEN)) is None


def test_what_was_picked_for_a_question_is_looked_at_once() -> None:
    assert better(search(picked(), FIRST, SECOND, most=OFTEN, round_=1), goes=False) is None


def test_as_many_are_ticked_as_before() -> None:
    two = item("all-that-fit", "4/4 q h _", "q, e e", f"h <{A}>, w <{B}>")
    a_part = replace(picked(ask="all-that-fit", choices=4), ask=replace(picked(ask="all-that-fit").ask, sets=None))
    looking = search(a_part, two)
    assert built(looking, question("4/4 q q q _", "q")) is None
    assert set(built(looking, question("4/4 q q q _", "q", "e e")) or {}) <= {"h", "w", "e"}
    assert built(looking, question("4/4 q q q _", "q", "e e"))


def pool(*sets: str) -> Pool:
    """Sets of wrong choices, each as `h A, w B`."""
    every = [[each.split(" ") for each in one.split(", ")] for one in sets]
    return Pool(tuple(tuple(Candidate(Answer("symbols", text), (way,)) for text, way in one) for one in every))


def opened(
    asked: Question, *, offers: Mapping[str, str], focus: str = "", had: Pool | None = None, back: int = 1_000
) -> frozenset[frozenset[str]] | None:
    """The sets of which one is taken later in an item that comes in the place of the first; None if none comes."""
    looking = search(
        picked(offers=offers, focus=focus), FIRST, SECOND, settling=True, pools={} if had is None else {FIRST: had}
    )
    found = built(looking, asked, back)
    if found is None:
        assert looking.draft.pools.keys() == ({FIRST.id} if had is not None else set())
        return None
    (name,) = looking.draft.pools.keys() - ({FIRST.id} if had is not None else set())
    assert found in [{c.answer.text: c.ways[0] for c in each} for each in looking.draft.pools[name].sets]
    assert looking.draft.tally.judged == 0
    return frozenset(frozenset(c.answer.text for c in each) for each in looking.draft.pools[name].sets)


def sets(*texts_: str) -> frozenset[frozenset[str]]:
    return frozenset(frozenset(each.split()) for each in texts_)


def test_while_wrong_choices_are_open_an_item_gets_all_sets_that_may_stand_in_it() -> None:
    three = {"h": A, "w": B, "e": C}
    assert opened(PICKED_BETTER, offers=three, had=pool(f"h {A}, w {B}")) == sets("h w", "h e", "w e")
    assert opened(PICKED_BETTER, offers={"h": A, "w": B}) == sets("h w")
    assert opened(PICKED_BETTER, offers={"h": A}) is None
    # Quarter and meter make good for 1 each, the answer for 5, how hard it is for 200; misreadings come later.
    assert opened(PICKED_BETTER, offers={"h": A, "w": B}, back=-207) is None
    assert opened(PICKED_BETTER, offers={"h": A, "w": B}, back=-206) == sets("h w")


def test_what_the_part_is_about_and_the_item_could_show_the_other_must_show_too() -> None:
    three = {"h": A, "w": B, "e": C}
    only_a = pool(f"h {A}, w {B}")
    assert opened(PICKED_BETTER, offers=three, focus=A, had=only_a) == sets("h w", "h e")
    assert opened(PICKED_BETTER, offers=three, focus=f"{A} {C}", had=only_a) == sets("h e")
    assert opened(PICKED_BETTER, offers={"h": D, "w": B}, focus=A, had=only_a) is None
    # What it could not show is not asked for.
    assert opened(PICKED_BETTER, offers={"h": D, "w": B}, focus=f"{C} {D}", had=only_a) == sets("h w")
    assert opened(PICKED_BETTER, offers={"h": D, "w": B}, focus=C, had=only_a) == sets("h w")
    # Of an item with its choices it is what these show: here `A` and `B`.
    assert opened(PICKED_BETTER, offers={"h": D, "w": B, "e": C}, focus=A) is None
    assert opened(PICKED_BETTER, offers={"h": D, "w": B, "e": C}, focus=C) is not None
    # It leads to a right answer only, which no set can hold.
    assert opened(PICKED_BETTER, offers={"e e": A, "w": B, "h": C}, focus=A, had=only_a) is None
    # All that the question leads to can be what it is about.
    both = f"{A} {B}"
    assert opened(PICKED_BETTER, offers={"h": A, "w": B}, focus=both, had=only_a) == sets("h w")
    # The item offers `A` no longer in any set that it could take.
    assert opened(PICKED_BETTER, offers={"h": D, "w": B}, focus=A, had=pool(f"h {D}, w {B}")) == sets("h w")


def noted(a_search: _Search, other: Item) -> dict[str, str]:
    a_search._note(other)
    return a_search.draft.bent


def test_it_is_noted_in_what_an_item_is_not_like_its_cell() -> None:
    other = item(BEATS, "3/4 q _", "2", f"1 <{B}>, 3 <{A}>")
    assert noted(search(typed(), ONE), OTHER) == {}
    assert noted(search(typed(), ONE), other) == {other.id: "beats-left: 3/4 for 4/4, to be as hard"}
    misread = item(BEATS, "3/4 q _", "2", f"1 <{B}>, 3 <{C}>")
    assert noted(search(typed(), ONE), misread) == {misread.id: f"beats-left: other misreadings than {A}, {B}"}
    # Of picked ones misreadings are balanced over the form, and in none of its cells.
    assert noted(search(picked(), FIRST), item(FINISH, "4/4 e e h _", "q", f"h <{C}>")) == {}
    turned = item(FINISH, "3/4 q _", "h", f"q <{C}>")
    assert noted(search(picked(), FIRST), turned) == {turned.id: "finish-measure: 3/4 for 4/4, to be as hard"}
