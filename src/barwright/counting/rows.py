"""Rows of counts as text: written, read, and brought to one form for comparing."""

import re
from collections.abc import Callable, Mapping
from functools import cache, lru_cache
from typing import NamedTuple

from barwright.counting.labels import STROKE, rest_style, struck
from barwright.counting.systems import SYSTEMS, TRIPLETS
from barwright.rhythm.conventions import Conventions, Counting, TripletLabels

Row = tuple[tuple[str, ...], ...]

ROWS_KEPT = 1 << 12
HIGHEST_COUNT = 12  # the highest top number of a meter

REST_WORDS = ("rest", "r")
SPELT_TRIPLETS = (TRIPLETS["trip_let"][1:], TRIPLETS["three_e"])
# Words that mean the same: `and` and `+` are &; where the class says la li, so are trip let (common practice).
ALIKE = {"and": "&", "+": "&", "r": "R", "rest": "R"}
ALIKE_KODALY = {"r": "R", "rest": "sh", "shh": "sh"}
TRIP_LET = {"trip": "la", "let": "li"}
# In Kodaly-style words a hyphen holds a sound before these only (ta-a, ta-a-i), in the other syllable systems never.
# They hold without one, too (taa, ta a): no sound begins with them.
KODALY_HELD = ("a", "i")
_HOLDS = re.compile(r"\W*[ai]\b")
_HELD_ON = re.compile(r"(?<=[^\W\d_]) (?=[ai]\b)")

_SIGNS = {"/": "|", "[": "(", "]": ")", "{": "(", "}": ")", ",": " ", ";": " ", ".": " "}
_DASHES = {"–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-"}
_SPACES = {"\u00a0": " ", "\u3000": " "}
# Full-width signs and digits (Unicode, Halfwidth and Fullwidth Forms) stand for the plain ones.
_WIDE = {chr(ord(plain) + 0xFEE0): _SIGNS.get(plain, plain) for plain in map(chr, range(ord("!"), ord("~") + 1))}
_PLAIN = str.maketrans(_SIGNS | _DASHES | _SPACES | _WIDE)
_STRUCK = re.compile(f"(?:[^{STROKE}]{STROKE})+")
_LABEL = re.compile(r"(?:\([^()]*\)|[^\s(])+|\(")
_CHUNK = re.compile(r"[^\s()-]+")
_TOKEN = re.compile(r"\d+|[^\W\d_]+|.")
_OPEN, _CLOSE = re.compile(r"\s*\(\s*"), re.compile(r"\s*\)\s*")
_HYPHEN = re.compile(r"-(?:\s*-)*")
_FIRST = re.compile(r"\s*([^\W\d_]+|\d+|&)")
_NUMBER = re.compile(r"\d+")
_REST_COUNTS = re.compile(r"\bR(?:-R\b)+")
_JOINED = re.compile(r"(?:\d+|[^\W\d_]+|&)(?:-(?:\d+|[^\W\d_]+|&))*")
_PAIRED = re.compile(r"(?:[^()]|\([^()]*\))*")
_PAIR = re.compile(r"\(([^()]+)\)")


def format_row(row: Row) -> str:
    """`1 2 3 | -1 2-3`: labels with a space between, empty ones dropped; measures with a barline between.

    >>> format_row((("1", "", "2"), ("-1", "(2-3)")))
    '1 2 | -1 (2-3)'
    """
    return " | ".join([" ".join(filter(None, measure)) for measure in row])


@lru_cache(ROWS_KEPT)
def parse_row(text: str) -> Row:
    """The labels of a row as `format_row` writes it; what stands in one pair of parentheses is one label.

    >>> parse_row("1 (2 3) | -1")
    (('1', '(2 3)'), ('-1',))
    """
    return tuple(tuple(_LABEL.findall(part.replace(")(", ") ("))) for part in text.split("|"))


@lru_cache(ROWS_KEPT)
def normal_row(text: str, conventions: Conventions) -> str:
    """The one text that stands for every way to write the same row; typed and printed rows are compared by it.

    Barlines, also typed as `/`, are dropped where the counts show them (a label held over one keeps its hyphen);
    `and`, `+` and `&` are one, so are all dashes, all ways to mark a rest by crossing out, brackets or parentheses,
    and one R for a rest with an R for each of its counts; where sh alone says rest, so does (sh); labels may be
    written together. Full-width signs are plain ones, full stops are nothing, and in Kodaly-style words taa is ta-a.
    `trip let` is `la li` in a class that says `la li`. What cannot be read stays as it is. A normal
    row is its own normal row.

    >>> normal_row("1and (2)(3) | – 1 2 – 3", Conventions())
    '1 & (2) (3) -1 2-3'
    """
    normal = None
    if STROKE not in text:
        counts = _closed(text, conventions.counting).split()
        normal = _read_count_by_count(counts, _reader(conventions))
    return long_normal_row(text, conventions) if normal is None else normal


def _closed(text: str, counting: Counting) -> str:
    """The text with spaces where they part counts and nowhere else: not in parentheses or round hyphens of numbers."""
    text = text.replace(",", " ").replace("/", "|").replace("|", " | ").replace("( ", "(").replace(" )", ")")
    return text.replace(" - ", "-") if counting == "numbers" else text


class _Known(NamedTuple):
    """A count that reads alike in every row, but for what a hyphen does: its normal form and its `last` number.

    `above`: a hyphen in it joins only if the last number before the count is lower; 0 where there is no such hyphen.
    """

    normal: str
    above: int = 0
    last: int = 0


def _read_count_by_count(counts: list[str], known: Callable[[str], _Known | None]) -> str | None:
    """The normal row of counts that are known one by one; None if one of them is not, or its hyphen does not join."""
    row: list[str] = []
    last = 0
    for count in counts:
        if count != "|":
            each = known(count)
            if each is None or 0 < each.above <= last:
                return None
            last = each.last or last
            if each.normal:
                row.append(each.normal)
    return " ".join(row)


@cache
def _reader(conventions: Conventions) -> Callable[[str], _Known | None]:
    """Gives what is known of a count, or None where it must be read with what stands around it."""

    @lru_cache(ROWS_KEPT)
    def known(count: str) -> _Known | None:
        read = _plain(count, conventions)
        if not _PAIRED.fullmatch(read):
            return None
        normal = long_normal_row(count, conventions)
        if conventions.counting == "kodaly" and (_HOLDS.match(read) or _HOLDS.match(normal)):
            return None  # what stands before it goes on
        if "-" not in read:
            return _Known(normal, last=_last_number(normal, 0))
        read = _CHUNK.sub(lambda chunk: _words(chunk[0], conventions.counting, conventions.triplet), read)
        bare = read[1:-1] if read[0] + read[-1] == "()" else read
        if normal != read or conventions.counting != "numbers" or not _JOINED.fullmatch(bare):
            return None
        above = last = 0
        for place, part in enumerate(bare.split("-")):
            if part.isdecimal():
                if 0 < int(part) <= last:
                    return None
                above = int(part) if place and not last else above
                last = int(part)
        return _Known(normal, above, last)

    return known


def long_normal_row(text: str, conventions: Conventions) -> str:
    """The normal row worked out sign by sign, as a text needs it whose counts are not all known one by one."""
    row, last = "", 0
    counting, triplet = conventions.counting, conventions.triplet
    for number, part in enumerate(_plain(text, conventions).split("|")):
        measure = _CHUNK.sub(lambda chunk: _words(chunk[0], counting, triplet), part)
        if counting == "kodaly":
            measure = _HELD_ON.sub("-", measure)
        measure, barred, last = _hyphenated(measure, counting, last=last, before=row)
        row += f"{' | ' if barred and number else ' '}{measure}"
    if "(" in row or ")" in row:
        row = _CLOSE.sub(") ", _OPEN.sub(" (", row))
    row = _REST_COUNTS.sub("R", " ".join(row.split())).replace("()", "( )")
    style = rest_style(conventions)
    if style == "plain":
        return row.replace("(sh)", "sh")
    return _PAIR.sub(lambda pair: struck(pair[1]), row) if style == "strike" else row


def _plain(text: str, conventions: Conventions) -> str:
    """Small letters, plain hyphens, parentheses for what is crossed out, and a spelt triplet as words."""
    if STROKE in text:
        text = _STRUCK.sub(lambda run: f"({run[0].replace(STROKE, '')})", text)
    text = text.lower().translate(_PLAIN)
    if conventions.counting == "numbers" and "tri" in text:
        spelt = " tri ple t " if conventions.triplet == "three_e" else " trip let "
        for each in ("tri-ple-t", "trip-let", "triplet"):
            text = text.replace(each, spelt)
    return text


@lru_cache(ROWS_KEPT)
def _words(chunk: str, counting: Counting, triplet: TripletLabels) -> str:
    """The words, numbers and signs that are written together, with spaces between."""
    known, alike = _known(counting, triplet)
    pieces: list[str] = []
    for token in _TOKEN.findall(chunk):
        if token.isdecimal():
            pieces += token if "0" not in token and int(token) > HIGHEST_COUNT else (token,)
        else:
            words = known.findall(token)
            pieces += (alike.get(w, w) for w in (words if "".join(words) == token else (token,)))
    return " ".join(pieces)


@cache
def _known(counting: Counting, triplet: TripletLabels) -> tuple[re.Pattern[str], Mapping[str, str]]:
    """A pattern for the words of a system, and what they are alike to."""
    words = {*SYSTEMS[counting].words, *SYSTEMS[counting].typed, *REST_WORDS}
    if counting == "numbers":
        words -= {*SPELT_TRIPLETS[triplet != "three_e"]}
    alike = ALIKE_KODALY if counting == "kodaly" else ALIKE
    if (counting, triplet) == ("numbers", "la_li"):
        alike = alike | TRIP_LET
    # A longer word is read before one that it begins with.
    return re.compile("|".join(map(re.escape, sorted(words, key=lambda word: (-len(word), word))))), alike


def _hyphenated(measure: str, counting: Counting, *, last: int, before: str) -> tuple[str, bool, int]:
    """The measure with a tight hyphen where it joins, with one after a space where a held part begins, else with none.

    With it: whether it begins with a held part that could not be told from what is `before` without the barline, and
    its last number.
    """
    if "-" not in measure:
        return measure, False, _last_number(measure, last)
    first, *parts = _HYPHEN.split(measure)
    joined, barred = first, False
    last = _last_number(first, last)
    for part in parts:
        mark = _mark(joined, part, counting, last=last)
        if not joined.strip() and _FIRST.match(part):
            mark, barred = " -", _mark(f"{before} ", part.lstrip(), counting, last=last) != " -"
        joined = f"{joined.rstrip()}{mark}{part.lstrip()}"
        last = _last_number(part, last)
    return joined, barred, last


def _last_number(text: str, last: int) -> int:
    numbers = _NUMBER.findall(text)
    return int(numbers[-1]) if numbers else last


def _mark(left: str, right: str, counting: Counting, *, last: int) -> str:
    """What a hyphen is between two texts: `-` joins, ` -` begins a held part, a space only separates.

    A number goes on with a sound if it is higher than the last one; a lower one begins again after a barline.
    """
    word = _FIRST.match(right)
    if word is None:
        return " "
    if counting == "numbers":
        again = word[1].isdecimal() and int(word[1]) <= max(last, 1)
        return " -" if again else "-"
    if (counting == "kodaly" and word[1] in KODALY_HELD) or (right[:1] == "R" and left.endswith("R")):
        return "-"
    begins = not left.rstrip().endswith(")") and left[-1:] in ("", " ", "(") and right[:1] != " "
    return " -" if begins else " "
