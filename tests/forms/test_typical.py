"""What parts usually give, and how often they can: of asks that draw and list what is put down here; by hand.

Expectations are common practice.
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import cycle, product
from random import Random

from asks.spaces import excerpt, space
from barwright.asks.ask import Question, Space
from barwright.blueprint.blueprint import Plan
from barwright.forms.parallel import Trait
from barwright.forms.typical import demand, misreadings_supply, supply, usual_counts, usual_difficulty
from barwright.items.difficulty import WEIGHTS, difficulty
from barwright.items.item import Answer
from forms.made_items import in_ask, plan

ASK = "finish-measure"


def question(text: str, key: str = "q") -> Question:
    return Question(excerpt(text), (Answer("symbols", key),))


PLAIN, DOTTED, LONG = question("4/4 q h _"), question("4/4 q. e q _"), question("4/4 q _", "h.")


def drawing(*drawn: Question | None) -> Plan:
    """A part that draws these questions in turn."""
    turn = cycle(drawn)
    return in_ask(plan(ASK, space("h q", "4/4")), draw=lambda _space, _rng: next(turn))


def hard(*questions: Question) -> int:
    return sum(difficulty(each.excerpt, WEIGHTS) for each in questions)


def test_each_question_is_as_hard_as_is_usual_among_those_of_its_answer() -> None:
    three_of_four = drawing(PLAIN, PLAIN, DOTTED, PLAIN)
    assert hard(DOTTED) > hard(PLAIN)
    assert usual_difficulty([(three_of_four, PLAIN)] * 4) == hard(PLAIN, PLAIN, PLAIN, DOTTED)
    assert usual_difficulty([(three_of_four, DOTTED)] * 8) == 2 * hard(PLAIN, PLAIN, PLAIN, DOTTED)
    # What another answer's questions are like does not matter.
    two_answers = drawing(PLAIN, LONG, DOTTED, LONG)
    assert usual_difficulty([(two_answers, PLAIN), (two_answers, DOTTED)]) == hard(PLAIN, DOTTED)
    assert usual_difficulty([(two_answers, LONG)]) == hard(LONG)
    # Draws that give nothing are passed over; where all do a question is as hard as it is.
    assert usual_difficulty([(drawing(None, PLAIN), DOTTED)]) == hard(PLAIN)
    assert usual_difficulty([(drawing(None), DOTTED)]) == hard(DOTTED)


def test_of_three_questions_none_is_called_usual_of_four_one_is() -> None:
    # Of 96 that are drawn three, or four, have the long answer.
    three, four = (drawing(LONG, *[PLAIN] * each) for each in (31, 23))
    assert usual_difficulty([(four, LONG)] * 96) == 96 * hard(LONG)
    assert usual_difficulty([(three, LONG)] * 96) == 3 * hard(LONG) + 93 * hard(PLAIN)
    assert usual_counts([(three, LONG)] * 32)[Trait(ASK, "values", "h")] == 31


def test_traits_are_counted_by_their_share_among_questions_of_the_answer() -> None:
    part = drawing(PLAIN, PLAIN, DOTTED, PLAIN)
    found = usual_counts([(part, PLAIN)] * 4)
    assert found == {
        Trait(ASK, "answers", "1/4 of a whole note"): 4, Trait(ASK, "meters", "4/4"): 4,
        Trait(ASK, "values", "q"): 4, Trait(ASK, "values", "h"): 3, Trait(ASK, "values", "q."): 1,
        Trait(ASK, "values", "e"): 1, Trait(ASK, "off-beats", "off the beat"): 1,
    }  # fmt: skip
    # Parts add up before they are rounded: three quarters of one and a half of another.
    halves = drawing(PLAIN, DOTTED)
    assert usual_counts([(part, PLAIN), (halves, PLAIN)])[Trait(ASK, "values", "h")] == 1
    assert usual_counts([(part, PLAIN)] * 3 + [(halves, PLAIN)])[Trait(ASK, "values", "h")] == 3


def listing(*questions: Question, ask: str = ASK, all_of_them: bool = True, meters: str = "4/4") -> Plan:
    """A part that has these questions, each in its meter."""

    def listed(narrow: Space) -> Iterator[Question]:
        return iter([each for each in questions if each.excerpt.meter in narrow.meters])

    return in_ask(plan(ask, space("h q", meters)), listed=listed, lists_all=lambda _space: all_of_them)


def test_an_excerpt_that_two_asks_have_is_divided_by_their_items() -> None:
    x, y, z = question("4/4 q h _"), question("4/4 h h _"), question("4/4 q q _")
    found = supply([(listing(x, y), 3), (listing(y, z, ask="finish-measure-with-two"), 1)])
    quarter, half = "q", "h"
    assert {(trait.of, trait.name): n for trait, n in found.items() if trait.kind == "values"} == {
        (ASK, quarter): 1, (ASK, half): 1 + Fraction(3, 4),
        ("finish-measure-with-two", quarter): 1, ("finish-measure-with-two", half): Fraction(1, 4),
    }  # fmt: skip


MANY = [question(f"4/4 {' '.join(each)} _") for each in product("hqes", repeat=4)]


def test_what_too_few_excerpts_are_without_shows_in_every_form() -> None:
    """Six forms of two items need 12 excerpts: where 8 of the 12 have an eighth, 4 do not, and 2 - 4 / 6 must."""
    eighths = [
        question(f"4/4 {each} _") for each in ("e e q", "e e h", "q e e", "h e e", "e q e", "e h e", "e e", "e e q.")
    ]
    others = [question(f"4/4 {each} _") for each in ("q q", "q h", "h q", "q q q")]
    trait = Trait(ASK, "values", "e")
    assert demand([(listing(*eighths, *others), 2)])[trait] == Fraction(4, 3)
    # Of an excerpt fewer there are too few for six forms anyway; an ask that has many excerpts has enough of all.
    assert demand([(listing(*eighths, *others[:3]), 2)]) == {}
    assert demand([(listing(*MANY[:101]), 2)]) == {}


def test_what_enough_excerpts_are_without_need_not_show() -> None:
    """Of 18 excerpts six forms of two items leave 6 over: what 6 have need not show.

    What 7 have must show in one form, a sixth of an item in each.
    """
    beginnings = (("h", 7), ("w", 6), ("rq", 5))
    every = [question(f"4/4 {first}{' q' * n} _") for first, count in beginnings for n in range(1, count + 1)]
    found = demand([(listing(*every), 2)])
    assert {trait.name: n for trait, n in found.items() if trait.kind == "values"} == {"q": 2, "h": Fraction(1, 6)}


def test_an_ask_that_has_many_excerpts_in_one_meter_need_not_show_what_it_has_in_another() -> None:
    few = [question(f"3/4 w{' q' * n} _") for n in range(12)]
    assert demand([(listing(*few, meters="3/4"), 2)])[Trait(ASK, "values", "w")] == 2
    assert demand([(listing(*MANY, *few, meters="4/4 3/4"), 2)]) == {}


def test_of_a_hundred_excerpts_each_is_counted_and_of_more_none() -> None:
    trait = Trait(ASK, "meters", "4/4")
    assert supply([(listing(*MANY[:100]), 2)])[trait] == 100
    assert trait not in supply([(listing(*MANY[:101]), 2)])
    assert trait not in supply([(listing(*MANY[:3], all_of_them=False), 2)])


def test_what_one_meter_has_enough_of_is_not_counted_in_another() -> None:
    few = [question("3/4 q h _"), question("3/4 w _", "rq")]
    found = supply([(listing(*MANY, *few, meters="4/4 3/4"), 2)])
    assert {(trait.kind, trait.name): n for trait, n in found.items()} == {
        ("meters", "3/4"): 2, ("values", "w"): 1, ("answers", "with a rest"): 1,
    }  # fmt: skip


def offering(part: Plan, **shown: int) -> Plan:
    """The part, in which each misreading leads somewhere on the first so many of its questions."""
    texts = [each.text for each in MANY]

    def offers(asked: Question, _space: Space, _rng: Random) -> dict[Answer, tuple[str, ...]]:
        return {Answer("symbols", "h"): tuple(m for m, count in shown.items() if texts.index(asked.text) < count)}

    turn = cycle(MANY[:16])
    return in_ask(part, offers=offers, draw=lambda _space, _rng: next(turn))


def test_of_few_questions_a_form_takes_its_share_of_those_that_show_a_misreading() -> None:
    found = misreadings_supply([(offering(listing(*MANY[:60]), a=21, b=20, c=6), 4)])
    # Six forms and one part more for other asks: sevenths.
    assert found == {Trait(ASK, "misreadings", name): n for name, n in (("a", 3), ("b", 2), ("c", 1))}


def test_of_many_questions_only_what_shows_on_few_is_bounded() -> None:
    part = offering(listing(*MANY), a=16, b=4, c=3)
    found = misreadings_supply([(part, 5)])
    assert found[Trait(ASK, "misreadings", "a")] == 5
    assert found == {Trait(ASK, "misreadings", name): n for name, n in (("a", 5), ("b", 5), ("c", 1))}
    assert misreadings_supply([(part, 5), (part, 2)])[Trait(ASK, "misreadings", "b")] == 7
