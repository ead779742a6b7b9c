"""Sets in which each choice could be the right one; tiny tables of what leads to what, by hand. Common practice."""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from random import Random

import pytest

from barwright.asks.ask import Question, Space
from barwright.blueprint.blueprint import Plan
from barwright.forms import equal_sets as rules
from barwright.forms import picked_cells
from barwright.forms.choosing import Candidate
from barwright.forms.draft import Draft
from barwright.forms.equal_sets import can_be_equal, equal_sets, wait
from barwright.forms.judging import Tally
from barwright.forms.picked_items import Pool, Want, drawn_equal_pool, pool_of
from barwright.forms.sheets import Sheets
from barwright.forms.watch import Guessers
from barwright.items.item import Answer
from forms.made_items import in_ask
from forms.made_parts import part, question

ASKED = question("4/4 h _", "q")
ALL = "q h e w"


def reading(led: str, a_part: Plan | None = None) -> Plan:
    """A part whose ask knows what each answer leads to: `h: q e; e: q`."""
    table = {one: others.split() for one, others in (each.split(": ") for each in led.split("; "))}

    def if_right(asked: Question, answers: Sequence[Answer], _space: Space) -> Mapping[Answer, frozenset[Answer]]:
        every = [*asked.keys, *answers]
        return {a: frozenset(b for b in every if b.text in table.get(a.text, ())) for a in every}

    return in_ask(a_part or part([ASKED]), if_right=if_right)


def each_to_each(answers: str) -> str:
    return "; ".join(f"{one}: {answers}" for one in answers.split())


def candidates(text: str) -> tuple[Candidate, ...]:
    """Wrong answers, each by an error of its own, or by the one after the colon; with `!` offered seldom."""
    return tuple(
        Candidate(Answer("symbols", name.rstrip("!")), (way or name.rstrip("!"),), seldom=name.endswith("!"))
        for name, _, way in (each.partition(":") for each in text.split())
    )


def sets(led: str, offered: str, count: int = 3) -> list[str]:
    return [
        " ".join(c.answer.text for c in each) for each in equal_sets(reading(led), ASKED, candidates(offered), count)
    ]


def test_each_choice_of_a_set_leads_to_all_others_and_to_the_right_one() -> None:
    assert sets(each_to_each(ALL), "h e w") == ["h e w"]
    assert sets(each_to_each(ALL), "h e w", 2) == ["h e", "h w", "e w"]
    assert sets(each_to_each(ALL), "h e", 3) == []
    # Who would not take the right one for `w`, or `w` for `e`, or `e` for `w`.
    assert sets("q: h e w; h: q e w; e: q h w; w: h e", "h e w", 2) == ["h e"]
    assert sets("q: h e w; h: q e w; e: q h; w: q h e", "h e w", 2) == ["h e", "h w"]
    assert sets("q: h e w; h: q e w; e: q h w; w: q h", "h e w", 2) == ["h e", "h w"]


def test_no_set_holds_what_is_offered_seldom_or_two_answers_of_one_error() -> None:
    assert sets(each_to_each(ALL), "h e! w", 2) == ["h w"]
    assert sets(each_to_each(ALL), "h:a e:a w", 2) == ["h w", "e w"]


def test_an_answer_that_the_ask_does_not_tell_of_stands_in_no_set() -> None:
    def silent(_asked: Question, _answers: Sequence[Answer], _space: Space) -> Mapping[Answer, frozenset[Answer]]:
        return {}

    assert equal_sets(in_ask(part([ASKED]), if_right=silent), ASKED, candidates("h e w"), 2) == []


def test_of_very_many_answers_the_first_are_held_against_each_other() -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(rules, "MOST", 2)
        assert sets(each_to_each(ALL), "h e w", 2) == ["h e"]
        assert sets(each_to_each(ALL), "h! e w", 2) == ["e w"]


def test_sets_are_looked_for_where_the_ask_can_tell_and_no_misreading_is_named() -> None:
    assert can_be_equal(reading(each_to_each(ALL)))
    assert not can_be_equal(part([ASKED]))
    assert not can_be_equal(reading(each_to_each(ALL), part([ASKED], focus="dots-passed-over")))


class _Draws(Random):
    def __init__(self, drawn: float) -> None:
        super().__init__(1)
        self.drawn = drawn

    def random(self) -> float:
        return self.drawn


@pytest.mark.parametrize(
    ("drawn", "number", "cost"),
    [(0.0, 1, 0), (0.5, 1, 693), (0.5, 3, 231), (1 - math.exp(-1.5), 1, 1500), (1 - math.exp(-1.5), 2, 750)],
)
def test_a_wait_is_a_thousand_over_the_sets_on_average(drawn: float, number: int, cost: int) -> None:
    """Half of all waits for one set are under 1000 log 2 = 693.1."""
    assert wait(number, _Draws(drawn)) == pytest.approx(cost, abs=1)


def test_of_two_questions_each_comes_first_as_often_as_its_share_of_the_sets() -> None:
    rng = Random(1)
    firsts = Counter(wait(1, rng) > wait(3, rng) for _ in range(4_000))
    assert 0.73 < firsts[True] / 4_000 < 0.77


def test_equal_sets_come_before_any_others_as_many_as_are_tried_of_a_question() -> None:
    offered = candidates("h e w h.")
    whole = pool_of(reading(each_to_each(f"{ALL} h.")), ASKED, offered, Want(), Guessers(), Random(1))
    assert len(whole.sets) == 4
    some = pool_of(reading(each_to_each(f"{ALL} h.")), ASKED, offered, Want(tried=2), Guessers(), Random(1))
    assert len(some.sets) == 2
    assert set(some.sets) < set(whole.sets)
    # One set only; without any all that can be told apart stand to choose from, and cost nothing.
    one = pool_of(reading(each_to_each(ALL)), ASKED, offered, Want(), Guessers(), Random(1))
    assert [[c.answer.text for c in each] for each in one.sets] == [["h", "e", "w"]]
    none = pool_of(reading("q: h"), ASKED, offered, Want(), Guessers(), Random(1))
    assert none == pool_of(part([ASKED]), ASKED, offered, Want(), Guessers(), Random(1))
    # A set of one choice less is no equal one.
    fewer = pool_of(reading(each_to_each("q h e")), ASKED, offered, Want(fewer=1), Guessers(), Random(1))
    assert {len(each) for each in fewer.sets} == {3}


EVERY = "q h e q. h."
OFFERS = {"h": "a", "e": "b", "q.": "c"}
OTHERS = {"h": "a", "q.": "c", "h.": "d"}
# All of these are right in some question of the part.
RIGHT = [question("4/4 q _", key) for key in EVERY.split()]


def test_the_sets_of_a_question_are_drawn_by_themselves() -> None:
    able = reading(each_to_each("q h e q."), part([ASKED], drawn=RIGHT, offers=OFFERS))
    pool = drawn_equal_pool(able, ASKED, Want(), tally=Tally(), rng=Random(1))
    assert [[c.answer.text for c in each] for each in pool.sets] == [["h", "e", "q."]]
    assert (
        drawn_equal_pool(part([ASKED], drawn=RIGHT, offers=OFFERS), ASKED, Want(), tally=Tally(), rng=Random(1))
        == Pool()
    )


def test_of_the_best_questions_one_with_equal_sets_is_taken_however_far_behind() -> None:
    questions = [
        question(f"4/4 {text} _", "q") for text in ("h e e", "h q e", "q h e", "e h q", "q e h", "e q h", "e e h")
    ]
    for place in (0, 4, 5):
        on = {each.text: OFFERS if each is questions[place] else OTHERS for each in questions}
        a_part = reading(each_to_each("q h e q."), part(questions, drawn=RIGHT, on=on))
        draft = Draft("A", {}, sheets=Sheets("seed"), settling=True)
        found = picked_cells._open(a_part, draft, Random(1), Want(), questions)
        assert found is not None
        assert found[0] is questions[place]
        assert [c.answer.text for c in draft.pools[found[1].id].sets[0]] == ["h", "e", "q."]
    # Only six are looked at: with the seventh the first is taken, as ever.
    on = {each.text: OFFERS if each is questions[6] else OTHERS for each in questions}
    draft = Draft("A", {}, sheets=Sheets("seed"), settling=True)
    found = picked_cells._open(
        reading(each_to_each("q h e q."), part(questions, drawn=RIGHT, on=on)), draft, Random(1), Want(), questions
    )
    assert found is not None
    assert found[0] is questions[0]


def test_a_question_is_taken_the_oftener_the_more_equal_sets_it_has() -> None:
    """One has one set of three choices, the other four: three of four."""
    poor, rich = question("4/4 h e e _", "q"), question("4/4 e e h _", "q")
    more = {**OFFERS, "h.": "d"}
    a_part = reading(each_to_each(EVERY), part([poor, rich], drawn=RIGHT, on={poor.text: OFFERS, rich.text: more}))
    taken = Counter[str]()
    for seed in range(300):
        draft = Draft("A", {}, sheets=Sheets("seed"), settling=True)
        found = picked_cells._open(a_part, draft, Random(seed), Want(), [poor, rich])
        assert found is not None
        taken[found[0].text] += 1
    assert 0.73 < taken[rich.text] / 300 < 0.87
