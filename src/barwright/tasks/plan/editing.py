"""The text of a blueprint with some of its values changed; every remark and the order of everything else stay."""

import tomllib
from collections.abc import Iterable, Iterator, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

import tomlkit
from tomlkit import TOMLDocument
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Table

from barwright.asks import ASKS
from barwright.errors import BarwrightError
from barwright.showing import meant, shown

Value = str | int | bool | list[str] | dict[str, str]
Place = tuple[str, ...]
"""A key by its tables, as `("elements", "notes")`; of a part with its number from 1, as `("part", "2", "items")`."""
PARTS = "part"
_CANNOT = "this cannot be changed piece by piece, as its text is written: change it in the text"


@dataclass(frozen=True, slots=True)
class Put:
    """A key gets a value; None takes it out, so that the usual value holds again."""

    place: Place
    value: Value | None


@dataclass(frozen=True, slots=True)
class AddPart:
    """A part of this ask is added at the end."""

    ask: str
    items: int


@dataclass(frozen=True, slots=True)
class RemovePart:
    """A part is taken out; `number` from 1."""

    number: int


@dataclass(frozen=True, slots=True)
class RaisePart:
    """A part changes places with the one before it; `number` from 1."""

    number: int


Change = Put | AddPart | RemovePart | RaisePart


def edited(text: str, changes: Sequence[Change], name: str) -> str:
    """The text with the changes made one after another; the same text where they change nothing.

    BarwrightError, naming the file, if it cannot be read as TOML, if there is no such part or ask, or if a key cannot
    be changed without spoiling what stands around it.
    """
    try:
        before = tomllib.loads(text)
        document = tomlkit.parse(text)
    except (tomllib.TOMLDecodeError, TOMLKitError, RecursionError) as error:
        raise BarwrightError(
            f"{name}: it cannot be changed piece by piece while it cannot be read: mend its text first"
        ) from error
    wanted = deepcopy(before)
    try:
        for change in _with_families(changes):
            _apply_plain(wanted, change, name)
            _apply(document, change)
        result = tomlkit.dumps(document)
        reached = tomllib.loads(result)
    except (TOMLKitError, tomllib.TOMLDecodeError, TypeError, AttributeError, KeyError, ValueError) as error:
        raise BarwrightError(f"{name}: {_CANNOT}") from error
    if wanted == before:
        return text
    if reached != wanted:
        raise BarwrightError(f"{name}: {_CANNOT}")
    return result


def _with_families(changes: Iterable[Change]) -> Iterator[Change]:
    """The changes, and for every ask that a part gets the family that it belongs to."""
    for change in changes:
        yield change
        if isinstance(change, Put) and change.place[0] == PARTS and change.place[-1] == "ask" and change.value in ASKS:
            yield Put((*change.place[:-1], "family"), ASKS[str(change.value)].family)


def _apply_plain(wanted: dict[str, Any], change: Change, name: str) -> None:
    """The change made on plain values, which the text must come to."""
    parts = wanted.setdefault(PARTS, []) if isinstance(change, AddPart) else wanted.get(PARTS, [])
    match change:
        case Put(place, value):
            _put_plain(wanted, place, value, name)
        case AddPart(ask, items):
            if ask not in ASKS:
                raise BarwrightError(
                    f"ask {shown(ask)} is not known{meant(ask, ASKS, 'the page of the plan lists them all')}"
                )
            parts.append(dict(_new_part(ask, items)))
        case RemovePart(number):
            _check_part(parts, number, name)
            del parts[number - 1]
            if not parts:
                raise BarwrightError(
                    f"{name}: a plan needs at least one part: add another before you take this one out"
                )
        case RaisePart(number):
            _check_part(parts, number, name)
            _check_part(parts, number - 1, name)
            parts[number - 2], parts[number - 1] = parts[number - 1], parts[number - 2]


def _put_plain(wanted: dict[str, Any], place: Place, value: Value | None, name: str) -> None:
    *above, key = place
    table: Any = wanted
    if above[:1] == [PARTS]:
        parts = wanted.get(PARTS, [])
        number = int(above[1]) if len(above) == 2 and above[1].isdecimal() else 0
        _check_part(parts, number, name)
        table = parts[number - 1]
    elif above:
        if value is None and above[0] not in wanted:
            return
        table = wanted.setdefault(above[0], {})
    if not isinstance(table, dict):
        raise BarwrightError(f"{name}: {_CANNOT}")
    if value is None:
        table.pop(key, None)
    else:
        table[key] = value


def _check_part(parts: Any, number: int, name: str) -> None:
    if not (isinstance(parts, list) and 1 <= number <= len(parts)):
        count = len(parts) if isinstance(parts, list) else 0
        raise BarwrightError(f"{name}: there is no part {number}: it has {count}, counted from 1")


def _new_part(ask: str, items: int) -> Iterable[tuple[str, Any]]:
    return (("family", ASKS[ask].family), ("ask", ask), ("items", items))


def _apply(document: TOMLDocument, change: Change) -> None:
    """The change made in the document, which keeps remarks."""
    match change:
        case Put(place, value):
            _put(document, place, value)
        case AddPart(ask, items):
            part = tomlkit.table()
            for key, value in _new_part(ask, items):
                part.add(key, value)
            if PARTS in document:
                _parts(document).append(part)
            else:
                tables = tomlkit.aot()
                tables.append(part)
                document.add(tomlkit.nl())
                document.append(PARTS, tables)
        case RemovePart(number):
            del _parts(document)[number - 1]
        case RaisePart(number):
            parts = _parts(document)
            moved = parts[number - 1]
            del parts[number - 1]
            if not moved.as_string().endswith("\n\n"):
                moved.add(tomlkit.nl())
            parts.insert(number - 2, moved)


def _parts(document: TOMLDocument) -> AoT:
    parts = document[PARTS]
    if not isinstance(parts, AoT):
        raise TypeError(parts)
    return parts


def _put(document: TOMLDocument, place: Place, value: Value | None) -> None:
    *above, key = place
    table: Any = document
    if above[:1] == [PARTS]:
        table = _parts(document)[int(above[1]) - 1]
    elif above:
        if above[0] not in document:
            if value is None:
                return
            document[above[0]] = tomlkit.table()
        table = document[above[0]]
    if value is None:
        if key in table:
            table.remove(key)
    elif isinstance(value, list) and isinstance(table.get(key), Array):
        _fill(table[key], value)
    elif key in table or isinstance(table, Table) or not above:
        _set(document, table, key, value)
    else:
        table[key] = value


def _set(document: TOMLDocument, table: Any, key: str, value: Value) -> None:
    """A single value; a new key at the top of the file stands before the first table, as TOML needs it."""
    if key in table or table is not document:
        table[key] = value
        return
    heads = [k.key for k, item in document.body if k is not None and not isinstance(item, Table | AoT)]
    if heads:
        document._insert_after(heads[-1], key, value)
    else:
        document._insert_at(0, key, value)


def _fill(array: Array, wanted: list[str]) -> None:
    """Makes the list hold these texts, with as little change as may be, so that remarks between them stay."""
    for index in reversed([n for n, each in enumerate(array) if each not in wanted or each in list(array)[:n]]):
        del array[index]
    for index, each in enumerate(wanted):
        if index < len(array) and array[index] == each:
            continue
        later = [n for n, there in enumerate(array) if there == each and n > index]
        if later:
            del array[later[0]]
        array.insert(index, each)
