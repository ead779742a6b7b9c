"""A quiz made ready for weighing answers: every misreading acted out on every item, and what each answer tells."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barwright.results.acting import serving
from barwright.results.answers import Administered
from barwright.results.likelihood import (
    Floats,
    Hypotheses,
    ItemActs,
    acts_of,
    hypotheses_of,
    item_table,
)
from barwright.results.rates import Rates

Codes = NDArray[np.intp]
"""A row a student, a column an item of the form: the place of the answer among the item's outcomes; -1: none."""
NONE = -1
IMPOSSIBLE = 1e-9
LEAST_CHANCES = 2
"""Items that must have offered an answer of a misreading before a student is named for it."""


@dataclass(frozen=True)
class ReadyForm:
    """One form: its items with what misreadings lead to, and the probabilities of every outcome."""

    given: Administered
    items: tuple[ItemActs, ...]
    sets: Hypotheses
    rates: Rates

    @cached_property
    def starts(self) -> NDArray[np.intp]:
        """The first row of each item in the table."""
        return np.cumsum([0, *(item.outcomes.size for item in self.items)])

    @cached_property
    def table(self) -> Floats:
        """Logarithms of probability: a row an outcome of an item, a column a set at a level."""
        found = np.concatenate([item_table(item, self.sets, self.rates) for item in self.items])
        return np.asarray(np.log(np.maximum(found, IMPOSSIBLE)).reshape(len(found), -1))

    def likely(self, codes: Codes) -> Floats:
        """How likely the answers of each student (rows) are under each set and level, up to a factor a student."""
        marks = np.zeros((len(codes), self.starts[-1]))
        who, what = np.nonzero(codes != NONE)
        marks[who, self.starts[what] + codes[who, what]] = 1
        logs = marks @ self.table
        logs -= logs.max(axis=1, keepdims=True)
        return np.exp(logs, out=logs).reshape(len(codes), len(self.sets.member), -1)

    @cached_property
    def leads(self) -> Mapping[str, tuple[frozenset[tuple[str, ...]], ...]]:
        """For each misreading the wrong answers on offer that it leads to, item by item."""
        return {name: tuple(item.leads(name) for item in self.items) for name in self.sets.names}

    def chances(self, misreading: str) -> int:
        """How many items of the form offer an answer of this misreading; variants of one place are one."""
        leads = zip(self.items, self.leads[misreading], strict=True)
        return len({item.asked.number for item, led in leads if led})

    def apart(self, misreading: str, rival: str) -> int:
        """In how many of these items the other misreading does not lead to the same answers."""
        mine, theirs = self.leads[misreading], self.leads[rival]
        rows = zip(self.items, mine, theirs, strict=True)
        return len({item.asked.number for item, led, other in rows if led and led != other})

    @cached_property
    def untold(self) -> tuple[tuple[str, ...], ...]:
        """Groups of misreadings that show, and that no item of the form tells apart."""
        groups: dict[tuple[frozenset[tuple[str, ...]], ...], list[str]] = {}
        for name, led in self.leads.items():
            if any(led):
                groups.setdefault(led, []).append(name)
        return tuple(tuple(group) for group in groups.values() if len(group) > 1)

    @cached_property
    def groups(self) -> tuple[tuple[str, ...], ...]:
        """The misreadings that show, those that no item tells apart together, in the order of the table."""
        told = {name for group in self.untold for name in group}
        alone = ((name,) for name, led in self.leads.items() if any(led) and name not in told)
        return tuple(sorted((*self.untold, *alone), key=lambda group: self.sets.names.index(group[0])))

    @cached_property
    def named(self) -> tuple[tuple[tuple[str, ...], ...], Floats]:
        """The groups that had chances enough to name a student for, and `any_of` them."""
        found = tuple(group for group in self.groups if max(map(self.chances, group)) >= LEAST_CHANCES)
        return found, self.any_of(found)

    def any_of(self, groups: Sequence[Sequence[str]]) -> Floats:
        """A row a set, a column a group: 1 where the set has one of the group."""
        columns = [[self.sets.names.index(name) for name in group] for group in groups]
        masks = [self.sets.member[:, each].max(axis=1) for each in columns]
        return np.array(masks).reshape(len(groups), len(self.sets.member)).T

    def seen(self, codes: NDArray[np.intp], group: Sequence[str]) -> tuple[int, ...]:
        """The items (by their place in the form) that a student with these codes answered as one of the group does."""
        return tuple(
            n
            for n, (item, code) in enumerate(zip(self.items, codes, strict=True))
            if code != NONE and any(item.outcomes.place(each) == code for name in group for each in item.leads(name))
        )


@dataclass(frozen=True)
class ReadyQuiz:
    """All forms of a quiz, by their ident, with one list of sets for all."""

    forms: Mapping[str, ReadyForm]
    sets: Hypotheses
    rates: Rates


def ready_quiz(given: Sequence[Administered], rates: Rates) -> ReadyQuiz:
    """The quiz made ready; weighed are the misreadings that lead to an answer on offer in one form at least."""
    misreadings = serving(given)
    acts = {form.ident: acts_of(form, misreadings) for form in given}
    names = [m.id for m in misreadings if any(item.leads(m.id) for items in acts.values() for item in items)]
    sets = hypotheses_of(names)
    forms = {form.ident: ReadyForm(form, acts[form.ident], sets, rates) for form in given}
    return ReadyQuiz(forms, sets, rates)
