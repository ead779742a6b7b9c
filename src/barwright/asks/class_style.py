"""The style of a class: which measures are worth reading, from what it has been taught and what the teacher allows."""

from collections.abc import Iterable, Mapping
from typing import Literal, Protocol

from barwright.items.taught import Taught
from barwright.notation.patterns import LEVELS, NEW_AT_LEVEL, figures_up_to
from barwright.notation.plain import LAWS, Law, Style

Allowed = Literal[Law, "equal-chances"]

# Sounds for so many beats: in the first year, in the second, and later; beats of three parts hold more.
FIRST_YEAR, SECOND_YEAR, LATER = (3, 2), (2, 1), (3, 1)
IN_THREE, IN_THREE_LATER = (3, 1), (4, 1)
FIRST_YEAR_LEVELS = frozenset({"grade 3", "grade 4"})
BEFORE_INNER_TIES = frozenset({"grade 3", "grade 4", "grade 5"})  # ties come over barlines first, between long notes


class Wishes(Protocol):
    """What of a blueprint's elements decides on the style."""

    @property
    def patterns(self) -> list[str]:
        """Names of levels, and beat patterns in rhythm text."""

    @property
    def most_sounds(self) -> int | None:
        """In a measure; None for the usual."""

    @property
    def plain(self) -> bool:
        """Whether measures are kept plain at all."""

    @property
    def allow(self) -> list[Allowed]:
        """What is lifted."""


def even_chances(wishes: Wishes) -> bool:
    """Whether every measure has the same chance to be drawn."""
    return not wishes.plain or "equal-chances" in wishes.allow


def style_of(wishes: Wishes, taught: Taught, weights: Mapping[str, int], *, hardest: int) -> Style | None:
    """The style of a class; None where any legal, readable measure will do.

    Without patterns it has every figure of method books that is made of what is taught.
    """
    if not (wishes.plain or wishes.patterns or wishes.most_sounds or hardest):
        return None
    figures = taught_figures(wishes.patterns or LEVELS[-1:], taught)
    return Style(
        figures,
        frozenset(_lifted(wishes)),
        first=frozenset(f for f in figures if f.startswith("r")) if wishes.patterns else frozenset(),
        most_sounds=wishes.most_sounds or 0,
        rate=_rate(taught, wishes.patterns),
        rate_in_three=IN_THREE_LATER if "s" in taught.tokens else IN_THREE,
        hardest=hardest,
        weights=tuple(weights.values()) if hardest else (0,) * len(weights),
        simple_ties=not taught.syncopation,
        inner_ties=not (wishes.patterns and BEFORE_INNER_TIES.issuperset(wishes.patterns)),
    )


def _lifted(wishes: Wishes) -> Iterable[Law]:
    """Without `plain` every bound, but for the patterns that are named."""
    for law in LAWS:
        named = law == "any-pattern" and bool(wishes.patterns)
        if law in wishes.allow or not (wishes.plain or named):
            yield law


def _rate(taught: Taught, patterns: list[str]) -> tuple[int, int]:
    if patterns and set(patterns) <= FIRST_YEAR_LEVELS:
        return FIRST_YEAR
    return LATER if {"s", "et", "qt"} & taught.tokens else SECOND_YEAR


def taught_figures(patterns: Iterable[str], taught: Taught) -> frozenset[str]:
    """The figures of these levels that are made of what is taught, and these figures."""
    figures: set[str] = set()
    for pattern in patterns:
        figures.update(figures_up_to(pattern) if pattern in NEW_AT_LEVEL else (pattern,))
    # A silent beat of three has one sign where that is taught.
    tokens = taught.tokens
    return frozenset(f for f in figures if tokens.issuperset(f.split()) and not (f == "rq re" and "rq." in tokens))
