"""Filters: `meter=3/4,4/4`, `element!=rh`, `sounds>=4`; all that are given must hold.

Content and records are canonical JSON, where a quotation mark inside a text has its escape before it; so a piece such
as `"excerpt":"3/4 ` stands nowhere but where it means that, and most conditions are told without opening anything.
"""

import json
import operator
import re
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache, reduce
from operator import itemgetter
from typing import Any

from barwright.asks import ASKS, FAMILIES
from barwright.bank.answer_counts import LOOK_AT
from barwright.bank.entries import KEPT, Entry
from barwright.bank.states import STATES, state_of
from barwright.bank.views import View, counts_of, excerpt_in
from barwright.errors import BankError, RhythmError
from barwright.items.difficulty import WEIGHTS
from barwright.misreadings import JOINT, MISREADINGS
from barwright.rhythm.meter import parse_meter
from barwright.rhythm.text import parse_symbol
from barwright.showing import meant, shown

Filter = Callable[[Entry], bool]
Marks = Callable[[str], tuple[str, ...]]
Bound = tuple[str, Callable[[Any, Any], Any], int]

# Key -> the pieces of which the content has one if it has this value.
CONTENT: dict[str, Marks] = {
    "family": lambda value: tuple(f'{{"ask":"{ask.id}"' for ask in FAMILIES[value]),
    "ask": lambda value: (f'{{"ask":"{value}"',),
    "meter": lambda value: (f'"excerpt":"{value} ',),
    # An answer has a bracket after its comma; two misreadings that are held at once are joined.
    "misreading": lambda value: (f'"{value}","', f'"{value}"]', f'"{value}{JOINT}', f'{JOINT}{value}"'),
}
# Key -> the piece that one of the records has if it has this value, capitals or not.
RECORDS: dict[str, Marks] = {
    "tag": lambda value: (f'"tag":{_quoted(value)}',),
    "section": lambda value: (f'"section":{_quoted(value)}',),
    "quiz": lambda value: (f'"title":{_quoted(value)}',),
}
# Key -> the kinds of records that name something, and the field.
NAMES: dict[str, tuple[tuple[str, str], ...]] = {
    "tag": (("tag", "tag"),),
    "section": (("usage", "section"),),
    "quiz": (("usage", "title"), ("source", "title")),
    "source": (("source", "by"),),
}
# Key -> the value of an entry, or all its values.
VALUES: dict[str, Callable[[Entry], frozenset[str]]] = {
    "review": lambda entry: frozenset({state_of(entry.records)}),
    "source": lambda entry: View(entry).named("source", "by"),
    "flag": lambda entry: _flags(View(entry)),
}
ELEMENT, ONLY, USED, ID, TIE, SHARE = "element", "only", "used", "id", "~", "p"
FEATURES = (*WEIGHTS, "difficulty")
NUMBERS: dict[str, Callable[[View], int]] = {
    "measures": lambda view: view.measures,
    "choices": lambda view: view.choices,
    "uses": lambda view: view.uses,
}
KEYS = (*CONTENT, *RECORDS, *VALUES, ID, ELEMENT, ONLY, USED, SHARE, *FEATURES, *NUMBERS)


def _flags(view: View) -> frozenset[str]:
    count = view.went
    return frozenset({LOOK_AT} if count is not None and count.flagged else ())


def _is_meter(value: str) -> bool:
    try:
        parse_meter(value)
    except RhythmError:
        return False
    return True


def _is_element(value: str) -> bool:
    """Whether a figure can show this: a symbol without its tie, or `~` for any tie."""
    try:
        symbol = parse_symbol(value)
    except RhythmError:
        return value == TIE
    return symbol.kind != "blank" and not symbol.tied


# Key -> the values there are, where they are few.
_KNOWN = {
    "family": tuple(FAMILIES),
    "ask": tuple(ASKS),
    "misreading": tuple(MISREADINGS),
    "review": STATES,
    "flag": (LOOK_AT,),
}
_TOPIC = {"family": "asks", "ask": "asks", "misreading": "misreadings"}  # where the help lists the values of a key
_ELEMENTS = (
    "write notes as w h q e s, rests as rw rh rq re rs or rW, with . for a dot, t for a triplet; or ~ for any tie"
)
# Key -> whether a value is written as it must be, and what it is not, with the mend.
_WRITTEN: dict[str, tuple[Callable[[str], Any], str]] = {
    "meter": (_is_meter, "meter: write it as 3/4, 6/8 or 2+3/8"),
    ID: (re.compile("[0-9a-f]{1,16}").fullmatch, "id: give the first letters of one, as bank show prints it"),
    **dict.fromkeys((ELEMENT, ONLY), (_is_element, f"element: {_ELEMENTS}")),
}
_SIGNS: dict[str, Callable[[Any, Any], Any]] = {
    "=": operator.eq,
    "!=": operator.ne,
    ">=": operator.ge,
    "<=": operator.le,
    ">": operator.gt,
    "<": operator.lt,
}
_CONDITION = re.compile(r"\s*([\w-]+)\s*(!=|>=|<=|=|>|<)\s*(.*?)\s*")
_DATE = re.compile(r"[0-9]{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12][0-9]|3[01]))?)?")
_WHOLE = re.compile(r"[0-9]{1,6}")
_PART = re.compile(r"0(\.[0-9]{1,4})?|\.[0-9]{1,4}|1(\.0{1,4})?")


def filter_of(conditions: Iterable[str]) -> Filter:
    """Whether an entry meets all conditions; BankError for one that cannot be understood, with what would work.

    >>> filter_of(["ask=beats-left"])(Entry("0" * 16, '{"ask":"beats-left"}'))
    True
    """
    split = [_split(text) for text in conditions]
    bounds = [_bound(*each) for each in split if each[1] in FEATURES]
    ranked = [_filter(*each) for each in split if each[1] not in FEATURES]
    ranked += [(3, _feature_filter(bounds))] if bounds else []
    filters = [each for _, each in sorted(ranked, key=itemgetter(0))]
    return reduce(_both, filters) if filters else lambda _entry: True


def _both(one: Filter, other: Filter) -> Filter:
    return lambda entry: one(entry) and other(entry)


def _split(text: str) -> tuple[str, str, str, str]:
    """A condition, its key, its sign, and its value."""
    match = _CONDITION.fullmatch(text)
    if match is None:
        raise BankError(f"condition {shown(text)} cannot be read: write it as meter=3/4, element!=rh or sounds>=4")
    key, sign, value = match.groups()
    key = key.lower()
    if key not in KEYS:
        raise BankError(f"condition {shown(text)}: {shown(key)} is not known{_meant(key, KEYS)}")
    if not all(map(str.strip, value.split(","))):
        mend = "write it, or take a comma out" if value else f"write it after {sign}"
        raise BankError(f"condition {shown(text)}: a value is missing: {mend}")
    return text, key, sign, value


def _filter(text: str, key: str, sign: str, value: str) -> tuple[int, Filter]:
    """How dear it is to ask (0: cheap), and whether an entry meets one condition."""
    if key == USED:
        return 3, _date_filter(text, sign, value)
    if key == SHARE:
        return 3, _share_filter(text, sign, value)
    if key in NUMBERS:
        _, holds, bound = _bound(text, key, sign, value)
        return 2, lambda entry: bool(holds(NUMBERS[key](View(entry)), bound))
    if sign not in ("=",) if key == ONLY else sign not in ("=", "!="):
        raise BankError(f"condition {shown(text)}: {key} can only be compared by {'=' if key == ONLY else '= or !='}")
    wanted = tuple(dict.fromkeys(_as_known(key, part.strip()) for part in value.split(",")))
    for each in wanted:
        _check_value(text, key, each)
    cost, has = _value_filter(key, wanted)
    return cost, has if sign == "=" else lambda entry: not has(entry)


def _as_known(key: str, value: str) -> str:
    """The value with the capitals that it has where there are few values."""
    return next((each for each in _KNOWN.get(key, ()) if each.casefold() == value.casefold()), value)


def _check_value(text: str, key: str, value: str) -> None:
    """BankError for a value that no entry can have."""
    if key in _KNOWN and value not in _KNOWN[key]:
        raise BankError(
            f"condition {shown(text)}: {shown(value)} is no {key}{_meant(value, _KNOWN[key], _TOPIC.get(key, 'bank'))}"
        )
    if key in _WRITTEN and not _WRITTEN[key][0](value):
        raise BankError(f"condition {shown(text)}: {shown(value)} is no {_WRITTEN[key][1]}")


def _value_filter(key: str, wanted: Sequence[str]) -> tuple[int, Filter]:
    """How dear it is to ask, and whether an entry has one of these values."""
    if key in CONTENT:
        return 0, reduce(_either, [_in_content(mark) for value in wanted for mark in CONTENT[key](value)])
    if key in RECORDS:
        return 1, reduce(_either, [_in_a_record(mark) for value in wanted for mark in RECORDS[key](value)])
    if key == ID:
        return 0, lambda entry: entry.id.startswith(tuple(wanted))
    if key == ELEMENT:
        return 2, _shows(wanted)
    values = frozenset(map(str.casefold, wanted) if key in VALUES else wanted)
    if key == ONLY:
        return 3, lambda entry: View(entry).elements <= values
    return 2, lambda entry: not values.isdisjoint(map(str.casefold, VALUES[key](entry)))


def _either(one: Filter, other: Filter) -> Filter:
    return lambda entry: one(entry) or other(entry)


def _in_content(mark: str) -> Filter:
    return lambda entry: mark in entry.content


def _in_a_record(mark: str) -> Filter:
    folded = mark.casefold()
    return lambda entry: bool([1 for _, text in entry.records if folded in _folded(text)])


@lru_cache(maxsize=KEPT)
def _folded(record: str) -> str:
    """A record without capitals; items of one quiz have the same."""
    return record.casefold()


def names_asked(conditions: Iterable[str]) -> list[tuple[str, str, str]]:
    """The names that conditions ask for, which only the records of a bank tell: condition, key and name of each.

    >>> names_asked(["meter=3/4", "section=Period 1, Period 2"])[1]
    ('section=Period 1, Period 2', 'section', 'Period 2')
    """
    split = [(text, key, value) for text, key, _, value in map(_split, conditions) if key in NAMES]
    return [(text, key, name.strip()) for text, key, value in split for name in value.split(",")]


def unknown_name(asked: Sequence[tuple[str, str, str]], entries: Iterable[Entry]) -> str:
    """What is wrong with the first of these names that no record of the entries has; empty if all are known."""
    known: dict[str, dict[str, str]] = {key: {} for _, key, _ in asked}
    wanted = {(key, name.casefold()) for _, key, name in asked}
    for view in map(View, entries):
        for key, names in known.items():
            names.update((name.casefold(), name) for where in NAMES[key] for name in view.named(*where))
        wanted = {(key, name) for key, name in wanted if name not in known[key]}
        if not wanted:  # most often soon: a bank need not be read to its end
            return ""
    for text, key, name in asked:
        if name.casefold() not in known[key]:
            mend = meant(name, sorted(known[key].values()), "bank show --html names them")
            return f"condition {shown(text)}: no item has the {key} {shown(name)}{mend}"
    return ""


def _shows(tokens: Sequence[str]) -> Filter:
    """Whether a figure of an entry, the excerpt or a choice, shows one of these symbols; `~` is any tie."""
    symbols = "|".join(re.escape(token) for token in tokens if token != TIE)
    one = rf'(?<=[ "*])(?:{symbols})(?=[~ "])' if symbols else ""
    either = "|".join(each for each in (one, TIE if TIE in tokens else "") if each)
    in_excerpt = re.compile(either).search
    # Only in figures: counts may look like symbols (e is an eighth note, and a syllable).
    in_choice = re.compile(rf'\["(?:symbols|measures)","[^"]*?(?:{either})').search

    def holds(entry: Entry) -> bool:
        content = entry.content
        if in_excerpt(content, content.rindex('"excerpt":"')) is not None:
            return True
        return ('["symbols","' in content or '["measures","' in content) and in_choice(content) is not None

    return holds


def _date_filter(text: str, sign: str, value: str) -> Filter:
    """Compares as much of a date as is given, so that `used=2025-03` is all of March; one use that fits is enough."""
    if _DATE.fullmatch(value) is None:
        raise BankError(f"condition {shown(text)}: {shown(value)} is no date: write it as 2025-03-14, 2025-03 or 2025")
    holds = _SIGNS[sign]
    return lambda entry: any(holds(date[: len(value)], value) for date in View(entry).named("usage", "date"))


def _share_filter(text: str, sign: str, value: str) -> Filter:
    """Compares the share right; an item that was never counted meets no condition on it."""
    if _PART.fullmatch(value) is None:
        raise BankError(f"condition {text!r}: {value!r} is no share: write it from 0 to 1, e.g. p<0.4")
    holds, bound = _SIGNS[sign], float(value)

    def fits(entry: Entry) -> bool:
        count = View(entry).went
        return count is not None and bool(holds(count.share, bound))

    return fits


def _bound(text: str, key: str, sign: str, value: str) -> Bound:
    """The key, the comparison and the bound of a condition on a number."""
    if _WHOLE.fullmatch(value) is None:
        raise BankError(f"condition {shown(text)}: {shown(value)} is no whole number: write it in digits, e.g. 4")
    return key, _SIGNS[sign], int(value)


def _feature_filter(bounds: Sequence[Bound]) -> Filter:
    """Whether all these features are within their bounds: together, since an excerpt is counted but once."""

    def fits(entry: Entry) -> bool:
        counts = counts_of(excerpt_in(entry.content))
        if not counts[0]:
            return False
        for name, holds, bound in bounds:
            number = 0
            for each in counts:
                number += each[name]
            if not holds(number, bound):
                return False
        return True

    return fits


def _quoted(value: str) -> str:
    return json.dumps(value, ensure_ascii=False)


def _meant(word: str, known: Sequence[str], topic: str = "bank") -> str:
    return meant(word, known, f"barwright help {topic} lists them all")
