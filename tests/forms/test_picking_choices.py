"""What weighs for and against each wrong choice, and which sets may stand in an item; by hand. Common practice."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from random import Random

import pytest

from asks.spaces import excerpt
from barwright.asks.ask import Mix, Offers, Question, Sets, Space
from barwright.blueprint.blueprint import Plan
from barwright.forms import picked_items
from barwright.forms.choosing import NO_QUOTA, Candidate, Quota, Strictness
from barwright.forms.judging import Bounds, Tally
from barwright.forms.picked_items import (
    FOCUS,
    Picked,
    Pool,
    Want,
    drawn_pool,
    fewer_beside,
    judged_item,
    next_mix,
    picked_item,
    picked_question,
    pool_of,
)
from barwright.forms.watch import Guessers, Watch
from barwright.items.item import Answer, Item
from barwright.misreadings import EVEN_LOOKS, MISREADINGS, SELDOM
from forms.made_items import in_ask
from forms.made_parts import MANY, part, question

A, B, C, D = "dots-passed-over", "rests-take-no-time", "every-symbol-is-one-beat", "measure-taken-as-empty"
MORE = ("blank-taken-for-one-beat", "neighbor-copied", "dot-doubles")
RARE, EVEN = min(SELDOM), min(EVEN_LOOKS)
FINISH, SEVERAL = "finish-measure", "all-that-fit"
ASKED = question("4/4 h q _")
# Of quarters, halves, eighths, dotted quarters and rests each is right somewhere.
RIGHT = [question("4/4 q q _", key) for key in ("h", "q", "e", "q.", "rq", "rh")]


Fair = tuple[Answer, ...]


def symbols(text: str) -> Answer:
    return Answer("symbols", text)


def weighed(
    a_part: Plan, want: Want | None = None, *, offered: Mapping[str, int] | None = None,
    rhythms: Mapping[str, int] | None = None, asked: Question = ASKED,
) -> dict[str, tuple[int, bool]]:  # fmt: skip
    """The bias of each candidate, and whether it comes in only where there are few others."""
    return {c.answer.text: (c.bias, c.seldom) for c in found(a_part, want, offered, rhythms, asked)}


def found(
    a_part: Plan, want: Want | None = None, offered: Mapping[str, int] | None = None,
    rhythms: Mapping[str, int] | None = None, asked: Question = ASKED,
) -> Sequence[Candidate]:  # fmt: skip
    tally = Tally()
    tally.offered.update(offered or {})
    tally.rhythms.update({symbols(text): count for text, count in (rhythms or {}).items()})
    return picked_items._candidates(a_part, asked, tally, Random(1), want or Want())


def picking(offers: Mapping[str, str], *, focus: str = "", pairs: Mapping[str, str] | None = None) -> Plan:
    made = part((), drawn=RIGHT, offers=offers, focus=focus)
    two = {symbols(text): tuple(ways.split()) for text, ways in (pairs or {}).items()}
    return in_ask(made, pairs=lambda _question, _space: two)


def test_in_a_first_form_misreadings_that_are_new_or_had_their_chances_weigh_against_a_choice() -> None:
    """4,000 for one that is new, nothing for the second and third time, then 4,000 more each time."""
    each = {"h": "a", "e": "b", "q.": "c", "rq": "d", "rh": "e"}
    weights = weighed(picking(each), offered={"b": 1, "c": 2, "d": 3, "e": 4})
    costs = {"h": 4_000, "e": 0, "q.": 0, "rq": 4_000, "rh": 8_000}
    assert weights == {text: (cost, False) for text, cost in costs.items()}


def test_in_another_form_what_is_owed_weighs() -> None:
    weights = weighed(picking({"h": "a", "e": "b", "q.": "c"}), Want(owed={"a": 2, "b": -1}), offered={"a": 9})
    assert weights == {"h": (-32_000, False), "e": (16_000, False), "q.": (0, False)}


def test_a_choice_that_the_part_is_about_comes_before_all_and_one_of_the_last_form_after_others() -> None:
    weights = weighed(picking({"h": "a", "e": "b"}, focus="a"), Want(owed={}), rhythms={"e": 2})
    assert weights == {"h": (-FOCUS, False), "e": (80_000, False)}
    assert FOCUS == 10_000_000


def test_a_chance_that_is_lacking_weighs_60_000() -> None:
    """`a` by itself, and from `b`, but not where `b` leads to the answer, too."""
    each = picking({"h": "a", "e": "a b", "q.": "c"})
    lacking = (("a", "a"), ("a", "b"), ("d", "d"))
    assert weighed(each, Want(owed={}, lacking=lacking)) == {
        "h": (-120_000, False), "e": (-60_000, False), "q.": (0, False)
    }  # fmt: skip


def ways(a_part: Plan, want: Want | None = None) -> list[str]:
    return [" ".join(c.ways) for c in found(a_part, want or Want(owed={}))]


def test_a_choice_is_credited_to_what_the_part_is_about_then_to_what_weighs_most_for_it() -> None:
    assert ways(picking({"h": "a b c"}, focus="c")) == ["c a b"]
    assert ways(picking({"h": "a b c"}), Want(owed={"b": 1, "a": -1})) == ["b c a"]
    # What is offered seldom comes last, unless the part is about it.
    assert ways(picking({"h": f"{RARE} a"}), Want(owed={"a": -9})) == [f"a {RARE}"]
    assert ways(picking({"h": f"a {RARE} b"}, focus=f"{RARE} a"), Want(owed={RARE: 1})) == [f"{RARE} a b"]
    # Two that are held at once weigh both, and no more than four of them are named; of single ones all are.
    pairs = {"h": "a+b c+d a+c b+d a+d"}
    assert ways(picking({}, pairs=pairs), Want(owed={"a": 1, "c": 2, "d": -5})) == ["a+c a+b c+d a+d"]
    assert weighed(picking({}, pairs=pairs), Want(owed={"a": 1, "c": 2, "d": -5})) == {"h": (-48_000, False)}
    assert ways(picking({"h": "a b c d e"})) == ["a b c d e"]


def test_what_is_rare_or_no_usual_choice_comes_in_where_there_are_few_others() -> None:
    def seldom(offers: Mapping[str, str], focus: str = "") -> list[bool]:
        return [c.seldom for c in found(picking(offers, focus=focus))]

    assert seldom({"h": RARE, "e": "a", "w": "b", "h.": "c"}) == [True, False, True, True]
    assert seldom({"h": EVEN}) == [False]
    # In a part about something it is what looks even, too, and never what it is about.
    assert seldom({"h": EVEN, "e": "b"}, focus="a") == [True, False]
    assert seldom({"h": RARE, "w": "a"}, focus=f"a {RARE}") == [False, False]


def usual(text: str, *, ask: str = FINISH, asked: Question = ASKED) -> bool:
    return picked_items._is_usual(part((), ask=ask, drawn=RIGHT), asked, Answer("symbols", text))


def test_a_usual_filling_is_shorter_than_the_measure_and_right_somewhere() -> None:
    assert [usual(text) for text in ("h", "h q", "q. e", "w", "h h", "h.", "s")] == [
        True, True, True, False, False, False, False
    ]  # fmt: skip
    assert usual("h q", asked=question("2/4 q _")) is False
    assert picked_items._is_usual(part((), drawn=[ASKED]), ASKED, symbols("q"))
    # Where several are ticked, and of what fills no blank, all are.
    assert usual("w", ask=SEVERAL)
    assert picked_items._is_usual(part((), drawn=RIGHT), ASKED, Answer("measures", "w"))


def test_sixty_draws_tell_what_is_right() -> None:
    drawn = [*[question("4/4 h _", "q e e")] * 58, None, question("4/4 h q _", "rq"), question("4/4 h _", "h")]
    a_part = part((), drawn=drawn)
    assert picked_items._right_symbols(a_part.ask, a_part.space) == {"q", "e", "rq"}


@pytest.mark.parametrize(
    ("fewer", "choices", "bounds"),
    [(0, 0, (3, 3)), (1, 0, (2, 3)), (0, 3, (2, 2)), (1, 4, (2, 3)), (2, 6, (3, 5)), (0, 6, (5, 5))],
)
def test_bounds_go_by_what_is_planned_or_by_how_many_are_wanted(
    fewer: int, choices: int, bounds: tuple[int, int]
) -> None:
    """Never less than two wrong choices, nor fewer than planned less than another has."""
    wanted = Want(fewer, choices).bounds(part((), choices=4), ASKED)
    assert wanted == Bounds(*bounds)


def test_beside_another_an_item_may_have_one_choice_less_where_questions_are_few() -> None:
    assert fewer_beside(replace(part(MANY[:9]), fewer_choices=True)) == 1
    assert fewer_beside(part(MANY[:9])) == 0
    assert fewer_beside(replace(part(MANY), fewer_choices=True)) == 0


def candidates(text: str) -> tuple[Candidate, ...]:
    """Wrong choices with the ways to them: `h:a b, q q:c`; with `!` it comes in only where others are few."""
    every = [each.partition(":") for each in text.split(", ")]
    return tuple(
        Candidate(symbols(answer.rstrip("!")), tuple(led.split()), seldom=answer.endswith("!"))
        for answer, _, led in every
    )


def pool(
    text: str, *, a_part: Plan | None = None, asked: Question = ASKED, want: Want | None = None, seed: int = 1,
    guessers: Guessers | None = None,
) -> list[str]:  # fmt: skip
    made = pool_of(a_part or part(()), asked, candidates(text), want or Want(), guessers or Guessers(), Random(seed))
    return sorted(", ".join(sorted(c.answer.text for c in each)) for each in made.sets)


def test_sets_have_as_many_choices_as_planned_if_they_can_be_told_apart() -> None:
    assert pool("h:a, e:b, q.:c") == ["e, h, q."]
    assert pool("h:a, e:b, q.:c, h.:d") == ["e, h, h.", "e, h, q.", "e, h., q.", "h, h., q."]
    assert pool("h:a, e:b") == []
    assert pool("h:a, e:b", want=Want(fewer=1)) == ["e, h"]


def test_a_choice_less_is_better_than_two_of_one_length_and_these_better_than_none() -> None:
    """A dotted quarter is as long as a quarter with an eighth, a half as its rest; a quarter rest is right."""
    assert pool("h:a, q.:b, q e:c", want=Want(fewer=1)) == ["h, q e", "h, q."]
    assert pool("h:a, rh:b, e:c", want=Want(fewer=1)) == ["e, h", "e, rh"]
    assert pool("h:a, rh:b, e:c") == ["e, h, rh"]
    assert pool("h:a, e:b, rq:c") == []
    # What is offered seldom comes in where there would be none of as many; or one fewer.
    assert pool("h:a, e:b, q.!:c", want=Want(fewer=1)) == ["e, h"]
    assert pool("h:a, e:b, q.!:c") == ["e, h, q."]
    assert pool("h:a, e:b, q.:c, h.!:d") == ["e, h, q."]


def test_of_what_is_not_told_by_length_as_many_as_can_be_come_first() -> None:
    """Rows: one that is offered seldom is better than a choice less."""
    rows = in_ask(part((), ask="counts-for-rhythm", choices=4), right_somewhere=None)
    asked = Question(excerpt("4/4 q q h"), (Answer("row", "1 2 3-4"),))
    made = tuple(
        Candidate(Answer("row", text), (way,), seldom=way == "c")
        for text, way in (("1 2 3", "a"), ("1 1 2", "b"), ("1-2 3", "c"))
    )
    found_ = pool_of(rows, asked, made, Want(fewer=1), Guessers(), Random(1))
    assert [len(each) for each in found_.sets] == [3]
    # Where one is picked, and two would be right, no set will do.
    two = replace(asked, keys=(*asked.keys, Answer("row", "1 2 3")))
    assert pool_of(rows, two, made[1:], Want(fewer=1), Guessers(), Random(1)) == Pool()


def test_one_choice_is_of_the_right_sort_where_any_can_be() -> None:
    """A rest is missing: of four choices without a rest none would do as well as those with one.

    An eighth does not stand beside its rest, which is as long.
    """
    asked = question("4/4 h q _", "rq")
    assert pool("h:a, e:b, q.:c, re:d", asked=asked) == ["h, q., re"]
    assert pool("h:a, e:b, q.:c", asked=asked) == ["e, h, q."]
    # Not before a set that has a choice more.
    assert pool("h:a, e:b, q.:c, re:a", asked=asked, want=Want(fewer=1)) == ["e, h, q."]


def test_lengths_come_before_the_sort_and_before_what_is_offered_seldom() -> None:
    """Two choices of one length can both be struck out, for the right one has its own."""
    assert pool("h:a, rh:b, e:c, w!:d") == ["e, h, w", "e, rh, w"]
    asked = question("4/4 h q _", "rq")
    # A rest as long as the eighth would be of the right sort.
    assert pool("h:a, e:b, q.:c, re:a b c", asked=asked) == ["e, h, q."]
    # One of another length that is offered seldom is taken for the sort.
    seldom = ["e, h, rh.", "e, q., rh.", "h, q., rh."]
    assert pool("h:a, e:b, q.:c, rh.!:d", asked=asked) == seldom
    # So it is where a choice fewer would do.
    assert pool("h:a, e:b, q.:c, rh.!:d", asked=asked, want=Want(fewer=1)) == seldom


def the_sets(*sets: str) -> Sets:
    """An ask's fair sets: these, as far as they are on offer."""

    def able(_question: Question, offers: Offers, _space: Space, count: int, _rng: Random) -> Iterator[Fair]:
        for each in sets:
            answers = tuple(map(symbols, each.split(", ")))
            if len(answers) == count and set(answers) <= set(offers):
                yield answers

    return able


def fair(*sets: str, mixes: tuple[tuple[Mix, int], ...] = ()) -> Plan:
    """A part in which these sets are fair, and no others."""
    return in_ask(part((), ask=SEVERAL, choices=4), sets=the_sets(*sets), mixes=mixes)


def test_where_an_ask_says_which_sets_are_fair_the_largest_of_these_are_taken() -> None:
    all_four = "h:a, e:b, q.:c, h.:d"
    assert pool(all_four, a_part=fair("h, e, q.", "h, e", "e, q., h.")) == ["e, h, q.", "e, h., q."]
    assert pool(all_four, a_part=fair("h, e", "h, q."), want=Want(fewer=1)) == ["e, h", "h, q."]
    assert pool(all_four, a_part=fair("h, e")) == []
    # A right answer's length has the first of these, which the student would tick, too; the second is all rests.
    assert pool("h:a, rq:b, re:c, rh:d", a_part=fair("h, rq, re", "re, rh, h")) == ["h, re, rh"]
    assert pool("h:a, rq:b, re:c, rh:d", a_part=fair("rq, re, rh")) == []


# Two choices of one length and another; three of one length. Of four choices the first has 6 parts of 15, the other 2.
PAIR, TRIO = (1, 2, 1), (1, 3)
MIXES = ((PAIR, 6), (TRIO, 2))


def test_of_mixes_of_lengths_the_one_that_is_next_in_turn() -> None:
    text = "h:a, q.:b, q e:c, e q:d"
    a_part = fair("h, q., q e", "q., q e, e q", mixes=MIXES)
    watch = Watch()
    watch.mixes[SEVERAL, PAIR] = 3
    for seed in range(4):
        assert pool(text, a_part=a_part, want=Want(mix=PAIR), seed=seed) == ["h, q e, q."]
        assert pool(text, a_part=a_part, want=Want(mix=TRIO), seed=seed) == ["e q, q e, q."]
        # Where no set has it, one of those that some have.
        assert pool(text, a_part=a_part, want=Want(mix=(2, 2)), guessers=Guessers(watch), seed=seed) == ["e q, q e, q."]


def judged(text: str, want: Want | None = None, tally: Tally | None = None) -> tuple[list[str] | None, Tally]:
    """The wrong choices of what the judge accepts, where at first the first three are picked."""
    each, tally = candidates(text), tally or Tally()
    picked = Picked(ASKED, each, each[:3], 0)
    made = judged_item(part((), choices=4), picked, want or Want(), tally=tally, rng=Random(1), guessers=Guessers())
    return (None if made is None else [c.answer.text for c in made.wrong]), tally


def test_a_choice_that_is_refused_is_left_out() -> None:
    """Dotted eighths and sixteenths were never taught."""
    assert judged(f"h:{A}, e:{B}, q.:{C}") == (["e", "h", "q."], Tally(judged=1))
    made, tally = judged(f"h:{A}, s:{B}, e:{C}, q.:{D}")
    assert (made, tally.judged, tally.short) == (["e", "h", "q."], 2, 0)
    made, tally = judged(f"h:{A}, s:{B}, e:{C}")
    assert (made, tally.judged, tally.short) == (None, 1, 1)


def test_where_no_choice_is_at_fault_none_is_exchanged() -> None:
    each = candidates(f"h:{A}, e:{B}, q.:{C}, h.:{D}")
    full = Picked(question("4/4 h h _"), each, each[:3], 0)
    tally = Tally()
    assert judged_item(part(()), full, Want(), tally=tally, rng=Random(1), guessers=Guessers()) is None
    assert (tally.judged, tally.short) == (1, 0)


@pytest.mark.parametrize(("refused", "accepted"), [(7, ["e", "h", "q."]), (8, None)])
def test_an_item_is_judged_eight_times(refused: int, accepted: list[str] | None) -> None:
    """One that was never taught is refused after the other; the dearer comes later, and the right one last."""
    untaught = ("s", "rs", "e.", "re.", "s e", "rs e", "e. e", "re. e")[:refused]
    dear = [Candidate(symbols(text), (f"way-{n}",), n * 10_000_000) for n, text in enumerate((*untaught, "q."))]
    ways = sorted(MISREADINGS.keys() - SELDOM - EVEN_LOOKS - {A, B})
    dear = [replace(each, ways=(way,)) for each, way in zip(dear, ways, strict=False)]
    each = (*candidates(f"h:{A}, e:{B}"), *dear)
    tally = Tally()
    made = judged_item(
        part(()), Picked(ASKED, each, each[:3], 0), Want(), tally=tally, rng=Random(1), guessers=Guessers()
    )
    assert (None if made is None else [c.answer.text for c in made.wrong]) == accepted
    assert tally.judged == 8


def item_of(a_part: Plan, *, fewer: int = 0, wrong: int = 0, tally: Tally | None = None) -> Item | None:
    return picked_item(a_part, ASKED, fewer=fewer, wrong=wrong, tally=tally or Tally(), rng=Random(1))


def test_an_item_has_as_many_choices_as_planned_or_exactly_so_many_wrong_ones() -> None:
    four = part((), offers={"h": A, "e": B, "q.": C, "h.": D}, drawn=RIGHT, choices=4)

    def count(a_part: Plan, **more: int) -> int:
        made = item_of(a_part, **more)
        return 0 if made is None else len(made.wrong)

    assert (count(four), count(four, wrong=2), count(four, wrong=4)) == (3, 2, 4)
    plain = picked_item(four, ASKED, fewer=0, tally=Tally(), rng=Random(1))
    assert plain is not None
    assert len(plain.wrong) == 3
    two = part((), offers={"h": A, "e": B}, choices=4)
    assert (count(two), count(two, fewer=1), count(two, wrong=2), count(two, wrong=3)) == (0, 2, 2, 0)
    tally = Tally()
    assert item_of(two, tally=tally) is None
    assert tally.short == 1


def test_sets_of_which_one_is_taken_later_show_what_the_part_is_about_where_any_does() -> None:
    a_part = part((), offers={"h": A, "e": B, "q.": C}, drawn=RIGHT, choices=3, focus=A)
    made = drawn_pool(a_part, ASKED, Want(), tally=Tally(), rng=Random(1), guessers=Guessers())
    assert sorted(sorted(c.answer.text for c in each) for each in made.sets) == [["e", "h"], ["h", "q."]]
    none = part((), offers={"h": B, "e": D}, drawn=RIGHT, choices=3, focus=A)
    made = drawn_pool(none, ASKED, Want(), tally=Tally(), rng=Random(1), guessers=Guessers())
    assert len(made.sets) == 1


def test_what_a_pool_can_show_is_what_any_way_of_any_set_leads_to() -> None:
    made = Pool((candidates("h:a b, e:c"), candidates("h:a b, e:d")))
    assert made.can_show(["b", "d", "x"]) == {"b", "d"}
    assert Picked(ASKED, (), candidates("h:a b, e:c"), 0).about == {"a", "c"}


def wanting(mixes: Sequence[Mix], had: Mapping[Mix, int]) -> set[Mix]:
    a_part, watch = fair(mixes=MIXES), Watch()
    watch.mixes.update({(SEVERAL, mix): count for mix, count in had.items()})
    return {next_mix(a_part.ask, watch, mixes, Random(seed)) for seed in range(20)}


def test_the_next_mix_is_one_that_was_not_overdone_and_is_wanting() -> None:
    assert wanting([], {}) == {()}
    assert wanting([PAIR, TRIO], {}) == {PAIR, TRIO}
    # Three times of three it is overdone; of five, with the next, two are its share, and nothing is wanting to it.
    assert wanting([PAIR, TRIO], {PAIR: 3}) == wanting([PAIR, TRIO], {PAIR: 2, (2, 2): 2}) == {TRIO}
    assert wanting([PAIR], {PAIR: 2, (2, 2): 2}) == wanting([PAIR], {PAIR: 3}) == {PAIR}


def test_the_best_set_costs_a_million_for_each_time_that_its_mix_is_overdone() -> None:
    """Three times of three, where of the next four one is its share."""
    offers = {"h": A, "q.": B, "q e": C}
    a_part = in_ask(part((), ask=SEVERAL, offers=offers, drawn=RIGHT), sets=the_sets("h, q., q e"), mixes=MIXES)
    costs = []
    for had in (0, 3):
        watch = Watch()
        watch.mixes[SEVERAL, PAIR] = had
        picked = picked_question(a_part, ASKED, Want(owed={}), tally=Tally(), rng=Random(1), guessers=Guessers(watch))
        assert picked is not None
        costs.append(picked.cost)
    assert costs[1] == costs[0] + 2_000_000


def quota(a_part: Plan, asked: Question, answers: Sequence[Answer], want: Want | None = None) -> Quota:
    made = tuple(Candidate(each, (way,)) for each, way in zip(answers, "abcd", strict=False))
    return picked_items._quota(a_part, asked, made, want or Want(), Guessers())


def test_a_choice_must_be_of_another_sort_or_of_the_right_one() -> None:
    """Beside Yes there must be a No; of symbols one must be of notes, of rests or of both, as the right one is."""
    yes, no = Answer("claim", "fits 1 2"), Answer("claim", "fits-not 3 2")
    stated = Question(excerpt("4/4 q q h"), (Answer("claim", "fits 2 3"),))
    assert quota(part((), ask="does-it-fit"), stated, [yes, no]) == Quota(frozenset({no}), 1)
    answers = [symbols("h"), symbols("rh"), symbols("e re")]
    assert quota(part(()), question("4/4 h _", "q q"), answers) == Quota(frozenset(answers[:1]), 1)
    assert quota(part(()), question("4/4 h _", "q rq"), answers) == Quota(frozenset(answers[2:]), 1)
    meters = in_ask(part((), ask="time-signature-for-rhythm"), sort=None)
    assert quota(meters, ASKED, [Answer("meter", "3/4")]) == NO_QUOTA


def test_rows_must_be_right_somewhere_unless_a_named_misreading_leads_to_them() -> None:
    """Without parentheses for rests all rows look alike."""
    rows = [Answer("row", text) for text in ("1 2 3", "1 2 4", "1 1")]
    asked = Question(excerpt("4/4 q q h"), (Answer("row", "1 2 3-4"),))

    def counting(focus: str = "", rests: str = "strike") -> Plan:
        made = part((), ask="counts-for-rhythm", focus=focus)
        conventions = replace(made.space.conventions, rest_counts=rests)
        made = replace(made, space=replace(made.space, conventions=conventions))
        return in_ask(made, right_somewhere=lambda _question, answer, _space: answer == rows[0])

    right = frozenset(rows[:1])
    assert quota(counting(), asked, rows) == Quota(right_somewhere=right, evenly=True)
    assert quota(counting("b"), asked, rows) == Quota(right_somewhere=frozenset(rows[:2]), evenly=False)
    lacking = Want(lacking=(("c", "x"),))
    assert quota(counting(), asked, rows, lacking) == Quota(right_somewhere=frozenset((rows[0], rows[2])), evenly=False)
    # With parentheses some must look like the right one, which those do that go on counting.
    shown = quota(counting(rests="parentheses"), asked, rows)
    assert (shown.right_somewhere, shown.evenly, shown.answers) == (right, True, frozenset(rows[:2]))
    assert not quota(counting("b", "parentheses"), asked, rows).evenly


def test_sets_are_looked_for_strictly_first_and_of_lengths_for_fewer_before_loosely() -> None:
    finish, usual, lengths, any_ = part(()).ask, *Strictness
    assert list(picked_items._ways_to_choose(finish, 1, [3, 2])) == [
        (usual, 3), (usual, 2), (lengths, 3), (lengths, 2), (any_, 3), (any_, 2),
    ]  # fmt: skip
    by_count = [(usual, 3), (any_, 3), (usual, 2), (any_, 2)]
    assert list(picked_items._ways_to_choose(finish, 2, [3, 2])) == by_count
    rows = part((), ask="counts-for-rhythm").ask
    assert list(picked_items._ways_to_choose(rows, 1, [3, 2])) == by_count


def test_what_lacks_something_is_taken_only_where_nothing_as_large_lacks_less() -> None:
    """A rest is right, and one of its sort comes in though it is offered seldom, instead of the note of its length."""
    assert pool("h:a, e:b, re!:c", asked=question("4/4 h q _", "rq"), want=Want(fewer=1)) == ["h, re"]
    # Beside Yes no other Yes will do while there is a No, though that is offered seldom.
    claims = in_ask(part((), ask="does-it-fit"), sets=None, clash=lambda _question, _one, _other: False)
    stated = Question(excerpt("4/4 q q h"), (Answer("claim", "fits 2 3"),))
    texts = ("fits 1 2", "fits 1 4", "fits 3 4", "fits-not 1 2")
    made = [Candidate(Answer("claim", text), (text,), seldom=text.startswith("fits-not")) for text in texts]
    found_ = pool_of(claims, stated, tuple(made), Want(), Guessers(), Random(1))
    assert len(found_.sets) == 3
    assert all(made[3] in each for each in found_.sets)


def test_rows_that_are_right_nowhere_come_in_as_seldom_as_can_be() -> None:
    """One of four is right somewhere, and in each set; one that is offered seldom is no better than others."""
    asked = Question(excerpt("4/4 q q h"), (Answer("row", "1 2 3-4"),))
    made = part((), ask="counts-for-rhythm", choices=4)
    plain = replace(made.space, conventions=replace(made.space.conventions, rest_counts="strike"))
    rows = in_ask(replace(made, space=plain), right_somewhere=lambda _q, answer, _s: answer.text == "1 2 3")

    def sets(*texts: str) -> list[list[str]]:
        each = tuple(Candidate(Answer("row", text.rstrip("!")), (text,), seldom="!" in text) for text in texts)
        found_ = pool_of(rows, asked, each, Want(), Guessers(), Random(1))
        return sorted(sorted(c.answer.text for c in one) for one in found_.sets)

    assert sets("1 2 3", "1 1 2", "1-2 3", "1 3 4") == [
        ["1 1 2", "1 2 3", "1 3 4"], ["1 1 2", "1 2 3", "1-2 3"], ["1 2 3", "1 3 4", "1-2 3"]
    ]  # fmt: skip
    assert sets("1 2 3", "1 1 2", "1-2 3", "1 3 4!") == [["1 1 2", "1 2 3", "1-2 3"]]


def test_fair_sets_of_symbols_need_one_of_the_right_sort_and_those_of_statements_none() -> None:
    rests = "h:a, re:b, rh:c, rh.:d"
    assert pool(rests, a_part=fair("re, rh, rh.")) == []
    assert pool(rests, a_part=fair("re, rh., h")) == ["h, re, rh."]
    answers = [Answer("claim", text) for text in ("fits 1 2", "fits 1 4", "fits 3 4")]
    claims = in_ask(part((), ask="does-it-fit"), sets=lambda _q, _o, _s, _count, _r: iter([tuple(answers)]))
    stated = Question(excerpt("4/4 q q h"), (Answer("claim", "fits-not 2 3"),))
    made = tuple(Candidate(each, (way,)) for each, way in zip(answers, "abc", strict=True))
    found_ = pool_of(claims, stated, made, Want(), Guessers(), Random(1))
    assert (len(found_.sets), found_.cost) == (1, 0)
    assert Pool() == Pool((), NO_QUOTA, 0)
    # Without mixes all sets will do, however they share lengths.
    text = "h:a, q.:b, q e:c, e q:d"
    assert pool(text, a_part=fair("h, q., q e", "q., q e, e q")) == ["e q, q e, q.", "h, q e, q."]


def test_guessers_decide_which_item_it_is() -> None:
    """The mix of one length alone was had too often, or that of two and one: the other comes."""
    offers = {"h": A, "q.": B, "q e": C, "q re": D}
    a_part = part((), ask=SEVERAL, offers=offers, drawn=RIGHT)
    a_part = in_ask(a_part, sets=the_sets("h, q., q e", "q., q e, q re"), mixes=MIXES)
    for had, wrong in ((PAIR, ["q e", "q re", "q."]), (TRIO, ["h", "q e", "q."])):
        watch = Watch()
        watch.mixes[SEVERAL, had] = 3
        made = picked_item(a_part, ASKED, fewer=0, tally=Tally(), rng=Random(1), guessers=Guessers(watch))
        assert made is not None
        assert [c.answer.text for c in made.wrong] == wrong
    assert wanting([PAIR, (1, 1, 1, 1)], {PAIR: 3}) == {PAIR}
