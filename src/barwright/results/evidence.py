"""What the answers of each student say of the sets of misreadings that are worth weighing.

Of the hundreds of sets nearly all are out of the question for a student: those that are less likely than KEPT at first
sight (by the usual prior) are left out, since no class makes up for that (it moves the share of a pair by some
hundredfold at most). What is left is a list of students and sets, a tenth of the whole table.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwright.results.likelihood import Floats, Hypotheses, Numbers, Singles

Codes = NDArray[np.intp]
"""A row a student, a column an item of the form: the place of the answer among its outcomes; NONE if not given."""
KEPT = 1e-6


@dataclass(frozen=True, slots=True)
class Evidence:
    """A row a student and a set that is worth weighing, all of the first student before those of the second.

    `starts`: the first row of each student; `student`: the number of the student of each row, from 0; `held`: the place
    of the set; `likely`: how likely the answers are under the set, a column a level of weakness, up to a factor for
    each student.
    """

    starts: Numbers
    student: Numbers
    held: Numbers
    likely: Singles

    def __len__(self) -> int:
        """The number of students."""
        return len(self.starts)

    def sums(self, rows: Floats | Singles) -> Floats:
        """The sums over the rows of each student, in double precision."""
        return (
            np.add.reduceat(rows, self.starts, axis=0, dtype=np.float64)
            if len(self)
            else np.zeros((0, *rows.shape[1:]))
        )

    def shares(self, post: Floats, marks: Floats) -> Floats:
        """For each student and column the probability of what has a mark in it.

        `post` is that of each row; `marks` has a row a set. Column by column, since all at once is large.
        """
        shares = [self.sums(post * column[self.held]) for column in marks.T]
        return np.array(shares).reshape(len(shares), len(self)).T

    def of(self, mine: NDArray[np.bool_]) -> "Evidence":
        """The evidence on some of the students."""
        rows = mine[self.student]
        counts = np.bincount(self.student, minlength=len(self))[mine]
        return gathered(np.repeat(np.arange(len(counts)), counts), self.held[rows], self.likely[rows])


def one_after_another(parts: Sequence[Evidence]) -> Evidence:
    """The evidence on all students, those of the first part before those of the second."""
    before = np.cumsum([0, *(len(part) for part in parts[:-1])])
    student = np.concatenate([part.student + count for part, count in zip(parts, before, strict=True)])
    held, likely = (np.concatenate([getattr(part, name) for part in parts]) for name in ("held", "likely"))
    return Evidence(np.flatnonzero(np.diff(student, prepend=-1)), student, held, likely)


def gathered(student: Numbers, held: Numbers, likely: Singles) -> Evidence:
    """Evidence of rows in any order; every student has one at least."""
    order = np.argsort(student, kind="stable")
    student = student[order]
    starts = np.flatnonzero(np.diff(student, prepend=-1))
    return Evidence(starts, student, held[order], likely[order])


@dataclass(frozen=True, slots=True)
class FirstSight:
    """Evidence at first sight, with the largest logarithm of each student, which was divided out.

    `post`: the probability of the set in each row; `whole`: for each student what it is a share of.
    """

    evidence: Evidence
    largest: Singles
    post: Floats
    whole: Floats

    def likeliest(self, sets: Hypotheses) -> Floats:
        """The probability of each misreading, a row a student."""
        return self.evidence.shares(self.post, sets.member)

    def several(self, sets: Hypotheses) -> Floats:
        """For each student the probability that more than one is held."""
        return self.evidence.sums(self.post * (sets.size[self.evidence.held] > 1))


def first_sight(logs: Singles, shares: Floats, level: Floats) -> FirstSight:
    """The sets worth weighing of each student.

    `logs`: students, sets and levels; `shares` and `level`: of each set and each level beforehand.
    """
    largest = logs.max(axis=(1, 2))
    likely = np.exp(logs - largest[:, None, None])
    joint = (likely @ level.astype(likely.dtype)).astype(np.float64) * shares
    whole = joint.sum(axis=1)
    post = joint / whole[:, None]
    student, held = np.nonzero(post >= KEPT)
    return FirstSight(gathered(student, held, likely[student, held]), largest, post[student, held], whole)
