"""How a form is filled and brought near to others: sheets, what a mark costs, what is usual; each rule on a few items.

Expectations are common practice where no other source is named.
"""

from collections import Counter
from fractions import Fraction
from random import Random

from barwright.asks.ask import Question
from barwright.forms.choosing import Candidate
from barwright.forms.draft import Draft
from barwright.forms.judging import Tally
from barwright.forms.marks import Mark, item_marks, marked
from barwright.forms.parallel import WHOLE, Trait, question_traits
from barwright.forms.picked_items import picked_item
from barwright.forms.question_sample import one_meter
from barwright.forms.ready_items import question_of
from barwright.forms.scales import FAR, Aim, Scales
from barwright.forms.sheets import SERVED, Sheets
from barwright.forms.typical import FORMS, misreadings_supply, supply, usual_counts, usual_difficulty
from barwright.guesser import Ledger, Moments
from barwright.items.difficulty import difficulty
from barwright.items.item import Answer, Choice, Item
from barwright.misreadings import likeliest_first
from barwright.rhythm.conventions import Conventions
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_excerpt
from forms.one_set import weighed_set
from items.demo import BEGINNERS, SECOND_YEAR, plan

FINISH = plan(BEGINNERS, "finish-measure")


def item(excerpt: str, key: str, **wrong: tuple[str, ...]) -> Item:
    choices = [Choice(Answer("symbols", key)), *(Choice(Answer("symbols", text), ids) for text, ids in wrong.items())]
    return Item("finish-measure", parse_excerpt(excerpt), Conventions(), tuple(choices))


def draft_of(*items: Item) -> Draft:
    draft = Draft("A", {})
    for each in items:
        draft.keep(FINISH, question_of(each), each)
    return draft


def misreading(name: str, of: str = "finish-measure") -> Trait:
    return Trait(of, "misreadings", name)


def test_several_places_choose_from_one_sheet_and_then_from_another() -> None:
    sheets, rich = Sheets("seed"), plan(SECOND_YEAR, "finish-measure")
    served = [tuple(each.question.text for each in sheets.of(rich)) for _ in range(SERVED + 1)]
    assert len(set(served[:SERVED])) == 1
    assert served[SERVED] != served[0]
    assert len(set(served[0])) == len(served[0])
    meter = parse_meter("6/8")
    assert {each.question.excerpt.meter for each in sheets.of(rich, meter)} == {meter}
    assert Sheets("seed").of(rich) != Sheets("other").of(rich)


def test_a_part_of_few_questions_has_them_all_on_its_sheet_unless_they_are_to_be_drawn() -> None:
    few = plan(
        '\nmeters = ["2/4"]\nnotes = ["half", "quarter"]\nrests = ["quarter"]\nplain = false\n', "finish-measure"
    )
    listed = {question.text for question in few.ask.listed(few.space)}
    sheets = Sheets("seed")
    for _ in range(2 * SERVED):
        assert {each.question.text for each in sheets.of(few)} == listed
        sheets.turn(few)


def test_a_form_counts_the_marks_of_its_items_and_forgets_those_that_go() -> None:
    one, other = item("4/4 q h _", "q", h=("a",)), item("4/4 _ h q", "q", h=("a+b",))
    draft = draft_of(one, other)
    assert draft.shown[misreading("a")] == draft.shown[misreading("a", WHOLE)] == 2
    assert draft.shown[misreading("b")] == 1
    draft.expect(item_marks(FINISH, one, ()))
    assert {name: n for name, n in draft.over("finish-measure").items() if n} == {"a": 1, "b": 1}
    assert max(n for mark, n in draft.shown.items() if mark.kind == "twin") == 2  # mirrored
    draft.release(other)
    assert {mark: n for mark, n in draft.shown.items() if n} == Counter(item_marks(FINISH, one, ()))
    assert draft.sum == difficulty(one.excerpt, FINISH.weights)


def test_a_question_like_the_cells_comes_first_and_a_mirror_image_last() -> None:
    first = item("4/4 q h _", "q", h=("a",))
    draft = draft_of(first)
    draft.expect(item_marks(FINISH, first, ()))
    wanted = item("4/4 h rq _", "q", h=("a",))
    draft.expect(item_marks(FINISH, wanted, ()))
    like, unlike, twin = (
        draft.unlike(marked(FINISH, Question(parse_excerpt(text), (Answer("symbols", key),))).marks)
        for text, key in (("4/4 rq h _", "q"), ("4/4 h _", "h"), ("4/4 _ h q", "q"))
    )
    # Answer 5, meter and two values are due: -8; the other has the wrong answer 5, the meter -1, a value -1.
    assert like == -8
    assert unlike == 3
    # Another quarter that is not due is 1; the mirror image 30.
    assert twin == -6 + 30


def test_only_marks_that_would_get_better_are_worth_another_item() -> None:
    one, other = item("4/4 q h _", "q", h=("a",)), item("4/4 rq h _", "q", rh=("a",), w=("b",))
    draft = draft_of(one, other)
    aim = Aim({}, {misreading("a"): 1}, {misreading("a"): 1}, draft.sum, {"finish-measure": 2, WHOLE: 2}, {})
    scales = Scales(aim, draft)
    assert misreading("a") in scales.bad
    assert scales.may_choose(FINISH, draft.marks_of(one))
    assert not scales.may_choose(FINISH, draft.marks_of(one) - {misreading("a")}), "it stands too often already"
    assert scales.worn("finish-measure")["a"] > FAR
    wanting = Scales(Aim({misreading("c"): 2}, {}, {}, draft.sum, {"finish-measure": 2, WHOLE: 2}, {}), draft)
    assert wanting.may_choose(FINISH, draft.marks_of(one))
    assert not wanting.may_choose(plan(BEGINNERS, "beats-left"), frozenset())
    assert wanting.worn("finish-measure")["c"] < -FAR / 2


def test_what_lacks_is_told_until_there_are_chances_enough() -> None:
    draft = Draft("A", {}, named=("a", "b"))
    assert draft.lacking() == (("a", "a"), ("a", "b"), ("b", "a"), ("b", "b"))
    texts = ("4/4 q h _", "4/4 rq h _", "4/4 rh q _", "4/4 rh rq _")
    for text in texts:
        each = item(text, "q", h=("a",), w=("b",))
        draft.keep(FINISH, question_of(each), each)
    assert draft.lacking() == ()
    assert draft.shown[Mark("apart", "a", "b")] == 4


def test_a_wanted_wrong_answer_is_found_among_very_many() -> None:
    """Of 60 answers sets are drawn at random; half of the draws begin with what most weighs for."""
    kinds = [
        f"{one} {other}"
        for one in ("w", "h.", "h", "q.", "q", "e", "s", "rh")
        for other in ("w", "h.", "h", "q.", "q", "e", "s")
    ]
    offered = [Candidate(Answer("symbols", text), (f"error-{n}",)) for n, text in enumerate(kinds)]
    wanted = Candidate(Answer("symbols", "rq s"), ("wanted",), bias=-10_000_000)
    for seed in range(10):
        found = weighed_set(
            "counts-for-rhythm", [Answer("symbols", "rq")], [*offered, wanted], 3,
            ledger=Ledger(), moments=Moments(), rng=Random(seed),
        )  # fmt: skip
        assert found is not None
        assert wanted in found.wrong


def test_what_is_usual_goes_by_the_answer() -> None:
    """Where much is missing little is printed, which is easier; each form is as hard as its answers allow."""
    rich = plan(SECOND_YEAR, "finish-measure")
    questions = [each.question for each in Sheets("seed").of(rich)]
    longest = max(questions, key=lambda q: len(q.excerpt.symbols))
    shortest = min(questions, key=lambda q: len(q.excerpt.symbols))
    assert usual_difficulty([(rich, longest)] * 10) > usual_difficulty([(rich, shortest)] * 10)
    usual = usual_counts([(rich, longest)] * 10)
    answers = {trait for trait in question_traits(rich.ask, longest) if trait.kind == "answers"}
    assert all(usual[trait] == 10 for trait in answers)
    assert sum(n for trait, n in usual.items() if trait.kind == "meters") in range(9, 12)


def test_no_form_takes_more_than_its_share_of_what_is_rare() -> None:
    """Of all measures of 2/4 in halves, quarters and quarter rests; what another meter has many of is not counted."""
    few = plan(
        '\nmeters = ["2/4"]\nnotes = ["half", "quarter"]\nrests = ["quarter"]\nplain = false\n', "finish-measure"
    )
    listed = list(few.ask.listed(few.space))
    trait = Trait("finish-measure", "meters", "2/4")
    assert supply([(few, 2)])[trait] == len({q.excerpt for q in listed})
    assert supply([(few, 2), (few, 2)])[trait] == Fraction(len({q.excerpt for q in listed}))
    rich = plan(SECOND_YEAR, "finish-measure")
    assert Trait("finish-measure", "meters", "4/4") not in supply([(rich, 2)])
    shows = Counter(m for q in listed for ids in [few.ask.offers(q, few.space.anywhere, Random(q.text))]
                    for m in {m for each in ids.values() for m in each})  # fmt: skip
    found = misreadings_supply([(few, 4)])
    assert found == {misreading(m): max(1, min(n // (FORMS + 1), 4 * 2 // 3)) for m, n in shows.items()}


def test_two_misreadings_at_once_are_less_likely_than_any_alone() -> None:
    both, rare = "dots-passed-over+rests-take-no-time", "numbers-of-the-signature-swapped"
    assert likeliest_first([both, rare, "dots-passed-over"]) == ("dots-passed-over", rare, both)


def test_a_part_in_one_meter_is_the_part_with_that_meter_alone() -> None:
    rich = plan(SECOND_YEAR, "finish-measure")
    narrow = one_meter(rich.space, parse_meter("6/8"))
    assert [str(meter) for meter in narrow.meters] == ["6/8"]
    found = [rich.ask.draw(narrow, Random(seed)) for seed in range(20)]
    made = [picked_item(rich, q, fewer=1, tally=Tally(), rng=Random(1)) for q in found if q is not None]
    assert {str(each.excerpt.meter) for each in made if each is not None} == {"6/8"}
