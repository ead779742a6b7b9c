"""The typical errors of students who learn to read rhythm: one pure function each, and one table of them all.

An error replaces one function of reading (a symbol's value, a meter's capacity, a position's label, the grouping) or
the last step of answering; `answers` derives what the student then picks or writes.
"""

from barwright.misreadings.adding import ADDING
from barwright.misreadings.beginner_counts import BEGINNER_COUNTS
from barwright.misreadings.beginners import BEGINNERS
from barwright.misreadings.counting import COUNTING
from barwright.misreadings.durations import DURATIONS
from barwright.misreadings.meters import METERS
from barwright.misreadings.reading import Misreading, Reading
from barwright.misreadings.rest_counts import REST_COUNTS

__all__ = ["MISREADINGS", "Misreading", "Reading"]

MISREADINGS: dict[str, Misreading] = {
    m.id: m for m in (*DURATIONS, *ADDING, *BEGINNERS, *METERS, *COUNTING, *REST_COUNTS, *BEGINNER_COUNTS)
}
