"""How an item has gone: its counts over sections, the share right, and whether there is something to look at."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import sqrt
from typing import Any

# Under three in ten right, or above nine in ten: common practice, see results/survey.py.
HARD, EASY = 0.30, 0.90
_Z = 1.959963984540054
LOOK_AT = "look-at"


@dataclass(frozen=True, slots=True)
class Went:
    """All counts of one item: `picks` in the order of its content's choices, `keys` which of these are right."""

    asked: int
    right: int
    picks: tuple[int, ...]
    keys: tuple[bool, ...]

    @property
    def share(self) -> float:
        """The share that was right."""
        return self.right / self.asked

    @property
    def flagged(self) -> bool:
        """Whether to look at it: a wrong choice is picked more often than any right one, or with a certainty of 95 %
        (Wilson 1927) under three in ten, or over nine in ten, are right."""
        low, high = interval(self.right, self.asked)
        wrong = max((n for n, key in zip(self.picks, self.keys, strict=True) if not key), default=0)
        right = max((n for n, key in zip(self.picks, self.keys, strict=True) if key), default=0)
        return wrong > right or high < HARD or low > EASY


def interval(right: int, asked: int) -> tuple[float, float]:
    """The 95 % interval of a share by Wilson (1927).

    >>> [round(each, 3) for each in interval(15, 25)]
    [0.407, 0.766]
    """
    share, square = right / asked, _Z * _Z
    middle = (share + square / (2 * asked)) / (1 + square / asked)
    half = _Z * sqrt(share * (1 - share) / asked + square / (4 * asked * asked)) / (1 + square / asked)
    return middle - half, middle + half


def went(records: Iterable[Mapping[str, Any]], keys: Iterable[bool]) -> Went | None:
    """The counts of an item added up; None if there are none, or none that fit its choices.

    Of several counts of one form, section and date the one of most students counts: others are of an earlier reading of
    the same answers.
    """
    right_ones = tuple(keys)
    fullest: dict[tuple[str, str, str], Mapping[str, Any]] = {}
    for record in records:
        if record["kind"] == "counts" and len(record["picks"]) == len(right_ones):
            place = (record["form"], record["section"], record["date"])
            if place not in fullest or _more(record) > _more(fullest[place]):
                fullest[place] = record
    if not fullest:
        return None
    asked, right = (sum(record[name] for record in fullest.values()) for name in ("asked", "right"))
    picks = tuple(map(sum, zip(*(record["picks"] for record in fullest.values()), strict=True)))
    return Went(asked, right, picks, right_ones)


def _more(record: Mapping[str, Any]) -> tuple[int, int, list[int]]:
    return record["asked"], record["right"], record["picks"]
