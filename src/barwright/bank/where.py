"""Filters: `meter=3/4,4/4`, `element!=rh`, `sounds>=4`; all that are given must hold.

Content and records are canonical JSON, where a quotation mark inside a text has its escape before it; so a piece such
as `"excerpt":"3/4 ` stands nowhere but where it means that, and most conditions are told without opening anything.
"""

import json
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
Marks = Callable[[str], tuple[str, ...]]

# Key -> the pieces of which the content has one if it has this value.
CONTENT: dict[str, Marks] = {
    "family": lambda value: tuple(f'{{"ask":"{ask.id}"' for ask in FAMILIES[value]),
    "ask": lambda value: (f'{{"ask":"{value}"',),
    "meter": lambda value: (f'"excerpt":"{value} ',),
    "misreading": lambda value: (f'"{value}","', f'"{value}"]'),  # an answer has a bracket after its comma
}
# Key -> the piece that one of the records has if it has this value.
RECORDS: dict[str, Marks] = {
    "tag": lambda value: (f'"tag":{_quoted(value)}',),
    "section": lambda value: (f'"section":{_quoted(value)}',),
    "quiz": lambda value: (f'"title":{_quoted(value)}',),
}
# Key -> the value of an entry, or all its values.
VALUES: dict[str, Callable[[View], frozenset[str]]] = {
    "review": lambda view: frozenset({view.state}),
    "source": lambda view: view.named("source", "by"),
    "id": lambda view: frozenset({view.entry.id}),
}
ELEMENT, ONLY, USED = "element", "only", "used"
NUMBERS = (*WEIGHTS, "difficulty", "measures", "choices", "uses")
KEYS = (*CONTENT, *RECORDS, *VALUES, ELEMENT, ONLY, USED, *NUMBERS)

# Key -> the values there are, where they are few.
_KNOWN = {"family": tuple(FAMILIES), "ask": tuple(ASKS), "misreading": tuple(MISREADINGS), "review": STATES}
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
    """How dear it is to ask (0: cheap), and whether an entry meets one condition."""
    match = _CONDITION.fullmatch(text)
    if match is None:
        raise BankError(f"condition {text!r} cannot be read: write it as meter=3/4, element!=rh or sounds>=4")
    key, sign, value = match.groups()
    if key not in KEYS:
        raise BankError(f"condition {text!r}: {key!r} is not known{_meant(key, KEYS)}")
    if key in NUMBERS:
        return 3, _number_filter(text, key, sign, value)
    if key == USED:
        return 3, _date_filter(text, sign, value)
    if sign not in ("=",) if key == ONLY else sign not in ("=", "!="):
        raise BankError(f"condition {text!r}: {key} can only be compared by {'=' if key == ONLY else '= or !='}")
    wanted = tuple(dict.fromkeys(part.strip() for part in value.split(",")))
    for each in wanted if key in _KNOWN else ():
        if each not in _KNOWN[key]:
            raise BankError(f"condition {text!r}: {each!r} is no {key}{_meant(each, _KNOWN[key])}")
    cost, holds = _value_filter(key, wanted)
    return cost, holds if sign == "=" else lambda view: not holds(view)


def _value_filter(key: str, wanted: Sequence[str]) -> tuple[int, Filter]:
    """How dear it is to ask, and whether an entry has one of these values."""
    if key in CONTENT:
        marks = [mark for value in wanted for mark in CONTENT[key](value)]
        return 0, lambda view: _has(view.entry.content, marks)
    if key in RECORDS:
        marks = [mark for value in wanted for mark in RECORDS[key](value)]
        return 1, lambda view: any(_has(text, marks) for _, text in view.entry.records)
    if key == ELEMENT:
        shows = _shows(wanted)
        return 2, lambda view: shows(view.entry.content) is not None
    values = frozenset(wanted)
    if key == ONLY:
        return 3, lambda view: view.elements <= values
    return 2, lambda view: not values.isdisjoint(VALUES[key](view))


def _has(text: str, marks: Sequence[str]) -> bool:
    """Whether one of the pieces is in the text."""
    return marks[0] in text or (len(marks) > 1 and any(mark in text for mark in marks[1:]))


def _shows(tokens: Sequence[str]) -> Callable[[str], object]:
    """Looks in a content for a figure, the excerpt or a choice, that shows one of these symbols; `~` is any tie."""
    symbols = "|".join(re.escape(token) for token in tokens if token != "~")
    one = rf'(?:(?<=[ "*])(?:{symbols})(?=[~ "]))' if symbols else ""
    either = "|".join(each for each in (one, "~" if "~" in tokens else "") if each)
    return re.compile(rf'(?:"excerpt":"[^ "]* |\["(?:symbols|measures)",")[^"]*?(?:{either})').search


def _date_filter(text: str, sign: str, value: str) -> Filter:
    """Compares as much of a date as is given, so that `used=2025-03` is all of March; one use that fits is enough."""
    if _DATE.fullmatch(value) is None:
        raise BankError(f"condition {text!r}: {value!r} is no date: write it as 2025-03-14, 2025-03 or 2025")
    holds = _SIGNS[sign]
    return lambda view: any(holds(date[: len(value)], value) for date in view.named("usage", "date"))


def _number_filter(text: str, key: str, sign: str, value: str) -> Filter:
    if _WHOLE.fullmatch(value) is None:
        raise BankError(f"condition {text!r}: {value!r} is no whole number")
    holds, bound = _SIGNS[sign], int(value)

    def fits(view: View) -> bool:
        number = view.number(key)
        return number is not None and bool(holds(number, bound))

    return fits


def _quoted(value: str) -> str:
    return json.dumps(value, ensure_ascii=False)


def _meant(word: str, known: Sequence[str]) -> str:
    close = get_close_matches(word, known, n=1)
    return f": did you mean {close[0]!r}?" if close else f": use {', '.join(known)}"
