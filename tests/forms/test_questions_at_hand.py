"""Marks, cells, sheets and bounds of parts that list and draw what is put down here; by hand. Common practice."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import cycle, product
from random import Random

import pytest

from asks.spaces import excerpt, space
from barwright.asks.ask import Question, Space
from barwright.asks.own_rhythms import NOTHING_OWN
from barwright.blueprint.blueprint import Plan
from barwright.forms.judging import Bounds, Tally, accepted, bounds_of, culprits, item_of
from barwright.forms.marks import Mark, chance_marks, item_marks, marked, question_marks, wrong_marks
from barwright.forms.parallel import WHOLE, Trait, question_traits, twin_name
from barwright.forms.questions import Cell, cell_of, is_like, listed_at_random, own_questions, tried
from barwright.forms.sheets import Drawn, Sheets
from barwright.items.difficulty import WEIGHTS, difficulty
from barwright.items.item import Answer, Choice
from barwright.rhythm.meter import parse_meter
from forms.made_items import in_ask, item, plan

FINISH = plan("finish-measure", space("h q e", "4/4"), focus=("a",))


def question(text: str, *keys: str) -> Question:
    return Question(excerpt(text), tuple(Answer("symbols", key) for key in keys or ("q",)))


ONE = question("4/4 q h _")


def test_marks_of_a_question_are_its_traits_its_mirror_images_its_key_and_its_excerpt() -> None:
    several = question("4/4 h _", "h", "q q")
    part = replace(FINISH, number=3)
    assert question_marks(part, several) == {
        *question_traits(part.ask, several), Mark("twin", "finish-measure", twin_name("finish-measure", several)),
        Mark("key", "3", "h q q"), Mark("excerpt", "form", "4/4 h _"),
    }  # fmt: skip
    assert marked(part, several) == (several, question_marks(part, several), difficulty(several.excerpt, WEIGHTS))


@pytest.mark.parametrize(
    ("text", "key", "verdict", "slight"),
    # A half is two thirds of a measure; a whole note is more than twice one.
    [("3/4 h", "fits-not 2 3", "fits-not", False), ("3/8 w", "fits-not 8 3", "fits-not", True)],
)
def test_a_verdict_is_marked_and_whether_it_is_seen_at_once(text: str, key: str, verdict: str, slight: bool) -> None:
    fits = plan("does-it-fit", space("w h q", "3/4 3/8"))
    asked = Question(excerpt(text), (Answer("claim", key),))
    found = question_marks(fits, asked)
    assert Mark("key", "1", verdict) in found
    assert {mark for mark in found if isinstance(mark, Mark) and mark.kind == "slight"} == (
        {Mark("slight", "does-it-fit", "")} if slight else set()
    )


def test_marks_of_wrong_answers_are_misreadings_what_the_part_is_about_and_chances() -> None:
    """`a` is what the part is about; `a` and `c` are to be told apart; what is held with another is not about it."""
    each = item("finish-measure", "4/4 q h _", "q", "h <a>, w <b>, e <a+c>")
    traits = {Trait(of, "misreadings", name) for of in ("finish-measure", WHOLE) for name in "abc"}
    found = wrong_marks(FINISH, each, ("a", "c"))
    assert found == {*traits, Mark("about", "1", "a"), Mark("apart", "a", "a"), Mark("apart", "a", "c")}
    assert item_marks(FINISH, each, ("a", "c")) == found | question_marks(FINISH, ONE)
    assert set(chance_marks(("a", "c"))) == {Mark("apart", one, other) for one in "ac" for other in "ac"}


def test_a_cell_holds_what_its_item_shows() -> None:
    each = item("finish-measure", "4/4 q h _", "q", "h <a>, w <a+b>")
    assert cell_of(each, FINISH) == Cell(
        parse_meter("4/4"), frozenset({"a", "b"}), difficulty(each.excerpt, WEIGHTS), (Answer("symbols", "q"),), 2,
        item_marks(FINISH, each, ()),
    )  # fmt: skip


def test_a_cell_of_no_number_of_wrong_choices_has_none_named() -> None:
    assert Cell(parse_meter("4/4"), frozenset(), 1).wrong == 0


@pytest.mark.parametrize(
    ("ask", "keys", "cell", "like"),
    [
        ("all-that-fit", "h, q q", "w, e", True),
        ("all-that-fit", "h, q q", "h", False),
        ("does-it-fit", "fits 2 3", "fits 1 4", True),
        ("does-it-fit", "fits 2 3", "fits-not 1 4", False),
        ("finish-measure", "q", "q", True),
        ("finish-measure", "q", "h", False),
        ("beats-left", "2", "3/2", False),
        ("beats-left", "2", "2", True),
        # Rows and meters are many.
        ("write-counts", "1 2", "1 (2)", True),
        ("time-signature-for-rhythm", "3/4", "4/4", True),
    ],
)
def test_a_question_is_like_a_cell_by_its_answer_where_answers_are_few(
    ask: str, keys: str, cell: str, *, like: bool
) -> None:
    part = plan(ask, space("h q", "4/4"))
    asked, wanted = (tuple(Answer(part.ask.answer, text) for text in each.split(", ")) for each in (keys, cell))
    a_cell = Cell(parse_meter("4/4"), frozenset(), 1, wanted)
    assert is_like(part, Question(excerpt("4/4 h _"), asked), a_cell) is like


MANY = [question(f"4/4 {' '.join(each)} _") for each in product("hqes", repeat=4)]
OTHER = question("3/4 h _")


def listing(*questions: Question, draws: tuple[Question | None, ...] = (None,), items: int = 4) -> Plan:
    """A part that lists these questions and draws those in turn."""
    turn = cycle(draws)

    def listed(narrow: Space) -> Iterator[Question]:
        return iter([each for each in questions if each.excerpt.meter in narrow.meters])

    return in_ask(
        plan("finish-measure", space("h q", "4/4 3/4"), items=items), listed=listed,
        draw=lambda _space, _rng: next(turn),
    )  # fmt: skip


def test_all_that_a_part_lists_comes_once_in_a_random_order() -> None:
    part = listing(*MANY)
    found = [list(listed_at_random(part, Random(seed))) for seed in range(2)]
    assert found[0] != found[1]
    assert found[0] != MANY
    assert [sorted(q.text for q in each) for each in found] == [sorted(q.text for q in MANY)] * 2
    assert {next(listed_at_random(listing(*MANY[:2]), Random(seed))).text for seed in range(9)} == {
        each.text for each in MANY[:2]
    }


def test_few_questions_are_all_tried_and_many_are_drawn() -> None:
    few = listing(*MANY[:120], draws=(OTHER,))
    assert {q.text for q in tried(few, Random(1))} == {q.text for q in MANY[:120]}
    many = listing(*MANY[:121], draws=(OTHER, None))
    assert [q.text for q in tried(many, Random(1))] == [OTHER.text] * 60


def test_questions_about_own_excerpts_are_all_that_are_listed_in_their_space() -> None:
    part = listing(*MANY[:3], OTHER)
    assert own_questions(part) == ()
    own = replace(part, own=replace(NOTHING_OWN, space=replace(part.space, meters=(OTHER.excerpt.meter,))))
    assert own_questions(own) == (OTHER,)


def texts(sheets: Sheets, part: Plan, meter: str = "") -> list[str]:
    return [each.question.text for each in sheets.of(part, parse_meter(meter) if meter else None)]


def test_a_sheet_serves_twelve_places_and_shows_one_meter_or_all() -> None:
    part = listing(*MANY[:121], draws=(*MANY[:30], OTHER, None))
    sheets = Sheets("seed")
    first = texts(sheets, part)
    assert first == [each.text for each in (*MANY[:30], OTHER)]  # of 96 draws each is kept once
    for _ in range(10):
        assert texts(sheets, part) == first
    assert texts(sheets, part, "3/4") == [OTHER.text]
    # The next place has another, which goes on with other draws.
    after = texts(sheets, part, "4/4")
    assert sorted(after) == sorted(each.text for each in MANY[:30])


def counted(sheets: Sheets, part: Plan, times: int) -> int:
    return len({tuple(texts(sheets, part)) for _ in range(times)})


def test_sheets_are_drawn_anew_when_they_are_used_up_or_turned() -> None:
    part = listing(*MANY[:121], draws=tuple(MANY[:97]))  # 96 a sheet, each sheet begins one further on
    sheets = Sheets("seed")
    assert counted(sheets, part, 12) == 1
    assert counted(sheets, part, 1) == 1
    assert counted(Sheets("seed"), listing(*MANY[:121], draws=tuple(MANY[:97])), 13) == 2
    before = texts(sheets, part)
    sheets.turn(replace(part, number=2))
    assert texts(sheets, part) == before
    sheets.turn(part)
    assert texts(sheets, part) != before
    # Parts have sheets of their own.
    assert texts(sheets, replace(part, number=2)) != texts(sheets, part)


def test_each_sheet_of_a_form_is_another_draw() -> None:
    part = in_ask(listing(*MANY[:121]), draw=lambda _space, rng: rng.choice(MANY))
    sheets, again, other = Sheets("seed"), Sheets("seed"), Sheets("other")
    first = texts(sheets, part)
    assert first == texts(again, part)
    assert first != texts(other, part)
    sheets.turn(part)
    assert texts(sheets, part) != first


def test_how_many_are_drawn_goes_by_the_items_of_the_part() -> None:
    assert len(texts(Sheets(), listing(*MANY[:121], draws=tuple(MANY), items=1))) == 56
    assert len(texts(Sheets(), listing(*MANY[:121], draws=tuple(MANY), items=2))) == 84
    assert len(texts(Sheets(), listing(*MANY[:121], draws=tuple(MANY), items=9))) == 96


def test_few_questions_are_all_on_the_sheet_unless_they_are_to_be_drawn() -> None:
    part = listing(*MANY[:5], draws=(OTHER,))
    assert sorted(texts(Sheets("seed"), part)) == sorted(each.text for each in MANY[:5])
    assert texts(Sheets("seed", few=False), part) == [OTHER.text]
    sheets = Sheets("seed")
    first = texts(sheets, part)
    assert [texts(sheets, part) for _ in range(20)] == [first] * 20


def drawn_at_random() -> Plan:
    """A part of many questions whose sheets are what their seeds make of them, and hardly ever show one twice."""

    def draw(_space: Space, rng: Random) -> Question:
        return question(f"4/4 {' '.join(rng.choices('hqes', k=8))} _")

    return in_ask(listing(*MANY[:121]), draw=draw)


def test_several_forms_choose_from_the_sheets_that_begin_with_what_they_have_in_common() -> None:
    part, kept = drawn_at_random(), Drawn()
    form, next_form = (Sheets(seed, common="all", drawn=kept) for seed in ("A", "B"))
    first = texts(form, part)
    assert first == texts(next_form, part)
    assert first != texts(Sheets("C", common="some", drawn=kept), part)
    form.turn(part)
    second = texts(form, part)
    assert second != first
    next_form.turn(part)
    assert texts(next_form, part) == second
    # Another part has others; without anything in common each form has its own.
    assert texts(form, replace(part, number=2)) not in (first, second)
    assert texts(Sheets("A", drawn=kept), part) != texts(Sheets("B", drawn=kept), part)


def test_a_common_sheet_is_drawn_once() -> None:
    part, kept = listing(*MANY[:121], draws=tuple(MANY[:192])), Drawn()
    forms = [Sheets(seed, common="all", drawn=kept) for seed in "ABC"]
    assert [texts(form, part) for form in forms] == [[each.text for each in MANY[:96]]] * 3


@pytest.mark.parametrize(("different", "is_common"), [(76, True), (75, False)])
def test_forms_have_sheets_of_their_own_where_more_than_one_draw_in_five_comes_again(
    different: int, *, is_common: bool
) -> None:
    """A sheet is 96 draws: the first of these has 95 questions, of which 76 are four fifths; the next has another."""
    again = [MANY[0]] * (95 - different)
    part, kept = listing(*MANY[:121], draws=(*MANY[:different], *again, None, *[OTHER] * 96)), Drawn()
    first = [each.text for each in MANY[:different]]
    assert texts(Sheets("A", common="all", drawn=kept), part) == (first if is_common else [OTHER.text])
    # Whether it is too poor is remembered: the next form draws its own at once.
    assert texts(Sheets("B", common="all", drawn=kept), part) == first


def test_few_questions_are_never_a_common_sheet() -> None:
    part = listing(*MANY[:20], draws=tuple(MANY[20:116]))
    forms = [Sheets(seed, common="all", drawn=Drawn()) for seed in "AB"]
    one, other = (texts(form, part) for form in forms)
    assert sorted(one) == sorted(other) == sorted(each.text for each in MANY[:20])
    assert one != other  # the order is the form's


def test_renewed_sheets_are_others_and_the_form_s_own() -> None:
    part, kept = drawn_at_random(), Drawn()
    forms = [Sheets(seed, common="all", drawn=kept) for seed in "AB"]
    common = texts(forms[0], part)
    for form in forms:
        form.renew()
    one, other = (texts(form, part) for form in forms)
    assert one != other
    assert common not in (one, other)
    assert texts(forms[0], part) == one
    forms[0].renew()
    assert texts(forms[0], part) != one


@pytest.mark.parametrize(
    ("ask", "choices", "keys", "fewer", "bounds"),
    [
        ("beats-left", 4, 1, 0, (2, 4)),
        ("shortest-first", 4, 1, 1, (1, 4)),
        ("finish-measure", 4, 1, 0, (3, 3)),
        ("finish-measure", 4, 1, 1, (2, 3)),
        # Never less than three choices, right one and all; of several one wrong one at least.
        ("finish-measure", 4, 1, 2, (2, 3)),
        ("finish-measure", 3, 1, 1, (2, 2)),
        ("all-that-fit", 4, 2, 0, (2, 2)),
        ("all-that-fit", 4, 2, 1, (1, 2)),
        ("all-that-fit", 4, 3, 1, (1, 1)),
    ],
)
def test_how_many_wrong_choices_an_item_has(
    ask: str, choices: int, keys: int, fewer: int, bounds: tuple[int, int]
) -> None:
    part = plan(ask, space("h q", "4/4"), choices=choices)
    assert bounds_of(part, keys, fewer=fewer) == Bounds(*bounds)


def choice(text: str, way: str = "dots-passed-over") -> Choice:
    return Choice(Answer("symbols", text), (way,))


def test_the_judge_s_first_reason_is_counted_and_each_choice_that_gives_one_is_found() -> None:
    """Half of 4/4 is missing: two quarters fill it, too, and are no wrong answer."""
    part, asked, tally = plan("finish-measure", space("h q e", "4/4")), question("4/4 h _", "h"), Tally()
    assert (tally.judged, tally.short) == (0, 0)
    sound, right, also = choice("q"), choice("q q"), choice("q e e")
    good = item_of(part, asked, (sound, choice("e", "rests-take-no-time")))
    assert [c.answer.text for c in good.choices] == ["e", "h", "q"]
    assert (good.keys[0].answer.text, good.excerpt, good.ask) == ("h", asked.excerpt, "finish-measure")
    bad = item_of(part, asked, (sound, right, also))
    reasons = accepted(part, bad, tally)
    assert reasons
    assert (tally.judged, sum(tally.refused.values())) == (1, 1)
    assert list(tally.refused) == [reasons[0].split(":")[0]]
    assert right in culprits(part, asked, (sound, right, also), len(reasons))
    assert sound not in culprits(part, asked, (sound, right, also), len(reasons))
