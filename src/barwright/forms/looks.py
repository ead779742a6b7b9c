"""Whether rows of counts look like counts: who knows how they look must not win by that.

There are as many parentheses as rests, and each measure begins with the same number as the key's.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from barwright.counting.rows import Row, parse_row
from barwright.items.item import Answer


@dataclass(slots=True)
class Looks:
    """How many items of counts have wrong choices that look like counts: parentheses for rests, each measure from 1.

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
    """The rows that have in every measure as many parentheses as the key, and begin it with the same number."""
    shape = _shape(parse_row(key.text))
    return frozenset(answer for answer in rows if _shape(parse_row(answer.text)) == shape)


def alike_rows(key: Answer, wrong: Sequence[Answer]) -> int:
    """How many wrong rows have in every measure as many parentheses as the key, and begin it with the same number.

    >>> alike_rows(Answer("row", "1 (2) 3"), [Answer("row", "1 (2) 3-4"), Answer("row", "1 2 3")])
    1
    """
    like = rows_like(key, wrong)
    return sum(answer in like for answer in wrong)


_Shape = tuple[tuple[int, str], ...]


def _shape(row: Row) -> _Shape:
    """Of each measure how many labels are of rests, and where it begins to count."""
    return tuple((sum(label.startswith("(") for label in labels), _start(labels)) for labels in row)


def _start(labels: Sequence[str]) -> str:
    return (labels[0] if labels else "").strip("(-)").split("-")[0].rstrip(")")
