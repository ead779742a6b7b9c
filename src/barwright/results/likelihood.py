"""How likely each answer is under each set of misreadings that a student may hold.

A small model in the line of Brown & Burton 1978 (Cognitive Science 2:155-192: students follow faulty procedures),
Burton 1982 (one hides another), Lee & Corter 2011 (Applied Psychological Measurement 35: bugs as hidden causes, slips,
and wrong answers that tell more than right or wrong), de la Torre 2009 (MC-DINA: choices that stand for states of
knowledge) and Bradshaw & Templin 2014 (Psychometrika 79: misconceptions as the hidden classes). A held misreading leads
to its answer except for slips; where two show, each is acted on half of the time; all else is right, but for what the
student does not know and guesses. Sets of misreadings and levels of weakness are enumerated, nothing is sampled.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np
from numpy.typing import NDArray

from barwright.misreadings import Misreading
from barwright.results.acting import (
    Acted,
    Answered,
    acted,
    answered,
    is_open,
    right_answers,
)
from barwright.results.answers import Administered, Asked
from barwright.results.rates import Rates

Floats = NDArray[np.float64]
MOST_SETS = 4_000
"""Sets of three are enumerated, too, where no more sets than this come of it."""


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """Every set of misreadings that is weighed: none, one, two (three where they are few).

    `names` are the misreadings, `member` has a row a set and a column a misreading (1 where it is in the
    set), `size` how many are in each.
    """

    names: tuple[str, ...]
    member: Floats
    size: NDArray[np.intp]


def hypotheses_of(names: Sequence[str]) -> Hypotheses:
    """The sets of up to two of these misreadings, of up to three if these are at most MOST_SETS.

    >>> len(hypotheses_of(["a", "b", "c"]).member)
    8
    """
    sizes = [0, 1, 2, 3]
    count = len(names)
    if 1 + count + count * (count - 1) // 2 + count * (count - 1) * (count - 2) // 6 > MOST_SETS:
        sizes.pop()
    sets = [held for size in sizes for held in combinations(range(count), size)]
    member = np.zeros((len(sets), count))
    for row, held in enumerate(sets):
        member[row, list(held)] = 1
    return Hypotheses(tuple(names), member, np.array([len(held) for held in sets]))


@dataclass(frozen=True, slots=True)
class Outcomes:
    """The answers of one item that are told apart, by their place; the last place is any other, where one can type."""

    places: Mapping[Answered, int]
    size: int
    other: bool

    def place(self, answer: Answered) -> int:
        """Where an answer counts."""
        return self.places[answer] if answer in self.places else self.size - 1


@dataclass(frozen=True, slots=True)
class ItemActs:
    """One item with what each misreading (by id) leads to; those that do not show are left out."""

    asked: Asked
    acts: Mapping[str, Acted]
    outcomes: Outcomes

    def leads(self, misreading: str) -> frozenset[Answered]:
        """The wrong answers on offer that a misreading leads to."""
        found = self.acts.get(misreading)
        return frozenset(found.answers if found else ()) - frozenset(right_answers(self.asked.item))


def acts_of(form: Administered, misreadings: Sequence[Misreading]) -> tuple[ItemActs, ...]:
    """Every item of a form, with all misreadings acted out on it."""
    found = []
    for asked in form.items:
        shown = ((m.id, acted(m, asked.item)) for m in misreadings)
        acts = {ident: each for ident, each in shown if each is not None}
        found.append(ItemActs(asked, acts, _outcomes(asked, acts)))
    return tuple(found)


def _outcomes(asked: Asked, acts: Mapping[str, Acted]) -> Outcomes:
    item = asked.item
    texts = [answered((each.answer.text,), item) for each in asked.offered]
    if is_open(item):
        led = (answer for each in acts.values() for answer in each.answers)
        places = dict.fromkeys((*right_answers(item), *texts, *led))
    elif len(right_answers(item)[0]) > 1:
        ticks = [tuple(text for text, tick in zip(texts, picks, strict=True) if tick) for picks in _picks(len(texts))]
        places = dict.fromkeys(tuple(sorted(sum(tick, ()))) for tick in ticks)
    else:
        places = dict.fromkeys(texts)
    size = len(places) + is_open(item)
    return Outcomes({answer: n for n, answer in enumerate(places)}, size, is_open(item))


def _picks(count: int) -> list[tuple[int, ...]]:
    """Every way of ticking at least one of so many choices."""
    return [ticks for ticks in product((0, 1), repeat=count) if any(ticks)]


def _spread(item: ItemActs, answer: Answered, rates: Rates) -> Floats:
    """What is answered by who means this answer: that, but for stray ticks where several are to be ticked."""
    found = np.zeros(item.outcomes.size)
    if len(right_answers(item.asked.item)[0]) == 1:
        found[item.outcomes.place(answer)] = 1
        return found
    for ticked, place in item.outcomes.places.items():
        apart = len(set(ticked) ^ set(answer))
        found[place] = rates.stray**apart * (1 - rates.stray) ** (len(item.asked.offered) - apart)
    return found / found.sum()


def guesses(item: ItemActs, rates: Rates) -> Floats:
    """What is answered by who does not know: any choice; where one types mostly what no misreading leads to."""
    outcomes = item.outcomes
    if not outcomes.other:
        return np.full(outcomes.size, 1 / outcomes.size)
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
    guess, know = guesses(item, rates), knowing(item, rates)
    found = np.empty((item.outcomes.size, len(count), len(levels(rates))))
    for depth, (weakness, slip) in enumerate(levels(rates)):
        plain = (1 - weakness) * know + weakness * guess
        slipped = (plain + guess) / 2
        shown = (1 - slip) * acting + slip * slipped
        found[:, :, depth] = np.where((count > 0)[:, None], shown, plain).T
    return found
