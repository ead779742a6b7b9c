"""Forms of tiny quizzes: what they share, how a form is begun, made anew and finished; by hand. Common practice."""

import hashlib
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product
from random import Random
from typing import Any, TypeVar

import pytest

from barwright.blueprint.blueprint import Plan, plan_of
from barwright.errors import CapacityError
from barwright.forms import assembly
from barwright.forms.assembly import (
    MadeForm,
    Pattern,
    Wanted,
    drawing_seed,
    first_form,
    form_ident,
    items_of,
    made_forms,
    named,
    parallel_form,
    pattern_of,
    spread,
    tried_in,
)
from barwright.forms.balance import balanced
from barwright.forms.choosing import TRIED
from barwright.forms.draft import Draft
from barwright.forms.judging import Tally
from barwright.forms.orders import key_places, shown_orders
from barwright.forms.parallel import Trait
from barwright.forms.questions import Cell, cell_of
from barwright.forms.ready_items import question_of
from barwright.forms.sheets import Drawn, Sheets
from barwright.forms.watch import Guessers, Watch
from barwright.items.difficulty import difficulty
from barwright.items.form import Form, FormItem
from barwright.items.item import Answer, Item
from barwright.items.own_words import OwnWords
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import format_excerpt
from forms.made_blueprints import blueprint
from forms.made_items import item
from forms.made_parts import MANY, part, question

T = TypeVar("T")

BEATS, FINISH, A = "beats-left", "finish-measure", "rests-take-no-time"
TYPED, PICKED = "measure-completion beats-left 2", "measure-completion finish-measure 2"
CLASS = ("4/4", "whole half quarter eighth", "half quarter")
TWO = blueprint(*CLASS, TYPED, sections="A B")
PICKING = blueprint(*CLASS, PICKED, sections="A B")
# In 2/4 few measures can be asked about.
FEW = blueprint("2/4", "half quarter eighth", "quarter", "measure-completion finish-measure 1")


def excerpts(*made: MadeForm) -> list[str]:
    return [format_excerpt(each.excerpt) for form in made for each in items_of(form)]


# All forms of a quiz.


def test_each_section_has_a_form_of_excerpts_of_its_own_and_progress_is_told() -> None:
    told: list[tuple[int, int]] = []
    made = made_forms(TWO, progress=lambda done, whole: told.append((done, whole)))
    assert [each.form.section for each in made] == ["A", "B"]
    assert [len(each.form.items) for each in made] == [2, 2]
    assert len(set(excerpts(*made))) == 4
    assert told == [(1, 4), (2, 4), (3, 4), (4, 4)]
    assert made_forms(TWO) == made


def test_variants_are_told_as_well() -> None:
    told: list[tuple[int, int]] = []
    drawing = blueprint(*CLASS, TYPED, sections="A B", quiz="draw = true; variants = 2")
    made = made_forms(drawing, progress=lambda done, whole: told.append((done, whole)))
    assert told == [(done, 8) for done in range(1, 9)]
    assert [(each.number, each.pool) for each in made[1].form.items] == [(1, "p1"), (1, "p1"), (2, "p2"), (2, "p2")]


def test_forms_are_made_one_after_the_other_of_what_those_before_have_left() -> None:
    """What guessers learnt and the sheets of questions are handed on as well."""
    taken: dict[str, str] = {}
    watch, drawn = Watch(), Drawn()
    first, pattern = first_form(PICKING, "A", taken=taken, watch=watch, drawn=drawn)
    assert set(taken.values()) == {"A"}
    assert set(taken) == set(excerpts(first))
    assert len(watch.spreads) == 1
    before = set(drawn)
    assert {name[0] for name, _ in before} == {assembly._common(PICKING, 0)}
    second = parallel_form(PICKING, pattern, "B", taken=taken, beside=[first.form], watch=watch, drawn=drawn)
    assert len(watch.spreads) == 2
    assert taken == {**dict.fromkeys(excerpts(first), "A"), **dict.fromkeys(excerpts(second), "B")}
    assert {name[0] for name, _ in drawn} == {assembly._common(PICKING, 1)}
    assert second.form.retake == 0
    assert made_forms(PICKING) == (first, second)
    # Without what was learnt, and the sheets, both are found again from what stands beside.
    again = Drawn()
    had = dict.fromkeys(excerpts(first), "A")
    alone = parallel_form(PICKING, pattern, "B", taken=had, beside=[first.form], drawn=again)
    assert alone.form.items == second.form.items
    assert {name[0] for name, _ in again} == {assembly._common(PICKING, 1)}


def test_a_first_form_alone() -> None:
    told: list[int] = []
    made, pattern = first_form(PICKING, "A", taken={}, told=told.append)
    assert made == made_forms(PICKING)[0]
    assert told == [1, 2]
    assert pattern == pattern_of(made.form, PICKING)
    assert [plan.ask.id for plan in pattern.plans] == [FINISH, FINISH]


def test_a_first_form_draws_what_is_worth_asking_even_where_questions_are_few() -> None:
    drawn = Drawn()
    first_form(FEW, "A", taken={}, drawn=drawn)
    assert drawn


def test_a_retake_is_told_by_its_number_and_has_sheets_of_its_own() -> None:
    taken: dict[str, str] = {}
    drawn = Drawn()
    first, pattern = first_form(TWO, "A", taken=taken, drawn=drawn)
    drawn.clear()
    never = frozenset(excerpts(first))
    told: list[int] = []
    again = parallel_form(TWO, pattern, "A", taken=taken, retake=1, never=never, drawn=drawn, told=told.append)
    assert (again.form.section, again.form.retake, told) == ("A", 1, [1, 2])
    assert {taken[text] for text in excerpts(again)} == {"A/1"}
    assert not never & set(excerpts(again))
    assert drawn == {}


def test_six_forms_choose_from_the_same_sheets_and_then_others() -> None:
    common = [assembly._common(TWO, before) for before in (0, 1, 5, 6, 11, 12)]
    first, other, last = (f"{drawing_seed(TWO)}/forms from {number}" for number in (0, 6, 12))
    assert common == [first, first, first, other, other, last]


def test_what_a_form_is_made_with() -> None:
    naming = blueprint(*CLASS, f'{TYPED}; misreadings = ["{A}"]', sections="A B")
    draft = assembly._draft(
        naming, "A", {}, Guessers(), Sheets("seed"), never=frozenset("n"), stock=Draft("A", {}).stock
    )
    assert (draft.settling, draft.named, draft.never) == (True, (A,), {"n"})


@pytest.mark.parametrize(("attempt", "seed", "common"), [(0, "seed", "common"), (1, "seed/1", ""), (2, "seed/2", "")])
def test_a_form_that_is_made_anew_has_another_seed_and_sheets_of_its_own(attempt: int, seed: str, common: str) -> None:
    drawn = Drawn()
    sheets = assembly._sheets("seed", "common", attempt, drawn)
    assert (sheets.seed, sheets.common, sheets.few) == (seed, common, True)
    assert sheets.drawn is drawn


def best(*faults: int | None, patient: bool = True) -> tuple[str, int]:
    """Which of some attempts is taken, the last of which cannot be filled, and how many there were."""
    tried: list[int] = []

    def attempt(number: int) -> tuple[int, str]:
        tried.append(number)
        each = faults[number]
        if each is None:
            raise CapacityError(f"attempt {number}")
        return each, f"attempt {number}"

    return assembly._best_of(attempt, patient=patient), len(tried)


@pytest.mark.parametrize(
    ("faults", "taken", "tries"),
    [
        ((0, 0), 0, 1),
        ((3, 0, 0), 1, 2),
        ((3, 2, 4, 2, 0), 1, 4),
        # Where a later one cannot be filled no other is tried.
        ((3, None, 0), 0, 2),
        ((3, 2, None, 0), 1, 3),
    ],
)
def test_up_to_four_attempts_are_made_until_one_is_without_a_fault(
    faults: Sequence[int | None], taken: int, tries: int
) -> None:
    assert best(*faults) == (f"attempt {taken}", tries)


@pytest.mark.parametrize(
    ("faults", "taken", "tries"),
    [
        ((0, 0), 0, 1),
        ((3, 3, 0), 0, 2),
        ((3, 4, 0), 0, 2),
        ((3, 2, 2, 0), 1, 3),
        ((3, 2, 1, 1, 0), 2, 4),
        ((3, None, 0), 0, 2),
    ],
)
def test_where_excerpts_run_out_an_attempt_that_is_no_better_ends_it(
    faults: Sequence[int | None], taken: int, tries: int
) -> None:
    assert best(*faults, patient=False) == (f"attempt {taken}", tries)


@pytest.mark.parametrize(("beside", "patient"), [(11, True), (12, False)])
def test_beside_twelve_forms_excerpts_run_out(beside: int, patient: bool) -> None:
    first, pattern = first_form(TWO, "A", taken={})
    asked: list[bool] = []

    def noted(attempt: Callable[[int], tuple[int, T]], *, patient: bool) -> T:
        asked.append(patient)
        return attempt(0)[1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(assembly, "_best_of", noted)
        parallel_form(TWO, pattern, "B", taken={}, beside=[first.form] * beside)
    assert asked == [patient]


def test_where_the_first_attempt_cannot_be_filled_there_is_no_form() -> None:
    with pytest.raises(CapacityError, match=r"^attempt 0$"):
        best(None, 0)


def test_a_form_with_faults_is_made_anew_but_told_once() -> None:
    """Of an error that is named one chance is not enough, however often it is made."""
    naming = blueprint(*CLASS, f'{TYPED}; misreadings = ["{A}"]', sections="A B")
    told: list[int] = []
    taken: dict[str, str] = {}
    first, pattern = first_form(naming, "A", taken=taken)
    second = parallel_form(naming, pattern, "B", taken=taken, beside=[first.form], told=told.append)
    assert assembly._faults(second.form, Watch(), [A]) > 0
    assert told == [1, 2]


def test_faults_are_cells_in_which_a_form_is_unlike_others_and_chances_that_are_missing() -> None:
    typed = [item(BEATS, f"4/4 {text} _", "1", "2 <a>, 3 <b>") for text in ("q h", "h q", "e e h")]
    watch = Watch(spreads=[Counter({Trait(BEATS, "values", "w"): 3})])
    alone = placed(*typed)
    assert assembly._faults(alone, Watch(), []) == 0
    assert assembly._faults(alone, Watch(), ["a"]) == 1
    unlike = assembly._faults(alone, watch, [])
    assert unlike > 1
    assert assembly._faults(alone, watch, ["a"]) == unlike + 1


def placed(*items: Item, points: int = 1, words: OwnWords | None = None) -> Form:
    orders = [tuple(range(len(each.choices))) for each in items]
    made = [FormItem(each, order, points, n) for n, (each, order) in enumerate(zip(items, orders, strict=True), 1)]
    made = made if words is None else [replace(each, words=words) for each in made]
    return Form("Quiz", "A", "en", False, False, tuple(made), "f0")


# The places of a form.


def typed_part(
    *texts: str, offers: dict[str, str] | None = None, even: bool = True, number: int = 1, **more: int
) -> Plan:
    listed = [question(f"4/4 {text} _", "1", kind="number") for text in texts]
    made = part(listed, ask=BEATS, offers=offers or {"3": "a", "4": "b"}, even=even, **more)
    return replace(made, number=number)


def cell(hard: int = 0, *shown: Trait, errors: str = "ab") -> Cell:
    return Cell(parse_meter("4/4"), frozenset(errors), hard, (Answer("number", "1"),), 2, frozenset(shown))


def test_places_of_few_questions_are_filled_first() -> None:
    rich, poor = part(MANY, ask=BEATS), typed_part("q h")
    assert Pattern((rich, poor, rich, poor), (cell(),) * 4).scarce_first() == [1, 3, 0, 2]


def in_cells(pattern: Pattern, draft: Draft | None = None, *, which: tuple[str, int] = ("A", 0)) -> list[str]:
    told: list[int] = []
    draft = draft or Draft("A", {}, sheets=Sheets("seed"))
    order = range(len(pattern.plans))
    found = assembly._in_cells(pattern, draft, which, told.append, order)
    assert told == [place + 1 for place in order]
    assert list(found) == list(order)
    return [format_excerpt(each.excerpt) for each in found.values()]


def test_a_place_makes_up_for_those_that_were_too_hard_or_too_easy() -> None:
    """Each of the first questions is the only one of its part; those of the last are as hard as here."""
    harder, last = (
        typed_part("e e e e q", even=False),
        typed_part("q h", "e e h", "q q q", "q e e q", even=False, number=2),
    )
    level = {each.text: difficulty(each.excerpt, last.weights) for each in last.ask.listed(last.space)}
    (only,) = (difficulty(each.excerpt, harder.weights) for each in harder.ask.listed(harder.space))
    assert sorted(level.values()) == [4, 6, 9, 11]
    for text, hard in level.items():
        for off in (-5, 0, 3):
            pattern = Pattern((harder, last), (cell(only - off), cell(hard + off)))
            assert in_cells(pattern)[1] == text
        assert in_cells(Pattern((last,), (cell(hard),))) == [text]


def test_a_part_that_cannot_be_filled_is_named_with_how_many_it_has() -> None:
    rich, poor = typed_part("q h", "h q", "e e h"), typed_part("q q q", "q e e q", number=2, items=3)
    pattern = Pattern((rich, poor, poor, poor), (cell(),) * 4)
    for which, said in (
        (("A", 0), "the form of 'A' only 2 'beats-left' items are left"),
        (("A", 2), "retake 2 of 'A' only 2 'beats-left' items that its students have not had are left"),
    ):
        with pytest.raises(CapacityError) as raised:
            in_cells(pattern, which=which)
        assert str(raised.value) == (
            f"items = 3: for {said}: ask for fewer, teach more elements or meters, or allow longer excerpts with "
            "`measures`"
        )
        assert raised.value.part == 2


@pytest.mark.parametrize(("all_of_them", "can"), [(True, "can"), (False, "were found that can")])
def test_too_few_items_for_a_first_form_are_told_as_surely_as_is_known(all_of_them: bool, can: str) -> None:
    assert assembly._too_few(part((), ask=BEATS, items=3, all_of_them=all_of_them), 2) == (
        f"items = 3: only 2 different 'beats-left' items {can} stand in one form beside the others: ask for fewer, "
        "teach more elements or meters, or allow longer excerpts with `measures`"
    )


def test_a_part_of_a_first_form_that_cannot_be_filled_is_named() -> None:
    too_many = blueprint(
        "2/4", "half quarter", "", "measure-completion beats-left 2", "measure-completion beats-left 5"
    )
    with pytest.raises(CapacityError) as raised:
        first_form(too_many, "A", taken={})
    assert raised.value.part == 2
    assert str(raised.value).startswith("items = 5: only ")


HALF = Trait(BEATS, "values", "h")


@pytest.mark.parametrize(
    ("drawn", "found"), [("q h; q q q", ["4/4 q q q _", "4/4 h q _"]), ("q h", ["4/4 q h _", "4/4 q e e q _"])]
)
@pytest.mark.parametrize("first", [0, 1])
def test_what_does_not_match_is_exchanged_where_there_is_most_to_choose_from(
    drawn: str, found: list[str], first: int
) -> None:
    """One cell shows a half, both items do at first: so one is exchanged, of the part with many questions first."""
    rest = [replace(each, keys=(Answer("number", "1"),)) for each in MANY]
    some = [question(f"4/4 {text} _", "1", kind="number") for text in drawn.split("; ")]
    rich = part(rest, drawn=some, ask=BEATS, offers={"3": "a", "4": "b"}, even=True)
    poor = typed_part("h q", "q e e q", number=2)
    watch = Watch(spreads=[Counter({Trait(BEATS, "meters", "4/4"): 2})])
    order = (first, 1 - first)
    plans, cells = ((rich, poor)[first], (poor, rich)[first]), (cell(0, HALF), cell(0))
    made = excerpts(parallel_form(TWO, Pattern(plans, cells), "A", taken={}, watch=watch))
    assert [made[place] for place in order] == found


@pytest.mark.parametrize("first", [0, 1])
def test_a_form_is_made_fair_from_where_there_is_most_to_choose_from(first: int) -> None:
    rest = [replace(each, keys=(Answer("number", "1"),)) for each in MANY]
    rich, poor = part(rest, ask=BEATS, offers={"3": "a", "4": "b"}, even=True), typed_part("h q", "q e e q", number=2)
    tried: list[Sequence[int]] = []

    def noted(*arguments: Any, **named: Any) -> dict[int, Item]:
        tried.append(arguments[4])
        return balanced(*arguments, **named)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(assembly, "balanced", noted)
        plans = (rich, poor)[first], (poor, rich)[first]
        parallel_form(TWO, Pattern(plans, (cell(0), cell(0))), "A", taken={})
    assert tried[0] == [first, 1 - first]


def test_parts_stay_in_their_order() -> None:
    both = blueprint(*CLASS, "measure-completion finish-measure 1", "measure-completion beats-left 1", sections="A B")
    assert [[each.ask for each in items_of(made)] for made in made_forms(both)] == [[FINISH, BEATS]] * 2


# What a form holds.


@pytest.mark.parametrize(("quiz", "variants"), [("", 1), ("draw = true", 3), ("draw = true; variants = 2", 2)])
def test_a_quiz_that_draws_has_variants(quiz: str, variants: int) -> None:
    assert assembly._variants(blueprint(*CLASS, TYPED, quiz=quiz)) == variants


def test_the_first_variants_of_a_quiz_that_draws_are_the_items_of_one_that_does_not() -> None:
    """In the same order of choices."""
    drawing = blueprint(*CLASS, PICKED, quiz="draw = true; variants = 3")
    plain, pools = (made_forms(each)[0].form for each in (blueprint(*CLASS, PICKED), drawing))
    firsts = [each for each in pools.items if each.item in items_of(MadeForm(plain, Tally(), (), (), Fraction(0)))]
    assert [(each.item, each.order, each.number) for each in firsts] == [
        (each.item, each.order, each.number) for each in plain.items
    ]


def test_the_keys_of_each_variant_are_placed_anew() -> None:
    """Six questions whose answer is a quarter: who knows where it stands in one variant knows nothing of others."""
    beats = ("h q", "q h", "h e e", "e e h", *map(" ".join, product(("q", "e e"), repeat=3)))
    listed = [question(f"4/4 {text}") for each in beats for text in (f"{each} _", f"_ {each}")]
    plan = part(listed, offers={"e": "a", "h": "b", "w": "c"}, even=True)
    drawing = blueprint(*CLASS, quiz="draw = true; variants = 3")
    for begun in (True, False):
        draft = Draft("A", {}, sheets=Sheets("seed"))
        for each in listed[:6]:
            draft.keep(plan, each, item(FINISH, each.text, "q", "e <a>, h <b>, w <c>"))
        pattern = Pattern((plan,) * 6, tuple(cell_of(each, plan) for each in draft.items))
        first = shown_orders(draft.items, Random("seed/order"), parts=["1"] * 6) if begun else None
        form = assembly._finished(drawing, draft, pattern, "seed", lambda _done: None, first).form
        places = key_places([each.item for each in form.items], [each.order for each in form.items])
        assert len({tuple(places[n::3]) for n in range(3)}) == 3


def test_a_form_in_two_languages() -> None:
    both = TWO.model_copy(update={"language": ["es", "en"]})
    form = made_forms(both)[0].form
    assert (form.language, form.also) == ("es", ("en",))


def test_each_item_has_its_number_its_points_and_its_pool() -> None:
    plan = replace(typed_part("q h"), points=7)
    one, other = (item(BEATS, f"4/4 {text} _", "1", "2 <a>, 3 <b>") for text in ("q h", "h q"))
    pattern = Pattern((plan, plan), (cell(),) * 2)
    orders = [((0, 1, 2), (2, 1, 0)), ((1, 0, 2), (0, 2, 1))]
    found = list(assembly._placed([(one, other), (other, one)], pattern, orders, blueprint(*CLASS, quiz="draw = true")))
    assert [(each.item, each.order, each.points, each.number, each.pool) for each in found] == [
        (one, (0, 1, 2), 7, 1, "p1"),
        (other, (1, 0, 2), 7, 1, "p1"),
        (other, (2, 1, 0), 7, 2, "p2"),
        (one, (0, 2, 1), 7, 2, "p2"),
    ]
    assert [each.pool for each in assembly._placed([(one,), (other,)], pattern, orders, TWO)] == ["", ""]


def test_of_each_named_error_it_is_told_how_many_questions_asked_for_it_and_show_it() -> None:
    """One of the variants is enough."""
    about, other = replace(typed_part("q h"), focus=("a", "c")), replace(typed_part("q h"), focus=("c",))
    ab, cd = (item(BEATS, "4/4 q h _", "1", wrong) for wrong in ("2 <a>, 3 <b>", "2 <c>, 3 <d>"))
    pools = [(ab, cd), (cd,), (ab,), (ab,)]
    plans = [about, about, other, typed_part("q h")]
    assert list(assembly._wanted(pools, plans)) == [Wanted("a", 2, 1), Wanted("c", 3, 2)]


def test_the_ident_of_a_form_is_a_hash_of_title_items_orders_points_and_own_words() -> None:
    one, other = (item(BEATS, f"4/4 {text} _", "1", "2 <a>, 3 <b>") for text in ("q h", "h q"))
    form = placed(one, other, points=2)
    text = f"Quiz\n{one.id} (0, 1, 2) 2\n{other.id} (0, 1, 2) 2"
    assert form_ident("Quiz", form.items) == "f" + hashlib.sha256(text.encode()).hexdigest()[:16]
    words = OwnWords((("en", "Whatever?"),))
    assert form_ident("Quiz", placed(one, other, points=2, words=words).items) != form_ident("Quiz", form.items)


# What a quiz is.


@pytest.mark.parametrize(("items", "tried"), [(1, TRIED), (100, 24), (200, 12), (1000, 4)])
def test_of_many_items_fewer_sets_are_tried(items: int, tried: int) -> None:
    some = TWO.part[0].model_copy(update={"items": items})
    assert tried_in(TWO.model_copy(update={"part": [some]})) == min(tried, TRIED)


def test_named_errors_are_told_once_in_the_order_of_the_plan() -> None:
    one, other = (TWO.part[0].model_copy(update={"misreadings": each}) for each in (["b", "a"], ["a", "c"]))
    assert named(TWO.model_copy(update={"part": [one, other]})) == ("b", "a", "c")


def test_a_quiz_draws_the_same_however_it_is_given_and_other_items_if_anything_else_differs() -> None:
    seed, _, print_ = drawing_seed(TWO).partition("/")
    assert (seed, len(print_), set(print_) <= set("0123456789abcdef")) == ("1", 8, True)
    given = TWO.model_copy(update={"language": "es", "quiz": PICKING.quiz.model_copy(update={"shuffle": True})})
    assert given.prints != TWO.prints
    assert drawing_seed(given) == drawing_seed(TWO)
    for other in (PICKING, TWO.model_copy(update={"title": "Other"}), TWO.model_copy(update={"seed": 2})):
        assert drawing_seed(other) != drawing_seed(TWO)


def test_the_pattern_of_a_finished_form_is_that_of_its_first_variants() -> None:
    drawing = blueprint(*CLASS, TYPED, "measure-completion finish-measure 1", quiz="draw = true; variants = 2")
    made, pattern = first_form(drawing, "A", taken={})
    assert pattern_of(made.form, drawing) == pattern
    firsts = [each.item for each in made.form.items[::2]]
    assert pattern.cells == tuple(cell_of(each, plan) for each, plan in zip(firsts, pattern.plans, strict=True))
    assert pattern.plans == tuple(plan_of(each, drawing) for each in (drawing.part[0], *drawing.part))


def of_difficulty(mean: int) -> MadeForm:
    return MadeForm(placed(), Tally(), (), (), Fraction(mean))


def test_how_far_difficulties_lie_apart_is_a_part_of_their_mean() -> None:
    """8, 10 and 12: 4 of 10."""
    assert spread(tuple(map(of_difficulty, (10, 8, 12)))) == Fraction(4, 10)
    assert spread((of_difficulty(7),)) == 0
    assert spread(()) == 0


def test_the_difficulty_of_a_form_is_the_mean_of_its_items() -> None:
    made, pattern = first_form(TWO, "A", taken={})
    assert made.difficulty == Fraction(sum(each.difficulty for each in pattern.cells), 2)
    assert [question_of(each).text for each in items_of(made)] == excerpts(made)
