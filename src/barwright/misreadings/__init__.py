"""The typical errors of students who learn to read rhythm: one pure function each, and one table of them all.

An error replaces one function of reading (a symbol's value, a meter's capacity, a position's label, the grouping) or
the last step of answering; `answers` derives what the student then picks or writes.
"""

from collections.abc import Iterable

from barwright.misreadings.added_signs import ADDED_SIGNS
from barwright.misreadings.adding_up import ADDING, BEGINNERS
from barwright.misreadings.belief import Misreading, Reading
from barwright.misreadings.count_labels import COUNTING
from barwright.misreadings.count_signs import REST_COUNTS
from barwright.misreadings.first_counts import BEGINNER_COUNTS
from barwright.misreadings.lengths import DURATIONS
from barwright.misreadings.time_signatures import METERS
from barwright.misreadings.turned_around import ORDERS

__all__ = ["EVEN_LOOKS", "JOINT", "MISREADINGS", "SELDOM", "Misreading", "Reading", "likeliest_first"]

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

# Errors that fewer students are thought to hold (common practice), but of which choices are made that no look at them
# tells from the right one. Parts about named misreadings do without.
EVEN_LOOKS = frozenset(
    {
        "dot-counted-as-a-note",
        "dot-taken-for-a-rest",
        "notes-of-a-beat-turned-around",
        "only-the-beats-counted",
    }
)

MISREADINGS: dict[str, Misreading] = {
    m.id: m
    for m in (
        *DURATIONS,
        *ADDING,
        *BEGINNERS,
        *METERS,
        *ORDERS,
        *COUNTING,
        *REST_COUNTS,
        *BEGINNER_COUNTS,
        *ADDED_SIGNS,
    )
}


# Errors that take one sign for another: rarer than a sign passed over, or than a slip (common practice).
CONFUSIONS = frozenset(
    {
        "whole-and-half-rest-swapped",
        "filled-head-lasts-longer",
        "whole-and-half-note-swapped",
        "half-and-quarter-rest-swapped",
        "eighth-and-quarter-rest-swapped",
        "more-flags-last-longer",
        "beamed-pair-is-one-eighth",
    }
)
JOINT = "+"  # stands between the ids of two misreadings that are held at once; no id has it
# Swapping the two numbers is rarer than any slip or habit that leads to the same answer (common practice).
RARE = frozenset({"numbers-of-the-signature-swapped", *SELDOM})


def likeliest_first(ids: Iterable[str]) -> tuple[str, ...]:
    """Misreadings that lead to one answer on one excerpt, the likeliest first; those alike in this keep their order.

    Where a sign stands that is easily passed over (a dot, a rest, a tie) that is the likeliest reason; then slips of
    adding up and of counting; then what is believed of the time signature; then one sign taken for another; then what
    shows seldom; last two that are held at once (common practice).

    >>> likeliest_first(["numbers-of-the-signature-swapped", "one-beat-too-few-counted", "dots-passed-over"])
    ('dots-passed-over', 'one-beat-too-few-counted', 'numbers-of-the-signature-swapped')
    """
    return tuple(sorted(ids, key=_rank))


def _rank(ident: str) -> int:
    """How unlikely a misreading is, from 0; two held at once are less likely than any alone."""
    if JOINT in ident:
        return 5
    if ident in RARE:
        return 4
    if ident in CONFUSIONS:
        return 3
    misreading = MISREADINGS[ident]
    if misreading.replaces == "capacity":
        return 2
    return 0 if misreading.needs else 1
