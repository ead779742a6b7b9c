"""How hard kinds of items have proved to be, and what of an excerpt makes it so: from counts of classes.

The model: logit P(right) = a + b - STEP * (w . f), where a is one number for all asks, b one for each ask, f the
features of the excerpt (items/difficulty.py) and w their weights. Priors: a ~ N(2, 1.5), b ~ N(0, 1), and each weight
~ N(usual weight, 2), so that few data leave the usual weights as they are. Fitted at the most likely values by Newton's
method. The difficulty of a kind of item (same ask, meter and length) is then shrunk toward that estimate: as if WORTH
more students had answered as the estimate says; that of one excerpt under an ask likewise toward its kind.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import exp, log
from typing import TYPE_CHECKING

from barwright.items.difficulty import FITTED, ITEM, KIND, WEIGHTS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

STEP = 0.05
WORTH = 20
_CENTER, _CENTER_SD, _ASK_SD, _WEIGHT_SD = 2.0, 1.5, 1.0, 2.0
_ROUNDS = 60
MOST_WEIGHT = 100


@dataclass(frozen=True, slots=True)
class Counted:
    """One item of the bank with counts: its kind, ask, excerpt, features, and how often it was asked and right."""

    model: str
    ask: str
    excerpt: str
    features: Mapping[str, int]
    asked: int
    right: int


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of item: counts, the share right, what its features let expect, and the one shrunk toward the other."""

    model: str
    items: int
    asked: int
    share: float
    expected: float
    shrunk: float


@dataclass(frozen=True, slots=True)
class Fitted:
    """The kinds of items, hardest first, and the weights for `[difficulty]` in a blueprint.

    `moved`: by how much more than its features say a kind, or an excerpt under an ask, weighs (named as in
    items/difficulty.py), rounded; what is moved by nothing is left out.
    """

    kinds: tuple[Kind, ...]
    weights: Mapping[str, int]
    moved: Mapping[str, int]

    @property
    def measured(self) -> dict[str, int]:
        """All that a plan takes in (`Blueprint.with_measured`)."""
        return {**{f"{FITTED} {name}": value for name, value in self.weights.items()}, **self.moved}


def fitted(items: Sequence[Counted]) -> Fitted:
    """What the counts say; with none of them the usual weights and no kinds.

    >>> dict(fitted(()).weights) == dict(WEIGHTS)
    True
    """
    if not items:
        return Fitted((), dict(WEIGHTS), {})
    import numpy as np  # takes long to load, and few commands need it

    asks = sorted({item.ask for item in items})
    rows = np.array([_row(item, asks) for item in items])
    prior = np.array([_CENTER, *[0.0] * len(asks), *WEIGHTS.values()], dtype=float)
    spread = np.array([_CENTER_SD, *[_ASK_SD] * len(asks), *[_WEIGHT_SD] * len(WEIGHTS)])
    asked = np.array([item.asked for item in items], dtype=float)
    right = np.array([item.right for item in items], dtype=float)
    values = _newton(rows, asked, right, prior, spread)
    expected = 1 / (1 + np.exp(-rows @ values))
    weights = [min(MOST_WEIGHT, max(0, round(float(value)))) for value in values[-len(WEIGHTS) :]]
    kinds = _kinds(items, [float(each) for each in expected])
    return Fitted(kinds, dict(zip(WEIGHTS, weights, strict=True)), dict(_moves(items, expected.tolist(), kinds)))


def _moves(items: Sequence[Counted], expected: Sequence[float], kinds: Sequence[Kind]) -> Iterator[tuple[str, int]]:
    """What kinds are moved by, then excerpts: each drawn toward its kind, as its kind is toward the features."""
    by_model = {kind.model: _logit(kind.shrunk) - _logit(kind.expected) for kind in kinds}
    for model, more in by_model.items():
        if steps := round(-more / STEP):
            yield f"{KIND} {model}", steps
    asked: Counter[tuple[str, str]] = Counter()
    right, thought = Counter[tuple[str, str]](), dict[tuple[str, str], tuple[float, float]]()
    for item, share in zip(items, expected, strict=True):
        name = (item.ask, item.excerpt)
        asked[name] += item.asked
        right[name] += item.right
        thought[name] = (_logit(share), by_model[item.model])
    for name, (by_features, of_kind) in thought.items():
        whole = 1 / (1 + exp(-by_features - of_kind))
        shrunk = (right[name] + WORTH * whole) / (asked[name] + WORTH)
        yield f"{ITEM} {' '.join(name)}", round((by_features - _logit(shrunk)) / STEP)


def _logit(share: float) -> float:
    return log(share / (1 - share))


def _row(item: Counted, asks: Sequence[str]) -> list[float]:
    return [1.0, *(float(item.ask == ask) for ask in asks), *(-STEP * item.features[name] for name in WEIGHTS)]


def _newton(rows: "Floats", asked: "Floats", right: "Floats", prior: "Floats", spread: "Floats") -> "Floats":
    """The most likely values; the likelihood has one top, since priors and logistic regression are log-concave."""
    import numpy as np

    values = prior.copy()
    for _ in range(_ROUNDS):
        share = 1 / (1 + np.exp(-rows @ values))
        slope = rows.T @ (right - asked * share) - (values - prior) / spread**2
        bend = (rows.T * (asked * share * (1 - share))) @ rows + np.diag(1 / spread**2)
        step = np.linalg.solve(bend, slope)
        values = values + step * min(1.0, 5.0 / max(1e-12, float(np.abs(step).max())))
        if float(np.abs(step).max()) < 1e-10:
            break
    return np.asarray(values)


def _kinds(items: Sequence[Counted], expected: Sequence[float]) -> tuple[Kind, ...]:
    groups: dict[str, list[tuple[Counted, float]]] = {}
    for item, share in zip(items, expected, strict=True):
        groups.setdefault(item.model, []).append((item, share))
    kinds = []
    for model, members in groups.items():
        asked, right = (sum(getattr(item, name) for item, _ in members) for name in ("asked", "right"))
        thought = sum(item.asked * share for item, share in members) / asked
        kinds.append(
            Kind(model, len(members), asked, right / asked, thought, (right + WORTH * thought) / (asked + WORTH))
        )
    return tuple(sorted(kinds, key=lambda kind: (kind.shrunk, kind.model)))
