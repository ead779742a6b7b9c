"""Two learners that have seen other quizzes: what they win of the items of one ask.

Trained on other quizzes only, and never on a set of choices that is asked: equal sets are kept out of training.
"""

import warnings
from dataclasses import dataclass

import numpy as np
from sklearn.ensemble import HistGradientBoostingClassifier
from sklearn.exceptions import ConvergenceWarning
from sklearn.linear_model import LogisticRegression
from sklearn.pipeline import make_pipeline
from sklearn.preprocessing import StandardScaler
from threadpoolctl import threadpool_limits

FOLDS = 5


@dataclass(frozen=True)
class Told:
    """One item as a learner gets it; quiz and set of choices may not be on both sides."""

    quiz: str
    choices: tuple[str, ...]
    features: np.ndarray
    right: np.ndarray

    @property
    def chance(self) -> float:
        return 1 / len(self.right)


LEARNERS = {
    "logistic": lambda: make_pipeline(StandardScaler(), LogisticRegression(C=0.1, max_iter=300)),
    "trees": lambda: HistGradientBoostingClassifier(
        max_iter=80, learning_rate=0.1, max_leaf_nodes=15, l2_regularization=1.0, random_state=1
    ),
}


def won_by(name: str, items: list[Told]) -> np.ndarray:
    """For each item 1 if the learner picks the right answer, a part where the best are a toss-up, else 0."""
    quizzes = sorted({item.quiz for item in items})
    folds = {quiz: number % FOLDS for number, quiz in enumerate(quizzes)}
    won = np.full(len(items), np.nan)
    for fold in range(FOLDS):
        asked = [n for n, item in enumerate(items) if folds[item.quiz] == fold]
        sets = {items[n].choices for n in asked}
        seen = [item for item in items if folds[item.quiz] != fold and item.choices not in sets]
        if not asked or not seen:
            continue
        learner = _trained(name, seen)
        with threadpool_limits(1):
            scores = learner.predict_proba(np.vstack([items[n].features for n in asked]))[:, 1]
        ends = np.cumsum([len(items[n].right) for n in asked])
        for n, score in zip(asked, np.split(scores, ends[:-1]), strict=True):
            won[n] = _picked(score, items[n])
    blind = np.isnan(won)
    won[blind] = [item.chance for item, is_blind in zip(items, blind, strict=True) if is_blind]
    return won


def _trained(name: str, seen: list[Told]):
    features, right = np.vstack([i.features for i in seen]), np.concatenate([i.right for i in seen])
    learner = LEARNERS[name]()
    # Several threads wait for each other longer than one alone works where a machine has other work, too.
    with warnings.catch_warnings(), threadpool_limits(1):
        warnings.simplefilter("ignore", ConvergenceWarning)
        return learner.fit(features, right)


def _picked(score: np.ndarray, item: Told) -> float:
    best = score >= score.max() - 1e-9
    return float(item.right[best].sum() / best.sum())
