"""Does a symbol fit in a measure: the answer is No about as often as Yes, and never seen from afar."""

from collections import Counter
from fractions import Fraction
from random import Random

import pytest

from barwright.asks.ask import Question
from barwright.asks.meter_identification import away_from_full, verdict_of
from barwright.blueprint.blueprint import Plan
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.forms.item_making import made_item
from barwright.forms.judging import Tally
from barwright.rhythm.excerpt import Excerpt
from barwright.rhythm.measure import length_of
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_symbols
from items.demo import BEGINNERS, SECOND_YEAR, blueprint_text, plan

ASK = "does-it-fit"
MIXED = """
meters = ["2/4", "3/4", "4/4", "6/8"]
notes = ["whole", "half", "quarter", "eighth"]
rests = ["half", "quarter", "eighth"]
dots = ["half", "quarter"]
"""
ALL_FIT = '\nmeters = ["4/4"]\nnotes = ["whole", "half", "quarter"]\n'
NONE_FITS = '\nmeters = ["2/4"]\nnotes = ["whole", "quarter"]\n'
DRAWS = 600


def drawn(elements: str, count: int = DRAWS, seed: int = 1) -> list[Question]:
    a_plan, rng = plan(elements, ASK), Random(seed)
    found = [a_plan.ask.draw(a_plan.space, rng) for _ in range(count)]
    return [question for question in found if question is not None]


def verdicts_offered(question: Question, a_plan: Plan) -> set[str]:
    offers = a_plan.ask.offers(question, a_plan.space.anywhere, Random(1))
    return {verdict_of(answer) for answer in (*offers, *question.keys)}


def verdicts_right_somewhere(question: Question, a_plan: Plan) -> set[str]:
    """Of statements that are true of some symbol and some measure of the class, if two at least are on offer."""
    meter, taught = question.excerpt.meter, a_plan.space.taught
    lasts = {str(length_of(symbol, meter) / meter.unit) for symbol in parse_symbols(" ".join(taught.tokens))}
    holds = {str(other.top) for other in taught.meters if other.bottom == meter.bottom}
    offers = a_plan.ask.offers(question, a_plan.space.anywhere, Random(1))
    able = [a for a in offers if a.text.split(" ")[1] in lasts and a.text.split(" ")[2] in holds]
    return {verdict_of(answer) for answer in (*(able if len(able) > 1 else offers), *question.keys)}


@pytest.mark.parametrize("elements", [MIXED, BEGINNERS, SECOND_YEAR, NONE_FITS])
def test_no_is_right_in_about_half_of_the_draws(elements: str) -> None:
    found = Counter(verdict_of(question.keys[0]) for question in drawn(elements))
    assert sum(found.values()) == DRAWS
    assert DRAWS * 2 // 5 < found["fits-not"] < DRAWS * 3 // 5


def test_where_everything_fits_the_answer_is_yes() -> None:
    found = drawn(ALL_FIT)
    assert {verdict_of(question.keys[0]) for question in found} == {"fits"}
    assert len(found) == DRAWS


def test_where_the_verdict_is_seen_at_once_it_is_hardly_ever_asked() -> None:
    found = drawn(MIXED)
    far = sum(away_from_full(question.excerpt) > 0 for question in found)
    assert far * 10 < len(found) * 3
    assert "4/4 e" not in {question.text for question in found[:60]}


def test_the_best_to_ask_last_more_than_half_a_measure_and_no_more_than_two() -> None:
    for meter in map(parse_meter, ("2/4", "3/4", "4/4", "2/2", "3/8", "6/8", "9/8", "12/8", "5/8")):
        for symbol in parse_symbols("w w. h h. q q. e s rh rq re"):
            ratio = length_of(symbol, meter) / meter.capacity
            wanted = 0 if Fraction(1, 2) < ratio <= 2 else 1 if ratio == Fraction(1, 2) else 2
            assert away_from_full(Excerpt(meter, ((symbol,),))) == wanted, f"{meter} {symbol}"


def test_a_question_with_both_verdicts_on_offer_comes_first() -> None:
    a_plan = plan(MIXED, ASK)
    found = drawn(MIXED)
    both = sum(len(verdicts_offered(question, a_plan)) == 2 for question in found)
    listed = list(a_plan.ask.listed(a_plan.space))
    listed_both = sum(len(verdicts_offered(question, a_plan)) == 2 for question in listed)
    assert both * 20 > len(found) * 17
    assert both * len(listed) > listed_both * len(found)


@pytest.mark.parametrize("elements", [MIXED, BEGINNERS])
def test_what_is_drawn_is_listed_and_nothing_listed_is_out_of_reach(elements: str) -> None:
    a_plan = plan(elements, ASK)
    listed = [question.text for question in a_plan.ask.listed(a_plan.space)]
    assert len(set(listed)) == len(listed)
    assert {question.text for question in drawn(elements, 240_000)} == set(listed)


def test_the_same_seed_draws_the_same() -> None:
    assert drawn(MIXED, 50, seed=7) == drawn(MIXED, 50, seed=7)
    assert drawn(MIXED, 50, seed=7) != drawn(MIXED, 50, seed=8)


def test_first_forms_ask_no_at_least_once_and_no_symbol_under_half_a_measure() -> None:
    found: Counter[str] = Counter()
    for seed in range(1, 13):
        blueprint, _ = read_blueprint(blueprint_text(MIXED, ASK, items=3, more=f"seed = {seed}"), "test.toml")
        (made,) = made_forms(blueprint)
        for placed in made.form.items:
            found[verdict_of(placed.item.keys[0].answer)] += 1
            found["near"] += away_from_full(placed.item.excerpt) < 2
    assert found["near"] >= 34
    assert 12 <= found["fits-not"] <= 24, "36 keys"


@pytest.mark.parametrize("choices", [3, 4, 5])
def test_where_both_words_can_stand_in_an_item_both_do(choices: int) -> None:
    """Four choices that all begin with Yes would answer half of the question."""
    a_plan = plan(MIXED, ASK, choices=choices)
    seen: Counter[int] = Counter()
    for question in a_plan.ask.listed(a_plan.space):
        item = made_item(a_plan, question, fewer=choices, tally=Tally(), rng=Random(1))
        assert item is not None
        words = {verdict_of(choice.answer) for choice in item.choices}
        assert words == verdicts_right_somewhere(question, a_plan), question.text
        seen[len(words)] += 1
    assert seen[2] > seen[1]


def test_later_forms_ask_no_as_well() -> None:
    """With two symbols that are too long, a form each of two may have one, whichever meter it is in."""
    noes: Counter[str] = Counter()
    for seed in range(1, 13):
        more = f'seed = {seed}\nsections = ["A", "B"]'
        blueprint, _ = read_blueprint(blueprint_text(BEGINNERS, ASK, items=1, more=more), "test.toml")
        one, other = made_forms(blueprint)
        keys = {made.form.section: verdict_of(made.form.items[0].item.keys[0].answer) for made in (one, other)}
        noes.update(section for section, verdict in keys.items() if verdict == "fits-not")
        assert len(set(keys.values())) == 1
    assert 2 <= noes["A"] == noes["B"]
