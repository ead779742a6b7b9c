"""How many hold each misreading: learned from the answers of a quiz, without those of the student who is looked at.

Empirical Bayes in two steps: the quiz, over all its forms, moves the prior; the section moves what the quiz says. For
each eighth of the students (each third where there are hundreds) it is learned from the others, so that nobody's
answers feed the prior that they are then weighed by: else one odd answer would make itself likely.
"""

from dataclasses import dataclass

import numpy as np

from barwright.results.evidence import Evidence
from barwright.results.likelihood import Floats, Hypotheses, Numbers, level_shares
from barwright.results.rates import Rates

FOLDS, FEW_FOLDS = 8, 3
MANY = 400
"""With more students two thirds of them tell as much as seven eighths."""
ROUNDS = 20
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
    """What is taken before any answer is seen.

    How many are held at once is geometric, as where some students are more prone than others (a gamma mixture).
    """
    held = np.tile([rates.prior(name) for name in sets.names], (sections, 1))
    mean = float(_sums(held[:1])[0, 1])
    sizes = (mean / (1 + mean)) ** np.arange(MOST_HELD + 1)
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
    """Share of students who hold each set, a row a section.

    Sets of three that are not weighed take what is left of 1; of two, all that can be held are weighed.
    """
    alone = np.exp((np.log(prior.held) - np.log1p(-prior.held)) @ sets.member.T)
    sums = _sums(prior.held)
    sums[:, 2] = alone[:, sets.size == 2].sum(axis=1)
    return np.asarray(alone * (prior.sizes / np.maximum(sums, TINY))[:, sets.size])


def learned(seen: Evidence, section: Numbers, sections: int, sets: Hypotheses, rates: Rates) -> Learned:
    """The shares that explain these answers; `section` is a number a student."""
    first = prior_of(sets, sections, rates)
    prior, count = first, len(seen)
    here = np.bincount(section, minlength=sections)[:, None]
    row = section[seen.student] * len(sets.size) + seen.held
    for _ in range(ROUNDS):
        post, levels = weighed(seen, set_shares(prior, sets).ravel()[row], prior.level)
        by_set = np.bincount(row, weights=post, minlength=sections * len(sets.size)).reshape(sections, -1)
        sums = by_set @ sets.member
        quiz = (rates.quiz_weight * first.held[0] + sums.sum(axis=0)) / (rates.quiz_weight + count)
        held = (rates.section_weight * quiz + sums) / (rates.section_weight + here)
        sizes = _by_size(by_set.sum(axis=0), sets)
        level = levels.sum(axis=0)
        prior = Learned(held, _mixed(first.sizes, sizes, rates), _mixed(first.level, level, rates))
    return prior


def _mixed(prior: Floats, counts: Floats, rates: Rates) -> Floats:
    mixed = rates.shape_weight * prior + counts
    return np.asarray(mixed / mixed.sum())


def weighed(seen: Evidence, shares: Floats, level: Floats) -> tuple[Floats, Floats]:
    """Probability of the set in each row of evidence, and of each level for every student; `shares` is one a row."""
    joint = (seen.likely @ level.astype(np.float32)).astype(np.float64) * shares
    total = seen.sums(joint)
    levels = seen.sums(seen.likely * shares.astype(np.float32)[:, None]) * level
    return joint / total[seen.student], levels / levels.sum(axis=1, keepdims=True)


def left_out(seen: Evidence, section: Numbers, who: Numbers, sets: Hypotheses, rates: Rates) -> tuple[Floats, Floats]:
    """Probability of each row of evidence, and of each level, by a prior learned from other students alone.

    `section` and `who` number the section and the student of each row of answers, from 0.
    """
    fold, sections = who % (FOLDS if len(seen) <= MANY else FEW_FOLDS), int(section.max()) + 1
    post, levels = np.empty(len(seen.held)), np.empty((len(seen), seen.likely.shape[1]))
    for each in np.unique(fold):
        mine, others = fold == each, fold != each
        prior = learned(seen.of(others), section[others], sections, sets, rates)
        own, rows = seen.of(mine), mine[seen.student]
        shares = set_shares(prior, sets)[section[mine][own.student], own.held]
        post[rows], levels[mine] = weighed(own, shares, prior.level)
    return post, levels
