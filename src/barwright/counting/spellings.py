"""Every way in which a typed row of counts, or one count, may be written and is to be accepted."""

import re
from collections.abc import Callable
from functools import cache, lru_cache
from itertools import product

from barwright.counting.labels import STROKE, rest_style
from barwright.counting.rows import ROWS_KEPT, normal_row
from barwright.rhythm.conventions import Conventions

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
# Pairs of ways to write a row that nobody mixes are not told apart: of the many mixtures only the nearest are taken.
MIXTURES = 8 * MOST_SPELLINGS

Change = Callable[[str], str]
# A change and how far from the row it leads: what students often type is near, what is odd is far (common practice).
Step = tuple[tuple[Change, int], ...]
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


_EN_DASH = _replaced(("-", "–"))
BARLINES: Step = (
    (_changed(r" ?\| ?", " "), 2),
    (_changed(r" ?\| ?", "|"), 2),
    (_changed(r" ?\| ?", " |"), 3),
    (_changed(r" ?\| ?", "| "), 3),
    (_replaced(("|", "/")), 4),
    (_changed(r" ?\| ?", "/"), 4),
)
_BETWEEN = r"(?<![|/(]) (?![|/)])"  # between two labels of a measure
COMMAS: Step = ((_changed(_BETWEEN, ", "), 3), (_changed(_BETWEEN, ","), 3))
BESIDE_RESTS: Step = ((_changed(r"(?<=\)) (?![|/-])|(?<![|/]) (?=\()", ""), 3),)
NO_SPACES: Step = ((_replaced((" ", "")), 4),)
ANDS: Step = ((_replaced(("&", "and")), 2), (_replaced(("&", "+")), 2))
HYPHENS: Step = ((_EN_DASH, 3),)
HYPHENS_OF_NUMBERS: Step = (*HYPHENS, (_replaced((" -", "-"), ("-", " - ")), 3), (_replaced((" -", "-")), 3))
# How else a rest may be marked, for each `rest_style`; a rest without a count stays as it is.
RESTS: dict[str, Step] = {
    "parentheses": (
        (_replaced(("(", "["), (")", "]"), ("[]", "()")), 6),
        (_replaced(("(", "( "), (")", " )"), ("(  )", "()"), ("(   )", "( )")), 7),
    ),
    "strike": ((_changed(f"((?:[^{STROKE}]{STROKE})+)", lambda run: f"({run[0].replace(STROKE, '')})"), 1),),
    "plain": ((_changed(r"\bsh\b", "(sh)"), 1), (_changed(r"\bsh\b", "shh"), 2)),
    "R": ((_changed(r"R(?:-R)*", "R"), 1), (_changed(r"R(?:-R)*", "rest"), 3)),
}


@lru_cache(ROWS_KEPT)
def spellings(text: str, conventions: Conventions) -> tuple[str, ...]:
    """The row or single count itself, then its other spellings, those nearest to it first; 32 at most.

    They vary the barlines, the spaces between labels, the `&`, the hyphen and the marks of rests. Each has the normal
    row of the text, so no other answer is accepted with it.

    >>> spellings("1 (2)", Conventions())
    ('1 (2)', '1, (2)', '1,(2)', '1(2)', '1 [2]', '1 ( 2 )', '1, [2]', '1,[2]', '1[2]', '1, ( 2 )', '1,( 2 )', '1( 2 )')
    """
    normal = normal_row(text, conventions)
    changes: list[list[Change]] = []
    alone: list[list[str]] = []  # what each change makes of the text
    far: list[tuple[int, ...]] = []
    for step in _steps(conventions):
        tried = [(change, cost, change(text)) for change, cost in step]
        right = [each for each in tried if each[2] != text and normal_row(each[2], conventions) == normal]
        changes.append([change for change, _, _ in right])
        alone.append([made for _, _, made in right])
        far.append(tuple(cost for _, cost, _ in right))
    # A change that is right alone is right together with the others (a test tries them all).
    made, found = [text], {text: None}
    for start, at, pick in _nearest(tuple(far)):
        made.append(changes[at][pick](made[start]) if start else alone[at][pick])
        found[made[-1]] = None
        if len(found) == MOST_SPELLINGS:
            break
    return tuple(found)


@cache
def _nearest(far: tuple[tuple[int, ...], ...]) -> tuple[tuple[int, int, int], ...]:
    """How to make every spelling by one change of an earlier one, the nearest first; `far`: how far each change leads.

    Each as the place of the earlier one (0 is the text itself), the step and the change; a spelling takes one change or
    none of each step, in the order of the steps.
    """

    def distance(picks: tuple[int, ...]) -> tuple[int, int, tuple[int, ...]]:
        whole = sum(costs[pick - 1] for costs, pick in zip(far, picks, strict=True) if pick)
        return whole, sum(map(bool, picks)), picks[::-1]

    ordered = sorted(product(*(range(len(costs) + 1) for costs in far)), key=distance)[:MIXTURES]
    places = {picks: place for place, picks in enumerate(ordered)}
    found = []
    for picks in ordered[1:]:
        step = max(step for step, pick in enumerate(picks) if pick)
        found.append((places[(*picks[:step], 0, *picks[step + 1 :])], step, picks[step] - 1))
    return tuple(found)


@cache
def _steps(conventions: Conventions) -> tuple[Step, ...]:
    """What can be written otherwise, step by step.

    Spaces go first, so that one stays where a barline is left out; figures come before hyphens, since the spaces
    between labels tell them.
    """

    def joined(by: str) -> Change:
        return _changed(FIGURES[conventions.counting], lambda figure: figure[0].replace(" ", by))

    numbers = conventions.counting == "numbers"
    figures: Step = ((joined(""), 2),) if numbers else ((joined(""), 2), (joined("-"), 3))
    return (
        NO_SPACES,
        BARLINES,
        (*figures, *COMMAS, *BESIDE_RESTS),
        ANDS,
        HYPHENS_OF_NUMBERS if numbers else HYPHENS,
        RESTS[rest_style(conventions)],
    )
