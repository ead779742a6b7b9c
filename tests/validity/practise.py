"""A guesser learns from many quizzes what right answers look like, against choices that avoid what it has learnt.

    python tests/validity/practise.py [ASK...]

Makes quizzes of every blueprint of this folder, with other seeds than those that are measured, and for each question
the sets of wrong choices that it may have. Then it goes on in rounds (fictitious play; Brown 1951): trees are fitted
to all that was chosen so far, and of each question that set is chosen whose right answer stands out least to them.
Against one guesser alone all choices would lean to the other side, and the next would find that; so the guessers of
the last rounds are written to templates/guesser/ASK.json, of which `guesser.practised` takes one for each item. Some
ten minutes on two cores; it prints what trees that were fitted to other quizzes win over chance. Needed anew when
misreadings come, or choices are taken by other rules; begin without those files, for quizzes are made with what they
say. Only asks are practised that have several sets for a question: the five or six of finish-measure gain nothing.
"""

import json
import sys
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from random import Random

import numpy as np
from guess_features import choice_set
from guess_quizzes import blueprint_paths
from sklearn.ensemble import HistGradientBoostingClassifier
from threadpoolctl import threadpool_limits

from barwright.blueprint.blueprint import plan_of
from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.forms.judging import Tally
from barwright.forms.picked_items import Want, drawn_pool
from barwright.forms.ready_items import question_of
from barwright.forms.seeing import seen_item
from barwright.forms.watch import Guessers
from barwright.guesser import SeenItem
from barwright.guesser.practised import numbers_of

OUT = Path(__file__).parents[2] / "templates" / "guesser"
ASKS = ("counts-for-rhythm", "rhythm-for-counts", "finish-measure-with-two", "rhythm-for-time-signature")
# Quizzes of each blueprint; sets that are drawn for each question, and how many of them are weighed.
QUIZZES, TRIED, KEPT = 2, 96, 24
ROUNDS, GUESSERS, FOLDS = 9, 6, 5
TREES, LEAVES, RATE = 60, 8, 0.15
THOUSANDTHS = 1000
# Sets that stand out as little as each other: one of them is taken at random.
ALIKE = 0.05


@dataclass(frozen=True)
class Told:
    """One set of choices: numbers, a row an option, and which option is right."""

    numbers: np.ndarray
    right: int


def told(item: SeenItem) -> Told:
    """An item as trees are told of it."""
    rows, right = numbers_of(item), item.right
    assert right is not None
    return Told(np.array([rows[option[0]] for option in item.options], dtype=float), right)


def made_pools(path: Path) -> dict[str, list[list[Told]]]:
    """For each ask the questions of quizzes made of a blueprint, each with the sets of choices that it may have."""
    blueprint, _ = read_blueprint(path.read_text("utf-8"), path.name)
    pools: dict[str, list[list[Told]]] = {}
    for number in range(1, 1 + QUIZZES):
        quiz = blueprint.model_copy(update={"seed": blueprint.seed + number})
        plans = {part.ask: plan_of(part, quiz) for part in quiz.part}
        rngs = {ask: Random(f"{path.stem} {number} {ask}") for ask in ASKS}
        for item in (placed.item for made in made_forms(quiz) for placed in made.form.items if placed.item.ask in ASKS):
            plan, question, want = plans[item.ask], question_of(item), Want(choices=len(item.choices), tried=TRIED)
            rng = rngs[item.ask]
            pool = drawn_pool(plan, question, want, tally=Tally(), rng=rng, guessers=Guessers())
            drawn = [seen_item(item.ask, question.keys, [c.answer for c in wrong]) for wrong in pool.sets]
            able = list({choice_set(each): each for each in drawn if each.right is not None}.values())
            if able:
                pools.setdefault(item.ask, []).append([told(each) for each in rng.sample(able, min(KEPT, len(able)))])
    return pools


def fitted(seen: Sequence[Told]) -> HistGradientBoostingClassifier:
    """Trees that tell right answers of these items as well as they can."""
    learner = HistGradientBoostingClassifier(
        max_iter=TREES,
        learning_rate=RATE,
        max_leaf_nodes=LEAVES,
        l2_regularization=1.0,
        random_state=1,
        early_stopping=False,
    )
    right = np.concatenate([np.arange(len(each.numbers)) == each.right for each in seen])
    with threadpool_limits(1):
        return learner.fit(np.vstack([each.numbers for each in seen]), right)


def scored(learner: HistGradientBoostingClassifier, sets: Sequence[Told]) -> list[np.ndarray]:
    """The scores of the options of each set, in log odds."""
    with threadpool_limits(1):
        scores = learner.decision_function(np.vstack([each.numbers for each in sets]))
    return np.split(scores, np.cumsum([len(each.numbers) for each in sets])[:-1])


def chosen(learner: HistGradientBoostingClassifier, sets: Sequence[Sequence[Told]], rng: Random) -> list[Told]:
    """Of each question the set whose right answer stands out least."""
    scores = iter(scored(learner, [each for question in sets for each in question]))
    taken = []
    for question in sets:
        each_scored = zip(question, islice(scores, len(question)), strict=True)
        out = [abs(score[each.right] - score.mean()) + ALIKE * rng.random() for each, score in each_scored]
        taken.append(question[int(np.argmin(out))])
    return taken


def won(learner: HistGradientBoostingClassifier, items: Sequence[Told]) -> float:
    """What trees win of these over chance, in items."""
    over = 0.0
    for each, score in zip(items, scored(learner, items), strict=True):
        best = score >= score.max() - 1e-9
        over += best[each.right] / best.sum() - 1 / len(score)
    return over


def whole(learner: HistGradientBoostingClassifier) -> list[object]:
    """The trees in whole numbers, as `guesser.practised` reads them."""

    def tree(nodes: np.ndarray, number: int) -> object:
        node = nodes[number]
        if node["is_leaf"]:
            return round(THOUSANDTHS * float(node["value"]))
        first, second = tree(nodes, int(node["left"])), tree(nodes, int(node["right"]))
        # All numbers are whole, so that rounding down what lies between two of them changes nothing.
        return [int(node["feature_idx"]), int(np.floor(node["num_threshold"])), first, second]

    return [tree(each[0].nodes, 0) for each in learner._predictors]


def practised(ask: str, known: Sequence[tuple[str, list[Told]]]) -> list[list[object]]:
    """The guessers of the last rounds, each a list of trees; from questions of an ask with the name of their quiz."""
    sets, rng = [each for _, each in known], Random(ask)
    so_far, guessers = [[each[0] for each in sets]], list[list[object]]()
    print(f"{ask}: {len(sets)} questions, {sum(map(len, sets)) / len(sets):.0f} sets each", flush=True)
    print(f"  at random {_won_elsewhere(known, so_far[0]):5.1f}", flush=True)
    for _ in range(ROUNDS):
        learner = fitted([each for past in so_far for each in past])
        so_far.append(chosen(learner, sets, rng))
        guessers.append(whole(learner))
    mixed = [so_far[-1 - rng.randrange(GUESSERS)][n] for n in range(len(sets))]
    print(f"  against the last guesser {_won_elsewhere(known, so_far[-1]):5.1f}", flush=True)
    print(f"  each against one of the last {GUESSERS} {_won_elsewhere(known, mixed):5.1f}", flush=True)
    return guessers[-GUESSERS:]


def _won_elsewhere(known: Sequence[tuple[str, list[Told]]], items: Sequence[Told]) -> float:
    """What trees that were fitted to other quizzes win of these over chance, in points."""
    quizzes = sorted({quiz for quiz, _ in known})
    fold, over = {quiz: number % FOLDS for number, quiz in enumerate(quizzes)}, 0.0
    for each in range(FOLDS):
        mine = [item for item, (quiz, _) in zip(items, known, strict=True) if fold[quiz] == each]
        others = [item for item, (quiz, _) in zip(items, known, strict=True) if fold[quiz] != each]
        over += won(fitted(others), mine) if mine and others else 0
    return 100 * over / len(items)


def practise(ask: str, known: Sequence[tuple[str, list[Told]]]) -> None:
    """Practises an ask, and writes what was learnt: a list of guessers, one tree a line."""
    texts = (",\n".join(json.dumps(tree, separators=(",", ":")) for tree in trees) for trees in practised(ask, known))
    (OUT / f"{ask}.json").write_text("[" + ",\n".join(f"[{text}]" for text in texts) + "]\n", "utf-8")


def main(asks: Sequence[str]) -> None:
    """Practises these asks, or all."""
    OUT.mkdir(exist_ok=True)
    paths = blueprint_paths()
    with ProcessPoolExecutor() as pool:
        pools = dict(zip((path.stem for path in paths), pool.map(made_pools, paths), strict=True))
        known = [[(q, sets) for q, by_ask in pools.items() for sets in by_ask.get(ask, ())] for ask in asks or ASKS]
        list(pool.map(practise, asks or ASKS, known))


if __name__ == "__main__":
    main(sys.argv[1:])
