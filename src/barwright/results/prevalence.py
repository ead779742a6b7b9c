"""How many hold each misreading: learned from the answers of a quiz, without those of the student who is looked at.

Empirical Bayes in two steps: the quiz, over all its forms, moves the prior; the section moves what the quiz says. For
each tenth of the students it is learned from the other nine, so that nobody's answers feed the prior that they are then
weighed by: else one odd answer would make itself likely.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwright.results.likelihood import Floats, Hypotheses, level_shares
from barwright.results.rates import Rates

FOLDS = 10
ROUNDS = 12


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
    return Learned(held, _by_size(_chances(held[:1], sets)[0], sets), level_shares(rates))


def _chances(held: Floats, sets: Hypotheses) -> Floats:
    """Probability of each set where each misreading is held by itself, whoever holds another."""
    found: Floats = np.exp((np.log(held) - np.log1p(-held)) @ sets.member.T)
    return np.asarray(found / found.sum(axis=1, keepdims=True))


def _by_size(shares: Floats, sets: Hypotheses) -> Floats:
    return np.bincount(sets.size, weights=shares).astype(np.float64)


def set_shares(prior: Learned, sets: Hypotheses) -> Floats:
    """Share of students who hold each set, a row a section."""
    alone = _chances(prior.held, sets)
    sums = np.stack([alone[:, sets.size == size].sum(axis=1) for size in range(len(prior.sizes))], axis=1)
    return np.asarray(alone * (prior.sizes / sums)[:, sets.size])


def learned(likely: Floats, section: NDArray[np.intp], sections: int, sets: Hypotheses, rates: Rates) -> Learned:
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
    found = rates.quiz_weight * prior + counts
    return np.asarray(found / found.sum())


def weighed(likely: Floats, shares: Floats, level: Floats) -> tuple[Floats, Floats]:
    """Probability of each set, and of each level, for every student; `shares` has a row a student."""
    joint = (likely @ level) * shares
    levels = (shares[:, None, :] @ likely)[:, 0, :] * level
    return joint / joint.sum(axis=1, keepdims=True), levels / levels.sum(axis=1, keepdims=True)


def left_out(
    likely: Floats, section: NDArray[np.intp], sections: int, sets: Hypotheses, rates: Rates
) -> tuple[Floats, Floats]:
    """Probability of each set and level for every student, by a prior learned from others alone."""
    fold = np.arange(len(likely)) % FOLDS
    post, levels = np.empty(likely.shape[:2]), np.empty((len(likely), likely.shape[2]))
    for each in range(min(FOLDS, len(likely))):
        mine, others = fold == each, fold != each
        found = learned(likely[others], section[others], sections, sets, rates)
        shares = set_shares(found, sets)[section[mine]]
        post[mine], levels[mine] = weighed(likely[mine], shares, found.level)
    return post, levels
