"""Every way in which a typed row of counts, or one count, may be written and is to be accepted."""

import re
from collections.abc import Callable
from functools import cache, lru_cache

from barwright.counting.labels import STROKE, rest_style
from barwright.counting.rows import ROWS_KEPT, normal_row
from barwright.counting.systems import SYSTEMS
from barwright.rhythm.conventions import Conventions, Counting

# With so many spellings of a right answer, and 20 of each foreseen wrong one, a package of twenty typed rows has 0.5 MB
# of XML and is 60 KB long, a thousand 32 MB: as far as importers go (common practice). Every spelling that is worked in
# textbook/typed_rows.txt is among the first 64; what comes after mixes three habits or more.
MOST_SPELLINGS = 64

# Labels that are often written as one word: with numbers a beat with what follows in it (1& 2&), in Kodaly-style words
# a figure (titi ta, tikatika, syncopa). Common practice.
FIGURES: dict[Counting, str] = {
    "numbers": r"\d\)?(?: \(?(?:&|[a-z]+)\)?)+",
    "kodaly": r"\b(?:ti ka(?: ti ka)*|ti ti|syn co pa|tri o la|tam ti|tim ka)\b",
}
# Pairs of ways to write a row that nobody mixes are not told apart: of the many mixtures only the nearest are taken.
MIXTURES = 4 * MOST_SPELLINGS

Change = Callable[[str], str]
# A change and how far from the row it leads: what students often type is near, what is odd is far, and habits that have
# nothing to do with each other add up, as the logarithms of their shares would (common practice).
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


def _both(first: Change, then: Change) -> Change:
    return lambda text: then(first(text))


def _without_barlines(text: str) -> str:
    """Barlines left out; commas between all counts go on there, and so do rests without a space between them."""
    between = next((mark for mark in (", ", ",") if mark in text), " ")
    left = _INNER_BARLINE.sub(between, text)
    return left.replace(") (", ")(") if ")(" in text else left


_INNER_BARLINE = re.compile(r" ?\| ?(?=[^| ])")
_BETWEEN = r"(?<![|]) (?![|]|$)"  # between two labels of a measure
_WIDE_SIGNS = str.maketrans(
    {sign: chr(ord(sign) + 0xFEE0) for sign in "&+()[]|/,-"}
)  # Unicode, Halfwidth and Fullwidth Forms
_WIDE_DIGITS = {ord(digit): chr(ord(digit) + 0xFEE0) for digit in "0123456789"}

ENDS: Step = (
    (_changed("$", " |"), 3),
    (_changed("$", "|"), 4),
    (_changed("$", " ||"), 5),
    (_changed("$", "."), 5),
    (_changed("^(.*)$", r"| \1 |"), 6),
)
COMMAS = _changed(_BETWEEN, ", ")
SPACES: Step = (
    (COMMAS, 3),
    (_changed(_BETWEEN, ","), 3),
    (_changed(r"(?<=\)) (?![|/-])|(?<![|/]) (?=\()", ""), 3),  # 1(2)(3)4
    (_changed(r"(?<=\)) (?=\()", ""), 3),  # 1 (2)(3) 4
    (_replaced((" ", "")), 4),
    (_changed(_BETWEEN, "  "), 7),
)
SPACES_OF_NUMBERS: Step = (
    (_changed("& (?=[0-9])", "&"), 6),  # 1 &2 &3
    (_changed(r"(?<=[a-z&]) (?=[a-z&])", ""), 6),  # 1 e&a 2
    (_changed(r"(?<=\d) (?=[a-z])", ""), 6),  # 1e & a 2
    (_changed(r"(?<!-\d)(?<=\d) (?=\d(?![-\d]))", ""), 6),  # 123 4-5-6
)
BARLINES: Step = (
    (_without_barlines, 2),
    (_changed(r" ?(\|+) ?", r"\1"), 2),
    (_replaced((" | ", " |")), 4),
    (_replaced((" | ", "| ")), 4),
    (_replaced((" | ", " / ")), 4),
    (_replaced((" | ", "/")), 4),
    (_replaced((" | ", ", ")), 5),
    (_replaced((" | ", "  ")), 5),
    (_replaced((" | ", "; ")), 6),
    (_replaced((" | ", " ｜ ")), 7),
    (_replaced((" | -", "- | -")), 5),
    (_replaced((" | -", "-|-")), 5),
)
ANDS: Step = ((_replaced(("&", "and")), 1), (_replaced(("&", "+")), 2))
HYPHENS: Step = ((_replaced(("-", "–")), 3), (_replaced(("-", "—")), 5), (_replaced(("-", "−")), 6))
HYPHENS_OF_NUMBERS: Step = (
    *HYPHENS,
    (_replaced((" -", "-"), ("-", " - ")), 3),
    (_replaced((" -", "-")), 3),
    (_replaced((" -", "-"), ("-", " – ")), 4),
    (_changed(r"(?<=[0-9&])-", " -"), 5),
    (_replaced((" -", "-"), ("-", "- ")), 5),
    (_replaced(("-", "--")), 6),
)
HYPHENS_OF_KODALY: Step = (
    *HYPHENS,
    (_changed(r"(?<=[a-z])-(?=[ai]\b)", ""), 2),  # taa
    (_changed(r"(?<=[a-z])-(?=[ai]\b)", " "), 4),
    (_changed(r"(?<=[a-z])-(?=[ai]\b)", " - "), 4),
)
# How else a rest may be marked, for each `rest_style`; a rest without a count stays as it is.
IN_PARENTHESES: Step = (
    (_replaced(("(", "["), (")", "]"), ("[]", "()")), 6),
    (_replaced(("(", "（"), (")", "）")), 5),
    (_replaced(("(", "{"), (")", "}"), ("{}", "()")), 7),
    (_replaced(("(", "( "), (")", " )"), ("(  )", "()"), ("(   )", "( )")), 6),
)
RESTS: dict[str, Step] = {
    "parentheses": IN_PARENTHESES,
    "strike": IN_PARENTHESES,
    "plain": ((_changed(r"\bsh\b", "(sh)"), 1), (_changed(r"\bsh\b", "shh"), 2)),
    "R": ((_changed(r"R(?:-R)*", "R"), 1), (_changed(r"R(?:-R)*", "rest"), 3)),
}
WIDTHS: Step = (
    (lambda text: text.translate(_WIDE_SIGNS), 6),
    (lambda text: text.translate(_WIDE_SIGNS | _WIDE_DIGITS), 7),
)
TRIPLETS: Step = (
    (_replaced(("trip let", "triplet"), ("tri ple t", "triplet")), 2),
    (_replaced(("trip let", "trip-let"), ("tri ple t", "tri-ple-t")), 2),
)
_in_parentheses = _changed(f"((?:[^{STROKE}]{STROKE})+)", lambda run: f"({run[0].replace(STROKE, '')})")


@lru_cache(ROWS_KEPT)
def spellings(text: str, conventions: Conventions) -> tuple[str, ...]:
    """The row or single count itself, then its other spellings, the likeliest first; 64 at most.

    They vary the end, the spaces between labels, the barlines, the `&`, the hyphen, the marks of rests and the width of
    the signs. Each has the normal row of the text, so no other answer is accepted with it. What is crossed out nobody
    can type: after the row itself it stands in parentheses.

    >>> spellings("1 (2)", Conventions())[:8]
    ('1 (2)', '1 (2) |', '1, (2)', '1,(2)', '1(2)', '1 (2)|', '1 (2) ||', '1 (2).')
    """
    normal = normal_row(text, conventions)
    typed = _in_parentheses(text)
    changes: list[list[Change]] = []
    alone: list[list[str]] = []  # what each change makes of the text
    far: list[tuple[int, ...]] = []
    for step in _steps(conventions):
        tried = [(change, cost, change(typed)) for change, cost in step]
        right = [each for each in tried if each[2] != typed and normal_row(each[2], conventions) == normal]
        changes.append([change for change, _, _ in right])
        alone.append([made for _, _, made in right])
        far.append(tuple(cost for _, cost, _ in right))
    # A change that is right alone is right together with the others (a test tries them all).
    made, spelled = [typed], {text: None, typed: None}
    for start, at, pick in _nearest(tuple(far)):
        made.append(changes[at][pick](made[start]) if start else alone[at][pick])
        spelled[made[-1]] = None
        if len(spelled) == MOST_SPELLINGS:
            break
    return tuple(spelled)


@cache
def _nearest(far: tuple[tuple[int, ...], ...]) -> tuple[tuple[int, int, int], ...]:
    """How to make every spelling by one change of an earlier one, the nearest first; `far`: how far each change leads.

    Each as the place of the earlier one (0 is the text itself), the step and the change; a spelling takes one change or
    none of each step, in the order of the steps.
    """

    ordered: list[tuple[int, int, tuple[int, ...]]] = [(0, 0, ())]  # how far in all, how many changes, picks backwards
    for costs in far:  # what is nearest so far stays so, whatever is added to all
        longer = [
            (whole + cost, count + bool(pick), (pick, *picks))
            for whole, count, picks in ordered
            for pick, cost in enumerate((0, *costs))
        ]
        ordered = sorted(longer)[:MIXTURES]
    mixtures = [picks[::-1] for _, _, picks in ordered]
    places = {picks: place for place, picks in enumerate(mixtures)}
    steps = []
    for picks in mixtures[1:]:
        step = max(step for step, pick in enumerate(picks) if pick)
        steps.append((places[(*picks[:step], 0, *picks[step + 1 :])], step, picks[step] - 1))
    return tuple(steps)


def _steps(conventions: Conventions) -> tuple[Step, ...]:
    """What can be written otherwise, step by step.

    Spaces go before barlines, so that one stays where a barline is left out; figures come before hyphens, since the
    spaces between labels tell them. Words of triplets get a hyphen after all other hyphens were changed.
    """
    counting = conventions.counting
    hyphens = {"numbers": HYPHENS_OF_NUMBERS, "kodaly": HYPHENS_OF_KODALY}.get(counting, HYPHENS)
    spaces = (*_figures(counting), *SPACES, *(SPACES_OF_NUMBERS if counting == "numbers" else ()))
    triplets: Step = TRIPLETS if counting == "numbers" else ()
    return ENDS, spaces, BARLINES, ANDS, hyphens, triplets, RESTS[rest_style(conventions)], WIDTHS


def _figures(counting: Counting) -> Step:
    """Labels of one figure or beat written together: 1e&a 2, titi ta, ti-ti ta; tika tika, ti-ka ti-ka, tika-tika."""
    plain, hyphened = _joined(counting, "", ""), _joined(counting, "-", "-")
    together: Step = ((plain, 1), (_both(plain, COMMAS), 4))
    if counting == "numbers":  # where a hyphen holds
        return together
    syllables: Step = ((hyphened, 3), (_both(hyphened, COMMAS), 5))
    by_twos: Step = ((_joined(counting, "", " "), 4), (_joined(counting, "", "-"), 5), (_joined(counting, "-", " "), 5))
    return together + syllables + (() if SYSTEMS[counting].numbered else by_twos)


def _joined(counting: Counting, within: str, between: str) -> Change:
    """The labels of a figure joined two by two, and these pairs with one another."""

    def one(figure: re.Match[str]) -> str:
        words = figure[0].split(" ")
        return between.join(within.join(words[place : place + 2]) for place in range(0, len(words), 2))

    return _changed(_figure(counting), one)


def _figure(counting: Counting) -> str:
    """A pattern for the labels that are often written as one word; a beat with what follows in it: takadimi ta."""
    beat = r"\d" if SYSTEMS[counting].numbered else re.escape(SYSTEMS[counting].on_beat)
    return FIGURES.get(counting, rf"{beat}(?: (?!{beat}\b)[a-z]+)+")
