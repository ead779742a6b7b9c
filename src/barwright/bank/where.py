"""Filters: `meter=3/4,4/4`, `element!=rh`, `sounds>=4`; all that are given must hold."""

import operator
import re
from collections.abc import Callable, Iterable, Sequence
from difflib import get_close_matches
from operator import itemgetter
from typing import Any

from barwright.bank.records import STATES
from barwright.bank.views import View
from barwright.errors import BankError
from barwright.items.difficulty import WEIGHTS
from barwright.items.families import ASKS, FAMILIES
from barwright.misreadings import MISREADINGS

Filter = Callable[[View], bool]
Texts = Callable[[View], frozenset[str]]

# Key -> every text that an entry has under it: `=` wants one of those given, `!=` none of them.
TEXTS: dict[str, Texts] = {
    "family": lambda v: frozenset({v.family}),
    "ask": lambda v: frozenset({v.ask}),
    "meter": lambda v: frozenset({v.meter}),
    "element": lambda v: v.elements,
    "misreading": lambda v: v.misreadings,
    "tag": lambda v: v.named("tag", "tag"),
    "review": lambda v: frozenset({v.state}),
    "section": lambda v: v.named("usage", "section"),
    "quiz": lambda v: v.named("source", "title") | v.named("usage", "title"),
    "source": lambda v: v.named("source", "by"),
    "id": lambda v: frozenset({v.entry.id}),
}
# Key -> dates that the teachers gave; one that fits is enough.
DATES: dict[str, Texts] = {"used": lambda v: v.named("usage", "date")}
NUMBERS = (*WEIGHTS, "difficulty", "measures", "choices", "uses")
ONLY = "only"
KEYS = (*TEXTS, ONLY, *DATES, *NUMBERS)

# Key -> the values there are, where they are few.
_KNOWN = {"family": tuple(FAMILIES), "ask": tuple(ASKS), "misreading": tuple(MISREADINGS), "review": STATES}
_IN_CONTENT = ("element", "misreading")
# What must be opened to tell: what is read off the content (0), records (1: usual), figures of the choices (3).
_COSTS = {"ask": 0, "family": 0, "id": 0, "meter": 0, "element": 3, ONLY: 3, "misreading": 3}
_SIGNS: dict[str, Callable[[Any, Any], Any]] = {
    "=": operator.eq,
    "!=": operator.ne,
    ">=": operator.ge,
    "<=": operator.le,
    ">": operator.gt,
    "<": operator.lt,
}
_CONDITION = re.compile(r"\s*([\w-]+)\s*(!=|>=|<=|=|>|<)\s*(.+?)\s*")
_DATE = re.compile(r"[0-9]{4}(-[0-9]{2}){0,2}")
_WHOLE = re.compile(r"[0-9]{1,6}")


def filter_of(conditions: Iterable[str]) -> Filter:
    """Whether an entry meets all conditions; BankError for one that cannot be understood, with what would work.

    >>> from barwright.bank.entries import Entry
    >>> filter_of(["ask=beats-left"])(View(Entry("0" * 16, '{"ask":"beats-left"}')))
    True
    """
    filters = [each for _, each in sorted(map(_filter, conditions), key=itemgetter(0))]
    if len(filters) == 1:
        return filters[0]
    return lambda view: all(each(view) for each in filters)


def _filter(text: str) -> tuple[int, Filter]:
    """What it costs to ask, and whether a view meets one condition."""
    match = _CONDITION.fullmatch(text)
    if match is None:
        raise BankError(f"condition {text!r} cannot be read: write it as meter=3/4, element!=rh or sounds>=4")
    key, sign, value = match.groups()
    if key not in KEYS:
        raise BankError(f"condition {text!r}: {key!r} is not known{_meant(key, KEYS)}")
    if key in NUMBERS:
        return 2, _number_filter(text, key, sign, value)
    if key in DATES:
        return 1, _date_filter(text, DATES[key], sign, value)
    return _COSTS.get(key, 1), _text_filter(text, key, sign, value)


def _text_filter(text: str, key: str, sign: str, value: str) -> Filter:
    wanted = frozenset(part.strip() for part in value.split(","))
    if sign not in ("=",) if key == ONLY else sign not in ("=", "!="):
        raise BankError(f"condition {text!r}: {key} can only be compared by {'=' if key == ONLY else '= or !='}")
    for each in sorted(wanted) if key in _KNOWN else ():
        if each not in _KNOWN[key]:
            raise BankError(f"condition {text!r}: {each!r} is no {key}{_meant(each, _KNOWN[key])}")
    if key == ONLY:
        return lambda view: view.elements <= wanted
    texts = _among(wanted, TEXTS[key]) if key in _IN_CONTENT else TEXTS[key]
    if sign == "=":
        return lambda view: not wanted.isdisjoint(texts(view))
    return lambda view: wanted.isdisjoint(texts(view))


def _among(wanted: frozenset[str], texts: Texts) -> Texts:
    """The texts of a view, or none if the content holds none of those wanted: then it need not be opened."""
    marks = sorted(wanted)
    return lambda view: texts(view) if any(mark in view.entry.content for mark in marks) else frozenset()


def _date_filter(text: str, dates: Texts, sign: str, value: str) -> Filter:
    """Compares as much of a date as is given, so that `used=2025-03` is all of March."""
    if _DATE.fullmatch(value) is None:
        raise BankError(f"condition {text!r}: {value!r} is no date: write it as 2025-03-14, 2025-03 or 2025")
    holds = _SIGNS[sign]
    return lambda view: any(holds(date[: len(value)], value) for date in dates(view))


def _number_filter(text: str, key: str, sign: str, value: str) -> Filter:
    if _WHOLE.fullmatch(value) is None:
        raise BankError(f"condition {text!r}: {value!r} is no whole number")
    holds, bound = _SIGNS[sign], int(value)

    def fits(view: View) -> bool:
        number = view.number(key)
        return number is not None and bool(holds(number, bound))

    return fits


def _meant(word: str, known: Sequence[str]) -> str:
    close = get_close_matches(word, known, n=1)
    return f": did you mean {close[0]!r}?" if close else f": use {', '.join(known)}"
