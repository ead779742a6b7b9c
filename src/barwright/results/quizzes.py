"""A quiz made ready for weighing answers: every misreading acted out on every item, and what each answer tells."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barwright.results.answers import Administered
from barwright.results.chances import FormActs, acted_forms
from barwright.results.evidence import Codes
from barwright.results.likelihood import (
    Hypotheses,
    Numbers,
    Singles,
    Ways,
    hypotheses_of,
    item_table,
    levels,
    ways_of,
)
from barwright.results.rates import Rates

IMPOSSIBLE = 1e-9


@dataclass(frozen=True)
class Piece:
    """How likely the outcomes of one item are: logarithms by outcome (the last row is no answer), by what of a set
    bears on the item, and by level; and the place of each set in that."""

    table: Singles
    place: Numbers


@dataclass(frozen=True)
class ReadyForm:
    """One form: what misreadings lead to in its items, and how likely every outcome is."""

    acts: FormActs
    sets: Hypotheses
    rates: Rates

    def pieces(self, sets: Hypotheses) -> list[Piece]:
        """What each item says of these sets."""
        members = sets.member.astype(np.int64)
        return [_piece(ways, sets, members, self.rates) for ways in self._ways]

    @cached_property
    def _ways(self) -> list[Ways]:
        return [ways_of(item, self.rates) for item in self.acts.items]

    def tables(self) -> list[Singles]:
        """For each item the logarithms by outcome, set and level, written out, since every student asks for all.

        Tens of MB: not to be kept.
        """
        return [piece.table[:, piece.place] for piece in self.pieces(self.sets)]

    def logs(self, codes: Codes, tables: Sequence[Singles]) -> Singles:
        """Logarithm of the probability of each student's answers (rows) under each of the sets and level."""
        logs = np.zeros((len(codes), len(self.sets.size), len(levels(self.rates))), dtype=np.float32)
        for table, column in zip(tables, codes.T, strict=True):
            logs += table[column]
        return logs

    def logs_of(self, codes: Codes, held: Numbers, pieces: Sequence[Piece]) -> Singles:
        """Logarithm of the probability of each row of answers under one of the sets (by its place) of these pieces,
        at each level.
        """
        logs = np.zeros((len(codes), len(levels(self.rates))), dtype=np.float32)
        for piece, column in zip(pieces, codes.T, strict=True):
            logs += piece.table[column, piece.place[held]]
        return logs


def _piece(ways: Ways, sets: Hypotheses, members: NDArray[np.int64], rates: Rates) -> Piece:
    """Sets that have the same misreadings which bear on the item share what they say of it."""
    bear = {*ways.names, *(name for held, _ in ways.joint for name in held)}
    bearing = [n for n, name in enumerate(sets.names) if name in bear]
    marks = members[:, bearing] @ (np.int64(1) << np.arange(len(bearing), dtype=np.int64))
    _, first, place = np.unique(marks, return_index=True, return_inverse=True)
    table = item_table(ways, Hypotheses(sets.names, sets.member[first], sets.size[first]), rates)
    logs = np.log(np.maximum(table, IMPOSSIBLE))
    return Piece(np.concatenate([logs, np.zeros_like(logs[:1])]).astype(np.float32), place)


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
