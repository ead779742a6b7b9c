"""The keys of a blueprint as fields of a form, and what is written into them as changes of the file."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel

from barwright.blueprint.blueprint import USUAL_LANGUAGE, Blueprint, Elements, Excerpts, Part, Quiz
from barwright.rhythm.conventions import convention_values
from barwright.tasks.plan.editing import PARTS, Change, Place, Put, Value
from barwright.templates_folder import languages

Kind = Literal["text", "number", "flag", "lines", "ticks", "choice"]
"""What a field holds: one text, a number, yes or no, a text a line, some of a list, or one of a list."""
TABLES: dict[str, type[BaseModel]] = {"elements": Elements, "excerpts": Excerpts, "quiz": Quiz}
TOP = ("title", "seed", "sections", "avoid", "excerpts_file")
LANGUAGE = ("language",)  # one or two: a text, or a list of texts
TICKED = {("elements", "meters"), ("elements", "patterns"), (PARTS, "meters"), (PARTS, "misreadings")}
_WHOLE = re.compile(r"[0-9]{1,18}")


@dataclass(frozen=True, slots=True)
class Key:
    """One key: its place, kind, usual value, and the values that it may have, where these are few."""

    place: Place
    kind: Kind
    usual: Any
    values: tuple[Any, ...] = ()
    required: bool = False

    @property
    def name(self) -> str:
        """The name of its field in a form.

        >>> Key(("part", "2", "items"), "number", None).name
        'part.2.items'
        """
        return ".".join(self.place)


def keys_of(parts: int) -> Iterator[Key]:
    """Every key that a form has, of a plan with so many parts."""
    for name in TOP:
        yield _key((name,), Blueprint)
    yield Key(LANGUAGE, "ticks", USUAL_LANGUAGE, languages())
    for table, model in TABLES.items():
        for name in model.model_fields:
            yield _key((table, name), model)
    for name, values in convention_values().items():
        yield Key(("conventions", name), "flag" if values[0] is False else "choice", values[0], values)
    for number in range(1, parts + 1):
        for name in Part.model_fields:
            if name != "family":
                yield _key((PARTS, str(number), name), Part)


def _key(place: Place, model: type[BaseModel]) -> Key:
    field = model.model_fields[place[-1]]
    usual = None if field.is_required() else field.default
    kinds = [each for each in (get_args(field.annotation) or (field.annotation,)) if each is not type(None)]
    whole: Any = field.annotation if get_origin(field.annotation) in (list, Literal) else kinds[0]
    if get_origin(whole) is Literal:
        return Key(place, "choice", usual, get_args(whole))
    required = field.is_required()
    if get_origin(whole) is list:
        inner = get_args(whole)[0]
        ticks = get_origin(inner) is Literal or (place[0], place[-1]) in TICKED
        return Key(place, "ticks" if ticks else "lines", usual, _literals(inner), required)
    kind: Kind = "flag" if whole is bool else "number" if whole is int else "text"
    return Key(place, kind, usual, required=required)


def _literals(kind: Any) -> tuple[Any, ...]:
    """All values of a Literal, also of one that is made of others."""
    if get_origin(kind) is not Literal and not get_args(kind):
        return ()
    values: list[Any] = []
    for each in get_args(kind):
        values += _literals(each) or ([each] if isinstance(each, str | int | bool) else [])
    return tuple(values)


def written_value(raw: Mapping[str, Any], place: Place) -> Any:
    """What a plan has under a key, read as plain TOML; None where it has nothing."""
    value: Any = raw
    for step in place:
        if isinstance(value, list):
            value = value[int(step) - 1] if 1 <= int(step) <= len(value) else None
        else:
            value = value.get(step) if isinstance(value, Mapping) else None
    return value


def changes_of(raw: Mapping[str, Any], texts: Mapping[str, Sequence[str]]) -> list[Change]:
    """What a form changes in a plan: only keys whose fields it has, and which then mean something else.

    `texts`: of each field what it holds; a hidden field `on.NAME` says that boxes which may all be off are there.
    """
    parts = raw.get(PARTS, [])
    changes: list[Change] = []
    for key in keys_of(len(parts) if isinstance(parts, list) else 0):
        if key.name not in texts and f"on.{key.name}" not in texts:
            continue
        now = written_value(raw, key.place)
        value = _value(key, texts.get(key.name, ()), now)
        if key.place == LANGUAGE and isinstance(value, list) and len(value) == 1:
            value = value[0]
        if value is None and now is not None:
            changes.append(Put(key.place, None))
        elif value is not None and value != now and not (now is None and value == key.usual):
            changes.append(Put(key.place, value))
    return changes


def _value(key: Key, texts: Sequence[str], now: Any) -> Value | None:
    """What a field says, as the file would hold it; None for nothing."""
    text = texts[-1].strip() if texts else ""
    if key.kind == "flag":
        return None if not text and now is None and not key.usual else bool(text)
    if key.kind == "number":
        return int(text) if _WHOLE.fullmatch(text) else text or None
    if key.kind == "lines":
        lines = [line.strip() for each in texts for line in each.replace("\r\n", "\n").split("\n")]
        return [line for line in lines if line] or _empty(key, now)
    if key.kind == "ticks":
        return _ordered(list(dict.fromkeys(texts)), now) or _empty(key, now)
    return text or ("" if key.required and now is not None else None)


def _empty(key: Key, now: Any) -> list[str] | None:
    """Nothing: an empty list where the key must be there, so that its fault is told at its place."""
    return [] if now is not None and key.required else None


def _ordered(ticked: list[str], now: Any) -> list[str]:
    """The ticked values; those that the file has stand in its order if nothing else is new."""
    if isinstance(now, list) and set(ticked) == set(now) and all(isinstance(each, str) for each in now):
        return list(now)
    return ticked
