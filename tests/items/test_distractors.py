"""Which of the answers that a misreading leads to is taken as a wrong choice."""

from collections import Counter
from random import Random

from barwright.forms.distractors import Wish, chosen
from barwright.items.item import Answer
from items.demo import SECOND_YEAR, plan


def test_a_wrong_rhythm_of_one_item_is_one_of_the_next_only_where_no_other_is_left() -> None:
    """Who has read the hint of a rhythm strikes it out in the next item."""
    a_plan = plan(SECOND_YEAR, "rhythm-for-time-signature")
    tried = 0
    for question in (a_plan.ask.draw(a_plan.space, Random(seed)) for seed in range(12)):
        assert question is not None
        offers = a_plan.ask.offers(question, a_plan.space.anywhere, Random(1))
        for misreading in {m for ids in offers.values() for m in ids}:
            led = {answer for answer, ids in offers.items() if misreading in ids}
            shown: Counter[Answer] = Counter()
            for turn in range(2 * len(led)):
                wish = Wish(1, 1, only=frozenset({misreading}), rhythms=shown)
                [choice] = chosen(a_plan.ask, question, offers, wish=wish, rng=Random(turn))
                shown[choice.answer] += 1
            assert set(shown) == led
            assert set(shown.values()) == {2}
            tried += len(led) > 1
    assert tried > 10
