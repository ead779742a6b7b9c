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

from barwright.results.acting import Answered, right_answers
from barwright.results.chances import ItemActs
from barwright.results.rates import Rates

Floats = NDArray[np.float64]
LIKELIEST = 8
SEVERAL = 0.2


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
    """The sets of none, one and two of these misreadings.

    >>> hypotheses_of(["a", "b", "c"]).size.tolist()
    [0, 1, 1, 1, 2, 2, 2]
    """
    return _sets(names, [held for size in range(3) for held in combinations(range(len(names)), size)])


def _sets(names: Sequence[str], sets: Sequence[tuple[int, ...]]) -> Hypotheses:
    member = np.zeros((len(sets), len(names)))
    for row, held in enumerate(sets):
        member[row, list(held)] = 1
    return Hypotheses(tuple(names), member, np.array([len(held) for held in sets], dtype=np.intp))


def triples(sets: Hypotheses, held: Floats) -> Hypotheses:
    """Sets of three of the LIKELIEST misreadings of each student, for those who may well hold two at least.

    `held` has a row a student: how likely each of these sets is at first sight. Any other set of three is so unlikely
    that it is left out.
    """
    several = held[:, sets.size > 1].sum(axis=1) > SEVERAL
    each = held[several] @ sets.member
    likeliest = np.argsort(-each, axis=1, kind="stable")[:, :LIKELIEST]
    found = {three for row in likeliest.tolist() for three in combinations(sorted(row), 3)}
    return _sets(sets.names, sorted(found))


def joined(sets: Hypotheses, more: Hypotheses) -> Hypotheses:
    """The sets of both, one after the other."""
    return Hypotheses(sets.names, np.concatenate([sets.member, more.member]), np.concatenate([sets.size, more.size]))


def _spread(item: ItemActs, answer: Answered, rates: Rates) -> Floats:
    """What is answered by who means this answer: that, but for stray ticks where several are to be ticked."""
    found = np.zeros(item.outcomes.size)
    if len(right_answers(item.asked.item)[0]) == 1:
        found[item.outcomes.place(answer)] = 1
        return found
    for ticked, place in item.outcomes.places.items():
        apart = len(set(ticked) ^ set(answer))
        found[place] = rates.stray**apart * (1 - rates.stray) ** (len(item.asked.offered) - apart)
    return np.asarray(found / found.sum())


def guesses(item: ItemActs, rates: Rates) -> Floats:
    """What is answered by who does not know: any choice, or by the test-wise the one that is most like the others.

    Where one types it is mostly what no misreading leads to.
    """
    outcomes = item.outcomes
    if not outcomes.other:
        found = np.full(outcomes.size, 1 / outcomes.size)
        if item.likeness:
            best = np.array(item.likeness) == max(item.likeness)
            found = (1 - rates.testwise) * found + rates.testwise * best / best.sum()
        return found
    right = [outcomes.place(answer) for answer in right_answers(item.asked.item)]
    foreseen = outcomes.size - 1 - len(right)
    found = np.full(outcomes.size, rates.typed_foreseen / max(foreseen, 1))
    found[right] = rates.typed_right / len(right)
    found[-1] = 0
    found[-1] = 1 - found.sum()
    return found


def knowing(item: ItemActs, rates: Rates) -> Floats:
    """What is answered by who knows: one of the right answers."""
    right = right_answers(item.asked.item)
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


def item_table(item: ItemActs, sets: Hypotheses, rates: Rates) -> Floats:
    """Probability of each outcome (rows) under each set (columns) and level (depth); a column of a level sums to 1."""
    shows = np.array([float(name in item.acts) for name in sets.names])
    led = np.array(
        [leading(item, n, rates) if n in item.acts else np.zeros(item.outcomes.size) for n in sets.names]
    ).reshape(len(sets.names), item.outcomes.size)
    count = sets.member @ shows
    acting = (sets.member @ led) / np.maximum(count, 1)[:, None]
    for held, answer in item.joint:
        both = sets.member[:, [sets.names.index(name) for name in held]].min(axis=1) > 0
        alone = np.where((count > 0)[:, None], acting, _spread(item, answer, rates))
        acting = np.where(both[:, None], (alone + _spread(item, answer, rates)) / 2, acting)
        count = np.maximum(count, both)
    guess, know = guesses(item, rates), knowing(item, rates)
    found = np.empty((item.outcomes.size, len(count), len(levels(rates))))
    for depth, (weakness, slip) in enumerate(levels(rates)):
        plain = (1 - weakness) * know + weakness * guess
        slipped = (plain + guess) / 2
        shown = (1 - slip) * acting + slip * slipped
        found[:, :, depth] = np.where((count > 0)[:, None], shown, plain).T
    return found
