"""Every way in which a typed row of counts, or one count, may be written and is to be accepted."""

import re
from collections.abc import Callable
from functools import cache, lru_cache
from itertools import product

from barwright.rhythm.conventions import Conventions
from barwright.rhythm.labels import STROKE
from barwright.rhythm.rows import ROWS_KEPT, normal_row

MOST_SPELLINGS = 32

# For each system the labels that are often written as one word: a beat with what follows in it (1& 2&, takadimi ta), in
# Kodaly-style words a figure (titi ta, tikatika, syncopa). Common practice.
FIGURES = {
    "numbers": r"\d(?: (?:&|[a-z]+))+",
    "kodaly": r"\b(?:ti ka(?: ti ka)*|ti ti|syn co pa|tri o la|tam ti|tim ka)\b",
    "gordon": r"du(?: (?!du)[a-z]+)+",
    "takadimi": r"ta(?: (?!ta)[a-z]+)+",
    "eastman": r"\d(?: [a-z]+)+",
}
# How a rest may be marked, for each value of `rest_counts`: pattern -> what can stand for it.
RESTS = {
    "parentheses": (r"\(([^()]+)\)", (r"[\1]", r"( \1 )")),
    "strike": (f"((?:[^{STROKE}]{STROKE})+)", (lambda run: f"({run[0].replace(STROKE, '')})",)),
    "R": (r"R(?:-R)*", ("R", "rest")),
}

Change = Callable[[str], str]
Written = str | Callable[[re.Match[str]], str]


@lru_cache(ROWS_KEPT)
def spellings(text: str, conventions: Conventions) -> tuple[str, ...]:
    """The row or single count itself, then its other spellings, those nearest to it first; 32 at most.

    They vary the spaces between labels, the barlines, the `&`, the hyphen and the marks of rests. Each has the normal
    row of the text, so no other answer is accepted with it.

    >>> spellings("1 (2)", Conventions())
    ('1 (2)', '1(2)', '1 [2]', '1, (2)', '1 ( 2 )', '1[2]', '1, [2]', '1( 2 )', '1, ( 2 )')
    """
    normal = normal_row(text, conventions)
    steps = [
        [c for c in step if (one := c(text)) != text and normal_row(one, conventions) == normal]
        for step in _steps(conventions)
    ]
    # A change that is right alone is right together with the others (a test tries them all).
    found = {text: None}
    for picks in _nearest(tuple(map(len, steps))):
        spelling = text
        for step, pick in zip(steps, picks, strict=True):
            spelling = step[pick - 1](spelling) if pick else spelling
        found[spelling] = None
        if len(found) == MOST_SPELLINGS:
            break
    return tuple(found)


@cache
def _nearest(sizes: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    """Every pick of one change or none (0) for each step, those with the fewest changes first."""
    every = product(*(range(size + 1) for size in sizes))
    return tuple(sorted(every, key=lambda picks: (sum(map(bool, picks)), sum(picks), picks[::-1])))


@cache
def _steps(conventions: Conventions) -> tuple[tuple[Change, ...], ...]:
    """What can be written otherwise, step by step; figures first, since they are found by the spaces between labels."""

    def joined(by: str) -> Change:
        return _changed(FIGURES[conventions.counting], lambda figure: figure[0].replace(" ", by))

    numbers = conventions.counting == "numbers"
    spaces = (joined(""), *(() if numbers else (joined("-"),)), _changed(" ", ""), _changed(r"(?<!\|) (?!\|)", ", "))
    pattern, marks = RESTS[conventions.rest_counts]
    return (
        spaces,
        (_changed(r" ?\| ?", " "),),
        (_changed("&", "and"), _changed(r"&", "+")),
        (_changed("-", "–"), *((_changed(" ?-", " - "),) if numbers else ())),
        tuple(_changed(pattern, mark) for mark in marks),
    )


def _changed(pattern: str, written: Written) -> Change:
    compiled = re.compile(pattern)
    return lambda text: compiled.sub(written, text)
