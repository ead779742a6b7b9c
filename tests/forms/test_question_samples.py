"""What a part can supply: all its questions where they are few, else a sample of 16 that are drawn. Common practice."""

from itertools import count

from barwright.asks.ask import Question
from barwright.blueprint.blueprint import Plan
from barwright.forms.question_sample import able, frequency, has_few, sample_of, support, whole_sample
from barwright.rhythm.meter import parse_meter
from forms.made_items import in_ask
from forms.made_parts import MANY, part, question

IN_FOUR, IN_THREE = parse_meter("4/4"), parse_meter("3/4")
THREE_FOUR = question("3/4 q h _")
OFFERS = {"h": "a b", "e": "b", "w": "c"}


def drawing(*drawn: Question | None) -> Plan:
    """A part with more questions than are listed, each of which its own error leads astray on."""
    return part(MANY, drawn=drawn, on={each.text: {"h": f"error-{n}"} for n, each in enumerate(MANY)})


def errors(*numbers: int) -> tuple[frozenset[str], ...]:
    return tuple(frozenset({f"error-{n}"}) for n in numbers)


def test_whoever_can_be_led_astray_on_a_question() -> None:
    a_part = part([MANY[0]], offers=OFFERS)
    assert able(a_part.ask, MANY[0], a_part.space) == {"a", "b", "c"}


def test_up_to_120_questions_are_few() -> None:
    for questions, few in ((119, True), (120, True), (121, False), (122, False)):
        a_part = part(MANY[:questions])
        assert has_few(a_part.ask, a_part.space) is few


def test_no_more_questions_are_looked_at_than_tell_that_they_are_many() -> None:
    """Of an ask that lists without end."""
    looked_at = count()
    a_part = in_ask(part(()), listed=lambda _space: (MANY[0] for _ in looked_at))
    assert not has_few(a_part.ask, a_part.space)
    assert next(looked_at) == 121


def test_of_few_questions_all_are_the_sample_in_one_meter_or_in_all() -> None:
    a_part = part(
        [MANY[0], THREE_FOUR], drawn=[MANY[1]], offers=OFFERS, on={THREE_FOUR.text: {"h": "d"}}, meters="4/4 3/4"
    )
    assert whole_sample(a_part) == ({"a", "b", "c"}, {"d"})
    assert (sample_of(a_part, IN_FOUR), sample_of(a_part, IN_THREE)) == (({"a", "b", "c"},), ({"d"},))
    assert len(whole_sample(part(MANY[:120], offers=OFFERS))) == 120


def test_of_many_sixteen_different_ones_are_drawn() -> None:
    assert whole_sample(drawing(*MANY)) == errors(*range(16))


def test_what_is_drawn_twice_counts_once_and_64_draws_are_enough() -> None:
    assert whole_sample(drawing(MANY[0], None, MANY[0], MANY[1])) == errors(0, 1)
    # The sixteenth comes with the 64th draw, or after it.
    fifteen = [each for each in MANY[:15] for _ in range(4)]
    assert whole_sample(drawing(*fifteen, None, None, None, MANY[15])) == errors(*range(16))
    assert whole_sample(drawing(*fifteen, None, None, None, None, MANY[15])) == errors(*range(15))


def test_how_many_of_a_sample_some_error_or_several_together_lead_astray_on() -> None:
    sample = (frozenset("ab"), frozenset("a"), frozenset("bc"))
    assert frequency(sample) == {"a": 2, "b": 2, "c": 1}
    counts = {names: support(sample, frozenset(names)) for names in ("a", "ab", "abc", "")}
    assert counts == {"a": 2, "ab": 1, "abc": 0, "": 3}
