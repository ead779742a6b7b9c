"""What is assumed of students beforehand: how often they slip, guess, and hold a misreading at all.

All of it can be changed, and little hangs on it (see `sensitivity`). The higher slip rate is assumed: who slips less
than thought is diagnosed as well as with the true rate, who slips more is not.
"""

import re
from dataclasses import dataclass, replace

from barwright.errors import BarwrightError
from barwright.misreadings import EVEN_LOOKS, SELDOM
from barwright.showing import in_quotes

FEWEST_SLIPS, MOST_SLIPS, LEAST_PRIOR, MOST_PRIOR = 1, 40, 0.1, 30
"""Percent: outside of these no answer would tell of a misreading, or every one would."""
_NUMBER = re.compile(r"[0-9]{1,3}([.,][0-9]{1,6})?")


@dataclass(frozen=True, slots=True)
class Rates:
    """Priors and slip rates, all shares of 1.

    - `slips`: how often a held misreading is not acted on, for steady and for unsteady students (VanLehn 1982: bugs
      come and go), and `unsteady`, the share of the latter
    - `weaknesses`: how much of what shows no held misreading a student does not know, from hardly anything to all; and
      `weak`, the share of students of each level to begin with
    - `thwarted`: how often a student who finds no answer of the misreading on offer guesses, and does not look again
    - `stray`: how often one tick more or less is set where several are to be ticked
    - `testwise`: the share of guesses that fall on the choice that is most like the others
    - `typed_right`, `typed_foreseen`, `typed_joint`: how a guess is typed: right, as some misreading would have it, or
      as two together would
    - `together`: how often who holds two that show answers what both together lead to, where that can be answered, and
      not what one of them does
    - `prevalence`: share of students who hold one misreading, and `seldom` of one that shows seldom
    - `quiz_weight`, `section_weight`: of how many students' worth the prior is for the quiz, the quiz for a section;
      and `shape_weight`, the prior for how many misreadings are held at once, and how weak students are
    """

    slips: tuple[float, float] = (0.15, 0.4)
    unsteady: float = 0.25
    weaknesses: tuple[float, ...] = (0.05, 0.15, 0.35, 0.6, 0.95)
    weak: tuple[float, ...] = (0.35, 0.35, 0.15, 0.1, 0.05)
    thwarted: float = 0.5
    stray: float = 0.07
    testwise: float = 0.25
    typed_right: float = 0.1
    typed_foreseen: float = 0.45
    typed_joint: float = 0.05
    together: float = 0.5
    prevalence: float = 0.02
    seldom: float = 0.01
    quiz_weight: float = 80.0
    section_weight: float = 40.0
    shape_weight: float = 3.0

    def prior(self, misreading: str) -> float:
        """The share of students who hold this misreading, before any answer is seen."""
        return self.seldom if misreading in SELDOM | EVEN_LOOKS else self.prevalence


USUAL = Rates()
UNLISTED = 0.3
"""Who does not know this share of what no held misreading touches is wrong, but by none of these."""


def rates_of(*, slips: str = "", prior: str = "") -> Rates:
    """The usual rates with other percentages, as a teacher writes them; the usual one where a text is empty.

    `slips`: how often a steady student does not act on a misreading that is held (unsteady ones 25 in 100 more often);
    `prior`: how many students hold one misreading, before any answer is seen (half as many one that shows seldom).
    BarwrightError for what is no such number.

    >>> rates_of(slips="10").slips, rates_of(prior="4 %").prevalence
    ((0.1, 0.35), 0.04)
    """
    rates = USUAL
    if slips:
        share = _percent("--slips", slips, FEWEST_SLIPS, MOST_SLIPS)
        more = USUAL.slips[1] - USUAL.slips[0]
        rates = replace(rates, slips=(share, round(share + more, 6)))
    if prior:
        share = _percent("--prior", prior, LEAST_PRIOR, MOST_PRIOR)
        rates = replace(rates, prevalence=share, seldom=share * USUAL.seldom / USUAL.prevalence)
    return rates


def _percent(option: str, text: str, least: float, most: float) -> float:
    bare = text.strip().removesuffix("%").strip()
    if _NUMBER.fullmatch(bare) is None or not least <= float(bare.replace(",", ".")) <= most:
        raise BarwrightError(
            f"{option} {in_quotes(text)}: give a number of students or answers in a hundred, from {least:g} to {most:g}"
        )
    return float(bare.replace(",", ".")) / 100
