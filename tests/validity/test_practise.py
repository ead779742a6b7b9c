"""Practising: trees in whole numbers say what the fitted ones say, and the set that stands out least is taken."""

from random import Random

import numpy as np
from practise import THOUSANDTHS, Told, chosen, fitted, scored, whole, won

from barwright.guesser import practised


def items(rng: Random, *, given_away: bool) -> list[Told]:
    """Sets of four choices with three numbers each; the right one has the largest first number, or any has."""
    made = []
    for _ in range(200):
        numbers = np.array([[rng.randrange(9) for _ in range(3)] for _ in range(4)], dtype=float)
        right = int(numbers[:, 0].argmax()) if given_away else rng.randrange(4)
        made.append(Told(numbers, right))
    return made


def test_trees_in_whole_numbers_say_what_the_fitted_trees_say() -> None:
    """Beside the learner's own sum, which begins with how often anything is right, and within what rounding takes."""
    seen = items(Random(1), given_away=True)
    learner = fitted(seen)
    trees = [practised._tree(each) for each in whole(learner)]
    own = [sum(practised._followed(tree, [int(n) for n in row]) for tree in trees) for row in seen[0].numbers]
    theirs = scored(learner, seen[:1])[0]
    assert np.abs((theirs - theirs[0]) * THOUSANDTHS - (np.array(own) - own[0])).max() <= len(trees)
    assert max(own) - min(own) > THOUSANDTHS


def test_what_gives_the_answer_away_is_won_and_what_does_not_is_not() -> None:
    assert won(fitted(items(Random(1), given_away=True)), items(Random(2), given_away=True)) > 0.4 * 200
    # A standard error of 200 items is 6; three of them.
    assert abs(won(fitted(items(Random(1), given_away=False)), items(Random(2), given_away=False))) < 3 * 6.2


def test_of_two_sets_that_is_taken_whose_right_answer_stands_out_less() -> None:
    learner = fitted(items(Random(1), given_away=True))
    out = Told(np.array([[8, 1, 1], [0, 1, 1], [0, 2, 1], [1, 1, 1]], dtype=float), 0)
    middle = Told(np.array([[4, 1, 1], [4, 1, 1], [4, 1, 1], [4, 1, 1]], dtype=float), 0)
    assert chosen(learner, [[out, middle], [middle, out]], Random(1)) == [middle, middle]
