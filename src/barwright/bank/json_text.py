"""JSON from elsewhere, read strictly: bounded before it is parsed, and nothing in it may mean two things."""

import json
import re
from itertools import pairwise
from typing import Any

from barwright.showing import in_quotes

MOST_DEEP = 20
MOST_NUMBER = 40  # signs

_STRING = r'"(?:[^"\\]|\\.)*"'
_TOKEN = re.compile(rf"{_STRING}|[\[\]{{}}]|[0-9+.eE-]+", re.DOTALL)


class JsonError(ValueError):
    """A text that is no JSON object, or not one to be sure of: what is wrong with it, without the mend."""


def json_object(text: str) -> dict[str, Any]:
    """The JSON object of a text; JsonError for anything else.

    So are a key that stands twice, numbers that JSON has not, half a letter, and what is nested too deep.

    >>> json_object('{"a": [1]}')
    {'a': [1]}
    """
    _check_bounds(text)
    try:
        value: Any = json.loads(text, object_pairs_hook=_once, parse_constant=_no_number, parse_float=_no_number)
        json.dumps(value, ensure_ascii=False).encode()
    except json.JSONDecodeError as error:
        raise JsonError("this is not JSON") from error
    except UnicodeEncodeError as error:
        raise JsonError("a text has half a letter in it (a lone surrogate)") from error
    if not isinstance(value, dict):
        raise JsonError("this is no JSON object in braces")
    return value


def _check_bounds(text: str) -> None:
    deep = 0
    for match in _TOKEN.finditer(text):
        token = match[0]
        deep += (token in "[{") - (token in "]}")
        if deep > MOST_DEEP:
            raise JsonError(f"over {MOST_DEEP} brackets stand inside each other")
        if len(token) > MOST_NUMBER and token[0] != '"':
            raise JsonError(f"a number has over {MOST_NUMBER} digits")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members = dict(pairs)
    if len(members) < len(pairs):
        keys = sorted(key for key, _ in pairs)
        twice = next(one for one, other in pairwise(keys) if one == other)
        raise JsonError(f"the key {in_quotes(twice)} stands twice")
    return members


def _no_number(text: str) -> Any:
    raise JsonError(
        f"{text[:MOST_NUMBER]} is no whole number" if text[-1:].isdecimal() else "a number is none that JSON has"
    )
