"""A practised guesser: what it knows of choices, how it follows trees, and that the trees in use can be read."""

import json
from pathlib import Path

import pytest

from barwright.guesser import SeenItem, seen_choice
from barwright.guesser.practised import KNOWN, Tree, numbers_of, practised, scores_of, standing_out, standing_out_to
from barwright.templates_folder import templates_folder

FILES = sorted((templates_folder() / "guesser").glob("*.json"))


def item(*texts: str, ask: str = "rhythm-for-counts", key: int = 0, kind: str = "symbols") -> SeenItem:
    return SeenItem(ask, tuple(seen_choice(kind, text) for text in texts), frozenset({key}))


def known(each: SeenItem, name: str) -> list[int]:
    """What is known of each choice by this name."""
    return [numbers[KNOWN.index(name)] for numbers in numbers_of(each)]


def test_each_choice_has_a_number_of_each_name() -> None:
    assert [len(numbers) for numbers in numbers_of(item("h", "q q", "q rq"))] == [len(KNOWN)] * 3


@pytest.mark.parametrize(
    ("name", "numbers"),
    [
        ("symbols", [1, 2, 3]),
        ("rests", [0, 1, 1]),
        ("choices with less symbols", [0, 1, 2]),
        # Itself counts: nobody else has no rest, two have one.
        ("choices with same rests", [1, 2, 2]),
        ("choices with less rests", [0, 1, 1]),
        # The half lasts as long as a quarter and its rest; the last is a quarter longer.
        ("choices with less length", [0, 0, 2]),
        ("choices with same length", [2, 2, 1]),
        ("q", [0, 1, 2]),
        # Three quarters in three choices, so one on the mean; times three: none is 3 below it, two 3 above.
        ("q beyond the mean", [-3, 0, 3]),
        ("choices", [3, 3, 3]),
    ],
)
def test_what_is_known_of_three_choices(name: str, numbers: list[int]) -> None:
    assert known(item("h", "q rq", "q q rq"), name) == numbers


@pytest.mark.parametrize("first", [0, 1, 2])
def test_nothing_is_known_of_places(first: int) -> None:
    texts = ["h", "q rq", "q q rq"]
    turned = [*texts[first:], *texts[:first]]
    assert sorted(numbers_of(item(*turned))) == sorted(numbers_of(item(*texts)))


RESTS = KNOWN.index("rests")
SYMBOLS = KNOWN.index("symbols")
TREES: tuple[Tree, ...] = (
    # No rest: 400. One or more: up to two symbols -100, else 50.
    (RESTS, 0, 400, (SYMBOLS, 2, -100, 50)),
    # Whatever it is.
    7,
)


def test_trees_are_followed_and_added_up() -> None:
    assert scores_of(TREES, item("h", "q rq", "q q rq")) == [407, -93, 57]


def test_choices_of_one_length_cannot_be_right_where_the_length_decides() -> None:
    """Half, and quarter with its rest, last as long: only the third can be right, so it alone is scored."""
    choices = tuple(seen_choice("symbols", text) for text in ("h", "q rq", "q q rq"))
    assert scores_of(TREES, SeenItem("finish-measure", choices, frozenset({2}), one_length=True)) == [57]


def test_nothing_stands_out_in_an_ask_that_was_not_practised() -> None:
    assert practised("beats-left") == ()
    assert standing_out(item("h", "q rq", "q q rq", ask="beats-left")) == 0


def test_nothing_stands_out_that_cannot_be_told_from_another_by_its_length() -> None:
    """The half is right, and lasts as long as the quarter with its rest: of these two neither is picked."""
    choices = tuple(seen_choice("symbols", text) for text in ("h", "q rq", "q q rq", "q"))
    shared, alone = (SeenItem("finish-measure", choices, frozenset({key}), one_length=True) for key in (0, 2))
    assert standing_out_to([TREES], shared) == 0
    # Of two options 57 and 407 thousandths, the mean 232: 175 below it, in hundredths 17.5, rounded down.
    assert standing_out_to([TREES], alone) == -18


@pytest.mark.parametrize(("key", "out"), [(0, 28), (1, -22), (2, -7)])
def test_how_far_the_right_answer_stands_out_is_told_from_the_mean_of_all(key: int, out: int) -> None:
    """407, -93 and 57 thousandths of log odds, 123 2/3 on the mean: in hundredths, rounded down."""
    assert standing_out_to([TREES], item("h", "q rq", "q q rq", key=key)) == out


def test_each_right_answer_goes_by_one_guesser_and_all_guessers_see_some() -> None:
    """Three guessers, each of which adds another hundredth; which of them tells goes by the text."""
    guessers = [[(SYMBOLS, 1, 0, 20 * n)] for n in (1, 2, 3)]
    seen = [standing_out_to(guessers, item(f"{first} {second}", "w")) for first in "hqes" for second in "hqes"]
    # Half of what the tree adds, since the other of two choices has nothing of it.
    assert set(seen) == {1, 2, 3}


def test_what_stands_out_goes_by_the_guessers_of_the_ask() -> None:
    several = [item(f"{first} q", "w", "q q q", kind="measures") for first in "hqe"]
    for each in several:
        assert standing_out(each) == standing_out_to(practised("rhythm-for-counts"), each)
    assert any(map(standing_out, several))


def test_guessers_are_read_once_so_nobody_can_change_what_they_know() -> None:
    """Tuples of tuples to the last tree: of what can be changed there is no hash."""
    assert {hash(guesser) for guesser in practised("rhythm-for-counts")}


def ends(tree: object) -> list[int]:
    """What a tree may end at, all that it asks for looked at."""
    if isinstance(tree, int):
        return [tree]
    assert isinstance(tree, list)
    place, most, *after = tree
    assert 0 <= place < len(KNOWN)
    assert isinstance(most, int)
    return [end for each in after for end in ends(each)]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_trees_in_use_ask_for_what_is_known(path: Path) -> None:
    """Each place is one of KNOWN, all is whole, and no tree knows the answer: none adds 3 in log odds."""
    guessers = json.loads(path.read_text("utf-8"))
    assert len(guessers) > 1
    for trees in guessers:
        assert len(trees) > 10
        assert all(abs(end) < 3_000 for tree in trees for end in ends(tree))


def test_asks_that_were_practised() -> None:
    """Those whose questions have several sets of wrong choices, of which one can be taken."""
    assert [path.stem for path in FILES] == [
        "counts-for-rhythm",
        "finish-measure-with-two",
        "rhythm-for-counts",
        "rhythm-for-time-signature",
    ]
