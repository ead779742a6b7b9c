"""How long a student needs for an item, without any of the arithmetic of answers."""

from barwright.asks import ASKS

SECONDS, SECONDS_OF_COUNTS = 60, 105
"""What an item takes: about a minute, one about counts one and a half to two (common practice)."""


def seconds_of_ask(ask: str) -> int:
    """What one item of an ask takes.

    >>> seconds_of_ask("finish-measure"), seconds_of_ask("write-counts")
    (60, 105)
    """
    return SECONDS_OF_COUNTS if ASKS[ask].family == "count-labeling" else SECONDS
