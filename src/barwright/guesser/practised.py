"""A student who has answered many other quizzes, and picks by what right answers looked like in them.

What named strategies miss shows only in several things at once, such as few hyphens where another choice has as many
notes. So decision trees were fitted to which choices were right in quizzes of many classes
(`tests/validity/practise.py`, gradient boosting; Friedman 2001, Annals of Statistics 29:1189-1232), an ask at a time,
and choices that guessers like these would find are avoided. A tree asks for one number of a choice after another; what
it ends at is added up over all trees. All numbers are whole.
"""

import json
from collections.abc import Sequence
from functools import cache
from typing import Any
from zlib import crc32

from barwright.guesser.seen import COUNTED, SeenItem
from barwright.guesser.strategies import (
    Habit,
    Past,
    length,
    likeness,
    likeness_by_letters,
    middle_length,
    shared_length,
    words_in_place,
    words_named,
)
from barwright.templates_folder import templates_folder

Tree = int | tuple[int, int, "Tree", "Tree"]
"""What is added to the score, or: the place of a number, the most that it may be to go on with the first tree that
follows, else with the second."""

# Tokens that are counted in every choice, one by one.
TOKENS = (
    *("w", "h", "h.", "q", "q.", "e", "e.", "s", "rW", "rh", "rq", "rq.", "re", "rs", "|"),
    *("fits", "fits-not", "adds-up", "stands-for", "gets-beat", "how-many", "big-beats", "kind-of-note"),
    *("notes", "measures", "lasts", "1", "2", "3", "4", "6", "8", "&"),
)
_COMPARED: tuple[tuple[str, Habit], ...] = (
    ("length", length),
    ("middle length", middle_length),
    ("choices of this length", shared_length),
    ("likeness", likeness),
    ("likeness by letters", likeness_by_letters),
    ("words in place", words_in_place),
    ("words named", words_named),
)
_ASKED = ("less", "same")
# What is known of each choice, in this order: see `numbers_of`.
KNOWN: tuple[str, ...] = (
    *COUNTED,
    *(f"choices with {which} {what}" for what in (*COUNTED, *(name for name, _ in _COMPARED)) for which in _ASKED),
    *(f"{token}{beyond}" for beyond in ("", " beyond the mean") for token in TOKENS),
    "choices",
)
_NO_PAST = Past()
_HUNDREDTHS = 10  # thousandths


def numbers_of(item: SeenItem) -> list[tuple[int, ...]]:
    """What is known of each choice, in the order of KNOWN: whole numbers, none of them of the place of a choice.

    How often each of COUNTED stands in it; for these, and for what habits go by, how many choices have less and how
    many as much (itself, too); how often each of TOKENS stands in it, and how much more often than on the mean of all,
    times the number of choices; how many choices there are.
    """
    choices = item.choices
    known: list[Sequence[int]] = [*item.columns]
    for column in (*item.columns, *(habit(item, _NO_PAST) for _, habit in _COMPARED)):
        known.append([sum([other < each for other in column]) for each in column])
        known.append([column.count(each) for each in column])
    tokens = [[choice.tokens.count(token) for choice in choices] for token in TOKENS]
    known += tokens
    known += [[len(choices) * each - sum(column) for each in column] for column in tokens]
    known.append([len(choices)] * len(choices))
    return list(zip(*known, strict=True))


def scores_of(trees: Sequence[Tree], item: SeenItem) -> list[int]:
    """How likely each option of an item seems to be right: the higher the likelier, in thousandths of log odds."""
    numbers = numbers_of(item)
    return [sum([_followed(tree, numbers[option[0]]) for tree in trees]) for option in item.options]


def _followed(tree: Tree, numbers: Sequence[int]) -> int:
    """What a tree ends at."""
    while not isinstance(tree, int):
        tree = tree[2] if numbers[tree[0]] <= tree[1] else tree[3]
    return tree


def standing_out(item: SeenItem) -> int:
    """How far the right answer seems likelier than the mean of all, below 0 less likely, in hundredths of log odds.

    0 where the ask was not practised, or the right one shares its length with another.
    """
    return standing_out_to(practised(item.ask), item)


def standing_out_to(guessers: Sequence[Sequence[Tree]], item: SeenItem) -> int:
    """How far the right answer stands out to one of these guessers, which goes by the right answer.

    Choices that lean away from one are no habit that another could find.
    """
    right = item.right
    if not guessers or right is None:
        return 0
    text = item.choices[item.options[right][0]].text
    scores = scores_of(guessers[crc32(text.encode()) % len(guessers)], item)
    return (len(scores) * scores[right] - sum(scores)) // (_HUNDREDTHS * len(scores))


@cache
def practised(ask: str) -> tuple[tuple[Tree, ...], ...]:
    """The guessers of an ask, each with its trees, from the templates; none if it was not practised.

    Read once: every set of wrong choices asks for them.
    """
    path = templates_folder() / "guesser" / f"{ask}.json"
    if not path.is_file():
        return ()
    return tuple(tuple(map(_tree, trees)) for trees in json.loads(path.read_text("utf-8")))


def _tree(given: Any) -> Tree:
    """A tree as it stands in a file: a whole number, or a list of four of which the last two are trees."""
    if isinstance(given, int):
        return given
    place, most, first, second = given
    return int(place), int(most), _tree(first), _tree(second)
