"""What a learner is told of each choice that can be picked: numbers only, nothing of stem, figure or misreadings."""

from collections.abc import Sequence

import numpy as np

from barwright.guesser import HABITS, Past, SeenItem
from barwright.guesser.practised import TOKENS
from barwright.guesser.strategies import AT_SIGHT, traits_of

_NO_PAST = Past()


def choice_features(item: SeenItem, past: Past | None) -> np.ndarray:
    """One row a choice: its numbers, their ranks, every strategy's score, what was right before.

    Without a past only what the choices themselves tell, neither their places nor the items before.
    """
    habits, known = (AT_SIGHT, _NO_PAST) if past is None else (HABITS, past)
    scores = np.array([[float(s) for s in habit(item, known)] for habit, _, _ in habits]).T
    counts = np.array([[*c.counts, c.length or 0] for c in item.choices], dtype=float)
    own = np.array([[c.tokens.count(token) for token in TOKENS] for c in item.choices], dtype=float)
    ranked = [_middle(counts), _ranks(counts), own - own.mean(axis=0), _ranks(scores), _tops(scores), _tops(-scores)]
    at_sight = np.hstack([counts, own, *ranked, np.full((len(item.choices), 1), float(len(item.choices)))])
    if past is None:
        return at_sight
    before = np.array(
        [[value for t in traits for value in (past.right[t], past.met[t])] for traits in traits_of(item)], dtype=float
    )
    return np.hstack([at_sight, before, np.arange(float(len(item.choices)))[:, None]])


def _middle(values: np.ndarray) -> np.ndarray:
    return values - np.median(values, axis=0)


def _ranks(values: np.ndarray) -> np.ndarray:
    """For each value which part of the others are less, and how many are equal."""
    less = (values[:, None, :] > values[None, :, :]).sum(axis=1)
    same = (values[:, None, :] == values[None, :, :]).sum(axis=1)
    return np.hstack([less / len(values), same / len(values)])


def _tops(values: np.ndarray) -> np.ndarray:
    return (values == values.max(axis=0)).astype(float)


def option_features(item: SeenItem, past: Past | None) -> tuple[np.ndarray, np.ndarray]:
    """One row an option (several choices: their mean and how many they are), and whether it is right.

    Without a past only what the choices themselves tell.
    """
    each = choice_features(item, past)
    rows = [np.append(each[list(option)].mean(axis=0), len(option)) for option in item.options]
    right = np.array([number == item.right for number in range(len(item.options))])
    return np.array(rows), right


def choice_set(item: SeenItem) -> tuple[str, ...]:
    """What makes two sets of choices equal."""
    return tuple(sorted(c.text for c in item.choices))


def told_in_order(form: Sequence[SeenItem]) -> list[tuple[SeenItem, np.ndarray, np.ndarray]]:
    """Every item of a form with features and right answers; of each ask the items before are remembered."""
    pasts: dict[str, Past] = {}
    found = []
    for item in form:
        past = pasts.setdefault(item.ask, Past())
        found.append((item, *option_features(item, past)))
        past.add(item)
    return found
