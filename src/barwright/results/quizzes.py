"""A quiz made ready for weighing answers: every misreading acted out on every item, and what each answer tells."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barwright.results.answers import Administered
from barwright.results.chances import NONE, FormActs, acted_forms
from barwright.results.likelihood import (
    Floats,
    Hypotheses,
    hypotheses_of,
    item_table,
    levels,
)
from barwright.results.rates import Rates

Codes = NDArray[np.intp]
"""A row a student, a column an item of the form: the place of the answer among its outcomes; NONE if not given."""
IMPOSSIBLE = 1e-9


@dataclass(frozen=True)
class ReadyForm:
    """One form: what misreadings lead to in its items, and how likely every outcome is."""

    acts: FormActs
    sets: Hypotheses
    rates: Rates

    @cached_property
    def starts(self) -> NDArray[np.intp]:
        """The first row of each item in the table."""
        return np.cumsum([0, *(item.outcomes.size for item in self.acts.items)])

    def table(self, sets: Hypotheses) -> Floats:
        """Logarithms of probability: a row an outcome of an item, a column a set at a level."""
        found = np.concatenate([item_table(item, sets, self.rates) for item in self.acts.items])
        return np.asarray(np.log(np.maximum(found, IMPOSSIBLE)).reshape(len(found), -1))

    @cached_property
    def _own_table(self) -> Floats:
        return self.table(self.sets)

    def logs(self, codes: Codes, sets: Hypotheses | None = None) -> Floats:
        """Logarithm of the probability of each student's answers (rows) under each set and level."""
        marks = np.zeros((len(codes), self.starts[-1]))
        who, what = np.nonzero(codes != NONE)
        marks[who, self.starts[what] + codes[who, what]] = 1
        logs = marks @ (self._own_table if sets is None else self.table(sets))
        return logs.reshape(len(codes), -1, len(levels(self.rates)))


@dataclass(frozen=True)
class ReadyQuiz:
    """All forms of a quiz, by their ident, with one list of sets for all."""

    forms: Mapping[str, ReadyForm]
    sets: Hypotheses
    rates: Rates


def ready_quiz(given: Sequence[Administered], rates: Rates) -> ReadyQuiz:
    """The quiz made ready; weighed are the misreadings that lead to an answer on offer in one form at least."""
    forms = acted_forms(given)
    sets = hypotheses_of(forms[0].names)
    return ReadyQuiz({form.ident: ReadyForm(form, sets, rates) for form in forms}, sets, rates)
