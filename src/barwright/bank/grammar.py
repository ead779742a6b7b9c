"""Canonical lines by one regular expression: three times as fast as the models, and it accepts less than they do.

What it does not match (a quotation mark inside a text, a line written by hand) is read by the models instead, so it may
never accept what they refuse: both are built from the same patterns, and a test holds one against the other.
"""

import re
from operator import itemgetter, lt
from typing import get_args

from barwright.bank.text_patterns import (
    CONVENTION,
    DATE,
    FORM,
    IDENT,
    KEBAB,
    MOST_CHOICES,
    MOST_LONG,
    MOST_MISREADINGS,
    MOST_RECORDS,
    MOST_RETURNED,
    MOST_SHORT,
    RHYTHM,
    VERDICTS,
)
from barwright.items.item import AnswerKind

# A sign that needs no escape; the plus after a bound forbids stepping back (Python 3.11, re).
_PLAIN = r"[^\x00-\x1f\x7f-\x9f\"\\]"


def _text(least: int, most: int) -> str:
    return f'"{_PLAIN}{{{least},{most}}}+"'


def _list(each: str, most: int) -> str:
    return rf"\[(?:{each}(?:,{each}){{0,{most - 1}}}+)?+\]"


_SHORT, _NAMED = _text(0, MOST_SHORT), _text(1, MOST_SHORT)
_LONG = rf'"(?:{_PLAIN}|\\["\\]){{0,{MOST_LONG}}}+"'  # remarks quote, so here a sign may have its escape before it
_IDS = _list(rf'"{KEBAB}+(?:\+{KEBAB}+)?+"', MOST_MISREADINGS)
_CHOICE = rf'\["(?:{"|".join(get_args(AnswerKind))})",{_NAMED},{_IDS}\]'
_SETTING = rf'"{CONVENTION}":(?:{_NAMED}|true|false)'
_CONVENTIONS = rf"\{{((?:{_SETTING}(?:,{_SETTING}){{0,59}}+)?+)\}}"
_CONTENT = (
    rf'\{{"ask":"{KEBAB}+","choices":\[{_CHOICE}(?:,{_CHOICE}){{0,{MOST_CHOICES - 1}}}+\],'
    rf'"conventions":{_CONVENTIONS},"excerpt":"{RHYTHM}+","target":{_SHORT}\}}'
)
_BY = rf'"by":{_SHORT},"date":"{DATE}"'
_NUMBER = "(?:0|[1-9][0-9]{0,4}+)"
_COUNTS = (
    rf'"asked":(?:[5-9]|[1-9][0-9]{{1,4}}+),{_BY},"form":"{FORM}","kind":"counts",'
    rf'"omitted":{_NUMBER},"others":{_NUMBER},"picks":\[{_NUMBER}(?:,{_NUMBER}){{0,{MOST_CHOICES - 1}}}+\],'
    rf'"right":{_NUMBER},"section":{_NAMED},"title":{_SHORT}'
)
_RETURNED = rf'\["{IDENT}"(?:,"{IDENT}"){{0,{MOST_RETURNED - 1}}}+\]'
_RECORD = (
    rf'\{{(?:{_COUNTS}|{_BY},(?:"form":"{FORM}","kind":"usage","section":{_NAMED},"title":{_SHORT}'
    rf'|"kind":"source","made_by":{_SHORT},"title":{_SHORT}'
    rf'|"kind":"return","of":{_RETURNED},"text":{_LONG}'
    rf'|"kind":"review","text":{_LONG},"verdict":"(?:{"|".join(VERDICTS)})")'
    rf'|"kind":"tag","tag":{_NAMED})\}}'
)
# The records are matched apart: the items of one quiz have the same ones, so most were seen before.
_ROW = re.compile(rf'\{{"content":({_CONTENT}),"id":"({IDENT})","records":\{{(.*)\}}\}}\n')
_KEY = re.compile(rf'"({CONVENTION})":')
_ONE = re.compile(_RECORD)

Pairs = tuple[tuple[str, str], ...]


def rows_in(text: str) -> list[tuple[str, str, str, str]] | None:
    """Of each line its content, the conventions in it, its id, and what stands between the braces of its records.

    None unless all lines are canonical, as far as can be seen here; each has its end. The records are for `pairs_in`.
    That ids are those of what they name is asked in neither.

    >>> rows_in("{}\\n") is None
    True
    """
    rows = _ROW.findall(text)
    settings = set(map(itemgetter(1), rows))
    sound = len(rows) == text.count("\n") and all(_rising(_KEY.findall(each)) for each in settings)
    return rows if sound else None


def pairs_in(records: str) -> Pairs | None:
    """Each record under its id, sorted, whether or not it is one (see `is_record`); None if they are no such list.

    >>> pairs_in('"44136fa355b3678a":{"kind":"tag","tag":"new"}')
    (('44136fa355b3678a', '{"kind":"tag","tag":"new"}'),)
    """
    if not records:
        return ()
    if records[0] != '"' or records[-1] != "}":
        return None
    pairs, before = [], ""
    # These three signs stand nowhere else: within a text a quotation mark has its escape before it.
    for part in records[1:-1].split('},"'):
        ident = part[:16]
        if part[16:18] != '":' or ident <= before:
            return None
        pairs.append((ident, part[18:] + "}"))
        before = ident
    return tuple(pairs) if len(pairs) <= MOST_RECORDS else None


def is_record(text: str) -> bool:
    """Whether a text is a record as canonical JSON; False too if only the models can tell.

    >>> is_record('{"kind":"tag","tag":"new"}')
    True
    """
    return _ONE.fullmatch(text) is not None


def records_text(pairs: Pairs) -> str:
    """What stands between the braces of these records in a canonical line."""
    return ",".join([f'"{ident}":{text}' for ident, text in pairs])


def _rising(keys: list[str]) -> bool:
    """Whether the keys are sorted and none stands twice."""
    return all(map(lt, keys, keys[1:]))
