"""Which set of wrong choices each place of a tiny form takes; what each costs is worked by hand. Common practice.

A set costs by how much it makes the squares of the sums greater, its own bias, and how much less it makes the form like
the others: so many times as the round says.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from random import Random

import pytest

from barwright.forms.choosing import STANDS_OUT, Candidate
from barwright.forms.draft import Draft
from barwright.forms.parallel import WHOLE, Trait
from barwright.forms.picked_items import FOCUS, Pool
from barwright.forms.ready_items import question_of
from barwright.forms.scales import Aim
from barwright.forms.seeing import seen_item
from barwright.forms.settling import Option, _accepted, _options, _Place, _settle, _Sums, settled, ways_to_credit
from barwright.guesser import Moments, Winnings
from barwright.guesser.practised import KNOWN, Tree, standing_out_to
from barwright.guesser.shares import NAMED, shares_of
from barwright.guesser.strategies import STRATEGIES
from barwright.items.item import Answer, Item
from barwright.misreadings import SELDOM
from forms.made_items import item
from forms.made_parts import part, question

A, B, C, D = "dots-passed-over", "rests-take-no-time", "every-symbol-is-one-beat", "measure-taken-as-empty"
FINISH = "finish-measure"
PART = part((), choices=4, even=True)
ASKED = question("4/4 q h _")
OFTEN, RARE = Trait(FINISH, "misreadings", "a"), Trait(FINISH, "misreadings", "b")


def aim(most: Mapping[Trait, int] | None = None) -> Aim:
    return Aim({}, most or {}, {}, 1, {FINISH: 4, WHOLE: 4}, {})


def choices(text: str) -> tuple[Candidate, ...]:
    """Wrong choices with the ways to them: `h a b, w c`."""
    every = [each.split() for each in text.split(", ")]
    return tuple(Candidate(Answer("symbols", answer), tuple(ways)) for answer, *ways in every)


def option(*adds: int, bias: int = 0, marks: tuple[Trait, ...] = (), wrong: str = "h a") -> Option:
    return Option(choices(wrong), tuple(enumerate(adds)), frozenset(marks), bias)


def sums(*now: int, often: int = 0) -> _Sums:
    """The sums are these, and one trait stands so often where it may stand once."""
    return _Sums(aim({OFTEN: 1, RARE: 9}), Counter({OFTEN: often}), list(now))


def test_each_sum_has_a_number_and_begins_where_it_is_first_asked_for() -> None:
    found = sums()
    assert [found.number("x", ("wins", "a"), 5), found.number("x", ("wins", "b"), 7)] == [0, 1]
    assert [found.number("x", ("wins", "a"), 9), found.number("y", ("wins", "a"), 1)] == [0, 2]
    assert found.sums == [5, 7, 1]


def test_the_set_that_makes_the_squares_of_the_sums_least_is_best() -> None:
    """From 10 to -3, -1 or 2: the square is 91, 99 or 96 less."""
    less = [option(-13), option(-11), option(-8)]
    assert sums(10).best(less, 1) is less[1]
    # Two sums: from 1 and 4, where the square is 7 less, to 3 and 2, where it is 4 less.
    two = [option(-1, -3), option(2, -2)]
    assert sums(1, 4).best(two, 1) is two[0]
    assert sums(-2, 4).best(two, 1) is two[1]
    # A bias of 10 outweighs it.
    biased = [option(-13), option(-11, bias=10)]
    assert sums(10).best(biased, 1) is biased[0]


def test_a_trait_once_more_where_it_stands_too_often_is_20_to_the_bad_times_the_weight() -> None:
    for bias, better in ((19, 0), (21, 1)):
        each = [option(bias=bias), option(marks=(OFTEN, RARE))]
        assert sums(often=2).best(each, 1) is each[better]
        tenfold = [option(bias=10 * bias), option(marks=(RARE, OFTEN))]
        assert sums(often=2).best(tenfold, 10) is tenfold[better]
    # Where it does not stand too often it costs nothing.
    each = [option(bias=1), option(marks=(OFTEN,))]
    assert sums().best(each, 1) is each[1]


def test_a_set_that_is_taken_adds_to_the_sums_and_goes_out_again() -> None:
    now, one = sums(1, 2), option(3, -5, marks=(OFTEN, RARE))
    now.add(one)
    assert (now.sums, now.marks) == ([4, -3], Counter({OFTEN: 1, RARE: 1}))
    now.add(one, -1)
    assert (now.sums, now.marks) == ([1, 2], Counter({OFTEN: 0, RARE: 0}))


def options(draft: Draft, now: _Sums, *sets: str, focus: str = "", trees: Sequence[Tree] = ()) -> list[Option]:
    """What a part has to choose from; the one practised guesser of its ask goes by these trees."""
    a_part = part((), choices=4, focus=focus, even=True)
    with pytest.MonkeyPatch.context() as changed:
        changed.setattr("barwright.forms.settling.standing_out", lambda seen: standing_out_to([trees], seen))
        return _options(draft, a_part, ASKED, [choices(each) for each in sets], now)


def test_sums_begin_with_what_was_won_and_learnt_of_all_forms() -> None:
    """`longest` won 100 parts of 40 by chance in forms before, and 30 of 20 in this one: three times 70."""
    draft = Draft("A", {})

    def winnings(longest: int, chance: int) -> Winnings:
        return Winnings(1, chance, tuple(longest if name == "longest" else chance for name in STRATEGIES))

    draft.guessers.watch.won[FINISH] = winnings(100, 40)
    draft.guessers.ledger.asks[FINISH] = winnings(30, 20)
    draft.guessers.watch.moments[FINISH] = Moments()
    names = shares_of(seen_item(FINISH, ASKED.keys, [c.answer for c in choices("h a, w b, e c")]))
    learnt = next(name for name in names if name[0] not in ("wins", "at the end"))
    draft.guessers.watch.moments[FINISH].sums[learnt] = 11
    now = sums()
    (found,) = options(draft, now, "h a, w b, e c")
    assert now.sums[now.numbers[FINISH, ("wins", "longest")]] == NAMED * 70
    assert now.sums[now.numbers[FINISH, ("wins", "shortest")]] == 0
    assert now.sums[now.numbers[FINISH, learnt]] == 11
    others = [now.sums[n] for (_, name), n in now.numbers.items() if name not in (learnt, ("wins", "longest"))]
    assert not any(others)
    # What the set adds stands beside the number of its sum.
    assert dict(found.shares) == {now.numbers[FINISH, name]: parts for name, parts in names.items()}
    # Later questions of the ask find the sums as they are.
    now.sums[now.numbers[FINISH, ("wins", "longest")]] = 1
    options(draft, now, "h a, w b, e c")
    assert now.sums[now.numbers[FINISH, ("wins", "longest")]] == 1


def test_a_set_weighs_what_its_choices_do_and_more_for_each_that_the_part_could_be_about() -> None:
    draft = Draft("A", {})
    assert [each.bias for each in options(draft, sums(), "h a, w b, e c")] == [0]
    found = options(draft, sums(), "h a c, w b, e d", focus="b c")
    assert {each.bias for each in found} == {2 * FOCUS}
    assert [each.wrong[0].ways[0] for each in found] == ["a", "c"]
    assert found[0].marks >= {Trait(FINISH, "misreadings", name) for name in "abd"}
    assert found[1].marks >= {Trait(FINISH, "misreadings", name) for name in "cbd"}


def test_a_set_weighs_by_the_square_of_how_far_the_right_one_stands_out_to_a_practised_guesser() -> None:
    """Where no rest stands the tree adds 400 or takes 400: the only note of four is 30 hundredths from the mean.

    One of two notes is 20 hundredths from it.
    """
    alone, beside_another = "rh a, rq. b, re c", "h a, rq. b, re c"
    for thousandths in (400, -400):
        trees: list[Tree] = [(KNOWN.index("rests"), 0, thousandths, 0)]
        found = options(Draft("A", {}), sums(), alone, beside_another, trees=trees)
        assert [each.bias for each in found] == [STANDS_OUT * 900, STANDS_OUT * 400]
        # In a part about an error it counts for nothing, with that error or without.
        found = options(Draft("A", {}), sums(), alone, beside_another, focus="c", trees=trees)
        assert [each.bias for each in found] == [FOCUS, FOCUS]
        assert [each.bias for each in options(Draft("A", {}), sums(), alone, focus="d", trees=trees)] == [0]


def credited(text: str, focus: str = "") -> list[str]:
    """Whom the choices of a set are credited to, `a c`, and in other ways."""
    return [" ".join(c.ways[0] for c in each) for each in ways_to_credit(part((), focus=focus), choices(text))]


def test_a_choice_may_be_credited_to_another_misreading_that_leads_there_too() -> None:
    assert credited("h a b, e c") == ["a c", "b c"]
    assert credited("h a b, e b d") == ["a b", "a d"], "not both to one"
    assert credited("h a b+c, e d") == ["a d"], "nothing that one alone leads to is credited to two"
    assert credited("h a+b c, e d") == ["a+b d"], "nor the other way round"
    assert credited("h a+b a+c, e d") == ["a+b d", "a+c d"]
    assert credited("h a b, e b, w c") == ["a b c"], "nor is it where one of two others has it"
    assert credited(f"h a {min(SELDOM)} b") == ["a", "b"], "nothing seldom"
    (_, other) = ways_to_credit(PART, choices("h a b"))
    assert other[0].ways == ("b", "a")


def test_no_more_than_four_other_ways_are_looked_at() -> None:
    assert credited("h a b c d, w e f g") == ["a e", "b e", "c e", "d e", "a f"]
    assert credited("h a b c d e f") == ["a", "b", "c", "d", "e"]


def test_what_the_part_is_about_is_given_up_for_something_else_it_is_about_only() -> None:
    assert credited("h a b c", focus="a c") == ["a", "c"]
    assert credited("h a b c", focus="c") == ["a", "b", "c"]


def place(*able: Option) -> _Place:
    return _Place(PART, ASKED, list(able))


def settle(now: _Sums, *places: _Place, seed: int = 1) -> list[int]:
    """The number of the option that each place has in the end; the sums are those of these options."""
    before, marks = list(now.sums), Counter(now.marks)
    _settle(dict(enumerate(places)), now, Random(seed))
    taken = [each.now for each in places if each.now is not None]
    assert now.sums == [b + sum(dict(each.shares)[n] for each in taken) for n, b in enumerate(before)]
    assert now.marks == marks + Counter(mark for each in taken for mark in each.marks)
    return [each.options.index(one) for each, one in zip(places, taken, strict=True)]


def test_places_take_what_is_best_beside_the_others() -> None:
    for seed in range(4):
        assert sorted(settle(sums(0), place(option(5), option(-5)), place(option(5), option(-5)), seed=seed)) == [0, 1]


def test_in_the_end_likeness_decides() -> None:
    """Too often is 20: times 50,000 it is less than a bias of 1,500,000, times 100,000 more."""
    assert settle(sums(often=2), place(option(bias=1_500_000), option(marks=(OFTEN,)))) == [0]
    assert settle(sums(often=2), place(option(bias=2_500_000), option(marks=(OFTEN,)))) == [1]


def test_where_something_changed_in_the_last_round_but_one_all_are_looked_at_again() -> None:
    """The first place changes when likeness weighs most, and adds 100; the other makes up for it, at 5,000."""
    for seed in range(6):
        first = place(option(100, bias=1_500_000), option(0, marks=(OFTEN,)))
        other = place(option(0), option(-100, bias=5_000))
        assert settle(sums(0, often=2), first, other, seed=seed) == [0, 1]


def accepted(now: _Sums, *able: Option) -> list[str] | None:
    """The wrong choices of the item that the judge accepts; the first option is taken before."""
    one = place(*able)
    one.now = able[0]
    now.add(able[0])
    found = _accepted(Draft("A", {}), one, now)
    return None if found is None else [c.answer.text for c in found.wrong]


# Sixteenths were never taught, nor are dotted eighths and rests: they are refused.
GOOD, REFUSED, MORE = f"h {A}, w {B}, e {C}", f"h {A}, w {B}, s {D}", f"e {A}, w {B}, s {D}"


def test_what_the_judge_refuses_is_left_out_and_the_best_of_the_rest_is_taken() -> None:
    now = sums(0)
    assert accepted(now, option(3, wrong=GOOD)) == ["e", "h", "w"]
    assert now.sums == [3]
    now = sums(0)
    assert accepted(now, option(3, wrong=REFUSED), option(0, wrong=MORE), option(5, wrong=GOOD)) == ["e", "h", "w"]
    assert now.sums == [5]
    # Likeness weighs as in the end.
    now = sums(0, often=2)
    like = option(0, bias=1_500_000, wrong=GOOD)
    unlike = option(0, marks=(OFTEN,), wrong=f"h {A}, w {B}, h. {C}")
    assert accepted(now, option(0, wrong=REFUSED), unlike, like) == ["e", "h", "w"]
    assert now.marks[OFTEN] == 2


def test_where_nothing_is_accepted_the_sums_are_as_without_the_place() -> None:
    now = sums(0)
    assert accepted(now, option(3, wrong=REFUSED)) is None
    assert now.sums == [0]
    # Each is refused for something else, and after four none is looked at.
    texts = [f"h {A}, w {B}, {each} {D}" for each in ("s", "rs", "e.", "re.")]
    four = [option(3 + n, wrong=text) for n, text in enumerate(texts)]
    now = sums(0)
    assert accepted(now, *four, option(9, wrong=GOOD)) is None
    assert now.sums == [0]
    now = sums(0)
    assert accepted(now, *four[:3], option(9, wrong=GOOD)) == ["e", "h", "w"]


def test_what_is_refused_whatever_its_choices_has_none_that_would_do() -> None:
    """The excerpt leaves no gap, which is no fault of a choice."""
    now, one = sums(0), _Place(PART, question("4/4 h h _"), [option(3, wrong=GOOD), option(4, wrong=f"h {A}, w {B}")])
    one.now = one.options[0]
    now.add(one.now)
    draft = Draft("A", {})
    assert _accepted(draft, one, now) is None
    assert (now.sums, draft.tally.judged) == ([0], 1)


OPEN, DONE, BAD = (
    item(FINISH, text, "q", f"h <{A}>, w <{B}>, e <{C}>") for text in ("4/4 q h _", "4/4 h q _", "4/4 q q q _")
)


def open_form(*pools: tuple[Item, str]) -> tuple[Draft, dict[int, Item]]:
    draft = Draft("A", {}, settling=True)
    for one, wrong in pools:
        if wrong:
            draft.pools[one.id] = Pool((choices(wrong),))
        draft.keep(PART, question_of(one), one)
    return draft, {number: one for number, (one, _) in enumerate(pools)}


def test_all_open_choices_are_taken_and_who_has_none_is_named() -> None:
    draft, placed = open_form((OPEN, f"h {A}, w {B}, h. {C}"), (DONE, ""), (BAD, REFUSED))
    found, without = settled(draft, [PART] * 3, placed, aim(), Random(1))
    assert without == [2]
    assert list(found) == [0, 1]
    assert found[1] == DONE
    assert {c.answer.text for c in found[0].wrong} == {"h", "w", "h."}
    assert draft.items == [DONE, found[0]]
    assert not draft.settling
    assert draft.marks_of(found[0]) >= {Trait(FINISH, "misreadings", A)}
