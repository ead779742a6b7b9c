"""How long a student needs for an item, without any of the arithmetic of answers."""

from collections.abc import Sequence

from barwright.asks import ASKS

SECONDS, SECONDS_OF_COUNTS = 60, 105
"""What an item takes: about a minute, one about counts one and a half to two (common practice)."""


def questions_in(minutes: int, parts: Sequence[tuple[str, int]]) -> int:
    """About how many questions of a mix, which is given as asks and how many of each, a student answers in so long.

    >>> questions_in(20, [("finish-measure", 3), ("write-counts", 1)]), questions_in(20, [])
    (16, 0)
    """
    questions = sum(items for _, items in parts)
    seconds = sum(items * seconds_of_ask(ask) for ask, items in parts)
    return 60 * minutes * questions // seconds if seconds else 0


def seconds_of_ask(ask: str) -> int:
    """What one item of an ask takes.

    >>> seconds_of_ask("finish-measure"), seconds_of_ask("write-counts")
    (60, 105)
    """
    return SECONDS_OF_COUNTS if ASKS[ask].family == "count-labeling" else SECONDS
