"""Which sets of wrong choices are looked at where there are too many for all: each small case worked by hand.

A decoy that nothing may stand beside, and that the quota has every draw begin with, leaves squares and the first set
there is; so what is looked at can be told from what is drawn. Common practice.
"""

from collections.abc import Iterable, Sequence
from itertools import combinations
from random import Random

from barwright.forms.choosing import (
    IDLE,
    NAMED,
    NO_QUOTA,
    SHORT,
    STANDS_OUT,
    TRIED,
    Candidate,
    Clash,
    Quota,
    candidates_from,
    cheapest,
    fitting_sets,
    giveaway,
)
from barwright.forms.seeing import seen_item
from barwright.guesser import Ledger, Moments
from barwright.guesser.practised import standing_out
from barwright.items.item import Answer
from forms.one_set import weighed_set

KEY = Answer("row", "1 2")


def wrong(number: int | str, *ways: str, bias: int = 0) -> Candidate:
    """A wrong row of which only its number matters, from the misreading `x<number>` unless others are named."""
    return Candidate(Answer("row", str(number)), ways or (f"x{number}",), bias)


DECOY = wrong(99)
DRAWS_FAIL = Quota(frozenset({DECOY.answer}), 1)


def together(*edges: str) -> Clash:
    """Only these may stand together, each edge as two digits."""
    pairs = {frozenset(edge) for edge in edges}

    def clash(one: Answer, other: Answer) -> bool:
        return KEY not in (one, other) and frozenset((one.text, other.text)) not in pairs

    return clash


def alone(one: Answer, other: Answer) -> bool:
    """All may stand together but for the decoy."""
    return DECOY.answer in (one, other) and KEY not in (one, other)


def taken(
    offered: list[Candidate], clash: Clash, *, count: int = 3, quota: Quota = DRAWS_FAIL, seed: int = 1
) -> set[str] | None:
    found = weighed_set(
        "counts-for-rhythm", [KEY], offered, count, ledger=Ledger(), moments=Moments(), rng=Random(seed), clash=clash,
        quota=quota,
    )  # fmt: skip
    return None if found is None else {c.answer.text for c in found.wrong}


SEVEN = [wrong(number) for number in range(7)]


def test_where_no_draw_finds_any_the_first_set_in_order_is_taken() -> None:
    offered = [DECOY, *SEVEN]
    # 0 goes with 1 and 2, which do not go with each other; 1 goes with 2, 4 and 6, of which 4 and 6 do.
    assert taken(offered, together("01", "02", "12"[::-1], "14", "16", "46", "23", "25", "35")) == {"0", "1", "2"}
    assert taken(offered, together("01", "02", "14", "16", "46", "23", "25", "35")) == {"1", "4", "6"}
    assert taken(offered, together("01", "02", "45", "46", "56")) == {"4", "5", "6"}
    assert taken(offered, together("01", "02", "45", "46")) is None
    assert taken([*SEVEN, DECOY], together("56", "01", "02", "12")) == {"0", "1", "2"}


def test_who_is_searched_for_too_long_is_given_up() -> None:
    """Sixty that go together by twos only, and behind them three that do by threes: over 4,000 steps away."""
    crowd = [wrong(f"a{n}") for n in range(30)] + [wrong(f"b{n}") for n in range(30)]
    three = [wrong(f"c{n}") for n in range(3)]

    def clash(one: Answer, other: Answer) -> bool:
        sides = one.text[0] + other.text[0]
        return KEY not in (one, other) and sides not in ("ab", "ba", "cc")

    assert taken([DECOY, *crowd, *three], clash) is None
    assert taken([DECOY, *three, *crowd], clash) == {"c0", "c1", "c2"}


def test_one_error_another_and_both_at_once_are_tried_before_others() -> None:
    both = wrong("both", "x3+x4", "x0+x1")
    offered = [DECOY, *SEVEN, both]
    assert taken(offered, alone) == {"3", "4", "both"}
    # Credited to its first way each.
    named = [DECOY, *SEVEN[:3], wrong(3, "x3", "y"), wrong(4, "x4", "z"), *SEVEN[5:], both]
    assert taken(named, alone) == {"3", "4", "both"}
    # Two of them that may not stand together are no square; nor is one without a corner.
    assert taken(offered, lambda one, other: alone(one, other) or {one.text, other.text} == {"3", "4"}) == set("012")
    for way in ("x3+other", "other+x3"):
        assert taken([DECOY, *SEVEN, wrong("both", way)], alone) == set("012")
    # A square is of three.
    assert taken(offered, alone, count=2) == set("01")


def test_of_many_squares_those_are_tried_for_which_most_weighs() -> None:
    """Nine squares with one corner in common, of which eight are tried."""
    singles = [wrong(n) for n in range(10)]
    pairs = [wrong(f"both {n}", f"x0+x{n}", bias=-(10**9) * (n == 7)) for n in range(1, 10)]
    for seed in range(6):
        assert taken([DECOY, *singles, *pairs], alone, seed=seed) == {"0", "7", "both 7"}


def texts_of(sets: Iterable[Sequence[Candidate]]) -> set[frozenset[str]]:
    return {frozenset(c.answer.text for c in each) for each in sets}


def test_eight_squares_are_tried_and_any_of_them_may_be_left_out() -> None:
    """Of nine, though eleven sets were wanted."""
    offered = [DECOY, *(wrong(n) for n in range(10)), *(wrong(f"both {n}", f"x0+x{n}") for n in range(1, 10))]
    every: set[frozenset[str]] = set()
    for seed in range(6):
        sets = fitting_sets(
            "counts-for-rhythm", [KEY], offered, 3, rng=Random(seed), clash=alone, quota=DRAWS_FAIL, tried=11
        )
        assert len(sets) == 8
        every |= texts_of(sets)
    assert every == {frozenset({"0", str(n), f"both {n}"}) for n in range(1, 10)}


def test_where_rows_are_to_be_alike_evenly_squares_that_are_right_somewhere_come_first() -> None:
    singles = [wrong(n) for n in range(12)]
    pairs = [wrong(f"both {n}", f"x0+x{n}") for n in range(1, 12)]
    right = frozenset(c.answer for c in (singles[0], *singles[5:8], *pairs[4:7]))
    quota = Quota(right_somewhere=right, evenly=True)
    sets = fitting_sets("counts-for-rhythm", [KEY], [*singles, *pairs], 3, rng=Random(1), tried=3, quota=quota)
    assert texts_of(sets) == {frozenset({"0", str(n), f"both {n}"}) for n in (5, 6, 7)}


def test_where_there_are_no_more_sets_than_are_tried_all_are_looked_at() -> None:
    """Twenty-one pairs of seven, as many as are tried."""
    sets = fitting_sets("counts-for-rhythm", [KEY], SEVEN, 2, rng=Random(1), tried=21)
    assert texts_of(sets) == {frozenset(map(str, two)) for two in combinations(range(7), 2)}


def test_where_rows_are_to_be_alike_evenly_and_squares_are_many_nothing_else_is_tried() -> None:
    """All of them may stand together, so that draws would find others."""
    singles = [wrong(n) for n in range(12)]
    pairs = [wrong(f"both {n}", f"x0+x{n}") for n in range(1, 12)]
    sets = fitting_sets(
        "finish-measure", [KEY], [*singles, *pairs], 3, rng=Random(1), tried=11, quota=Quota(evenly=True)
    )
    assert texts_of(sets) == {frozenset({"0", str(n), f"both {n}"}) for n in range(1, 12)}


SIXTY = [wrong(n) for n in range(60)]


def test_draws_begin_with_what_the_quota_asks_for() -> None:
    """One of sixty would be drawn by chance in one draw of twenty."""
    quota = Quota(frozenset({SIXTY[30].answer}), 1)
    for seed in range(6):
        assert "30" in (taken(SIXTY, alone, quota=quota, seed=seed) or ())
    # What is right for no other question comes last, and is drawn only where the others are too few.
    three = frozenset(SIXTY[n].answer for n in (10, 30, 50))
    sets = fitting_sets("counts-for-rhythm", [KEY], SIXTY, 3, rng=Random(1), quota=Quota(right_somewhere=three))
    assert texts_of(sets) == {frozenset({"10", "30", "50"})}


def test_a_lack_is_what_the_quota_misses_and_what_is_right_nowhere() -> None:
    quota = Quota(frozenset({SEVEN[0].answer}), 1, frozenset({SEVEN[1].answer}))
    assert [quota.lack(SEVEN[first : first + 3]) for first in (0, 1, 2)] == [2, 3, 4]


def test_half_of_the_draws_begin_with_what_most_weighs_for_and_half_do_not() -> None:
    wanted = wrong("wanted", bias=-(10**9))
    for seed in range(6):
        assert "wanted" in (taken([*SIXTY, wanted], alone, quota=NO_QUOTA, seed=seed) or ())
    # It stands beside two only, for neither of which anything weighs.
    bad = [wrong(f"bad {n}", bias=10**10) for n in range(2)]

    def clash(one: Answer, other: Answer) -> bool:
        texts = {one.text, other.text}
        return "wanted" in texts and not texts & {"bad 0", "bad 1"} and KEY not in (one, other)

    for seed in range(6):
        found = taken([*SIXTY, wanted, *bad], clash, quota=NO_QUOTA, seed=seed)
        assert found is not None
        assert not found & {"wanted", "bad 0", "bad 1"}


def test_an_answer_that_clashes_with_one_of_the_right_ones_is_none() -> None:
    keys = [Answer("symbols", "h"), Answer("symbols", "q q")]
    offered = [Candidate(Answer("symbols", text), (f"x-{text}",)) for text in ("q", "e", "rq")]

    def chosen(count: int, *, strict: bool) -> set[str] | None:
        found = weighed_set(
            "all-that-fit", keys, offered, count, ledger=Ledger(), moments=Moments(), rng=Random(1), strict=strict,
            clash=lambda one, other: (one, other) == (offered[1].answer, keys[1]),
        )  # fmt: skip
        return None if found is None else {c.answer.text for c in found.wrong}

    assert chosen(3, strict=False) is None
    assert chosen(2, strict=False) == {"q", "rq"}
    # Where several are right wrong ones may share a length, strictly or not.
    assert chosen(2, strict=True) == {"q", "rq"}


def test_what_is_offered_seldom_may_stand_unless_strictly() -> None:
    offered = [Candidate(Answer("row", text), (f"x{text}",), seldom=True) for text in ("1", "2")]
    ledger, moments = Ledger(), Moments()
    assert (
        weighed_set("counts-for-rhythm", [KEY], offered, 2, ledger=ledger, moments=moments, rng=Random(1)) is not None
    )
    assert offered[0].bias == 0


def test_of_several_right_ones_no_choice_is_idle() -> None:
    """The wrong ones share a length, and could be right together."""
    keys = [Answer("symbols", "h"), Answer("symbols", "q q")]
    two = tuple(Candidate(Answer("symbols", text), (f"x-{text}",)) for text in ("q", "rq"))
    found = cheapest("all-that-fit", keys, [two], ledger=Ledger(), moments=Moments())
    seen = seen_item("all-that-fit", keys, [c.answer for c in two])
    assert found is not None
    won = Ledger().with_next(seen)
    assert found.cost == Moments().would_add(seen) + 2 * NAMED * giveaway(won)
    assert (NAMED, SHORT, IDLE) == (4, 100, 3600)


def test_a_set_costs_by_the_square_of_how_far_the_right_one_stands_out_to_a_practised_guesser() -> None:
    far = []
    for key, *others in (("1 2 & 3", "1 & 2 3", "1 2 3 &"), ("1 2 3-4", "1 2 3", "1 2-3 4")):
        keys, two = [Answer("row", key)], tuple(map(wrong, others))
        seen = seen_item("counts-for-rhythm", keys, [c.answer for c in two])
        found = cheapest("counts-for-rhythm", keys, [two], ledger=Ledger(), moments=Moments())
        assert found is not None
        won = giveaway(Ledger().with_next(seen))
        far.append(standing_out(seen))
        assert found.cost == Moments().would_add(seen) + STANDS_OUT * far[-1] * far[-1] + 2 * NAMED * won
    assert max(map(abs, far)) > 1
    assert STANDS_OUT == 30


def test_of_sets_that_cost_the_same_the_first_is_taken() -> None:
    one, other = wrong("1 2-3"), wrong("1 2 3")
    found = cheapest("counts-for-rhythm", [KEY], [(one, other), (other, one)], ledger=Ledger(), moments=Moments())
    assert found is not None
    assert found.wrong == (one, other)


def test_wrong_answers_of_single_errors_are_candidates_by_themselves() -> None:
    assert candidates_from({KEY: ["a", "b"]}) == (Candidate(KEY, ("a", "b")),)
    assert TRIED < 35  # of the sets of three of seven not all are tried
