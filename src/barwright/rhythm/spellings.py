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
Change = Callable[[str], str]
Written = str | Callable[[re.Match[str]], str]


def _changed(pattern: str, written: Written) -> Change:
    compiled = re.compile(pattern)
    return lambda text: compiled.sub(written, text)


def _replaced(*pairs: tuple[str, str]) -> Change:
    """Every pair's first text replaced by its second, pair by pair."""

    def change(text: str) -> str:
        for old, new in pairs:
            text = text.replace(old, new)
        return text

    return change


# How else a rest may be marked, for each value of `rest_counts`; a rest without a count stays as it is.
RESTS: dict[str, tuple[Change, ...]] = {
    "parentheses": (
        _replaced(("(", "["), (")", "]"), ("[]", "()")),
        _replaced(("(", "( "), (")", " )"), ("(  )", "()")),
    ),
    "strike": (_changed(f"((?:[^{STROKE}]{STROKE})+)", lambda run: f"({run[0].replace(STROKE, '')})"),),
    "R": (_changed(r"R(?:-R)*", "R"), _changed(r"R(?:-R)*", "rest")),
}


@lru_cache(ROWS_KEPT)
def spellings(text: str, conventions: Conventions) -> tuple[str, ...]:
    """The row or single count itself, then its other spellings, those nearest to it first; 32 at most.

    They vary the spaces between labels, the barlines, the `&`, the hyphen and the marks of rests. Each has the normal
    row of the text, so no other answer is accepted with it.

    >>> spellings("1 (2)", Conventions())
    ('1 (2)', '1(2)', '1 [2]', '1, (2)', '1 ( 2 )', '1[2]', '1, [2]', '1( 2 )', '1, ( 2 )')
    """
    normal = normal_row(text, conventions)
    changes: list[list[Change]] = []
    alone: list[list[str]] = []  # what each change makes of the text
    for step in _steps(conventions):
        tried = [(change, change(text)) for change in step]
        right = [each for each in tried if each[1] != text and normal_row(each[1], conventions) == normal]
        changes.append([change for change, _ in right])
        alone.append([one for _, one in right])
    # A change that is right alone is right together with the others (a test tries them all).
    made, found = [text], {text: None}
    for start, at, pick in _nearest(tuple(map(len, changes))):
        made.append(changes[at][pick](made[start]) if start else alone[at][pick])
        found[made[-1]] = None
        if len(found) == MOST_SPELLINGS:
            break
    return tuple(found)


@cache
def _nearest(sizes: tuple[int, ...]) -> tuple[tuple[int, int, int], ...]:
    """How to make every spelling by one change of an earlier one, those with the fewest changes first.

    Each as the place of the earlier one (0 is the text itself), the step and the change; a spelling takes one change or
    none of each step, in the order of the steps.
    """
    every = product(*(range(size + 1) for size in sizes))
    ordered = sorted(every, key=lambda picks: (sum(map(bool, picks)), sum(picks), picks[::-1]))
    places = {picks: place for place, picks in enumerate(ordered)}
    found = []
    for picks in ordered[1:]:
        step = max(step for step, pick in enumerate(picks) if pick)
        found.append((places[(*picks[:step], 0, *picks[step + 1 :])], step, picks[step] - 1))
    return tuple(found)


@cache
def _steps(conventions: Conventions) -> tuple[tuple[Change, ...], ...]:
    """What can be written otherwise, step by step; figures first, since they are found by the spaces between labels."""

    def joined(by: str) -> Change:
        return _changed(FIGURES[conventions.counting], lambda figure: figure[0].replace(" ", by))

    numbers = conventions.counting == "numbers"
    spaces = (joined(""), *(() if numbers else (joined("-"),)), _replaced((" ", "")), _changed(r"(?<!\|) (?!\|)", ", "))
    return (
        spaces,
        (_changed(r" ?\| ?", " "),),
        (_replaced(("&", "and")), _replaced(("&", "+"))),
        (_replaced(("-", "–")), *((_replaced((" -", "-"), ("-", " - ")),) if numbers else ())),
        RESTS[conventions.rest_counts],
    )
