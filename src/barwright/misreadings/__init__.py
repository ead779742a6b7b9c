"""The typical errors of students who learn to read rhythm: one pure function each, and one table of them all.

An error replaces one function of reading (a symbol's value, a meter's capacity, a position's label, the grouping) or
the last step of answering; `answers` derives what the student then picks or writes.
"""

from barwright.misreadings.added_signs import ADDED_SIGNS
from barwright.misreadings.adding_up import ADDING, BEGINNERS
from barwright.misreadings.belief import Misreading, Reading
from barwright.misreadings.count_labels import COUNTING
from barwright.misreadings.count_signs import REST_COUNTS
from barwright.misreadings.first_counts import BEGINNER_COUNTS
from barwright.misreadings.lengths import DURATIONS
from barwright.misreadings.time_signatures import METERS

__all__ = ["MISREADINGS", "SELDOM", "Misreading", "Reading"]

# Errors that show seldom, or that a teacher is seldom after (common practice): offered where the others lead to too few
# different answers, or where a blueprint asks for them.
SELDOM = frozenset(
    {
        "beat-of-the-blank-answered",
        "dot-shortens",
        "every-note-counted-from-one",
        "four-beats-counted-in-twos",
        "last-beat-of-each-note-written",
        "last-held-beat-counted-again",
        "names-are-parts-of-the-measure",
        "names-are-parts-of-a-beat",
        "parentheses-around-the-notes",
        "quarter-means-four-beats",
        "separate-notes-joined-by-hyphens",
    }
)

MISREADINGS: dict[str, Misreading] = {
    m.id: m for m in (*DURATIONS, *ADDING, *BEGINNERS, *METERS, *COUNTING, *REST_COUNTS, *BEGINNER_COUNTS, *ADDED_SIGNS)
}
