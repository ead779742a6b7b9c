"""A bank as a table of text: one line an item, and a summary of all that were found."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from heapq import nsmallest

from barwright.asks import ASKS
from barwright.bank.states import STATES, State
from barwright.bank.views import View

WIDEST = 34
MOST_WAITING = 1000
_RANK = {ask: place for place, ask in enumerate(ASKS)}


@dataclass(frozen=True, slots=True)
class Found:
    """The first of the items that were found, in the order of the table, and how many there are in each state."""

    views: tuple[View, ...]
    states: Mapping[State, int]

    @property
    def total(self) -> int:
        """How many items were found."""
        return sum(self.states.values())


def found_of(views: Iterable[View], *, most: int) -> Found:
    """The views counted, and the first `most` of them by ask, excerpt and id, so that what is alike stands together."""
    states = dict.fromkeys(STATES, 0)
    first: list[View] = []
    last = len(_RANK)
    for view in views:
        states[view.state] += 1
        if _rank(view) <= last:  # most views of a large bank are of an ask that comes too late, and are not looked at
            first.append(view)
            if len(first) > 2 * most + MOST_WAITING:
                first = nsmallest(most, first, key=_place)
                last = _rank(first[-1]) if first else -1
    return Found(tuple(nsmallest(most, first, key=_place)), states)


def _rank(view: View) -> int:
    return _RANK.get(view.ask, len(_RANK))


def _place(view: View) -> tuple[int, str, str]:
    return _rank(view), view.excerpt, view.entry.id


def table_lines(listing: Found) -> tuple[str, ...]:
    """The table: id, state, ask, excerpt, key, misreadings on offer, uses, share right, tags."""
    rows = [
        ("id", "review", "ask", "excerpt", "key", "misreadings", "uses", "right", "tags"),
        *map(_row, listing.views),
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    return (*lines, *summary_lines(listing)) if listing.views else summary_lines(listing)


def summary_lines(listing: Found) -> tuple[str, ...]:
    """How many items there are, by state, and how many are not shown."""
    total = listing.total
    states = ", ".join(f"{count:,} {state}" for state, count in listing.states.items())
    lines = [f"{total:,} {'item' if total == 1 else 'items'}: {states}."]
    if total > len(listing.views):
        lines.append(f"{total - len(listing.views):,} more are not shown: narrow them by --where, or raise --most.")
    return tuple(lines)


def _row(view: View) -> tuple[str, ...]:
    wrong = view.misreadings
    return (
        view.entry.id,
        view.state,
        view.ask,
        _short(view.excerpt),
        _short(", ".join(view.keys)),
        str(len(wrong)),
        str(view.uses),
        _right(view),
        _short(", ".join(sorted(view.named("tag", "tag")))),
    )


def _right(view: View) -> str:
    """The share right, how many were asked, and a mark where there is something to look at; empty if never counted."""
    count = view.went
    if count is None:
        return ""
    return f"{count.share:.2f} of {count.asked}{' !' if count.flagged else ''}"


def _short(text: str) -> str:
    """The text, cut so that a table stays in its columns."""
    return text if len(text) <= WIDEST else f"{text[: WIDEST - 3]}..."
