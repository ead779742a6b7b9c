"""Whether rows of counts look like counts: who knows how they look must not win by that.

Parentheses stand at the rests, and each measure begins with the same number as the key's.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from barwright.counting.rows import parse_row
from barwright.items.item import Answer


@dataclass(slots=True)
class Looks:
    """How many items of counts have wrong choices that look like counts: parentheses at the rests, each measure from 1.

    Two at least must in three items of four, and one in every item, so that knowing how counts look is not enough.
    """

    items: int = 0
    enough: int = 0

    def wanted(self) -> int:
        """How many of the next item's wrong choices must look like the key."""
        return 1 if 4 * self.enough >= 3 * (self.items + 1) else 2

    def add(self, key: Answer, wrong: Sequence[Answer]) -> None:
        """Takes the item as the next of the form; only rows of counts have looks."""
        if key.kind == "row":
            self.items += 1
            self.enough += alike_rows(key, wrong) >= 2

    def take_back(self, key: Answer, wrong: Sequence[Answer]) -> None:
        """Takes an item out again."""
        if key.kind == "row":
            self.items -= 1
            self.enough -= alike_rows(key, wrong) >= 2


def rows_like(key: Answer, rows: Iterable[Answer]) -> frozenset[Answer]:
    """The rows that have parentheses exactly where the key has, and begin every measure with the same number."""
    shape = _shape(key.text)
    return frozenset([answer for answer in rows if _shape(answer.text) == shape])


def alike_rows(key: Answer, wrong: Sequence[Answer]) -> int:
    """How many wrong rows have parentheses exactly where the key has, and begin every measure with the same number.

    >>> alike_rows(Answer("row", "1 (2) 3"), [Answer("row", "1 (2) 3-4"), Answer("row", "1 2 3")])
    1
    """
    like = rows_like(key, wrong)
    return sum(answer in like for answer in wrong)


_Shape = tuple[tuple[tuple[bool, ...], str], ...]


def _shape(row: str) -> _Shape:
    """Of each measure which labels are of rests, and where it begins to count."""
    return tuple([(tuple([label.startswith("(") for label in labels]), _start(labels)) for labels in parse_row(row)])


def _start(labels: Sequence[str]) -> str:
    return (labels[0] if labels else "").strip("(-)").split("-")[0].rstrip(")")
