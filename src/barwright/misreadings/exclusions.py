"""Which two misreadings nobody holds at once: they say different things of the same sign, or are one idea twice.

Such pairs pass every mechanical test, and would otherwise be the most frequent of all (common practice).
"""

from functools import cache

from barwright.misreadings.belief import Misreading

Ids = frozenset[str]

PARENTHESES = frozenset(
    {
        "rest-counts-without-parentheses",
        "one-pair-of-parentheses-for-two-rests",
        "a-pair-of-parentheses-for-each-beat-of-a-rest",
        "parentheses-around-the-notes",
        "held-beats-in-parentheses",
        "open-notes-taken-for-rests",
        "long-rests-taken-for-notes",
        "tied-note-taken-for-a-rest",
        "dot-taken-for-a-rest",
    }
)
RESTS_WITHOUT_TIME = frozenset({"count-waits-during-rests", "rests-take-no-time", "rests-counted-as-held"})
HYPHENS = frozenset(
    {
        "held-beats-struck-again",
        "held-beats-in-parentheses",
        "separate-notes-joined-by-hyphens",
        "last-held-beat-counted-again",
        "last-beat-of-each-note-written",
        "last-held-beat-left-out",
        "counted-up-to-the-next-note",
        "counted-to-four-in-every-measure",
        "every-beat-split-in-two",
        "rests-counted-as-held",
    }
)
RESTARTS = frozenset(
    {
        "counting-goes-on-over-the-barline",
        "count-restarts-at-the-half-measure",
        "count-starts-again-after-a-rest",
        "every-note-counted-from-one",
        "counted-to-four-in-every-measure",
    }
)
# What counts are named after, where not after beats.
NAMES = frozenset(
    {
        "count-waits-during-rests",
        "notes-numbered-in-order",
        "numbers-and-ands-alternate",
        "lengths-written-as-counts",
        "count-restarts-at-the-half-measure",
        "tied-note-struck-again",
        "tied-note-taken-for-a-rest",
    }
)
BEATS = frozenset({"six-eight-counted-as-three-four", "cut-time-counted-in-four"})
DOTS = frozenset(
    {
        "dot-adds-one-beat",
        "dot-adds-half-a-beat",
        "dot-doubles",
        "dots-passed-over",
        "dot-shortens",
        "dot-taken-for-a-rest",
        "dot-counted-as-a-note",
    }
)
# What is said between the beats: nothing, or & everywhere.
BETWEEN = frozenset({"only-the-beats-counted", "every-beat-split-in-two", "numbers-and-ands-alternate"})
ALL_RESTS = frozenset({"every-rest-is-one-beat", "rests-take-no-time", "count-waits-during-rests"})
RESTS = ALL_RESTS | {
    "whole-rest-always-lasts-four-beats",
    "whole-and-half-rest-swapped",
    "half-and-quarter-rest-swapped",
    "eighth-and-quarter-rest-swapped",
}
ALL_SYMBOLS = frozenset(
    {
        "every-symbol-is-one-beat",
        "top-number-counts-the-notes",
        "names-are-parts-of-the-measure",
        "names-are-parts-of-a-beat",
        "quarter-means-four-beats",
        "as-many-symbols-as-beats",
    }
)
HEADS = frozenset({"filled-head-lasts-longer", "whole-and-half-note-swapped"})
EIGHTHS = frozenset({"eighth-gets-a-full-beat", "beamed-pair-is-one-eighth", "more-flags-last-longer"})
SLIPS = frozenset({"one-beat-too-many-counted", "one-beat-too-few-counted", "four-beats-counted-in-twos"})
CAPACITIES = frozenset(
    {
        "numbers-of-the-signature-swapped",
        "quarter-always-gets-the-beat",
        "every-measure-has-four-beats",
        "half-of-the-measure-taken-for-the-whole",
        "steps-between-the-beats-counted",
        "four-four-taken-for-granted",
        "six-eight-counted-as-three-four",
        "cut-time-counted-in-four",
        "every-eighth-is-a-big-beat",
    }
)
LAST_STEPS = frozenset(
    {
        "measure-taken-as-empty",
        "beats-that-are-there-answered",
        "only-the-neighbor-counted",
        "neighbor-copied",
        "blank-taken-for-one-beat",
        "filled-to-the-half-measure",
        "beat-of-the-blank-answered",
    }
)
# Who swaps the numbers themselves does not know them well enough to swap their jobs.
SWAPPED = frozenset({"numbers-of-the-signature-swapped", "jobs-of-the-numbers-mixed-up"})
HEARD_PARENTHESES = frozenset({"parentheses-passed-over", "parentheses-taken-for-a-hold"})
HEARD_HYPHENS = frozenset({"hyphens-taken-for-new-notes", "hyphens-taken-for-rests"})

# Of each of these a student holds one at most.
ONE_OF: tuple[Ids, ...] = (
    PARENTHESES,
    HYPHENS,
    RESTARTS,
    NAMES,
    BEATS,
    BETWEEN,
    DOTS,
    ALL_SYMBOLS,
    HEADS,
    EIGHTHS,
    SLIPS,
    CAPACITIES,
    LAST_STEPS,
    SWAPPED,
    HEARD_PARENTHESES,
    HEARD_HYPHENS,
)
# Of these two a student holds errors of the one or of the other.
EITHER_OR: tuple[tuple[Ids, Ids], ...] = (
    (PARENTHESES, RESTS_WITHOUT_TIME),  # no rest is counted, so none is marked rightly or wrongly
    (PARENTHESES, HEARD_PARENTHESES),
    (HYPHENS, HEARD_HYPHENS),
    (ALL_RESTS, RESTS),
    (RESTS_WITHOUT_TIME, RESTS),
    (ALL_SYMBOLS, DOTS | RESTS | HEADS | EIGHTHS),  # every symbol has its length from one rule
    (SLIPS, LAST_STEPS),  # nothing is added up there, so nothing slips
    (RESTARTS, NAMES),
)


@cache
def contradict(one: Misreading, other: Misreading) -> bool:
    """Whether nobody holds both: they contradict each other, or lead to the same answers by the same idea.

    >>> from barwright.misreadings import MISREADINGS
    >>> contradict(MISREADINGS["dots-passed-over"], MISREADINGS["dot-doubles"])
    True
    >>> contradict(MISREADINGS["dots-passed-over"], MISREADINGS["rests-take-no-time"])
    False
    """
    ids = {one.id, other.id}
    if len(ids) == 1 or other.id in one.confused_with or one.id in other.confused_with:
        return True
    if any(ids <= group for group in ONE_OF):
        return True
    return any(
        (one.id in left and other.id in right) or (other.id in left and one.id in right) for left, right in EITHER_OR
    )
