"""How likely each answer is under each set of misreadings that a student may hold.

A small model in the line of Brown & Burton 1978 (Cognitive Science 2:155-192: students follow faulty procedures),
Burton 1982 (one hides another), Lee & Corter 2011 (Applied Psychological Measurement 35: bugs as hidden causes, slips,
and wrong answers that tell more than right or wrong), de la Torre 2009 (MC-DINA: choices that stand for states of
knowledge) and Bradshaw & Templin 2014 (Psychometrika 79: misconceptions as the hidden classes). A held misreading leads
to its answer except for slips; where two show, each is acted on half of the time; all else is right, but for what the
student does not know and guesses. Sets of misreadings and levels of weakness are enumerated, nothing is sampled.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np
from numpy.typing import NDArray

from barwright.results.acting import Answered
from barwright.results.answers import Held
from barwright.results.chances import ItemActs
from barwright.results.rates import Rates
from barwright.results.together import compatible

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]
"""Numbers in single precision, where there are many."""
Numbers = NDArray[np.intp]
LIKELIEST = 11
SEVERAL = 0.1


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """Sets of misreadings that are weighed: none, each one, each two, and some of three.

    `names` are the misreadings, `member` has a row a set and a column a misreading (1 where it is in the set), `size`
    how many are in each.
    """

    names: tuple[str, ...]
    member: Floats
    size: NDArray[np.intp]

    def any_of(self, groups: Sequence[Sequence[str]]) -> Floats:
        """A row a set, a column a group: 1 where the set has one of the group."""
        columns = [[self.names.index(name) for name in group] for group in groups]
        masks = [self.member[:, each].max(axis=1) for each in columns]
        return np.array(masks).reshape(len(groups), len(self.member)).T


def hypotheses_of(names: Sequence[str]) -> Hypotheses:
    """The sets of none, one and two of these misreadings that a student may hold.

    >>> hypotheses_of(["dots-passed-over", "dot-doubles", "rests-take-no-time"]).size.tolist()
    [0, 1, 1, 1, 2, 2]
    """
    every = [held for size in range(3) for held in combinations(range(len(names)), size)]
    return _sets(names, [held for held in every if _can_be(held, names)])


def _can_be(held: Sequence[int], names: Sequence[str]) -> bool:
    return all(compatible(names[one], names[other]) for one, other in combinations(held, 2))


def _sets(names: Sequence[str], sets: Sequence[tuple[int, ...]]) -> Hypotheses:
    member = np.zeros((len(sets), len(names)))
    for row, held in enumerate(sets):
        member[row, list(held)] = 1
    return Hypotheses(tuple(names), member, np.array([len(held) for held in sets], dtype=np.intp))


def triples(sets: Hypotheses, each: Floats, several: Floats) -> tuple[Hypotheses, Numbers, Numbers]:
    """Sets of three of the LIKELIEST misreadings of each student, for those who may well hold two at least.

    `each` has a row a student and a column a misreading: how likely it is at first sight; `several`: how likely it is
    that two are held. Comes back: the sets, then the student and the place of the set of each pair that is to be
    weighed. Any other set of three is so unlikely that it is left out.
    """
    who = np.flatnonzero(several > SEVERAL)
    likeliest = np.sort(np.argsort(-each[who], axis=1, kind="stable")[:, :LIKELIEST], axis=1)
    pairs = [
        (n, three)
        for n, row in zip(who.tolist(), likeliest.tolist(), strict=True)
        for three in combinations(row, 3)
        if _can_be(three, sets.names)
    ]
    places = {three: place for place, three in enumerate(sorted({three for _, three in pairs}))}
    students = np.array([n for n, _ in pairs], dtype=np.intp)
    return _sets(sets.names, list(places)), students, np.array([places[three] for _, three in pairs], dtype=np.intp)


def joined(sets: Hypotheses, more: Hypotheses) -> Hypotheses:
    """The sets of both, one after the other."""
    return Hypotheses(sets.names, np.concatenate([sets.member, more.member]), np.concatenate([sets.size, more.size]))


def _spread(item: ItemActs, answer: Answered, rates: Rates) -> Floats:
    """What is answered by who means this answer: that, but for stray ticks where several are to be ticked."""
    chances = np.zeros(item.outcomes.size)
    if len(item.right[0]) == 1:
        chances[item.outcomes.place(answer)] = 1
        return chances
    for ticked, place in item.outcomes.places.items():
        apart = len(set(ticked) ^ set(answer))
        chances[place] = rates.stray**apart * (1 - rates.stray) ** (len(item.asked.offered) - apart)
    return np.asarray(chances / chances.sum())


def guesses(item: ItemActs, rates: Rates) -> Floats:
    """What is answered by who does not know: any choice, or by the test-wise the one that is most like the others.

    Where one types it is mostly what no misreading leads to.
    """
    outcomes = item.outcomes
    if not outcomes.other:
        chances = np.full(outcomes.size, 1 / outcomes.size)
        if item.likeness:
            best = np.array(item.likeness) == max(item.likeness)
            chances = (1 - rates.testwise) * chances + rates.testwise * best / best.sum()
        return chances
    right = [outcomes.place(answer) for answer in item.right]
    chances = np.full(outcomes.size, rates.typed_foreseen / max(outcomes.alone - len(right), 1))
    chances[right] = rates.typed_right / len(right)
    chances[outcomes.alone :] = rates.typed_joint / max(outcomes.size - 1 - outcomes.alone, 1)
    chances[-1] = 0
    chances[-1] = 1 - chances.sum()
    return chances


def knowing(item: ItemActs, rates: Rates) -> Floats:
    """What is answered by who knows: one of the right answers."""
    right = item.right
    return np.asarray(np.mean([_spread(item, answer, rates) for answer in right], axis=0))


def leading(item: ItemActs, misreading: str, rates: Rates) -> Floats:
    """What is answered by who acts on a misreading that shows; where no answer of it is on offer, a guess or a look."""
    answers = item.acts[misreading].answers
    if answers:
        return np.asarray(np.mean([_spread(item, answer, rates) for answer in answers], axis=0))
    return rates.thwarted * guesses(item, rates) + (1 - rates.thwarted) * knowing(item, rates)


def levels(rates: Rates) -> list[tuple[float, float]]:
    """(weakness, slip rate) of every kind of student."""
    return list(product(rates.weaknesses, rates.slips))


def level_shares(rates: Rates) -> Floats:
    """The share of students of each level to begin with; they sum to 1."""
    steady = (1 - rates.unsteady, rates.unsteady)
    return np.array([weak * share for weak, share in product(rates.weak, steady)])


@dataclass(frozen=True, slots=True)
class Ways:
    """Ways to answer an item, each the probability of every outcome: by each misreading that shows (rows of `led`, by
    name), by each pair that leads to an answer only together, by guessing, by knowing."""

    names: tuple[str, ...]
    led: Floats
    joint: tuple[tuple[Held, Floats], ...]
    guess: Floats
    know: Floats


def ways_of(item: ItemActs, rates: Rates) -> Ways:
    """The ways to answer an item."""
    led = np.array([leading(item, name, rates) for name in item.acts]).reshape(len(item.acts), item.outcomes.size)
    joint = tuple((held, _spread(item, answer, rates)) for held, answer in item.joint)
    return Ways(tuple(item.acts), led, joint, guesses(item, rates), knowing(item, rates))


def _with_joint(acting: Floats, count: Floats, ways: Ways, sets: Hypotheses, rates: Rates) -> tuple[Floats, Floats]:
    """What is answered by who acts on a set, and how much of the set shows, with what pairs of it lead to together."""
    known = [(held, leads) for held, leads in ways.joint if all(name in sets.names for name in held)]
    columns = [[sets.names.index(name) for name in held] for held, _ in known]
    both = np.array([sets.member[:, each].min(axis=1) for each in columns]).reshape(len(known), len(sets.member)).T
    pairs = both.sum(axis=1)
    leads = both @ np.array([leads for _, leads in known]).reshape(len(known), acting.shape[1])
    leads /= np.maximum(pairs, 1)[:, None]
    alone = np.where((count > 0)[:, None], acting, leads)
    mixed = (1 - rates.together) * alone + rates.together * leads
    return np.where((pairs > 0)[:, None], mixed, acting), np.maximum(count, pairs)


def item_table(ways: Ways, sets: Hypotheses, rates: Rates) -> Floats:
    """Probability of each outcome (rows) under each set (columns) and level (depth); a column of a level sums to 1."""
    rows = [n for n, name in enumerate(ways.names) if name in sets.names]
    member = sets.member[:, [sets.names.index(ways.names[n]) for n in rows]]
    count = member.sum(axis=1)
    acting = (member @ ways.led[rows]) / np.maximum(count, 1)[:, None]
    if ways.joint:
        acting, count = _with_joint(acting, count, ways, sets, rates)
    table = np.empty((len(ways.guess), len(count), len(levels(rates))))
    for depth, (weakness, slip) in enumerate(levels(rates)):
        plain = (1 - weakness) * ways.know + weakness * ways.guess
        shown = (1 - slip) * acting + slip * (plain + ways.guess) / 2
        table[:, :, depth] = np.where((count > 0)[:, None], shown, plain).T
    return table
