"""How many hold each misreading: learned from the answers of a quiz, without those of the student who is looked at.

Empirical Bayes in two steps: the quiz, over all its forms, moves the prior; the section moves what the quiz says. For
each eighth of the students it is learned from the others, so that nobody's answers feed the prior that they are then
weighed by: else one odd answer would make itself likely.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwright.results.likelihood import Floats, Hypotheses, level_shares
from barwright.results.rates import Rates

FOLDS = 8
ROUNDS = 10
Likely = NDArray[np.float32]
"""How likely the answers of each student are under each set and level; single precision, since it is large."""
Numbers = NDArray[np.intp]
MOST_HELD = 3
TINY = 1e-12  # with fewer than three misreadings none can hold three


@dataclass(frozen=True, slots=True)
class Learned:
    """What is taken of students beforehand, all shares of 1.

    `held`: who hold each misreading, a row a section; `sizes`: who hold none, one, two or three at once, which is more
    uneven than chance would have it; `level`: who are of each level of weakness.
    """

    held: Floats
    sizes: Floats
    level: Floats


def prior_of(sets: Hypotheses, sections: int, rates: Rates) -> Learned:
    """What is taken before any answer is seen."""
    held = np.tile([rates.prior(name) for name in sets.names], (sections, 1))
    sizes = _sums(held[:1])[0]
    return Learned(held, sizes / sizes.sum(), level_shares(rates))


def _sums(held: Floats) -> Floats:
    """The odds of holding none, one, two, three of the misreadings, whichever they are; a row a section.

    The elementary symmetric polynomials of the odds, from the sums of their powers (Newton's identities).
    """
    odds = held / (1 - held)
    one, two, three = (np.sum(odds**power, axis=1) for power in (1, 2, 3))
    return np.stack([np.ones_like(one), one, (one**2 - two) / 2, (one**3 - 3 * one * two + 2 * three) / 6], axis=1)


def _by_size(shares: Floats, sets: Hypotheses) -> Floats:
    return np.bincount(sets.size, weights=shares, minlength=MOST_HELD + 1).astype(np.float64)


def set_shares(prior: Learned, sets: Hypotheses) -> Floats:
    """Share of students who hold each set, a row a section; sets that are not weighed take what is left of 1."""
    alone = np.exp((np.log(prior.held) - np.log1p(-prior.held)) @ sets.member.T)
    return np.asarray(alone * (prior.sizes / np.maximum(_sums(prior.held), TINY))[:, sets.size])


def learned(likely: Likely, section: Numbers, sections: int, sets: Hypotheses, rates: Rates) -> Learned:
    """The shares that explain these answers; `likely` has students, sets and levels, `section` a number a student."""
    first = prior_of(sets, sections, rates)
    found, count = first, len(likely)
    here = np.bincount(section, minlength=sections)[:, None]
    for _ in range(ROUNDS):
        post, levels = weighed(likely, set_shares(found, sets)[section], found.level)
        each = post @ sets.member
        quiz = (rates.quiz_weight * first.held[0] + each.sum(axis=0)) / (rates.quiz_weight + count)
        sums = np.zeros_like(found.held)
        np.add.at(sums, section, each)
        held = (rates.section_weight * quiz + sums) / (rates.section_weight + here)
        sizes = _by_size(post.sum(axis=0), sets)
        level = levels.sum(axis=0)
        found = Learned(held, _mixed(first.sizes, sizes, rates), _mixed(first.level, level, rates))
    return found


def _mixed(prior: Floats, counts: Floats, rates: Rates) -> Floats:
    found = rates.shape_weight * prior + counts
    return np.asarray(found / found.sum())


def weighed(likely: Likely, shares: Floats, level: Floats) -> tuple[Floats, Floats]:
    """Probability of each set, and of each level, for every student; `shares` has a row a student."""
    few = shares.astype(np.float32)
    joint = ((likely @ level.astype(np.float32)) * few).astype(np.float64)
    levels = (few[:, None, :] @ likely)[:, 0, :].astype(np.float64) * level
    return joint / joint.sum(axis=1, keepdims=True), levels / levels.sum(axis=1, keepdims=True)


def left_out(likely: Likely, section: Numbers, who: Numbers, sets: Hypotheses, rates: Rates) -> tuple[Floats, Floats]:
    """Probability of each set and level for every row of answers, by a prior learned from other students alone.

    `section` and `who` number the section and the student of each row, from 0.
    """
    fold, sections = who % FOLDS, int(section.max()) + 1
    post, levels = np.empty(likely.shape[:2]), np.empty((len(likely), likely.shape[2]))
    for each in np.unique(fold):
        mine, others = fold == each, fold != each
        found = learned(likely[others], section[others], sections, sets, rates)
        shares = set_shares(found, sets)[section[mine]]
        post[mine], levels[mine] = weighed(likely[mine], shares, found.level)
    return post, levels
